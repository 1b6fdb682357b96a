"""What is around the drawing: answer line, foot line, columns, boards, start page."""
