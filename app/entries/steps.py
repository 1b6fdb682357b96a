"""The step of a drag and of an arrow key, as a tape shows it; and how near a drag snaps to a line or an old hole."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.units.units import STEPS

if TYPE_CHECKING:
    from geometry.units.units import Unit

HOLD = 6.0  # boat mm within which a drag snaps to the centreline or to an old hole
WORDS: dict[Unit, str] = {"in": "1/16 in", "mm": "1 mm"}


def step(unit: Unit) -> float:
    """Return the step [mm]."""
    return STEPS[unit]


def snapped(value: float, unit: Unit) -> float:
    """Return the nearest whole number of steps [mm]."""
    return math.floor(value / STEPS[unit] + 0.5) * STEPS[unit]
