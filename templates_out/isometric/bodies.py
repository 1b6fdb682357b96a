"""The bodies of a design in space: transom, well, blocks, brackets, bolts with their hardware, and old holes.

Places are in the level frame: x forward, u to starboard, z up, from the datum [mm]. Round parts have 32 corners on their
circle. A body whose readings are missing is left out.
"""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from geometry.solid.bracket_holes import bracket_ring, hook_above_datum
from geometry.solid.faces import Faces, Unmeasured, faces
from geometry.solid.outline import inner_rim, outer_rim, single_ring
from geometry.solid.placed_bolts import Body, Bolt, bolts, plate_ring
from geometry.solid.planes import turns_left
from geometry.solid.well import floor_end, space

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.solid.planes import Point

Spot = tuple[float, float, float]
Ring = tuple[Spot, ...]

ROUND = 32  # corners of a circle: 0.1 mm off for a washer of 40 mm, in a picture only
USUAL_LENGTH = 300.0  # mm: of a well, or of a block, whose length is not known, in a picture only
_PAD = 12.0  # mm: thickness of a bracket that is not measured, in a picture only


class Prism(NamedTuple):
    """A solid between two rings of as many corners. ``smooth``: its sides are one round surface."""

    part: str
    near: Ring
    far: Ring
    smooth: bool = False


class Sheet(NamedTuple):
    """A flat surface that hides only as seen from its front, anticlockwise there; from behind one looks through it."""

    part: str
    ring: Ring


class Trace(NamedTuple):
    """A line on a surface. ``closed`` joins its ends."""

    part: str
    spots: Ring
    closed: bool = True


Piece = Prism | Sheet | Trace


def bodies(design: Design) -> tuple[Piece, ...]:
    """Return all bodies whose readings are there.

    Raises:
        Unmeasured: rake, outline or thickness of the transom is not known, so that there is no picture.
    """
    face = faces(design.transom)
    pieces: list[Piece] = [*_transom(design, face)]
    makers: list[Callable[[], Iterator[Piece]]] = [partial(_well, design, face), partial(_blocks, design, face)]
    makers += [partial(_bracket, design, face, index) for index in range(len(design.mounts))]
    makers += [partial(make, bolt) for bolt in bolts(design) for make in (_outside, _inside, _thread, _plate)]
    makers += [partial(_old_hole, design, face, index) for index in range(len(design.old_holes))]
    for make in makers:
        try:
            pieces += make()
        except Unmeasured:
            continue
    return tuple(pieces)


def _spot(face: Faces, u: float, v: float, s: float) -> Spot:
    x, z = face.level_point(v, s)
    return x, u, z


def _on_inner(face: Faces, at: Point, n: float = 0.0) -> Spot:
    """Return the place of (u, w) on the inner face, ``n`` in front of it."""
    return _spot(face, at[0], *face.face_point(at[1], n))


def _transom(design: Design, face: Faces) -> Iterator[Piece]:
    outer = outer_rim(design.transom).rings[0]
    rim = inner_rim(design.transom)
    joined = single_ring(rim)
    inner = (joined[-1], *joined[:-1]) if joined else tuple(edge[0] for edge in rim.edges)
    yield Prism("transom", tuple(_spot(face, u, v, 0.0) for u, v in outer), tuple(_on_inner(face, at) for at in inner))


