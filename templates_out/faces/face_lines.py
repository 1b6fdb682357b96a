"""The long lines of the template: datum, centreline, hidden floor, flat land, bracket, fittings; and their names."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect, clip
from templates_out.drawing.labels import Candidate
from templates_out.drawing.marks import Line, Mark, Path, Point
from templates_out.faces.on_face import OnFace

TICK, TICK_PITCH = 3.0, 6.0
_OFF = 1.4  # between a line and the box of its name


def datum_marks(face: OnFace, reach: Rect) -> tuple[Mark, ...]:
    """Return the datum across the whole drawing and the centreline down it."""
    return (
        Line((reach[0], 0.0), (reach[2], 0.0), pens.DATUM, "datum"),
        Line((0.0, 0.0), (0.0, reach[1]), pens.CENTRELINE, "centreline"),
    )


def face_marks(face: OnFace, reach: Rect) -> tuple[Mark, ...]:
    """Return what is on and behind the face, cut to ``reach``, the room for drawing below the datum."""
    marks: list[Mark] = []
    for run in face.floor:
        marks += [Path(run, False, pens.HIDDEN, part="well floor"), *ticks(run)]
    marks += [Path(run, False, pens.LAND, part="flat land") for run in face.land]
    for name, ring in face.blocks:
        marks.append(Path(ring, True, pens.HIDDEN, part=f"block / {name}"))
    for _name, ring in face.brackets:
        marks.append(Path(ring, True, pens.BRACKET, part="bracket"))
    for name, ring in face.fittings:
        marks.append(Path(ring, True, pens.FITTING, part=f"fitting / {name}"))
        if all(opening.name != name for opening in face.openings):  # there its own cross is to be seen
            marks.append(Line(*_diagonal(ring), pens.FINE, "fitting"))
    marks += [Line(a, b, pens.EDGE, "transom edge") for a, b in pairwise((*face.rim, *face.rim[:1]))]
    below = (reach[0], reach[1], reach[2], min(reach[3], -0.6))
    return clip(marks, below)  # without the edge along the datum, which is the datum's own line


def ticks(run: tuple[Point, ...]) -> list[Mark]:
    """Return 45° ticks on the solid side of a row of points, its right-hand side, every 6 mm."""
    marks: list[Mark] = []
    left = TICK_PITCH / 2
    for a, b in pairwise(run):
        length = math.dist(a, b)
        if length == 0:
            continue
        dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        along = left
        while along <= length:
            x, y = a[0] + along * dx, a[1] + along * dy
            reach = TICK / math.sqrt(2)
            marks.append(Line((x, y), (x + reach * (dy - dx), y - reach * (dx + dy)), pens.FINE, "well floor tick"))
            along += TICK_PITCH
        left = along - length
    return marks


def _diagonal(ring: tuple[Point, ...]) -> tuple[Point, Point]:
    half = len(ring) // 2
    return ring[0], ring[half]


def name_places(
    marks: tuple[Mark, ...],
    part: str,
    text: str,
    room: Rect,
    above: bool = True,
    bold: bool = False,
    off: float = _OFF,
) -> Iterator[Candidate]:
    """Yield places for a line's name along it, 10 mm apart, from its middle outward, within ``room``.

    A part's longest piece within the room carries the name. ``off`` keeps a name below clear of ticks.
    """
    pieces = [side for mark in clip([m for m in marks if m.part == part], room) for side in _sides(mark)]
    if not pieces:
        return
    size = pens.FIGURE
    for a, b in sorted(pieces, key=lambda side: -math.dist(*side)):
        length = math.dist(a, b)
        angle = readable(math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])))
        name = pens.words((0, 0), text, size, bold=bold)
        wide = pens.width_of(name)
        if length < wide + 4:
            continue
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        steps = int((length - wide) / 20)
        for over in (above, not above):
            shifted = _OFF + 0.17 * size if over else -off - 0.74 * size
            for k in sorted(range(-steps, steps + 1), key=abs):
                x = middle[0] + 10 * k * c - shifted * s
                y = middle[1] + 10 * k * s + shifted * c
                yield (pens.words((x, y), text, size, bold=bold, angle=angle, anchor="middle", part=f"name: {part}"),)


def readable(angle: float) -> float:
    """Return the same direction or its opposite, so that text along it is read from below or from the right."""
    angle = (angle + 180.0) % 180.0
    return angle - 180.0 if angle > 90.0 + 1e-9 else angle


def _sides(mark: Mark) -> list[tuple[Point, Point]]:
    if isinstance(mark, Line):
        return [(mark.a, mark.b)]
    if isinstance(mark, Path):
        return list(pairwise((*mark.points, *(mark.points[:1] if mark.closed else ()))))
    return []
