"""The measuring tools, laid where they are to be laid: tape, level, calipers, square, washer. Paper millimetres."""

from __future__ import annotations

import math
from collections.abc import Iterator

from templates_out.drawing.marks import Arc, Circle, Line, Mark, Path, Pen, Point

PART = "tool"
BODY = Pen("new", 0.5)
BLADE = Pen("new", 1.0)
TICK = Pen("new", 0.25)
_TICK = 1.6  # length of a tick
_LEAST = 1.6  # room between two ticks
_STEPS = {"in": (6.35, 12.7, 25.4, 50.8, 101.6, 304.8), "mm": (5.0, 10.0, 20.0, 50.0, 100.0, 200.0)}  # boat mm


def tape(a: Point, b: Point, scale: float, units: str, side: float = 1.0, *, hooked: bool = True) -> Iterator[Mark]:
    """Yield a tape from ``a``, where it is hooked, to ``b``, its ticks at the right of the way for ``side`` 1.

    Args:
        scale: paper mm for a boat mm; the ticks are a whole number of the ruler's steps apart.
    """
    length = math.dist(a, b)
    if length < 1e-6:
        return
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    nx, ny = dy * side, -dx * side
    yield Line(a, b, BLADE, PART)
    step = next((step * scale for step in _STEPS[units] if step * scale >= _LEAST), _STEPS[units][-1] * scale)
    for k in range(1, int(length / step + 1e-6) + 1):
        x, y = a[0] + dx * k * step, a[1] + dy * k * step
        yield Line((x, y), (x + nx * _TICK, y + ny * _TICK), TICK, PART)
    ends = (a, b) if not hooked else (b,)
    for x, y in ends:
        yield Line((x - nx * _TICK, y - ny * _TICK), (x + nx * 2 * _TICK, y + ny * 2 * _TICK), BODY, PART)
    if hooked:
        yield Line((a[0] - nx * 2.2, a[1] - ny * 2.2), (a[0] + nx * 1.4, a[1] + ny * 1.4), BLADE, PART)
        yield Line((a[0] - nx * 2.2, a[1] - ny * 2.2), (a[0] - nx * 2.2 + dx * 1.6, a[1] - ny * 2.2 + dy * 1.6), BLADE, PART)


def bar(a: Point, b: Point, thick: float, side: float = 1.0, pen: Pen = BODY) -> Path:
    """Return a straight piece from ``a`` to ``b``, ``thick`` to the right of the way for ``side`` 1."""
    length = math.dist(a, b) or 1.0
    nx, ny = (b[1] - a[1]) / length * side * thick, -(b[0] - a[0]) / length * side * thick
    return Path((a, b, (b[0] + nx, b[1] + ny), (a[0] + nx, a[1] + ny)), True, pen, "sheet", PART)


def level(a: Point, b: Point, side: float = 1.0) -> Iterator[Mark]:
    """Yield a level from ``a`` to ``b``, with its bubble."""
    thick = 2.6
    yield bar(a, b, thick, side)
    length = math.dist(a, b) or 1.0
    nx, ny = (b[1] - a[1]) / length * side, -(b[0] - a[0]) / length * side
    x, y = (a[0] + b[0]) / 2 + nx * thick / 2, (a[1] + b[1]) / 2 + ny * thick / 2
    yield Circle((x, y), 0.8, Pen("new", 0.3), None, PART)


def calipers(a: Point, b: Point, along: Point, reach: float) -> Iterator[Mark]:
    """Yield calipers whose jaws hold the size from ``a`` to ``b``; their beam is ``reach`` away in the direction ``along``."""
    length = math.hypot(*along) or 1.0
    ux, uy = along[0] / length, along[1] / length
    beyond = 2.4
    jaws = [((x - ux * beyond, y - uy * beyond), (x + ux * reach, y + uy * reach)) for x, y in (a, b)]
    for tip, end in jaws:
        yield Line(tip, end, BLADE, PART)
    (_, start), (_, end) = jaws
    gap = math.dist(start, end) or 1.0
    ex, ey = (end[0] - start[0]) / gap, (end[1] - start[1]) / gap
    yield Line((start[0] - ex * 0.5, start[1] - ey * 0.5), (end[0] + ex * 4.0, end[1] + ey * 4.0), BLADE, PART)


def angle(middle: Point, radius: float, first: float, second: float) -> Iterator[Mark]:
    """Yield the arc of an angle between two directions [degrees], the short way round."""
    start, turn = first, (second - first + 180.0) % 360.0 - 180.0
    if abs(turn) < 0.5:
        return
    low, high = (start, start + turn) if turn > 0 else (start + turn, start)
    yield Arc(middle, radius, low, high, TICK, PART)


def arrow(a: Point, b: Point) -> Iterator[Mark]:
    """Yield an arrow from ``a`` to ``b``: the way in which a tool is pushed."""
    yield Line(a, b, BODY, PART)
    length = math.dist(a, b) or 1.0
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    for turn in (1.0, -1.0):
        x, y = b[0] - dx * 1.8 - dy * turn * 1.1, b[1] - dy * 1.8 + dx * turn * 1.1
        yield Line((x, y), b, BODY, PART)


def direction(a: Point, b: Point) -> float:
    """Return the direction from ``a`` to ``b`` [degrees]."""
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
