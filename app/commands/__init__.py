"""The command line: each command, and what it prints."""
