"""The full-scale inside sheet."""
