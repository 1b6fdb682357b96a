"""The largest and the smallest size of a part to buy that still clears, found from the checks themselves [mm].

A size still clears while no check that it moves stops the paper. A part inside the well keeps the room that makes its chance
`SURE`, with the spread that it has at that size. So a part bought at the limit may be drilled for, and one just beyond it
may not. The size that is listed now does not move the limit.
"""

from __future__ import annotations

import math
from collections import deque
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import NonsenseError
from geometry.doubt.kept_bolt_lengths import with_lengths_kept
from geometry.doubt.spreads import less_is_better, spreading
from geometry.judge.check import check, findings_of
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import SPREADS
from geometry.readings.measures import at_path, measures

if TYPE_CHECKING:
    from geometry.judge.findings import Checked, Finding
    from geometry.readings.measures import Measure

Place = tuple[str, str]
_THIN = ("washer.thickness", "backing_plate.thickness")
_STACKED = (*_THIN, "nut_sizes.height")
"""Sizes that a bolt is long enough for, or not: the bolts are bought as listed."""
_MOST = (
    "washer.outer", "washer.thickness", "socket.outer", "socket.length", "spanner.outer", "spanner.thickness", "spanner.length",
    "nut_sizes.flats", "nut_sizes.height", "backing_plate.thickness",
)  # fmt: skip
_LEAST = ("outside_washer.outer", "washer.thickness", "backing_plate.thickness")
_FARTHEST = 64.0  # [mm] from the listed size, or as far as it is large: our assumption
_LEAST_TRIED = 4.0  # [mm]: no socket is shorter and no wrench thinner, our assumption
_THINNEST = 0.4  # [mm] of a washer or a backing plate: our assumption
_WIDER = 1.2  # times as large is the next size tried: no range of sizes that do not clear is narrower, our assumption
_GOLDEN, _SECTIONS = (math.sqrt(5) - 1) / 2, 15
_EXACT = 1e-7  # [mm]
_MOVED = 1e-9  # of a value: less is rounding
_SAME = 5e-4  # [mm] between two limits: less, and the limit has the right spreads
_STEP = 0.05  # [mm]: steps of a limit whose spreads jump, or come from drawn boats
_ROUNDING = 1e-8  # [mm]
_TIMES = 3  # of spreads: another obstacle may be near at the limit, with another spread
_EVEN, _CERTAIN = 0.5, 0.9999  # a chance between them says how wide the errors are


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
    ways = [
        (row, way) for row in rows for way, fields in ((1.0, _MOST), (-1.0, _LEAST))
        if _field(row) in fields and row.get(checked.design) is not None
    ]  # fmt: skip
    stacked = [(row, way) for row, way in ways if _field(row) in _STACKED]
    limits = [_limit(checked, row, way) for row, way in ways if (row, way) not in stacked]
    if stacked:
        bought = check(with_lengths_kept(checked.design))
        limits += [_thickness(bought, checked, row, way) for row, way in stacked]
    return tuple(limit for limit in limits if limit is not None)


def _field(row: Measure) -> str:
    return row.key.partition("_hardware.")[2]


def _limit(checked: Checked, row: Measure, way: float) -> SizeLimit | None:
    """Return the limit of one size, the largest with a ``way`` of 1 and the smallest with -1.

    First come the spreads at the listed size, then those at the limit.
    """
    tried = _Tried(checked, row, way)
    search = _Search(tried, tried.counted, checked)
    if search.limit() is None:
        search = search.without_torques_over_now()
    if search.limit() is None and search.by_chance:  # a part that is far too wide may be in doubt for another obstacle
        search = search.with_spreads_at(tried.sizes[0])
    size = search.limit()
    listed = row.get(checked.design) or 0.0
    if size is None or abs(size - listed) > _farthest(listed):
        return None
    settled = _settled(search, size) if search.by_chance else size
    return None if settled is None else SizeLimit(row.key, settled, tried.way > 0, search.first_beyond(settled))


def _thickness(bought: Checked, sure: Checked, row: Measure, way: float) -> SizeLimit | None:
    """Return the limit of a size that the bolts are bought for; None where the listed one does not clear: it is no cure.

    Args:
        bought: with the bolts' lengths as listed. sure: with the spreads, which such a size hardly moves.
    """
    tried, listed = _Tried(bought, row, way), row.get(bought.design) or 0.0
    search = _Search(tried, tried.counted, sure)
    size = None if search.least(listed) < 0.0 else search.limit()
    if size is None or way * (size - listed) < 0.0 or abs(size - listed) > _farthest(listed):
        return None
    return SizeLimit(row.key, size, way > 0, search.first_beyond(size))


