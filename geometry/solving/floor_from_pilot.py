"""The floor taken from a pilot: its reading was wrong, so the pilot alone says how deep the floor is there [mm]."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.design.validity import NonsenseError
from geometry.edits.edits import enter_value
from geometry.readings.measures import measure
from geometry.solving.comparisons import PORT, STARBOARD
from geometry.solving.pilot_distances import pilot_distance
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from geometry.design.design import Design

ONE_INCH = MM_PER_INCH
"""[mm] the spread of a floor that only a pilot has read: the pilot counts, and this hardly does; our assumption."""
_TIMES = 4
_STEP = 0.1  # [mm]: of the derivative


def can_give_floor(design: Design, index: int) -> bool:
    """Return whether a pilot was read to the floor, or to a washer's mark above it, in a well with one floor."""
    pilot, well = design.pilots[index], design.well
    return pilot.value is not None and pilot.to in ("washer mark", "floor") and well is not None and len(well.profile) == 4


def floor_from_pilot(design: Design, index: int) -> Design:
    """Return ``design`` with the floor's depth at a pilot's side as the pilot gives it, read by pilot.

    Raises:
        NonsenseError: the pilot gives no floor, or an impossible one. Unmeasured: another reading is missing.
    """
    pilot = design.pilots[index]
    key = PORT if pilot.side == "port" else STARBOARD
    row = measure(design, key)
    depth = None if row is None else row.get(design)
    if row is None or depth is None or pilot.value is None or not can_give_floor(design, index):
        raise NonsenseError("the pilot gives no floor", "measure from the pilot to the floor, or to a washer’s mark")
    for _ in range(_TIMES):
        here, further = (pilot_distance(index, row.set(design, depth + more)) for more in (0.0, _STEP))
        depth += (pilot.value - here) * _STEP / (further - here)
    changed = enter_value(design, row, depth)
    reading = replace(changed.readings[key], how="pilot", spread=ONE_INCH, second=None)
    return replace(changed, readings={**changed.readings, key: reading})
