"""Our icons: one colour from the palette, on whole device pixels."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

import assets

SIZE = 20  # px, the grid that they are drawn on


@cache
def icon(name: str, colour: str, ratio: float = 1.0, size: int = SIZE) -> QPixmap:
    """Return an icon in one colour ("#1E2932"), ``size`` logical pixels at a device's pixel ratio."""
    made = QPixmap(round(size * ratio), round(size * ratio))
    made.fill(Qt.GlobalColor.transparent)
    painter = QPainter(made)
    drawing = QSvgRenderer(QByteArray(assets.icon(name).replace(b"#000", colour.encode())))
    drawing.render(painter, QRectF(0, 0, made.width(), made.height()))
    painter.end()
    made.setDevicePixelRatio(ratio)
    return made


def draw(painter: QPainter, name: str, x: float, y: float, colour: QColor, size: int = SIZE) -> None:
    """Draw an icon with its upper left corner at (x, y)."""
    painter.drawPixmap(round(x), round(y), icon(name, colour.name(), painter.device().devicePixelRatioF(), size))
