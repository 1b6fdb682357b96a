"""Pilots: small holes at the places of the planned ones, and the distance from each to something on the inner face.

A pilot holds floor, step, rake and thickness together, at the place that matters. The boat is solved with it. Lengths [mm].
"""

from __future__ import annotations

from functools import lru_cache, partial
from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from geometry.design.design import Pilot
from geometry.design.validity import CLOSE, SECOND, NonsenseError
from geometry.readings.measure import Measure

if TYPE_CHECKING:
    from geometry.design.design import Design, PilotEnd
    from geometry.design.validity import Number

    Place = tuple[float, float, float]  # (u, v) on the outer face and the tilt

DIAMETER = 25.4 / 8
"""[mm] of a pilot's drill: 1/8 in, or 3 mm, which is less: common practice."""
SECTION = {"upper": 6, "lower": 7}
"""The card's sections of the holes."""
_HOLES: tuple[tuple[Literal["upper", "lower"], Literal["port", "starboard"]], ...] = (
    ("lower", "port"), ("lower", "starboard"), ("upper", "port"), ("upper", "starboard"),
)  # fmt: skip
_PAGE = "measuring#pilots"
_HOW: dict[PilotEnd, str] = {
    "washer mark": "Below the pilot, slide a washer down until it rocks. Measure from the pilot’s middle down to the washer’s.",
    "floor": "Lay a straightedge on the flat floor, up to the inner face. Measure from the pilot’s middle down to it.",
    "wall": "From the pilot’s middle, level across to the well’s side, along a straightedge on it.",
    "old hole": "From the pilot’s middle to the middle of the nearest old hole, inside.",
    "block": "From the pilot’s middle to the nearest edge of the part that is in the way, inside.",
}
_ENDS: dict[PilotEnd, str] = {
    "washer mark": "the washer’s mark", "floor": "the floor", "wall": "the well’s side", "old hole": "the old hole",
    "block": "the part in the way",
}  # fmt: skip


def end_words(to: PilotEnd) -> str:
    """Return the other end of a pilot's distance, in a sentence: "the washer's mark"."""
    return _ENDS[to]


def pilot_key(mount: int, hole: str) -> str:
    """Return the key of the distance from a pilot, of a hole such as "lower port"."""
    return f"mounts.{mount}{SECOND}pilot_{hole.replace(' ', '_')}"


def hole_of(key: str) -> str:
    """Return the hole of a pilot's key, such as "lower port"; "" for another key."""
    return next((f"{pair} {side}" for pair, side in _HOLES if key.endswith(f"{SECOND}pilot_{pair}_{side}")), "")


def pilot_of(design: Design, mount: int, hole: str) -> Pilot | None:
    """Return the pilot of a hole, None where there is none yet."""
    return next((pilot for pilot in design.pilots if (pilot.mount, pilot.hole) == (mount, hole)), None)


def pilot_readings(design: Design) -> list[Measure]:
    """Return the distances that can be read from pilots, one of each hole, the lower ones first."""
    return [
        _row(index, f"{pair} {side}", _end(design, index, f"{pair} {side}"))
        for index, mount in enumerate(design.mounts) if mount.bracket.rows is not None
        for pair, side in _HOLES
    ]  # fmt: skip


def ends_there(design: Design) -> tuple[PilotEnd, ...]:
    """Return what distances from a pilot can be measured to on this boat."""
    well: tuple[PilotEnd, ...] = () if design.well is None else ("washer mark", "floor", "wall")
    holes: tuple[PilotEnd, ...] = ("old hole",) if design.old_holes else ()
    parts: tuple[PilotEnd, ...] = ("block",) if design.inside_blocks else ()
    return (*well, *holes, *parts)


def with_pilot(design: Design, mount: int, hole: str, **changed: object) -> Design:
    """Return ``design`` with some values of a hole's pilot changed. A new one is at the hole's planned place.

    Raises:
        NonsenseError: the hole has no place yet, or a value is impossible.
    """
    pilot = pilot_of(design, mount, hole)
    if pilot is not None:
        fresh = tuple(replace(each, **changed) if each is pilot else each for each in design.pilots)
        return replace(design, pilots=fresh)
    u, v, tilt = planned(design, mount, hole)
    hung = design.mounts[mount]
    hardware = hung.upper_hardware if hole.startswith("upper") else hung.lower_hardware
    pair, side = next((pair, side) for pair, side in _HOLES if hole == f"{pair} {side}")
    pilot = Pilot(
        mount=mount, pair=pair, side=side, to=_end(design, mount, hole), value=None,
        washer=None if hardware is None else hardware.washer.outer, at=(u, v), tilt=tilt,
    )  # fmt: skip
    return replace(design, pilots=(*design.pilots, replace(pilot, **changed)))


