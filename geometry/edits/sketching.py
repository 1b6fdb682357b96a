"""Sketching: drawing shapes, and changing their corners and edges.

Each function returns a new design. Distances [mm]. An outline's corners are (u, v) on the outer face, a well's (u, y) on
the inner one. Impossible shapes raise `NonsenseError`, and the design stays as it was.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from geometry.design.boat import Well, top_at
from geometry.design.validity import CLOSE, NonsenseError, area, known
from geometry.edits.edits import Shape, twin_of
from geometry.edits.moving_by_hand import WELL_LINE, measures_of
from geometry.edits.starting_shapes import guess
from geometry.edits.typed_lengths import typed_of_well, typed_outline
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.edits.typed_lengths import Entered

Point = tuple[float, float]
Ring = Literal["transom.outline", "well.profile"]


def drawn_line(corners: tuple[Point, ...]) -> None:
    """Refuse a line in the drawing that crosses itself or has no length.

    Raises:
        NonsenseError: says which.
    """
    if len(corners) > 1 and math.dist(corners[-2], corners[-1]) < CLOSE:
        raise NonsenseError("That corner is on the one before")
    from shapely import LineString  # a large library, needed while somebody sketches

    if len(corners) > 2 and not LineString(corners).is_simple:
        raise NonsenseError("That edge would cross one drawn before")


def mirrored(corners: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return a half shape with its other half. Corners on the centreline occur once, the twins follow in reverse."""
    twins = tuple((-u, v) for u, v in reversed(corners) if abs(u) > CLOSE)
    return corners + twins


def draw_outline(design: Design, corners: tuple[Point, ...], entered: tuple[Entered, ...] = ()) -> Design:
    """Make ``corners`` the transom's outline, moved up or down so that its top at the centreline is the datum.

    It is a guess, unless typed lengths alone give it. ``entered``: how the first corners were set; the rest are mirrored.

    Raises:
        NonsenseError: it crosses itself, has no area, or does not reach the centreline.
    """
    top = top_at(corners, 0.0)
    if top is None:
        raise NonsenseError("The outline does not reach the centreline. The datum is there, on its top edge")
    changed = Shape("transom.outline").with_corners(design, tuple((u, v - top) for u, v in corners))
    return _as_drawn(changed, ("transom.outline",), {"transom.outline"} if typed_outline(corners, entered) else set())


def draw_well(design: Design, corners: tuple[Point, ...], entered: tuple[Entered, ...] = ()) -> Design:
    """Make ``corners`` the well's profile, from port to starboard, drawn from either side.

    Its measures are guesses, except those that typed lengths give. ``entered``: how the first corners were set; the rest
    are mirrored.

    Raises:
        NonsenseError: it doubles back, or is above the transom's top.
    """
    typed = typed_of_well(corners, entered)
    if corners[0][0] > corners[-1][0]:
        corners = corners[::-1]
    new = Well(
        well_from="inside top edge", profile=corners, floor_rise=None, fillet_radius=None, length=None, front_lean=None,
        front_height=None,
    )
    well = new if design.well is None else replace(design.well, profile=corners)
    return _as_drawn(replace(design, well=well), WELL_LINE, typed)


def _as_drawn(design: Design, prefixes: tuple[str, ...], typed: set[str]) -> Design:
    """Return ``design`` with the readings of a new drawn shape: guesses, except those that were typed."""
    bare = replace(design, readings={key: reading for key, reading in design.readings.items() if not key.startswith(prefixes)})
    drawn = guess(bare, measures_of(bare, prefixes))
    measured = {key: replace(drawn.readings[key], state="measured") for key in typed}
    return replace(drawn, readings={**drawn.readings, **measured})


def insert_corner(design: Design, path: Ring, edge: int, at: Point, *, alike: bool = False) -> Design:
    """Put a corner into an edge (from corner ``edge`` to the next), on the line between its ends nearest to ``at``.

    With ``alike`` the edge's twin across the centreline gets one too.

    Raises:
        NonsenseError: it would be on one of the ends.
    """
    corners = _corners(design, path)
    after = (edge + 1) % len(corners)
    place = _foot(at, corners[edge], corners[after])
    if min(math.dist(place, corners[edge]), math.dist(place, corners[after])) < 1.0:
        raise NonsenseError("There is a corner already")
    added = {edge: place}
    twin = _twin_edge(corners, edge, after) if alike else None
    if twin is not None and twin != edge:
        added[twin] = -place[0], place[1]
    ring: list[Point] = []
    for index, corner in enumerate(corners):
        ring += [corner, added[index]] if index in added else [corner]
    return _with_ring(design, path, tuple(ring))