def _farthest(listed: float) -> float:
    """Return how far from the listed size a limit is worth printing [mm]."""
    return max(_FARTHEST, listed)


def _settled(search: _Search, size: float) -> float | None:
    """Return the limit with the spreads that it has itself, from one with other spreads; None where no size has one."""
    good: float | None = None
    bad: float | None = None
    for _ in range(_TIMES):
        search = search.with_spreads_at(size)
        if search.least(size) >= -_ROUNDING:
            good = size
        else:
            bad = size
        again = search.limit()
        if good == size and again is not None and abs(again - size) < _SAME:
            return good
        if again is None or math.isinf(again) or (good is not None and bad is not None):
            break
        size = again
    if bad is None:
        return good
    if good is None:
        narrower = [each for each in search.tried.sizes if search.tried.way * (bad - each) > 0]
        good = next((each for each in reversed(narrower) if search.clears(each)), None)
    return None if good is None else _by_steps(search, good, bad)


def _by_steps(search: _Search, good: float, bad: float) -> float:
    """Return the last multiple of `_STEP` that clears with the spreads it has: the same one from wherever a search came."""
    way = search.tried.way
    most, least = math.floor(way * good / _STEP), math.ceil(way * bad / _STEP)
    while least - most > 1:
        middle = (most + least) // 2
        if search.clears(way * middle * _STEP):
            most = middle
        else:
            least = middle
    return way * most * _STEP


class _Tried:
    """The findings at each size tried.

    Attributes:
        way: 1 where the largest size is looked for, -1 for the smallest. sizes: those of the first look, along ``way``.
        counted: the findings that can end a size. The size moves them, and they can stop the paper.
    """

    def __init__(self, checked: Checked, row: Measure, way: float) -> None:
        self.checked, self.row, self.way = checked, row, way
        self._still: frozenset[Place] = frozenset()
        self._findings: dict[float, tuple[Finding, ...]] = {}
        hardware = at_path(checked.design, row.key.partition("_hardware.")[0] + "_hardware")
        smallest = hardware.inside_hexagon.corners if self.way > 0 and _field(row).endswith("outer") else None
        listed = row.get(checked.design) or 0.0
        thin = _field(row) in _THIN
        size, sizes = smallest or (_THINNEST if thin else _LEAST_TRIED), list[float]()
        while size < _WIDER * (listed + _farthest(listed)):
            if self.at(size):
                sizes.append(size)
            size *= _WIDER
        self.sizes = tuple(sizes[:: int(self.way)])
        self.counted = self._counted()
        self._still = frozenset(self.checked.by_place) - self.counted

    def at(self, size: float) -> tuple[Finding, ...]:
        """Return the findings with a size; () where no such part can be."""
        if size not in self._findings:
            try:
                changed = self.row.set(self.checked.design, size)
                self._findings[size] = findings_of(changed, self.checked, worded=False, still=self._still)
            except NonsenseError:
                self._findings[size] = ()
        return self._findings[size]

    def _counted(self) -> frozenset[Place]:
        by_place: dict[Place, list[Finding | None]] = {}
        for number, size in enumerate(self.sizes):
            for finding in self.at(size):
                row = by_place.setdefault((finding.check, finding.at), [None] * len(self.sizes))
                row[number] = finding
        return frozenset(place for place, findings in by_place.items() if _is_moved(findings) and any(map(_stops, findings)))


def _stops(finding: Finding | None) -> bool:
    return finding is not None and finding.stops != "never"


def _is_moved(findings: list[Finding | None]) -> bool:
    """Return whether the size moves a check, by its findings at each size; None where there is none."""
    if any(finding is None for finding in findings) or len({finding.state for finding in findings if finding}) > 1:
        return True
    values = [finding.value for finding in findings if finding is not None and finding.value is not None]
    return bool(values) and max(values) - min(values) > _MOVED


