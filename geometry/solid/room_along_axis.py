"""The least room of a disc along a bolt's axis, between two distances in front of the inner face.

In a well without a corner that points in, the room is a concave function of the distance. Both ends then suffice. A corner
that points in may come nearest to the axis between them. Its path, as seen from the axis, is followed.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from geometry.solid.near_edges import NearEdges, profile

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.solid.discs import Disc
    from geometry.solid.faces import Exit
    from geometry.solid.planes import Point
    from geometry.solid.well import Edge, Solid, Space

_NEAR = 1e-7  # [mm]: how closely the room at a corner is known
_HERE = (0.0, 0.0)


def least_room(
    space: Space, exit_: Exit, shape: Disc, start: float, end: float, near: NearEdges | None = None
) -> float:
    """Return the least room of a disc on a bolt's axis between two distances in front of the inner face [mm].

    Exact to 1e-6 mm where the axis is free all the way. Else it is the least room at the ends, where blocks end, and where a
    corner comes nearest. It changes no faster than the place.

    Args:
        near: the edges that can be nearest between the two distances; they are looked for where it is None.
    """
    cosine, sine = math.cos(exit_.lean), math.sin(exit_.lean)
    square = _is_square(exit_)
    near = near or near_edges(space, exit_, shape, start, end, past=False)

    def room(n: float, before: bool = False) -> float:
        if near is not None:
            return near.room_of(shape, n, before=before)
        centre = exit_.u, exit_.w * cosine + n * sine
        return space.section(n, cosine, before=before).room_of(shape, centre)

    best = room(start)
    if recedes(space, exit_):
        return best
    best = min(best, room(end))
    heights = tuple(exit_.w * cosine + n * sine for n in (start, end))
    if best <= 0.0 or not square:  # else no block is nearer further out: all of them are there at the start
        reach = best + shape.radius if best > 0.0 else math.inf
        standing = [block for block in space.blocks if block.out > start and _apart(block, exit_.u, heights, cosine) < reach]
        best = min([best, *(room(out, before=True) for out in {block.out for block in standing if block.out <= end})])
        if not square:
            best = min([best, *(_to_corners(block, exit_, shape, start, end) for block in standing)])
    if near is not None and not _floor_recedes(space, exit_):
        for edge, following in near.inward:
            for path in corner_paths(edge, following, cosine):
                if path.apart(exit_.u, heights) < best + shape.radius:
                    nearest = path.nearest(exit_, shape, start, end, best)
                    if nearest is not None:
                        best = min(best, nearest[0], room(nearest[1]))
    return best


def near_edges(
    space: Space, exit_: Exit, shape: Disc, start: float, end: float, *, past: bool = True
) -> NearEdges | None:
    """Return the edges that can be nearest to a disc on a bolt's axis between two distances in front of the inner face.

    None where the lines alone give every distance, and where the axis begins in an obstacle.

    Args:
        past: look past both distances too, as far as a leaning part with its room can reach there.
    """
    if space.convex:
        return None
    cosine, sine = math.cos(exit_.lean), math.sin(exit_.lean)
    at = exit_.u, exit_.w * cosine + start * (sine + space.falls * cosine)
    apart = profile(space, cosine).bare_apart(at)
    if apart is None:
        return None
    reach = apart + shape.radius - min(shape.cut, shape.radius)  # a cut side may be the nearest one, and far from its edge
    over = reach * abs(sine) if past else 0.0
    return NearEdges(space, exit_, max(0.0, start - over), end + over, reach)


def _apart(block: Solid, u: float, heights: Sequence[float], cosine: float) -> float:
    """Return the least distance that a block can have, by its box, from an axis at ``u`` between two heights [mm]."""
    left, bottom, right, top = block.box
    return math.hypot(max(0.0, left - u, u - right), max(0.0, bottom * cosine - max(heights), min(heights) - top * cosine))


def _to_corners(block: Solid, exit_: Exit, shape: Disc, start: float, end: float) -> float:
    """Return the least room of a disc on a leaning axis to the corners of a block, as far as the block reaches [mm]."""
    cosine, sine = math.cos(exit_.lean), math.sin(exit_.lean)
    falls = (min(end, block.out) - start) * sine
    firsts = ((u - exit_.u, (w - exit_.w) * cosine - start * sine) for u, w in block.ring)
    return min(shape.gap(_HERE, (first, (first[0], first[1] - falls))) for first in firsts)


def recedes(space: Space, exit_: Exit) -> bool:
    """Return whether no obstacle comes nearer to a bolt's axis further in front of the inner face."""
    return _floor_recedes(space, exit_) and (_is_square(exit_) or not space.blocks)


def _floor_recedes(space: Space, exit_: Exit) -> bool:
    """Return whether the profile sinks faster than the axis does. No edge faces down, so none then comes nearer."""
    return space.falls + math.tan(exit_.lean) >= 0.0


def _is_square(exit_: Exit) -> bool:
    return abs(exit_.lean) < 1e-12


