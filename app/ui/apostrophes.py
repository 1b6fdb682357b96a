"""The apostrophes of the window's texts."""

def curly(text: str) -> str:
    """Return a text with printer's apostrophes, as the window sets them; the terminal keeps the typewriter's."""
    return text.replace("'", "’")
