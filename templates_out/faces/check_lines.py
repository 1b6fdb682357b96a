"""Distances to take on the taped-up paper before punching: between the holes, both sides and both diagonals."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

import msgspec

from geometry.units.units import Unit
from templates_out.drawing import sheet_figures as figures
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.labels import Candidate
from templates_out.drawing.marks import Line, Mark, Point
from templates_out.faces.face_lines import readable
from templates_out.faces.hole_marks import filled_arrow
from templates_out.faces.on_face import Hole

_PAST = 2.5  # beyond the cross or the washer


class Check(msgspec.Struct, frozen=True):
    """One distance: from hole to hole, true [mm]; what it is called in a list."""

    first: Hole
    second: Hole
    true: float
    name: str


def checks(holes: tuple[Hole, ...]) -> tuple[Check, ...]:
    """Return all distances within each mount, and one between neighbouring mounts' upper holes."""
    distances = []
    for mount in sorted({hole.mount for hole in holes}):
        own = [hole for hole in holes if hole.mount == mount]
        for first, second in combinations(own, 2):
            distances.append(_check(first, second, _kind(first, second)))
    uppers = sorted((hole for hole in holes if hole.name.startswith("upper")), key=lambda hole: hole.u)
    for first, second in zip(uppers, uppers[1:], strict=False):
        if first.mount != second.mount:
            distances.append(_check(first, second, "between the motors"))
    return tuple(distances)


def _kind(first: Hole, second: Hole) -> str:
    rows, sides = (first.name.split()[0], second.name.split()[0]), (first.name.split()[1], second.name.split()[1])
    if rows[0] == rows[1]:
        return f"{rows[0]} pair"
    return f"{sides[0]} side" if sides[0] == sides[1] else "diagonal"


def _check(first: Hole, second: Hole, name: str) -> Check:
    return Check(first, second, math.dist((first.u, first.v), (second.u, second.v)), name)


def check_marks(check: Check) -> tuple[Mark, ...]:
    """Return the line with an arrow at each end; nothing where the holes are too near for it."""
    ends = _ends(check)
    if ends is None:
        return ()
    part = f"check: {check.first.part} to {check.second.part}"
    angle = math.degrees(math.atan2(ends[1][1] - ends[0][1], ends[1][0] - ends[0][0]))
    return (
        Line(*ends, pens.FINE, part),
        filled_arrow(ends[0], angle + 180, part=part),
        filled_arrow(ends[1], angle, part=part),
    )


def _ends(check: Check) -> tuple[Point, Point] | None:
    a, b = check.first.at, check.second.at
    far = math.dist(a, b)
    if far == 0:
        return None
    dx, dy = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    start, stop = _clear(check.first, dx, dy), _clear(check.second, dx, dy)
    if far - start - stop < 12:
        return None
    return (a[0] + start * dx, a[1] + start * dy), (b[0] - stop * dx, b[1] - stop * dy)


def _clear(hole: Hole, dx: float, dy: float) -> float:
    """Return how far from the centre the line begins: past the cross where it runs along it, else past the washer."""
    along = max(abs(dx), abs(dy)) > math.cos(math.radians(14.0))
    behind = math.dist(hole.at, hole.washer_at)
    return _PAST + (hole.reach if along else max((hole.washer or 0.0) + behind, hole.final))


def figure_places(check: Check, unit: Unit) -> Iterator[Candidate]:
    """Yield places for the figure along its line, above it: 0.3 to 0.55 of the way from either end, or by a hole."""
    ends = _ends(check)
    if ends is None:
        return
    (ax, ay), (bx, by) = ends
    far = math.dist(*ends)
    text = figures.check_figure(check.true, unit)
    size = pens.FIGURE
    wide = pens.width_of(pens.words((0, 0), text, size))
    if wide + 8 > far:
        return
    angle = readable(math.degrees(math.atan2(by - ay, bx - ax)))
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    near = (wide / 2 + 4.0) / far
    shares = [k / 100 for k in range(30, 56, 2)]
    shares += [1 - share for share in shares]
    shares += [near, 1 - near]
    for off in (1.3 + 0.17 * size, -1.3 - 0.74 * size):
        for share in shares:
            if not near - 1e-9 <= share <= 1 - near + 1e-9:
                continue
            x, y = ax + share * (bx - ax) - off * s, ay + share * (by - ay) + off * c
            part = f"figure: {check.first.part} to {check.second.part}"
            yield (pens.words((x, y), text, size, angle=angle, anchor="middle", part=part),)
