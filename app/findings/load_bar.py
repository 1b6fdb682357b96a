"""Paints a load as a bar: filled up to the load, with two ticks for what is advised and for the limit, each with its word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPen

from app.ui.palette import fill
from app.ui.typography import sized

if TYPE_CHECKING:
    from app.ui.palette import Palette
    from geometry.judge.glance import Bar

LEAST = 96  # px: a narrower bar could not have both words below it
_ROOM, _THICK, _TICK, _GAP = 1.15, 8.0, 3.5, 6  # the bar's end in limits; bar, ticks beyond it, and between two words [px]


def words_high() -> int:
    """Return the height of the two words below a bar [px]."""
    return QFontMetrics(sized("small")).height()


def paint_bar(painter: QPainter, box: QRectF, bar: Bar, colours: Palette) -> None:
    """Paint a bar in the middle of a box, and its words below it. Over the limit it runs past the limit's tick."""
    whole = max(_ROOM, bar.share)
    track = QRectF(box.left(), box.center().y() - _THICK / 2, box.width(), _THICK)
    fill(painter, track, colours["sheet"])
    fill(painter, QRectF(track.left(), track.top(), track.width() * bar.share / whole, _THICK), colours["edge"])
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colours["edge"], 1))
    painter.drawRect(track)
    at = {"limit": track.left() + track.width() / whole}
    if bar.advised < 1.0:
        at["advised"] = track.left() + track.width() * bar.advised / whole
    painter.setPen(QPen(colours["ink"], 2))
    for x in at.values():
        painter.drawLine(QPointF(x, track.top() - _TICK), QPointF(x, track.bottom() + _TICK))
    painter.setFont(sized("small"))
    painter.setPen(colours["soft"])
    for word, left in _places(at, box).items():
        painter.drawText(QPointF(left, box.bottom() + QFontMetrics(painter.font()).ascent() - 2), word)


def _places(at: dict[str, float], box: QRectF) -> dict[str, float]:
    """Return where each word begins: in the middle below its tick, else moved so far that the two words stay apart."""
    wide = QFontMetrics(sized("small")).horizontalAdvance
    places = {word: min(x - wide(word) / 2, box.right() - wide(word)) for word, x in at.items()}
    if "advised" in places:
        places["advised"] = min(places["advised"], places["limit"] - wide("advised") - _GAP)
    return places
