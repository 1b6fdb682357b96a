"""The face's dimensions, at most seven at rest, the most telling first."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial

from geometry.design.measures import floor_place
from geometry.design.units import format_clearance, format_length
from geometry.judge.findings import Finding
from geometry.solid.areas import inner_face, well_area
from geometry.solid.bolts import BOLT_NAMES, Bolt
from geometry.solid.frames import Unmeasured, faces, need, profile_up
from geometry.solid.planes import inside
from geometry.solid.rows import bracket_ring
from geometry.solid.well import space
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import Circle, Line, Mark, Path, Pen, Point, Role, Text
from templates_out.views import pens
from templates_out.views.face_bolts import BODIES, CROSS, overlap_rings, washer_radius
from templates_out.views.figures import (
    AT_REST,
    Figure,
    Placed,
    Sheet,
    beside,
    extension,
    leader,
    on_paper,
    size_line,
    with_lines,
)
from templates_out.views.sight import Scene, part_of

COLUMNS = (7.0, 13.0, 20.0, 28.0)  # mm of paper beside the bracket where a column of figures may stand
HEIGHTS = (0.5, 0.36, 0.64, 0.25, 0.75)  # of the way along a dimension


def figure_marks(scene: Scene, standing: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """Return the dimensions and words, placed clear of ``standing``; the lit one first, the rest by importance."""
    ground = Ground().plus(_obstacles(standing))
    sheet = Sheet(ground, (1.0, 1.0, scene.view.width - 1.0, scene.view.height - 1.0))
    kinds = _kinds(scene)
    order = list(kinds)
    if scene.sight.lit in order:
        order.remove(scene.sight.lit)
        order.insert(0, scene.sight.lit)
    shown = AT_REST + (1 if scene.sight.lit in kinds else 0)
    for key in order:
        if len(sheet.placed) == shown:
            break
        if key.startswith("old_holes.") and key != scene.sight.lit:
            continue
        try:
            sheet = sheet.put(kinds[key](scene, sheet))
        except Unmeasured:
            continue
    words = tuple(mark for text in _words(scene, sheet) for mark in text)
    return (*(mark for placed in sheet.placed for mark in placed.marks), *words)


def _obstacles(standing: tuple[Mark, ...]) -> Iterator[Mark]:
    """What a figure keeps clear of: all but hatches, tints and the finest lines."""
    for mark in standing:
        match mark:
            case Line() if mark.pen.weight >= pens.HEAVY or mark.part in ("centreline",):
                if not mark.part.startswith("outline edge"):
                    yield mark
            case Path() if mark.pen is not None and mark.pen.weight >= pens.HEAVY:
                yield Path(mark.points, mark.closed, mark.pen)
            case Circle() if mark.pen is not None:
                yield mark
            case Text():
                yield mark
            case _:
                continue


Maker = Callable[[Scene, Sheet], Iterator[Placed]]


def _kinds(scene: Scene) -> dict[str, Maker]:
    """Return what can be dimensioned, by the measure's key, in order of importance."""
    found: dict[str, Maker] = {"clearance": _clearance}
    index = scene.sight.mount
    if index < len(scene.design.mounts):
        found[f"mounts.{index}.drop"] = _drop
        found[f"mounts.{index}.upper_at"] = _upper_depth
    if scene.design.well is not None:
        found["well.floor_port"] = partial(_floor, -1)
        found["well.floor_starboard"] = partial(_floor, 1)
    if index < len(scene.design.mounts) and scene.design.mounts[index].bracket.rows is not None:
        found[f"mounts.{index}.bracket.rows.half_spacing"] = partial(_half_spacing, "upper")
        found[f"mounts.{index}.bracket.lower.half_spacing"] = partial(_half_spacing, "lower")
    if index < len(scene.design.mounts) and scene.design.mounts[index].offset:
        found[f"mounts.{index}.offset"] = _offset
    for number in range(len(scene.design.old_holes)):
        found[f"old_holes.{number}.across"] = partial(_old_hole, number, 0)
        found[f"old_holes.{number}.down"] = partial(_old_hole, number, 1)
    return found


def _figure(scene: Scene, key: str, mm: float, at: Point) -> Figure:
    """Return a measure's figure as it is written near the place ``at`` on paper."""
    guess, lit = scene.is_guess(key), scene.sight.lit == key
    role: Role = "soft" if guess or (scene.sight.lit and not lit) else "ink"
    text = on_paper(format_length(mm, scene.design.units), scene.style)
    patch: Role = "lit" if lit else _ground_at(scene, at)
    return Figure(text, f"measure:{key}", scene.figure_size, guess, role, lit or key.endswith(".drop"), scene.narrow, patch)


