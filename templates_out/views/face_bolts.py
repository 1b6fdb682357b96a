"""The new holes on the face, with what sits on them inside, and where that fouls."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from geometry.design.hardware import BackingPlate
from geometry.design.validity import area
from geometry.judge.findings import Finding
from geometry.solid.discs import Disc
from geometry.solid.faces import Unmeasured
from geometry.solid.openings import openings
from geometry.solid.placed_bolts import Body, Bolt, bolts, plate_ring
from geometry.solid.spanner_swing import handle_of, swing
from geometry.solid.well import space
from geometry.zones.areas import blocked, inner_face, overlap
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Mark, Path, Point
from templates_out.views import view_pens as pens
from templates_out.views.view_focus import Scene, on_sheet, part_of
from templates_out.views.viewport import if_known

CROSS = 1.6  # a hole's cross reaches so many washer radii
USUAL_WASHER = 19.0  # mm: radius for the cross where the washer is not known yet
_SAMPLES = 5  # sections at which a nut or socket is looked at for its largest overlap
_CORNERS = 72  # of a circle drawn as a polygon: 0.02 mm off for a washer of 40 mm, on the screen only

BODIES = ("washer", "nut", "thread_end", "socket")


def bolt_marks(scene: Scene) -> tuple[Mark, ...]:
    """Return every new hole, and over them what fouls; those of the motor in hand come last, for they move."""
    every = bolts(scene.boat)
    others = [bolt for bolt in every if bolt.mount_index != scene.focus.mount]
    return tuple(
        mark
        for some in (others, [bolt for bolt in every if bolt.mount_index == scene.focus.mount])
        for draw in (
            partial(_plate, every=every), _washer, partial(_overlap, every=every), _tools, partial(_swing, every=every),
            _outer_washer, _hole,
        )
        for bolt in some
        for mark in if_known(partial(draw, scene, bolt))
    )


def chosen(scene: Scene, bolt: Bolt) -> bool:
    """Say whether this bolt, or a part of it, is chosen."""
    said = scene.focus.chosen
    return said == bolt.at or (said.startswith(bolt.name) and said.endswith(f":{bolt.mount_index}"))


def washer_radius(bolt: Bolt) -> float:
    """Return the inside washer's radius, a usual one where it is not known [mm]."""
    outer = bolt.hardware.washer.outer
    return USUAL_WASHER if outer is None else outer / 2


