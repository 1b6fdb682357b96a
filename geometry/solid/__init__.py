"""The described things as shapes in space."""