def _well(design: Design, face: Faces) -> Iterator[Piece]:
    """Floor and walls, each an open sheet, the front end, and the two edges of the rounded corner."""
    if design.well is None:
        return
    inside = space(design)
    length = USUAL_LENGTH if design.well.length is None else design.well.length
    corners = [edge.a for edge in inside.edges[1:]]
    lowest = min(corners, key=lambda at: at[1])
    foot_x, foot_z = floor_end(face, inside, lowest[0], length)
    rise = face.rake + face.taper - math.atan(inside.falls)
    lean = math.tan(math.radians(design.well.front_lean or 0.0))

    def ahead(at: Point) -> Spot:
        """Carry a corner along the floor's direction to the well's front, which leans aft by ``lean``."""
        x, u, z = _on_inner(face, at)
        share = (foot_x - x - (z - foot_z) * lean) / (math.cos(rise) + math.sin(rise) * lean)
        return x + share * math.cos(rise), u, z + share * math.sin(rise)

    for a, b in zip(corners, corners[1:], strict=False):
        yield Sheet("well", (_on_inner(face, b), ahead(b), ahead(a), _on_inner(face, a)))
    for n in (0.0, max(edge.ends for edge in inside.edges)):
        line = [segment for _, segment in inside.section(n).named_edges]
        low, high = min(u for u, _ in corners), max(u for u, _ in corners)
        top = max(w for _, w in corners)
        shown = [at for edge in line for at in edge if low <= at[0] <= high and at[1] <= top]
        if inside.convex and len(shown) > 1:
            yield Trace("corner", tuple(_on_inner(face, at, n) for at in dict.fromkeys(shown)), closed=False)


def _blocks(design: Design, face: Faces) -> Iterator[Piece]:
    length = design.well.length if design.well is not None and design.well.length is not None else USUAL_LENGTH
    for index, block in enumerate(space(design).blocks):
        out = min(block.out, length)
        near, far = (tuple(_on_inner(face, at, n) for at in block.ring) for n in (0.0, out))
        yield Prism(f"block {index}", near, far)


def _bracket(design: Design, face: Faces, index: int) -> Iterator[Piece]:
    """The bracket, as thick as its upper pad, with its holes and slots."""
    mount = design.mounts[index]
    rows, lower = mount.bracket.rows, mount.bracket.lower
    pad = _PAD if rows is None or rows.pad_thickness is None else rows.pad_thickness
    ring = bracket_ring(mount, index)
    part = f"bracket:{index}"
    yield Prism(part, tuple(_spot(face, u, v, 0.0) for u, v in ring), tuple(_spot(face, u, v, -pad) for u, v in ring))
    if rows is None or lower is None:
        return
    hook, offset = hook_above_datum(mount, index), mount.offset or 0.0
    first = hook - rows.row0_depth
    heights = [first - row * rows.pitch for row in range(rows.count)]
    places = [(height, height, rows.half_spacing, rows.diameter) for height in heights]
    places += [(first - high, first - low, lower.half_spacing, lower.diameter) for high, low in lower.slots]
    for high, low, half, diameter in places:
        for u in (offset - half, offset + half):
            yield Trace(part, tuple(_spot(face, *at, -pad) for at in _slot((u, high), (u, low), (diameter or 0.0) / 2)))


def _slot(high: Point, low: Point, radius: float) -> Iterator[Point]:
    for number in range(ROUND):
        turn = 2 * math.pi * number / ROUND
        end = high if math.sin(turn) >= 0 else low
        yield end[0] + radius * math.cos(turn), end[1] + radius * math.sin(turn)


class _Axis(NamedTuple):
    """A bolt's axis: a place on it in (u, v, s), and its tilt [radians]."""

    bolt: Bolt
    u: float
    v: float
    s: float
    tilt: float

    def spot(self, along: float, across: float, up: float) -> Spot:
        """Return a place ``along`` the axis, and ``across`` and ``up`` from it."""
        sin, cos = math.sin(self.tilt), math.cos(self.tilt)
        return _spot(self.bolt.faces, self.u + across, self.v + along * sin + up * cos, self.s + along * cos - up * sin)

    def prism(self, part: str, ring: tuple[Point, ...], start: float, end: float, *, smooth: bool) -> Prism:
        """Return a ring across the axis as a body from ``start`` to ``end`` along it."""
        return Prism(
            part, tuple(self.spot(start, *at) for at in ring), tuple(self.spot(end, *at) for at in ring), smooth=smooth
        )


def _circle(radius: float) -> tuple[Point, ...]:
    turns = [2 * math.pi * number / ROUND for number in range(ROUND)]
    return tuple((radius * math.cos(turn), radius * math.sin(turn)) for turn in turns)


