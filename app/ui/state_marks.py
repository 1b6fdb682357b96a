"""Paints the five state marks: a washer over a floor. Only fouled has any fill. Each mark has its word next to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

if TYPE_CHECKING:
    from app.ui.palette import Palette
    from geometry.judge.findings import State

_BOX = 16.0  # the grid the marks are drawn on
_FLOOR = 12.5
_RADIUS = 3.6


def paint_state(painter: QPainter, box: QRectF, state: State, colours: Palette, *, doubt: bool = False) -> None:
    """Draw a state's mark into a square box. ``doubt`` adds a short bar through the gap, for measure first."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(box.topLeft())
    painter.scale(box.width() / _BOX, box.height() / _BOX)
    pen = QPen(colours["fouled" if state == "fouled" else "ink"], 1.4)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    match state:
        case "clear":
            painter.drawEllipse(QPointF(8, _FLOOR - 4 - _RADIUS), _RADIUS, _RADIUS)
            painter.drawLine(QPointF(1.5, _FLOOR), QPointF(14.5, _FLOOR))
        case "tight":
            painter.drawEllipse(QPointF(8, _FLOOR - _RADIUS - 0.2), _RADIUS, _RADIUS)
            painter.drawLine(QPointF(1.5, _FLOOR), QPointF(14.5, _FLOOR))
        case "unknown":
            pen.setDashPattern([1.2, 0.97])
            painter.setPen(pen)
            painter.drawEllipse(QPointF(8, _FLOOR - 4 - _RADIUS), _RADIUS, _RADIUS)
            pen.setStyle(Qt.PenStyle.SolidLine)
            painter.setPen(pen)
            painter.drawLine(QPointF(1.5, _FLOOR), QPointF(14.5, _FLOOR))
        case "fouled":
            _fouled(painter, colours)
        case "note":
            painter.drawLine(QPointF(1.5, _FLOOR), QPointF(14.5, _FLOOR))
            painter.drawLine(QPointF(2.2, _FLOOR), QPointF(2.2, _FLOOR - 6))
    if doubt:
        painter.drawLine(QPointF(14.8, _FLOOR - 7), QPointF(14.8, _FLOOR + 3))
    painter.restore()


def _fouled(painter: QPainter, colours: Palette) -> None:
    """Draw a washer that the floor cuts a little above its middle, filled below the floor."""
    radius, middle, floor = 5.2, QPointF(8, 8), 7.0
    disc = QPainterPath()
    disc.addEllipse(middle, radius, radius)
    below = QPainterPath()
    below.addRect(QRectF(0, floor, _BOX, _BOX))
    painter.fillPath(disc.intersected(below), colours["fouled"])
    painter.drawEllipse(middle, radius - 0.6, radius - 0.6)
    painter.drawLine(QPointF(0.2, floor), QPointF(15.8, floor))
