"""The outer face as the template shows it: places as numbers, before any drawing.

Coordinates are (u, v) as seen from astern [mm]. They are stretched by the printer's error, so that they come out true on
its paper. Figures to be printed are kept apart, unstretched.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import msgspec

from geometry.decide.old_holes import plugs_drilled_through, reused_by
from geometry.solid.faces import Unmeasured, faces, profile_up
from geometry.solid.openings import openings
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.solid.section import Line, meet
from geometry.solid.well import Edge, space
from geometry.solving.solved import solved_at_plan
from templates_out.drawing.printer import Stretch
from templates_out.faces.sheet_refusals import no_bolts, not_known

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.decide.old_holes import PlugInTheWay
    from geometry.design.boat import OldHole
    from geometry.design.design import Design
    from templates_out.drawing.marks import Point

    Runs = tuple[tuple[Point, ...], ...]

PILOT = {"in": 25.4 / 8, "mm": 3.0}  # first drill: common practice, no source
CROSS = 30.0  # each way from a hole's centre
OPENING = "opening / "  # the first part of an opening's name as a part
TARGET = 6.0  # of a target's lines, beyond the old hole that the paper is laid by
_NEAR = 80.0  # what is further from every hole is left out: walls, old holes


class Hole(msgspec.Struct, frozen=True):
    """A hole to drill.

    Attributes:
        part: "main motor / lower port", as findings name it. motor: its motor, "" where there is but one.
        name: "lower port". u, v: true place on the face. at: place on the drawing.
        pilot, final: diameters. tilt: of the drill from square [degrees].
        washer_at, washer, flat_cut: what sits inside, straight behind the face, as drawn; radius None: not known.
        reused: an open old hole is here already and is opened to size: nobody punches or drills a pilot.
        through_plug: what comes before it is drilled, "fill, cure, then drill"; "" where it goes through no plug.
        fit_ring: radius of what the bracket may not cover, see ``fit_ring``.
    """

    part: str
    mount: int
    motor: str
    name: str
    u: float
    v: float
    at: Point
    pilot: float
    final: float
    tilt: float
    washer_at: Point
    washer: float | None
    flat_cut: float | None
    reused: bool = False
    through_plug: str = ""
    fit_ring: float = 0.0

    @property
    def reach(self) -> float:
        """How far its cross reaches each way: past the washer."""
        if self.part.startswith(OPENING):
            return self.final / 2 + 10.0
        return max(CROSS, (self.washer or 0.0) + 10.0)


class Old(msgspec.Struct, frozen=True):
    """A hole that is there already, as drawn.

    Attributes:
        plug: radius of its plug, made or to be made. long_to: the other end of a long plug.
        drilled_through: what comes before a new hole is drilled through its plug; "" where none is.
    """

    hole: OldHole
    at: Point
    radius: float
    plug: float | None
    long_to: Point | None = None
    drilled_through: str = ""

    @property
    def reach(self) -> float:
        """How far what is drawn of it reaches: its plug, or the lines of a target where it is used again."""
        return max(self.radius + TARGET if self.hole.is_reused else self.radius, self.plug or 0.0)


class OnFace(msgspec.Struct, frozen=True):
    """All that the template shows.

    Attributes:
        holes: to drill. old: near them.
        floor, land: rows of points, the hidden floor's line and the flat land's; solid on their right-hand side.
        brackets, fittings, blocks: (name, ring); blocks are hidden behind the face.
        rim: the transom's outline.
        openings: to drill for a cable, a hose or a tube, near the holes.
    """

    holes: tuple[Hole, ...]
    old: tuple[Old, ...]
    floor: tuple[tuple[Point, ...], ...]
    land: tuple[tuple[Point, ...], ...]
    brackets: tuple[tuple[str, tuple[Point, ...]], ...]
    fittings: tuple[tuple[str, tuple[Point, ...]], ...]
    blocks: tuple[tuple[str, tuple[Point, ...]], ...]
    rim: tuple[Point, ...]
    openings: tuple[Hole, ...] = ()


def on_face(design: Design, stretch: Stretch) -> OnFace:
    """Return what the template of ``design`` shows: its holes as planned, on the boat as it is solved.

    Raises:
        OwnerError: there are no bolts, or a measurement that places a hole has not been taken.
    """
    design = solved_at_plan(design)
    every = bolts(design)
    if not every:
        raise no_bolts(design, "there is no hole to drill and no template to print")
    try:
        reused, through = reused_by(design), through_plugs(design)
        holes = tuple(_hole(bolt, design, stretch, bolt.at in reused, through.get(bolt.at, "")) for bolt in every)
    except Unmeasured as missing:
        raise not_known(design, "The holes", missing) from missing
    floor, land = _well_lines(design, holes, stretch)
    return OnFace(
        holes,
        tuple(old for old in _old_holes(design, holes, stretch) if near(old.at, holes)),
        floor,
        land,
        _brackets(design, stretch),
        tuple(
            (fitting.name, ring)
            for fitting in design.outside_fittings
            if (ring := _ring(fitting.outline, stretch)) and any(near(corner, holes, 150.0) for corner in ring)
        ),
        _blocks(design, holes, stretch),
        _ring(design.transom.outline, stretch),
        tuple(openings_shown(design, holes, lambda at: at, stretch)),
    )


def openings_shown(
    design: Design, holes: tuple[Hole, ...], place: Callable[[Point], Point], drawn: Callable[[Point], Point]
) -> Iterator[Hole]:
    """Yield the openings that are wholly below the fold, and whose middle is near a hole: within 150 mm.

    Args:
        holes: as drawn. place: where a hole at (u, v) of the outer face is on the face that is shown, with 0 at its fold.
        drawn: where such a place is on the drawing.
    """
    for opening in openings(design):
        try:
            u, v = place(opening.at)
        except Unmeasured:
            continue
        at = drawn((u, v))
        if v < -opening.diameter / 2 and near(at, holes, 150.0):
            part = f"{OPENING}{opening.name}"
            pilot, size = PILOT[design.units], opening.diameter
            yield Hole(part, -1, "", opening.name, u, v, at, pilot, size, 0.0, at, None, None, opening.is_there)


def near(point: Point, holes: tuple[Hole, ...], within: float = _NEAR) -> bool:
    """Say whether a place is near one of the holes."""
    return any(math.dist(point, hole.at) <= within for hole in holes)


def through_plugs(design: Design) -> dict[str, str]:
    """Return what comes before each new hole through a plug is drilled, by its bolt's place."""
    return {at: first_of(design) for way in plugs_drilled_through(design).values() for at in way.bolts}


