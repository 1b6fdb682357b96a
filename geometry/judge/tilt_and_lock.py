"""Checks of the room to tilt and turn a motor: the well's front, lip and sides, and the next motor's sweep [mm]."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.reporter import WELL_KEYS, Outcome, Reporter
from geometry.readings.measures import lacking, name_of
from geometry.solid.bracket_holes import mount_key
from geometry.solid.faces import Unmeasured, need
from geometry.solid.tilt_sweep import front_of, reach_aside, room_ahead, sides_of, sweep_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Span

SWEEPS = "sweeps"
_FRONT = ("well.length", "well.front_lean", "well.front_height")
_PLACE = ("upper_at", "row", "set_back", "offset", "tilt", "bracket")


def tilting(report: Reporter) -> None:
    """Add for each motor its room ahead while it tilts, and its room to each side while it turns."""
    for index in range(len(report.design.mounts)):
        _tilt_room(report, index)
        _lock_room(report, index)
    mounts = report.design.mounts
    order = sorted(range(len(mounts)), key=lambda index: mounts[index].offset or 0.0)
    for port, starboard in pairwise(order):
        _between_sweeps(report, port, starboard)


def _points(report: Reporter, index: int) -> range:
    """Return the numbers of a motor's outermost places.

    Raises:
        Unmeasured: there is none.
    """
    points = report.design.mounts[index].tilt.points
    if not points:
        raise Unmeasured(mount_key(index, "tilt.points.0.radius"))
    return range(len(points))


def _limits(report: Reporter, check: str) -> Span:
    limits: Span = getattr(report.design.limits, check)
    return limits


def _keys(*indices: int) -> tuple[str, ...]:
    return tuple(mount_key(index, field) for index in indices for field in _PLACE)


def _or_a_note(report: Reporter, what: str, look: Callable[[], Outcome | None]) -> Callable[[], Outcome | None]:
    """Return a check that gives a note with the reading to take where it lacks one."""

    def noted() -> Outcome | None:
        try:
            return look()
        except Unmeasured as missing:
            key = lacking(report.design, missing.key)
            if not report.worded:
                return Outcome(None, "", None, "note", missing=key)
            name = name_of(report.design, key)
            return Outcome(None, f"{what} is not checked: {name} is not measured.", f"Measure {name}.", "note", missing=key)

    return noted


def _room(report: Reporter, check: str, value: float, what: str, against: str, cure: str) -> Outcome:
    """Return the outcome of a room [mm], by the limits of its check; below 0 it is an overlap."""
    advised = _limits(report, check)[1]
    obstacle = against.removeprefix("the ")
    if value < -CLOSE:
        return Outcome(value, f"{what} overlaps {against} by {report.overlap(value)}.", cure, against=obstacle)
    text = f"{what} clears {against} by {report.room(value)}"
    if value < advised - CLOSE:
        return Outcome(value, f"{text}; {report.limit(advised)} is advised.", cure, against=obstacle)
    return Outcome(value, f"{text}.", against=obstacle)


def _tilt_room(report: Reporter, index: int) -> None:
    mount = report.design.mounts[index]

    def look() -> Outcome | None:
        if report.design.well is None:
            return None
        sweeps = [sweep_of(report.design, index, number) for number in _points(report, index)]
        front = front_of(report.design, report.space, index)
        if front is None:
            return None
        value = min(room_ahead(sweep, front) for sweep in sweeps)
        cure = "Stop its tilt sooner, or hang the motor higher."
        return _room(report, "tilt_room", value, f"The tilted {mount.name}", "the front of the well", cure)

    report.add("tilt_room", mount.name, _limits(report, "tilt_room"), "mm", (*WELL_KEYS, *_FRONT, *_keys(index)), (index,),
               _or_a_note(report, f"The room to tilt the {mount.name}", look))  # fmt: skip


def _lock_room(report: Reporter, index: int) -> None:
    mount = report.design.mounts[index]

    def look() -> Outcome | None:
        if report.design.well is None:
            return None
        sweeps = [sweep_of(report.design, index, number) for number in _points(report, index)]
        middle = need(mount.offset, mount_key(index, "offset"))
        port, starboard = sides_of(report.design, report.space, sweeps)
        aside = max(sweep.aside for sweep in sweeps)
        value, side = min((middle - aside - port, "port"), (starboard - middle - aside, "starboard"))
        cure = "Limit its lock, or lower no part of it into the well."
        return _room(report, "lock_room", value, f"The turned {mount.name}", f"the well's {side} side", cure)

    report.add("lock_room", mount.name, _limits(report, "lock_room"), "mm", (*WELL_KEYS, *_keys(index)), (index,),
               _or_a_note(report, f"The room to turn the {mount.name}", look))  # fmt: skip


def _between_sweeps(report: Reporter, port: int, starboard: int) -> None:
    names = [report.design.mounts[index].name for index in (port, starboard)]

    def edge(index: int, side: float) -> float:
        middle = need(report.design.mounts[index].offset, mount_key(index, "offset"))
        return middle + side * max(reach_aside(report.design, index, number) for number in _points(report, index))

    def look() -> Outcome:
        value = edge(starboard, -1.0) - edge(port, 1.0)
        cure = "Move the motors further apart, or limit their lock."
        return _room(report, "lock_room", value, f"The turned {names[0]}", f"the turned {names[1]}", cure)

    what = f"The room between the turned {names[0]} and {names[1]}"
    report.add("lock_room", f"{names[0]} and {names[1]} / {SWEEPS}", _limits(report, "lock_room"), "mm",
               _keys(port, starboard), (port, starboard),
               _or_a_note(report, what, look))  # fmt: skip
