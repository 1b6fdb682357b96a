"""The inside of a boat as a solid, built by a general-purpose solid modeller from the design's bare numbers.

Nothing of the program's geometry is used. Directions are from vectors in the face frame (u, v, s). The floor is swept
along its slope, rounded corners are strips with a true round, and a bolt's part is a cylinder.

Library: manifold3d (github.com/elalish/manifold), whose solids are facetted: round things have `ROUND` sides.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from manifold3d import CrossSection, FillRule, JoinType, Manifold, OpType

ROUND = 512  # sides of a cylinder
SAG = 0.001  # [mm] by which a rounded corner's chords may are off its round, into the air: the solid is never too small
AWAY = 700.0  # [mm] from port to starboard and down: further than any body reaches
DEEP = 320.0  # [mm] forward

Vector = np.ndarray[Any, np.dtype[np.float64]]


def vector(u: float, v: float, s: float) -> Vector:
    return np.array((u, v, s))


@dataclass(frozen=True)
class Scene:
    """The inside: origin and directions of the inner face, the floor's direction forward, and what is in the way."""

    origin: Vector  # the inner face at v = 0
    up: Vector  # w
    forward: Vector  # n
    along: Vector  # the floor
    edge: float  # w of the inside top edge
    solid: Manifold

    def enters(self, cylinder: Manifold) -> bool:
        """Return whether a body shares any room with the solid."""
        return bool((self.solid ^ cylinder).volume() > 1e-12)


def scene(design: Any) -> Scene:
    """Return the inside of a `Design`, every number of which has to be measured."""
    transom, well = design.transom, design.well
    thick = transom.thickness
    taper = math.atan2(thick.low - thick.top, -thick.low_at)
    rake = math.radians(transom.rake)
    origin = vector(0, 0, thick.top)
    up, forward = vector(0, math.cos(taper), -math.sin(taper)), vector(0, math.sin(taper), math.cos(taper))
    cut = rake if transom.top_cut == "level" else 0.0 if transom.top_cut == "square" else math.radians(transom.top_cut)
    # From the outer edge along the cut until the inner face: (x·k - origin)·forward = 0.
    k = vector(0, -math.sin(cut), math.cos(cut))
    inside_edge = k * (origin @ forward) / (k @ forward)
    edge = float((inside_edge - origin) @ up)
    base = 0.0 if well is not None and well.well_from == "datum" else edge
    parts = [
        _placed(_polygon([(u, y + base) for u, y in block.outline]), origin, up, forward,
                DEEP if block.stands_out is None else block.stands_out)
        for block in design.inside_blocks
    ]  # fmt: skip
    along = forward
    if well is not None:
        rise = math.radians(well.floor_rise)
        # The floor runs (cos, sin) of its rise in the level frame; the face's own axes lean by the rake.
        level = math.cos(rise), math.sin(rise)
        along = vector(0, -level[0] * math.sin(rake) + level[1] * math.cos(rake),
                       level[0] * math.cos(rake) + level[1] * math.sin(rake))  # fmt: skip
        along = along / (along @ forward)
        profile = [(u, y + base) for u, y in well.profile]
        below = [(-AWAY, AWAY), (-AWAY, -AWAY), (AWAY, -AWAY), (AWAY, AWAY), (profile[-1][0], AWAY), *reversed(profile),
                 (profile[0][0], AWAY)]  # fmt: skip
        parts.append(_placed(_polygon(below), origin, up, along, DEEP))
        if well.fillet_radius > 0:
            parts += _rounded_corners(profile, origin, up, forward, along, well.fillet_radius)
    solid = Manifold.batch_boolean(parts, OpType.Add) if parts else Manifold()
    return Scene(origin, up, forward, along, edge, solid)


def axis(at: Scene, u: float, v: float, tilt: float) -> tuple[Vector, Vector]:
    """Return a bolt's exit on the inner face and the direction of its axis, both in (u, v, s)."""
    lean = math.radians(tilt)
    k = vector(0, math.sin(lean), math.cos(lean))
    entry = vector(u, v, 0)
    return entry + k * ((at.origin - entry) @ at.forward) / (k @ at.forward), k


def cylinder(exit_: Vector, k: Vector, start: float, end: float, radius: float, *, outside: bool) -> Manifold:
    """Return a body swept along its axis; its sides touch the round from outside, or are within it."""
    size = radius / math.cos(math.pi / ROUND) if outside else radius
    return _posed(Manifold.cylinder(end - start, size, size, ROUND), exit_ + k * start, k)


def cut_disc(
    exit_: Vector, k: Vector, start: float, end: float, radius: float, cut: float, growth: float, *, outside: bool
) -> Manifold:
    """Return a body with its lower side cut level, grown all round by ``growth`` (rounded at its corners)."""
    size = radius / math.cos(math.pi / ROUND) if outside else radius
    shape = CrossSection.circle(size, ROUND) - CrossSection.square((4 * size, 2 * size)).translate((-2 * size, -2 * size - cut))
    grown = shape.offset(growth, JoinType.Round, circular_segments=ROUND) if growth else shape
    return _posed(Manifold.extrude(grown, end - start), exit_ + k * start, k)


