"""A page of bars and a grid, to find out what a printer is off."""