def first_of(design: Design) -> str:
    """Say what is done with an old hole before a new one goes through it. In aluminium no epoxy plug carries load."""
    return "weld shut, then drill" if design.transom.core == "aluminium" else "fill, cure, then drill"


def old_as_drawn(
    design: Design, index: int, at: Point, holes: tuple[Hole, ...], stretch: Stretch, way: PlugInTheWay | None
) -> Old:
    """Return an old hole at its place on a drawing, with the plug that it has or gets where a new hole goes through.

    Args:
        holes: the new ones, on the same drawing. way: its plug, where a new hole goes through that.
    """
    old = design.old_holes[index]
    bore, to = old.plug_diameter if old.state == "plugged" else None, None
    if way is not None:
        bore = way.bore
        if way.run:
            aim = next(hole.at for hole in holes if hole.part == way.bolts[0])
            share = stretch.length(way.run) / max(math.dist(at, aim), 1e-9)
            to = (at[0] + share * (aim[0] - at[0]), at[1] + share * (aim[1] - at[1]))
    radius = stretch.length((old.diameter or 0.0) / 2)
    return Old(
        old, at, radius, stretch.length(bore / 2) if bore else None, to, "" if way is None else first_of(design)
    )


def _hole(bolt: Bolt, design: Design, stretch: Stretch, reused: bool, through_plug: str) -> Hole:
    u, v, washer, behind = bolt.u, bolt.v, None, (bolt.u, bolt.v)
    try:
        behind = (bolt.u, bolt.exit.v)
        washer = bolt.washer_disc.radius
    except Unmeasured:  # a washer of unknown size is left out, and the template can't be drilled by anyway
        pass
    cut = bolt.hardware.washer.flat_cut
    return Hole(
        bolt.at,
        bolt.mount_index,
        bolt.mount.name if len(design.mounts) > 1 else "",
        bolt.name,
        u,
        v,
        stretch((u, v)),
        PILOT[design.units],
        bolt.hole,
        bolt.tilt,
        stretch(behind),
        None if washer is None else stretch.length(washer),
        None if cut is None else stretch.length(cut),
        reused,
        through_plug,
        stretch.length(fit_ring(bolt.thread.diameter, bolt.hole)),
    )


