"""The nearest miss: where nothing fits, the placement that lacks least, and a change of the boat with which it would fit.

The change may be a lower floor, a wider well, an old hole filled, or an obstacle taken away. It is said only after the whole
check was passed with it. Lengths [mm].
"""

from __future__ import annotations

import math
from collections import deque
from dataclasses import dataclass
from dataclasses import replace as changed
from itertools import product
from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.decide.kit import CUT, PRESENT, Kit
from geometry.decide.offer import Fit, Progress, checked_fit, doubts, findings_of_motor
from geometry.decide.placing import at_top, lower_tools, steps_of, uppers_of, without_wishes
from geometry.decide.search_ground import Candidate, Upper
from geometry.decide.usual_height import off_usual_of
from geometry.design.validity import CLOSE
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.readings.nearest_accepted import reach, refused
from geometry.solid.bracket_holes import ladder_drops, rows_left
from geometry.tables.known import inches
from geometry.units.units import STEPS, format_length

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterator

    from geometry.decide.search_ground import Ground
    from geometry.design.boat import OldHole
    from geometry.design.design import Design
    from geometry.judge.findings import Finding

_MOST = 200.0  # [mm] a floor or a wall that moves further makes another boat; our assumption
_LOOKED_AT = 3  # misses at most whose change is looked for
_PLUGS = {"in": tuple(inches(size) for size in (1, 1.5, 2, 2.5)), "mm": (25.0, 38.0, 50.0, 64.0)}
"""Diameters of plugs to try in an old hole [mm]: an inch is common practice, the wider ones are our assumption."""


def nearest_miss(ground: Ground) -> Fit | None:
    """Return the placement that lacks least and that a change of the boat would help, with that change."""
    misses = sorted(_misses(ground), key=lambda miss: miss[0])
    for _, fit in misses[:_LOOKED_AT]:
        change = _change(ground, fit.design, fit.lacks)
        if change:
            return changed(fit, fits=False, change=change)
    if not misses:
        return None
    fit = misses[0][1]
    if fit.governs is None:
        return changed(fit, fits=False, change="No other place or part that the search may use helps.")
    return changed(fit, fits=False, change=f"{fit.governs.text} {fit.governs.remedy or ''}".strip())


def _misses(ground: Ground) -> Iterator[tuple[tuple[float, ...], Fit]]:
    """Yield placements of the ladder with washers whole and cut flat, each with its lack as a key to sort by."""
    index, offset = ground.index, ground.mount.offset or 0.0
    best = min(uppers_of(ground, offset), key=lambda place: (place.moved, place.kit.level), default=None)
    tools = [(kit, tilt) for kit, tilt in lower_tools(ground) if kit.level in (PRESENT, CUT)]
    for number, upper in enumerate((best, _kept(ground, offset))):
        for (kit, tilt), drop in product(tools if upper is not None else (), ladder_drops(ground.mount, index)):
            if upper is None:
                continue
            hung = with_mount(upper.design, index, upper_at=upper.at)
            rows = rows_left(hung, index, drop) or (ground.mount.row or 0,)
            row = min(rows, key=lambda row: (off_usual_of(hung, index, row), row))
            steps = steps_of(ground, drop)
            fit = checked_fit(ground, Candidate(upper, kit, tilt, drop, row, rows, False, False, 0.0, False, steps, 0, 0.0, 0))
            if fit is not None:
                yield (sum(map(_short, fit.lacks)), len(fit.lacks), steps, kit.level, number), fit


def _kept(ground: Ground, offset: float) -> Upper:
    """Return the upper pair where it is, or is usual, but far enough below the top edge."""
    now = -ground.bracket[0].row0_depth if ground.mount.upper_at is None else ground.mount.upper_at
    at = min(now, ground.highest(offset, 0))
    hung = with_mount(without_wishes(ground.design), ground.index, upper_at=at, offset=offset)
    kit, tilt = Kit(ground.hardware[0], PRESENT, "the hardware as it is"), ground.mount.upper_tilt or 0.0
    return Upper(hung, at, offset, 0, kit, tilt, (), (), False, False, *at_top(hung, ground.index))


def _short(finding: Finding) -> float:
    """Return about how many millimetres a fouled finding lacks."""
    if finding.value is None or finding.least is None or CHECK_KINDS[finding.check].of_hardware:
        return 50.0
    lack = abs(finding.value - finding.least)
    return lack * 12.7 if finding.unit == "diameters" else lack


# The change that helps


@dataclass(frozen=True)
class _Reach:
    """A part of the boat that may be moved: ``moved`` moves it by some millimetres, ``words`` say where to."""

    words: str
    moved: Callable[[Design, float], Design]

    def said(self, by: float, unit: str) -> str:
        """Say the move."""
        return f"{self.words.format(format_length(by, 'in' if unit == 'in' else 'mm'))}"


def _floor(design: Design, by: float) -> Design:
    """Return a design whose well has a lower floor."""
    if design.well is None:
        return design
    first, *floor, last = design.well.profile
    deeper = tuple((u, None if y is None else y - by) for u, y in floor)
    return replace(design, well=replace(design.well, profile=(first, *deeper, last)))


