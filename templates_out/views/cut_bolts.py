"""The bolts in the cut: head, washers, pad, nut, thread end and socket along the axis, and where they foul."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from geometry.design.hardware import Washer
from geometry.solid.faces import Unmeasured, need
from geometry.solid.placed_bolts import Body, Bolt, plate_ring
from geometry.zones.areas import overlap
from templates_out.drawing.marks import Hatch, Line, Mark, Path, Pen, Role
from templates_out.views import view_pens as pens
from templates_out.views.cut_boat import on_paper
from templates_out.views.cut_plane import Plane, Ring
from templates_out.views.face_bolts import BODIES, is_fouled, washer_radius
from templates_out.views.view_focus import Scene, on_sheet, part_of
from templates_out.views.viewport import if_known

PAD = 1.25  # the piece of bracket that is drawn reaches so many washer radii


def bolt_marks(scene: Scene, plane: Plane, bolt: Bolt, joined: tuple[Bolt, ...]) -> tuple[Mark, ...]:
    """Return one bolt with all that sits on it; ``joined``: the bolts of its mount, for a backing plate."""
    return (
        *if_known(partial(_hole, scene, bolt)),
        *if_known(partial(_outside, scene, bolt)),
        *if_known(partial(_plate, scene, bolt, joined)),
        *if_known(partial(_inside, scene, bolt)),
        *if_known(partial(_shank, scene, bolt)),
        *if_known(partial(_socket, scene, bolt)),
        *if_known(partial(_overlap, scene, plane, bolt, joined)),
        *if_known(partial(_axis, scene, bolt)),
    )


def box(bolt: Bolt, start: float, end: float, up: float, down: float) -> Ring:
    """Return the section of a part swept along the axis, from ``start`` to ``end`` counted from the exit [mm]."""
    tilt = math.radians(bolt.tilt)
    sine, cosine = math.sin(tilt), math.cos(tilt)
    v0, s0, level = bolt.exit.v, bolt.exit.s, bolt.faces.level_point
    return (
        level(v0 + start * sine + up * cosine, s0 + start * cosine - up * sine),
        level(v0 + end * sine + up * cosine, s0 + end * cosine - up * sine),
        level(v0 + end * sine - down * cosine, s0 + end * cosine + down * sine),
        level(v0 + start * sine - down * cosine, s0 + start * cosine + down * sine),
    )


def body_box(bolt: Bolt, body: Body) -> Ring:
    """Return an inside body's section; a washer cut flat reaches down only to its cut."""
    return box(bolt, body.start, body.end, body.shape.radius, min(body.shape.radius, body.shape.cut))


def _draw(scene: Scene, ring: Ring, part: str, pen: Pen = pens.NEW_SEEN, fill: Role | None = "new wash") -> Path:
    return Path(on_paper(scene, ring), True, pen, fill, part)