class _Path(NamedTuple):
    """A stretch of a corner's path: a + n·b + sqrt(2·radius·n - n²)·c from ``start`` to ``end``, in (u, w·cosine) [mm].

    ``left`` and ``right`` are the ends of its box across, ``bottom`` and ``top`` up and down.
    """

    a: Point
    b: Point
    c: Point
    radius: float
    start: float
    end: float
    left: float = -math.inf
    bottom: float = -math.inf
    right: float = math.inf
    top: float = math.inf

    def at(self, n: float) -> Point:
        """Return the corner's place at ``n``."""
        q = math.sqrt(max(0.0, (2 * self.radius - n) * n))
        return self.a[0] + n * self.b[0] + q * self.c[0], self.a[1] + n * self.b[1] + q * self.c[1]

    def boxed(self) -> _Path:
        """Return the path with its box; one without end has a box without end up and down."""
        u, w = self.at(self.start)
        if self.end == math.inf:  # the corner then moves along w only
            return self._replace(left=u, right=u)
        to_u, to_w = self.at(self.end)
        bow = self._bow(self._turn(self.start), self._turn(self.end)) if self.bends else 0.0
        left, right, bottom, top = min(u, to_u) - bow, max(u, to_u) + bow, min(w, to_w) - bow, max(w, to_w) + bow
        return self._replace(left=left, right=right, bottom=bottom, top=top)

    def apart(self, u: float, heights: Sequence[float]) -> float:
        """Return the least distance that the path can have, by its box, from an axis at ``u`` between two heights [mm]."""
        across = max(0.0, self.left - u, u - self.right)
        return math.hypot(across, max(0.0, self.bottom - max(heights), min(heights) - self.top))

    @property
    def bends(self) -> bool:
        """Whether a rounded corner moves it."""
        return self.c != _HERE

    def nearest(self, exit_: Exit, shape: Disc, start: float, end: float, limit: float) -> tuple[float, float] | None:
        """Return the least room of a disc on an axis to the corner, and where; None where it is not under ``limit``.

        The path is halved until its chord is exact. A half that cannot be under the least so far is left out.
        """
        start, end = max(start, self.start), min(end, self.end)
        if start >= end:
            return None
        sine, w = math.sin(exit_.lean), exit_.w * math.cos(exit_.lean)

        def seen(n: float) -> Point:
            u, v = self.at(n)
            return u - exit_.u, v - w - n * sine

        bends = self.bends
        first, last = (self._turn(n) if bends else n for n in (start, end))
        bow_of = math.hypot(self.b[0], self.b[1] - sine) + math.hypot(*self.c)
        best: tuple[float, float] | None = None
        todo = [(first, last, seen(start), seen(end))]
        while todo:
            low, high, head, tail = todo.pop()
            bow = bow_of * self.radius * (high - low) ** 2 / 8 if bends else 0.0
            room = shape.gap(_HERE, (head, tail))
            if room - bow >= limit - _NEAR:
                continue
            middle = (low + high) / 2
            n = self.radius * (1 - math.cos(middle)) if bends else middle
            if bow <= _NEAR:
                limit, best = room, (room, n)
                continue
            at = seen(n)
            here = shape.gap(_HERE, (at, at))
            if here < limit:
                limit, best = here, (here, n)
            halves = (low, middle, head, at), (middle, high, at, tail)
            todo += sorted(halves, key=lambda half: -shape.gap(_HERE, half[2:]))
        return best

    def _turn(self, n: float) -> float:
        """Return the angle along the rounded corner at ``n`` [radians]."""
        return math.acos(max(-1.0, 1.0 - n / self.radius))

    def _bow(self, low: float, high: float) -> float:
        """Return how far the path between two angles can be from its chord [mm]."""
        return (math.hypot(*self.b) + math.hypot(*self.c)) * self.radius * (high - low) ** 2 / 8


@lru_cache(maxsize=512)
def corner_paths(edge: Edge, following: Edge, cosine: float) -> tuple[_Path, ...]:
    """Return the paths of the corner between two edges, cut where one of their rounded corners ends."""
    return tuple(path.boxed() for path in _paths_of(edge, following, cosine))


def _paths_of(edge: Edge, following: Edge, cosine: float) -> Iterator[_Path]:
    den = (edge.normal_u * following.normal_w - edge.normal_w * following.normal_u) / cosine
    # The corner is foot · across + foot of the other · over, in (u, w·cosine).
    across = following.normal_w / cosine / den, -following.normal_u / den
    over = -edge.normal_w / cosine / den, edge.normal_u / den
    for low, high in pairwise(sorted({0.0, edge.ends, following.ends, math.inf})):
        feet = [(e.foot + e.land, 0.0, -1.0) if high <= e.ends else (e.foot, -e.sinks, 0.0) for e in (edge, following)]
        a, b, c = ((x * across[0] + y * over[0], x * across[1] + y * over[1]) for x, y in zip(*feet, strict=True))
        yield _Path(a, b, c, edge.radius, low, high)
