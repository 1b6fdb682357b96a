"""A free section: the room at one distance in front of the inner face.

Its lines are the profile's edges, moved in by the strip of the rounded corner. Its rings are blocks. Signed distances are
positive on the free side. In a convex well the lines alone give every distance, exactly and fast. Elsewhere each edge has
its strip, with mitred ends at the corners that point into the well.
"""

from __future__ import annotations

import math
from functools import cached_property
from itertools import combinations
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import CLOSE
from geometry.solid.depth import depth, outward_edges
from geometry.solid.farthest import farthest
from geometry.solid.planes import between, inside, sides, to_segment

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from geometry.solid.depth import OutwardEdge
    from geometry.solid.discs import Disc
    from geometry.solid.planes import Point, Segment

_FAR = 1e5  # [mm]: no boat's well is so high
_HAIR = 1e-8  # [mm]: obstacles are widened by this
_TOUCH = 1e-9  # [mm]: rounding of a foot on its line


class Line(msgspec.Struct, frozen=True):
    """A line normal_u·u + normal_w·w = foot, with a unit normal into the free side.

    ``strip`` is the share of the rounded corner [mm].
    """

    normal_u: float
    normal_w: float
    foot: float
    strip: float

    def over(self, at: Point) -> float:
        """Signed distance of a point from the line [mm]."""
        return self.normal_u * at[0] + self.normal_w * at[1] - self.foot

    def ends(self) -> Segment:
        """Return two points of the line, the free side left of the way from one to the other."""
        foot = self.normal_u * self.foot, self.normal_w * self.foot
        along = self.normal_w * _FAR, -self.normal_u * _FAR
        return (foot[0] - along[0], foot[1] - along[1]), (foot[0] + along[0], foot[1] + along[1])


def meet(first: Line, second: Line) -> Point | None:
    """Return where two lines meet, None where they are nearly parallel."""
    den = first.normal_u * second.normal_w - first.normal_w * second.normal_u
    if abs(den) < 1e-12:
        return None
    return (
        (first.foot * second.normal_w - first.normal_w * second.foot) / den,
        (first.normal_u * second.foot - first.foot * second.normal_u) / den,
    )


