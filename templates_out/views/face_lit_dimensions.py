"""Dimensions of the face that show only while their entry has the focus."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import partial

from geometry.design.validity import known
from geometry.readings.drilled_readings import drilled_of
from geometry.readings.measure import at_path
from geometry.solid.bracket_holes import bracket_ring, hook_above_datum, mount_key
from geometry.solid.faces import faces, need, profile_up
from templates_out.drawing.marks import Point
from templates_out.views.dimensions import Placed, extension, leader, size_line, with_lines
from templates_out.views.figure_styles import as_read, figure_of, pen_of
from templates_out.views.view_focus import Scene, ground_at, in_hand

_CORNER = re.compile(r"(?P<shape>well\.profile|inside_blocks\.\d+\.outline|outside_fittings\.\d+\.outline)"
                     r"\.(?P<at>\d+)\.(?P<axis>[01])")  # fmt: skip
_AWAY: tuple[Point, ...] = ((14.0, 10.0), (14.0, -10.0), (-14.0, 10.0), (-14.0, -10.0), (22.0, 16.0), (22.0, -18.0))


def lit_figure(scene: Scene) -> Callable[[], Iterator[Placed]] | None:
    """Return the places of the lit measure's figure, None where it is shown at rest or not on the face."""
    key, index = scene.focus.lit, scene.focus.mount
    if key.startswith("old_holes."):
        _, number, field = key.split(".", 2)
        if field.startswith("second."):
            return None  # read from inside: it is not on the face
        if field in ("across", "down"):
            return partial(_old_hole, scene, int(number), field)
        return partial(_old_size, scene, int(number), field)
    if key in ("well.floor_width", "well.top_width") and scene.design.well is not None:
        return partial(_width, scene, key)
    if key == "transom.height":
        return partial(_height, scene)
    if corner := _CORNER.fullmatch(key):
        return partial(_corner, scene, corner["shape"], int(corner["at"]), across=corner["axis"] == "0")
    if key.startswith(mount_key(index, "bracket.outline.")):
        return partial(_bracket_corner, scene, *map(int, key.split(".")[-2:]))
    if index >= len(scene.design.mounts) or scene.design.mounts[index].bracket.rows is None:
        return None
    field = key.removeprefix(mount_key(index, ""))
    if field in ("bracket.rows.row0_depth", "bracket.rows.pitch") or field.startswith("bracket.lower.slots."):
        return partial(_down_bracket, scene, field)
    if field.startswith("drilled."):
        _, hole, place = field.split(".", 2)
        return partial(_as_drilled, scene, hole.replace("_", " "), place)
    for pair in ("upper", "lower"):
        if field in (f"{pair}_hardware.washer.outer", f"{pair}_hardware.hole"):
            return partial(_diameter, scene, pair, field)
    return None


def _old_hole(scene: Scene, number: int, field: str) -> Iterator[Placed]:
    """From the centreline, or from the top edge, to an old hole's centre."""
    old, key = scene.boat.old_holes[number], scene.focus.lit
    yield from _to_centre(scene, (need(old.at[0], key), need(old.at[1], key)), 0.0, across=field == "across")


def _as_drilled(scene: Scene, hole: str, field: str) -> Iterator[Placed]:
    """From the centreline, or from the edge of that face, to an end of a hole as drilled; or its diameter.

    A value that is not read yet is at its planned place, with a question mark.
    """
    index, key = scene.focus.mount, scene.focus.lit
    held, bolt = drilled_of(scene.design, index, hole), in_hand(scene, hole)
    if held is None:
        return
    end, _, axis = field.partition(".")
    if not axis:
        u, v = held.outer
        yield from _round(scene, (bolt.u if u is None else u, bolt.v if v is None else v), need(held.diameter, key))
        return
    u, up = held.outer if end == "outer" else held.inner
    ways = {"across": axis == "0", "asked": (u if axis == "0" else up) is None}
    if end == "outer":
        yield from _to_centre(scene, (bolt.u if u is None else u, bolt.v if up is None else up), 0.0, **ways)
        return
    face, well = bolt.faces, scene.boat.well
    zero = face.edge_w if well is None else profile_up(face, well)
    v = (bolt.exit.w if up is None else up + zero) * face.cos_taper
    yield from _to_centre(scene, (bolt.exit.u if u is None else u, v), zero * face.cos_taper, **ways)


