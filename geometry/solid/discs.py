"""Round parts as shapes: a disc, and a disc with a level cut across its lower side [mm]."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.solid.planes import between, foot

if TYPE_CHECKING:
    from geometry.solid.planes import Point, Segment


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
        """Distance from the shape to an edge [mm]; where they meet, minus how far the shape reaches over it.

        The centre must be on the free side.
        """
        near = foot(centre, edge)
        du, dw = near[0] - centre[0], near[1] - centre[1]
        far = math.hypot(du, dw)
        if far == 0.0:
            return -self.radius
        if not self.is_cut:
            return far - self.radius
        apart = self._apart(centre, edge, near)
        return apart if apart > 0.0 else far - self.reach(du / far, dw / far)

    def ends(self, centre: Point) -> tuple[Point, Point]:
        """Return the two ends of the cut."""
        half = self.half_chord
        return (centre[0] - half, centre[1] - self.cut), (centre[0] + half, centre[1] - self.cut)

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