def _hexagon(corners: float) -> tuple[Point, ...]:
    turns = [math.radians(60 * number + 30) for number in range(6)]
    return tuple((corners / 2 * math.cos(turn), corners / 2 * math.sin(turn)) for turn in turns)


def _outside(bolt: Bolt) -> Iterator[Piece]:
    """The outside washer, and the head, or the nut of a bolt that is inserted from inside."""
    axis = _Axis(bolt, bolt.u, bolt.v, 0.0, math.radians(bolt.tilt))
    holes = bolt.mount.bracket.rows if bolt.upper else bolt.mount.bracket.lower
    seat = -(_PAD if holes is None or holes.pad_thickness is None else holes.pad_thickness)
    hexagon = bolt.hardware.nut_hexagon if bolt.from_inside else bolt.hardware.head_hexagon
    washer = bolt.hardware.outside_washer
    thick = washer.thickness or 0.0
    if washer.outer is not None and thick:
        yield axis.prism(f"outside washer of {bolt.at}", _circle(washer.outer / 2), seat, seat - thick, smooth=True)
    if hexagon.corners is not None and hexagon.height is not None:
        start = seat - thick
        yield axis.prism(f"head of {bolt.at}", _hexagon(hexagon.corners), start, start - hexagon.height, smooth=False)


def _inside(bolt: Bolt) -> Iterator[Piece]:
    """Spacer, washer with its true shape, and nut."""
    axis = _inner_axis(bolt)
    spacer = bolt.body("spacer")
    if spacer is not None:
        yield _turned(axis, f"spacer of {bolt.at}", spacer)
    washer = bolt.body("washer")
    if washer is not None:
        ring = _circle(washer.shape.radius)
        if washer.shape.is_cut:
            half, low = washer.shape.half_chord, -washer.shape.cut
            kept = tuple(at for at in ring if at[1] > low)
            # The circle begins at starboard and runs over the top: the cut goes in where it is left and met again.
            down = next(number for number, at in enumerate(ring) if at[1] <= low)
            ring = (*ring[:down], (-half, low), (half, low), *kept[down:])
        yield axis.prism(f"washer of {bolt.at}", ring, washer.start, washer.end, smooth=not washer.shape.is_cut)
    nut = bolt.body("nut")
    if nut is not None:
        yield axis.prism(f"nut of {bolt.at}", _hexagon(2 * nut.shape.radius), nut.start, nut.end, smooth=False)


def _thread(bolt: Bolt) -> Iterator[Piece]:
    end = bolt.body("thread_end")
    if end is not None:
        yield _turned(_inner_axis(bolt), f"thread_end of {bolt.at}", end)


def _inner_axis(bolt: Bolt) -> _Axis:
    return _Axis(bolt, bolt.exit.u, bolt.exit.v, bolt.exit.s, math.radians(bolt.tilt))


def _turned(axis: _Axis, part: str, body: Body) -> Prism:
    return axis.prism(part, _circle(body.shape.radius), body.start, body.end, smooth=True)


def _plate(bolt: Bolt) -> Iterator[Piece]:
    """The backing plate, drawn with the first bolt that it joins."""
    plate = bolt.plate
    if plate is None or bolt.name != next(name for name in plate.joins):
        return
    joined = tuple(each for each in bolts(bolt.design) if each.mount_index == bolt.mount_index and each.name in plate.joins)
    near, far = plate_ring(joined, plate, 0.0), plate_ring(joined, plate, bolt.plate_thickness)
    face = bolt.faces
    yield Prism(
        f"backing plate of {bolt.at}", tuple(_on_inner(face, at) for at in near),
        tuple(_on_inner(face, at, bolt.plate_thickness) for at in (far if turns_left(near) == turns_left(far) else far[::-1])),
    )  # fmt: skip


def _old_hole(design: Design, face: Faces, index: int) -> Iterator[Piece]:
    """An old hole on the outer face, or its plug."""
    old = design.old_holes[index]
    u, v = old.at
    across = old.plug_diameter or old.diameter
    if u is None or v is None or across is None:
        return
    yield Trace("old hole", tuple(_spot(face, u + right, v + up, 0.0) for right, up in _circle(across / 2)))