class _Search:
    """The room that a size leaves, by the findings in ``counted`` and the spreads of ``sure``."""

    def __init__(self, tried: _Tried, counted: frozenset[Place], sure: Checked) -> None:
        self.tried, self.counted, self.sure = tried, counted, sure

    @property
    def by_chance(self) -> bool:
        """Whether the chance of a check that the size moves counts."""
        return any(CHECK_KINDS[kind].by_chance for kind, _ in self.counted)

    def without_torques_over_now(self) -> _Search:
        """Return the search without loads that are over their limit with the listed size: their torque is the matter."""
        listed = self.tried.checked
        over = {(each.check, each.at) for each in listed.findings if each.stops == "over its limit" and each.state == "fouled"}
        return _Search(self.tried, self.counted - over, self.sure)

    def with_spreads_at(self, size: float) -> _Search:
        """Return the search with the spreads of the boat that has a size."""
        checked = check(self.tried.row.set(self.tried.checked.design, size))
        return _Search(self.tried, self.counted, deque(spreading(checked, of_chance=True, only=self.counted), maxlen=1).pop())

    def clears(self, size: float) -> bool:
        """Return whether a size clears with the spreads that it has."""
        return self.with_spreads_at(size).least(size) >= 0.0

    def limit(self) -> float | None:
        """Return the last size that clears, within `_EXACT`; None where none clears, without end where nothing limits it."""
        sizes = self.tried.sizes
        if all(self.least(size) < 0.0 for size in sizes):
            sizes = self._closer()
        good: float | None = None
        for size in sizes:
            if self.least(size) >= 0.0:
                good = size
            elif good is not None:
                return self._between(good, size)
        return None if good is None else self.tried.way * math.inf

    def _closer(self) -> tuple[float, ...]:
        """Return the size that leaves most room, by golden sections next to the best one tried, and the next one tried."""
        sizes = self.tried.sizes
        best = max(range(len(sizes)), key=lambda at: self.least(sizes[at]))
        low, high = sizes[max(0, best - 1)], sizes[min(best + 1, len(sizes) - 1)]
        after = high
        for _ in range(_SECTIONS):
            first, second = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
            low, high = (low, second) if self.least(first) >= self.least(second) else (first, high)
        return ((low + high) / 2, after)

    def first_beyond(self, size: float) -> str:
        """Return the check that a size just beyond a limit leaves least room."""
        rooms = self._rooms(size + self.tried.way * 2 * _EXACT)
        return min(rooms, key=lambda room: room[0])[1].check

    def least(self, size: float) -> float:
        """Return the least room over what is needed."""
        return min((room for room, _ in self._rooms(size)), default=math.inf)

    def _rooms(self, size: float) -> list[tuple[float, Finding]]:
        return [
            (self._room(finding), finding) for finding in self.tried.at(size)
            if (finding.check, finding.at) in self.counted and finding.state != "unknown"
        ]  # fmt: skip

    def _room(self, finding: Finding) -> float:
        if finding.value is None or finding.least is None:
            return -math.inf if finding.state == "fouled" else math.inf
        return _over(finding) - _needed(self.sure.of(finding.check, finding.at))

    def _between(self, good: float, bad: float) -> float:
        """Return the last size that clears between one that does and one that does not. The room falls all the way."""
        room, lack = self.least(good), self.least(bad)
        turn = 0
        while abs(bad - good) > _EXACT:
            share = room / (room - lack) if turn % 3 != 2 and math.isfinite(lack) and math.isfinite(room) else 0.5
            edge = _EXACT / 2 / abs(bad - good)
            middle = good + min(1 - edge, max(edge, share)) * (bad - good)
            tried = self.least(middle)
            if tried >= 0.0:
                good, room = middle, tried
            else:
                bad, lack = middle, tried
            turn += 1
        return good


def _needed(now: Finding | None) -> float:
    """Return the room that makes a finding `SURE`. Its chance says how wide the errors are, also where trials gave it."""
    if now is None or now.spread is None or not CHECK_KINDS[now.check].by_chance:
        return 0.0
    over = _over(now)
    if over > 0.0 and now.chance is not None and _EVEN < now.chance < _CERTAIN:
        from statistics import NormalDist  # not loaded at the start: it takes 15 ms there

        return SPREADS * over / NormalDist().inv_cdf(now.chance)
    return SPREADS * now.spread


def _over(finding: Finding) -> float:
    """Return how far a finding's value is on the right side of its least."""
    sign = -1.0 if less_is_better(finding) else 1.0
    least = finding.advised if finding.check == "length" else finding.least  # bolts are bought as long as is advised
    return sign * ((finding.value or 0.0) - (least or 0.0))
