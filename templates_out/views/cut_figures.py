"""The cut's dimensions along the faces, and its words."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import partial

from msgspec.structs import replace

from geometry.readings.measures import name_of
from geometry.solid.faces import Unmeasured, profile_up
from geometry.solid.placed_bolts import Bolt
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import Line, Mark, Path, Point, Text
from templates_out.views import view_pens as pens
from templates_out.views.cut_boat import ground_at
from templates_out.views.cut_plane import Plane
from templates_out.views.dimensions import Figure, Placed, Sheet, extension, size_line, with_lines
from templates_out.views.figure_styles import as_read, figure_of, pen_of
from templates_out.views.view_focus import Scene
from templates_out.views.viewport import Rect

_WIDE, _HIGH, _PAST_FORWARD = 87.0, 63.0, 22.0  # mm: from which size it says from where it is seen, and how far from its edge
Maker = Callable[[], Iterator[Placed]]


def figure_marks(
    scene: Scene, plane: Plane, pair: tuple[Bolt, ...], standing: tuple[Mark, ...], keep_free: Rect | None,
    kept_places: dict[str, int] | None = None,
) -> tuple[Mark, ...]:  # fmt: skip
    """Return dimensions and words, placed clear of ``standing`` and of ``keep_free`` (the detail's place).

    ``kept_places`` is what `Sheet` keeps of the last time, None for places chosen again.
    """
    ground = Ground().plus(_obstacles(standing, keep_free))
    rect = 1.0, 1.0, scene.view.width - 1.0, scene.view.height - 1.0
    sheet = Sheet(ground, rect, kept_places={} if kept_places is None else kept_places)
    for places in _words(scene, plane):
        sheet = sheet.put(places)
    kinds = _kinds(scene, plane, pair)
    for key in sorted(kinds, key=lambda key: key != scene.focus.lit):
        try:
            sheet = sheet.put_where_it_was(key, kinds[key])
        except Unmeasured:
            continue
    if scene.checked.sure:
        from templates_out.views.cut_doubt import doubt_words

        bands = [mark for mark in standing if getattr(mark, "part", "") == "doubt"]  # light lines, but no words over them
        with suppress(Unmeasured):
            sheet = replace(sheet, ground=sheet.ground.plus(bands)).put(doubt_words(scene, plane, pair))
    return tuple(mark for placed in sheet.placed for mark in placed.marks)


def _obstacles(standing: tuple[Mark, ...], keep_free: Rect | None) -> Iterator[Mark]:
    for mark in standing:
        match mark:
            case Line() if mark.pen.weight >= pens.HEAVY:
                yield mark
            case Path() if mark.pen is not None and mark.pen.weight >= pens.HEAVY:
                yield Path(mark.points, mark.closed, mark.pen)
            case Text():
                yield mark
            case _:
                continue
    if keep_free is not None:
        left, bottom, right, top = keep_free
        yield Path(((left, bottom), (right, bottom), (right, top), (left, top)), True, pens.SIZE, "sheet")


def _kinds(scene: Scene, plane: Plane, pair: tuple[Bolt, ...]) -> dict[str, Maker]:
    index, lit = scene.focus.mount, scene.focus.lit
    makers: dict[str, Maker] = {}
    if pair:
        upper, lower = pair
        makers[f"mounts.{index}.upper_at"] = partial(_outside, scene, plane, f"mounts.{index}.upper_at", None, upper)
        makers[f"mounts.{index}.drop"] = partial(_outside, scene, plane, f"mounts.{index}.drop", upper, lower)
    if scene.design.well is not None:
        side = "port" if plane.u < 0 else "starboard"
        makers[f"well.floor_{side}"] = partial(_floor, scene, plane, f"well.floor_{side}")
    if lit:
        from templates_out.views.cut_lit_dimensions import lit_figure

        only_lit = lit_figure(scene, plane)
        if only_lit is not None:
            makers[lit] = only_lit
    return makers


def _outside(scene: Scene, plane: Plane, key: str, above: Bolt | None, below: Bolt) -> Iterator[Placed]:
    """Along the outer face, aft of the heads: from the top edge, or another bolt, down to a bolt."""
    scale = scene.view.scale
    v_top = 0.0 if above is None else above.v
    aft = max(bolt.grip - bolt.exit.along - bolt.nut_at + bolt.head_height for bolt in (above or below, below))
    for off in (6.0, 10.0, 15.0):
        s = -aft - off / scale
        ends = [(plane.outside(v, 0.0), plane.outside(v, s)) for v in (v_top, below.v)]
        (a0, a), (b0, b) = [(scene.view.to_paper(start), scene.view.to_paper(end)) for start, end in ends]
        figure, pen = figure_of(scene, key, as_read(scene, key, v_top - below.v), "sheet"), pen_of(scene, key)
        reach = _toward(b0, b, aft * scale)
        lines = extension(a0 if above is None else _toward(a0, a, aft * scale), a, figure.part, pen)
        for where in (0.5, 0.4, 0.6):
            yield with_lines(size_line(a, b, figure, where, pen), lines, extension(reach, b, figure.part, pen))


def _toward(a: Point, b: Point, by: float) -> Point:
    length = math.dist(a, b) or 1.0
    return a[0] + (b[0] - a[0]) * by / length, a[1] + (b[1] - a[1]) * by / length


def _floor(scene: Scene, plane: Plane, key: str) -> Iterator[Placed]:
    """Along the inner face, forward of nuts and sockets: from where the well is measured down to its floor."""
    edge, well = plane.edge, scene.boat.well
    if edge is None or well is None:
        return
    face, scale = plane.faces, scene.view.scale
    w_top = profile_up(face, well)
    w_floor = (edge.foot - edge.normal_u * plane.u) / edge.normal_w
    figure, pen = figure_of(scene, key, as_read(scene, key, w_top - w_floor), "well"), pen_of(scene, key)
    for off in (24.0, 19.0, 28.0, 14.0, 33.0):
        n = off / scale
        starts = [scene.view.to_paper(plane.inside(w, 0.0)) for w in (w_top, w_floor)]
        a, b = (scene.view.to_paper(plane.inside(w, n)) for w in (w_top, w_floor))
        behind = (0.7, 0.78, 0.84, 0.92) if scene.focus.lit == key else ()  # its line may pass behind the detail
        for where in (0.5, 0.4, 0.6, *behind):
            lines = (extension(start, end, figure.part, pen) for start, end in zip(starts, (a, b), strict=True))
            yield with_lines(size_line(a, b, figure, where, pen), *lines)


def _words(scene: Scene, plane: Plane) -> Iterator[list[Placed]]:
    """Which way is aft, and what there is not: each with its places in order."""
    size, view = scene.word_size, scene.view
    said: list[tuple[str, float, tuple[float, ...]]] = [
        ("aft", 0.0, (2.0, 8.0, 14.0)), ("forward", 1.0, (2.0, 8.0, 14.0)),
    ]
    absent = _absent(scene, plane)
    if absent:
        side = 0.5 if absent.startswith("No cut") else 1.0  # forward of the transom, where there is one
        said.append((absent, side, tuple(view.height * k / 20 for k in range(6, 18))))
    for word, side, places in said:
        figure = Figure(word, "", size, role="soft", narrow=scene.narrow)
        half = figure.width / 2 + 2.0
        x = half + side * (view.width - 2 * half)
        centres = [(x, y + figure.height / 2) for y in places]
        yield [Placed(replace(figure, patch=ground_at(scene, plane, at)), at, ()) for at in centres]
    if scene.style == "screen" and view.width > _WIDE and view.height > _HIGH:  # on paper the title says it
        astern = Figure("seen from starboard", "", size, role="soft")
        next_to, over = view.width - _PAST_FORWARD - astern.width / 2, view.width - 2.0 - astern.width / 2
        centres = [(x, y + astern.height / 2) for x, y in ((next_to, 2.0), (over, 8.0), (over, 14.0))]
        yield [Placed(replace(astern, patch=ground_at(scene, plane, at)), at, ()) for at in centres]


def _absent(scene: Scene, plane: Plane) -> str:
    """Say what is not there, or what has to be measured before there is a cut."""
    try:
        plane.inside(0.0, 0.0)
    except Unmeasured as missing:
        return f"No cut yet:\n{name_of(scene.design, missing.key)} is not measured."
    if not scene.design.mounts:
        return "Hang a motor:\nchoose its bracket on the card." if scene.style == "screen" else "No motor yet."
    return "No well:\nthe inside is free." if scene.design.well is None and not scene.design.inside_blocks else ""
