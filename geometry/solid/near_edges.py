"""The room of a disc on a bolt's axis, by the few edges that can be nearest to it: exact, however many others there are.

A profile only sinks, or rises, in front of the inner face. So an axis goes straight up or down as the profile sees it.
An edge that is farther from all of that way than the nearest bare edge is from its beginning never counts. The rounded
corner along an edge reaches no farther than `_reach`. All in (u, w·cosine), see `geometry.solid.well` [mm].
"""

from __future__ import annotations

import math
from bisect import bisect_left
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from geometry.solid.planes import inside, sides, to_nearest, to_segment

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from geometry.solid.discs import Disc
    from geometry.solid.faces import Exit
    from geometry.solid.planes import Point, Segment
    from geometry.solid.well import Edge, Space

_FAR = 1e5  # [mm]: the upright ends of a profile reach so high
_HAIR = 1e-8  # [mm]: a narrower strip is none, but for rounding
_TINY = 1e-12  # a smaller turn is none, but for rounding
_ROUNDED = 1.0001  # more than rounding, where a spike is sharp
_SPARE = 1e-5  # [mm]: more than rounding, and than a profile may double back


class Side(NamedTuple):
    """An edge from ``a`` to ``b``, its unit normal, and how much the scale of w stretches it.

    Attributes:
        mitred_a, mitred_b: whether the corner at that end points into the well.
        wider, uneven: no strip reaches farther than hypot(wider·widest, uneven), see `_mitre`.
    """

    edge: Edge
    a: Point
    b: Point
    normal_u: float
    normal_w: float
    stretch: float
    mitred_a: bool
    mitred_b: bool
    wider: float
    uneven: float

    def strip(self, n: float) -> float:
        """Return the width of its rounded corner's strip at ``n``."""
        return self.edge.strip(n) / self.stretch


class Profile:
    """The profile of a bent well as it is at the inner face, for bolts that lean alike."""

    def __init__(self, space: Space, cosine: float) -> None:
        edges = space.edges
        corners = [(edge.a[0], edge.a[1] * cosine) for edge in edges[1:]]
        chain = [(corners[0][0], _FAR), *corners, (corners[-1][0], _FAR)]
        ways = [(edge, *turned) for edge, turned in zip(edges, space.turned(cosine), strict=True)]
        mitres = (None, *(_mitre(way, other) for way, other in pairwise(ways)), None)
        self.sides = tuple(
            Side(edge, a, b, nu, nw, stretch, at_a is not None, at_b is not None, *_worst(at_a, at_b))
            for (edge, nu, nw, stretch), (a, b), (at_a, at_b) in zip(ways, pairwise(chain), pairwise(mitres), strict=True)
        )
        self.across = [corner[0] for corner in corners]
        self.last = max(edge.ends for edge in edges)
        self._radius, self._land = edges[0].radius, max(edge.land for edge in edges)
        self._grows = max(edge.sinks for edge in edges)
        self._wider, self._uneven = (max(each) for each in zip(*((s.wider, s.uneven) for s in self.sides), strict=True))

    def between(self, u: float) -> tuple[Side, ...]:
        """Return the edges that may be above or below a place across."""
        first, last = bisect_left(self.across, u - _SPARE), bisect_left(self.across, u + _SPARE)
        return self.sides[first : last + 1]

    def bare_apart(self, at: Point) -> float | None:
        """Return the distance of a point from the nearest edge without its rounded corner; None below the profile."""
        here = bisect_left(self.across, at[0])
        if not 0 < here < len(self.across) or not _is_above(at, self.between(at[0])):
            return None
        best = to_segment(at, self.sides[here][1:3])
        for way in (-1, 1):
            number = here + way
            while 0 <= number < len(self.sides):
                side = self.sides[number]
                across = side.a[0] - at[0] if way > 0 else at[0] - side.b[0]
                if across >= best:
                    break
                down = max(0.0, at[1] - max(side.a[1], side.b[1]))
                if across * across + down * down < best * best:
                    best = min(best, to_segment(at, side[1:3]))
                number += way
        return best

    def near(self, u: float, low: float, high: float, reach: float, n: float) -> list[tuple[float, int]]:
        """Return the edges that may be within ``reach`` of a way straight up, at ``n`` or farther out, the nearest first.

        Each is its number, after the least distance that it can have from the way with its rounded corner.

        Args:
            low, high: ends of the way.
        """
        widest = self.widest(n) if n < self.last else 0.0
        wide = reach + math.hypot(self._wider * widest, self._uneven) + _SPARE if widest else reach + _SPARE
        first, last = bisect_left(self.across, u - wide), bisect_left(self.across, u + wide)
        near = []
        for number in range(first, last + 1):
            side = self.sides[number]
            (au, aw), (bu, bw) = side.a, side.b
            across = au - u if au > u else u - bu if u > bu else 0.0
            bottom, top = (aw, bw) if aw < bw else (bw, aw)
            up = bottom - high if bottom > high else low - top if low > top else 0.0
            apart = math.sqrt(across * across + up * up) - _SPARE
            if widest:
                apart -= math.sqrt((side.wider * widest) ** 2 + side.uneven**2)
            if apart < reach:
                near.append((apart, number))
        near.sort()
        return near

    def widest(self, n: float) -> float:
        """Return a width that no strip exceeds at ``n`` or farther out."""
        return max(0.0, self._land - math.sqrt(max(0.0, (2 * self._radius - n) * n)) + max(0.0, n * self._grows))

    def far(self, number: int, strip: Callable[[int], float]) -> tuple[Point, Point]:
        """Return the far corners of an edge's strip. ``strip``: the width of each edge's, by its number."""
        side, wide = self.sides[number], strip(number)
        at_a = at_b = side.normal_u * wide, side.normal_w * wide
        if side.mitred_a:
            at_a = _offset(self.sides[number - 1], side, strip(number - 1), wide)
        if side.mitred_b:
            at_b = _offset(side, self.sides[number + 1], wide, strip(number + 1))
        return (side.a[0] + at_a[0], side.a[1] + at_a[1]), (side.b[0] + at_b[0], side.b[1] + at_b[1])


