"""From drawings to sheets of paper: tiles, seams, frames, the printer's correction."""
