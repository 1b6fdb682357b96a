"""The program at home on a desktop: its menu entry, file type and icons, its manual page, and its components' licences."""
