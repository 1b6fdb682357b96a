"""Makes a folder with the program, Python and all that it needs, for a machine that has none of them."""
