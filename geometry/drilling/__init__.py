"""Drilling: the chance that a bracket will go on, and the holes as they were drilled."""
