"""The free space inside: above the well's profile, in front of the inner face, clear of rounded corners and blocks.

At a distance n in front of the inner face the profile is lower by n·tan(falls). The rounded corner takes a strip along
each edge. Sections are in the plane (u, w). For a bolt that leans, w is scaled by cos(lean): its round parts are then
discs again.
"""

from __future__ import annotations

import math
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

import msgspec

from geometry.solid.faces import Faces, faces, need, need_all, profile_up
from geometry.solid.ring_cutting import box
from geometry.solid.section import Line, Section

if TYPE_CHECKING:
    from geometry.design.boat import Block, Transom, Well
    from geometry.design.design import Design
    from geometry.solid.planes import Point


class Edge(msgspec.Struct, frozen=True):
    """One edge of the profile with its rounded corner.

    Attributes:
        a, b: its corners in (u, w), from port; the two upright ends have no end.
        normal_u, normal_w: unit normal into the well.
        foot: normal · a [mm]. sinks: rise of the free line for each unit of n, normal_w·tan(falls).
        land: how far the rounded corner reaches up the face [mm]. ends: the n of its end [mm].
    """

    a: Point
    b: Point
    normal_u: float
    normal_w: float
    foot: float
    sinks: float
    land: float
    ends: float
    radius: float

    def strip(self, n: float) -> float:
        """Return the width of the rounded corner's strip at ``n`` [mm]."""
        if n >= self.ends:
            return 0.0
        return self.land - math.sqrt(max(0.0, (2 * self.radius - n) * n)) + n * self.sinks


class Solid(msgspec.Struct, frozen=True, dict=True):
    """A block in front of the inner face: a ring in (u, w), up to ``out`` in front (inf: without end) [mm]."""

    name: str
    ring: tuple[Point, ...]
    out: float

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of its ring."""
        return box(self.ring)


class Space(msgspec.Struct, frozen=True, eq=False):
    """All obstacles inside.

    Attributes:
        edges: the profile's edges from port, with the two upright ends; empty without a well.
        inward: each two neighbouring edges whose corner points into the well.
        falls: tan of the angle between the floor and the inner face's normal, positive where the floor falls.
        blocks: the blocks on the inner face.
    """

    edges: tuple[Edge, ...]
    inward: tuple[tuple[Edge, Edge], ...]
    falls: float
    blocks: tuple[Solid, ...]

    @property
    def convex(self) -> bool:
        """Whether no corner points into the well."""
        return not self.inward

    @property
    def empty(self) -> bool:
        """Whether there is no obstacle at all."""
        return not self.edges and not self.blocks

    def section(self, n: float, cosine: float = 1.0, *, before: bool = False) -> Section:
        """Return the free section at ``n`` in front of the inner face.

        Args:
            n: [mm]. cosine: of the lean, which scales w.
            before: count a block that ends just here.
        """
        return _section(self, n, cosine, before)

    def envelope(self, low: float, high: float) -> Section:
        """Return a section that is free nowhere where one between two distances in front of the inner face is not.

        A line's foot is a convex function of the distance, so it is greatest at an end. Blocks count as far as they reach.
        """
        near, far = self.section(low), self.section(high)
        corners = max(near, far, key=lambda section: section.corners[0][1] if section.corners else 0.0).corners
        lines = []
        for index, (first, second) in enumerate(zip(near.lines, far.lines, strict=True)):
            at, line = corners[max(0, index - 1)], max(first, second, key=lambda each: each.foot)
            lines.append(Line(line.normal_u, line.normal_w, line.foot, max(0.0, -line.over(at))))
        return Section(tuple(lines), corners, self.convex, near.rings)

    def turned(self, cosine: float) -> tuple[tuple[float, float, float], ...]:
        """Return the unit normals of the edges where w is scaled by a lean's cosine, and how much the scale stretches them."""
        return _turned(self, cosine)

    def floor_at(self, u: float) -> float | None:
        """Return the profile's w under the place ``u`` at the inner face, None outside the well or without one [mm]."""
        heights = []
        for edge in self.edges[1:-1]:
            (ua, wa), (ub, wb) = edge.a, edge.b
            if ua <= u <= ub:
                heights.append(min(wa, wb) if ub == ua else wa + (wb - wa) * (u - ua) / (ub - ua))
        return min(heights, default=None)

    def land_at(self, u: float) -> float | None:
        """Return the w at which the flat land begins above the place ``u``, None outside the well [mm]."""
        floor = self.floor_at(u)
        if floor is None:
            return None
        levels = [
            (edge.foot + edge.land - edge.normal_u * u) / edge.normal_w
            for edge in self.edges[1:-1]
            if edge.normal_w > 1e-9 and edge.a[0] <= u <= edge.b[0]
        ]
        return max(levels, default=floor)


