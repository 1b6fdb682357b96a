"""The measuring sheet."""
