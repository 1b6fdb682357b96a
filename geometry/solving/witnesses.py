"""The readings that another reading confirms: both go into the same size, and agree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.solving.compared import compared
from geometry.solving.comparisons import comparisons

if TYPE_CHECKING:
    from geometry.design.design import Design


def witnessed(design: Design) -> frozenset[str]:
    """Return the keys of readings that a second reading confirms: one taken blind, or another way to the same size."""
    kept: frozenset[str] | None = design.__dict__.get("witnessed")
    if kept is None:
        ways = (each for each in comparisons(design) if (seen := compared(design, each)) is not None and seen.agrees)
        blind = (key for key, reading in design.readings.items() if reading.second is not None)
        kept = frozenset((*(key for each in ways for key in (each.key, *each.rests) if key not in each.hides), *blind))
        design.__dict__["witnessed"] = kept
    return kept
