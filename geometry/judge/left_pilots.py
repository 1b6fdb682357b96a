"""Check of pilots that the plan has left: the final hole does not take such a pilot away, and it stays open. Lengths [mm]."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE, NonsenseError
from geometry.judge.reporter import NO_LIMITS, Outcome
from geometry.readings.pilots import DIAMETER, moved_from, taken_away
from geometry.solid.bracket_holes import mount_key

if TYPE_CHECKING:
    from geometry.design.design import Design, Pilot
    from geometry.judge.reporter import Reporter

_PLACE = ("upper_at", "row", "drop", "offset", "bracket", "upper_tilt", "lower_tilt")
_SAME = 1.0  # mm: an old hole so near a pilot's place is that pilot
_CURE = "Fill the pilot and let it cure before you drill. It is one of the old holes from now on."


def left_pilots(report: Reporter) -> None:
    """Add each pilot that is drilled and stays open next to the hole that it was made for."""
    for number, pilot in enumerate(report.design.pilots):
        mount = report.design.mounts[pilot.mount]
        hole = mount_key(pilot.mount, f"{pilot.pair}_hardware.hole")
        place = (mount_key(pilot.mount, field) for field in _PLACE)
        rests = (f"pilots.{number}.", *place, hole, "old_holes.")
        report.add(
            "left_pilot", f"{mount.name} / {pilot.hole}", NO_LIMITS, "mm", rests, (pilot.mount,), partial(_left, report, pilot)
        )


def is_old_hole(design: Design, pilot: Pilot) -> bool:
    """Return whether a pilot is among the old holes, within 1 mm."""
    places = (hole.at for hole in design.old_holes)
    return any(u is not None and v is not None and math.dist((u, v), pilot.at) <= _SAME for u, v in places)


def _left(report: Reporter, pilot: Pilot) -> Outcome | None:
    """Return how far a pilot is from its hole where it stays open; None where it does not, or is not drilled yet.

    Fouled where the two overlap: the drill would run out of the new hole. Allows 1e-6.

    Raises:
        Unmeasured: the size of the hole is not known.
    """
    design = report.design
    if pilot.value is None or is_old_hole(design, pilot):
        return None
    bolt = next((bolt for bolt in report.bolts if (bolt.mount_index, bolt.name) == (pilot.mount, pilot.hole)), None)
    if bolt is None:  # the bracket has no such bolt now
        return None
    try:
        apart = moved_from(design, pilot)
    except NonsenseError:  # its hole has no place now
        return None
    if taken_away(bolt.hole, apart):
        return None
    text = f"The {pilot.hole} pilot is {report.room(apart)} from the planned hole. The final hole does not take it away."
    overlaps = apart < (bolt.hole + DIAMETER) / 2 - CLOSE
    return Outcome(apart, text, _CURE, "fouled" if overlaps else "tight")
