"""Compares the rows, drops and hardware that could be chosen."""
