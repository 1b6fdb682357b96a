"""The chance that each part inside has its room: many boats are drawn, each with all readings and holes off at once.

The draws are the same each time: a design always has the same chances.
"""

from __future__ import annotations

import math
from collections import deque
from functools import partial
from typing import TYPE_CHECKING

import msgspec
import numpy as np

from geometry.design.validity import CLOSE
from geometry.doubt.boat_numbers import numbers_of
from geometry.doubt.bought_lengths import with_lengths_kept
from geometry.doubt.drawn_errors import drawn_errors, drawn_numbers
from geometry.doubt.many_boats import ManyBoats
from geometry.doubt.many_rooms import neighbour_rooms, old_hole_rooms, part_rooms
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.inside_room import inside
from geometry.judge.report import Reporter
from geometry.judge.wood_at_holes import wood

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.doubt.drawn_errors import DrawnError
    from geometry.doubt.many_sections import Floats
    from geometry.judge.findings import Finding

TRIALS = 100_000
_AT_ONCE = 2_000  # boats: their arrays stay in the processor's own memory, and a slice of work stays short
_SEED = 20_260

Place = tuple[str, str]


class Chance(msgspec.Struct, frozen=True):
    """The chance of one part inside.

    Attributes:
        check, at: of its finding. unit: of the value: "mm" or "diameters".
        value: as the boat was read. least: the least that it needs.
        spread: one standard deviation of the value. chance: that the value is at least ``least``.
        shares: the variance that each reading's error gives, by its key; "" is the holes' own error.
    """

    check: str
    at: str
    unit: str
    value: float
    least: float
    spread: float
    chance: float
    shares: dict[str, float]


class Progress(msgspec.Struct, frozen=True):
    """How many boats are drawn, of how many, and the chances so far."""

    done: int
    count: int
    chances: tuple[Chance, ...]


def chances(design: Design, *, count: int = TRIALS, only: frozenset[Place] | None = None) -> tuple[Chance, ...]:
    """Return the chance of each part inside of each bolt, of the gap between bolts, and of the wood next to old holes.

    A part that nothing limits, or that lacks a reading, has none. Backing plates are not in it. A neighbour is not either
    where there is one.

    Args:
        count: of boats to draw. 20,000 leave an error of 0.001 at a chance of 0.975. only: the findings to look at.
    """
    return deque(drawing(design, count=count, only=only), maxlen=1).pop().chances


def least_chance(found: tuple[Chance, ...]) -> Chance | None:
    """Return the smallest chance; None where nothing is limited."""
    return min(found, key=lambda each: (each.chance, each.value), default=None)


def drawing(
    design: Design, *, count: int = TRIALS, only: frozenset[Place] | None = None, at_once: int = _AT_ONCE
) -> Iterator[Progress]:
    """Yield after each ``at_once`` boats; the last one has all of them. Whoever has enough stops asking."""
    bought = with_lengths_kept(design)
    looks = _looks(bought, only)
    if not looks:
        yield Progress(count, count, ())
        return
    errors, base, report = drawn_errors(design, bought), numbers_of(bought), Reporter(bought)
    sums, random = _Sums(looks, errors), np.random.default_rng(_SEED)
    while sums.count < count:
        many = min(at_once, count - sums.count)
        off = random.standard_normal((len(errors), many))
        boats = ManyBoats(bought, drawn_numbers(base, errors, off), many)
        sums.add(np.stack([look.values(boats, report) for look in looks]), off)
        yield Progress(sums.count, count, sums.chances())


class _Look(msgspec.Struct, frozen=True):
    """One finding to look at, with the function that gives its value for many boats."""

    finding: Finding
    values: Callable[[ManyBoats, Reporter], Floats]


def _looks(design: Design, only: frozenset[Place] | None) -> list[_Look]:
    report = Reporter(design, worded=False)
    inside(report)
    wood(report)
    found = []
    for finding in report.findings:
        known = finding.value is not None and finding.least is not None
        values = _values_of(report, finding) if known and (only is None or (finding.check, finding.at) in only) else None
        if values is not None:
            found.append(_Look(finding, values))
    return found


def _values_of(report: Reporter, finding: Finding) -> Callable[[ManyBoats, Reporter], Floats] | None:
    """Return the function that gives a finding's value for many boats; None for other findings."""
    numbers = {bolt.at: index for index, bolt in enumerate(report.bolts)}
    if finding.check in IN_WELL and finding.at in numbers:
        return partial(part_rooms, index=numbers[finding.at], part=finding.check)
    if finding.check == "neighbour" and all(bolt.plate is None for bolt in report.bolts):
        return neighbour_rooms
    if finding.check == "old_hole":
        for at, index in numbers.items():
            for number, hole in enumerate(report.design.old_holes):
                if finding.at == f"{at} / {hole.name}":
                    size = report.bolts[index].thread.diameter if finding.unit == "diameters" else 1.0
                    return partial(_old_hole, index=index, hole=number, size=size)
    return None


def _old_hole(boats: ManyBoats, report: Reporter, index: int, hole: int, size: float) -> Floats:
    return old_hole_rooms(boats, report, index, hole) / size


class _Sums:
    """The sums over the boats drawn so far, for each finding (rows)."""

    def __init__(self, looks: list[_Look], errors: tuple[DrawnError, ...]) -> None:
        self._looks, self._keys = looks, [error.key for error in errors]
        self._base = np.array([[look.finding.value or 0.0] for look in looks])
        self._least = np.array([[look.finding.least or 0.0] for look in looks])
        self._enough, self._limited = np.zeros(len(looks)), np.zeros(len(looks))
        self._first, self._second = np.zeros(len(looks)), np.zeros(len(looks))
        self._moved = np.zeros((len(looks), len(errors)))
        self.count = 0

    def add(self, values: Floats, off: Floats) -> None:
        """Add some boats: the values of each finding, and how far each reading is off in spreads."""
        self.count += values.shape[1]
        self._enough += np.count_nonzero(values >= self._least - CLOSE, axis=1)
        limited = np.isfinite(values)  # nothing limits the part in the others
        apart = np.where(limited, values - self._base, 0.0)
        self._limited += np.count_nonzero(limited, axis=1)
        self._first += apart.sum(axis=1)
        self._second += (apart * apart).sum(axis=1)
        self._moved += apart @ off.T

    def chances(self) -> tuple[Chance, ...]:
        """Return the chances so far."""
        found = []
        for at, look in enumerate(self._looks):
            count = max(1.0, self._limited[at])
            mean = self._first[at] / count
            spread = math.sqrt(max(0.0, self._second[at] / count - mean * mean))
            shares: dict[str, float] = {}
            for key, moved in zip(self._keys, self._moved[at] / count, strict=True):
                shares[key] = shares.get(key, 0.0) + moved * moved
            chance = float(self._enough[at] / self.count)
            each = look.finding
            found.append(Chance(each.check, each.at, each.unit, each.value or 0.0, each.least or 0.0, spread, chance, shares))
        return tuple(found)
