"""Points from more distances than are needed, and the taped-up paper from what was read on it: least squares."""
