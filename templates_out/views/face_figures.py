"""The face's dimensions, at most seven at rest, the most telling first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache, partial

from msgspec.structs import replace

from geometry.readings.measures import floor_place
from geometry.solid.bracket_holes import bracket_ring
from geometry.solid.faces import Unmeasured, faces, need, profile_up
from geometry.solid.placed_bolts import Bolt
from geometry.solid.well import space
from geometry.units.units import format_length
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Path, Pen, Point, Text
from templates_out.views import view_pens as pens
from templates_out.views.dimensions import (
    AT_REST,
    Figure,
    Place,
    Placed,
    Sheet,
    beyond,
    extension,
    gap_box,
    over,
    size_line,
    with_lines,
)
from templates_out.views.face_bolts import CROSS, washer_radius
from templates_out.views.face_clearance import clearance_figure
from templates_out.views.figure_styles import as_read, figure_of, pen_of
from templates_out.views.view_focus import Scene, ground_at, in_hand

COLUMNS = (7.0, 10.0, 13.0, 4.5, 17.0, 20.0, 28.0)  # mm of paper next to the bracket where a column of figures may stand
_OVER = 5.0  # mm over the end of a dimension is the middle of a figure above it, or nearly
HEIGHTS = (0.5, 0.36, 0.64, 0.25, 0.75)  # of the way along a dimension


def figure_marks(scene: Scene, standing: tuple[Mark, ...], kept_places: dict[str, int] | None = None) -> tuple[Mark, ...]:
    """Return the dimensions and words, placed clear of ``standing``; the lit one first, the rest by importance.

    ``kept_places`` is what `Sheet` keeps of the last time, None for places chosen again.
    """
    motor = f":{scene.focus.mount}"
    still = next((number for number, mark in enumerate(standing) if mark.part.endswith(motor)), len(standing))
    ground = _standing_ground(tuple(_obstacles(standing[:still]))).plus(_obstacles(standing[still:]))
    rect = 1.0, 1.0, scene.view.width - 1.0, scene.view.height - 1.0
    sheet = Sheet(ground, rect, kept_places={} if kept_places is None else kept_places)
    if scene.style == "paper":  # on the screen the ruler has them
        for places in _names(scene):
            sheet = sheet.put(places)
    kinds, lit = _kinds(scene), scene.focus.lit
    if lit and lit not in kinds:
        from templates_out.views.face_lit_dimensions import lit_figure

        only_lit = lit_figure(scene)
        if only_lit is not None:
            kinds[lit] = lambda _scene, _sheet: only_lit()
    shown = len(sheet.placed) + AT_REST + (1 if lit in kinds else 0)
    for key in sorted(kinds, key=lambda key: key != lit):
        if len(sheet.placed) == shown:
            break
        try:
            sheet = sheet.put_where_it_was(key, partial(kinds[key], scene, sheet), always=key == lit)
        except Unmeasured:
            continue
    return (*(mark for placed in sheet.placed for mark in placed.marks), *_words(scene, sheet))


@lru_cache(maxsize=4)
def _standing_ground(obstacles: tuple[Mark, ...]) -> Ground:
    """Return the ground with what does not belong to the motor in hand: in a drag it is the same from step to step."""
    ground = Ground().plus(obstacles)
    ground.near((0.0, 0.0, 0.0, 0.0), 0.0)  # so that its rows are ready, and are handed on
    return ground


def _obstacles(standing: tuple[Mark, ...]) -> Iterator[Mark]:
    """The marks that a figure keeps clear of: all but hatches, tints and the finest lines."""
    for mark in standing:
        kept = mark.part in ("centreline", "zone") or mark.part.startswith(("bracket", "fitting"))
        match mark:
            case Line() | Arc() if kept or mark.pen.weight >= pens.HEAVY:
                if not mark.part.startswith("outline edge"):  # there already, as the transom's outline
                    yield mark
            case Path() if mark.pen is not None and (kept or mark.pen.weight >= pens.HEAVY):
                yield Path(mark.points, mark.closed, mark.pen)
            case Circle() if mark.pen is not None:
                yield mark
            case Text():
                yield mark
            case _:
                continue


Maker = Callable[[Scene, Sheet], Iterator[Place]]


def _kinds(scene: Scene) -> dict[str, Maker]:
    """Return what can be dimensioned, by the measure's key, in order of importance."""
    makers: dict[str, Maker] = {}
    index, mounts = scene.focus.mount, scene.design.mounts
    bolted = index < len(mounts) and mounts[index].bracket.rows is not None
    if bolted:
        makers["clearance"] = clearance_figure
        makers[f"mounts.{index}.drop"] = _drop
        makers[f"mounts.{index}.upper_at"] = _upper_depth
    if scene.design.well is not None:
        makers["well.floor_port"] = partial(_floor, -1)
        makers["well.floor_starboard"] = partial(_floor, 1)
    if bolted:
        makers[f"mounts.{index}.bracket.rows.half_spacing"] = partial(_half_spacing, "upper")
        makers[f"mounts.{index}.bracket.lower.half_spacing"] = partial(_half_spacing, "lower")
    if index < len(mounts) and mounts[index].offset:
        makers[f"mounts.{index}.offset"] = _offset
    return makers