class Section(msgspec.Struct, frozen=True, dict=True):
    """One free section.

    Attributes:
        lines: the profile's edges from port, rounded corner included.
        corners: the profile's corners from port, without rounding.
        convex: no corner points into the well.
        rings: the blocks at this distance.
    """

    lines: tuple[Line, ...]
    corners: tuple[Point, ...]
    convex: bool
    rings: tuple[tuple[Point, ...], ...]

    def signed_distance(self, at: Point) -> float:
        """Return the distance from a point to the nearest obstacle [mm], negative inside one; inf without any."""
        if self.convex:
            over = min((line.over(at) for line in self.lines), default=math.inf)
            if self.rings:
                if over < 0:
                    apart, landing = self._landing(at)
                    return -apart if landing is not None and self._is_off_blocks(landing) else self._signed_depth(at)
                if any(inside(at, ring) for ring in self.rings):
                    return self._signed_depth(at)
                return min(over, min(to_segment(at, edge) for ring in self.rings for edge in sides(ring)))
            return over if over >= 0 else -self._landing(at)[0]
        if not self.is_free(at):
            return self._signed_depth(at)
        return min(to_segment(at, edge) for edge in self.edges)

    def room_of(self, shape: Disc, centre: Point) -> float:
        """Return the clearance of a disc, of a cut one with its true shape [mm].

        Below 0 it is how far the farthest point is beyond. For a whole disc it is the centre's signed distance less the
        radius, by definition.
        """
        if not shape.is_cut:
            return self.signed_distance(centre) - shape.radius
        if not self.is_free(centre) and not self._beyond_one_line(centre):
            return self.signed_distance(centre) - shape.radius
        if not self.convex:
            return min(shape.gap(centre, edge) for edge in self.edges)
        room = math.inf
        for line in self.lines:
            room = min(room, line.over(centre) - shape.reach(-line.normal_u, -line.normal_w))
        for ring in self.rings:
            room = min(room, *(shape.gap(centre, edge) for edge in sides(ring)))
        if room < 0:
            bare = Section(self.lines, self.corners, self.convex, ())
            room = min(room, *(bare.signed_distance(end) for end in shape.ends(centre)))
        return room

    def room_of_ring(self, ring: tuple[Point, ...]) -> float:
        """Return the clearance of a polygon [mm]; below 0, how far its farthest corner is beyond."""
        within = all(self.is_free(corner) for corner in ring)
        obstacles = [edge for block in self.rings for edge in sides(block)] if self.convex else list(self.edges)
        if within and not any(inside(block[0], ring) for block in self.rings):
            apart = min((between(side, edge) for side in sides(ring) for edge in obstacles), default=math.inf)
            if apart > 0:
                over = min((line.over(corner) for line in self.lines for corner in ring), default=math.inf)
                return min(apart, over) if self.convex else apart
        if self._free.is_empty:
            return min(self._least_over(corner) for corner in ring)
        import shapely

        return -farthest(shapely.Polygon(ring).difference(self._free), self._free)

    def is_free(self, at: Point) -> bool:
        """Return whether a point is free of every obstacle."""
        if any(inside(at, ring) for ring in self.rings):
            return False
        if not self.lines:
            return True
        if self.convex:
            return all(line.over(at) >= 0 for line in self.lines)
        return inside(at, self._above) and not any(inside(at, strip) for strip in self._strips)

    def _is_off_blocks(self, at: Point) -> bool:
        """Return whether a point is outside every block and on no side of one."""
        return not any(inside(at, ring) or any(to_segment(at, edge) < CLOSE for edge in sides(ring)) for ring in self.rings)

    def _beyond_one_line(self, at: Point) -> bool:
        """Return whether a point is beyond one edge of a convex space only, and in no block. That edge alone then decides."""
        if not self.convex or any(inside(at, ring) for ring in self.rings):
            return False
        return sum(line.over(at) < 0 for line in self.lines) == 1

    @cached_property
    def edges(self) -> tuple[Segment, ...]:
        """Every edge of every obstacle: profile, strips, blocks."""
        edges: list[Segment] = []
        if self.lines:
            edges += [edge for number, edge in enumerate(sides(self._above)) if number != 1]
            edges += [edge for strip in self._strips for edge in sides(strip)]
        edges += [edge for ring in self.rings for edge in sides(ring)]
        return tuple(edges)

    @cached_property
    def _above(self) -> tuple[Point, ...]:
        """The space above the profile without rounding, closed far above by its side number 1."""
        first, last = self.corners[0], self.corners[-1]
        return ((last[0], _FAR), (first[0], _FAR), *self.corners)

    @cached_property
    def _strips(self) -> tuple[tuple[Point, ...], ...]:
        """The rounded corner along each edge, as a ring; mitred at a corner that points into the well, else square."""
        ends = (self.corners[0][0], _FAR), (self.corners[-1][0], _FAR)
        chain = (ends[0], *self.corners, ends[1])
        strips = []
        for index, line in enumerate(self.lines):
            if line.strip <= _HAIR:  # none, but for rounding
                continue
            a, b = chain[index], chain[index + 1]
            moved = line.normal_u * line.strip, line.normal_w * line.strip
            far_a: Point | None = (a[0] + moved[0], a[1] + moved[1])
            far_b: Point | None = (b[0] + moved[0], b[1] + moved[1])
            if index > 0 and _points_inward(self.lines[index - 1], line):
                far_a = meet(self.lines[index - 1], line) or far_a
            if index + 1 < len(self.lines) and _points_inward(line, self.lines[index + 1]):
                far_b = meet(line, self.lines[index + 1]) or far_b
            strips.append((a, b, far_b, far_a))
        return tuple(ring for ring in strips if None not in ring)  # type: ignore[misc]

    @cached_property
    def _outward_edges(self) -> tuple[OutwardEdge, ...]:
        """The same edges, each with its free side, without the side that closes the space above."""
        taken = (*self.rings, *self._strips)
        above = outward_edges(self._above, around=True, but=1) if self.lines else ()
        return (*above, *(edge for ring in taken for edge in outward_edges(ring, around=False)))

    @cached_property
    def _free(self) -> BaseGeometry:
        """The free section as one area, for points inside an obstacle."""
        import shapely

        free: BaseGeometry = shapely.box(-_FAR, -_FAR, _FAR, _FAR)
        if self.lines and self.convex:
            for line in self.lines:
                free = free.intersection(_half_plane(line))
        elif self.lines:
            free = shapely.Polygon(self._above)
        taken = self.rings if self.convex else (*self.rings, *self._strips)
        if taken:
            # A little wider: where two of them only meet, rounding would leave a sliver of room between them.
            wider = [shapely.Polygon(ring).buffer(_HAIR, join_style="mitre") for ring in taken]
            free = free.difference(shapely.union_all(wider))
        return free

    def _signed_depth(self, at: Point) -> float:
        """Return the signed distance of a point that may be in an obstacle, over all obstacles."""
        if not self.convex:
            apart = depth(at, self._outward_edges, self.is_free)
            return -apart if apart < math.inf else self._least_over(at)
        import shapely

        if self._free.is_empty:
            return self._least_over(at)
        spot = shapely.Point(at)
        apart = self._free.distance(spot)
        return -float(apart) if apart > 0 else float(self._free.boundary.distance(spot))

    def _least_over(self, at: Point) -> float:
        """Return how far a point is beyond the edge that is farthest from it, where nothing is free.

        The rounded corner is then too large for its well. The share of each edge still says how much too large.
        """
        return min(0.0, min((line.over(at) for line in self.lines), default=0.0))

    def _landing(self, at: Point) -> tuple[float, Point | None]:
        """Return the distance of a point outside the convex free space, and the nearest place of it: a foot or a corner.

        Blocks do not count. Where nothing is free, it is the least distance beyond an edge, without a place.
        """
        best: tuple[float, Point | None] = (math.inf, None)
        for line in self.lines:
            over = line.over(at)
            if over < 0:
                foot = at[0] - over * line.normal_u, at[1] - over * line.normal_w
                if -over < best[0] and all(other.over(foot) >= -_TOUCH for other in self.lines):
                    best = -over, foot
        for first, second in combinations(self.lines, 2):
            corner = meet(first, second)
            if corner is not None and all(other.over(corner) >= -_TOUCH for other in self.lines):
                apart = math.hypot(at[0] - corner[0], at[1] - corner[1])
                if apart < best[0]:
                    best = apart, corner
        return best if best[1] is not None else (-min(line.over(at) for line in self.lines), None)


def _points_inward(edge: Line, following: Line) -> bool:
    """Return whether the corner between two edges, in order from port, points into the well."""
    return edge.normal_u * following.normal_w - edge.normal_w * following.normal_u < -1e-12


def _half_plane(line: Line) -> BaseGeometry:
    """Return the free side of a line as a large square."""
    import shapely

    a, b = line.ends()
    deep = line.normal_u * 2 * _FAR, line.normal_w * 2 * _FAR
    return shapely.Polygon((a, b, (b[0] + deep[0], b[1] + deep[1]), (a[0] + deep[0], a[1] + deep[1])))
