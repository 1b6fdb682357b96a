"""The window: its parts put together, its menus, and what its file actions do."""
