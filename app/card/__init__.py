"""The card at the left: the next step, and eight sections of entries."""