def _cross(scene: Scene, bolt: Bolt) -> float:
    return CROSS * washer_radius(bolt) * scene.view.scale


def _columns(scene: Scene) -> list[float]:
    """Return where an upright dimension of the motor in hand may be: next to its bracket, or between its holes."""
    ring = [scene.at(u, v) for u, v in bracket_ring(scene.design.mounts[scene.focus.mount], scene.focus.mount)]
    bolt = in_hand(scene, "upper starboard")
    out = max(max(x for x, _ in ring), scene.at(bolt.u, 0.0)[0] + _cross(scene, bolt))
    port = in_hand(scene, "upper port")
    back = min(min(x for x, _ in ring), scene.at(port.u, 0.0)[0] - _cross(scene, port))
    lower = in_hand(scene, "lower starboard")
    between = min(scene.at(each.u, 0.0)[0] - _cross(scene, each) for each in (bolt, lower))
    every = (*(out + off for off in COLUMNS), *(back - off for off in COLUMNS), between - 6.0, between - 10.0)
    return [x for x in every if 0 < x < scene.view.width]


def _middle(scene: Scene) -> float:
    """Return x of the middle of the motor in hand: a dimension is read at the bolts on the near side of it."""
    return scene.at(scene.design.mounts[scene.focus.mount].offset or 0.0, 0.0)[0]


def _upright(
    scene: Scene, sheet: Sheet | None, key: str, text: str, x: float, ends: tuple[Point, Point],
    lead: tuple[float, float], where: float,
) -> Placed | None:  # fmt: skip
    """Return an upright dimension at ``x`` between two heights, with extension lines from ``lead`` off the ends.

    With ``sheet`` None where its figure would be on something there: drawn at each move of a hand, most would be made
    for nothing.
    """
    (_, ya), (_, yb) = ends
    figure = figure_of(scene, key, text, ground_at(scene, (x, (ya + yb) / 2)))
    box = None if sheet is None else gap_box((x, ya), (x, yb), figure, where)
    if sheet is not None and box is not None and not sheet.is_open(box):
        return None
    pen = pen_of(scene, key)
    return with_lines(size_line((x, ya), (x, yb), figure, where, pen), *_leads(x, ends, lead, figure.part, pen))


def _leads(
    x: float, ends: tuple[Point, Point], lead: tuple[float, float], part: str, pen: Pen
) -> Iterator[Line | None]:
    side = 1.0 if x >= ends[0][0] else -1.0
    for (start, y), off in zip(ends, lead, strict=True):
        yield extension((start + side * off, y), (x, y), part, pen) if off >= 0 else None


def _size(scene: Scene, mm: float) -> str:
    return format_length(mm, scene.design.units)


def _drop(scene: Scene, sheet: Sheet) -> Iterator[Place]:
    key = f"mounts.{scene.focus.mount}.drop"
    upper, lower = in_hand(scene, "upper starboard"), in_hand(scene, "lower starboard")
    drop = as_read(scene, key, upper.v - lower.v)
    yield from _down(scene, _sieve(scene, sheet, key), key, drop, upper, lower, _columns(scene))


def _sieve(scene: Scene, sheet: Sheet, key: str) -> Sheet | None:
    """Return the sheet by which places are left out; none for what is lit, which is put down even where it is not free."""
    return None if scene.focus.lit == key else sheet


