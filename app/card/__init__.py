"""The card at the left: what is next, and eight sections of entries."""
