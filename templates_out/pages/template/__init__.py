"""The full-scale paper template of the outer face."""
