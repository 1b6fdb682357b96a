"""The inside of many boats at once: their faces, wells, blocks and bolts; the same rules as in `geometry.solid`.

Every array has one place for each boat. Lengths [mm], angles [radians]. Names of numbers are those of `boat_numbers`.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from geometry.design.validity import CLOSE
from geometry.doubt.many_sections import Blocks, Edges, Flags, Floats, Lines, Places, Ring, Section, Shape
from geometry.solid.faces import faces
from geometry.solid.outline import outer_rim

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design


class Place(NamedTuple):
    """Where bolts come out of the inner face; see `geometry.solid.faces.Exit`."""

    u: Floats
    w: Floats
    along: Floats
    lean: Floats


class Wells(NamedTuple):
    """The edges of the profiles, see `geometry.solid.well.Edge`.

    Attributes:
        convex: in which boats no corner points in. inward: which corners do. open_up: in which boats no edge faces down.
    """

    corners: Ring
    nu: Floats
    nw: Floats
    foot: Floats
    sinks: Floats
    land: Floats
    ends: Floats
    radius: Floats
    convex: Flags
    inward: Flags
    open_up: Flags

    def at(self, boats: Places) -> Wells:
        """Return the wells of some of the boats."""
        return Wells(
            self.corners.at(boats), self.nu[:, boats], self.nw[:, boats], self.foot[:, boats], self.sinks[:, boats],
            self.land[:, boats], self.ends[:, boats], self.radius[boats], self.convex[boats], self.inward[:, boats],
            self.open_up[boats],
        )  # fmt: skip

    def strip(self, n: Floats) -> Floats:
        """Return the width of each rounded corner's strip at ``n``."""
        return np.where(n >= self.ends, 0.0, self.land - np.sqrt(np.maximum(0.0, (2 * self.radius - n) * n)) + n * self.sinks)


class Cylinder(NamedTuple):
    """A round part along each bolt's axis, from ``start`` to ``end``."""

    start: Floats
    end: Floats
    shape: Shape


class _Some(Mapping[str, "float | Floats"]):
    """The numbers of some of the boats, each taken when it is asked for: few of them are."""

    def __init__(self, every: Mapping[str, float | Floats], boats: Places) -> None:
        self._every, self._boats = every, boats

    def __getitem__(self, name: str) -> float | Floats:
        value = self._every[name]
        return value if isinstance(value, float | int) else value[self._boats]

    def __iter__(self) -> Iterator[str]:
        return iter(self._every)

    def __len__(self) -> int:
        return len(self._every)


