"""Panels to decide by: find a fit, will it hang low enough, placements side by side."""
