"""The picture of a survey: its points with their ellipses, and a line for each distance. Paper millimetres."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.survey.network import CENTRELINE, DATUM, TOP_EDGE
from geometry.survey.of_design import points_of
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Circle, Line, Mark, Path, Pen, Text
from templates_out.views import view_pens as pens

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.checking_readings import Face
    from geometry.design.design import Design
    from geometry.survey.adjust import Placed
    from geometry.survey.of_design import Surveyed
    from templates_out.drawing.clipping import Rect
    from templates_out.drawing.marks import Point

_LONG = 5.0  # mm: half the length of the longest ellipse, about
_FACTORS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_AIR = 5.0  # mm of paper round the drawing
_WORD = 2.6  # mm: size of the words
_SHAPE, _READ, _WRONG = pens.FINE, Pen("soft", 0.25), Pen("fouled", 0.5, (2.4, 1.0))
_ELLIPSE = Pen("new", 0.3)
_STEPS = 48


def survey_picture(
    design: Design, face: Face, done: Surveyed | None, width: float, height: float
) -> tuple[Mark, ...]:
    """Return the picture of one face's survey on a paper of ``width`` by ``height`` [mm]; None: only the points there are."""
    named = {point.name: point.at for point in points_of(design, face) if point.at is not None}
    placed = {each.name: each.at for each in done.survey.placed} if done is not None else {}
    places = {**named, **placed}
    shape = [point.at for point in points_of(design, face) if point.at is not None and point.is_corner]
    seen = [*shape, *places.values(), (0.0, 0.0)]
    left, right = min(u for u, _ in seen), max(u for u, _ in seen)
    low, high = min(v for _, v in seen), max(v for _, v in seen)
    scale = min((width - 2 * _AIR) / max(1.0, right - left), (height - 2 * _AIR) / max(1.0, high - low))
    middle = ((left + right) / 2, (low + high) / 2)

    def on(at: Point) -> Point:
        return width / 2 + (at[0] - middle[0]) * scale, height / 2 + (at[1] - middle[1]) * scale

    marks: list[Mark] = []
    reach: dict[str, float] = {}  # mm of paper: how far an ellipse reaches from its point
    if len(shape) > 1:
        marks.append(Path(tuple(map(on, shape)), face == "outside", _SHAPE))
    marks.append(Line(on((0.0, low)), on((0.0, high)), pens.CENTRE, CENTRELINE))
    if done is not None:
        marks += _distances(done, places, on)
        times = _times(done, scale)
        marks += [_ellipse(each, on, scale * times) for each in done.survey.placed]
        reach = {each.name: each.ellipse.long * scale * times for each in done.survey.placed}
        said = f"Ellipses: one standard deviation, drawn {times} times as large"
        if done.survey.placed:
            marks.append(Text((1.5, 1.5), said, _WORD, "soft", part="enlarged"))
    used = {name for each in done.survey.agreements for name in (each.reading.first, each.reading.second)} if done else set()
    taken: list[Rect] = []
    corners = {point.name for point in points_of(design, face) if point.is_corner}
    for name, at in places.items():
        if name in used or (done is None and name not in corners):
            marks += _point(name, on(at), width, taken, reach.get(name, 0.0))
    return tuple(marks)


def _distances(done: Surveyed, places: dict[str, Point], on: Callable[[Point], Point]) -> Iterator[Mark]:
    for index, each in enumerate(done.survey.agreements):
        start = places.get(each.reading.first)
        end = _end(each.reading.second, start, places)
        if start is None or end is None:
            continue
        wrong = index in done.survey.suspects
        a, b = on(start), on(end)
        yield Line(a, b, _WRONG if wrong else _READ, f"distance {done.numbers[index] + 1}")
        if wrong:
            yield Text(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + 0.8), str(done.numbers[index] + 1), _WORD + 0.6, "fouled",
                       bold=True, anchor="middle", patch="card", part="wrong")  # fmt: skip


def _end(name: str, start: Point | None, places: dict[str, Point]) -> Point | None:
    """Return where a distance ends: square on a line, or at a point."""
    if start is not None and name in (CENTRELINE, TOP_EDGE):
        return (0.0, start[1]) if name == CENTRELINE else (start[0], 0.0)
    return (0.0, 0.0) if name == DATUM else places.get(name)


def _ellipse(each: Placed, on: Callable[[Point], Point], scale: float) -> Path:
    """Return a point's ellipse, enlarged."""
    x, y = on(each.at)
    long, short = each.ellipse.long * scale, each.ellipse.short * scale
    c, s = math.cos(math.radians(each.ellipse.turned)), math.sin(math.radians(each.ellipse.turned))
    turns = (2 * math.pi * k / _STEPS for k in range(_STEPS))
    ring = ((long * math.cos(t), short * math.sin(t)) for t in turns)
    return Path(tuple((x + p * c - q * s, y + p * s + q * c) for p, q in ring), True, _ELLIPSE, part=f"ellipse: {each.name}")


def _times(done: Surveyed, scale: float) -> int:
    """Return how many times as large as true the ellipses are drawn."""
    longest = max((each.ellipse.long for each in done.survey.placed), default=0.0) * scale
    return next((factor for factor in reversed(_FACTORS) if factor * longest <= _LONG), 1)


def _point(name: str, at: Point, width: float, taken: list[Rect], reach: float) -> Iterator[Mark]:
    """Yield a point's dot, and its name where there is room: below, above or next to it.

    Args:
        taken: the names so far. reach: how far its ellipse reaches; the name keeps off it [mm].
    """
    yield Circle(at, 0.6, None, "ink", f"point: {name}")
    wide = text_width(name, _WORD)
    middle = min(max(at[0] - wide / 2, 1.0), width - wide - 1.0)
    off = max(1.6, reach + 0.9)
    above, below = (middle, at[1] + off), (middle, at[1] - off - _WORD)
    right, left = (at[0] + off + 0.2, at[1] - 1.0), (at[0] - off - 0.2 - wide, at[1] - 1.0)
    for x, y in (below, above, right, left):  # most distances run up, to the top edge
        box = (x - 0.5, y - 0.6, x + wide + 0.5, y + _WORD)
        if x < 0.5 or x + wide > width - 0.5 or any(_meet(box, other) for other in taken):
            continue
        taken.append(box)
        yield Text((x, y), name, _WORD, patch="card", part=f"name: {name}")
        return


def _meet(a: Rect, b: Rect) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
