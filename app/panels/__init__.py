"""What stands round the drawing: answer, card, findings, ladder, foot line."""
