"""The colours: one for each role, light and dark, and the Qt palette with them.

Two colours have a meaning: blue is new, rust is fouled. Every pair of text and ground that is used has a contrast of 4.5 or
more by the formula of WCAG 2.2.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import msgspec
from PySide6.QtGui import QColor, QPalette

if TYPE_CHECKING:
    from PySide6.QtCore import QRect, QRectF
    from PySide6.QtGui import QPainter
    from PySide6.QtWidgets import QWidget

    from templates_out.drawing.marks import Role

_COLOURS: dict[Role, tuple[str, str]] = {
    "board": ("#E9E4D8", "#13171A"),
    "sheet": ("#FBF8F1", "#1B2125"),
    "card": ("#F3EFE5", "#22292E"),
    "field": ("#FFFFFF", "#161B1E"),
    "ink": ("#1E2932", "#EAE5DA"),
    "soft": ("#545D64", "#AFB5B4"),
    "old": ("#5F666B", "#A2A8A8"),
    "new": ("#0B5CA8", "#82BDF0"),
    "fouled": ("#94260F", "#FF9E85"),
    "lit": ("#FFE7A6", "#453A18"),
    "new wash": ("#DCE8F2", "#1E3A52"),
    "fouled wash": ("#F8E1D9", "#4A2820"),
    "well": ("#E6ECE6", "#232E2B"),
    "wood": ("#F4EBD6", "#262724"),
    "hatch": ("#857E6C", "#7D868A"),
    "edge": ("#857E6C", "#7D868A"),
    "rule": ("#D2CBBB", "#3A4349"),
}


class Palette(msgspec.Struct, frozen=True):
    """The colours of one light: ``palette["ink"]``. In ``pencil`` ink is soft: nothing of the drawing is measured yet."""

    dark: bool
    colours: dict[Role, QColor]
    pencil: bool = False

    def __getitem__(self, role: Role) -> QColor:
        return self.colours[role]

    @property
    def on_new(self) -> QColor:
        """The colour of text on a blue background."""
        return self.colours["board" if self.dark else "field"]


@cache
def palette(dark: bool, *, pencil: bool = False) -> Palette:
    """Return the colours for a light or a dark window, or for a drawing in pencil."""
    shown = {**_COLOURS, "ink": _COLOURS["soft"]} if pencil else _COLOURS
    return Palette(dark, {role: QColor(pair[dark]) for role, pair in shown.items()}, pencil)


def qt_palette(dark: bool) -> QPalette:
    """Return the Qt palette of the whole window."""
    colours = palette(dark)
    parts = QPalette.ColorRole
    named: dict[QPalette.ColorRole, QColor] = {
        parts.Window: colours["card"],
        parts.WindowText: colours["ink"],
        parts.Base: colours["field"],
        parts.AlternateBase: colours["sheet"],
        parts.Text: colours["ink"],
        parts.PlaceholderText: colours["soft"],
        parts.Button: colours["card"],
        parts.ButtonText: colours["ink"],
        parts.BrightText: colours["fouled"],
        parts.Highlight: colours["new"],
        parts.HighlightedText: colours.on_new,
        parts.Accent: colours["new"],
        parts.Link: colours["ink"],
        parts.LinkVisited: colours["ink"],
        parts.ToolTipBase: colours["sheet"],
        parts.ToolTipText: colours["ink"],
        parts.Light: colours["sheet"],
        parts.Midlight: colours["rule"],
        parts.Mid: colours["rule"],
        parts.Dark: colours["edge"],
        parts.Shadow: colours["edge"],
    }
    made = QPalette()
    for role, colour in named.items():
        made.setColor(role, colour)
    for role in (parts.WindowText, parts.Text, parts.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, role, colours["edge"])
    return made


def of(widget: QWidget) -> Palette:
    """Return the colours of a widget. Its Qt palette says whether it is light or dark."""
    return palette(widget.palette().window().color().lightness() < 128)


def fill(painter: QPainter, box: QRect | QRectF, colour: QColor) -> None:
    """Fill a box. Qt's ``fillRect`` would first load the names of 169 gradients, which slows the start."""
    painter.setBackground(colour)
    painter.eraseRect(box)