@lru_cache(maxsize=1024)  # of all boats: a drag asks for the same few, and a search for a fit for some hundred
def _section(inside: Space, n: float, cosine: float, before: bool) -> Section:
    lines = []
    for edge, (normal_u, normal_w, stretch) in zip(inside.edges, inside.turned(cosine), strict=True):
        strip = edge.strip(n)
        lines.append(Line(normal_u, normal_w, (edge.foot - n * edge.sinks + strip) / stretch, strip / stretch))
    drop = n * inside.falls
    corners = tuple([(edge.a[0], (edge.a[1] - drop) * cosine) for edge in inside.edges[1:]])
    rings = tuple(
        tuple((u, w * cosine) for u, w in block.ring) for block in inside.blocks if block.out > n or (before and block.out == n)
    )
    return Section(tuple(lines), corners, inside.convex, rings)


@lru_cache(maxsize=256)
def _turned(inside: Space, cosine: float) -> tuple[tuple[float, float, float], ...]:
    stretches = [1.0 if cosine == 1.0 else math.hypot(edge.normal_u, edge.normal_w / cosine) for edge in inside.edges]
    return tuple(
        (edge.normal_u / stretch, edge.normal_w / cosine / stretch, stretch)
        for edge, stretch in zip(inside.edges, stretches, strict=True)
    )


def floor_end(face: Faces, space: Space, u: float, length: float) -> Point:
    """Return the foot of the well's front in the level frame (x, z), at a place across [mm].

    Args:
        length: of the well along its floor [mm].
    """
    floor = space.floor_at(u)
    if floor is None:
        floor = min(edge.b[1] for edge in space.edges[:-1])
    rise = face.rake + face.taper - math.atan(space.falls)
    x, z = face.level_point(*face.face_point(floor, 0.0))
    return x + length * math.cos(rise), z + length * math.sin(rise)


def space(design: Design) -> Space:
    """Return the inside of ``design``.

    Raises:
        Unmeasured: a part of it is not known.
    """
    return _space(faces(design.transom), design.transom, design.well, design.inside_blocks)


def blocks(design: Design) -> tuple[Solid, ...]:
    """Return the blocks inside, even where other parts of the well are not known.

    Raises:
        Unmeasured: a corner, or the angle between the faces, is not known.
    """
    return _solids(faces(design.transom), design.well, design.inside_blocks)


def _solids(face: Faces, well: Well | None, inside: tuple[Block, ...]) -> tuple[Solid, ...]:
    up = profile_up(face, well) if well is not None else face.edge_w if inside else 0.0
    return tuple(
        Solid(
            block.name,
            tuple((u, y + up) for u, y in need_all(block.outline, f"inside_blocks.{index}.outline")),
            math.inf if block.stands_out is None else block.stands_out,
        )
        for index, block in enumerate(inside)
    )


@lru_cache(maxsize=64)
def _space(face: Faces, transom: Transom, well: Well | None, inside: tuple[Block, ...]) -> Space:
    solids = _solids(face, well, inside)
    if well is None:
        return Space((), (), 0.0, solids)
    up = profile_up(face, well)
    rise = math.radians(need(well.floor_rise, "well.floor_rise"))
    radius = need(well.fillet_radius, "well.fillet_radius")
    falls = math.tan(face.rake + face.taper - rise)
    corners = [(u, y + up) for u, y in need_all(well.profile, "well.profile")]
    ends = (corners[0][0], corners[0][1] + 1.0), (corners[-1][0], corners[-1][1] + 1.0)
    chain = [ends[0], *corners, ends[1]]
    edges = tuple(_edge(a, b, falls, radius) for a, b in zip(chain, chain[1:], strict=False))
    inward = tuple(pair for pair in zip(edges, edges[1:], strict=False) if _turn(*pair) < -1e-12)
    return Space(edges, inward, falls, solids)


def _turn(edge: Edge, following: Edge) -> float:
    """Return the cross product of two edges' directions: below 0 where their corner points into the well."""
    return edge.normal_u * following.normal_w - edge.normal_w * following.normal_u


def _edge(a: Point, b: Point, falls: float, radius: float) -> Edge:
    du, dw = b[0] - a[0], b[1] - a[1]
    length = math.hypot(du, dw)
    normal_u, normal_w = -dw / length, du / length
    sinks = normal_w * falls
    corner = math.pi / 2 + math.atan(sinks)
    land = radius / math.tan(corner / 2)
    return Edge(a, b, normal_u, normal_w, normal_u * a[0] + normal_w * a[1], sinks, land, land * math.sin(corner), radius)
