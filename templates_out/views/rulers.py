"""The rulers along the face's top and left edge, reading as a tape does: zero at the centreline and at the top edge."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from geometry.tables.known import MM_PER_INCH
from geometry.units.units import format_length
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Line, Mark, Pen, Text
from templates_out.views.viewport import Viewport

TOP_HEIGHT, LEFT_WIDTH = 4.76, 7.41  # mm: 18 and 28 px, room for three figures
_SIZE = 2.7  # of the figures
_APART = 9.0  # figures stand at least so far apart
_TICK = Pen("edge", 0.18)
_STEPS = {
    "in": (1 / 8, 1 / 4, 1 / 2, 1.0, 2.0, 4.0, 6.0, 12.0, 24.0, 48.0),
    "mm": (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0),
}


def ruler_marks(view: Viewport, unit: Literal["in", "mm"], edge: Literal["top", "left"]) -> tuple[Mark, ...]:
    """Return a ruler as marks on a separate strip.

    The top one is as wide as the view and `TOP_HEIGHT` high, the drawing below it. The left one is as high as the
    view and `LEFT_WIDTH` wide, the drawing to its right. Distances are positive both ways from zero.
    """
    return tuple(_top(view, unit) if edge == "top" else _left(view, unit))


def _step(view: Viewport, unit: Literal["in", "mm"]) -> float:
    """Return the distance from figure to figure [boat mm]."""
    whole = MM_PER_INCH if unit == "in" else 1.0
    steps = [step * whole for step in _STEPS[unit]]
    return next((step for step in steps if step * view.scale >= _APART), steps[-1])


def _places(low: float, high: float, step: float) -> Iterator[tuple[float, bool]]:
    """Yield every half step between two places, and whether it carries a figure."""
    for k in range(math.ceil(2 * low / step), math.floor(2 * high / step) + 1):
        yield k * step / 2, k % 2 == 0


def _top(view: Viewport, unit: Literal["in", "mm"]) -> Iterator[Mark]:
    step, (left, _, right, _) = _step(view, unit), view.rect
    port, starboard = (text_width(word, _SIZE, bold=True) + 3.0 for word in ("PORT", "STARBOARD"))
    base = TOP_HEIGHT - 0.5 - 0.74 * _SIZE
    yield Text((1.5, base), "PORT", _SIZE, "soft", bold=True, part="port")
    yield Text((view.width - 1.5, base), "STARBOARD", _SIZE, "soft", bold=True, anchor="end", part="starboard")
    for place, figure in _places(left, right, step):
        x = view.to_paper((place, 0.0))[0]
        text = format_length(abs(place), unit, unit_word=False, denominator=64)
        half = text_width(text, _SIZE) / 2
        if figure and port < x - half and x + half < view.width - starboard:
            yield Text((x, base), text, _SIZE, "soft", anchor="middle")
        if port < x < view.width - starboard:
            yield Line((x, 0.0), (x, 1.6 if figure else 0.9), _TICK)


def _left(view: Viewport, unit: Literal["in", "mm"]) -> Iterator[Mark]:
    step, (_, bottom, _, top) = _step(view, unit), view.rect
    for place, figure in _places(bottom, top, step):
        y = view.to_paper((0.0, place))[1]
        if figure and _SIZE < y < view.height - _SIZE:
            text = format_length(abs(place), unit, unit_word=False, denominator=64)
            yield Text((LEFT_WIDTH - 2.0, y - 0.37 * _SIZE), text, _SIZE, "soft", anchor="end")
        yield Line((LEFT_WIDTH, y), (LEFT_WIDTH - (1.6 if figure else 0.9), y), _TICK)