def _hole(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    centre, scale = scene.at(bolt.u, bolt.v), scene.view.scale
    in_hand = bolt.mount_index == scene.focus.mount
    part = part_of(bolt, "hole")
    reach = CROSS * washer_radius(bolt) * scale
    x, y = centre
    yield Line((x - reach, y), (x + reach, y), pens.NEW_FINE, part)
    yield Line((x, y - reach), (x, y + reach), pens.NEW_FINE, part)
    diameter = bolt.hardware.hole or bolt.thread.diameter
    yield Circle(centre, diameter / 2 * scale, pens.NEW if in_hand else pens.NEW_SEEN, None, part)
    yield Circle(centre, 0.4, None, "new", part)


def _washer(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    """The washer on the far face, dashed, where the bolt comes out."""
    part = part_of(bolt, "washer")
    centre, scale = scene.at(bolt.u, bolt.exit.v), scene.view.scale
    disc = bolt.washer_disc
    radius = disc.radius * scale
    if disc.is_cut:
        end = math.degrees(math.asin(disc.cut / disc.radius))
        yield Arc(centre, radius, -end, 180.0 + end, pens.WASHER, part)
        half, low = disc.half_chord * scale, disc.cut * scale
        yield Line((centre[0] - half, centre[1] - low), (centre[0] + half, centre[1] - low), pens.WASHER, part)
    else:
        yield Circle(centre, radius, pens.WASHER, None, part)
    if abs(bolt.exit.v - bolt.v) > 0.5:
        yield Line(scene.at(bolt.u, bolt.v), centre, pens.NEW_FINE, part)


def _outer_washer(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    """The outer washer over the bracket's slot or hole, both only while the washer is chosen."""
    part, outer = part_of(bolt, "outside washer"), bolt.hardware.outside_washer.outer
    if scene.focus.chosen != part or outer is None:
        return
    centre, scale = scene.at(bolt.u, bolt.v), scene.view.scale
    yield Circle(centre, outer / 2 * scale, pens.NEW_SEEN, None, part)
    holes = bolt.mount.bracket.rows if bolt.upper else bolt.mount.bracket.lower
    if holes is not None and holes.diameter is not None:
        yield Circle(centre, holes.diameter / 2 * scale, pens.NEW_FINE, None, part)


def _tools(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    centre, scale = scene.at(bolt.u, bolt.exit.v), scene.view.scale
    nut = bolt.body("nut")
    if nut is not None:
        turns = [math.radians(60 * i + 30) for i in range(6)]
        radius = nut.shape.radius * scale
        ring = tuple((centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in turns)
        yield Path(ring, True, pens.NEW_FINE, None, part_of(bolt, "nut"))
    socket = bolt.body("socket") if chosen(scene, bolt) else None
    if socket is not None:
        yield Circle(centre, socket.shape.radius * scale, pens.SOCKET, None, part_of(bolt, "socket"))


def _swing(scene: Scene, bolt: Bolt, every: tuple[Bolt, ...]) -> Iterator[Mark]:
    """The free arc of a ring spanner's handle, and the handle at both ends; only while its line is chosen."""
    part = part_of(bolt, "spanner")
    handle = handle_of(bolt) if scene.focus.chosen == part else None
    if handle is None:
        return
    arc = swing(space(scene.boat), bolt, every, handle)
    (x, y), scale = scene.at(bolt.u, bolt.exit.v), scene.view.scale
    yield Arc((x, y), handle.reach * scale, math.degrees(arc.start), math.degrees(arc.end), pens.SOCKET, part)
    corners = ((0.0, -handle.half), (handle.length, -handle.half), (handle.length, handle.half), (0.0, handle.half))
    for turn in (arc.start, arc.end):
        cosine, sine = math.cos(turn) * scale, math.sin(turn) * scale
        ring = tuple((x + along * cosine - up * sine, y + along * sine + up * cosine) for along, up in corners)
        yield Path(ring, True, pens.SOCKET, None, part)


def _plate(scene: Scene, bolt: Bolt, every: tuple[Bolt, ...]) -> Iterator[Mark]:
    """The backing plate, drawn once, with the first of the bolts that it joins."""
    plate = bolt.hardware.backing_plate
    if plate is None or not bolt.port:
        return
    joined = _joined(bolt, plate, every)
    cosine = bolt.faces.cos_taper
    ring = tuple(scene.at(u, w * cosine) for u, w in plate_ring(joined, plate, plate.thickness or 0.0))
    yield Path(ring, True, pens.PLATE, None, part_of(bolt, "plate"))


def _overlap(scene: Scene, bolt: Bolt, every: tuple[Bolt, ...]) -> Iterator[Mark]:
    """The piece of the worst part that is in something: washed, cross-hatched, with a heavy edge."""
    for part, ring in overlap_rings(scene, bolt, every):
        points = tuple(scene.at(u, v) for u, v in ring)
        yield Path(points, True, None, "fouled wash", part)
        for piece in on_sheet(scene, points):
            yield Hatch(piece, 45.0, 1.1, pens.FOUL_FINE, "cross", part)
        yield Path(points, True, pens.FOUL, None, part)


def overlap_rings(scene: Scene, bolt: Bolt, every: tuple[Bolt, ...]) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """Return the pieces of this bolt's first fouled part that are in something, as named rings in (u, v) [mm].

    Pieces of its washer or backing plate over an opening come last.
    """
    if bolt.at not in scene.overlaps:  # its figure asks for them as well
        scene.overlaps[bolt.at] = (*_overlap_rings(scene, bolt, every), *_over_openings(scene, bolt, every))
    return scene.overlaps[bolt.at]


def _overlap_rings(scene: Scene, bolt: Bolt, every: tuple[Bolt, ...]) -> Iterator[tuple[str, tuple[Point, ...]]]:
    plate = bolt.hardware.backing_plate
    at = f"{bolt.mount.name} / {bolt.pair} / plate"
    if plate is not None and bolt.port and is_fouled(scene.checked.of("washer", at)):
        ring = plate_ring(_joined(bolt, plate, every), plate, plate.thickness or 0.0)
        yield from _lost(scene, bolt, ring, "plate")
    for name in BODIES:
        if not is_fouled(scene.checked.of(name, bolt.at)):
            continue
        try:
            body = bolt.body(name)
        except Unmeasured:
            continue
        if body is None:
            continue
        rings: list[tuple[str, tuple[Point, ...]]] = []
        if name == "washer":
            rings = list(_lost(scene, bolt, ring_of(body.shape, bolt.exit.u, bolt.exit.w), name))
        rings = rings or list(_deepest(scene, bolt, body, name))
        if rings:
            yield from rings
            return


def _over_openings(scene: Scene, bolt: Bolt, every: tuple[Bolt, ...]) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """Yield the piece of a washer or backing plate that is over each hole to be drilled for a cable or a hose."""
    for opening in openings(scene.boat):
        at = bolt.at if bolt.plate is None else f"{bolt.mount.name} / {bolt.pair} / plate"
        if not is_fouled(scene.checked.of("over_opening", f"{at} / {opening.name}")):
            continue
        u, v = opening.at
        circle = ring_of(Disc(opening.diameter / 2), u, bolt.faces.square_across(v))
        seat = bolt.body("spacer") or bolt.body("washer")
        if bolt.plate is not None:
            ring, name = plate_ring(_joined(bolt, bolt.plate, every), bolt.plate, 0.0), "plate"
        elif seat is not None:
            ring, name = ring_of(seat.shape, bolt.exit.u, bolt.exit.w), "washer"
        else:
            continue
        for piece in overlap(ring, circle):
            yield part_of(bolt, name), tuple((u, w * bolt.faces.cos_taper) for u, w in piece)


def _joined(bolt: Bolt, plate: BackingPlate, every: tuple[Bolt, ...]) -> tuple[Bolt, ...]:
    return tuple(other for other in every if other.mount_index == bolt.mount_index and other.name in plate.joins)


def is_fouled(finding: Finding | None) -> bool:
    """Say whether a finding is there and fouled."""
    return finding is not None and finding.state == "fouled"


def _lost(scene: Scene, bolt: Bolt, ring: tuple[Point, ...], name: str) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """The piece of a ring on the inner face that is no land."""
    cosine = bolt.faces.cos_taper
    for piece in blocked(space(scene.boat).section(0.0), ring, inner_face(scene.boat)):
        yield part_of(bolt, name), tuple((u, w * cosine) for u, w in piece)


def _deepest(scene: Scene, bolt: Bolt, body: Body, name: str) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """The piece of a body that is in something, where most of it is."""
    inside, lean = space(scene.boat), bolt.exit.lean
    cosine, sine = math.cos(lean), math.sin(lean)
    best: tuple[float, tuple[tuple[Point, ...], ...]] = (0.0, ())
    for i in range(_SAMPLES):
        n = (body.start + (body.end - body.start) * i / (_SAMPLES - 1)) * cosine
        ring = ring_of(body.shape, bolt.exit.u, bolt.exit.w * cosine + n * sine)
        pieces = blocked(inside.section(n, cosine, before=True), ring)
        size = sum(abs(area(piece)) for piece in pieces)
        if size > best[0]:
            best = size, tuple(tuple((u, w - n * sine) for u, w in piece) for piece in pieces)
    back = bolt.faces.cos_taper / cosine
    for piece in best[1]:
        yield part_of(bolt, name), tuple((u, w * back) for u, w in piece)


def ring_of(disc: Disc, u: float, w: float) -> tuple[Point, ...]:
    """Return a disc as a ring of points; a cut one ends in its chord."""
    start = -math.asin(disc.cut / disc.radius) if disc.is_cut else -math.pi / 2
    sweep = math.pi - 2 * start if disc.is_cut else 2 * math.pi
    steps = _CORNERS if disc.is_cut else _CORNERS - 1
    turns = (start + sweep * i / _CORNERS for i in range(steps + 1))
    return tuple((u + disc.radius * math.cos(a), w + disc.radius * math.sin(a)) for a in turns)
