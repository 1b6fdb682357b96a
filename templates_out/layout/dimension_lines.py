"""Dimension lines of backing plate and guide block: a stroke at each end, and lines back toward what is measured."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.marks import Line, Mark
from templates_out.drawing.sheet_pens import PT, words

if TYPE_CHECKING:
    from templates_out.drawing.marks import Point


def dimension_marks(a: Point, b: Point, figure: str = "", back: float = 3.0) -> Iterator[Mark]:
    """Yield a level or upright dimension, with its figure where it has one.

    Args:
        a, b: its ends, in ascending order.
        back: how far its end lines run back toward what is measured: up or to the left, negative down or to the right [mm].
    """
    part, level, past = "dimension", a[1] == b[1], math.copysign(1.2, back)
    yield Line(a, b, pens.FINE, part)
    for x, y in (a, b):
        yield Line((x - 1.0, y - 1.0), (x + 1.0, y + 1.0), pens.SEAM, part)
        yield (
            Line((x, y - past), (x, y + back), pens.FINE, part)
            if level
            else Line((x - back, y), (x + past, y), pens.FINE, part)
        )
    if not figure:
        return
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    at, angle = ((x, y + 1.3), 0.0) if level else ((x - 1.3, y), 90.0)
    yield words(at, figure, 7.5 * PT, anchor="middle", angle=angle, part=part)
