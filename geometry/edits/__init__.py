"""Edits: the starting shapes, and every change that an owner makes. Each takes a design and returns a new one."""
