"""The fonts: the system's font in four sizes, with figures of one width."""

from __future__ import annotations

from functools import cache
from typing import Literal

from PySide6.QtGui import QFont, QFontDatabase, QFontInfo, QFontMetrics
from PySide6.QtWidgets import QApplication

from app.ui.font_files import load_font

Size = Literal["small", "plain", "section", "answer"]
_SIZES: dict[Size, float] = {"small": 0.9, "plain": 1.0, "section": 1.15, "answer": 1.5}
_LEAST = 8.0  # pt
_USUAL_LINE = 20  # px: rows of a usual height have room for a line so high


def house_font(system: QFont) -> QFont:
    """Return the window's font, which is the system's font.

    A plain Linux without a desktop has only a very wide font at 9 pt. There the window uses the condensed font of the
    same family that we ship, at the size that desktops use. A system without any font gets that one too.
    """
    font, family = QFont(system), QFontInfo(system).family()
    if family == "DejaVu Sans" or not QFontDatabase.hasFamily(family):
        load_font("DejaVuSansCondensed-Bold")
        font = QFont(load_font("DejaVuSansCondensed"))
        font.setPointSizeF(max(system.pointSizeF(), 10.0))
    font.setFeature(QFont.Tag("tnum"), 1)
    _sized.cache_clear()
    return font


def sized(size: Size = "plain", *, strong: bool = False, slanted: bool = False) -> QFont:
    """Return the window's font in one of its sizes."""
    return QFont(_sized(size, strong, slanted))


def row_high(usual: int) -> int:
    """Return the height of a row or a button with one line of text [px]: ``usual``, and more where the font is large."""
    return usual + max(0, QFontMetrics(sized()).lineSpacing() - _USUAL_LINE)


@cache  # until the theme changes
def _sized(size: Size, strong: bool, slanted: bool) -> QFont:
    font = QFont(QApplication.font())
    font.setPointSizeF(max(_LEAST, font.pointSizeF() * _SIZES[size]))
    font.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
    font.setItalic(slanted)
    if slanted and font.family() == load_font("DejaVuSansCondensed"):  # few texts are: loaded when a text is
        load_font("DejaVuSansCondensed-Oblique")
    return font
