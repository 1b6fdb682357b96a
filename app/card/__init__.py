"""The card at the left: the next step, and nine sections of entries."""
