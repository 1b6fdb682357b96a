"""Dimensions of the cut that show only while their entry has the focus."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial

from geometry.solid.faces import need
from geometry.units.units import format_angle, format_length
from templates_out.drawing.marks import Line, Point, Role
from templates_out.views import view_pens as pens
from templates_out.views.cut_plane import Plane
from templates_out.views.dimensions import Placed, extension, leader, size_line, with_lines
from templates_out.views.figure_styles import as_read, figure_of
from templates_out.views.view_focus import Scene

_UPRIGHT = 22.0  # mm of paper: a plumb or level line next to an angle


def lit_figure(scene: Scene, plane: Plane) -> Callable[[], Iterator[Placed]] | None:
    """Return the places of the lit measure's figure, None where it is shown at rest or not in the cut."""
    makers: dict[str, Callable[[Scene, Plane], Iterator[Placed]]] = {
        "transom.rake": _rake, "transom.thickness.top": _top, "transom.thickness.low": _low,
        "transom.thickness.low_at": _low_at,
    }  # fmt: skip
    if scene.design.well is not None:
        makers |= {"well.fillet_radius": _corner_radius, "well.floor_rise": _rise, "well.length": _length}
    maker = makers.get(scene.focus.lit)
    return None if maker is None else partial(maker, scene, plane)


def _rake(scene: Scene, plane: Plane) -> Iterator[Placed]:
    """Between the outer face and a plumb line."""
    rake = need(scene.design.transom.rake, "transom.rake")
    figure = figure_of(scene, "transom.rake", format_angle(rake), "sheet")
    for v in (-60.0, -110.0, -160.0, -20.0):
        x, y = scene.view.to_paper(plane.outside(v, 0.0))
        plumb = Line((x, y), (x, y - _UPRIGHT), pens.SIZE, figure.part)
        yield Placed(figure, (x - figure.width / 2 - 2.0, y - _UPRIGHT), (plumb,))


def _top(scene: Scene, plane: Plane) -> Iterator[Placed]:
    """Square through the transom, above its top."""
    up = 8.0 / scene.view.scale
    yield from _through(scene, plane, plane.faces.top, (0.0, 0.0), (up, up), "sheet")


def _low(scene: Scene, plane: Plane) -> Iterator[Placed]:
    """Square through the transom, where the lower thickness is taken."""
    thick = scene.boat.transom.thickness
    low = need(thick.low, "transom.thickness.low")
    v = need(thick.low_at, "transom.thickness.low_at")
    yield from _through(scene, plane, low, (v, v), (v, v), "wood")


def _low_at(scene: Scene, plane: Plane) -> Iterator[Placed]:
    """Down the outer face, from the top edge to where the lower thickness is taken."""
    key = "transom.thickness.low_at"
    down = need(scene.boat.transom.thickness.low_at, key)
    figure = figure_of(scene, key, as_read(scene, key, -down), "sheet")
    top, foot = (scene.view.to_paper(plane.outside(v, 0.0)) for v in (0.0, down))
    for off in (9.0, 14.0, 20.0, 28.0):
        a, b = (scene.view.to_paper(plane.outside(v, -off / scene.view.scale)) for v in (0.0, down))
        lines = extension(top, a, figure.part), extension(foot, b, figure.part)
        for where in (0.5, 0.3, 0.7, 0.85):
            yield with_lines(size_line(a, b, figure, where), *lines)


def _through(
    scene: Scene, plane: Plane, thick: float, starts: tuple[float, float], at: tuple[float, float], ground: Role
) -> Iterator[Placed]:
    (a0, a), (b0, b) = [
        (scene.view.to_paper(plane.outside(start, s)), scene.view.to_paper(plane.outside(end, s)))
        for start, end, s in zip(starts, at, (0.0, thick), strict=True)
    ]
    figure = figure_of(scene, scene.focus.lit, as_read(scene, scene.focus.lit, thick), ground)
    lines = extension(a0, a, figure.part), extension(b0, b, figure.part)
    for where in (0.5, 0.4):
        yield with_lines(size_line(a, b, figure, where), *lines)
    for dx, dy in ((-18.0, 14.0), (-18.0, -14.0), (24.0, 14.0)):
        yield with_lines(leader(a if dx < 0 else b, (dx, dy), figure, pens.SIZE), Line(a, b, pens.SIZE, figure.part))


def _corner_radius(scene: Scene, plane: Plane) -> Iterator[Placed]:
    """The corner's radius on a leader from its arc."""
    radius = need(scene.design.well.fillet_radius if scene.design.well else None, "well.fillet_radius")
    n = need(plane.design.well.fillet_radius if plane.design.well else None, "well.fillet_radius") * (1 - math.sqrt(0.5))
    at = _on_floor(scene, plane, n)
    said = f"R {format_length(radius, scene.design.units)}"
    figure = figure_of(scene, "well.fillet_radius", said, "well")
    for away in ((16.0, 12.0), (20.0, 18.0), (24.0, 8.0), (12.0, 24.0), (30.0, 10.0), (24.0, -9.0), (30.0, -14.0)):
        if at is not None:
            yield leader(at, away, figure, pens.SIZE)


def _rise(scene: Scene, plane: Plane) -> Iterator[Placed]:
    """Between the floor and a level line."""
    rise = need(scene.design.well.floor_rise if scene.design.well else None, "well.floor_rise")
    figure = figure_of(scene, "well.floor_rise", format_angle(rise), "well")
    for n in (120.0, 90.0, 160.0, 70.0):
        at = _on_floor(scene, plane, n)
        if at is not None:
            level = Line(at, (at[0] + _UPRIGHT, at[1]), pens.SIZE, figure.part)
            yield Placed(figure, (at[0] + 12.0, at[1] + 7.0), (level,))


def _length(scene: Scene, plane: Plane) -> Iterator[Placed]:
    """Along the floor to the well's front, which may be beyond the sheet."""
    length = need(scene.design.well.length if scene.design.well else None, "well.length")
    if not plane.floor:
        return
    foot = plane.floor_foot
    start, end = None if foot is None else scene.view.to_paper(foot), scene.view.to_paper(plane.floor[-1])
    figure = figure_of(scene, "well.length", length, "well")
    seen = (scene.view.width - 4.0 - start[0]) / (end[0] - start[0]) if start and end[0] > start[0] else 1.0
    for up in (9.0, 6.0, 14.0, 20.0):
        for share in (0.5, 0.6, 0.4):
            if start is not None:
                a, b = (start[0], start[1] + up), (end[0], end[1] + up)
                yield size_line(a, b, figure, share * min(1.0, seen))


def _on_floor(scene: Scene, plane: Plane, n: float) -> Point | None:
    w = plane.floor_w(n)
    return None if w is None else scene.view.to_paper(plane.inside(w, n))