_Way = tuple["Edge", float, float, float]


def _mitre(way: _Way, other: _Way) -> tuple[float, float] | None:
    """Return how far the strips of two edges reach at their corner, as `Side.wider` and `Side.uneven`; None without a mitre.

    Where the strips are m + d and m - d wide, their mitre is hypot(m/cos(turn/2), d/sin(turn/2)) from the corner. Strips only
    narrow. Until one of them ends, d is straight, but for the rounded corner's share of a difference in stretch.
    """
    (edge, au, aw, stretch), (following, bu, bw, second) = way, other
    turn = au * bw - aw * bu
    if turn >= -_TINY:
        return None
    end = min(edge.ends, following.ends)
    last = edge.strip(end) / stretch - following.strip(end) / second
    uneven = max(abs(edge.land / stretch - following.land / second), abs(last))
    uneven += abs(1.0 / stretch - 1.0 / second) * edge.radius
    halved = max(_TINY, 1.0 + au * bu + aw * bw) / 2  # the square of cos(turn/2)
    return _ROUNDED * math.sqrt(1.0 / halved), _ROUNDED * uneven / -turn * math.sqrt(halved)


def _worst(*mitres: tuple[float, float] | None) -> tuple[float, float]:
    there = [mitre for mitre in mitres if mitre is not None]
    return max([1.0, *(wider for wider, _ in there)]), max([0.0, *(uneven for _, uneven in there)])


@lru_cache(maxsize=32)
def profile(space: Space, cosine: float) -> Profile:
    """Return the profile of a bent well, its w scaled by a lean's cosine."""
    return Profile(space, cosine)


