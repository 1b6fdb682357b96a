"""The face's standing parts: transom, well, blocks, fittings, old holes and brackets, seen from astern."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from geometry.design.boat import OldHole
from geometry.design.design import Design
from geometry.design.motor import Mount
from geometry.design.validity import known
from geometry.solid.bracket_holes import bracket_ring, hook_above_datum, mount_key
from geometry.solid.faces import faces, need, need_all, profile_up
from geometry.solid.openings import Opening, openings
from geometry.tables import fasteners
from geometry.zones.areas import inner_face, land_lines, well_area
from templates_out.drawing.fonts import text_width, writable
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Mark, Path, Pen, Point, Text
from templates_out.drawing.opening_shape import opening_shape
from templates_out.views import view_pens as pens
from templates_out.views.view_focus import Scene, on_sheet
from templates_out.views.viewport import if_known

HANDLE = 2.1  # mm: 8 px
CROSS_BEYOND = 4.0  # mm on paper: of an opening's cross, beyond its circle


def standing_marks(scene: Scene) -> tuple[Mark, ...]:
    """Return all that is there before a hole is drilled, and the brackets."""
    design = scene.design
    return (
        *if_known(partial(_transom, scene)),
        *if_known(partial(_well, scene)),
        *if_known(partial(_transom_edges, scene)),
        *if_known(partial(_land, scene)),
        *(mark for i in range(len(design.inside_blocks)) for mark in if_known(partial(_block, scene, i))),
        *(mark for i in range(len(design.outside_fittings)) for mark in if_known(partial(_fitting, scene, i))),
        *(mark for i in range(len(design.mounts)) for mark in if_known(partial(_bracket, scene, i))),
        *(mark for i in range(len(design.old_holes)) for mark in if_known(partial(old_hole_marks, scene, i))),
        *(mark for each in openings(scene.boat) for mark in if_known(partial(_opening, scene, each))),
        *if_known(partial(_handles, scene)),
    )


def _transom(scene: Scene) -> Iterator[Mark]:
    corners = known(scene.design.transom.outline)
    if corners:
        yield Path(tuple(scene.at(*at) for at in corners), True, pens.CUT, "wood", "transom")


def _transom_edges(scene: Scene) -> Iterator[Mark]:
    """Each edge by itself, so that it can be lit and grabbed; those with both ends known where not all are."""
    corners = scene.design.transom.outline
    for index, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True)):
        ends = known((a, b))
        if ends:
            yield Line(scene.at(*ends[0]), scene.at(*ends[1]), pens.CUT, f"outline edge {index}")


def _well(scene: Scene) -> Iterator[Mark]:
    """The well through the wood: its free space tinted, profile and inside top edge dashed."""
    design = scene.boat
    cosine = faces(design.transom).cos_taper
    if design.well is None:
        for ring in inner_face(design):
            yield Path(tuple(scene.at(u, w * cosine) for u, w in ring), True, pens.HIDDEN, None, "inside edge")
        return
    profile = _profile(design, scene)
    for ring in well_area(design):
        points = tuple(scene.at(u, w * cosine) for u, w in ring)
        yield Path(points, True, None, "well", "well")
        for a, b in zip(points, points[1:] + points[:1], strict=True):
            if not any(_on(a, side) and _on(b, side) for side in zip(profile, profile[1:], strict=False)):
                yield Line(a, b, pens.HIDDEN, "inside top edge")
    for index, (a, b) in enumerate(zip(profile, profile[1:], strict=False)):
        yield Line(a, b, pens.HIDDEN, f"profile edge {index}")


def _profile(design: Design, scene: Scene) -> list[Point]:
    if design.well is None:
        return []
    face = faces(design.transom)
    up = profile_up(face, design.well)
    corners = need_all(design.well.profile, "well.profile")
    return [scene.at(u, (y + up) * face.cos_taper) for u, y in corners]


def _on(at: Point, side: tuple[Point, Point]) -> bool:
    """Say whether a place is on a segment, within 0.01 mm of paper."""
    (ax, ay), (bx, by) = side
    length = math.hypot(bx - ax, by - ay)
    return abs(math.dist(at, side[0]) + math.dist(at, side[1]) - length) < 0.01


def _land(scene: Scene) -> Iterator[Mark]:
    if scene.design.well is None:
        return
    cosine = faces(scene.boat.transom).cos_taper
    for a, b in land_lines(scene.boat):
        yield Line(scene.at(a[0], a[1] * cosine), scene.at(b[0], b[1] * cosine), pens.LAND, "flat land")


def _block(scene: Scene, index: int) -> Iterator[Mark]:
    design = scene.boat
    face = faces(design.transom)
    up = profile_up(face, design.well) if design.well is not None else face.edge_w
    corners = need_all(design.inside_blocks[index].outline, f"inside_blocks.{index}.outline")
    ring = tuple(scene.at(u, (y + up) * face.cos_taper) for u, y in corners)
    for piece in on_sheet(scene, ring):
        yield Hatch(piece, 45.0, 3.2, pens.FINE, part=f"block {index}")
    yield Path(ring, True, pens.HIDDEN, None, f"block {index}")


def _fitting(scene: Scene, index: int) -> Iterator[Mark]:
    fitting = scene.design.outside_fittings[index]
    corners = need_all(fitting.outline, f"outside_fittings.{index}.outline")
    ring = tuple(scene.at(u, v) for u, v in corners)
    yield Path(ring, True, pens.OLD, "sheet", f"fitting {index}")
    if fitting.drill is not None:
        return  # its own cross is to be seen there
    left, right = min(ring), max(ring)
    half = len(ring) // 2
    a, b = (ring[0], ring[half]) if len(ring) == 4 else (left, right)
    yield Line(a, b, Pen("old", 0.18), f"fitting {index}")


def old_hole_marks(scene: Scene, index: int) -> Iterator[Mark]:
    """An old hole by its state: open empty, plugged with two chords, reused with a second ring in new."""
    old = scene.boat.old_holes[index]
    part = f"old hole {index}"
    centre = scene.at(need(old.at[0], f"old_holes.{index}.across"), need(old.at[1], f"old_holes.{index}.down"))
    radius = old_radius(old, index) * scene.view.scale
    yield Circle(centre, radius, pens.OLD, None, part)
    if old.state == "plugged":
        away, half = radius * 0.35, radius * math.sqrt(1 - 0.35**2)
        c = math.sqrt(0.5)
        for side in (-away, away):
            x, y = centre[0] - side * c, centre[1] + side * c
            yield Line((x - half * c, y - half * c), (x + half * c, y + half * c), Pen("old", 0.18), part)
    if old.is_reused:
        yield Circle(centre, radius + 0.8, pens.NEW_SEEN, None, part)


def _opening(scene: Scene, opening: Opening) -> Iterator[Mark]:
    """A hole that is still to be drilled for a cable or a hose; it belongs to its fitting, or to its old hole."""
    kind, index, _ = opening.key.split(".")
    part = f"{'old hole' if kind == 'old_holes' else 'fitting'} {index}"
    radius = opening.diameter / 2 * scene.view.scale
    pen = pens.NEW_FINE, pens.NEW_SEEN, pens.NEW_FINE
    yield from opening_shape(scene.at(*opening.at), radius, radius + CROSS_BEYOND, pen, part)


def old_radius(old: OldHole, index: int) -> float:
    """Return the radius that an old hole is drawn with: of its plug where it has one [mm].

    Raises:
        Unmeasured: neither is known.
    """
    if old.state == "plugged" and old.plug_diameter is not None:
        return old.plug_diameter / 2
    return need(old.diameter, f"old_holes.{index}.diameter") / 2


def _bracket(scene: Scene, index: int) -> Iterator[Mark]:
    mount = scene.design.mounts[index]
    in_hand = index == scene.focus.mount
    (edge,) = _bracket_edge(scene, index)
    yield edge
    ring = edge.points
    if len(scene.design.mounts) > 1:
        yield _name(scene, ring, index)
    yield from _bracket_holes(scene, mount, index, pens.FINE if in_hand else pens.OTHER)


def _bracket_edge(scene: Scene, index: int) -> Iterator[Path]:
    ring = tuple(scene.at(u, v) for u, v in bracket_ring(scene.design.mounts[index], index))
    yield Path(ring, True, pens.SEEN if index == scene.focus.mount else pens.OTHER, None, f"bracket:{index}")


def _name(scene: Scene, ring: tuple[Point, ...], index: int) -> Text:
    """Return a motor's name at its bracket's top or foot, where no edge crosses it, nor the name of one that overlaps it.

    Edges are the transom's and those of other brackets, and with them counts the centreline.
    """
    name, in_hand, size = writable(scene.design.mounts[index].name), index == scene.focus.mount, scene.word_size
    left, right, top = min(x for x, _ in ring), max(x for x, _ in ring), max(y for _, y in ring)
    foot, half = min(y for _, y in ring), text_width(name, size, in_hand) / 2
    heights = top + 1.2, top - size, foot + 1.2, foot - size
    middle = (left + right) / 2
    places = [(x, y) for y in heights for x in (middle, left + half + 1.2, right - half - 1.2)]
    neighbours = (i for i in range(len(scene.design.mounts)) if i != index)
    others = {i: edge for i in neighbours for edge in if_known(partial(_bracket_edge, scene, i)) if isinstance(edge, Path)}
    before = {i: edge.points for i, edge in others.items() if i < index and _comes_between(edge.points, left, right)}
    names = [_name(scene, other, i) for i, other in before.items()]
    x = scene.at(0.0, 0.0)[0]
    centreline = Line((x, 0.0), (x, scene.view.height), pens.FINE)
    edges = Ground().plus((*if_known(partial(_transom_edges, scene)), *others.values(), centreline, *names))
    free = (at for at in places if edges.is_free_box(at[0] - half, at[1] - 0.2 * size, at[0] + half, at[1] + 0.8 * size, 0.4))
    above = (middle, places[0][1] + 1.4 * size * len(names))  # where no place is free
    return Text(next(free, above), name, size, "ink" if in_hand else "soft", in_hand, anchor="middle", part=f"bracket:{index}")


def _comes_between(ring: tuple[Point, ...], left: float, right: float) -> bool:
    """Return whether a ring comes between two places across [mm on paper]."""
    return min(x for x, _ in ring) < right and max(x for x, _ in ring) > left


def _bracket_holes(scene: Scene, mount: Mount, index: int, pen: Pen) -> Iterator[Mark]:
    up, offset = hook_above_datum(mount, index), need(mount.offset, mount_key(index, "offset"))
    scale, part = scene.view.scale, f"bracket:{index}"
    rows, lower, screws = mount.bracket.rows, mount.bracket.lower, mount.bracket.clamp_screws
    if screws is not None and screws.half_spacing is not None and screws.depth is not None:
        for side in (-1, 1):
            yield Circle(scene.at(offset + side * screws.half_spacing, up - screws.depth), 6.0 * scale, pen, None, part)
    if rows is None or lower is None or mount.upper_hardware is None or mount.lower_hardware is None:
        return
    row_radius = (rows.diameter or fasteners.bolt(mount.upper_hardware.bolt).diameter) / 2 * scale
    slot_radius = (lower.diameter or fasteners.bolt(mount.lower_hardware.bolt).diameter) / 2 * scale
    for side in (-1, 1):
        for row in range(rows.count):
            depth = rows.row0_depth + row * rows.pitch
            yield Circle(scene.at(offset + side * rows.half_spacing, up - depth), row_radius, pen, None, part)
        for high, low in lower.slots:
            u, base = offset + side * lower.half_spacing, up - rows.row0_depth
            yield from _slot(scene.at(u, base - high), scene.at(u, base - low), slot_radius, pen, part)


def _slot(top: Point, foot: Point, radius: float, pen: Pen, part: str) -> Iterator[Mark]:
    if top[1] - foot[1] < 1e-6:
        yield Circle(top, radius, pen, None, part)
        return
    yield Arc(top, radius, 0.0, 180.0, pen, part)
    yield Arc(foot, radius, 180.0, 360.0, pen, part)
    for side in (-radius, radius):
        yield Line((top[0] + side, top[1]), (foot[0] + side, foot[1]), pen, part)


def _handles(scene: Scene) -> Iterator[Mark]:
    """Squares on the corners of the chosen outline, profile or bracket, as read: a hand moves a reading."""
    if scene.focus.chosen.startswith("outline"):
        for index, at in enumerate(scene.design.transom.outline):
            yield from _handle(scene, at, f"outline corner {index}")
    if scene.focus.chosen.startswith("profile"):
        for index, place in enumerate(_profile(scene.design, scene)):
            yield _square(place, f"profile corner {index}")
    mount = scene.focus.mount
    if scene.focus.chosen.startswith(f"bracket:{mount}") and mount < len(scene.design.mounts):  # it may be off by now
        for index, at in enumerate(bracket_ring(scene.design.mounts[mount], mount)):
            yield _square(scene.at(*at), f"bracket:{mount} corner {index}")


def _handle(scene: Scene, at: tuple[float | None, float | None], part: str) -> Iterator[Mark]:
    corner = known((at,))
    if corner:
        yield _square(scene.at(*corner[0]), part)


def _square(at: Point, part: str) -> Path:
    half = HANDLE / 2
    ring = tuple((at[0] + x * half, at[1] + y * half) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1)))
    return Path(ring, True, pens.NEW_SEEN, "field", part)
