"""The circle inside in which a first pilot may come out, so that the work can go on."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.inside_room import part_room
from geometry.readings.reading_spreads import hole_spread

if TYPE_CHECKING:
    from geometry.judge.reporter import Reporter
    from geometry.solid.placed_bolts import Bolt
    from geometry.units.units import Unit

MOST: dict[Unit, float] = {"in": 25.4 / 8, "mm": 3.0}
"""The largest circle, even with more room [mm]; our assumption, in lengths that the person's rule shows."""

LEAST: dict[Unit, float] = {"in": 25.4 / 32, "mm": 1.0}
"""A smaller circle could not be judged by eye [mm]; our assumption."""

STEP: dict[Unit, float] = {"in": 25.4 / 32, "mm": 0.5}
"""Words give the circle's radius in whole steps, rounded down [mm]."""


def pilot_circle(report: Reporter, bolt: Bolt) -> float | None:
    """Return the radius of the circle for a bolt's pilot on the inner face [mm], None where there is too little room.

    It is the smaller of `MOST` and the washer's room less the hole's spread. A washer that nothing limits has `MOST`.

    Raises:
        Unmeasured: a reading behind the washer's room is missing.
    """
    unit = bolt.design.units
    room = part_room(report, bolt, "washer")
    if room is None:
        return MOST[unit]
    radius = min(MOST[unit], room - hole_spread(bolt.design.spreads, bolt.exit.along))
    return radius if radius >= LEAST[unit] - CLOSE else None


def in_steps(radius: float, unit: Unit) -> float:
    """Return a circle's radius as words give it: rounded down, so that nobody goes past the circle [mm]."""
    return math.floor(radius / STEP[unit] + CLOSE) * STEP[unit]
