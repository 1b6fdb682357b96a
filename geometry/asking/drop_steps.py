"""The steps of a motor's lower bolts: for each drop its place, its room and the chance of that.

The lowest step at which the holes may be drilled is the one to take. Where a lower one has room, and another reading may
well make it sure, that reading is asked for first.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.asking.question_order import is_guess
from geometry.decide.best_rung import best_of_each_drop
from geometry.design.validity import CLOSE
from geometry.doubt.spreads import ROOMS, with_chances_of_room
from geometry.edits.confirm_or_buy import is_part
from geometry.edits.edits import move_lower
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS, IN_WELL
from geometry.judge.drillable import SPREADS, SURE, is_across, stops_the_paper
from geometry.readings.measures import measure, state_of
from geometry.readings.reading_spreads import spread_of
from geometry.solid.placed_bolts import bolts
from geometry.units.units import STEPS

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from geometry.decide.best_rung import Best
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding

TWICE = 2
"""So often a reading is taken once more at most."""
WORTH = 0.15
"""At this chance that the readings left make a lower step sure, they are asked for: our choice, from trials of boats."""
_FAR = 12.0  # [mm] short of room: no usual error of readings that were taken comes so far
_BEYOND_DOUBT = 3.0  # spreads
_HELPED = ("row", "old_hole")  # what may have more room a little further down
_TRIES = (1.0, 1.5, 2.5)  # times what lacks: next to a round hole a way down gives less than itself


class Step(msgspec.Struct, frozen=True):
    """One step: its place, the chance that everything inside has room there, and the finding with that chance."""

    best: Best
    chance: float
    governs: Finding | None

    @property
    def sure(self) -> bool:
        """Whether its holes may be drilled, as far as chances go."""
        return self.chance >= SURE


def steps(checked: Checked, mount: int, rungs: tuple[Rung, ...]) -> Iterator[Step]:
    """Yield the steps that can be taken, the lowest first. Steps that are fouled beyond doubt are left out.

    Slow: the doubt of the rooms at each step. Ask for no more than is needed.

    Args:
        checked: the boat with the chances at its present place.
    """
    spreads = [each.spread for each in checked.findings if mount in each.mounts and each.check in IN_WELL and each.spread]
    far = min(_FAR, _BEYOND_DOUBT * max(spreads, default=_FAR))
    for best in best_of_each_drop(checked.design, mount, rungs):
        if best.room is not None and best.room < -far:
            continue
        here = best.design.mounts[mount] == checked.design.mounts[mount]
        there = checked if here else best.checked
        if not any(_rules_out(finding) for finding in there.findings if mount in finding.mounts):
            rooms = tuple(each for each in there.findings if each.check in ROOMS) if here else with_chances_of_room(there)
            step = _step(rooms, mount, best)
            yield step if step.sure else _further_down(step, mount) or step


def _step(rooms: tuple[Finding, ...], mount: int, best: Best) -> Step:
    """Return a step by the findings on its room, with their chances. A fouled one without a chance leaves none."""
    ours = [each for each in rooms if mount in each.mounts and each.state != "note"]
    if any(each.state == "fouled" and each.chance is None for each in ours):
        return Step(best, 0.0, None)
    lowest = min((each for each in ours if each.chance is not None), key=lambda each: each.chance or 0.0, default=None)
    return Step(best, 1.0 if lowest is None else lowest.chance or 0.0, lowest)


def _further_down(step: Step, mount: int) -> Step | None:
    """Return a step with its lower bolts a little further down, where that alone makes it sure; None where it does not.

    It keeps the upper hole, and gives room to the slot's end and to an old hole above. The way is less than a pitch.
    """
    finding, design = step.governs, step.best.design
    rows = design.mounts[mount].bracket.rows
    if finding is None or finding.check not in _HELPED or rows is None or finding.value is None or finding.least is None:
        return None
    if is_across(finding):
        return None
    size = 1.0 if finding.unit == "mm" else next(bolt.thread.diameter for bolt in bolts(design) if mount == bolt.mount_index)
    lacking = size * (SPREADS * (finding.spread or 0.0) - (finding.value - finding.least))
    tape = STEPS[design.units]
    for more in _TRIES:
        by = max(tape, math.ceil(lacking * more / tape) * tape)
        if by >= rows.pitch - tape:
            return None
        lower = move_lower(design, mount, 0.0, -by)
        there = check(lower)
        if any(_rules_out(each) for each in there.findings if mount in each.mounts):
            return None
        drop = lower.mounts[mount].drop or 0.0
        inside = [each.value for each in there.findings if each.check in IN_WELL and each.value is not None]
        best = replace(step.best, checked=there, drop=drop, room=min(inside, default=None), off_end=step.best.off_end + by)
        moved = _step(with_chances_of_room(there), mount, best)
        if moved.sure:
            return moved
    return None


def _rules_out(finding: Finding) -> bool:
    """Return whether a fouled finding rules a place out: no other hardware or torque would help, and no reading."""
    kind = CHECK_KINDS[finding.check]
    of_place = not ((kind.by_chance and kind.family != "motor") or kind.ease or kind.of_hardware)
    return of_place and finding.state == "fouled" and stops_the_paper(finding)


class Worth(msgspec.Struct, frozen=True):
    """The reading that cuts the doubt of a step most, and the chance that the readings left make the step sure."""

    key: str
    again: bool
    lifts: float


def worth(design: Design, finding: Finding, again: Collection[str], passed: Collection[str]) -> Worth | None:
    """Return the reading that cuts the doubt of a finding most; None where no reading is left.

    Nobody knows yet what further readings will say. The chance that they make it sure follows from the spread that goes: the
    value after them is as far from the present one as that spread.

    Args:
        again: readings that were taken once more, once for each time. passed: those that can't be taken.
    """
    if finding.value is None or finding.least is None or not finding.spread:
        return None
    whole, cuts = finding.spread**2, {}
    left = whole
    for key, share in zip(finding.moved_by, finding.shares, strict=False):
        counted = _readings_left(design, key, again, passed)
        if counted is None:
            continue
        once, every = (1 - part for part in counted)
        cuts[key] = share * once
        left -= share * every
    if not cuts:
        return None
    gone, after = max(whole - left, 0.0), math.sqrt(max(left, 1e-12))
    signed = _signed(finding.chance or 0.0, finding.spread) if finding.check == "row" else _room(finding)
    lifts = _normal((signed - SPREADS * after) / math.sqrt(gone)) if gone > 0 else 0.0
    key = max(cuts, key=lambda key: cuts[key])
    return Worth(key, not is_guess(design, key), lifts)


def _room(finding: Finding) -> float:
    """Return how far a finding's value is from its least, below 0 on its wrong side."""
    room = abs((finding.value or 0.0) - (finding.least or 0.0))
    return room if (finding.chance or 0.0) >= 0.5 else -room


def _signed(chance: float, spread: float) -> float:
    """Return the room with a chance: a bracket has no such value, as it may fail across, too."""
    from statistics import NormalDist  # not loaded at the start: it takes 15 ms there

    return spread * NormalDist().inv_cdf(min(max(chance, CLOSE), 1 - CLOSE))


def _readings_left(design: Design, key: str, again: Collection[str], passed: Collection[str]) -> tuple[float, float] | None:
    """Return what is left of a reading's share after one more reading, and after all that are allowed; None for no more."""
    row = measure(design, key)
    if row is None or key in passed or row.kind == "shape" or is_part(row):
        return None
    taken = list(again).count(key)
    if is_guess(design, key):
        value = row.get(design)
        if value is None:
            return None
        low, high = row.about(value)
        measured = (spread_of(design, row) / ((high - low) / 2)) ** 2 if high > low else 1.0
        return measured, measured / (1 + TWICE)
    if taken >= TWICE or state_of(design, row) == "to buy":
        return None
    had = 1 + taken
    return had / (had + 1), had / (1 + TWICE)


def _normal(x: float) -> float:
    return 0.5 * (1 + math.erf(x / math.sqrt(2)))
