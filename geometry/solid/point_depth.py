"""The depth of a point in one or several obstacles: its distance to the nearest stretch of a free edge.

Plane geometry, coordinates [mm]; exact but for 1e-7 mm. The general overlay of areas gives the same, many times slower.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from geometry.solid.planes import sides, to_segment, turns_left

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from geometry.solid.planes import Point, Segment

_OFF = 2e-8  # [mm] from an edge to its free side: a smaller gap is no room
_SHORT = 1e-7  # [mm]: a shorter stretch of an edge does not count
_END = 1e-9  # share of an edge's length by which another may end before it and still meet it


class OutwardEdge(NamedTuple):
    """An edge from (au, aw) to (bu, bw), with the unit normal to its free side."""

    au: float
    aw: float
    bu: float
    bw: float
    nu: float
    nw: float


def outward_edges(ring: Sequence[Point], *, around: bool, but: int = -1) -> Iterable[OutwardEdge]:
    """Yield a ring's edges.

    Args:
        around: the obstacle is outside the ring, not in it. but: number of an edge to leave out.
    """
    left = turns_left(ring) == around
    for number, ((au, aw), (bu, bw)) in enumerate(sides(ring)):
        du, dw = bu - au, bw - aw
        size = math.hypot(du, dw)
        if number != but and size > 0.0:
            yield OutwardEdge(au, aw, bu, bw, *((-dw / size, du / size) if left else (dw / size, -du / size)))


def depth(at: Point, edges: Sequence[OutwardEdge], is_free: Callable[[Point], bool]) -> float:
    """Return how far a point is from the nearest stretch of an edge with a free far side; inf where there is none."""
    best = math.inf
    for apart, edge in sorted((to_segment(at, _line(edge)), edge) for edge in edges):
        if apart >= best:
            break
        best = min(best, _to_free(at, edge, edges, is_free, best))
    return best


def _line(edge: OutwardEdge) -> Segment:
    return (edge.au, edge.aw), (edge.bu, edge.bw)


def _to_free(
    at: Point, edge: OutwardEdge, edges: Sequence[OutwardEdge], is_free: Callable[[Point], bool], best: float
) -> float:
    """Return how far a point is from the free stretches of one edge, ``best`` where they are no nearer."""
    au, aw, bu, bw, nu, nw = edge
    du, dw = bu - au, bw - aw
    least = _SHORT / math.hypot(du, dw)
    stops = sorted(_crossings(edge, edges))
    for start, end in zip(stops, stops[1:], strict=False):
        if end - start < least:
            continue
        apart = to_segment(at, ((au + start * du, aw + start * dw), (au + end * du, aw + end * dw)))
        if apart < best:
            half = (start + end) / 2
            if is_free((au + half * du + _OFF * nu, aw + half * dw + _OFF * nw)):
                best = apart
    return best


def _crossings(edge: OutwardEdge, edges: Sequence[OutwardEdge]) -> Iterable[float]:
    """Yield the shares of an edge's length at which it begins, ends, or meets another edge."""
    yield 0.0
    yield 1.0
    au, aw, bu, bw, _, _ = edge
    ru, rw = bu - au, bw - aw
    low_u, high_u, low_w, high_w = min(au, bu) - _SHORT, max(au, bu) + _SHORT, min(aw, bw) - _SHORT, max(aw, bw) + _SHORT
    for cu, cw, du, dw, _, _ in edges:
        if (cu < low_u and du < low_u) or (cu > high_u and du > high_u):
            continue
        if (cw < low_w and dw < low_w) or (cw > high_w and dw > high_w):
            continue
        su, sw = du - cu, dw - cw
        den = ru * sw - rw * su
        if den == 0.0:
            continue
        share = ((cu - au) * sw - (cw - aw) * su) / den
        if 0.0 < share < 1.0 and -_END <= ((cu - au) * rw - (cw - aw) * ru) / den <= 1.0 + _END:
            yield share