def remove_corner(design: Design, path: Ring, corner: int, *, alike: bool = False) -> Design:
    """Remove a corner, with ``alike`` its twin too.

    Raises:
        NonsenseError: too few would be left.
    """
    corners = _corners(design, path)
    gone = {corner, twin_of(corners, corner)} if alike else {corner}
    left = tuple(at for index, at in enumerate(corners) if index not in gone)
    return _with_ring(design, path, left)


def move_edge(design: Design, path: Ring, edge: int, du: float, dv: float, *, alike: bool = False) -> Design:
    """Move an edge square to itself. Its ends slide along their neighbours.

    Raises:
        NonsenseError: the shape would cross itself or double back, or the datum would leave the outline's top.
    """
    closed = path == "transom.outline"
    corners = _corners(design, path)
    after = (edge + 1) % len(corners)
    moved = _slid(corners, edge, after, (du, dv), closed=closed)
    twin = _twin_edge(corners, edge, after) if alike else None
    if twin is not None and twin != edge:
        other = (twin + 1) % len(corners)
        moved = _slid(moved, twin, other, (-du, dv), closed=closed)
    if closed and abs(top_at(moved, 0.0) or 0.0) > CLOSE:
        raise NonsenseError("The datum is on this edge at the centreline")
    return Shape(path).with_corners(design, moved)


def set_edge_length(design: Design, path: Ring, edge: int, length: float, *, alike: bool = False) -> Design:
    """Set an edge's length [mm]. The end further from the centreline moves, or the lower one where both are as far.

    With ``alike`` the end's twin moves too. An edge across the centreline then grows to both sides.

    Raises:
        NonsenseError: no length, or the shape would cross itself or double back.
    """
    if length < 1.0:
        raise NonsenseError("An edge is 1 mm long or longer")
    corners = _corners(design, path)
    after = (edge + 1) % len(corners)
    near, far = sorted((edge, after), key=lambda index: (round(abs(corners[index][0]), 6), -corners[index][1]))
    (u, y), (at, down) = corners[near], corners[far]
    times = length / math.dist(corners[near], corners[far])
    if alike and twin_of(corners, near) == far:
        u, y = (u + at) / 2, (y + down) / 2
    to = u + (at - u) * times, y + (down - y) * times
    moved = list(corners)
    twin = twin_of(corners, far) if alike else None
    if twin is not None and twin != far:
        moved[twin] = -to[0], to[1]
    moved[far] = to
    return _with_ring(design, path, tuple(moved))


def round_corner(design: Design, path: Ring, corner: int, radius: float, *, alike: bool = False) -> Design:
    """Round a corner by short edges along a circle of ``radius`` [mm], with ``alike`` its twin too.

    The wood of an outline, or the air of a well, becomes too small by at most 0.5 mm, never too large.

    Raises:
        NonsenseError: no radius, nothing to round, or the edges next to it are too short.
    """
    corners = _corners(design, path)
    twin = twin_of(corners, corner) if alike else None
    inside = 1.0 if path == "transom.outline" and area(corners) > 0 else -1.0  # the kept side is left: 1, right: -1
    if path == "well.profile":
        inside = 1.0  # from port down and across: the air is at the left
    ring: list[Point] = []
    for index, at in enumerate(corners):
        if index in (corner, twin):
            ring += _arc(corners, index, radius, inside, closed=path == "transom.outline", units=design.units)
        else:
            ring.append(at)
    return _with_ring(design, path, tuple(ring))


