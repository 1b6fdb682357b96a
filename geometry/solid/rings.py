"""Cutting rings by straight lines where the outcome is plain: one piece or none.

Nearly all that is drawn and checked is plain, and needs no general overlay of areas: that is a large library, loaded
only where something is not. Coordinates [mm]; comparisons allow 1e-9 mm.
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
    """Return whether a ring turns the same way at every corner, once round."""
    if len(ring) < 3:
        return False
    left = right = False
    swaps = 0  # how often it changes between going to port and to starboard: a ring that goes once round does it twice
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
    """Return what of a ring lies left of the line from ``a`` to ``b``; () where nothing does, None where it is not plain.

    Not plain: the line cuts the ring more than twice, and what is left may be several pieces.
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
    """Return what two rings share where that is plain, () for nothing; None where it is not plain.

    One of the two has to bulge; the other is cut by its sides, one by one. No corner stands twice in a row.
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
    """Return whether a ring lies inside one of the rims and clear of its sides, as far as a circle about it tells."""
    centre, radius = _circle(ring)
    return any(inside(centre, rim) and all(to_segment(centre, side) > radius for side in sides(rim)) for rim in rims)


def plainly_apart(ring: Ring, other: Ring) -> bool:
    """Return whether two rings are apart, as far as their boxes tell."""
    left, bottom, right, top = box(ring)
    other_left, other_bottom, other_right, other_top = box(other)
    return right < other_left or other_right < left or top < other_bottom or other_top < bottom


def box(ring: Sequence[Point]) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs), min(ys), max(xs), max(ys)


def _circle(ring: Ring) -> tuple[Point, float]:
    left, bottom, right, top = box(ring)
    return ((left + right) / 2, (bottom + top) / 2), math.hypot(right - left, top - bottom) / 2
