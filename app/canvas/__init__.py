"""The two drawings: face and cut. Each has one way in, show what was checked, and signals out."""