def _ground_at(scene: Scene, at: Point) -> Role:
    """Return what lies behind a place on paper: well, wood or the bare sheet."""
    u, v = scene.view.to_boat(at)
    try:
        cosine = faces(scene.design.transom).cos_taper
        if any(inside((u, v / cosine), ring) for ring in well_area(scene.design)):
            return "well"
    except Unmeasured:
        pass
    outline = [(a, b) for a, b in scene.design.transom.outline if a is not None and b is not None]
    return "wood" if inside((u, v), outline) else "sheet"


def _pair(scene: Scene, name: str) -> Bolt:
    """Return a bolt of the motor in hand."""
    return Bolt(scene.design, scene.sight.mount, scene.design.mounts[scene.sight.mount], BOLT_NAMES[BOLT_NAMES.index(name)])  # type: ignore[arg-type]


def _cross(scene: Scene, bolt: Bolt) -> float:
    return CROSS * washer_radius(bolt) * scene.view.scale


def _columns(scene: Scene) -> list[float]:
    """Return where an upright dimension of the motor in hand may stand: right of its bracket, then left of it."""
    ring = [scene.at(u, v) for u, v in bracket_ring(scene.design.mounts[scene.sight.mount], scene.sight.mount)]
    bolt = _pair(scene, "upper starboard")
    out = max(max(x for x, _ in ring), scene.at(bolt.u, 0.0)[0] + _cross(scene, bolt))
    port = _pair(scene, "upper port")
    back = min(min(x for x, _ in ring), scene.at(port.u, 0.0)[0] - _cross(scene, port))
    return [out + off for off in COLUMNS] + [back - off for off in COLUMNS]


def _upright(
    scene: Scene, key: str, mm: float, x: float, ends: tuple[Point, Point], where: float, lead: tuple[float, float]
) -> Placed:
    """Return an upright dimension at ``x`` between two heights, with extension lines from ``lead`` off the ends."""
    (xa, ya), (xb, yb) = ends
    side = 1.0 if x >= xa else -1.0
    figure = _figure(scene, key, mm, (x, (ya + yb) / 2))
    pen = _pen(scene, key)
    lines = [
        extension((start + side * off, y), (x, y), figure.part, pen) if off >= 0 else None
        for start, y, off in ((xa, ya, lead[0]), (xb, yb, lead[1]))
    ]
    return with_lines(size_line((x, ya), (x, yb), figure, where, pen), *lines)


def _pen(scene: Scene, key: str) -> Pen:
    faded = scene.is_guess(key) or (scene.sight.lit and scene.sight.lit != key)
    return Pen("soft", 0.18) if faded else pens.SIZE


