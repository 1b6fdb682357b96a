"""Readings: the measures of a design, their ranges and spreads, and second ways to read them."""
