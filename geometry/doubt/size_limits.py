"""The largest and the smallest size of a part to buy that still clears, found from the checks themselves [mm].

A size still clears while no check that it moves stops the paper. A part inside the well keeps the room that makes its chance
`SURE`, with the spread that it has now. So a part bought at the limit may be drilled for, and one just beyond it may not.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import NonsenseError
from geometry.doubt.spreads import less_is_better, with_spreads
from geometry.judge.check import check, findings_of
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import SPREADS, SURE
from geometry.readings.measures import at_path, measures

if TYPE_CHECKING:
    from geometry.judge.findings import Checked, Finding
    from geometry.readings.measures import Measure

_MOST = ("washer.outer", "socket.outer", "socket.length", "spanner.outer", "spanner.thickness", "spanner.length")
_LEAST = ("outside_washer.outer",)
_FARTHEST = 64.0  # [mm] from the listed size, or as far as it is large: what clears there has no limit worth printing
_EXACT = 1e-7  # [mm]
_MOVED = 1e-9  # of a value: less is rounding
_ROUNDS = 3  # of spreads: another obstacle may be near at the limit, with another spread


class SizeLimit(msgspec.Struct, frozen=True):
    """The limit of one size: ``largest``, or else smallest, that still clears [mm]; ``check``: what it moves first."""

    key: str
    value: float
    largest: bool
    check: str


def size_limits(checked: Checked) -> tuple[SizeLimit, ...]:
    """Return the limit of each size to buy that has one. () while the chances are not known."""
    if not checked.sure:
        return ()
    states = {key: reading.state for key, reading in checked.design.readings.items()}
    rows = [row for row in measures(checked.design) if states.get(row.key) == "to buy"]
    limits = [_limit(checked, row) for row in rows if _field(row) in (*_MOST, *_LEAST) and row.get(checked.design) is not None]
    return tuple(limit for limit in limits if limit is not None)


def _field(row: Measure) -> str:
    return row.key.partition("_hardware.")[2]


def _limit(checked: Checked, row: Measure) -> SizeLimit | None:
    sure, way, start = checked, (1.0 if _field(row) in _MOST else -1.0), row.get(checked.design) or 0.0
    for again in range(_ROUNDS, 0, -1):
        search = _Search(sure, checked, row)
        far = _farthest(search, start, way)
        if far is None:
            return None
        first = search.least(far + way * 2 * _EXACT)[1]
        if first is None or again == 1 or not _is_elsewhere(search, first, far):
            return SizeLimit(row.key, far, way > 0, "" if first is None else first.check)
        sure = with_spreads(check(row.set(checked.design, far)))
    return None


class _Search:
    """The room that a size leaves, by the spreads of ``sure`` and the findings of ``checked``.

    Attributes:
        smallest: no ring over a nut is narrower than the nut's corners [mm]. moved: the findings that the size moves.
        lost: findings without room that it does not move.
    """

    def __init__(self, sure: Checked, checked: Checked, row: Measure) -> None:
        self.sure, self.checked, self.row = sure, checked, row
        now = row.get(checked.design) or 0.0
        hardware = at_path(checked.design, row.key.partition("_hardware.")[0] + "_hardware")
        self.smallest = hardware.inside_hexagon.corners or 0.0 if _field(row).endswith("outer") else 0.0
        self.moved = {place for by in (1.0, -1.0) for place in self._changed(now + by)}
        self.lost = {(each.check, each.at) for each in checked.findings if self._room(each) < 0.0} - self.moved

    def least(self, size: float) -> tuple[float, Finding | None]:
        """Return the least room over what is needed, and its finding; inf and None where no check is moved."""
        try:
            changed = self.row.set(self.checked.design, size)
        except NonsenseError:
            return -math.inf, None
        rooms = [
            (self._room(finding), finding) for finding in findings_of(changed, self.checked, worded=False)
            if self._counts(finding) and ((finding.check, finding.at) in self.moved or self._is_moved(finding))
            and (finding.check, finding.at) not in self.lost
        ]  # fmt: skip
        return min(rooms, key=lambda room: room[0], default=(math.inf, None))

    def _counts(self, finding: Finding) -> bool:
        """Return whether a finding can end a size. A torque that is over its limit already is no matter of the size."""
        if finding.stops == "over its limit":
            now = self.checked.of(finding.check, finding.at)
            return now is not None and now.state != "fouled" and finding.state != "unknown"
        return finding.stops == "always" and finding.state != "unknown"

    def _changed(self, size: float) -> set[tuple[str, str]]:
        try:
            changed = self.row.set(self.checked.design, size)
        except NonsenseError:
            return set()
        tried = findings_of(changed, self.checked, worded=False)
        return {(finding.check, finding.at) for finding in tried if self._is_moved(finding)}

    def _is_moved(self, finding: Finding) -> bool:
        now = self.checked.of(finding.check, finding.at)
        if now is None or now.value is None or finding.value is None:
            return now is None or now.state != finding.state
        return abs(now.value - finding.value) > _MOVED

    def _room(self, finding: Finding) -> float:
        if finding.value is None or finding.least is None:
            return -math.inf if finding.state == "fouled" else math.inf
        return _over(finding) - self._needed(self.sure.of(finding.check, finding.at))

    def _needed(self, now: Finding | None) -> float:
        """Return the room that makes a finding `SURE`; where it is so with less, from trials, the room that it has now."""
        if now is None or now.spread is None or not CHECK_KINDS[now.check].by_chance:
            return 0.0
        needed = SPREADS * now.spread
        return min(needed, max(0.0, _over(now))) if now.chance is not None and now.chance >= SURE else needed


def _over(finding: Finding) -> float:
    """Return how far a finding's value is on the right side of its least."""
    sign = -1.0 if less_is_better(finding) else 1.0
    return sign * ((finding.value or 0.0) - (finding.least or 0.0))


def _farthest(search: _Search, start: float, way: float) -> float | None:
    """Return the size farthest along ``way`` that still clears, within `_EXACT`; None for none, or for no limit."""
    clears = search.least(start)[0] >= 0.0
    good = bad = start
    step, most = 1.0, max(_FARTHEST, start)
    while step < 2 * most:
        tried = start + min(step, most) * (way if clears else -way)
        if tried < search.smallest and not clears:
            return None
        if (search.least(tried)[0] >= 0.0) != clears:
            return _between(search, good, tried) if clears else _between(search, tried, bad)
        good, bad = (tried, bad) if clears else (good, tried)
        step *= 2
    return None


def _between(search: _Search, good: float, bad: float) -> float:
    """Return the last size that clears between one that does and one that does not. The room falls all the way."""
    room, lack = search.least(good)[0], search.least(bad)[0]
    turn = 0
    while abs(bad - good) > _EXACT:
        share = room / (room - lack) if turn % 3 != 2 and math.isfinite(lack) and math.isfinite(room) else 0.5
        edge = _EXACT / 2 / abs(bad - good)
        middle = good + min(1 - edge, max(edge, share)) * (bad - good)
        tried = search.least(middle)[0]
        if tried >= 0.0:
            good, room = middle, tried
        else:
            bad, lack = middle, tried
        turn += 1
    return good


def _is_elsewhere(search: _Search, finding: Finding, size: float) -> bool:
    """Return whether a part at its limit is nearest to another obstacle than its spread is for."""
    if not CHECK_KINDS[finding.check].by_chance:
        return False
    changed = findings_of(search.row.set(search.checked.design, size), search.checked, worded=True)
    there = next((each for each in changed if (each.check, each.at) == (finding.check, finding.at)), finding)
    now = search.sure.of(finding.check, finding.at)
    return now is None or there.against != now.against
