"""An owner who reads a true boat with the usual errors, and at times with one blunder."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from msgspec.structs import replace

from geometry.design.design import Reading
from geometry.drilling.bracket_chance import pattern
from geometry.drilling.bracket_fit import Holes, best_place
from geometry.edits.edits import enter, enter_value
from geometry.readings.angle_sides import SIDES
from geometry.readings.boat_measures import floor_depth
from geometry.readings.measures import measure
from geometry.readings.pilots import hole_of, pilot_of
from geometry.readings.reading_spreads import hole_spread
from geometry.readings.second_readings import WASHER_ACROSS
from geometry.solid.faces import faces, profile_up
from geometry.solving.comparisons import comparisons
from geometry.tables import fasteners
from tests.designs import IN, sure

if TYPE_CHECKING:
    from collections.abc import Callable
    from random import Random

    from geometry.design.design import Design
    from geometry.readings.measures import Measure
    from tests.owner.true_boats import TrueBoat

    Slip = Callable[[Design], Design]

ERRORS = {"tape": 0.8, "well": 1.5, "rake": 0.5, "washer": 0.75, "calipers": 0.1, "ring": 0.3}
"""One standard deviation of a reading: of a tape, in the well [mm], of an angle [degrees], of a washer's mark, of calipers.

"ring" is of a look through the bracket at a ring on the taped template: of the eye, and of the paper.
"""
PORT, STARBOARD, RADIUS = "well.floor_port", "well.floor_starboard", "well.fillet_radius"
RAKE, CUT, THICK = "transom.rake", "transom.top_cut", "transom.thickness.top"
PATTERN = tuple(f"mounts.0.bracket.{field}" for field in ("rows.half_spacing", "lower.half_spacing", "lower.slots.0.0"))
BOTH_SIDES = "outside for inside"
FIRST_INCH = "the tape's first inch"
"""The tape begins at its first inch, so that all its lengths are an inch too long."""
BLUNDERS = {
    "an inch miscounted": (PORT, STARBOARD),
    "digits swapped": (PORT, STARBOARD, RADIUS, RAKE),
    "edge for centre": (*PATTERN, "old_holes.0.down"),
    "port for starboard": (PORT, STARBOARD),
    "mm as inches": (PORT, STARBOARD, RADIUS),
    BOTH_SIDES: (PORT, STARBOARD),
    "sign of an angle": (RAKE, CUT),
    FIRST_INCH: (PORT, STARBOARD, *PATTERN),
}
"""The kinds of blunder, each with the readings that it happens at."""
_AT_ONCE = {".half_spacing": 2, ".rows.pitch": 4}  # of a bracket's distance: a tape goes from hole to hole, over all gaps
_EDGE = 6.4  # [mm] from the middle of a half-inch hole to its edge
_LIKE = 2.0  # [mm] by which an owner sees that a distance is another


class Owner:
    """Reads a true boat.

    Args:
        blunder: the kind of the one blunder, "" for none. It happens at the first reading of one key. Whoever reads one floor
            from the outside edge reads the other one so too. A tape that is wrong is so every time.

    Attributes:
        at: the keys that it happens at. slips: each puts the blunder at one key into a design, once it happened.
    """

    def __init__(self, boat: TrueBoat, rng: Random, blunder: str = "") -> None:
        self.boat, self.blunder, self._rng = boat, blunder, rng
        single = (rng.choice(BLUNDERS[blunder]),) if blunder else ()
        self.at = BLUNDERS[blunder] if blunder in (BOTH_SIDES, FIRST_INCH) else single
        self.readings = 0
        self.slips: dict[str, Slip] = {}

    @property
    def blundered(self) -> bool:
        """Whether the blunder happened."""
        return bool(self.slips)

    def text(self, design: Design, key: str) -> str:
        """Return what the owner types for a reading: to a sixteenth of an inch, or half a degree."""
        self.readings += 1
        row, true = sure(measure(design, key)), self.boat.true
        if key == CUT and isinstance(true.transom.top_cut, str) and CUT not in self.at:
            return true.transom.top_cut
        value = self._to_its_end(design, key) if hole_of(key) else self._true(row)
        spread = ERRORS["calipers" if "_hardware." in key else row.spread]
        read = value + (self._rng.gauss(0.0, spread) + self._by_tape(row)) / _at_once(key)
        if self._by_tape(row):
            self.slips[key] = partial(_with_text, key, _typed(row, read))
        elif key in self.at and key not in self.slips:
            text = self._blunder(key, read)
            self.slips[key] = partial(_with_text, key, text)
            return text
        return _typed(row, read)

    def _by_tape(self, row: Measure) -> float:
        """Return by how much the tape is wrong for a reading [mm]."""
        return IN if self.blunder == FIRST_INCH and row.kind == "length" and row.way == "tape" else 0.0

    def _true(self, row: Measure) -> float:
        true = self.boat.true
        if row.second:
            if row.key == WASHER_ACROSS:
                return 38.1
            known = replace(true, readings={WASHER_ACROSS: _washer(), row.key: _washer()})
            return next(each.expect(known) for each in comparisons(known) if each.key == row.key)
        if row.key == CUT:
            cut = true.transom.top_cut
            return {"level": sure(true.transom.rake), "square": 0.0}.get(cut, 0.0) if isinstance(cut, str) else sure(cut)
        mine = measure(true, row.key)
        return sure(sure(mine).get(true))

    def _to_its_end(self, design: Design, key: str) -> float:
        """Return the true distance from a pilot, which came out a little off its planned place."""
        true, pilot = self.boat.true, sure(pilot_of(design, 0, hole_of(key)))
        off = hole_spread(true.spreads, sure(true.transom.thickness.top))
        at = (pilot.at[0] + self._rng.gauss(0.0, off), pilot.at[1] + self._rng.gauss(0.0, off))
        known = replace(true, mounts=design.mounts, pilots=(replace(pilot, at=at, value=0.0),))
        return next(each.expect(known) for each in comparisons(known) if each.key == key)

    def _blunder(self, key: str, read: float) -> str:
        true, row = self.boat.true, sure(measure(self.boat.true, key))
        match self.blunder:
            case "an inch miscounted":
                return _typed(row, read + self._rng.choice((-1, 1)) * IN)
            case "digits swapped":
                return _swapped(_typed(row, read), self._rng)
            case "edge for centre":
                return _typed(row, read + self._rng.choice((-1, 1)) * _EDGE)
            case "port for starboard":
                return _typed(row, sure(floor_depth(true, 1 if key == PORT else -1)) + self._rng.gauss(0.0, 1.5))
            case "mm as inches":
                return f"{read:.0f}"
            case "outside for inside":
                return _typed(row, read - profile_up(faces(true.transom), sure(true.well)))
            case _:
                return _typed(row, -read)

    def matches(self, design: Design) -> bool:
        """Return whether the bracket's three distances are those of the standard pattern, as far as a tape shows."""
        self.readings += 3
        if self.blunder != FIRST_INCH and any(key in PATTERN and key not in self.slips for key in self.at):
            return False
        rows = [sure(measure(design, key)) for key in PATTERN]
        off = ((self._rng.gauss(0.0, 0.8) + self._by_tape(row)) / _at_once(row.key) for row in rows)
        return all(abs(self._true(row) + each - sure(row.get(design))) <= _LIKE for row, each in zip(rows, off, strict=True))

    def sees_a_ring_covered(self, planned: Design) -> bool:
        """Return whether the bracket, in its best place on the template, seems to cover a part of a fit ring; at two looks."""
        mount = replace(planned.mounts[0], bracket=self.boat.true.mounts[0].bracket)
        table, heights = pattern(mount, 0)
        rows, lower = planned.mounts[0].bracket.rows, planned.mounts[0].bracket.lower
        halves = [sure(sure(rows).half_spacing)] * 2 + [sure(sure(lower).half_spacing)] * 2
        holes = np.array([[side * half, v] for side, half, v in zip((-1, 1, -1, 1), halves, heights, strict=True)])
        own = np.array(table)
        fitted = best_place(Holes(own[:, :2], own[:, 2], own[:, 3], own[:, 4]), holes[None])
        pairs = (sure(mount.upper_hardware), sure(mount.lower_hardware))
        plays = [(sure(each.hole) - fasteners.bolt(each.bolt).diameter) / 2 for each in pairs for _ in (-1, 1)]
        covered = np.hypot(*fitted.misses[0].T) - own[:, 4] - plays
        return all(any(by + self._rng.gauss(0.0, ERRORS["ring"]) > 0.0 for by in covered) for _ in range(2))

    def with_old_holes(self, design: Design) -> Design:
        """Return ``design`` with the boat's old holes, as the owner measures them."""
        holes, readings = [], dict(design.readings)
        for number, hole in enumerate(self.boat.true.old_holes):
            self.readings += 2
            by_tape = IN if self.blunder == FIRST_INCH else 0.0
            off = [self._rng.gauss(0.0, 0.8) + by_tape * side for side in (math.copysign(1, sure(hole.at[0])), -1)]
            key = f"old_holes.{number}.down"
            if key in self.at and key not in self.slips:
                off[1] += _EDGE
                self.slips[key] = partial(_with_hole_higher, key)
            at = (sure(hole.at[0]) + off[0], sure(hole.at[1]) + off[1])
            holes.append(replace(hole, at=tuple(round(each / IN * 16) / 16 * IN for each in at)))
        return replace(design, old_holes=tuple(holes), readings=readings, look_for_holes=False)