def _drop(scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    key = f"mounts.{scene.sight.mount}.drop"
    upper, lower = _pair(scene, "upper starboard"), _pair(scene, "lower starboard")
    yield from _down(scene, key, upper.v - lower.v, upper, lower, _columns(scene))


def _down(scene: Scene, key: str, mm: float, upper: Bolt, lower: Bolt, columns: list[float]) -> Iterator[Placed]:
    for x in columns:
        if x < scene.at(0.0, 0.0)[0]:
            upper, lower = _pair(scene, "upper port"), _pair(scene, "lower port")
        ends = scene.at(upper.u, upper.v), scene.at(lower.u, lower.v)
        for where in HEIGHTS:
            yield _upright(scene, key, mm, x, ends, where, (_cross(scene, upper), _cross(scene, lower)))


def _upper_depth(scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    """In one line with the drop, if that has found a place."""
    key = f"mounts.{scene.sight.mount}.upper_at"
    columns = _columns(scene)
    for placed in sheet.placed:
        if placed.figure.part.endswith(".drop"):
            columns.insert(0, placed.centre[0] if abs(placed.centre[0] - placed.lines[0].a[0]) < 0.1 else placed.lines[0].a[0])
    for x in columns:
        bolt = _pair(scene, "upper starboard" if x >= scene.at(0.0, 0.0)[0] else "upper port")
        ends = (x, scene.at(0.0, 0.0)[1]), scene.at(bolt.u, bolt.v)
        for where in (0.5, 0.4):
            yield _upright(scene, key, -bolt.v, x, ends, where, (-1.0, _cross(scene, bolt)))


def _floor(side: int, scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    """Floor depth from where the well is measured, near the well's side; read under the lower bolt."""
    design = scene.design
    key = "well.floor_port" if side < 0 else "well.floor_starboard"
    face, well = faces(design.transom), design.well
    if well is None:
        return
    u = floor_place(design, side)
    floor = space(design).floor_at(u)
    if floor is None:
        return
    top = profile_up(face, well)
    start, end = scene.at(u, top * face.cos_taper), scene.at(u, floor * face.cos_taper)
    corner = well.profile[1 if side < 0 else -2][0]
    wall = scene.at(need(corner, "well.profile"), 0.0)[0]
    for off in (6.5, 11.0, 15.0, 20.0, 26.0):
        x = wall - side * off
        if (x - start[0]) * side < 4.0:
            return
        for where in (0.42, 0.56, 0.3, 0.7):
            at_floor = space(design).floor_at(scene.view.to_boat((x, 0.0))[0])
            level = at_floor is not None and abs(at_floor - floor) * scene.view.scale < 0.3
            yield _upright(scene, key, top - floor, x, (start, end), where, (-1.0, -1.0 if level else 0.0))


def _half_spacing(pair: str, scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    """Along the hole's own cross, from the bracket's centre, without extension lines."""
    index = scene.sight.mount
    spread = "rows" if pair == "upper" else "lower"
    key = f"mounts.{index}.bracket.{spread}.half_spacing"
    offset = need(scene.design.mounts[index].offset, f"mounts.{index}.offset")
    for name, sign in ((f"{pair} starboard", 1), (f"{pair} port", -1)):
        bolt = _pair(scene, name)
        a, hole = scene.at(offset, bolt.v), scene.at(bolt.u, bolt.v)
        b = hole[0] - sign * _cross(scene, bolt), hole[1]
        strip = min(a[0], b[0]) + 1.5, a[1] - 0.9, max(a[0], b[0]) - 1.5, a[1] + 0.9
        if strip[2] - strip[0] < 4.0 or not sheet.ground.is_free_box(*strip, gap=0.3):
            continue
        for where in (0.5, 0.62, 0.38):
            middle = a[0] + (b[0] - a[0]) * where, a[1]
            figure = _figure(scene, key, abs(bolt.u - offset), middle)
            yield size_line(a, b, figure, where, _pen(scene, key), strokes="a")


def _offset(scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    index = scene.sight.mount
    key = f"mounts.{index}.offset"
    offset = need(scene.design.mounts[index].offset, key)
    ring = [scene.at(u, v) for u, v in bracket_ring(scene.design.mounts[index], index)]
    top, foot = max(y for _, y in ring), min(y for _, y in ring)
    x0, x1 = scene.at(0.0, 0.0)[0], scene.at(offset, 0.0)[0]
    for y, start in ((top + 8.0, top), (top + 13.0, top), (foot - 6.0, foot), (foot - 11.0, foot)):
        figure = _figure(scene, key, abs(offset), ((x0 + x1) / 2, y))
        lines = [extension((x1, start), (x1, y), figure.part)]
        for where in (0.5, 0.3):
            yield with_lines(size_line((x0, y), (x1, y), figure, where, _pen(scene, key)), *lines)


def _old_hole(number: int, axis: int, scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    old = scene.design.old_holes[number]
    key = f"old_holes.{number}.{'across' if axis == 0 else 'down'}"
    u, v = need(old.at[0], key), need(old.at[1], key)
    at, datum = scene.at(u, v), scene.at(0.0, 0.0)
    side = 1.0 if u >= 0 else -1.0
    for off in (0.0, 9.0, -9.0, 14.0, -14.0):
        if axis == 0:
            y = at[1] + off
            figure = _figure(scene, key, abs(u), ((at[0] + datum[0]) / 2, y))
            line = extension((at[0], at[1]), (at[0], y), figure.part) if off else None
            for where in (0.5, 0.35):
                yield with_lines(size_line((datum[0], y), (at[0], y), figure, where), line)
        else:
            x = at[0] + side * abs(off) if off >= 0 else at[0] - side * abs(off)
            figure = _figure(scene, key, -v, (x, (at[1] + datum[1]) / 2))
            for where in HEIGHTS:
                line = extension(at, (x, at[1]), figure.part) if off else None
                yield with_lines(size_line((x, datum[1]), (x, at[1]), figure, where), line)


def smallest(scene: Scene) -> Finding | None:
    """Return the finding with the smallest clearance inside, over the bolts of the motor in hand."""
    found = [
        one for one in scene.checked.findings
        if one.check in BODIES and one.value is not None and (not one.mounts or scene.sight.mount in one.mounts)
    ]  # fmt: skip
    return min(found, key=lambda one: (one.state != "fouled", one.value), default=None)


def _clearance(scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    """The smallest clearance: on a leader where it is an overlap, else between washer and land."""
    finding = smallest(scene)
    if finding is None or finding.value is None:
        return
    name = finding.at.split(" / ")[1]
    bolt = _pair(scene, name)
    fouled = finding.state == "fouled"
    text = on_paper(format_clearance(finding.value, scene.design.units), scene.style)
    size = scene.figure_size * (1.25 if fouled else 1.0)
    role: Role = "fouled" if fouled else "ink"
    body = bolt.body(finding.check)
    if body is None:
        return
    part = f"finding:{finding.check}:{finding.at}"
    exit_at = scene.at(bolt.u, bolt.exit.v)
    if not fouled and finding.check == "washer":
        yield from _gap(scene, bolt, finding.value, Figure(text, part, size, False, role, True, scene.narrow, "well"))
    target = exit_at[0], exit_at[1] - body.shape.radius * scene.view.scale
    rings = list(overlap_rings(scene, bolt, (bolt,))) if fouled else []
    if rings:
        corners = [scene.at(*at) for at in rings[0][1]]
        target = sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)
    out = -1.0 if bolt.port else 1.0
    for dx, dy in ((16, -12), (20, -8), (14, -18), (22, -16), (26, -4), (12, -26), (-16, -14), (24, 12), (30, -24)):
        away = target[0] + out * dx, target[1] + dy
        figure = Figure(text, part, size, False, role, True, scene.narrow, _ground_at(scene, away))
        yield leader(target, (out * dx, dy), figure, Pen(role, 0.25))


def _gap(scene: Scene, bolt: Bolt, value: float, figure: Figure) -> Iterator[Placed]:
    """An upright clearance between the washer's foot and the land, beside it; nothing where it is not upright."""
    section = space(scene.design).section(0.0)
    at = bolt.exit.u, bolt.exit.w
    disc = bolt.washer_disc
    nearest = min(section.lines, key=lambda line: line.over(at) - disc.reach(-line.normal_u, -line.normal_w), default=None)
    if nearest is None or nearest.normal_w < 0.9:
        return
    if abs(nearest.over(at) - disc.reach(-nearest.normal_u, -nearest.normal_w) - value) > 0.01:
        return
    cosine, scale = bolt.faces.cos_taper, scene.view.scale
    foot = scene.at(at[0], (at[1] - min(disc.radius, disc.cut)) * cosine)
    land = scene.at(at[0], (at[1] - nearest.over(at)) * cosine)
    side = -1.0 if bolt.port else 1.0
    for off in (3.0, 8.0, -3.0, -8.0):
        x = foot[0] + side * (disc.radius * scale + abs(off)) * (1 if off > 0 else -1)
        sign = 1.0 if x > foot[0] else -1.0
        pen = Pen("ink", 0.25)
        placed = beside((x, land[1]), (x, foot[1]), figure, pen, sign)
        yield with_lines(placed, extension(foot, (x, foot[1]), figure.part, pens.SIZE))


def _words(scene: Scene, sheet: Sheet) -> Iterator[tuple[Mark, ...]]:
    """The words that say what is seen, where they are free."""
    size, view = scene.word_size, scene.view
    candidates: list[list[tuple[str, Point, Role]]] = []
    low = 2.0 + 0.2 * size
    candidates.append([("seen from astern", (x, y), "soft") for y in (low, low + 6, low + 12) for x in (view.width - 3.0,)])
    candidates.append([("well floor", at, "soft") for at in _under_floor(scene)])
    for places in candidates:
        for text, at, role in places:
            figure = Figure(text, "", size, narrow=scene.narrow, role=role, patch=_ground_at(scene, at))
            centre = (at[0] - figure.width / 2, at[1] + figure.height / 2) if text == "seen from astern" else at
            placed = Placed(figure, centre, ())
            if sheet.has_room(placed):
                yield placed.marks
                break


def _under_floor(scene: Scene) -> Iterator[Point]:
    """Places just under the dashed floor line, near the middle first."""
    try:
        cosine = faces(scene.design.transom).cos_taper
        inner_face(scene.design)
        inner = space(scene.design)
    except Unmeasured:
        return
    for u in (60.0, 40.0, 75.0, -60.0, 90.0, 200.0, -200.0, 110.0):
        w = inner.floor_at(u)
        if w is not None:
            x, y = scene.at(u, w * cosine)
            yield x, y - scene.word_size * 0.5 - 2.0


def washer_part(bolt: Bolt) -> str:
    """Name a bolt's washer."""
    return part_of(bolt, "washer")


def cross_reach(scene: Scene, bolt: Bolt) -> float:
    """Return how far a hole's cross reaches [paper mm]."""
    return math.fabs(_cross(scene, bolt))