def fit_ring(bolt: float, hole: float) -> float:
    """Return the radius of a ring about a planned hole: a bolt goes in where the bracket's hole covers none of it [mm].

    The bracket's hole may be off by both plays: half of what it and the planned hole are wider than the bolt, added up. It then
    just touches this ring, however wide it is. A slot does so at its sides and at its ends. 0 for a hole without such a ring.
    """
    return max(0.0, bolt - hole / 2)


def _old_holes(design: Design, holes: tuple[Hole, ...], stretch: Stretch) -> list[Old]:
    ways, shown = plugs_drilled_through(design), []
    for index, hole in enumerate(design.old_holes):
        u, v = hole.at
        if u is not None and v is not None and hole.diameter is not None:
            shown.append(old_as_drawn(design, index, stretch((u, v)), holes, stretch, ways.get(index)))
    return shown


def _well_lines(design: Design, holes: tuple[Hole, ...], stretch: Stretch) -> tuple[Runs, Runs]:
    """Return floor and flat land near the holes, straight behind the outer face: v = w·cos(taper)."""
    try:
        face = faces(design.transom)
        return well_lines(design, holes, lambda point: stretch((point[0], point[1] * face.cos_taper)))
    except Unmeasured:
        return (), ()


def well_lines(design: Design, holes: tuple[Hole, ...], seen: Callable[[Point], Point]) -> tuple[Runs, Runs]:
    """Return floor and flat land near the holes; ``seen`` says where a point (u, w) goes on the drawing.

    Raises:
        Unmeasured: a part of the well is not known.
    """
    if design.well is None:
        return (), ()
    edges = space(design).edges
    floor = tuple(seen(edge.b) for edge in edges[:-1])
    lines = [Line(edge.normal_u, edge.normal_w, edge.foot + edge.land, 0.0) for edge in edges]
    corners = [meet(line, after) or _raised(edge) for edge, line, after in zip(edges, lines, lines[1:], strict=False)]
    land = tuple(seen(corner) for corner in corners)
    flat = any(edge.land > 0.05 for edge in edges)
    return _runs(floor, holes), _runs(land, holes) if flat else ()


def _raised(edge: Edge) -> Point:
    return edge.b[0] + edge.land * edge.normal_u, edge.b[1] + edge.land * edge.normal_w


def _runs(points: tuple[Point, ...], holes: tuple[Hole, ...]) -> Runs:
    """Keep the sides that pass near a hole, or under one, joined where they run on."""
    runs: list[list[Point]] = []
    for a, b in pairwise(points):
        if not any(passes(a, b, hole.at) for hole in holes):
            continue
        if runs and runs[-1][-1] == a:
            runs[-1].append(b)
        else:
            runs.append([a, b])
    return tuple(tuple(run) for run in runs)


def passes(a: Point, b: Point, at: Point) -> bool:
    """Say whether a side passes near a place."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    t = min(1.0, max(0.0, ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / square)) if square else 0.0
    return math.dist(at, (a[0] + t * dx, a[1] + t * dy)) <= _NEAR


def _brackets(design: Design, stretch: Stretch) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    rings = []
    for mount in design.mounts:
        rows = mount.bracket.rows
        if rows is None or mount.row is None or mount.upper_at is None or mount.offset is None:
            continue
        hook = mount.upper_at + rows.row0_depth + mount.row * rows.pitch
        moved = tuple(
            (None if u is None else u + mount.offset, None if v is None else v + hook) for u, v in mount.bracket.outline
        )
        ring = _ring(moved, stretch)
        if ring:
            rings.append((mount.name, ring))
    return tuple(rings)


def _blocks(design: Design, holes: tuple[Hole, ...], stretch: Stretch) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    try:
        face = faces(design.transom)
        up = profile_up(face, design.well) if design.well else face.edge_w
    except Unmeasured:
        return ()
    rings = []
    for block in design.inside_blocks:
        ring = _ring(tuple((u, None if y is None else (y + up) * face.cos_taper) for u, y in block.outline), stretch)
        if ring and any(passes(a, b, hole.at) for a, b in pairwise((*ring, ring[0])) for hole in holes):
            rings.append((block.name, ring))
    return tuple(rings)


def _ring(points: tuple[tuple[float | None, float | None], ...], stretch: Stretch) -> tuple[Point, ...]:
    """Return an outline as drawn; empty where a corner is not measured."""
    known = [(u, v) for u, v in points if u is not None and v is not None]
    return tuple(map(stretch, known)) if len(known) == len(points) else ()
