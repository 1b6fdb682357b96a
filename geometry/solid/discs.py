"""Round parts as shapes: a disc, and a disc with a level cut across its lower side [mm]."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

import msgspec

from geometry.solid.planes import between, foot

if TYPE_CHECKING:
    from geometry.solid.planes import Point, Segment

_TURNS = (0.0, 45.0, 90.0, 135.0, 180.0)  # degrees: where the discs in a cut disc touch its arc


class Disc(msgspec.Struct, frozen=True):
    """A disc of ``radius``, cut level at ``cut`` below its centre, where that is less than the radius [mm]."""

    radius: float
    cut: float = math.inf

    @property
    def is_cut(self) -> bool:
        """Whether the disc is cut."""
        return self.cut < self.radius

    @property
    def half_chord(self) -> float:
        """Half the length of the cut."""
        return math.sqrt(self.radius**2 - self.cut**2)

    def reach(self, u: float, w: float) -> float:
        """Return how far the shape reaches from its centre in the direction (u, w), a unit vector [mm]."""
        if self.radius * w >= -self.cut:
            return self.radius
        return abs(u) * self.half_chord - self.cut * w

    def gap(self, centre: Point, edge: Segment) -> float:
        """Return the distance from the shape to an edge [mm].

        Where they meet, it is minus how far the shape must shrink, evenly all round, until the edge is outside. For a
        whole disc that is its centre's distance less its radius.
        """
        near = foot(centre, edge)
        far = math.hypot(near[0] - centre[0], near[1] - centre[1])
        if not self.is_cut:
            return far - self.radius
        apart = self._apart(centre, edge, near)
        return apart if apart > 0.0 else -max(0.0, self._deepest(centre, edge, near))

    def ends(self, centre: Point) -> tuple[Point, Point]:
        """Return the two ends of the cut."""
        half = self.half_chord
        return (centre[0] - half, centre[1] - self.cut), (centre[0] + half, centre[1] - self.cut)

    @property
    def within(self) -> tuple[tuple[float, float, float], ...]:
        """Discs in the shape that stand for it where its middle is in an obstacle: their centres' places, and radii.

        A whole disc is one. Of a cut disc they are nine that touch both the arc and the cut. They give the farthest point
        beyond an edge that is level or upright, and beyond one whose farthest point is an end of the cut. For other
        edges they miss it by less than 0.08 of what is cut off.
        """
        return _within(self.radius, self.cut) if self.is_cut else ((0.0, 0.0, self.radius),)

    def _apart(self, centre: Point, edge: Segment, near: Point) -> float:
        """Distance between a cut disc and an edge, 0 where they meet: to the chord, or to the arc."""
        best = between(edge, self.ends(centre))
        for at in (near, *edge):
            du, dw = at[0] - centre[0], at[1] - centre[1]
            far = math.hypot(du, dw)
            if far <= self.radius and dw >= -self.cut:
                return 0.0
            if far > self.radius and self.radius * dw / far >= -self.cut:
                best = min(best, far - self.radius)
        return best

    def _deepest(self, centre: Point, edge: Segment, near: Point) -> float:
        """Return how far inside the shape's rim the edge comes, below 0 where it stays out of it."""
        (au, aw), (bu, bw) = edge
        au, aw, du, dw = au - centre[0], aw - centre[1], bu - au, bw - aw
        # Deepest nearest the middle, at an end, or equally far from arc and cut: u² + 2·(radius - cut)·w = (radius - cut)².
        off = self.radius - self.cut
        spots = [(near[0] - centre[0], near[1] - centre[1]), (au, aw), (au + du, aw + dw)]
        square, half, rest = du * du, au * du + off * dw, au * au + 2 * off * aw - off * off
        for t in _roots(square, half, rest):
            if 0.0 < t < 1.0:
                spots.append((au + t * du, aw + t * dw))
        return max(min(self.radius - math.hypot(u, w), self.cut + w) for u, w in spots)


def _roots(a: float, b: float, c: float) -> tuple[float, ...]:
    """Return where a·t² + 2·b·t + c is nothing."""
    under = b * b - a * c
    if under < 0.0:
        return ()
    q = -(b + math.copysign(math.sqrt(under), b))
    return tuple(x / y for x, y in ((q, a), (c, q)) if y != 0.0)


@lru_cache(maxsize=256)
def _within(radius: float, cut: float) -> tuple[tuple[float, float, float], ...]:
    """Return discs that touch both the arc and the cut, from one end of the cut to the other."""
    low = math.degrees(math.asin(cut / radius))
    half = math.sqrt(radius * radius - cut * cut)
    inner = [_touching(radius, cut, turn) for turn in (-low / 2, *_TURNS, 180.0 + low / 2)]
    return ((half, -cut, 0.0), *inner, (-half, -cut, 0.0))


def _touching(radius: float, cut: float, turn: float) -> tuple[float, float, float]:
    """Return the disc that touches the cut, and the arc at so many degrees from starboard."""
    u, w = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    out = (radius - cut) / (1 + w)
    return out * u, out * w, radius - out