def _posed(body: Manifold, at: Vector, k: Vector) -> Manifold:
    u = vector(1, 0, 0)
    return body.transform(np.column_stack((u, np.cross(k, u), k, at)))


def _polygon(points: list[tuple[float, float]]) -> CrossSection:
    shape = CrossSection([points], FillRule.NonZero)
    return shape if shape.area() > 0 else CrossSection([points[::-1]], FillRule.NonZero)


def _placed(shape: CrossSection, origin: Vector, up: Vector, way: Vector, far: float) -> Manifold:
    """Return a shape on the inner face swept ``far`` along ``way``."""
    return Manifold.extrude(shape, far).transform(np.column_stack((vector(1, 0, 0), up, way, origin)))


def _rounded_corners(
    profile: list[tuple[float, float]], origin: Vector, up: Vector, forward: Vector, along: Vector, radius: float
) -> list[Manifold]:
    """Return the rounded corner along each edge, mitred where a corner points into the well."""
    high = AWAY / 2
    chain = [(profile[0][0], high), *profile, (profile[-1][0], high)]
    edges = [_Edge.of(a, b, origin, up, forward, along, radius) for a, b in pairwise(chain)]
    places = []
    for number, edge in enumerate(edges):
        before = edges[number - 1] if number > 0 else None
        after = edges[number + 1] if number + 1 < len(edges) else None
        inward = (before, before is not None and before.points_in(edge)), (after, edge.points_in(after))
        mitred = [other for other, points_in in inward if other is not None and points_in]
        strip = edge.strip(*(300.0 if other in mitred else edge.beyond(other) for other in (before, after)))
        for other in mitred:
            strip = strip ^ other.wall_and_strip()
        places.append(strip)
    return places


@dataclass(frozen=True, eq=False)
class _Edge:
    start: Vector
    length: float
    t: Vector  # along the edge
    m: Vector  # in the inner face, into the well
    g: Vector  # forward along the wall, square to the edge
    forward: Vector  # square to m; slanted along t as the corners' way forward is
    along: Vector
    radius: float
    tangent: float  # how far the round reaches up the face, and forward on the wall

    @classmethod
    def of(
        cls, a: tuple[float, float], b: tuple[float, float], origin: Vector, up: Vector, forward: Vector, along: Vector,
        radius: float,
    ) -> _Edge:  # fmt: skip
        first, second = (origin + vector(u, 0, 0) + up * w for u, w in (a, b))
        length = float(np.linalg.norm(second - first))
        t = (second - first) / length
        m = np.cross(forward, t)
        g = along - t * (along @ t)
        g = g / np.linalg.norm(g)
        half = math.acos(float(np.clip(m @ g, -1, 1))) / 2
        return cls(first, length, t, m, g, forward + t * (along @ t), along, radius, radius / math.tan(half))

    def points_in(self, after: _Edge | None) -> bool:
        """Return whether the corner between this edge and the next points into the well."""
        return after is not None and float(self.t @ after.m) > 1e-9

    def beyond(self, other: _Edge | None) -> float:
        """Return how far the strip has to run on past a corner until the other wall swallows it."""
        if other is None:
            return 0.0
        turn = math.acos(float(np.clip(self.t @ other.t, -1, 1)))
        return min(200.0, self.tangent / math.tan(turn)) if 1e-6 < turn < math.pi / 2 else 0.0

    def _section(self) -> CrossSection:
        """Return the rounded corner's section in (m, g) skewed axes, as seen along the edge, in true millimetres."""
        cos = float(self.m @ self.g)
        sin = math.sqrt(1 - cos * cos)
        half = math.atan2(sin, cos) / 2
        centre = self.radius / math.sin(half)
        # In a plane with m along x: the bisector at half, the tangent points at tangent.
        middle = centre * math.cos(half), centre * math.sin(half)
        first, last = -math.pi / 2, -(math.pi / 2 + (math.pi - 2 * half))
        chords = math.ceil((first - last) / (2 * math.acos(1 - SAG / self.radius)))
        turns = [first + (last - first) * i / chords for i in range(chords + 1)]
        arc = [(middle[0] + self.radius * math.cos(a), middle[1] + self.radius * math.sin(a)) for a in turns]
        return _polygon([(0.0, 0.0), *arc])

    def strip(self, before: float, after: float) -> Manifold:
        """Return the rounded corner, run on past its ends."""
        body = Manifold.extrude(self._section(), self.length + before + after)
        return body.transform(np.column_stack((self.m, self.forward, self.t, self.start - self.t * before)))

    def wall_and_strip(self) -> Manifold:
        """Return all that is behind this edge's wall, with its rounded corner, both run on for ever."""
        box = Manifold.cube((2 * AWAY, AWAY, DEEP))
        behind = box.transform(np.column_stack((self.t, -self.m, self.along, self.start - self.t * AWAY)))
        return behind + self.strip(AWAY, AWAY)
