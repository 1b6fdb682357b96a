"""How far a measurement may be off before a verdict changes."""
