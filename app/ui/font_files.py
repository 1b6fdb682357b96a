"""Loads the fonts that the program ships."""

from __future__ import annotations

from functools import cache

from PySide6.QtGui import QFontDatabase

import assets


@cache
def load_font(name: str) -> str:
    """Load a shipped font into Qt, and return the name of its family."""
    families = QFontDatabase.applicationFontFamilies(QFontDatabase.addApplicationFont(str(assets.font_path(name))))
    return families[-1] if families else "Sans Serif"
