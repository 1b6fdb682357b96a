"""Finds the parts under the pointer, from design, view and place alone."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.design.validity import known
from geometry.edits.edits import twin_of
from geometry.edits.moving_by_hand import WELL_LINE
from geometry.readings.measures import measures
from geometry.solid.bracket_holes import bracket_ring, hook_above_datum
from geometry.solid.faces import Unmeasured, faces, profile_up
from geometry.solid.placed_bolts import bolts
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Line, Pen, Text
from templates_out.views.viewport import known_points

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from geometry.design.design import Design
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Viewport

Kind = Literal[
    "saddle", "outline", "profile", "bracket corner", "block corner", "fitting corner", "upper", "lower", "old hole", "block",
    "fitting", "bracket", "outline edge", "profile edge", "dimension",
]  # fmt: skip
CORNERS: tuple[Kind, ...] = ("outline", "profile", "bracket corner", "block corner", "fitting corner")
GRAB = 3.2  # paper mm: 12 px
_EDGE = 1.6  # paper mm: 6 px
_SQUARE = 1.6  # paper mm: 6 px, on a drawn corner handle
_ORDER: tuple[Kind, ...] = (
    "saddle", "outline", "profile", "bracket corner", "block corner", "fitting corner", "upper", "lower", "old hole", "block",
    "fitting", "bracket",
)  # fmt: skip
_SAME_CLASS = {
    "outline": 1, "profile": 1, "bracket corner": 2, "block corner": 2, "fitting corner": 2, "upper": 2, "lower": 2,
    "old hole": 3, "block": 4, "fitting": 4,
}  # fmt: skip
_FOUR_CORNERS = ("well.top_width", "well.floor_port", "well.floor_starboard", "well.top_width")  # their measures
PART_FIELDS = {"block": "inside_blocks", "fitting": "outside_fittings"}
"""The design's field of each kind of drawn part."""
_USUAL_RADIUS = 15.0  # boat mm, for an unknown washer


class Grip(msgspec.Struct, frozen=True):
    """A part that can be dragged or clicked. A click on a dimension opens its entry.

    Attributes:
        kind: the kind of part. index: index of the mount, corner, hole or block.
        part: the name of its marks. name: its name for a person. at: its place (u, v) [boat mm].
        corner: index in its bracket. entry: key of its measure, where the kind does not say it.
    """

    kind: Kind
    index: int
    part: str
    name: str
    at: Point
    corner: int = 0
    entry: str = ""

    @property
    def thing(self) -> tuple[str, ...]:
        """The beginnings of its measures' keys; () for a part that is never measured, such as a motor's place."""
        match self.kind:
            case "outline" | "outline edge":
                return ("transom.outline",)
            case "profile" | "profile edge":
                return WELL_LINE
            case "bracket corner":
                return (f"mounts.{self.index}.bracket.outline",)
            case "old hole":
                return f"old_holes.{self.index}.across", f"old_holes.{self.index}.down"
            case "block" | "block corner":
                return (f"inside_blocks.{self.index}.outline",)
            case "fitting" | "fitting corner":
                return (f"outside_fittings.{self.index}.outline",)
            case _:
                return ()


def grips(design: Design, mount: int) -> tuple[Grip, ...]:
    """Return all parts that can be dragged, in the order of the card; ``mount`` is the motor in hand."""
    return tuple(_grips(design, mount))


def under(design: Design, view: Viewport, at: Point, mount: int, chosen: str = "") -> tuple[Grip, ...]:
    """Return the parts under a place on paper, in the order in which a press takes them.

    A drawn handle of the chosen shape comes first. Then come corners, holes with a bracket's corners, old holes, drawn
    parts and the bracket. Of equal parts the nearest comes first.
    """
    ranked_grips = []
    for grip in _grips(design, mount):
        away = _away(design, view, at, grip)
        if away <= 0.0:
            far = math.dist(view.to_paper(grip.at), at)
            mine = bool(chosen) and _family(grip.part) == _family(chosen) and far <= _SQUARE
            rank = 0 if grip.kind == "saddle" or (mine and grip.kind in CORNERS) else 5
            rank = rank and _SAME_CLASS.get(grip.kind, 5)
            ranked_grips.append((rank, far, _ORDER.index(grip.kind), grip))
    return tuple(grip for *_, grip in sorted(ranked_grips, key=lambda ranked: ranked[:3]))


def profile_place(design: Design, corner: int) -> Point:
    """Return where a corner of the well's profile is drawn on the face (u, v) [mm].

    Raises:
        Unmeasured: a value that it needs is not known.
    """
    if design.well is None:
        raise Unmeasured("well.profile")
    face = faces(design.transom)
    u, y = design.well.profile[corner]
    if u is None or y is None:
        raise Unmeasured("well.profile")
    return u, (y + profile_up(face, design.well)) * face.cos_taper


