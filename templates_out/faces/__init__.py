"""What the full-scale sheets show of the outer and the inner face, before any paper."""
