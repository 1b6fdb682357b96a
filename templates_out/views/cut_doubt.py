"""The doubt in the cut: the bands in which floor and washer are, one and two spreads wide, with a word.

Nothing is drawn before the chances are known. So a drag shows none.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec.structs import replace

from geometry.doubt.place_spreads import PlaceSpreads, place_spreads
from geometry.solid.placed_bolts import Bolt
from geometry.units.units import format_limit
from templates_out.drawing.marks import Line, Mark, Path, Point
from templates_out.views import view_pens as pens
from templates_out.views.cut_boat import FLOOR_BAND
from templates_out.views.cut_plane import Plane
from templates_out.views.dimensions import Figure, Placed
from templates_out.views.view_focus import Scene

_LEGIBLE = {"screen": 0.35, "paper": 1.0}  # mm of paper: narrower bands would only blur the floor
_CLOSE = 0.35  # mm of paper: a line nearer to the floor's own, or to another, is left out
_TICK, _OFF = 1.6, 1.2  # mm of paper: half a tick, and how far a washer's bar is in front of it
_UNDER, _STEP = 16.0, 8.0  # mm of paper: how far below the washer its word is without a floor, and from place to place
_GRID = 2.0  # mm of paper: between two places in a cut where no other is free
_SPREADS = (1.0, 2.0)


def doubt_marks(scene: Scene, plane: Plane, pair: tuple[Bolt, ...]) -> Iterator[Mark]:
    """Yield the bands of the floor and of the washer of the bolt that the cut is for."""
    bolt, doubt = _looked_at(scene, pair)
    if bolt is None or doubt is None:
        return
    yield from _floor_band(scene, plane, doubt)
    yield from _washer_bar(scene, plane, bolt, doubt)


def doubt_words(scene: Scene, plane: Plane, pair: tuple[Bolt, ...]) -> Iterator[Placed]:
    """Yield the places of the words for the bands: how far floor and washer usually are from where they are drawn."""
    bolt, doubt = _looked_at(scene, pair)
    if bolt is None or doubt is None:
        return
    said = [("washer", doubt.washer)] if doubt.floor is None else [("floor", doubt.floor), ("washer", doubt.washer)]
    rows = [f"{name} within {format_limit(2 * spread, scene.design.units)}" for name, spread in said]
    full = Figure("Doubt: " + "\n".join(rows), "", scene.word_size, role="soft", narrow=scene.narrow)
    most = format_limit(2 * max(spread for _, spread in said), scene.design.units)
    brief = Figure(f"doubt {most}", "", scene.word_size, role="soft", narrow=scene.narrow)
    x, y = scene.view.to_paper(plane.inside(bolt.exit.w, bolt.nut_at))
    ends = [scene.view.to_paper(at) for at in plane.floor[-2:]]
    level = min((up for _, up in ends), default=y - _UNDER)
    for figure in (full, brief):
        half, high = figure.width / 2 + 1.5, figure.height / 2 + 0.5
        right = scene.view.width - half
        for at in (right - steps * _STEP for steps in range(int(max(0.0, right - x - half) / _STEP) + 1)):
            for up in (level - FLOOR_BAND - high, level + high + _STEP / 4, level - 2 * _STEP, y + _STEP + high):
                yield Placed(figure, (at, up), ())
    for figure in (brief, replace(brief, text=brief.text.replace(" ", "\n", 1))):
        yield from _anywhere(scene, figure, (x, y))


def _anywhere(scene: Scene, figure: Figure, near: Point) -> Iterator[Placed]:
    """Yield places all over a small cut, the nearest to the washer first."""
    half, high = figure.width / 2 + 1.5, figure.height / 2 + 0.5
    across = range(int((scene.view.width - 2 * half) / _GRID) + 1)
    up = range(int((scene.view.height - 2 * high) / _GRID) + 1)
    spots = [(half + _GRID * right, high + _GRID * row) for right in across for row in up]
    for spot in sorted(spots, key=lambda at: math.dist(at, near)):
        yield Placed(figure, spot, ())


def _looked_at(scene: Scene, pair: tuple[Bolt, ...]) -> tuple[Bolt | None, PlaceSpreads | None]:
    """Return the bolt whose floor is drawn, with its doubt: the lower one, or the upper where that is chosen.

    None for both where the doubt is not known, or too small to be seen.
    """
    if not pair:
        return None, None
    bolt = pair[0 if scene.focus.chosen.startswith("upper") else -1]
    doubt = place_spreads(scene.checked).get(bolt.at)
    if doubt is None or 2 * max(doubt.floor or 0.0, doubt.washer) * scene.view.scale < _LEGIBLE[scene.style]:
        return None, None
    return bolt, doubt


def _floor_band(scene: Scene, plane: Plane, doubt: PlaceSpreads) -> Iterator[Mark]:
    """Yield the floor, a spread or two higher and lower: dashed at one, dotted at two."""
    if doubt.floor is None or not plane.floor:
        return
    for spreads, pen in zip(_SPREADS, (pens.DOUBT_ONE, pens.DOUBT_TWO), strict=True):
        by = spreads * doubt.floor
        if doubt.floor * scene.view.scale < _CLOSE and spreads < _SPREADS[-1]:
            continue
        for way in (by, -by):
            if abs(way) * scene.view.scale >= _CLOSE:
                yield Path(tuple(scene.view.to_paper(_up(plane, at, way)) for at in plane.floor), False, pen, None, "doubt")


def _up(plane: Plane, at: Point, way: float) -> Point:
    """Return a place moved up along the inner face [boat mm]."""
    (x0, z0), (x1, z1) = plane.inside(0.0, 0.0), plane.inside(1.0, 0.0)
    return at[0] + way * (x1 - x0), at[1] + way * (z1 - z0)


def _washer_bar(scene: Scene, plane: Plane, bolt: Bolt, doubt: PlaceSpreads) -> Iterator[Mark]:
    """Yield a bar at the washer's lower edge: long ticks a spread up and down, short ones two."""
    if 2 * doubt.washer * scene.view.scale < _CLOSE:
        return
    disc = bolt.washer_disc
    low, n = bolt.exit.w - min(disc.radius, disc.cut), bolt.nut_at + _OFF / scene.view.scale
    ends = [scene.view.to_paper(plane.inside(low + way * doubt.washer, n)) for way in (-2.0, 2.0)]
    yield Line(ends[0], ends[1], pens.DOUBT_BAR, "doubt")
    (x0, y0), (x1, y1) = (scene.view.to_paper(plane.inside(low, at)) for at in (n, n + 1.0))
    length = math.hypot(x1 - x0, y1 - y0)
    along = (x1 - x0) / length, (y1 - y0) / length
    for way in (-2.0, -1.0, 1.0, 2.0):
        half = _TICK if abs(way) == 1.0 else _TICK / 2
        x, y = scene.view.to_paper(plane.inside(low + way * doubt.washer, n))
        start, end = (x - half * along[0], y - half * along[1]), (x + half * along[0], y + half * along[1])
        yield Line(start, end, pens.DOUBT_BAR, "doubt")
