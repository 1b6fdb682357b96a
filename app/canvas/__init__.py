"""The two drawings: face and cut. Each shows a checked design, and sends signals."""