def _walls(design: Design, port: float, starboard: float) -> Design:
    """Return a design whose well has walls further out: the first two corners to port, the last two to starboard."""
    if design.well is None:
        return design
    profile = design.well.profile
    ends = min(2, len(profile) // 2)

    def out(at: int) -> float:
        return -port if at < ends else starboard if at >= len(profile) - ends else 0.0

    wider = tuple((None if u is None else u + out(at), y) for at, (u, y) in enumerate(profile))
    return replace(design, well=replace(design.well, profile=wider))


_FLOOR = _Reach("The well's floor would have to be {} lower.", _floor)
_WALLS = (
    _Reach("The well would have to be {} wider to port.", lambda design, by: _walls(design, by, 0.0)),
    _Reach("The well would have to be {} wider to starboard.", lambda design, by: _walls(design, 0.0, by)),
    _Reach("The well would have to be {} wider on each side.", lambda design, by: _walls(design, by, by)),
)


def _change(ground: Ground, design: Design, lacks: tuple[Finding, ...]) -> str:
    """Say the least change of the boat with which a placement fits and is sure enough to be drilled; "" for none."""
    unit, bases = design.units, list(_without(design, lacks))
    for words, base in bases:
        if words and _is_sound(ground, base):
            return words
    for words, base in bases:
        for way in (_FLOOR, *_WALLS):
            by = _least(ground, base, way)
            if by is not None:
                return f"{words} {way.said(by, unit)}".strip()
        for way in _WALLS:
            both = _least_of_two(ground, base, way)
            if both is not None:
                return f"{words} {way.said(both[1], unit)} {_FLOOR.said(both[0], unit)}".strip()
    return ""


def _without(design: Design, lacks: tuple[Finding, ...]) -> Iterator[tuple[str, Design]]:
    """Yield the boat as it is, with the old holes in the way filled, without the obstacles in the way, and without both."""
    yield "", design
    named = {finding.at.split(" / ")[-1] for finding in lacks if finding.check == "old_hole"}
    met = {finding.against for finding in lacks}
    blocks = [block for block in design.inside_blocks if block.name in met]
    clear = replace(design, inside_blocks=tuple(block for block in design.inside_blocks if block not in blocks))
    take = " ".join(f"The {block.name} would have to go." for block in blocks)
    fills = [
        (f"Fill {' and '.join(sorted(named))} with {'a plug' if len(named) == 1 else 'plugs'} "
         f"{format_length(plug, design.units)} across.", plug)
        for plug in (_PLUGS[design.units] if named else ())
    ]  # fmt: skip
    for fill, plug in fills:
        yield fill, _filled(design, named, plug)
    if blocks:
        yield take, clear
    for fill, plug in fills if blocks else ():
        yield f"{fill} {take}", _filled(clear, named, plug)


def _filled(design: Design, named: set[str], plug: float) -> Design:
    """Return a boat with some old holes filled, each with a cured plug that is wider than the hole by a tenth at least."""

    def filled(hole: OldHole) -> OldHole:
        if hole.name not in named:
            return hole
        across = max(plug, 1.1 * (hole.diameter or 0.0), hole.plug_diameter or 0.0)
        return replace(hole, state="plugged", plug_diameter=across, reuse=False)

    return replace(design, old_holes=tuple(map(filled, design.old_holes)))


def _least(ground: Ground, design: Design, way: _Reach) -> float | None:
    """Return the least move, in whole steps of the tape, with which a placement fits and is sure; None where none helps."""
    step, most = STEPS[design.units], _furthest(design, way)
    low, high = 0.0, most
    if design.well is None or not _fits(ground, way.moved(design, most)):
        return None
    if not _fits(ground, way.moved(design, 0.0)):
        while high - low > 0.05:
            middle = (low + high) / 2
            low, high = (low, middle) if _fits(ground, way.moved(design, middle)) else (middle, high)
    else:
        high = step
    first, last = math.ceil(high / step - CLOSE), math.floor(most / step + CLOSE)
    sound = next((number for number in (first, first + 4, first + 8, last) if number <= last
                  and _is_sound(ground, way.moved(design, number * step))), None)  # fmt: skip
    if sound is None:
        return None
    while first < sound:
        middle_step = (first + sound) // 2
        if _is_sound(ground, way.moved(design, middle_step * step)):
            sound = middle_step
        else:
            first = middle_step + 1
    return sound * step


def _least_of_two(ground: Ground, design: Design, way: _Reach) -> tuple[float, float] | None:
    """Return the least lower floor where the walls have all the room that they can get, and then the least that they need."""
    wide = way.moved(design, _furthest(design, way))
    down = _least(ground, wide, _FLOOR)
    out = None if down is None else _least(ground, _FLOOR.moved(design, down), way)
    return None if down is None or out is None else (down, out)


def _furthest(design: Design, way: _Reach) -> float:
    """Return how far a part of the boat may be moved at most: no floor below the hull's bottom, no well outside the boat."""

    def put(by: float) -> Design:
        return way.moved(design, by)

    if refused(put, _MOST) is None:
        return _MOST
    most = reach(put, 0.0, _MOST)
    return 0.0 if most is None else most.last


def _fits(ground: Ground, design: Design) -> bool:
    return not any(finding.state == "fouled" for finding in findings_of_motor(ground, check(design).findings))


def _is_sound(ground: Ground, design: Design) -> bool:
    """Return whether a placement fits, and is sure enough to be drilled."""
    return _fits(ground, design) and not _all_doubts(doubts(ground, design, Progress(0, 1)))


def _all_doubts(steps: Generator[Progress, None, tuple[Finding, ...]]) -> tuple[Finding, ...]:
    """Return the doubts once every trial is made."""
    unsure: list[tuple[Finding, ...]] = []

    def run() -> Generator[Progress]:
        unsure.append((yield from steps))

    deque(run(), maxlen=0)
    return unsure[0]