class NearEdges:
    """The edges and blocks that can be nearest to a bolt's axis between two distances in front of the inner face.

    Args:
        start, end: of the way [mm]. reach: no obstacle that counts is farther from the axis.
    """

    def __init__(self, space: Space, exit_: Exit, start: float, end: float, reach: float) -> None:
        self._space, self._u = space, exit_.u
        self._cosine, self._sine = math.cos(exit_.lean), math.sin(exit_.lean)
        self._sinks = space.falls * self._cosine
        self._height = exit_.w * self._cosine
        self._profile = profile(space, self._cosine)
        first, last = sorted(self._height + n * (self._sine + self._sinks) for n in (start, end))
        self._near = self._profile.near(exit_.u, first, last, reach, start)
        self._under = self._profile.between(exit_.u)
        bottom, top = sorted(self._height + n * self._sine for n in (start, end))
        self._blocks = []
        for block in space.blocks:
            left, low, right, high = block.box
            across = max(0.0, left - exit_.u, exit_.u - right)
            up = max(0.0, low * self._cosine - top, bottom - high * self._cosine)
            if block.out >= start and math.hypot(across, up) < reach:
                self._blocks.append((block.out, tuple((u, w * self._cosine) for u, w in block.ring)))

    @property
    def inward(self) -> tuple[tuple[Edge, Edge], ...]:
        """The edges at both sides of each near corner that points into the well."""
        sides_ = self._profile.sides
        return tuple((sides_[at].edge, sides_[at + 1].edge) for _, at in self._near if sides_[at].mitred_b)

    def room_of(self, shape: Disc, n: float, *, before: bool = False) -> float:
        """Return the room of a disc at ``n`` in front of the inner face; see `geometry.solid.section.Section.room_of`."""
        height = self._height + n * self._sine
        centre, seen = (self._u, height), (self._u, height + n * self._sinks)
        if _is_above(seen, self._under):
            room = self._room_of(shape, n, seen)
            for out, ring in self._blocks:
                if out > n or (before and out == n):
                    room = -math.inf if inside(centre, ring) else min(room, _gap(shape, centre, sides(ring)))
            if room > (0.0 if shape.is_cut else -shape.radius):
                return room
        return self._space.section(n, self._cosine, before=before).room_of(shape, centre)

    def _room_of(self, shape: Disc, n: float, at: Point) -> float:
        """Return the room of a disc to the edges and their strips; -inf where its centre is in a strip."""
        best = math.inf
        rounded = n < self._profile.last
        widths: dict[int, float] = {}
        ours = self._profile.sides

        def width(number: int) -> float:
            wide = widths.get(number)
            if wide is None:
                wide = widths[number] = ours[number].strip(n)
            return wide

        for apart, number in self._near:
            if apart - shape.radius >= best:
                break
            side = ours[number]
            a, b = side.a, side.b
            edges: tuple[Segment, ...] = ((a, b),)
            if rounded and width(number) > _HAIR:
                far_a, far_b = self._profile.far(number, width)
                lower = at[1] <= a[1] or at[1] <= b[1] or at[1] <= far_a[1] or at[1] <= far_b[1]
                if lower and inside(at, (a, b, far_b, far_a)):
                    return -math.inf
                edges = ((far_b, far_a), (a, b), (far_a, a), (b, far_b))
            best = min(best, _gap(shape, at, edges))
        return best


def _gap(shape: Disc, at: Point, edges: Sequence[Segment]) -> float:
    """Return the least gap between a disc at a place and some edges; below 0 it overlaps them."""
    return min(shape.gap(at, edge) for edge in edges) if shape.is_cut else to_nearest(at, edges) - shape.radius


def _offset(side: Side, other: Side, first: float, second: float) -> Point:
    """Return where two strips of these widths meet, from the corner between their edges."""
    den = side.normal_u * other.normal_w - side.normal_w * other.normal_u
    return (
        (first * other.normal_w - side.normal_w * second) / den,
        (side.normal_u * second - first * other.normal_u) / den,
    )


def _is_above(at: Point, under: Sequence[Side]) -> bool:
    """Return whether a point is above a profile, by the edges that are above or below it."""
    u, w = at
    above = False
    for side in under:
        (au, aw), (bu, bw) = side.a, side.b
        if (au > u) != (bu > u) and w > aw + (bw - aw) * (u - au) / (bu - au):
            above = not above
    return above
