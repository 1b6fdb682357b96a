"""Hands without a screen: what is under the pointer, and what a press, a move and a key make of the design."""