def _down(
    scene: Scene, sheet: Sheet | None, key: str, mm: float, upper: Bolt, lower: Bolt, columns: list[float]
) -> Iterator[Place]:
    text, middle = _size(scene, mm), _middle(scene)
    for x in columns:
        pair = upper, lower
        if x < middle and not upper.port:
            pair = in_hand(scene, "upper port"), in_hand(scene, "lower port")
        (xa, ya), (xb, yb) = (scene.at(bolt.u, bolt.v) for bolt in pair)
        lead = _cross(scene, pair[0]), _cross(scene, pair[1])
        for where in HEIGHTS:
            yield partial(_upright, scene, sheet, key, text, x, ((xa, ya), (xb, yb)), lead, where)


def _upper_depth(scene: Scene, sheet: Sheet) -> Iterator[Place]:
    """In one line with the drop, if that has found a place."""
    key = f"mounts.{scene.focus.mount}.upper_at"
    columns = _columns(scene)
    columns = [placed.lines[0].a[0] for placed in sheet.placed if placed.figure.part.endswith(".drop")] + columns
    sieve = _sieve(scene, sheet, key)
    for x in columns:
        bolt = in_hand(scene, "upper starboard" if x >= _middle(scene) else "upper port")
        ends = (x, scene.at(0.0, 0.0)[1]), scene.at(bolt.u, bolt.v)
        text = _size(scene, as_read(scene, key, -bolt.v))
        lead = -1.0, _cross(scene, bolt)
        for where in (0.5, 0.4):
            yield partial(_upright, scene, sieve, key, text, x, ends, lead, where)
        yield partial(_above, scene, sieve, key, text, x, ends, lead)


def _above(
    scene: Scene, sheet: Sheet | None, key: str, text: str, x: float, ends: tuple[Point, Point], lead: tuple[float, float]
) -> Placed | None:
    """Return an upright dimension with its figure over it; with ``sheet`` None where that would be on something."""
    (_, ya), (_, yb) = ends
    figure = figure_of(scene, key, text, ground_at(scene, (x, ya + _OVER)))
    if sheet is not None and not sheet.is_open(figure.box(over((x, ya), figure))):
        return None
    pen = pen_of(scene, key)
    return beyond((x, ya), (x, yb), figure, pen, *_leads(x, ends, lead, figure.part, pen))


def _floor(side: int, scene: Scene, sheet: Sheet) -> Iterator[Place]:
    """Floor depth from where the well is measured, near the well's side; read under the lower bolt."""
    design = scene.boat
    key = "well.floor_port" if side < 0 else "well.floor_starboard"
    face, well = faces(design.transom), design.well
    if well is None:
        return
    u = floor_place(design, side)
    inner = space(design)
    floor = inner.floor_at(u)
    if floor is None:
        return
    top = profile_up(face, well)
    start, end = scene.at(u, top * face.cos_taper), scene.at(u, floor * face.cos_taper)
    corner = well.profile[1 if side < 0 else -2][0]
    wall = scene.at(need(corner, "well.profile"), 0.0)[0]
    columns = [wall - side * off for off in (6.5, 9.0, 12.0, 15.0, 5.2)]
    if (wall - start[0]) * side > 60.0 and any(abs(edge.b[1] - edge.a[1]) > 1.0 for edge in inner.edges[2:-2]):
        columns = [start[0] + side * off for off in (9.0, 14.0, 19.0, 25.0)]  # the floor slopes: by where it is read
    text = _size(scene, as_read(scene, key, top - floor))
    sieve = _sieve(scene, sheet, key)
    for x in columns:
        if (x - start[0]) * side < 4.0:
            return
        at_floor = inner.floor_at(scene.view.to_boat((x, 0.0))[0])
        level = at_floor is not None and abs(at_floor - floor) * scene.view.scale < 0.3
        heights = (0.5, 0.6, 0.4) if side < 0 else (0.3, 0.4, 0.2, 0.7)
        for where in heights:
            yield partial(_upright, scene, sieve, key, text, x, (start, end), (-1.0, -1.0 if level else 0.0), where)


