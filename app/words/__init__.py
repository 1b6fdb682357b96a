"""What the panels say, made from a checked design: texts and values, no Qt."""