def _to_centre(scene: Scene, place: Point, edge: float, *, across: bool, asked: bool = False) -> Iterator[Placed]:
    """From the centreline, or from the height ``edge``, to a hole's centre. ``asked``: nobody read it yet."""
    (u, v), key = place, scene.focus.lit
    at, datum = scene.at(u, v), scene.at(0.0, edge)
    side = 1.0 if u >= 0 else -1.0
    for off in (0.0, 9.0, -9.0, 14.0, -14.0):
        if across:
            a, b = (datum[0], at[1] + off), (at[0], at[1] + off)
        else:
            a, b = (at[0] + side * off, datum[1]), (at[0] + side * off, at[1])
        middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        said = "?" if asked else as_read(scene, key, abs(u) if across else edge - v)
        figure = figure_of(scene, key, said, ground_at(scene, middle))
        for where in (0.5, 0.36, 0.64):
            yield with_lines(size_line(a, b, figure, where), extension(at, b, figure.part))


def _corner(scene: Scene, shape: str, number: int, *, across: bool) -> Iterator[Placed]:
    """From the centreline, or from the edge that its heights count from, to a corner of a drawn part."""
    u, up = (need(value, scene.focus.lit) for value in at_path(scene.boat, shape)[number])
    if shape.startswith("outside_fittings."):
        yield from _to_centre(scene, (u, up), 0.0, across=across)
        return
    face, well = faces(scene.boat.transom), scene.boat.well
    zero = face.edge_w if well is None else profile_up(face, well)
    yield from _to_centre(scene, (u, (up + zero) * face.cos_taper), zero * face.cos_taper, across=across)


def _height(scene: Scene) -> Iterator[Placed]:
    """From the top edge to the hull's bottom at the centreline. The figure is the plumb height, as it is read."""
    height, outline = need(scene.design.transom.height, "transom.height"), known(scene.design.transom.outline)
    if not outline:
        return
    (x, top), (_, foot) = scene.at(0.0, 0.0), scene.at(0.0, min(v for _, v in outline))
    for off in (10.0, -10.0, 16.0, -16.0, 24.0, -24.0):
        figure = figure_of(scene, "transom.height", height, ground_at(scene, (x + off, (top + foot) / 2)))
        lines = tuple(extension((x, y), (x + off, y), figure.part) for y in (top, foot))
        for where in (0.8, 0.6, 0.9, 0.4):
            yield with_lines(size_line((x + off, top), (x + off, foot), figure, where), *lines)


def _old_size(scene: Scene, number: int, field: str) -> Iterator[Placed]:
    old, key = scene.boat.old_holes[number], scene.focus.lit
    size = need(old.plug_diameter if field == "plug_diameter" else old.diameter, key)
    yield from _round(scene, (need(old.at[0], key), need(old.at[1], key)), size)


def _diameter(scene: Scene, pair: str, field: str) -> Iterator[Placed]:
    """A washer's or a hole's diameter, at starboard."""
    bolt = in_hand(scene, f"{pair} starboard")
    if field.endswith("hole"):
        yield from _round(scene, (bolt.u, bolt.v), bolt.hole)
    else:
        yield from _round(scene, (bolt.u, bolt.exit.v), 2 * bolt.washer_disc.radius)


def _round(scene: Scene, at: Point, size: float) -> Iterator[Placed]:
    """A diameter on a leader from the rim."""
    x, y = scene.at(*at)
    radius = size / 2 * scene.view.scale
    for dx, dy in _AWAY:
        far = (dx * dx + dy * dy) ** 0.5
        rim = x + dx / far * radius, y + dy / far * radius
        figure = figure_of(scene, scene.focus.lit, size, ground_at(scene, (rim[0] + dx, rim[1] + dy)))
        wide = figure.width / 2 * (1.0 if dx > 0 else -1.0)
        yield leader(rim, (dx + wide, dy), figure, pen_of(scene, scene.focus.lit))


