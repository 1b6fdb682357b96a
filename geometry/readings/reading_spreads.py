"""The spread of a reading: one standard deviation of its value [mm], angles [degrees]."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.readings.measures import guess_of
from geometry.readings.part_tolerances import tolerance

if TYPE_CHECKING:
    from geometry.design.design import Design, Spreads
    from geometry.readings.measures import Measure

CALIPERS = 0.1  # mm: of measured hardware, not from a table; our assumption


def spread_of(design: Design, measure: Measure) -> float:
    """Return one standard deviation of a measured value: as entered, else the design's for its kind."""
    reading = design.readings.get(measure.key)
    if reading is not None and reading.spread is not None:
        return reading.spread
    if "_hardware." in measure.key:
        if reading is None:  # a published size is the largest listed: it can only turn out smaller
            return 0.0
        if reading.state == "to buy":
            return tolerance(design, measure).spread
        if reading.state == "measured":
            return CALIPERS
    if measure.spread == "calipers":
        return CALIPERS
    known: float = getattr(design.spreads, measure.spread)
    return known / read_at_once(design, measure.key)


def read_at_once(design: Design, key: str) -> int:
    """Return how many of a bracket's distance the tape reads at once: two half spacings, or every gap between the upper holes.

    The error of one is as much smaller.
    """
    if key.endswith((".bracket.rows.half_spacing", ".bracket.lower.half_spacing")):
        return 2
    if key.endswith(".bracket.rows.pitch"):
        rows = design.mounts[int(key.split(".")[1])].bracket.rows
        return 1 if rows is None else max(1, rows.count - 1)
    return 1


def wide_spread_of(design: Design, measure: Measure) -> float:
    """Return the same, and of a guess half of its usual range."""
    value = measure.get(design)
    if value is None or not guess_of(design, measure):
        return spread_of(design, measure)
    low, high = measure.about(value)
    return (high - low) / 2


def hole_spread(spreads: Spreads, along: float) -> float:
    """Return the error of a hole's place at its exit, one standard deviation [mm]: print, mark and the drill's angle.

    Args:
        along: the hole's length through the transom [mm].
    """
    through = along * math.tan(math.radians(spreads.drill_angle))
    return math.sqrt(spreads.print**2 + spreads.mark**2 + through**2)
