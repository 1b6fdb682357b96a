"""The main window: it connects the parts. Its menus, its file actions, and the start of the program."""
