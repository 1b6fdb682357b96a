"""The arcs that a straight handle can turn through about a point, between segments and circles, exactly.

The handle is a strip from the point out to its length, and a disc as wide as the strip at the point. Its end is an arc
through its two corners. A square end is nowhere larger, and shorter by width²/(8·length). Points and lengths [mm], angles
from the first axis, anticlockwise [radians].
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.solid.planes import to_segment

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from geometry.solid.planes import Point, Segment


class Handle(msgspec.Struct, frozen=True):
    """A handle: its length from the axis to its end, and half its width [mm]."""

    length: float
    half: float

    @property
    def reach(self) -> float:
        """The distance from the axis to its farthest points [mm]."""
        return math.hypot(self.length, self.half)

    def wider(self, by: float) -> Handle:
        """Return the handle with all points within ``by`` of it [mm]. Below 0: one whose points all stay as far inside it."""
        half = max(0.0, self.half + by)
        return Handle(math.sqrt(max(0.0, (self.reach + by) ** 2 - half**2)), half)


class Blocked(msgspec.Struct, frozen=True):
    """The angles of a handle that touches one obstacle, from ``start`` on to ``end``; a whole turn is 2π long."""

    start: float
    end: float
    name: str


class Free(msgspec.Struct, frozen=True):
    """A free arc of a handle, and the obstacles before and after it; no names where nothing is in the way."""

    start: float
    end: float
    names: tuple[str, ...]

    @property
    def degrees(self) -> float:
        """Its size, in degrees."""
        return math.degrees(self.end - self.start)


def by_segment(handle: Handle, segment: Segment, name: str) -> Blocked | None:
    """Return the angles that a segment takes from a handle about the origin; None where it is out of reach.

    The angle at which the handle's side meets a point of the segment grows or falls all along the segment. So the ends of
    the part within reach are enough. A segment nearer to the axis than half the width takes the whole turn.
    """
    nearest = to_segment((0.0, 0.0), segment)
    if nearest > handle.reach:
        return None
    if nearest <= handle.half:
        return _whole(name)
    ends = [(math.hypot(x, y), math.atan2(y, x)) for x, y in _within_reach(handle, segment)]
    first = ends[0][1]
    turns = [(first + math.remainder(angle - first, math.tau), math.asin(min(1.0, handle.half / away))) for away, angle in ends]
    return Blocked(min(turn - side for turn, side in turns), max(turn + side for turn, side in turns), name)


def _within_reach(handle: Handle, segment: Segment) -> tuple[Point, Point]:
    """Return the ends of the part of a segment that is within reach; some of it has to be."""
    (ax, ay), (bx, by) = segment
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    if square == 0.0:
        return (ax, ay), (bx, by)
    nearest = -(ax * dx + ay * dy) / square
    past = (handle.reach**2 - (ax * ax + ay * ay)) / square + nearest * nearest
    half = math.sqrt(max(0.0, past))
    low, high = max(0.0, nearest - half), min(1.0, nearest + half)
    return (ax + low * dx, ay + low * dy), (ax + high * dx, ay + high * dy)


def by_circle(handle: Handle, centre: Point, radius: float, name: str) -> Blocked | None:
    """Return the angles that a disc takes from a handle about the origin; None where it is out of reach.

    A disc nearer to the axis than half the width takes the whole turn.
    """
    away = math.hypot(*centre)
    if away - radius > handle.reach:
        return None
    if away <= radius + handle.half:
        return _whole(name)
    turn = math.asin((radius + handle.half) / away)
    if away * math.cos(turn) > handle.length:  # the disc is past the end: a corner of the handle meets it
        share = (handle.reach**2 + away**2 - radius**2) / (2 * handle.reach * away)
        turn = math.acos(max(-1.0, min(1.0, share))) + math.atan2(handle.half, handle.length)
    middle = math.atan2(centre[1], centre[0])
    return Blocked(middle - turn, middle + turn, name)


def _whole(name: str) -> Blocked:
    return Blocked(-math.pi, math.pi, name)


def longest_free(blocked: Iterable[Blocked]) -> Free:
    """Return the longest arc between blocked ones; a whole turn where there are none, an empty one where nothing is left."""
    return max(gaps(blocked), key=lambda free: free.end - free.start)


def gaps(blocked: Iterable[Blocked]) -> Iterator[Free]:
    """Yield the arcs between blocked ones, some of them empty; a whole turn where there are none."""
    turned = []
    for each in blocked:
        start = each.start % math.tau
        turned.append(Blocked(start, start + min(math.tau, each.end - each.start), each.name))
    if not turned:
        yield Free(-math.pi, math.pi, ())
        return
    turned.sort(key=lambda each: each.start)
    last = max(turned, key=lambda each: each.end)
    so_far, name = last.end - math.tau, last.name
    yield Free(so_far, so_far, (name,))
    for each in turned:
        if each.start > so_far:
            yield Free(so_far, each.start, (name, each.name))
        if each.end > so_far:
            so_far, name = each.end, each.name
