"""The edges of the transom's outer and inner face.

The top cut carries the upward-facing edges forward to the inner face. All other edges run forward along s. The two sets
are carried separately and need not join.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import CLOSE, plainly_simple
from geometry.solid.faces import Faces, Point, faces, need_all
from geometry.solid.planes import Segment, inside, to_nearest, turns_left

if TYPE_CHECKING:
    from geometry.design.boat import Transom
    from geometry.design.validity import Points


TOP_REACH = 2.0  # bolt diameters to each side of a hole: the transom's top edge counts within them. Our assumption
_SHALLOW = 1 - 1e-6  # rise over run: below it an edge is a top, under 45 degrees


class Rim(msgspec.Struct, frozen=True):
    """A face's edges.

    Attributes:
        edges: the segments around it.
        rings: closed polygons. A point on the face is inside all of them (``every``), or inside any of them.
    """

    edges: tuple[Segment, ...]
    rings: tuple[tuple[Point, ...], ...]
    every: bool

    def signed_distance(self, at: Point) -> float:
        """Return the distance from ``at`` to the nearest edge, negative off the face [mm]."""
        nearest = to_nearest(at, self.edges)
        within = (inside(at, ring) for ring in self.rings)
        return nearest if (all(within) if self.every else any(within)) else -nearest


def outer_rim(transom: Transom) -> Rim:
    """Return the outer face's edges in (u, v).

    Raises:
        Unmeasured: a corner is not known.
    """
    return _outer(transom.outline)


@lru_cache(maxsize=64)
def _outer(outline: Points) -> Rim:
    ring = tuple(need_all(outline, "transom.outline"))
    ring = ring if turns_left(ring) else ring[::-1]
    return Rim(tuple(zip(ring, ring[1:] + ring[:1], strict=True)), (ring,), every=True)


def inner_rim(transom: Transom) -> Rim:
    """Return the inner face's edges in (u, w).

    Raises:
        Unmeasured: a corner, the rake, the cut or a thickness is not known.
    """
    return _inner(transom.outline, faces(transom))


@lru_cache(maxsize=64)
def _inner(outline: Points, face: Faces) -> Rim:
    ring = _outer(outline).rings[0]
    cut = tuple((u, face.inner_top(v)) for u, v in ring)
    square = tuple((u, face.square_across(v)) for u, v in ring)
    edges: list[Segment] = []
    for index, (a, b) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True)):
        # In an anticlockwise ring, an edge that runs to port has the wood below it: it faces up.
        carried = cut if b[0] < a[0] - CLOSE else square
        edges.append((carried[index], carried[(index + 1) % len(ring)]))
    # A cut that falls going forward removes wood, one that rises adds it.
    return Rim(tuple(edges), (cut, square), every=face.tan_cut >= 0)


def single_ring(rim: Rim) -> tuple[Point, ...] | None:
    """Return the face inside a rim as one ring, None where its edges do not join corner by corner.

    They join where the cut removes wood, unless an edge shrinks to nothing. Each edge must keep its direction.
    """
    if not rim.every:
        return None
    ends = list(zip(rim.edges, rim.edges[1:] + rim.edges[:1], strict=True))
    corners = [_corner(edge, following) for edge, following in ends]
    ring = tuple(corner for corner in corners if corner is not None)
    if len(ring) < len(rim.edges):
        return None
    for number, ((ax, ay), (bx, by)) in enumerate(rim.edges):
        (px, py), (qx, qy) = ring[number - 1], ring[number]
        if (qx - px) * (bx - ax) + (qy - py) * (by - ay) <= CLOSE:
            return None
    return ring if plainly_simple(ring) else None


def _corner(edge: Segment, following: Segment) -> Point | None:
    """Return the corner of an edge and the following one, extended as lines; their common end where they run on."""
    (ax, ay), (bx, by) = edge
    (cx, cy), (dx, dy) = following
    rx, ry, sx, sy = bx - ax, by - ay, dx - cx, dy - cy
    den = rx * sy - ry * sx
    if abs(den) < 1e-9 * math.hypot(rx, ry) * math.hypot(sx, sy):
        return edge[1] if math.dist(edge[1], following[0]) < CLOSE else None
    share = ((cx - ax) * sy - (cy - ay) * sx) / den
    return ax + share * rx, ay + share * ry


def top_under(transom: Transom, left: float, right: float) -> float:
    """Return the highest v of the transom's top between two places across [mm]; -inf without transom there.

    Raises:
        Unmeasured: a corner is not known.
    """
    return _highest(_outer(transom.outline).edges, left, right)


def below_top(transom: Transom, at: Point, diameter: float) -> float | None:
    """Return how far the centre of a bolt's hole is below the outer face's top edge, along v [mm].

    The edges that face up count (see `tops`), within 2 bolt diameters to each side and where they are not below the hole.
    The lowest point of them decides. A raised side next to the hole adds no wood above it.
    None where no such point is above the hole. `signed_distance` to the edges then decides.

    Raises:
        Unmeasured: a corner is not known.
    """
    u, v = at
    spans = tops_near(transom, u, diameter)
    return min((max(low, v) - v for low, high in spans if high >= v), default=None)


def tops_near(transom: Transom, u: float, diameter: float) -> list[tuple[float, float]]:
    """Return the lowest and highest v of each edge that faces up, within 2 bolt diameters to each side of ``u`` [mm].

    Raises:
        Unmeasured: a corner is not known.
    """
    reach = TOP_REACH * diameter
    spans = (_heights(edge, u - reach, u + reach) for edge in tops(transom.outline))
    return [span for span in spans if span is not None]


@lru_cache(maxsize=64)
def tops(outline: Points) -> tuple[Segment, ...]:
    """Return the outer edges that face up, the wood below them, and slope less than 45 degrees, in (u, v).

    Raises:
        Unmeasured: a corner is not known.
    """
    # In an anticlockwise ring, an edge that runs to port has the wood below it.
    return tuple((a, b) for a, b in _outer(outline).edges if abs(b[1] - a[1]) < _SHALLOW * (a[0] - b[0]))


def _highest(edges: tuple[Segment, ...], left: float, right: float) -> float:
    """Return the highest v of some edges between two places along u [mm]; -inf where there is none."""
    spans = (_heights(edge, left, right) for edge in edges)
    return max((span[1] for span in spans if span is not None), default=-math.inf)


def _heights(edge: Segment, left: float, right: float) -> tuple[float, float] | None:
    """Return the lowest and highest v of an edge between two places along u [mm].

    None where it is not between them. An edge that only touches the very side is not.
    """
    (ua, va), (ub, vb) = sorted(edge)
    if ub <= left + CLOSE or ua >= right - CLOSE:
        return None
    if ub - ua < CLOSE:
        return min(va, vb), max(va, vb)
    ends = [va + (vb - va) * (u - ua) / (ub - ua) for u in (max(ua, left), min(ub, right))]
    return min(ends), max(ends)
