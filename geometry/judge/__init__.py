"""Checks each washer, nut and socket against the transom and the well."""
