"""Cutting marks at a rectangle, exactly: nothing outside it stays in the file."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise
from typing import assert_never

from msgspec.structs import replace

from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Mark, Path, Pen, Point, Role, Text
from templates_out.drawing.transforms import hatch_lines, text_box

Rect = tuple[float, float, float, float]  # left, bottom, right, top [mm]
_LEAST = 1e-9  # mm: what is shorter is nothing


def clip(marks: Iterable[Mark], rect: Rect) -> tuple[Mark, ...]:
    """Return the part of ``marks`` within ``rect`` (left, bottom, right, top) [mm].

    Lines and polygons are cut, circles become arcs (their fill a polygon); a text is kept only where its
    whole box is inside. A mark wholly inside is returned as it is.
    """
    return tuple(piece for mark in marks for piece in _cut(mark, rect))


def within(point: Point, rect: Rect, by: float = 0.0) -> bool:
    """Say whether ``point`` is in ``rect``, at least ``by`` from its edges (to 1e-9 mm)."""
    x, y = point
    room = by - _LEAST
    return rect[0] + room <= x <= rect[2] - room and rect[1] + room <= y <= rect[3] - room


def _cut(mark: Mark, rect: Rect) -> list[Mark]:
    match mark:
        case Line():
            piece = _segment(mark.a, mark.b, rect)
            return [replace(mark, a=piece[0], b=piece[1])] if piece else []
        case Circle():
            if within(mark.centre, rect, mark.radius):
                return [mark]
            pieces: list[Mark] = []
            if mark.fill:
                pieces += _filled(_ring(mark), mark.fill, mark.part, rect)
            if mark.pen:
                pieces += _arcs(Arc(mark.centre, mark.radius, 0.0, 360.0, mark.pen, mark.part), rect)
            return pieces
        case Arc():
            return [mark] if within(mark.centre, rect, mark.radius) else list(_arcs(mark, rect))
        case Path():
            if all(within(p, rect) for p in mark.points):
                return [mark]
            outline = (*mark.points, mark.points[0]) if mark.closed else mark.points
            drawn = _polyline(outline, mark.pen, mark.part, rect) if mark.pen else []
            return [*(_filled(mark.points, mark.fill, mark.part, rect) if mark.fill else []), *drawn]
        case Hatch():
            if all(within(p, rect) for p in mark.outline):
                return [mark]
            return [piece for line in hatch_lines(mark) for piece in _cut(line, rect)]
        case Text():
            return [mark] if all(within(p, rect) for p in text_box(mark)) else []
        case _:
            assert_never(mark)


def _segment(a: Point, b: Point, rect: Rect) -> tuple[Point, Point] | None:
    """Cut a segment by Liang and Barsky's method; None where nothing is left."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    enters, leaves = 0.0, 1.0
    for slope, room in ((-dx, a[0] - rect[0]), (dx, rect[2] - a[0]), (-dy, a[1] - rect[1]), (dy, rect[3] - a[1])):
        if slope == 0.0:
            if room < 0.0:
                return None
        elif slope < 0.0:
            enters = max(enters, room / slope)
        else:
            leaves = min(leaves, room / slope)
    if (leaves - enters) * math.hypot(dx, dy) <= _LEAST:
        return None
    start = a if enters == 0.0 else (a[0] + enters * dx, a[1] + enters * dy)
    end = b if leaves == 1.0 else (a[0] + leaves * dx, a[1] + leaves * dy)
    return start, end


def _arcs(arc: Arc, rect: Rect) -> list[Arc]:
    """Cut an arc at every place where its circle crosses the rectangle's edges."""
    (x, y), r = arc.centre, arc.radius
    crossings = []
    for edge, middle, base in ((rect[0], x, 0.0), (rect[2], x, 0.0), (rect[1], y, 90.0), (rect[3], y, 90.0)):
        if abs(edge - middle) < r:
            half = math.degrees(math.acos((edge - middle) / r))
            crossings += [base + half, base - half]
    stops = {(angle - arc.start) % 360.0 for angle in crossings}
    sweep = arc.end - arc.start
    angles = [0.0, *sorted(s for s in stops if 0.0 < s < sweep), sweep]
    pieces: list[Arc] = []
    for a, b in pairwise(angles):
        middle_angle = math.radians(arc.start + (a + b) / 2)
        inside = within((x + r * math.cos(middle_angle), y + r * math.sin(middle_angle)), rect)
        if inside and math.radians(b - a) * r > _LEAST:
            pieces.append(replace(arc, start=arc.start + a, end=arc.start + b))
    return pieces


def _polyline(points: tuple[Point, ...], pen: Pen, part: str, rect: Rect) -> list[Path]:
    """Cut a polyline, keeping together what runs on."""
    runs: list[list[Point]] = []
    for a, b in pairwise(points):
        piece = _segment(a, b, rect)
        if piece and runs and runs[-1][-1] == piece[0]:
            runs[-1].append(piece[1])
        elif piece:
            runs.append(list(piece))
    return [Path(tuple(run), False, pen, part=part) for run in runs]


def _filled(points: tuple[Point, ...], fill: Role, part: str, rect: Rect) -> list[Path]:
    ring = ring_within(points, rect)
    return [Path(ring, True, None, fill, part)] if len(ring) > 2 else []


def ring_within(points: Iterable[Point], rect: Rect) -> tuple[Point, ...]:
    """Return the part of a polygon within ``rect``, by Sutherland and Hodgman's method; under three points: nothing.

    The pieces of a hollow polygon are left joined along the rectangle's edges.
    """
    ring = list(points)
    for axis, edge, sign in ((0, rect[0], 1.0), (0, rect[2], -1.0), (1, rect[1], 1.0), (1, rect[3], -1.0)):
        ring = _half_plane(ring, axis, edge, sign)
    return tuple(ring)


def _half_plane(ring: list[Point], axis: int, edge: float, sign: float) -> list[Point]:
    kept: list[Point] = []
    for a, b in pairwise([*ring[-1:], *ring]):
        da, db = sign * (a[axis] - edge), sign * (b[axis] - edge)
        if (da >= 0) != (db >= 0):
            t = da / (da - db)
            kept.append((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))
        if db >= 0:
            kept.append(b)
    return kept


def _ring(circle: Circle) -> tuple[Point, ...]:
    turns = (2 * math.pi * i / 180 for i in range(180))
    return tuple(
        (circle.centre[0] + circle.radius * math.cos(a), circle.centre[1] + circle.radius * math.sin(a)) for a in turns
    )
