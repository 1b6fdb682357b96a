"""The shape of a hole to be drilled for a cable or a hose: its circle and cross, in a square that is set on a corner.

No bolt's hole has such a square. The face on the screen and the full-scale sheets draw the same shape.
"""

from __future__ import annotations

import math

from templates_out.drawing.marks import Circle, Line, Mark, Path, Pen, Point

OFF = 2.0  # mm on paper: from the circle to the square's sides


def opening_shape(at: Point, radius: float, reach: float, pens: tuple[Pen, Pen, Pen], part: str) -> tuple[Mark, ...]:
    """Return an opening's marks.

    Args:
        at, radius: its middle and half its size, as drawn [mm on paper]. reach: how far its cross reaches each way.
        pens: of the cross, the circle and the square.
    """
    (x, y), (fine, round_, square) = at, pens
    out = math.sqrt(2) * (radius + OFF)
    return (
        Line((x - reach, y), (x + reach, y), fine, part),
        Line((x, y - reach), (x, y + reach), fine, part),
        Circle(at, radius, round_, part=part),
        Path(((x + out, y), (x, y + out), (x - out, y), (x, y - out)), True, square, part=part),
    )
