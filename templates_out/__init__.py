"""Everything that leaves the program on paper."""
