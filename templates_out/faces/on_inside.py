"""The inner face as the inside sheet shows it: places as numbers, before any drawing.

Coordinates are seen looking aft, port on the right: x = −u, y up along the inner face [mm]. The origin is where the paper
is folded: the inside top edge at the centreline. They are stretched by the printer's error. Figures are kept apart.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.decide.old_holes import plugs_drilled_through, reused_by
from geometry.design.validity import CLOSE
from geometry.drilling.pilot_circle import pilot_circle
from geometry.judge.reporter import Reporter
from geometry.solid.discs import Disc
from geometry.solid.faces import Unmeasured, exit_of, faces
from geometry.solid.outline import inner_rim
from geometry.solid.placed_bolts import Bolt, bolts, plate_ring
from geometry.solid.well import space
from geometry.solving.solved import solved
from templates_out.drawing.printer import Stretch
from templates_out.faces.on_face import (
    PILOT,
    Hole,
    Old,
    OnFace,
    near,
    old_as_drawn,
    openings_shown,
    passes,
    through_plugs,
    well_lines,
)
from templates_out.faces.sheet_refusals import no_bolts, not_known

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design
    from templates_out.drawing.marks import Point


class Inner(msgspec.Struct, frozen=True):
    """The parts around one exit.

    Attributes:
        hole: its places, on the inner face; ``v`` is its depth below the inside top edge, negative downward.
        pilot: radius of the circle that the pilot has to come out in, true [mm]; None: too little room, or a reused hole.
        limit: the same as drawn [mm].
        measured: whether the readings are known that the circle rests on.
        nut: half across its corners, as drawn. socket: half its outside, None where no tool is chosen.
        washer: outside diameter, true [mm]. cut: whether its lower side is cut flat.
    """

    hole: Hole
    pilot: float | None
    limit: float | None
    measured: bool
    nut: float
    socket: float | None
    washer: float
    cut: bool


class OnInside(msgspec.Struct, frozen=True):
    """All that the inside sheet shows.

    Attributes:
        face: holes, old holes, floor, flat land and blocks, as the outside sheet has them.
        inner: the parts around each hole, in the same order.
        backing_plates: the outline of each, and its back's where its lower edge is relieved.
        rim: the inner face's edges.
        floor_deep: how far below the inside top edge the floor is under the bolts, least and most, true [mm]; None
            where there is none.
        off_flat: parts of the openings that do not come out wholly on the free inner face: on a corner, a floor or a block.
    """

    face: OnFace
    inner: tuple[Inner, ...]
    backing_plates: tuple[tuple[tuple[Point, ...], tuple[Point, ...] | None], ...]
    rim: tuple[tuple[Point, Point], ...]
    floor_deep: tuple[float, float] | None
    off_flat: tuple[str, ...] = ()


def on_inside(design: Design, stretch: Stretch) -> OnInside:
    """Return what the inside sheet of ``design`` shows: the boat as it is solved, with each pilot where it came out.

    Raises:
        OwnerError: there are no bolts, or a measurement has not been taken; the sentence names it.
    """
    design = solved(design)
    every = bolts(design)
    if not every:
        raise no_bolts(design, "nothing comes out inside and there is no inside sheet")
    try:
        return _shown(design, every, stretch)
    except Unmeasured as missing:
        raise not_known(design, "The inside sheet", missing) from missing


def _shown(design: Design, every: tuple[Bolt, ...], stretch: Stretch) -> OnInside:
    edge = faces(design.transom).edge_w

    def seen(point: Point) -> Point:
        return stretch((-point[0], point[1] - edge))

    def come_out(point: Point) -> Point:
        """Return where a hole square to the outer face comes out, below the inside top edge."""
        out = exit_of(faces(design.transom), *point, 0.0)
        return out.u, out.w - edge

    report, reused, through = Reporter(design), reused_by(design), through_plugs(design)
    inner = tuple(_inner(bolt, report, bolt.at in reused, through.get(bolt.at, ""), seen, stretch) for bolt in every)
    holes = tuple(exit_.hole for exit_ in inner)
    floor, land = (tuple(run[::-1] for run in runs[::-1]) for runs in well_lines(design, holes, seen))
    blocks = [(solid.name, tuple(map(seen, solid.ring))) for solid in space(design).blocks]
    shown = tuple(openings_shown(design, holes, come_out, lambda at: stretch((-at[0], at[1]))))
    here = space(design).section(0.0)
    return OnInside(
        OnFace(
            holes, _old_holes(design, holes, seen, stretch), floor, land, (), (),
            tuple((name, ring) for name, ring in blocks if _near_one(ring, holes)), (),
            shown,
        ),
        inner,
        _plates(every, seen),
        tuple((seen(a), seen(b)) for a, b in inner_rim(design.transom).edges),
        _floor_deep(design, every, edge),
        tuple(hole.part for hole in shown if here.room_of(Disc(hole.final / 2), (hole.u, hole.v + edge)) < -CLOSE),
    )  # fmt: skip


def _floor_deep(design: Design, every: tuple[Bolt, ...], edge: float) -> tuple[float, float] | None:
    sides = [(side.a, side.b) for side in space(design).edges[1:-1]]
    deep = [
        edge - a[1] - (bolt.exit.u - a[0]) / (b[0] - a[0]) * (b[1] - a[1])
        for a, b in sides
        for bolt in every
        if a[0] <= bolt.exit.u <= b[0] and abs(b[1] - a[1]) < abs(b[0] - a[0])
    ]
    return (min(deep), max(deep)) if deep else None


def _near_one(ring: tuple[Point, ...], holes: tuple[Hole, ...]) -> bool:
    sides = zip(ring, ring[1:] + ring[:1], strict=True)
    return any(passes(a, b, hole.at) for a, b in sides for hole in holes)


def _inner(
    bolt: Bolt, report: Reporter, reused: bool, through_plug: str, seen: Callable[[Point], Point], stretch: Stretch
) -> Inner:
    design = report.design
    at, disc = seen((bolt.exit.u, bolt.exit.w)), bolt.washer_disc
    nut, socket = bolt.body("nut"), bolt.body("socket")
    if nut is None:
        raise TypeError("every bolt has a nut or a head inside")
    hole = Hole(
        bolt.at, bolt.mount_index, bolt.mount.name if len(design.mounts) > 1 else "", bolt.name,
        bolt.exit.u, bolt.exit.w - bolt.faces.edge_w, at, PILOT[design.units], bolt.hole, bolt.tilt,
        at, stretch.length(disc.radius), stretch.length(disc.cut) if disc.is_cut else None, reused, through_plug,
    )  # fmt: skip
    pilot, measured = None, True
    try:
        pilot = None if reused else pilot_circle(report, bolt)
    except Unmeasured:
        measured = False
    return Inner(
        hole,
        pilot,
        None if pilot is None else stretch.length(pilot),
        measured,
        stretch.length(nut.shape.radius),
        None if socket is None else stretch.length(socket.shape.radius),
        2 * disc.radius,
        disc.is_cut,
    )


def _old_holes(design: Design, holes: tuple[Hole, ...], seen: Callable[[Point], Point], stretch: Stretch) -> tuple[Old, ...]:
    """Return the old holes near the new ones, where they come out: they run square to the outer face."""
    face, ways, shown = faces(design.transom), plugs_drilled_through(design), []
    for index, old in enumerate(design.old_holes):
        u, v = old.at
        if u is None or v is None or old.diameter is None:
            continue
        at = seen((u, exit_of(face, u, v, 0.0).w))
        if near(at, holes):
            shown.append(old_as_drawn(design, index, at, holes, stretch, ways.get(index)))
    return tuple(shown)


def _plates(
    every: tuple[Bolt, ...], seen: Callable[[Point], Point]
) -> tuple[tuple[tuple[Point, ...], tuple[Point, ...] | None], ...]:
    plates = []
    for joined in plates_of(every):
        plate = joined[0].plate
        if plate is None:
            raise TypeError("bolts are grouped by the backing plate that they go through")
        front = tuple(map(seen, plate_ring(joined, plate, joined[0].plate_thickness)))
        back = tuple(map(seen, plate_ring(joined, plate, 0.0)))
        plates.append((front, back if back != front else None))
    return tuple(plates)


def plates_of(every: tuple[Bolt, ...]) -> list[tuple[Bolt, ...]]:
    """Return the bolts of each backing plate, one group each."""
    keys = dict.fromkeys((bolt.mount_index, bolt.plate_pair) for bolt in every if bolt.plate_pair is not None)
    return [tuple(bolt for bolt in every if (bolt.mount_index, bolt.plate_pair) == key) for key in keys]
