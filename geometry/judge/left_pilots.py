"""Check of pilots that the plan has left: the final hole does not take such a pilot away, and it stays open. Lengths [mm]."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from geometry.design.validity import CLOSE, NonsenseError
from geometry.judge.reporter import NO_LIMITS, Outcome, bolt_keys
from geometry.readings.pilots import least_apart, planned, taken_away
from geometry.solid.faces import exit_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design, Pilot
    from geometry.judge.reporter import Reporter
    from geometry.solid.placed_bolts import Bolt

_SAME = 1.0  # mm: an old hole so near a pilot's place is that pilot
_CURE = "Fill the pilot and let it cure before you drill. It is one of the old holes from now on."


def left_pilots(report: Reporter) -> None:
    """Add each pilot that is drilled and stays open, next to the hole that it was made for or under another one."""
    places = tuple(key for bolt in report.bolts for key in (*bolt_keys(bolt), bolt.hardware_key("hole")))
    for number, pilot in enumerate(report.design.pilots):
        name = report.design.mounts[pilot.mount].name
        rests = (f"pilots.{number}.", "old_holes.", *dict.fromkeys(places))
        look = partial(_left, report, pilot)
        report.add("left_pilot", f"{name} / {pilot.hole}", NO_LIMITS, "mm", rests, (pilot.mount,), look)


def open_pilots(design: Design) -> tuple[Pilot, ...]:
    """Return the pilots that are drilled, and that are not among the old holes yet."""
    return tuple(pilot for pilot in design.pilots if pilot.value is not None and not is_old_hole(design, pilot))


def is_old_hole(design: Design, pilot: Pilot) -> bool:
    """Return whether a pilot is among the old holes, within 1 mm."""
    places = (hole.at for hole in design.old_holes)
    return any(u is not None and v is not None and math.dist((u, v), pilot.at) <= _SAME for u, v in places)


def _left(report: Reporter, pilot: Pilot) -> Outcome | None:
    """Return how far a pilot is from its hole where it stays open; None where it does not, or is not drilled yet.

    Fouled where any hole overlaps it and does not take it away: the drill would run out of the new hole. Allows 1e-6.

    Raises:
        Unmeasured: the size of a hole is not known, or the thickness that a leaning one goes through.
    """
    design, taken = report.design, False
    if pilot not in open_pilots(design):
        return None
    places = sorted(_places(report, pilot), key=lambda place: not _is_own(place.bolt, pilot))
    for place in places:
        if taken_away(place.bolt.hole, place.most):
            taken = True
        elif place.least < least_apart(place.bolt.hole) - CLOSE:
            return Outcome(place.most, _text(report, pilot, place), _CURE, "fouled")
    if taken or not places or not _is_own(places[0].bolt, pilot):  # the bracket may have no such bolt now
        return None
    return Outcome(places[0].most, _text(report, pilot, places[0]), _CURE, "tight")


class _Place(NamedTuple):
    """A planned hole next to a pilot, and how far its axis is from the pilot's [mm].

    Attributes:
        most, least: in the wood, parallel to the faces. inside: whether the most is at the inner face.
    """

    bolt: Bolt
    most: float
    least: float
    inside: bool


def _places(report: Reporter, pilot: Pilot) -> Iterator[_Place]:
    """Yield each planned hole that has a place.

    Raises:
        Unmeasured: hole and pilot lean differently, and the transom's thickness is not known.
    """
    for bolt in report.bolts:
        try:
            u, v, _ = planned(report.design, bolt.mount_index, bolt.name)
        except NonsenseError:
            continue
        across, outer = u - pilot.at[0], v - pilot.at[1]
        inner = outer + inner_shift(bolt, pilot)
        up = 0.0 if outer * inner < 0.0 else min(abs(outer), abs(inner))
        most = math.hypot(across, max(abs(outer), abs(inner)))
        yield _Place(bolt, most, math.hypot(across, up), abs(inner) > abs(outer) + CLOSE)


def inner_shift(bolt: Bolt, pilot: Pilot) -> float:
    """Return how much higher on the inner face a hole comes out than a pilot at its place, since they lean differently [mm].

    Both start at the pilot's place: next to it a tapered transom changes this by less than a tenth.

    Raises:
        Unmeasured: they lean differently, and the transom's thickness is not known.
    """
    if abs(bolt.tilt - pilot.tilt) <= CLOSE:
        return 0.0
    hole, drilled = (exit_of(bolt.faces, *pilot.at, tilt) for tilt in (bolt.tilt, pilot.tilt))
    return hole.w - drilled.w


def _is_own(bolt: Bolt, pilot: Pilot) -> bool:
    return (bolt.mount_index, bolt.name) == (pilot.mount, pilot.hole)


def _text(report: Reporter, pilot: Pilot, place: _Place) -> str:
    bolt = place.bolt
    other = "" if _is_own(bolt, pilot) else f"{bolt.name} "
    whose = "" if bolt.mount_index == pilot.mount else f" of the {bolt.mount.name}"
    inside = " inside" if place.inside else ""
    where = f"is {report.room(place.most)} from the planned {other}hole{whose}{inside}"
    return f"The {pilot.hole} pilot {where}. The final hole does not take it away."
