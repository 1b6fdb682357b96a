"""Coupons to cut out and try in the well."""