def _hole(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    """The hole through the wood, cleared of hatch; its walls."""
    radius = (bolt.hardware.hole or bolt.thread.diameter) / 2
    a, b, c, d = on_paper(scene, box(bolt, -bolt.exit.along, 0.0, radius, radius))
    part = part_of(bolt, "hole")
    yield Path((a, b, c, d), True, None, "sheet", part)
    yield Line(a, b, pens.NEW_FINE, part)
    yield Line(d, c, pens.NEW_FINE, part)


def _outside(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    """From the outer face aft: bracket pad, washer, head (or the nut of a bolt put in from inside)."""
    rows, lower = bolt.mount.bracket.rows, bolt.mount.bracket.lower
    pad = need((rows if bolt.upper else lower).pad_thickness, bolt.key("pad"))  # type: ignore[union-attr]
    at = -bolt.exit.along
    half = PAD * washer_radius(bolt)
    ring = box(bolt, at - pad, at, half, half)
    yield Path(on_paper(scene, ring), True, pens.SEEN, "sheet", f"bracket:{bolt.mount_index}")
    yield Hatch(on_paper(scene, ring), 45.0, 1.6, pens.HATCH, "pairs", f"bracket:{bolt.mount_index}")
    at -= pad
    washer: Washer = bolt.hardware.outside_washer
    thick, outer = washer.thickness, washer.outer
    if thick is not None and outer is not None:
        yield _draw(scene, box(bolt, at - thick, at, outer / 2, outer / 2), part_of(bolt, "outside washer"))
    at -= thick or 0.0
    hexagon = bolt.hardware.outside_hexagon
    if hexagon.height is not None and hexagon.corners is not None:
        name = part_of(bolt, "nut" if bolt.from_inside else "head")
        yield from _hexagon(scene, bolt, at - hexagon.height, at, hexagon.corners / 2, name)


def _hexagon(scene: Scene, bolt: Bolt, start: float, end: float, radius: float, part: str) -> Iterator[Mark]:
    """A nut or head across its corners, with the two edges of its flats."""
    yield _draw(scene, box(bolt, start, end, radius, radius), part)
    a, b, c, d = on_paper(scene, box(bolt, start, end, radius / 2, radius / 2))
    yield Line(a, b, pens.NEW_FINE, part)
    yield Line(d, c, pens.NEW_FINE, part)


def _plate(scene: Scene, bolt: Bolt, joined: tuple[Bolt, ...]) -> Iterator[Mark]:
    """The backing plate, cut where this bolt's plane meets it, its relieved edge included."""
    ring = _plate_ring(bolt, joined)
    if ring:
        yield Path(on_paper(scene, ring), True, pens.NEW_SEEN, "sheet", part_of(bolt, "plate"))
        yield Hatch(on_paper(scene, ring), 45.0, 1.6, pens.NEW_FINE, "pairs", part_of(bolt, "plate"))


def _plate_ring(bolt: Bolt, joined: tuple[Bolt, ...]) -> Ring:
    """Return the backing plate's section in this bolt's plane; empty where there is none."""
    plate = bolt.plate
    if plate is None:
        return ()
    through = [other for other in joined if other.name in plate.joins]
    thick = bolt.plate_thickness
    levels = sorted({0.0, min(plate.relief[1] or 0.0, thick), thick})
    lows, highs = [], []
    for n in levels:
        cuts = _cuts(plate_ring(tuple(through), plate, n), bolt.u)
        if cuts:
            lows.append((min(cuts), n))
            highs.append((max(cuts), n))
    corners = (*lows, *reversed(highs))
    return tuple(bolt.faces.level_point(*bolt.faces.face_point(w, n)) for w, n in corners)


def _cuts(ring: Ring, u: float) -> list[float]:
    """Return where a ring crosses the plane at ``u``."""
    return [
        wa + (wb - wa) * (u - ua) / (ub - ua)
        for (ua, wa), (ub, wb) in zip(ring, (*ring[1:], ring[0]), strict=True)
        if (ua <= u) != (ub <= u)
    ]


def _inside(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    spacer = bolt.body("spacer")
    if spacer is not None:
        yield _draw(scene, body_box(bolt, spacer), part_of(bolt, "spacer"))
    washer = bolt.body("washer")
    if washer is not None:
        yield _draw(scene, body_box(bolt, washer), part_of(bolt, "washer"))
    nut = bolt.body("nut")
    if nut is not None:
        name = part_of(bolt, "head" if bolt.from_inside else "nut")
        yield from _hexagon(scene, bolt, nut.start, nut.end, nut.shape.radius, name)


def _shank(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    """The bolt through the wood, and its end beyond the nut."""
    radius = bolt.thread.diameter / 2
    yield _draw(scene, box(bolt, -bolt.exit.along, 0.0, radius, radius), part_of(bolt, "bolt"), pens.NEW_FINE)
    end = bolt.body("thread_end")
    if end is not None:
        yield _draw(scene, body_box(bolt, end), part_of(bolt, "thread_end"))


def _socket(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    socket = bolt.body("socket")
    if socket is not None:
        yield _draw(scene, body_box(bolt, socket), part_of(bolt, "socket"), pens.SOCKET, None)


def _overlap(scene: Scene, plane: Plane, bolt: Bolt, joined: tuple[Bolt, ...]) -> Iterator[Mark]:
    """The piece of the first fouled part that is in something, in this plane."""
    first = ""
    for name, ring in overlap_rings(scene, plane, bolt, joined):
        points, part = on_paper(scene, ring), part_of(bolt, name)
        first = first or name
        yield Path(points, True, None, "fouled wash", part)
        for piece in on_sheet(scene, points):
            yield Hatch(piece, 45.0, 1.1, pens.FOUL_FINE, "cross", part)
        yield Path(points, True, pens.FOUL if name == first else pens.FOUL_FINE, None, part)


def overlap_rings(scene: Scene, plane: Plane, bolt: Bolt, joined: tuple[Bolt, ...]) -> Iterator[tuple[str, Ring]]:
    """Yield the piece of each fouled part that is below the floor or in a block, in this plane; the backing plate last."""
    for name in BODIES:
        if not is_fouled(scene.checked.of(name, bolt.at)):
            continue
        try:
            body = bolt.body(name)
        except Unmeasured:
            continue
        if body is None:
            continue
        for solid in plane.solid:
            for ring in overlap(body_box(bolt, body), solid):
                yield name, ring
    if is_fouled(scene.checked.of("washer", f"{bolt.mount.name} / {bolt.pair} / plate")):
        section = _plate_ring(bolt, joined)
        for solid in plane.solid if section else ():
            for ring in overlap(section, solid):
                yield "plate", ring


def _axis(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    socket = bolt.body("socket")
    end = (socket.end if socket is not None else bolt.nut_at + bolt.nut_height + 20.0) + 6.0
    a, b, _, _ = on_paper(scene, box(bolt, -bolt.exit.along - 40.0, end, 0.0, 0.0))
    yield Line(a, b, Pen("new", 0.18, pens.CENTRE.dash), part_of(bolt, "axis"))
