"""Where the ink of marks is on the screen, so that a step of a drag paints only what it covers."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, assert_never

from PySide6.QtCore import QRect
from PySide6.QtGui import QRegion

from app.canvas.pen import PATCH, SCREEN
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Path, Text
from templates_out.drawing.transforms import text_box

if TYPE_CHECKING:
    from collections.abc import Iterable

    from templates_out.drawing.marks import Mark, Pen, Point

_SOFT = 2.0  # px: smooth edges, and lines moved to whole pixels, reach no further
_GLYPHS = 0.2  # of a text's size: letters reach no further out of its box


def ink_box(mark: Mark, left: float, foot: float) -> QRect:
    """Return the pixels that a mark may cover, with the paper's lower left corner at (``left``, ``foot``) [px]."""
    match mark:
        case Line():
            (xa, ya), (xb, yb), out = mark.a, mark.b, _half(mark.pen)
            west, east = (xa, xb) if xa < xb else (xb, xa)
            south, north = (ya, yb) if ya < yb else (yb, ya)
        case Circle() | Arc():
            (west, south), out = mark.centre, mark.radius + _half(mark.pen)
            east, north = west, south
        case Path() | Hatch() | Text():
            points, out = _outline(mark)
            xs, ys = [x for x, _ in points], [y for _, y in points]
            west, east, south, north = min(xs), max(xs), min(ys), max(ys)
        case _:
            assert_never(mark)
    grown = out * SCREEN + _SOFT
    x, y = math.floor(left + west * SCREEN - grown), math.floor(foot - north * SCREEN - grown)
    return QRect(x, y, math.ceil(left + east * SCREEN + grown) - x, math.ceil(foot - south * SCREEN + grown) - y)


def _outline(mark: Path | Hatch | Text) -> tuple[tuple[Point, ...], float]:
    """Return the corners around a mark, and how far its ink reaches out of them [mm]."""
    match mark:
        case Path():
            return mark.points, 2 * _half(mark.pen)  # a sharp corner reaches further out than its pen's half
        case Hatch():
            return mark.outline, _half(mark.pen)
        case Text():
            return text_box(mark), mark.size * (2 * PATCH if mark.patch else _GLYPHS)


def ink_region(marks: Iterable[Mark], left: float, foot: float) -> QRegion:
    """Return the pixels that marks may cover, as `ink_box` has them."""
    region = QRegion()
    for mark in marks:
        region += ink_box(mark, left, foot)
    return region


def _half(pen: Pen | None) -> float:
    return pen.weight / 2 if pen is not None else 0.0
