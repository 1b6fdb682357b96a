"""Making the sheets: which, on what paper, in the window and for the commands."""
