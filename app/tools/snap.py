"""The step that a drag and an arrow key take: what a person reads on a tape."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from geometry.design.units import Unit

_STEPS: dict[Unit, float] = {"in": MM_PER_INCH / 16, "mm": 1.0}
WORDS: dict[Unit, str] = {"in": "1/16 in", "mm": "1 mm"}


def step(unit: Unit) -> float:
    """Return the step [mm]."""
    return _STEPS[unit]


def snapped(value: float, unit: Unit) -> float:
    """Return the nearest whole number of steps [mm]."""
    return math.floor(value / _STEPS[unit] + 0.5) * _STEPS[unit]
