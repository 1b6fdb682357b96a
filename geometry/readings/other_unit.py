"""A figure that fits the other unit: 19.05 in an inch boat's corner radius is most likely 19.05 mm."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from geometry.readings.measures import Measure
    from geometry.units.units import Unit

_PLACES = 100  # a figure with more than two places is a fraction of an inch, and was not read in millimetres


def meant_in_other_unit(measure: Measure, value: float, text: str, unit: Unit) -> str:
    """Return the same figure in the other unit of lengths, "19.05 mm"; "" where that is no likely value either.

    Args:
        value: an unlikely or an impossible length [mm]. text: as it was typed; one that names its unit means it.
        unit: of the design, in which it was read.
    """
    if measure.kind != "length" or re.search(r"[a-z'\"]", text.lower()):
        return ""
    likely = measure.ranges.likely
    figure, other, mm = (value / MM_PER_INCH, "mm", 1.0) if unit == "in" else (value, "in", MM_PER_INCH)
    if likely is None or likely.holds(value) or not likely.holds(figure * mm):
        return ""
    if figure == 0 or abs(figure * _PLACES - round(figure * _PLACES)) > CLOSE * _PLACES:
        return ""
    return f"{round(figure, 2):g} {other}"
