"""The open boat: design, history, selection, files, backups, recovery and settings."""
