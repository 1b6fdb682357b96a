"""The fonts that the program ships, made known to Qt."""

from __future__ import annotations

from functools import cache

from PySide6.QtGui import QFontDatabase

import assets


@cache
def load_font(name: str) -> str:
    """Make a shipped font known to Qt; return its family, by its own name rather than the one of its kin."""
    families = QFontDatabase.applicationFontFamilies(QFontDatabase.addApplicationFont(str(assets.font_path(name))))
    return families[-1] if families else "Sans Serif"
