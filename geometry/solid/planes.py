"""Plane geometry of points, segments and rings; coordinates [mm], anticlockwise rings, exact but for rounding."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.validity import area

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

Point = tuple[float, float]
Segment = tuple[Point, Point]


def to_segment(at: Point, segment: Segment) -> float:
    """Return the distance from a point to a segment [mm]."""
    (ax, ay), (bx, by) = segment
    dx, dy = bx - ax, by - ay
    px, py = at[0] - ax, at[1] - ay
    square = dx * dx + dy * dy
    if square == 0.0:
        return math.hypot(px, py)
    t = (px * dx + py * dy) / square
    t = 0.0 if t < 0.0 else 1.0 if t > 1.0 else t
    return math.hypot(px - t * dx, py - t * dy)


def to_nearest(at: Point, segments: Iterable[Segment]) -> float:
    """Return the distance from a point to the nearest of some segments [mm]; inf without any."""
    x, y = at
    best = math.inf
    left, right, low, high = -best, best, -best, best
    for segment in segments:
        (ax, ay), (bx, by) = segment
        if (ax > right and bx > right) or (ax < left and bx < left) or (ay > high and by > high) or (ay < low and by < low):
            continue
        apart = to_segment(at, segment)
        if apart < best:
            best = apart
            left, right, low, high = x - best, x + best, y - best, y + best
    return best


def to_line(at: Point, segment: Segment) -> float:
    """Return the distance from a point to the line through a segment [mm]."""
    (ax, ay), (bx, by) = segment
    return abs((bx - ax) * (at[1] - ay) - (by - ay) * (at[0] - ax)) / math.hypot(bx - ax, by - ay)


def foot(at: Point, segment: Segment) -> Point:
    """Return the point of a segment nearest to ``at``."""
    (ax, ay), (bx, by) = segment
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    t = 0.0 if square == 0.0 else ((at[0] - ax) * dx + (at[1] - ay) * dy) / square
    t = min(1.0, max(0.0, t))
    return ax + t * dx, ay + t * dy


def cross(a: Segment, b: Segment) -> Point | None:
    """Return where two segments cross, or None (parallel ones never do)."""
    (ax, ay), (bx, by) = a
    (cx, cy), (dx, dy) = b
    rx, ry, sx, sy = bx - ax, by - ay, dx - cx, dy - cy
    den = rx * sy - ry * sx
    if den == 0.0:
        return None
    t = ((cx - ax) * sy - (cy - ay) * sx) / den
    k = ((cx - ax) * ry - (cy - ay) * rx) / den
    return (ax + t * rx, ay + t * ry) if 0 <= t <= 1 and 0 <= k <= 1 else None


def between(a: Segment, b: Segment) -> float:
    """Return the distance between two segments, 0 where they cross [mm]."""
    if cross(a, b) is not None:
        return 0.0
    return min(to_segment(a[0], b), to_segment(a[1], b), to_segment(b[0], a), to_segment(b[1], a))


def inside(at: Point, ring: Sequence[Point]) -> bool:
    """Return whether a point is inside a ring; on its edge, either."""
    x, y = at
    within = False
    ax, ay = ring[-1]
    for bx, by in ring:
        if (by > y) != (ay > y) and x < (ax - bx) * (y - by) / (ay - by) + bx:
            within = not within
        ax, ay = bx, by
    return within


def turns_left(ring: Sequence[Point]) -> bool:
    """Return whether a ring runs anticlockwise."""
    return area(ring) > 0


def sides(ring: Sequence[Point]) -> tuple[Segment, ...]:
    """Return the ring's sides in order."""
    return tuple((ring[i - 1], ring[i]) for i in range(len(ring)))