def _half_spacing(pair: str, scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    """Along the hole's own cross, from the bracket's centre, without extension lines."""
    index = scene.focus.mount
    spread = "rows" if pair == "upper" else "lower"
    key = f"mounts.{index}.bracket.{spread}.half_spacing"
    offset = need(scene.design.mounts[index].offset, f"mounts.{index}.offset")
    for name, sign in ((f"{pair} starboard", 1), (f"{pair} port", -1)):
        bolt = in_hand(scene, name)
        a, hole = scene.at(offset, bolt.v), scene.at(bolt.u, bolt.v)
        b = hole[0] - sign * _cross(scene, bolt), hole[1]
        strip = min(a[0], b[0]) + 1.5, a[1] - 2.6, max(a[0], b[0]) - 1.5, a[1] + 2.6
        if strip[2] - strip[0] < 4.0 or not sheet.ground.is_free_box(*strip, gap=0.3):
            continue
        for where in (0.5, 0.62, 0.38):
            middle = a[0] + (b[0] - a[0]) * where, a[1]
            figure = figure_of(scene, key, as_read(scene, key, abs(bolt.u - offset)), ground_at(scene, middle))
            yield size_line(a, b, figure, where, pen_of(scene, key), strokes="a")


def _offset(scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    index = scene.focus.mount
    key = f"mounts.{index}.offset"
    offset = need(scene.design.mounts[index].offset, key)
    ring = [scene.at(u, v) for u, v in bracket_ring(scene.design.mounts[index], index)]
    top, foot = max(y for _, y in ring), min(y for _, y in ring)
    x0, x1 = scene.at(0.0, 0.0)[0], scene.at(offset, 0.0)[0]
    named = top + (scene.word_size + 1.2 if len(scene.design.mounts) > 1 else 0.0)  # its name is there
    for y, start in ((named + 6.0, named), (top + 8.0, named), (top + 13.0, named), (foot - 6.0, foot), (foot - 11.0, foot)):
        figure = figure_of(scene, key, abs(offset), ground_at(scene, ((x0 + x1) / 2, y)))
        lines = [extension((x1, start), (x1, y), figure.part)]
        for where in (0.5, 0.3):
            yield with_lines(size_line((x0, y), (x1, y), figure, where, pen_of(scene, key)), *lines)


def _names(scene: Scene) -> Iterator[list[Placed]]:
    """PORT and STARBOARD, above the drawing where there is room, else below it."""
    size, view = scene.word_size * 1.2, scene.view
    for name, right in (("PORT", False), ("STARBOARD", True)):
        figure = Figure(name, name.lower(), size, bold=True, narrow=scene.narrow)
        half = figure.width / 2 + 2.0
        x = view.width - half if right else half
        heights = (view.height - 4.0, view.height - 9.0, view.height - 14.0, 4.0, 9.0, 14.0, 19.0, 24.0, 29.0)
        yield [Placed(replace(figure, patch=ground_at(scene, (x, y))), (x, y), ()) for y in heights]


def _words(scene: Scene, sheet: Sheet) -> Iterator[Mark]:
    """The words that say what is seen, where they are free."""
    right, low = scene.view.width - 3.0, 2.0 + scene.word_size / 2
    astern = Figure("seen from astern", "", scene.word_size, role="soft", narrow=scene.narrow)
    floor = Figure("well floor", "", scene.word_size, role="soft", narrow=scene.narrow)
    corners = [(right - astern.width / 2, low + up) for up in (0.0, 6.0, 12.0)]
    for figure, places in ((astern, corners), (floor, list(_under_floor(scene)))):
        for at in places:
            placed = Placed(replace(figure, patch=ground_at(scene, at)), at, ())
            if sheet.has_room(placed):
                yield from placed.marks
                break


def _under_floor(scene: Scene) -> Iterator[Point]:
    """Places just under the dashed floor line, near the middle first."""
    try:
        cosine = faces(scene.boat.transom).cos_taper
        inner = space(scene.boat)
    except Unmeasured:
        return
    for u in (60.0, 40.0, 75.0, -60.0, 90.0, 200.0, -200.0, 110.0):
        w = inner.floor_at(u)
        if w is not None:
            x, y = scene.at(u, w * cosine)
            yield x, y - scene.word_size * 0.5 - 2.0
