"""The boat solved again: the sizes that agree best with all readings, second readings and pilots among them.

Each size starts where it was read, with that reading's spread; a guess is a reading with a wide spread. Each second
reading that does not contradict the others is one more. A pilot may have come out off its place, with the spread of a hole.
So its place is one more unknown. The final hole follows its pilot while its plan is still there.
"""

from __future__ import annotations

import math
from collections import deque
from functools import partial
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.validity import SECOND, NonsenseError
from geometry.readings.measures import at_path, floor_place, measure, put_path
from geometry.readings.pilots import is_at_plan
from geometry.readings.reading_spreads import wide_spread_of
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts, with_holes_off
from geometry.solving.compared import compared, pilot_spread, share_of_cut
from geometry.solving.comparisons import CUT, comparisons

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterator

    from geometry.design.design import Design
    from geometry.readings.measures import Measure
    from geometry.solving.best_values import Floats, Solved
    from geometry.solving.comparisons import Comparison

_AT_LEAST_0 = ("well.fillet_radius",)
_SHARE = 1e-3  # of a spread: the step of a derivative


class Unknown(msgspec.Struct, frozen=True):
    """A size to solve for.

    Attributes:
        key: of its measure; "" for a pilot's place. value: as read. spread: of that reading.
        put: returns a design with another value.
    """

    key: str
    value: float
    spread: float
    put: Callable[[Design, float], Design]


class Solution(msgspec.Struct, frozen=True, eq=False):
    """A boat, its second readings that count, and the sizes that agree best with all readings.

    Attributes:
        design: as read. solved: with the best sizes. used: the second readings that count.
        unknowns: the sizes. best: None where nothing was solved. near: solutions with one value off, see `solved_near`.
    """

    design: Design
    solved: Design
    used: tuple[Comparison, ...] = ()
    unknowns: tuple[Unknown, ...] = ()
    best: Solved | None = None
    near: dict[Hashable, Solution] = msgspec.field(default_factory=dict)

    def holds(self, design: Design) -> bool:
        """Return whether another design has the same readings behind it: an edit shares the parts that it does not change."""
        mine = self.design
        return all(getattr(mine, part) is getattr(design, part) for part in _PARTS) and _places(mine) == _places(design)


_PARTS = ("transom", "well", "inside_blocks", "old_holes", "pilots", "readings", "spreads")
_recent: deque[Solution] = deque(maxlen=8)


def solved(design: Design) -> Design:
    """Return the boat solved again, without its second readings. A boat that has none is returned as it is.

    Its readings stay as they were read; its values move. Holes with a pilot are off their plan where the pilot is.
    """
    kept: Design | None = design.__dict__.get("solved")  # checks, views and sheets ask for the same
    if kept is None:
        kept = design if not comparisons(design) else _reused(solution(design), design)
        design.__dict__["solved"] = kept
    return kept


def solved_at_plan(design: Design) -> Design:
    """Return the boat solved again, with every hole at its plan: what a sheet shows that holes are drilled by."""
    boat = solved(design)
    return boat if boat is design else replace(boat, pilots=())  # a new value: its bolts are at their plan again


def solved_near(design: Design, base: Design) -> Design:
    """Return the same for a design with one value off from ``base``: by one straight step, which takes far less time.

    The second readings that count are those of ``base``.
    """
    if not comparisons(base):
        return design
    import numpy as np

    near = solution(base)
    if near.holds(design):
        return _reused(near, design)
    if near.best is None:  # only compared: the design's own values stay
        return _finished(design, design)
    same = _values(design, near.used)
    kept = near.near.get(same)
    if kept is not None:
        return _reused(kept, design)
    unknowns = tuple(_unknowns(design, near.used))
    if len(unknowns) != len(near.unknowns):
        return solved(design)
    try:
        at = _with_values(design, unknowns, near.best.values)
        predicted = np.array([each.expect(at) for each in near.used])
        start = [each.value for each in unknowns]
        values = near.best.near(start, _read(design, near.used), predicted)
        finished = _finished(design, _with_values(design, unknowns, _possible(unknowns, values)))
    except (NonsenseError, Unmeasured):
        return solved(design)
    near.near[same] = Solution(design, finished)
    return finished


def _values(design: Design, used: tuple[Comparison, ...]) -> Hashable:
    """Return all values that a solution near another one follows from. Motors at other places share it without pilots."""
    parts = (design.transom, design.well, design.inside_blocks, design.old_holes)
    pilots = (design.pilots, design.mounts) if design.pilots else ()
    return (*parts, *pilots, *_read(design, used), *_places(design))


def solution(design: Design) -> Solution:
    """Return the solution of a design, kept from before where its readings are the same."""
    kept = next((each for each in tuple(_recent) if each.holds(design)), None)
    if kept is None:
        kept = _solution(design)
        _recent.append(kept)
    return kept


def _solution(design: Design) -> Solution:
    used = tuple(each for each in comparisons(design) if each.solves and _agrees(design, each))
    unknowns = tuple(_unknowns(design, used))
    try:
        best = _best(design, used, unknowns) if used else None
        moved = design if best is None else _with_values(design, unknowns, best.values)
    except (NonsenseError, Unmeasured):  # a size on the way is impossible: the boat stays as it was read
        best, moved = None, design
    return Solution(design, _finished(design, moved), used, unknowns, best)


def _finished(design: Design, moved: Design) -> Design:
    """Return a design with the best sizes, without second readings, its holes off their plan with their pilots."""
    bare = {key: row for key, row in design.readings.items() if SECOND not in key}
    pilots = zip(design.pilots, moved.pilots, strict=True)
    off = {
        (pilot.mount, pilot.hole): (pilot.at[0] - before.at[0], pilot.at[1] - before.at[1])
        for before, pilot in pilots if is_at_plan(design, before)
    }  # fmt: skip
    return with_holes_off(replace(moved, pilots=(), readings=bare), off)


