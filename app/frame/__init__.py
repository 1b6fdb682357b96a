"""The parts around the drawing: answer line, foot line, columns, central stack, start page."""
