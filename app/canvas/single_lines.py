"""Converts outlines to single lines on the device's pixels, which Qt draws twenty times faster than outlines.

The lines' square ends cover the joins, within half a pixel of a round join.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QLineF, QPointF
from PySide6.QtGui import QPolygonF

if TYPE_CHECKING:
    from collections.abc import Sequence

    from templates_out.drawing.marks import Point

LEVEL = 1e-3  # px: a smaller difference counts as level or upright
_SHORT = 8.0  # half widths of its pen: shorter sides are drawn together
_OFF = 0.08  # px: the greatest distance of a chord from its circle


class Grid(NamedTuple):
    """The device's pixels: ``k`` px for each mm, ``zoom`` device pixels for each px, and the place of the sheet's corner."""

    k: float
    zoom: float
    dx: float
    dy: float

    def on_pixel(self, place: float, shift: float, half: float) -> float:
        """Return a coordinate [px] moved to the nearest device pixel, or to its middle for ``half``."""
        return (math.floor(place * self.zoom + shift + 0.5 - half) + half - shift) / self.zoom


@lru_cache(maxsize=1024)  # most of a drawing does not change during a drag
def snapped(points: tuple[Point, ...], half: float, grid: Grid) -> list[QPointF]:
    """Return places on paper [mm] in px. The ends of level and upright sides are on device pixels."""
    closed = len(points) > 2 and points[0] == points[-1]
    xs = _on_pixels([x * grid.k for x, _ in points], grid.dx, half, grid, closed=closed)
    ys = _on_pixels([-y * grid.k for _, y in points], grid.dy, half, grid, closed=closed)
    return list(map(QPointF, xs, ys))


def _on_pixels(places: list[float], shift: float, half: float, grid: Grid, *, closed: bool) -> list[float]:
    """Return one coordinate of each place, on device pixels where the next place has the same one."""
    moved = places.copy()
    for index, (a, b) in enumerate(pairwise(places)):
        if -LEVEL < a - b < LEVEL:
            moved[index] = moved[index + 1] = grid.on_pixel(a, shift, half)
    if closed:
        moved[0] = moved[-1] = moved[-1] if moved[-1] != places[-1] else moved[0]
    return moved


def strokes(places: Sequence[QPointF], half: float) -> tuple[list[QLineF], list[QPolygonF]]:
    """Return an outline as its long sides, and as rows of the short sides between them, for example at a rounded corner.

    The pen has square ends that add ``half`` a width [px]. The ends of an open outline are so much shorter, so that the ink
    ends where the outline does. Single short sides would be too heavy, since their ends overlap.
    """
    if len(places) > 1 and places[0] != places[-1]:
        first, last = _short_of(places[0], places[1], half), _short_of(places[-1], places[-2], half)
        places = (first, *places[1:-1], last)
    lines: list[QLineF] = []
    rows: list[list[QPointF]] = []
    row: list[QPointF] = []
    for a, b in pairwise(places):
        line = QLineF(a, b)
        if abs(line.dx()) + abs(line.dy()) >= _SHORT * half:
            lines.append(line)
            row = []
        elif row:
            row.append(b)
        else:
            row = [a, b]
            rows.append(row)
    return lines, list(map(QPolygonF, rows))


def _short_of(end: QPointF, before: QPointF, by: float) -> QPointF:
    line = QLineF(end, before)
    long = line.length()
    return line.pointAt(min(0.5, by / long)) if long > 0.0 else end


def slanting(places: Sequence[QPointF]) -> list[QLineF]:
    """Return the sides of a closed ring that are neither level nor upright."""
    return [QLineF(a, b) for a, b in pairwise((*places, places[0])) if a.x() != b.x() and a.y() != b.y()]


def dashed_circle(centre: QPointF, radius: float, dash: tuple[float, ...]) -> list[QLineF]:
    """Return the chords of a circle's dashes [px]. Their lengths fit the circle without a rest."""
    x, y = centre.x(), centre.y()
    turns = _turns(max(2, round(2 * math.pi * radius / sum(dash))), dash, max(1, round(radius)))
    return [QLineF(x + radius * a, y + radius * b, x + radius * c, y + radius * d) for a, b, c, d in turns]


@lru_cache(maxsize=256)
def _turns(count: int, dash: tuple[float, ...], radius: int) -> list[tuple[float, float, float, float]]:
    """Return the chords of ``count`` dashes on the unit circle, fine enough for a radius of ``radius`` px."""
    whole, step = 2 * math.pi / count, 2 * math.acos(1 - min(_OFF / radius, 1.0))
    chords: list[tuple[float, float, float, float]] = []
    for number in range(count):
        at = number * whole
        for index, length in enumerate(dash):
            turn = whole * length / sum(dash)
            if index % 2 == 0:
                pieces = max(1, math.ceil(turn / step))
                corners = [(math.cos(at + turn * i / pieces), math.sin(at + turn * i / pieces)) for i in range(pieces + 1)]
                chords += [(*a, *b) for a, b in pairwise(corners)]
            at += turn
    return chords
