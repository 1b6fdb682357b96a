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
from geometry.doubt.kept_bolt_lengths import with_lengths_kept
from geometry.doubt.many_boats import ManyBoats
from geometry.doubt.many_rooms import keep_rooms, neighbour_rooms, old_hole_rooms, part_rooms
from geometry.doubt.random_errors import drawn_errors, drawn_numbers
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.inside_room import inside
from geometry.judge.reporter import Reporter
from geometry.judge.wood_around_holes import wood
from geometry.solving.solved import solved

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.doubt.many_sections import Floats
    from geometry.doubt.random_errors import DrawnError
    from geometry.judge.findings import Finding

TRIALS = 100_000
_AT_ONCE = 4_000  # boats: their arrays stay in the processor's own memory, and a slice of work stays short
_SEED = 20_260
_SETTLING, _SETTLED = 4_000, 4.0  # boats, all with room, and spreads to the least, after which a part is drawn no further

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


def drawing(
    design: Design, *, count: int = TRIALS, only: frozenset[Place] | None = None, at_once: int = _AT_ONCE
) -> Iterator[Progress]:
    """Yield after each ``at_once`` boats; the last one has all of them. Whoever has enough stops asking."""
    bought = with_lengths_kept(design)
    boat = solved(bought)
    looks = _looks(boat, only)
    if not looks:
        yield Progress(count, count, ())
        return
    errors, base, report = tuple(drawn_errors(design, bought)), numbers_of(boat), Reporter(boat)
    sums, random = [_Sum(look, errors) for look in looks], np.random.default_rng(_SEED)
    done = 0
    while done < count:
        many = min(at_once, count - done)
        off = random.standard_normal((len(errors), many))
        boats = ManyBoats(boat, drawn_numbers(base, errors, off), many)
        open_now = [each for each in sums if not each.settled]
        keep_rooms(boats, (each.look.part for each in open_now if each.look.part is not None))
        for each in open_now:
            each.add(each.look.values(boats, report), off)
        done += many
        yield Progress(done, count, tuple(each.chance for each in sums))


class _Look(msgspec.Struct, frozen=True):
    """One finding to look at: the function that gives its value for many boats, and the part of a bolt that it is about."""

    finding: Finding
    values: Callable[[ManyBoats, Reporter], Floats]
    part: tuple[int, str] | None


def _looks(design: Design, only: frozenset[Place] | None) -> list[_Look]:
    report = Reporter(design, worded=False)
    inside(report)
    wood(report)
    numbers, looks = {bolt.at: index for index, bolt in enumerate(report.bolts)}, []
    for finding in report.findings:
        known = finding.value is not None and finding.least is not None
        values = _values_of(report, finding) if known and (only is None or (finding.check, finding.at) in only) else None
        if values is not None:
            part = (numbers[finding.at], finding.check) if finding.check in IN_WELL and finding.at in numbers else None
            looks.append(_Look(finding, values, part))
    return looks


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


class _Sum:
    """The sums of one finding over the boats drawn so far."""

    def __init__(self, look: _Look, errors: tuple[DrawnError, ...]) -> None:
        self.look, self._keys = look, [error.key for error in errors]
        self._value, self._least = look.finding.value or 0.0, look.finding.least or 0.0
        self._count = self._enough = self._limited = 0
        self._first = self._second = 0.0
        self._moved = np.zeros(len(errors))

    def add(self, values: Floats, off: Floats) -> None:
        """Add some boats: the values, and how far each reading is off in spreads."""
        self._count += len(values)
        self._enough += int(np.count_nonzero(values >= self._least - CLOSE))
        limited = np.isfinite(values)  # nothing limits the part in the others
        apart = values - self._value if limited.all() else np.where(limited, values - self._value, 0.0)
        self._limited += int(np.count_nonzero(limited))
        self._first += float(apart.sum())
        self._second += float(apart @ apart)
        self._moved += off @ apart

    @property
    def settled(self) -> bool:
        """Whether no more boats can change the answer: all of many have room, by `_SETTLED` spreads in the middle."""
        if self._count < _SETTLING or self._enough < self._count:
            return False
        mean, spread = self._spread
        return min(self._value + mean, self._value) - self._least > _SETTLED * spread

    @property
    def _spread(self) -> tuple[float, float]:
        count = max(1, self._limited)
        mean = self._first / count
        return mean, math.sqrt(max(0.0, self._second / count - mean * mean))

    @property
    def chance(self) -> Chance:
        """The chance so far."""
        shares: dict[str, float] = {}
        for key, moved in zip(self._keys, (self._moved / max(1, self._limited)).tolist(), strict=True):
            shares[key] = shares.get(key, 0.0) + moved * moved
        each, chance = self.look.finding, self._enough / max(1, self._count)
        return Chance(each.check, each.at, each.unit, self._value, self._least, self._spread[1], chance, shares)