def _width(scene: Scene, key: str) -> Iterator[Placed]:
    """The well's width: below its floor, or above its top."""
    well = scene.boat.well
    corners = known(well.profile) if well is not None else None
    if well is None or corners is None:
        return
    face = faces(scene.boat.transom)
    up = profile_up(face, well)
    floor = key == "well.floor_width"
    ends = (corners[1], corners[2]) if floor else (corners[0], corners[-1])
    (xa, ya), (xb, yb) = [scene.at(u, (y + up) * face.cos_taper) for u, y in ends]
    level = min(ya, yb) if floor else max(ya, yb)
    for off in (7.0, 11.0, 16.0, 22.0):
        y = level - off if floor else level + off
        figure = figure_of(scene, key, as_read(scene, key, ends[1][0] - ends[0][0]), ground_at(scene, ((xa + xb) / 2, y)))
        lines = extension((xa, ya), (xa, y), figure.part), extension((xb, yb), (xb, y), figure.part)
        for where in (0.5, 0.36, 0.64, 0.25):
            yield with_lines(size_line((xa, y), (xb, y), figure, where), *lines)


def _bracket_corner(scene: Scene, corner: int, axis: int) -> Iterator[Placed]:
    """From the bracket's centre, or from its hook, to a corner of its outline."""
    index = scene.focus.mount
    mount, key = scene.design.mounts[index], scene.focus.lit
    u, v = bracket_ring(mount, index)[corner]
    centre, hook = need(mount.offset, mount_key(index, "offset")), hook_above_datum(mount, index)
    at, zero = scene.at(u, v), scene.at(centre, hook)
    side = 1.0 if u >= centre else -1.0
    for off in (9.0, 14.0, 20.0, -9.0, -14.0):
        if axis == 0:
            a, b = (zero[0], at[1] - off), (at[0], at[1] - off)
        else:
            a, b = (at[0] + side * off, zero[1]), (at[0] + side * off, at[1])
        middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        figure = figure_of(scene, key, abs(u - centre) if axis == 0 else hook - v, ground_at(scene, middle))
        for where in (0.5, 0.36, 0.64):
            yield with_lines(size_line(a, b, figure, where), extension(at, b, figure.part))


def _down_bracket(scene: Scene, field: str) -> Iterator[Placed]:
    """The measures down the bracket at starboard: top hole below the bracket hook, last pitch, slots below the top hole."""
    index = scene.focus.mount
    mount = scene.design.mounts[index]
    rows, lower = mount.bracket.rows, mount.bracket.lower
    if rows is None or lower is None:
        return
    hook = hook_above_datum(mount, index)
    row0, half = hook - rows.row0_depth, rows.half_spacing
    if field.endswith("row0_depth"):
        top, foot = hook, row0
    elif field.endswith("pitch"):
        foot = row0 - (rows.count - 1) * rows.pitch
        top = foot + rows.pitch
    else:
        slot, end = field.split(".")[-2:]
        top, foot, half = row0, row0 - lower.slots[int(slot)][int(end)], lower.half_spacing
    offset = need(mount.offset, mount_key(index, "offset"))
    for off in (12.0, 16.0, 20.0, 26.0, -12.0, -16.0, -22.0):
        side = 1.0 if off > 0 else -1.0
        (x, ya), (_, yb) = scene.at(offset + side * half, top), scene.at(offset + side * half, foot)
        at = x + off
        figure = figure_of(scene, scene.focus.lit, top - foot, ground_at(scene, (at, (ya + yb) / 2)))
        lines = extension((x, ya), (at, ya), figure.part), extension((x, yb), (at, yb), figure.part)
        for where in (0.5, 0.36, 0.64):
            yield with_lines(size_line((at, ya), (at, yb), figure, where), *lines)