def _with_text(key: str, text: str, design: Design) -> Design:
    return enter(design, sure(measure(design, key)), text)


def _with_hole_higher(key: str, design: Design) -> Design:
    """Return ``design`` with an old hole's depth read to its edge."""
    row = sure(measure(design, key))
    return enter_value(design, row, sure(row.get(design)) - _EDGE)


def _washer() -> Reading:
    return Reading(text="", value=38.1, from_="centre", how="calliper", state="measured", spread=None, second=None)


def _typed(row: Measure, value: float) -> str:
    if row.kind == "angle":
        size = round(value * 2) / 2
        return f"{-size:g} {SIDES[row.key].other}" if size < 0 and row.key in SIDES else f"{size:g}"
    many = _at_once(row.key)
    return f"{round(value * many / IN * 16) / 16 / many:.6f}"


def _at_once(key: str) -> int:
    return next((many for end, many in _AT_ONCE.items() if key.endswith(end)), 1)


def _swapped(text: str, rng: Random) -> str:
    """Return a figure with two neighbouring digits swapped, as "9.75" and "7.95"."""
    short = text.rstrip("0").rstrip(".") if "." in text else text
    places = [at for at, sign in enumerate(short) if sign.isdigit()]
    pairs = [(a, b) for a, b in zip(places, places[1:], strict=False) if short[a] != short[b]]
    if not pairs:
        return text
    a, b = rng.choice(pairs)
    signs = list(short)
    signs[a], signs[b] = signs[b], signs[a]
    return "".join(signs)