def with_end(design: Design, key: str, to: PilotEnd) -> Design:
    """Return ``design`` with the pilot of a key read to another end, before it is read.

    Raises:
        NonsenseError: its hole has no place yet.
    """
    return with_pilot(design, int(key.split(".")[1]), hole_of(key), to=to)


def planned(design: Design, mount: int, hole: str) -> Place:
    """Return the planned place of a hole on the outer face, and its tilt.

    Raises:
        NonsenseError: it has none yet.
    """
    hung, port = design.mounts[mount], hole.endswith("port")
    rows, lower = hung.bracket.rows, hung.bracket.lower
    upper = hole.startswith("upper")
    spread, tilt = (rows, hung.upper_tilt) if upper else (lower, hung.lower_tilt)
    if spread is None or hung.offset is None or hung.upper_at is None or tilt is None or (hung.drop is None and not upper):
        raise NonsenseError(f"the {hole} hole has no place yet", "a pilot needs the place of its hole")
    across = hung.offset - spread.half_spacing if port else hung.offset + spread.half_spacing
    return across, hung.upper_at if upper else hung.upper_at - (hung.drop or 0.0), tilt


def has_place(design: Design, mount: int, hole: str) -> bool:
    """Return whether a hole has a planned place."""
    try:
        planned(design, mount, hole)
    except NonsenseError:
        return False
    return True


def is_at_plan(design: Design, pilot: Pilot) -> bool:
    """Return whether the planned hole is still where its pilot was to be. Allows 1e-6."""
    try:
        u, v, tilt = planned(design, pilot.mount, pilot.hole)
    except NonsenseError:
        return False
    return max(abs(u - pilot.at[0]), abs(v - pilot.at[1]), abs(tilt - pilot.tilt)) <= CLOSE


def followed(before: Design, after: Design) -> Design:
    """Return ``after`` with each pilot that was at its plan in ``before`` at its plan there: it is off with its hole."""
    if not before.pilots:
        return after
    moved = []
    for pilot in after.pilots:
        if is_at_plan(before, pilot):
            u, v, tilt = planned(after, pilot.mount, pilot.hole)
            moved.append(replace(pilot, at=(u, v), tilt=tilt))
        else:
            moved.append(pilot)
    return replace(after, pilots=tuple(moved))


def taken_away(hole: float, apart: float) -> bool:
    """Return whether a final hole still takes a pilot away whose middle is ``apart`` from its own [mm]. Allows 1e-6."""
    return apart <= may_move(hole) + CLOSE


def may_move(hole: float) -> float:
    """Return how far a final hole may be from its pilot, and still take it away [mm]."""
    return max(0.0, (hole - DIAMETER) / 2)


def least_apart(hole: float) -> float:
    """Return how near a final hole's middle may be to a pilot that it does not take away, without overlapping it [mm]."""
    return (hole + DIAMETER) / 2


def _end(design: Design, mount: int, hole: str) -> PilotEnd:
    """Return what a pilot's distance is measured to; of a new pilot the first that there is on this boat."""
    pilot = pilot_of(design, mount, hole)
    return next(iter(ends_there(design)), "washer mark") if pilot is None else pilot.to


@lru_cache(maxsize=64)
def _row(mount: int, hole: str, to: PilotEnd) -> Measure:
    def get(design: Design) -> Number:
        held = pilot_of(design, mount, hole)
        return None if held is None else held.value

    return Measure(
        pilot_key(mount, hole), SECTION[hole.split(maxsplit=1)[0]], f"{hole.capitalize()} pilot, to {end_words(to)}",
        _HOW[to], 0.5, "length", "washer", get, partial(_with_value, mount, hole), way="rule", page=_PAGE,
        empty="not drilled", second=True,
    )  # fmt: skip


def _with_value(mount: int, hole: str, design: Design, value: Number) -> Design:
    if value is None:
        kept = tuple(pilot for pilot in design.pilots if (pilot.mount, pilot.hole) != (mount, hole))
        return replace(design, pilots=kept)
    return with_pilot(design, mount, hole, value=value)
