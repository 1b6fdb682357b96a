"""A free section: the room at one distance in front of the inner face.

Its lines are the profile's edges, moved in by the strip of the rounded corner. Its rings are blocks. Signed distances are
positive on the free side. In a convex well the lines alone give every distance, exactly and fast. Elsewhere each edge has
its strip, with mitred ends at the corners that point into the well.
"""

from __future__ import annotations

import math
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

import msgspec

from geometry.solid.farthest_point import farthest
from geometry.solid.planes import between, inside, sides, to_nearest
from geometry.solid.point_depth import depth, outward_edges

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from shapely.geometry.base import BaseGeometry

    from geometry.solid.discs import Disc
    from geometry.solid.planes import Point, Segment
    from geometry.solid.point_depth import OutwardEdge

    Strip = tuple[Point, Point, Point, Point]

_FAR = 1e5  # [mm]: no boat's well is so high
_HAIR = 1e-8  # [mm]: obstacles are widened by this


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

    def cuts(self, ring: Iterable[Point]) -> bool:
        """Return whether a point of a ring is beyond the line: the same as `over`, for many points at once."""
        normal_u, normal_w, foot = self.normal_u, self.normal_w, self.foot
        return any(normal_u * u + normal_w * w < foot for u, w in ring)

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
        if not self.convex:
            return to_nearest(at, self.edges) if self.is_free(at) else self._signed_depth(at)
        u, w = at
        over = min([line.normal_u * u + line.normal_w * w - line.foot for line in self.lines], default=math.inf)
        if over < 0 or any(inside(at, ring) for ring in self.rings):
            return self._signed_depth(at)
        return min(over, to_nearest(at, self._block_sides)) if self.rings else over

    def room_of(self, shape: Disc, centre: Point) -> float:
        """Return the clearance of a disc, or of a cut disc with its true shape [mm].

        For a whole disc it is the centre's signed distance less the radius, by definition. A cut disc consists of all the
        discs in it, and has the least of their rooms. That is the distance of its true shape from the nearest obstacle.
        Below 0 it is how far its farthest point is beyond a straight edge. It changes no faster than the place.
        `Disc.within` says how exact that is where a corner points into the well.
        """
        if not shape.is_cut:
            return self.signed_distance(centre) - shape.radius
        if self.convex:
            reaches = (line.over(centre) - shape.reach(-line.normal_u, -line.normal_w) for line in self.lines)
            room = min(reaches, default=math.inf)
            obstacles = self._block_sides
        else:
            room, obstacles = math.inf, self.edges
        room = min(room, min((shape.gap(centre, edge) for edge in obstacles), default=math.inf))
        if room > 0.0 and self.is_free(centre):
            return room
        spots: list[tuple[float, float, float]] = [*shape.within]
        if self.convex:
            spots += self._past_corners(shape, centre)
        return min(room, *(self.signed_distance((centre[0] + u, centre[1] + w)) - radius for u, w, radius in spots))

    def _past_corners(self, shape: Disc, centre: Point) -> Iterator[tuple[float, float, float]]:
        """Yield the point of the arc farthest from each corner that the centre is past, from the centre, with radius 0."""
        for index, corner in enumerate(self._chain):
            u, w = centre[0] - corner[0], centre[1] - corner[1]
            sides_ = (self._above[index + 1], self._above[(index + 3) % len(self._above)])
            far = math.hypot(u, w)
            if far > 0.0 and all(u * (x - corner[0]) + w * (y - corner[1]) <= 0.0 for x, y in sides_):
                out = shape.radius / far
                if w * out >= -shape.cut:
                    yield u * out, w * out, 0.0

    def room_of_ring(self, ring: tuple[Point, ...]) -> float:
        """Return the clearance of a polygon [mm]; below 0, how far its farthest corner is beyond."""
        within = all(self.is_free(corner) for corner in ring)
        obstacles = self._block_sides if self.convex else self.edges
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
        u, w = at
        return inside(at, self._above) and not any(
            left <= u <= right and low <= w <= high and inside(at, strip) for left, low, right, high, strip in self._boxed
        )

    @cached_property
    def edges(self) -> tuple[Segment, ...]:
        """Every edge of every obstacle: profile, strips, blocks."""
        edges: list[Segment] = []
        if self.lines:
            edges += [edge for number, edge in enumerate(sides(self._above)) if number != 1]
            edges += [side for a, b, far_b, far_a in self._strips for side in ((far_a, a), (b, far_b), (far_b, far_a))]
        return (*edges, *self._block_sides)

    @cached_property
    def _block_sides(self) -> tuple[Segment, ...]:
        return tuple(edge for ring in self.rings for edge in sides(ring))

    @cached_property
    def named_edges(self) -> tuple[tuple[Line, Segment], ...]:
        """Every edge of profile and rounded corners, with its line; none where a convex section has no free place."""
        if self.convex:
            kept, corners = self._hull
            starts = [kept[0].ends()[0], *corners] if kept else []
            ends = [*corners, kept[-1].ends()[1]] if kept else []
            return tuple(zip(kept, zip(starts, ends, strict=True), strict=True))
        chain = (self._above[1], *self.corners, self._above[0])
        edges = list(zip(self.lines, pairwise(chain), strict=True))
        return (*edges, *((line, side) for line, strip in self._stripped for side in sides(strip)))

    @cached_property
    def _above(self) -> tuple[Point, ...]:
        """The space above the profile, closed far above by its side number 1; rounded corners count in a convex one only."""
        corners = self._chain if self.convex else self.corners
        return ((corners[-1][0], _FAR), (corners[0][0], _FAR), *corners)

    @property
    def _chain(self) -> tuple[Point, ...]:
        """The corners of a convex free section from port; none where no place is free."""
        return self._hull[1]

    @cached_property
    def _hull(self) -> tuple[tuple[Line, ...], tuple[Point, ...]]:
        """The lines at the edge of a convex free section from port, and their corners; none where no place is free."""
        kept: list[Line] = []
        corners: list[Point] = []
        for line in self.lines:
            while kept:
                corner = meet(kept[-1], line)
                if corner is None and kept[-1].normal_u * line.normal_u + kept[-1].normal_w * line.normal_w < 0.0:
                    return (), ()
                if corner is None and line.foot <= kept[-1].foot:
                    break
                if corner is not None and (not corners or line.over(corners[-1]) >= 0.0):
                    corners.append(corner)
                    kept.append(line)
                    break
                kept.pop()
                if corners:
                    corners.pop()
            else:
                kept.append(line)
        return tuple(kept), tuple(corners)

    @cached_property
    def _strips(self) -> tuple[Strip, ...]:
        """The rounded corner along each edge."""
        return tuple(strip for _, strip in self._stripped)

    @cached_property
    def _stripped(self) -> tuple[tuple[Line, Strip], ...]:
        """Each line with its rounded corner, as a ring; mitred at a corner that points into the well, else square."""
        ends = (self.corners[0][0], _FAR), (self.corners[-1][0], _FAR)
        chain = (ends[0], *self.corners, ends[1])
        strips = []
        for index, line in enumerate(self.lines):
            if line.strip <= _HAIR:  # none, but for rounding
                continue
            a, b = chain[index], chain[index + 1]
            moved = line.normal_u * line.strip, line.normal_w * line.strip
            far_a = (a[0] + moved[0], a[1] + moved[1])
            far_b = (b[0] + moved[0], b[1] + moved[1])
            if index > 0 and _points_inward(self.lines[index - 1], line):
                far_a = meet(self.lines[index - 1], line) or far_a
            if index + 1 < len(self.lines) and _points_inward(line, self.lines[index + 1]):
                far_b = meet(line, self.lines[index + 1]) or far_b
            strips.append((line, (a, b, far_b, far_a)))
        return tuple(strips)

    @cached_property
    def _boxed(self) -> tuple[tuple[float, float, float, float, Strip], ...]:
        """Each strip with its left, lowest, right and highest place."""
        boxed = []
        for strip in self._strips:
            (au, aw), (bu, bw), (cu, cw), (du, dw) = strip
            boxed.append((min(au, bu, cu, du), min(aw, bw, cw, dw), max(au, bu, cu, du), max(aw, bw, cw, dw), strip))
        return tuple(boxed)

    @cached_property
    def _outward_edges(self) -> tuple[OutwardEdge, ...]:
        """The same edges, each with its free side, without the side that closes the space above."""
        taken = self.rings if self.convex else (*self.rings, *self._strips)
        above = outward_edges(self._above, around=True, but=1) if self.lines else ()
        return (*above, *(edge for ring in taken for edge in outward_edges(ring, around=False)))

    @cached_property
    def _free(self) -> BaseGeometry:
        """The free section as one area, for points inside an obstacle."""
        import shapely

        free: BaseGeometry = shapely.box(-_FAR, -_FAR, _FAR, _FAR)
        if self.lines:
            free = shapely.Polygon(self._above) if self._is_open else shapely.Polygon()
        taken = self.rings if self.convex else (*self.rings, *self._strips)
        if taken:
            # A little wider: where two of them only meet, rounding would leave a sliver of room between them.
            wider = [shapely.Polygon(ring).buffer(_HAIR, join_style="mitre") for ring in taken]
            free = free.difference(shapely.union_all(wider))
        return free

    def _signed_depth(self, at: Point) -> float:
        """Return minus the distance of a point in an obstacle from the nearest free place."""
        if not self._is_open:
            return self._least_over(at)
        if self.convex and not self.rings:
            return -to_nearest(at, [edge for number, edge in enumerate(sides(self._above)) if number != 1])
        apart = depth(at, self._outward_edges, self.is_free)
        return -apart if apart < math.inf else self._least_over(at)

    @property
    def _is_open(self) -> bool:
        """Whether any place is free, by the lines of a convex section alone."""
        return not self.convex or not self.lines or bool(self._chain)

    def _least_over(self, at: Point) -> float:
        """Return how far a point is beyond the edge that is farthest from it, where nothing is free.

        The rounded corner is then too large for its well. The share of each edge still says how much too large.
        """
        return min(0.0, min((line.over(at) for line in self.lines), default=0.0))


def _points_inward(edge: Line, following: Line) -> bool:
    """Return whether the corner between two edges, in order from port, points into the well."""
    return edge.normal_u * following.normal_w - edge.normal_w * following.normal_u < -1e-12
