"""Cutting rings by straight lines where the result is simple: one piece or none.

Nearly every shape is simple. General overlays of areas need a large library, which is loaded only for the others.
Coordinates [mm]; comparisons allow 1e-9 mm.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.solid.planes import inside, sides, to_segment, turns_left

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.solid.planes import Point

Ring = tuple["Point", ...]
_LEAST = 1e-9  # [mm]


def is_convex(ring: Sequence[Point]) -> bool:
    """Return whether a ring turns the same way at every corner, once around."""
    if len(ring) < 3:
        return False
    left = right = False
    swaps = 0  # changes of direction between port and starboard: a ring that goes once around has two
    (ax, ay), (bx, by) = ring[-2], ring[-1]
    was = bx - ax
    for cx, cy in ring:
        dx, dy = bx - ax, by - ay
        turn = dx * (cy - by) - dy * (cx - bx)
        left, right = left or turn > 0.0, right or turn < 0.0
        if left and right:
            return False
        step = cx - bx
        if step:
            swaps += was * step < 0.0
            was = step
        ax, ay, bx, by = bx, by, cx, cy
    return swaps <= 2 and (left or right)


def left_of_line(ring: Ring, a: Point, b: Point) -> Ring | None:
    """Return the part of a ring left of the line from ``a`` to ``b``; () where there is none, None where it is not simple.

    It is not simple where the line cuts the ring more than twice: several pieces may be left.
    """
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = math.hypot(dx, dy)
    if size == 0.0:
        return None
    dx, dy = dx / size, dy / size
    foot = dx * a[1] - dy * a[0]
    over = [dx * y - dy * x - foot for x, y in ring]
    least = min(over)
    if least >= -_LEAST:
        return ring
    if max(over) <= _LEAST:
        return ()
    corners: list[Point] = []
    cuts = 0
    (px, py), was = ring[-1], over[-1]
    for (x, y), now in zip(ring, over, strict=True):
        if (was >= -_LEAST) != (now >= -_LEAST):
            cuts += 1
            share = was / (was - now)
            share = 0.0 if share < 0.0 else 1.0 if share > 1.0 else share
            corners.append((px + share * (x - px), py + share * (y - py)))
        if now >= -_LEAST:
            corners.append((x, y))
        px, py, was = x, y, now
    return tuple(corners) if cuts == 2 else None


def intersection(first: Ring, second: Ring) -> Ring | None:
    """Return the common area of two rings where that is simple, () for nothing; None where it is not simple.

    One of the two must be convex. Its sides cut the other, one by one. The result repeats no corner.
    """
    if len(second) > len(first):
        first, second = second, first
    if not is_convex(second):
        first, second = second, first
        if not is_convex(second):
            return None
    if not turns_left(second):
        second = second[::-1]
    left = first
    for a, b in sides(second):
        if a != b:
            rest = left_of_line(left, a, b)
            if not rest:
                return rest
            left = rest
    apart = tuple(at for at, before in zip(left, left[-1:] + left[:-1], strict=True) if math.dist(at, before) > _LEAST)
    return apart if len(apart) > 2 else ()


def plainly_inside(ring: Ring, rims: Iterable[Ring]) -> bool:
    """Return whether a ring is inside one of the rims and clear of its sides, by a circle around it."""
    centre, radius = _circle(ring)
    return any(inside(centre, rim) and all(to_segment(centre, side) > radius for side in sides(rim)) for rim in rims)


def plainly_apart(ring: Ring, other: Ring) -> bool:
    """Return whether two rings are apart, by their boxes."""
    left, bottom, right, top = box(ring)
    other_left, other_bottom, other_right, other_top = box(other)
    return right < other_left or other_right < left or top < other_bottom or other_top < bottom


def least_gap(ring: Sequence[Point], other: Sequence[Point]) -> float:
    """Return the least gap that two rings can have by their boxes [mm]; below 0, minus how deep ``ring`` can be in ``other``.

    How deep a point of ``ring`` is in ``other`` is no more than its distance from the nearest side of the other's box.
    """
    (left, bottom, right, top), (other_left, other_bottom, other_right, other_top) = box(ring), box(other)
    spans = (left, right, other_left, other_right), (bottom, top, other_bottom, other_top)
    apart = [max(0.0, other_low - high, low - other_high) for low, high, other_low, other_high in spans]
    if any(apart):
        return math.hypot(*apart)
    depths = (min(high - low_, high_ - low, (high_ - low_) / 2) for low, high, low_, high_ in spans)
    return -min(depths)


def box(ring: Sequence[Point]) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs), min(ys), max(xs), max(ys)


def _circle(ring: Ring) -> tuple[Point, float]:
    left, bottom, right, top = box(ring)
    return ((left + right) / 2, (bottom + top) / 2), math.hypot(right - left, top - bottom) / 2
