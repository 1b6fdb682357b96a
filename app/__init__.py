"""The window, the command line and the starter: everything that meets a person."""
