"""Sets printer's apostrophes in the window's texts."""

def curly(text: str) -> str:
    """Return ``text`` with printer's apostrophes, for the window. The terminal keeps straight ones."""
    return text.replace("'", "’")