def _family(part: str) -> str:
    return part.split(" ", maxsplit=1)[0]


def _shape_corners(design: Design) -> Iterator[Grip]:
    for index, corner in enumerate(design.transom.outline):
        for at in known((corner,)) or ():
            yield Grip("outline", index, f"outline corner {index}", f"Transom corner {index + 1}", at)
    for index in range(len(design.well.profile) if design.well is not None else 0):
        for at in known_points(lambda i=index: [profile_place(design, i)]):  # type: ignore[misc]
            entry = _FOUR_CORNERS[index] if len(design.well.profile) == 4 else f"well.profile.{index}.1"  # type: ignore[union-attr]
            yield Grip("profile", index, f"profile corner {index}", f"Well corner {index + 1}", at, entry=entry)


def _grips(design: Design, mount: int) -> Iterator[Grip]:
    yield from _shape_corners(design)
    up = _lift(design)
    for index, block in enumerate(design.inside_blocks):
        ring = known(block.outline)
        if ring and up is not None:
            ring = [(u, (y + up[0]) * up[1]) for u, y in ring]
            yield Grip("block", index, f"block {index}", block.name.capitalize(), _middle(ring))
            yield from _part_corners("block corner", index, block.name, ring)
    for index, fitting in enumerate(design.outside_fittings):
        ring = known(fitting.outline)
        if ring:
            yield Grip("fitting", index, f"fitting {index}", fitting.name.capitalize(), _middle(ring))
            yield from _part_corners("fitting corner", index, fitting.name, ring)
    for index, hole in enumerate(design.old_holes):
        for at in known((hole.at,)) or ():
            yield Grip("old hole", index, f"old hole {index}", hole.name.capitalize(), at)
    for index, motor in enumerate(design.mounts):
        for at in known_points(lambda i=index, m=motor: [_hook_place(m, i)]):  # type: ignore[misc]
            if index == mount and motor.bracket.rows is not None:
                yield Grip("saddle", index, f"saddle:{index}", "Bracket hook: the motor up or down, hole by hole", at)
            ring = known_points(lambda i=index, m=motor: bracket_ring(m, i))  # type: ignore[misc]
            yield Grip("bracket", index, f"bracket:{index}", f"Bracket of {motor.name}", _middle(ring) if ring else at)
            if index == mount:
                yield from _bracket_corners(design, index, ring)
    for bolt in bolts(design):
        for at in known_points(lambda b=bolt: [(b.u, b.v)]):  # type: ignore[misc]
            kind: Kind = "upper" if bolt.upper else "lower"
            name = f"{bolt.name.capitalize()} hole"
            yield Grip(kind, bolt.mount_index, f"{bolt.name} hole:{bolt.mount_index}", name, at)


def _part_corners(
    kind: Literal["block corner", "fitting corner"], index: int, name: str, ring: list[Point]
) -> Iterator[Grip]:  # fmt: skip
    """Yield the corners of a block or a fitting."""
    part = kind.removesuffix(" corner")
    for corner, at in enumerate(ring):
        entry = f"{PART_FIELDS[part]}.{index}.outline.{corner}.0"
        shown = f"{name.capitalize()}, corner {corner + 1}"
        yield Grip(kind, index, f"{part} {index} corner {corner}", shown, at, corner, entry)


def _bracket_corners(design: Design, mount: int, ring: list[Point]) -> Iterator[Grip]:
    """Yield corners with the card's numbers. Where the card has one entry for both sides, the twin has the same number."""
    own, start = design.mounts[mount].bracket.outline, f"mounts.{mount}.bracket.outline."
    names = {entry.key: entry.name.split(",")[0] for entry in measures(design) if entry.key.startswith(start)}
    for corner, at in enumerate(ring):
        twin = twin_of(own, corner)
        keys = [f"{start}{number}.{axis}" for number in (corner, twin) for axis in (0, 1)]
        entry = next((key for key in keys if key in names), "")
        shared = twin is not None and (f"{start}{corner}.1" in names) != (f"{start}{twin}.1" in names)
        side = f" at {'port' if (own[corner][0] or 0.0) < 0 else 'starboard'}" if shared else ""
        name = f"{names.get(entry, 'Bracket corner')}{side}"
        yield Grip("bracket corner", mount, f"bracket:{mount} corner {corner}", name, at, corner, entry)


def _hook_place(motor: object, index: int) -> Point:
    return motor.offset or 0.0, hook_above_datum(motor, index)  # type: ignore[attr-defined,arg-type]


def _lift(design: Design) -> tuple[float, float] | None:
    """Return what converts the y of an inside shape to v, as (y + first)·second; None where it is not known."""
    try:
        face = faces(design.transom)
        return (face.edge_w if design.well is None else profile_up(face, design.well)), face.cos_taper
    except Unmeasured:
        return None


