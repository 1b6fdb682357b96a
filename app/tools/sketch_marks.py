"""Marks of a half-drawn shape: thin lines, a dot at each corner, a figure on its edge."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from templates_out.drawing.marks import Circle, Line, Mark, Pen, Text
from templates_out.views.view_pens import FIGURE

if TYPE_CHECKING:
    from templates_out.drawing.marks import Point

PENCIL = Pen("ink", 0.3)
FAINT = Pen("soft", 0.18, (1.6, 1.0))
_DOT = 0.9
_OFF = 3.4  # paper mm: from the edge to its figure


def line(points: tuple[Point, ...], pen: Pen = PENCIL) -> tuple[Mark, ...]:
    """Return a line through ``points`` [paper mm]."""
    return tuple(Line(a, b, pen, "pencil") for a, b in zip(points, points[1:], strict=False) if a != b)


def dots(points: tuple[Point, ...]) -> tuple[Mark, ...]:
    """Return a dot at each point."""
    return tuple(Circle(at, _DOT, PENCIL, "field", "pencil") for at in points)


def figure(a: Point, b: Point, words: str, *, typed: bool) -> tuple[Mark, ...]:
    """Return the figure of the edge from ``a`` to ``b``, next to its middle, always upright."""
    far = math.dist(a, b)
    dx, dy = ((b[0] - a[0]) / far, (b[1] - a[1]) / far) if far else (1.0, 0.0)
    if dx < 0 or (dx == 0 and dy < 0):
        dx, dy = -dx, -dy
    size = FIGURE["screen"] * (1.15 if typed else 1.0)
    wide = 0.3 * size * len(words)
    off = _OFF + abs(dy) * wide
    at = (a[0] + b[0]) / 2 - dy * off, (a[1] + b[1]) / 2 + dx * off - size * 0.35
    return (Text(at, words, size, bold=typed, anchor="middle", patch="lit" if typed else "sheet", part="pencil"),)