def _reused(near: Solution, design: Design) -> Design:
    """Return another design with the best sizes of a solution whose readings it shares."""
    if near.design is design:
        return near.solved
    parts = {part: getattr(near.solved, part) for part in ("transom", "well", "inside_blocks", "old_holes", "readings")}
    holes: dict[tuple[int, str], tuple[float, float]] = {
        (bolt.mount_index, bolt.name): bolt.off for bolt in bolts(near.solved)
    }
    off = {(pilot.mount, pilot.hole): holes.get((pilot.mount, pilot.hole), (0.0, 0.0))
           for pilot in design.pilots if is_at_plan(design, pilot)}  # fmt: skip
    return with_holes_off(replace(design, pilots=(), **parts), off)


def _places(design: Design) -> list[tuple[float, float]]:
    return [(floor_place(design, -1), floor_place(design, 1))]


def _agrees(design: Design, comparison: Comparison) -> bool:
    held = compared(design, comparison)
    return held is not None and held.agrees


def _read(design: Design, used: tuple[Comparison, ...]) -> list[float]:
    rows = (measure(design, each.key) for each in used)
    return [0.0 if row is None else row.get(design) or 0.0 for row in rows]


def _best(design: Design, used: tuple[Comparison, ...], unknowns: tuple[Unknown, ...]) -> Solved:
    """Return the best values. A radius that would be below 0 is 0, and the others are solved again.

    Raises:
        NonsenseError, Unmeasured: a size on the way is impossible.
    """
    import numpy as np

    from geometry.solving.best_values import best_values  # few boats have second readings, and numpy slows the start

    spreads = []
    for each in used:
        row = measure(design, each.key)
        spreads.append(math.hypot(0.0 if row is None else wide_spread_of(design, row), share_of_cut(design, each)))

    def predict(values: Floats) -> Floats:
        return _expected(_with_values(design, unknowns, values), used)

    def slopes(values: Floats) -> Floats:
        there, columns = _with_values(design, unknowns, values), []
        for unknown, value in zip(unknowns, values, strict=True):
            step = _SHARE * unknown.spread
            ways = (step, 0.0) if unknown.key in _AT_LEAST_0 and value < step else (step, -step)
            up, down = (_expected(unknown.put(there, float(value) + way), used) for way in ways)
            columns.append((up - down) / (ways[0] - ways[1]))
        return np.array(columns).T

    ends = {index for index, each in enumerate(unknowns) if each.key in _AT_LEAST_0}

    def best(held: set[int]) -> Solved:
        start = [0.0 if index in held else each.value for index, each in enumerate(unknowns)]
        loose = [0.0 if index in held else each.spread for index, each in enumerate(unknowns)]
        return best_values(start, loose, predict, _read(design, used), spreads, slopes)

    try:
        return best(set())
    except NonsenseError:  # a size went below 0 on the way
        return best(ends)


def _expected(design: Design, used: tuple[Comparison, ...]) -> Floats:
    import numpy as np

    return np.array([each.expect(design) for each in used])


def _possible(unknowns: tuple[Unknown, ...], values: Floats) -> Floats:
    import numpy as np

    low = np.array([0.0 if each.key in _AT_LEAST_0 else -np.inf for each in unknowns])
    raised: Floats = np.maximum(values, low)
    return raised


def _with_values(design: Design, unknowns: tuple[Unknown, ...], values: Floats) -> Design:
    for unknown, value in zip(unknowns, values, strict=True):
        if value != unknown.value:
            design = unknown.put(design, float(value))
    return design


def _unknowns(design: Design, used: tuple[Comparison, ...]) -> Iterator[Unknown]:
    for key in dict.fromkeys(key for each in used for key in each.rests):
        row = measure(design, key)
        if row is None or (key == CUT and isinstance(design.transom.top_cut, str)):
            continue
        if row.kind == "shape":
            yield from _of_shape(design, row)
            continue
        value, spread = row.get(design), wide_spread_of(design, row)
        if value is not None and spread > 0:
            yield Unknown(key, value, spread, row.set)
    for index, pilot in enumerate(design.pilots):
        if any(each.pilot == index for each in used):
            for axis in (0, 1):
                yield Unknown("", pilot.at[axis], pilot_spread(design, pilot), partial(_with_place, index, axis))


def _with_place(index: int, axis: int, design: Design, value: float) -> Design:
    u, v = design.pilots[index].at
    changed: Design = put_path(design, f"pilots.{index}.at", (value, v) if axis == 0 else (u, value))
    return changed


def _of_shape(design: Design, row: Measure) -> Iterator[Unknown]:
    """Yield how far a shape is off as a whole, across and up: it was drawn as one. Corners read by themselves stay."""
    corners = at_path(design, row.key) or ()
    for axis in (0, 1):
        free = tuple(at for at in range(len(corners)) if f"{row.key}.{at}.{axis}" not in design.readings)
        if free:
            yield Unknown(row.key, 0.0, wide_spread_of(design, row), partial(_shifted, row.key, axis, free, corners))


def _shifted(
    path: str, axis: int, free: tuple[int, ...], corners: tuple[tuple[float | None, ...], ...], design: Design, by: float
) -> Design:
    """Return a design with the free corners of a shape at their first places, moved by so much along one axis."""
    now = list(at_path(design, path))
    for at in free:
        first = corners[at][axis]
        moved = None if first is None else first + by
        now[at] = (moved, now[at][1]) if axis == 0 else (now[at][0], moved)
    changed: Design = put_path(design, path, tuple(now))
    return changed