def _arc(
    corners: tuple[Point, ...], corner: int, radius: float, inside: float, *, closed: bool, units: Literal["in", "mm"]
) -> list[Point]:
    if radius <= 0:
        raise NonsenseError("A radius is above 0")
    if not closed and corner in (0, len(corners) - 1):
        raise NonsenseError("The well’s ends have no corner to round")
    at, before, after = corners[corner], corners[corner - 1], corners[(corner + 1) % len(corners)]
    back = math.atan2(before[1] - at[1], before[0] - at[0])
    on = math.atan2(after[1] - at[1], after[0] - at[0])
    turn = (math.atan2(at[1] - before[1], at[0] - before[0]) - on + math.pi) % math.tau - math.pi  # to the right: plus
    if abs(turn) < math.radians(1.0):
        raise NonsenseError("There is no corner to round: both edges are in one line")
    reach = radius * math.tan(abs(turn) / 2)
    room = min(math.dist(at, before), math.dist(at, after))
    if reach > room - CLOSE:
        most = format_length(0.99 * room / math.tan(abs(turn) / 2), units)
        raise NonsenseError(f"The edges next to that corner are too short. At most about {most} fits")
    bends_in = turn * inside > 0  # the kept side has a corner of more than 180 degrees there
    steps = max(2, math.ceil(abs(turn) / (2 * math.acos(1 - min(0.5 / radius, 0.7)))))
    start = at[0] + reach * math.cos(back), at[1] + reach * math.sin(back)
    side = -math.copysign(1.0, turn)
    centre = start[0] + side * radius * math.sin(back), start[1] - side * radius * math.cos(back)
    first, each = math.atan2(start[1] - centre[1], start[0] - centre[0]), -turn / steps
    if not bends_in:
        return [_round(centre, radius, first + each * step) for step in range(steps + 1)]
    far = radius / math.cos(each / 2)  # touching from outside
    touching = [_round(centre, far, first + each * (step + 0.5)) for step in range(steps)]
    return [start, *touching, _round(centre, radius, first - turn)]


def _round(centre: Point, radius: float, angle: float) -> Point:
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)


def _with_ring(design: Design, path: Ring, corners: tuple[Point, ...]) -> Design:
    """Put a shape's corners into the design. A well with another number of corners has other readings.

    Raises:
        NonsenseError: no boat can have it so.
    """
    if path == "transom.outline" and abs(top_at(corners, 0.0) or 0.0) > CLOSE:
        raise NonsenseError("The datum is there, on the top edge at the centreline")
    changed = Shape(path).with_corners(design, corners)
    if path == "transom.outline" or len(corners) == len(Shape(path).corners(design)):
        return changed
    guessed = any(key.startswith(WELL_LINE) and reading.state == "guess" for key, reading in design.readings.items())
    readings = {key: reading for key, reading in changed.readings.items() if not key.startswith(WELL_LINE)}
    changed = replace(changed, readings=readings)
    return guess(changed, measures_of(changed, WELL_LINE)) if guessed else changed  # one guess makes the whole line a guess


def _corners(design: Design, path: Ring) -> tuple[Point, ...]:
    corners = known(Shape(path).corners(design))
    if corners is None:
        raise NonsenseError("Some of this shape’s corners are not measured yet")
    return tuple(corners)


def _twin_edge(corners: tuple[Point, ...], edge: int, after: int) -> int | None:
    """Return the edge across the centreline, itself if it spans it, or None."""
    a, b = twin_of(corners, edge), twin_of(corners, after)
    if a is None or b is None:
        return None
    return next((i for i in (a, b) if {i, (i + 1) % len(corners)} == {a, b}), None)


def _slid(corners: tuple[Point, ...], edge: int, after: int, by: Point, *, closed: bool) -> tuple[Point, ...]:
    a, b = corners[edge], corners[after]
    length = math.dist(a, b)
    normal = -(b[1] - a[1]) / length, (b[0] - a[0]) / length
    off = by[0] * normal[0] + by[1] * normal[1]
    step = off * normal[0], off * normal[1]
    moved = list(corners)
    for corner, beyond in ((edge, edge - 1), (after, after + 1)):
        there = 0 <= beyond < len(corners) or closed
        neighbour = corners[beyond % len(corners)] if there else None
        moved[corner] = _slide(corners[corner], neighbour, normal, off, step)
    return tuple(moved)


def _slide(at: Point, neighbour: Point | None, normal: Point, off: float, step: Point) -> Point:
    """Return where a corner slides along the line to its neighbour, so that it is ``off`` further along ``normal``."""
    if neighbour is not None:
        away = neighbour[0] - at[0], neighbour[1] - at[1]
        across = away[0] * normal[0] + away[1] * normal[1]
        if abs(across) > 0.02 * math.hypot(*away):  # else nearly in line: it would slide without end
            return at[0] + away[0] * off / across, at[1] + away[1] * off / across
    return at[0] + step[0], at[1] + step[1]


def _foot(at: Point, a: Point, b: Point) -> Point:
    dx, dy = b[0] - a[0], b[1] - a[1]
    t = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / (dx * dx + dy * dy)
    t = min(1.0, max(0.0, t))
    return a[0] + t * dx, a[1] + t * dy
