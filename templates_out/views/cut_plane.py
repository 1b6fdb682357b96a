"""The parts that a plane fore and aft, at a place across, cuts: transom, floor with its rounded corner, blocks, well's front.

Points are (x, z): forward and up from the datum, level as the boat floats [boat mm].
"""

from __future__ import annotations

import math
from functools import cached_property

import msgspec

from geometry.design.boat import top_at
from geometry.design.design import Design
from geometry.design.validity import known
from geometry.solid.faces import Faces, faces
from geometry.solid.well import Edge, Space, space
from templates_out.drawing.marks import Point

Ring = tuple[Point, ...]
_ARC = 32  # steps along a rounded corner: 0.01 mm off its circle at 16 times a radius of 12 mm at 1:4
_DEEP = 300.0  # mm: so far below the floor a part is looked for, and a transom without an outline is drawn
_ENDLESS = 2000.0  # mm: a block or a well without a known end is drawn so far


class Plane(msgspec.Struct, frozen=True, dict=True):
    """The plane at ``u`` [mm to starboard] through ``design``."""

    design: Design
    u: float

    @cached_property
    def faces(self) -> Faces:
        """The transom's faces."""
        return faces(self.design.transom)

    @cached_property
    def space(self) -> Space:
        """The inside."""
        return space(self.design)

    def outside(self, v: float, s: float) -> Point:
        """Return the place of (v, s), up the outer face and forward of it."""
        return self.faces.level_point(v, s)

    def inside(self, w: float, n: float) -> Point:
        """Return the place of (w, n), up the inner face and in front of it."""
        return self.faces.level_point(*self.faces.face_point(w, n))

    @cached_property
    def top(self) -> float:
        """v of the transom's top here.

        The datum's where the outline is not known.
        """
        return self._heights[1]

    @cached_property
    def _heights(self) -> tuple[float, float]:
        corners = known(self.design.transom.outline)
        edge = top_at(self.design.transom.outline, self.u)
        upside = top_at(tuple((u, -v) for u, v in corners or ()), self.u)
        return (-_DEEP, 0.0) if edge is None or upside is None else (-upside, edge)

    def strip(self, outer: float, inner: float) -> Ring:
        """Return the transom's section from ``outer`` behind the outer face to ``inner`` short of the other [mm]."""
        low, high = self._heights
        return (*self._across(high, outer, inner), *reversed(self._across(low, outer, inner, square=True)))

    def _across(self, v: float, outer: float, inner: float, *, square: bool = False) -> tuple[Point, Point]:
        """Return where the cut that starts at ``v`` meets the two depths: along the top cut, or square to the face."""
        face = self.faces
        cut = 0.0 if square else face.tan_cut
        back = face.top - inner / face.cos_taper
        s_in = (back - v * face.tan_taper) / (1 - face.tan_taper * cut)
        return self.outside(v - outer * cut, outer), self.outside(v - s_in * cut, s_in)

    @cached_property
    def transom(self) -> Ring:
        """The whole section: outer top, inner top, inner foot, outer foot."""
        return self.strip(0.0, 0.0)

    @cached_property
    def bands(self) -> tuple[tuple[str, Ring], ...]:
        """Skins and core, each as a ring; a skin that is not known, or nothing, is left to the core."""
        outer = self.design.transom.skin_outside or 0.0
        inner = self.design.transom.skin_inside or 0.0
        a, b, c, d = self.transom
        e, f, g, h = self.strip(outer, inner)
        layers: list[tuple[str, Ring]] = [("core", (e, f, g, h))]
        if outer > 0:
            layers.append(("skin", (a, e, h, d)))
        if inner > 0:
            layers.append(("skin", (f, b, c, g)))
        return tuple(layers)

    @cached_property
    def edge(self) -> Edge | None:
        """The edge of the well's floor at this place, None outside the well or without one."""
        floors = [edge for edge in self.space.edges[1:-1] if edge.normal_w > 1e-9]
        spanning = [edge for edge in floors if edge.a[0] <= self.u <= edge.b[0]]
        return max(spanning, key=lambda edge: (edge.foot - edge.normal_u * self.u) / edge.normal_w, default=None)

    def floor_w(self, n: float) -> float | None:
        """Return the w of the floor, rounded corner included, at ``n`` in front of the inner face."""
        edge = self.edge
        if edge is None:
            return None
        return (edge.foot - n * edge.sinks + edge.strip(n) - edge.normal_u * self.u) / edge.normal_w

    @cached_property
    def floor_foot(self) -> Point | None:
        """The place where the floor, without its rounded corner, meets the inner face; None outside the well.

        The well's length is measured from here.
        """
        edge = self.edge
        return None if edge is None else self.inside((edge.foot - edge.normal_u * self.u) / edge.normal_w, 0.0)

    @cached_property
    def ends(self) -> float:
        """n at which the floor ends: where the well's front is on it."""
        length = self.design.well.length if self.design.well is not None else None
        return _ENDLESS if length is None else length * math.cos(math.atan(self.space.falls))

    @cached_property
    def floor(self) -> Ring:
        """The floor from the end of the flat land, down the rounded corner and forward; empty without one."""
        edge = self.edge
        if edge is None:
            return ()
        steps = [0.0]
        if edge.ends > 0:
            last = math.acos(max(-1.0, 1 - edge.ends / edge.radius))
            steps = [edge.radius * (1 - math.cos(last * i / _ARC)) for i in range(_ARC + 1)]
        return tuple(self.inside(self.floor_w(n) or 0.0, n) for n in (*steps, max(self.ends, steps[-1])))

    @cached_property
    def front(self) -> Ring:
        """The well's front, from the floor up to the inside top edge's level; empty where the length is not known."""
        if not self.floor or self.design.well is None or self.design.well.length is None:
            return ()
        x, z = self.floor[-1]
        lean = math.radians(self.design.well.front_lean or 0.0)
        high = max(self.transom[1][1], z + 1.0)
        return (x, z), (x - (high - z) * math.tan(lean), high)

    @cached_property
    def air(self) -> Ring:
        """The well's free space in this plane, up to the inside top edge's level; empty without a floor."""
        if not self.floor:
            return ()
        high = self.transom[1][1]
        end = self.front[1] if self.front else (self.floor[-1][0], high)
        return (self.transom[1], *self.floor, end)

    @cached_property
    def block_spans(self) -> tuple[tuple[int, float, float, float], ...]:
        """The inside blocks that this plane cuts: index, lowest w, highest w, and how far it reaches out [mm]."""
        spans = []
        for index, block in enumerate(self.space.blocks):
            cuts = sorted(
                wa + (wb - wa) * (self.u - ua) / (ub - ua)
                for (ua, wa), (ub, wb) in zip(block.ring, (*block.ring[1:], block.ring[0]), strict=True)
                if (ua <= self.u) != (ub <= self.u)
            )
            spans += [(index, low, high, block.out) for low, high in zip(cuts[::2], cuts[1::2], strict=True)]
        return tuple(spans)

    @cached_property
    def blocks(self) -> tuple[tuple[int, Ring], ...]:
        """The inside blocks that this plane cuts, as rings by index."""
        rings = []
        for index, low, high, out in self.block_spans:
            deep = min(out, _ENDLESS)
            corners = ((low, 0.0), (low, deep), (high, deep), (high, 0.0))
            rings.append((index, tuple(self.inside(*corner) for corner in corners)))
        return tuple(rings)

    def gaps(self, n: float, low: float, high: float) -> list[tuple[float, float, float]]:
        """Return the gaps round what reaches from ``low`` to ``high`` in w, at ``n`` in front of the inner face.

        Each is (gap, edge of the part, edge of what is in the way); below the floor, over or under a block [mm].
        """
        places = []
        floor = self.floor_w(n)
        if floor is not None:
            places.append((low - floor, low, floor))
        for _, under, over, out in self.block_spans:
            if n <= out:
                middle = (low + high) / 2
                places.append((low - over, low, over) if middle > (under + over) / 2 else (under - high, high, under))
        if n == 0.0:  # what sits on the wood ends where the wood does
            top = self.faces.inner_top(self.top)
            places.append((top - high, high, top))
        return places

    @cached_property
    def solid(self) -> tuple[Ring, ...]:
        """The space that no part can be in: below the floor, and the blocks."""
        rings = [ring for _, ring in self.blocks]
        if self.floor:
            n = max(self.ends, 1.0)
            deep = [self.inside((self.floor_w(at) or 0.0) - _DEEP, at) for at in (n, 0.0)]
            rings.append((*self.floor, *deep))
        return tuple(rings)


def plane_at(design: Design, u: float) -> Plane:
    """Return the plane at ``u``, the same as long as the same is asked for: cut and ring draw it at every move of a hand."""
    kept: Plane | None = design.__dict__.get("plane")
    if kept is None or kept.u != u:
        kept = design.__dict__["plane"] = Plane(design, u)
    return kept
