"""Paints short-lived marks over the face: lit parts, handles, keys, live figures."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QImage, QPainter, QPen

from app.canvas.overview import HIGH, WIDE, key_marks
from app.canvas.pen import SCREEN, paint_in
from app.ui.palette import fill, palette
from app.ui.typography import sized
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Path, Pen
from templates_out.views.lit_parts import is_one_of
from templates_out.views.viewport import AIR, work_rect

if TYPE_CHECKING:
    from collections.abc import Iterable

    from PySide6.QtCore import QPointF

    from app.ui.palette import Palette
    from geometry.design.design import Design
    from templates_out.drawing.marks import Point
    from templates_out.views.viewport import Viewport

_LONGEST, _OFF, _OFF_TYPING = 400, 12, 56  # px: the longest line at the pointer, and the words' distance above it
_KEY_SHOWS = 2  # marks: with fewer there is only the frame
_KEY_FROM = 450  # px: below this height the key drawing is left out


def lit_marks(
    marks: Iterable[Mark], names: Iterable[str], flash: tuple[str, ...], parts: tuple[str, ...] = ()
) -> tuple[Mark, ...]:
    """Return the marks with one of ``names`` again, in a heavier line, over the lit marks.

    Args:
        flash: the beginnings of lit marks' names. parts: the lit parts of an entry, see `lit_parts`.
    """
    drawn = [mark for mark in marks if isinstance(mark, Path | Line | Arc | Circle) and mark.pen is not None]
    is_lit = is_one_of(parts)
    flashed = [mark for mark in drawn if (flash and mark.part.startswith(flash)) or (parts and is_lit(mark.part))]
    named = {*names, *(mark.part for mark in flashed)}
    lit = [_penned(mark, Pen("lit", mark.pen.weight + 1.6)) for mark in flashed if mark.pen is not None]
    return (
        *lit,
        *(
            _penned(mark, replace(mark.pen, weight=mark.pen.weight * 1.7 + 0.1))
            for mark in drawn
            if mark.part in named and mark.pen is not None
        ),
    )


def _penned(mark: Path | Line | Arc | Circle, pen: Pen) -> Mark:
    return replace(mark, pen=pen) if isinstance(mark, Line | Arc) else replace(mark, pen=pen, fill=None)


def paint_handle(painter: QPainter, place: QPointF, colours: Palette, *, full: bool = False) -> None:
    """Paint a small handle on a corner or a bracket hook. The chosen one is filled."""
    painter.setPen(QPen(colours["new"], 1.5))
    painter.setBrush(colours["new" if full else "field"])
    painter.drawRect(QRectF(round(place.x()) - 4.5, round(place.y()) - 4.5, 9, 9))


def paint_blank(painter: QPainter, board: QRect, words: str, colours: Palette) -> None:
    """Write what to do where there is no drawing yet."""
    place, middle = board.adjusted(0, 0, 0, -board.height() // 5), Qt.AlignmentFlag.AlignCenter
    painter.setFont(sized())
    fill(painter, painter.boundingRect(place, middle, words).adjusted(-8, -4, 8, 4), colours["sheet"])
    painter.setPen(colours["soft"])
    painter.drawText(place, middle, words)


def paint_key(painter: QPainter, board: QRect, design: Design, view: Viewport, colours: Palette) -> None:
    """Paint the key drawing in the lower left corner, where there is room for it below the work."""
    wide, high = round(WIDE * SCREEN), round(HIGH * SCREEN)
    if board.height() < _KEY_FROM:
        return
    marks = key_marks(design, view.rect)
    top = view.to_boat((wide / SCREEN + 4, high / SCREEN + 4))[1]
    if len(marks) >= _KEY_SHOWS and top <= work_rect(design)[1] + AIR - 15.0:
        picture = _key_picture(marks, wide, high, painter.device().devicePixelRatioF(), dark=colours.dark)
        painter.drawImage(QPoint(board.left() + 6, board.bottom() - high - 6), picture)


@lru_cache(maxsize=2)  # kept, since it changes little and all marks over the face are painted at each move of the pointer
def _key_picture(marks: tuple[Mark, ...], wide: int, high: int, ratio: float, *, dark: bool) -> QImage:
    made = QImage(QSize(wide, high) * ratio, QImage.Format.Format_RGB32)
    made.setDevicePixelRatio(ratio)
    painter = QPainter(made)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _paint_sheet(painter, QRect(0, 0, wide, high), marks, palette(dark))
    painter.end()
    return made


def paint_zone_key(painter: QPainter, corner: QPointF, marks: tuple[Mark, ...], size: Point, colours: Palette) -> None:
    """Paint the zone's key. ``corner``: its lower left [px], ``size`` [paper mm]."""
    box = QRect(0, 0, round(size[0] * SCREEN), round(size[1] * SCREEN))
    box.moveBottomLeft(corner.toPoint())
    _paint_sheet(painter, box, marks, colours)


def _paint_sheet(painter: QPainter, box: QRect, marks: tuple[Mark, ...], colours: Palette) -> None:
    fill(painter, box, colours["sheet"])
    paint_in(painter, box, marks, colours)


def figure_box(board: QRect, words: str, pointer: QPointF, *, typing: bool) -> QRect:
    """Return the place of a figure next to the pointer; ``typing``: above the figure that is being typed there."""
    metrics, room = QFontMetrics(sized(strong=True)), min(_LONGEST, board.width() - 28)
    text = metrics.boundingRect(0, 0, room, 999, Qt.TextFlag.TextWordWrap, words)
    wide, high = text.width() + 16, text.height() + 8
    off = _OFF_TYPING if typing else _OFF
    left = min(max(round(pointer.x()) + 18, board.left() + 4), board.right() - wide - 4)
    top = min(max(round(pointer.y()) - high - off, board.top() + 4), board.bottom() - high - 4)
    return QRect(left, top, wide, high)


def paint_figure(painter: QPainter, box: QRect, words: str, colours: Palette) -> None:
    """Write a figure next to the pointer, in the box of `figure_box`."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours["lit"])
    painter.drawRoundedRect(QRectF(box), 3, 3)
    painter.setPen(colours["ink"])
    painter.setFont(sized(strong=True))
    painter.drawText(box.adjusted(8, 0, -8, 0), Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, words)
