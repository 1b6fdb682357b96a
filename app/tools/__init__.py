"""The tools, without Qt: the parts under the pointer, and how a press, a move or a key changes the design."""