class ManyBoats:
    """Boats of one design with other numbers.

    Args:
        design: it says what there is. numbers: each a single value, or one for each boat. count: of boats.
    """

    def __init__(self, design: Design, numbers: Mapping[str, float | Floats], count: int) -> None:
        self.design, self.count, self._numbers = design, count, numbers
        self.seen: dict[int, object] = {}  # kept by the room of parts in plain wells, by the bolt's exit
        self.rooms: dict[tuple[int, str], Floats] = {}  # of parts, by the bolt's number and the part's name
        self._known: dict[str, Floats] = {}
        self._exits: dict[int, Place] = {}
        self._bodies: dict[tuple[int, str], Cylinder | None] = {}
        low_at = self.of("low_at")
        self.top = self.of("top")
        self.tan_taper = (self.of("low") - self.top) / -low_at
        self.taper = np.arctan(self.tan_taper)
        self.cos_taper = np.cos(self.taper)

    def of(self, name: str) -> Floats:
        """Return a number of all boats."""
        if name not in self._known:
            value = self._numbers[name]
            self._known[name] = np.full(self.count, value) if isinstance(value, float | int) else value
        return self._known[name]

    def has(self, name: str) -> bool:
        """Return whether a number is known."""
        return name in self._numbers

    def at(self, boats: Places, *, blocks: bool = True) -> ManyBoats:
        """Return some of the boats, with or without their blocks."""
        some = ManyBoats(self.design, _Some(self._numbers, boats), len(boats))
        if not blocks:
            some.block_rings = ()
        if self.design.well is not None:
            some.well = self.well.at(boats)
        return some

    @cached_property
    def tan_cut(self) -> Floats:
        """Tangent of the top cut's angle. A level cut follows the rake."""
        tangent: Floats = np.tan(np.radians(self.of("cut")))
        return tangent

    def inner_top(self, v: Floats) -> Floats:
        """Return where a top cut that starts at ``v`` on the outer face meets the inner face."""
        s = (self.top - v * self.tan_taper) / (1 - self.tan_taper * self.tan_cut)
        return (v - s * self.tan_cut) * np.hypot(1.0, self.tan_taper)

    def exit(self, index: int) -> Place:
        """Return where a bolt comes out of the inner face."""
        if index not in self._exits:
            self._exits[index] = self._exit(index)
        return self._exits[index]

    def _exit(self, index: int) -> Place:
        name = f"bolt.{index}"
        v, angle = self.of(f"{name}.v"), np.radians(self.of(f"{name}.tilt"))
        rise = np.tan(angle)
        s = (self.top - v * self.tan_taper) / (1 + self.tan_taper * rise)
        return Place(self.of(f"{name}.u"), (v + s * rise) / self.cos_taper, s / np.cos(angle), angle - self.taper)

    def body(self, index: int, part: str) -> Cylinder | None:
        """Return a part of a bolt; None where it has none, or its size is not known."""
        if (index, part) not in self._bodies:
            self._bodies[index, part] = self._body(index, part)
        return self._bodies[index, part]

    def _body(self, index: int, part: str) -> Cylinder | None:
        name = f"bolt.{index}.{part}"
        if not self.has(f"{name}.start"):
            return None
        start, end = self.of(f"{name}.start"), self.of(f"{name}.end")
        if part == "thread_end":  # it is counted from the head, so a thicker transom leaves less of it
            end = end - self.exit(index).along
        radius, cut = np.maximum(0.0, self.of(f"{name}.radius")), self.of(f"{name}.cut")
        return Cylinder(start, np.maximum(start, end), Shape(radius, cut))

    @cached_property
    def falls(self) -> Floats:
        """Tangent of the angle between the floor and the inner face's normal, positive where the floor falls."""
        if not self.has("rise"):
            return np.zeros(self.count)
        falls: Floats = np.tan(np.radians(self.of("rake") - self.of("rise")) + self.taper)
        return falls

    def section(self, n: Floats, cosine: Floats, *, before: bool = False) -> Section:
        """Return the free sections at ``n`` in front of the inner face, with w scaled by ``cosine``."""
        there = []
        for index, ring in enumerate(self.block_rings):
            out = self.of(f"block.{index}.out")
            reaches = (out >= n) if before else (out > n)
            there.append(Blocks(Ring(ring.u, ring.w * cosine), reaches))
        if self.design.well is None:
            return Section(None, None, np.ones(self.count, dtype=bool), tuple(there))
        well = self.well
        strip = well.strip(n)
        at = well.foot - n * well.sinks + strip
        stretch = np.hypot(well.nu, well.nw / cosine)
        lines = Lines(well.nu / stretch, well.nw / cosine / stretch, at / stretch, strip / stretch)
        return Section(lines, Ring(well.corners.u, (well.corners.w - n * self.falls) * cosine), well.convex, tuple(there))

    @cached_property
    def flat_section(self) -> Section:
        """The free sections on the inner face itself."""
        return self.section(np.zeros(self.count), np.ones(self.count))

    @cached_property
    def well(self) -> Wells:
        """The profile's edges with their rounded corners."""
        well = self.design.well
        if well is None:
            raise TypeError("a boat without a well has no edges")
        places = range(len(well.profile))
        u = np.stack([self.of(f"profile.{at}.u") for at in places])
        w = np.stack([self.of(f"profile.{at}.y") for at in places]) + self._up
        du = np.vstack((np.zeros((1, self.count)), np.diff(u, axis=0), np.zeros((1, self.count))))
        dw = np.vstack((np.full((1, self.count), -1.0), np.diff(w, axis=0), np.ones((1, self.count))))
        length = np.hypot(du, dw)
        nu, nw = -dw / length, du / length
        foot = nu * np.vstack((u, u[-1:])) + nw * np.vstack((w, w[-1:]))
        falls, radius = self.falls, np.maximum(0.0, self.of("radius"))
        sinks = nw * falls
        corner = np.pi / 2 + np.arctan(sinks)
        land = radius / np.tan(corner / 2)
        turn = nu[:-1] * nw[1:] - nw[:-1] * nu[1:]
        inward = turn < -1e-12
        ends, open_up = land * np.sin(corner), np.all(nw >= -1e-9, axis=0)
        return Wells(Ring(u, w), nu, nw, foot, sinks, land, ends, radius, ~np.any(inward, axis=0), inward, open_up)

    @cached_property
    def _up(self) -> Floats:
        well = self.design.well
        if well is not None and well.well_from != "inside top edge":
            return np.zeros(self.count)
        return self.inner_top(np.zeros(self.count))

    @cached_property
    def block_rings(self) -> tuple[Ring, ...]:
        """The outlines of all blocks on the inner face."""
        rings = []
        for index, block in enumerate(self.design.inside_blocks):
            names = [f"block.{index}.{at}" for at in range(len(block.outline))]
            u = np.stack([self.of(f"{name}.u") for name in names])
            rings.append(Ring(u, np.stack([self.of(f"{name}.y") for name in names]) + self._up))
        return tuple(rings)

    @cached_property
    def block_boxes(self) -> tuple[tuple[Floats, Floats, Floats, Floats], ...]:
        """Left, bottom, right and top of each block."""
        return tuple((u.min(axis=0), w.min(axis=0), u.max(axis=0), w.max(axis=0)) for u, w in self.block_rings)

    @cached_property
    def rim(self) -> tuple[Ring, Ring, Edges]:
        """The transom's outline carried along the top cut and square across, and the edges of the inner face."""
        outline = self.design.transom.outline
        u = np.stack([self.of(f"outline.{at}.u") for at in range(len(outline))])
        v = np.stack([self.of(f"outline.{at}.v") for at in range(len(outline))])
        if outer_rim(self.design.transom).rings[0][0] != outline[0]:  # it runs clockwise
            u, v = u[::-1], v[::-1]
        cut, across = Ring(u, self.inner_top(v)), Ring(u, v / self.cos_taper)
        up = np.roll(u, -1, 0) < u - CLOSE
        return cut, across, Edges(*(np.where(up, *pair) for pair in zip(cut.edges, across.edges, strict=True)))

    @cached_property
    def rim_moves(self) -> Floats:
        """How far the corners of the inner face are, at most, from those of the design."""
        face, ring = faces(self.design.transom), outer_rim(self.design.transom).rings[0]
        u, v = np.array(ring)[:, :1], [corner[1] for corner in ring]
        moved = np.zeros(self.count)
        for carried, of in zip(self.rim[:2], (face.inner_top, face.square_across), strict=True):
            w = np.array([[of(each)] for each in v])
            moved = np.maximum(moved, np.max((carried.u - u) ** 2 + (carried.w - w) ** 2, axis=0))
        return np.sqrt(moved)