def _middle(ring: list[Point]) -> Point:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _away(design: Design, view: Viewport, at: Point, grip: Grip) -> float:
    """Return the distance from a place on paper to a grip's edge [paper mm]; 0 or less on the grip."""
    place = view.to_paper(grip.at)
    match grip.kind:
        case "saddle" | "outline" | "profile" | "bracket corner" | "block corner" | "fitting corner":
            return math.dist(place, at) - GRAB
        case "upper" | "lower":
            mount = design.mounts[grip.index]
            hardware = mount.upper_hardware if grip.kind == "upper" else mount.lower_hardware
            outer = hardware.washer.outer if hardware is not None else None
            radius = _USUAL_RADIUS if outer is None else outer / 2
            return math.dist(place, at) - max(GRAB, radius * view.scale)
        case "old hole":
            hole = design.old_holes[grip.index]
            radius = (hole.plug_diameter or hole.diameter or 0.0) / 2
            return math.dist(place, at) - max(GRAB, radius * view.scale)
        case "bracket":
            motor = design.mounts[grip.index]
            ring = known_points(lambda: bracket_ring(motor, grip.index))
            return 0.0 if _inside(view.to_boat(at), ring) else 1.0
        case _:
            return 0.0 if _inside(view.to_boat(at), _ring(design, grip)) else 1.0


def _ring(design: Design, grip: Grip) -> list[Point]:
    if grip.kind == "fitting":
        return known(design.outside_fittings[grip.index].outline) or []
    up = _lift(design)
    ring = known(design.inside_blocks[grip.index].outline) or []
    return [] if up is None else [(u, (y + up[0]) * up[1]) for u, y in ring]


def _inside(at: Point, ring: list[Point]) -> bool:
    """Return whether a point is in a ring, by counting crossings."""
    x, y = at
    within = False
    for (xa, ya), (xb, yb) in zip(ring, ring[1:] + ring[:1], strict=True):
        if (ya > y) != (yb > y) and x < xa + (y - ya) / (yb - ya) * (xb - xa):
            within = not within
    return within


def edge_grips(design: Design) -> tuple[Grip, ...]:
    """Return the edges of outline and profile that can be dragged, each at its middle."""
    edges = []
    every = tuple(_shape_corners(design))
    outline, profile = ([grip for grip in every if grip.kind == kind] for kind in ("outline", "profile"))
    kinds: tuple[tuple[Kind, list[Grip], int, str], ...] = (
        ("outline edge", outline, len(design.transom.outline), "Transom’s edge"),
        ("profile edge", profile, 0 if design.well is None else len(design.well.profile), "Well’s edge"),
    )
    for kind, corners, count, name in kinds:
        if count and len(corners) == count:
            pairs = zip(corners, corners[1:] + (corners[:1] if kind == "outline edge" else []), strict=False)
            edges += [
                Grip(kind, index, f"{kind} {index}", name, ((a.at[0] + b.at[0]) / 2, (a.at[1] + b.at[1]) / 2))
                for index, (a, b) in enumerate(pairs)
            ]
    return tuple(edges)


def edges_under(design: Design, view: Viewport, at: Point) -> tuple[Grip, ...]:
    """Return the edges under a place on paper, nearest first."""
    near = []
    ends = {grip.part: view.to_paper(grip.at) for grip in _shape_corners(design)}
    for grip in edge_grips(design):
        shape = grip.kind.split(" ")[0]
        last = len(design.transom.outline) if shape == "outline" else grip.index + 2
        a, b = ends[f"{shape} corner {grip.index}"], ends[f"{shape} corner {(grip.index + 1) % last}"]
        away = _off_line(Line(a, b, Pen()), at)
        if away < _EDGE:
            near.append((away, grip))
    return tuple(grip for _, grip in sorted(near, key=lambda ranked: ranked[0]))


def figure_under(marks: Iterable[Mark], at: Point) -> str:
    """Return the key of the measure with its figure under a place on paper, "" for none."""
    for mark in marks:
        if isinstance(mark, Text) and mark.part.startswith("measure:"):
            wide, high = text_width(mark.text, mark.size, mark.bold) / 2 + 0.5, mark.size
            if abs(mark.at[0] - at[0]) <= wide and -0.6 * high <= at[1] - mark.at[1] <= 1.2 * high:
                return mark.part.removeprefix("measure:")
    return ""


def _off_line(line: Line, at: Point) -> float:
    """Return the distance of a place from a line [mm]."""
    (ax, ay), (bx, by) = line.a, line.b
    dx, dy = bx - ax, by - ay
    size = dx * dx + dy * dy
    t = min(1.0, max(0.0, ((at[0] - ax) * dx + (at[1] - ay) * dy) / size)) if size else 0.0
    return math.hypot(ax + t * dx - at[0], ay + t * dy - at[1])
