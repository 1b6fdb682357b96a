"""The next thing to ask or to do: a pure function of a checked boat and of what was asked already.

It asks only for what can change the verdict or the sheets. No move is proposed while a reading that decides the lower holes
is a guess, or while the answer asks for a reading. `question_order.py` has the order, `drop_steps.py` the lowest step for
the lower bolts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.asking.blind_readings import to_confirm_blind
from geometry.asking.drop_steps import TWICE, WORTH, Step, steps, worth
from geometry.asking.helping_guesses import helping_guess
from geometry.asking.question_order import LAST, OLD_HOLES, SECOND_WAYS, bracket_ways, is_guess, is_open, second_ways
from geometry.design.validity import CLOSE, NonsenseError, known
from geometry.edits.confirm_or_buy import parts, pattern, to_buy_now, to_confirm
from geometry.edits.reading_order import FIRST, FLOORS, deciding_readings, in_order
from geometry.edits.second_blind import disagrees
from geometry.edits.standard_pattern import is_like_standard
from geometry.judge.check_kinds import CHECK_KINDS, IN_WELL
from geometry.judge.contradictions import contradictions
from geometry.judge.drillable import LEAST_FOR_A_PILOT, SURE, drillable, lacking_readings, readings_may_turn, stops_the_paper
from geometry.readings.measures import guess_of, measures, state_of
from geometry.readings.pilots import pilot_key, pilot_readings
from geometry.readings.second_readings import OUTLINE, OUTSIDE, WASHER, WASHER_ACROSS, second_value
from geometry.readings.unlikely import unlikely
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from geometry.decide.ladder import Rung
    from geometry.design.design import Design, PilotEnd
    from geometry.judge.drillable import Reason
    from geometry.judge.findings import Checked, Finding

Kind = Literal[
    "draw", "hang", "standard", "reading", "again", "old holes", "move", "lower", "wait", "search", "look", "ease", "clamp",
    "sheets",
]
"""The next thing to do.

- draw: the outline; hang: a motor.
- reading: one, or its group; again: a reading that was taken already; old holes: look for them.
- standard: whether a bracket is the standard one, as its distances are so nearly.
- wait: until the chances or the ladder are known.
- move: to the lowest step that is sure; lower: the motor can hang lower after all; search: find a fit.
- ease: a cure that is no place; look: at the findings, nothing else helps.
- clamp: a motor without bolts; sheets: make them, as nothing left to measure would change the answer.
"""
LOWER = "lower"
"""Passed by, as if it were a reading: the motor stays where it hangs, although it can hang lower."""
STANDARD = "standard."
"""Passed by with the motor's number: its bracket is not the standard one, although its distances are so nearly."""
_MOTOR = 5  # the first section of the card that is about the motor
_REACH = 40.0  # [mm] of room inside: an inch miscounted, or a forgotten step, changes no answer beyond it
_OVER_LIMIT = "over its limit"
_PATTERN = ".bracket."
_PAIRS: tuple[Literal["lower", "upper"], ...] = ("lower", "upper")


class Asked(msgspec.Struct, frozen=True):
    """The questions that were asked already, and the ladder.

    Attributes:
        mount: index of the motor in hand. rungs: its ladder, None while it is being calculated.
        again: readings that were taken once more, once for each time.
        passed: readings left as guesses or out of reach, and `LOWER`, in that order.
    """

    mount: int = 0
    rungs: tuple[Rung, ...] | None = None
    again: tuple[str, ...] = ()
    passed: tuple[str, ...] = ()


class NextQuestion(msgspec.Struct, frozen=True):
    """The next thing to ask or to do.

    Attributes:
        kind: see `Kind`. key: of the reading, "" for none.
        finding: what the reading decides, or what keeps the holes from being drilled; None where nothing is said.
        step: of a move, where it leads; of a reading, the step that it may make sure.
        to: of a pilot's reading, the other end of its distance; None for another reading.
        mount: index of the motor whose bracket may be the standard one.
    """

    kind: Kind
    key: str = ""
    finding: Finding | None = None
    step: Step | None = None
    to: PilotEnd | None = None
    mount: int = 0


def next_question(checked: Checked, asked: Asked) -> NextQuestion:
    """Return what to ask or to do next.

    Args:
        checked: with chances once they are known. Without them only the readings of every boat are asked for.
    """
    for look in _LOOKS:
        wanted = look(checked, asked)
        if wanted is not None:
            return wanted
    if all(mount.bracket.rows is None for mount in checked.design.mounts):
        return NextQuestion("clamp")
    return NextQuestion("sheets")


# The looks, in their order: each returns what it wants, or None


def _boat(checked: Checked, asked: Asked) -> NextQuestion | None:
    """Without a motor: the outline, then what is not known of the boat, then a motor."""
    design = checked.design
    if design.mounts:
        return None
    if known(design.transom.outline) is None:
        return NextQuestion("draw", "transom.outline")
    unknown = [each.key for each in measures(design) if each.section < _MOTOR and each.empty is None
               and is_open(design, each.key) and state_of(design, each) == "not known"]  # fmt: skip
    return _first_of(design, unknown, asked) or NextQuestion("hang", "choice.bracket")


def _standard(checked: Checked, asked: Asked) -> NextQuestion | None:
    """A bracket with the distances of the standard pattern, as far as a tape shows: known so, it needs no more readings."""
    for mount in range(len(checked.design.mounts)):
        if f"{STANDARD}{mount}" not in asked.passed and is_like_standard(checked.design, mount):
            return NextQuestion("standard", mount=mount)
    return None


def _slips(checked: Checked, asked: Asked) -> NextQuestion | None:
    """Readings that contradict each other, disagree or are unlikely are taken again, each twice at most.

    A guess is measured where all others were read again, and the contradiction is still there.
    """
    design, deciding, clashing = checked.design, deciding_readings(checked.design), list[str]()
    open_now = [key for key in deciding if is_open(design, key) and key not in asked.passed]
    doubted = [key for key in design.readings if disagrees(design, key)]
    doubted += [key for each in unlikely(design) if (key := each.measure.key) in (*deciding, *SECOND_WAYS) or _PATTERN in key]
    if not open_now:
        clashing = [key for clash in contradictions(design) for key in clash.again]
        doubted += clashing
    for times in range(TWICE):
        for key in doubted:
            if asked.again.count(key) == times and key not in asked.passed and not is_guess(design, key):
                return NextQuestion("again", key)
    guessed = next((key for key in clashing if is_guess(design, key) and key not in asked.passed), None)
    return None if guessed is None else NextQuestion("reading", guessed)


def _lacking(checked: Checked, asked: Asked) -> NextQuestion | None:
    """Readings without which the answer is not known; none where something is fouled already."""
    lacking = lacking_readings(checked)
    if not lacking or any(_stops(finding) for finding in checked.findings):
        return None
    keys = {finding.missing or "" for finding in lacking} - {key for key in asked.again if asked.again.count(key) >= TWICE}
    wanted = [each.key for each in measures(checked.design) if each.key in keys]
    return _first_of(checked.design, wanted, asked) or NextQuestion("look", finding=lacking[0])


def _measure_first(checked: Checked, asked: Asked) -> NextQuestion | None:
    """The guess that the answer names: nothing is fouled, but the answer rests on it."""
    if not checked.sure or any(_stops(finding) for finding in checked.findings):
        return None
    reasons = (each for each in drillable(checked).reasons if each.kind == "guess" and each.key not in asked.passed)
    first = next(reasons, None)
    return None if first is None else _because_of(checked, first)


def _because_of(checked: Checked, reason: Reason) -> NextQuestion:
    """Ask for a guess, with the finding that it decides; what decides the lower holes needs no other reason."""
    finding = None if reason.key in deciding_readings(checked.design) else reason.finding
    return NextQuestion("reading", reason.key, finding)


def _deciding(checked: Checked, asked: Asked) -> NextQuestion | None:
    """The readings that decide the lower holes; those that are not known too, even where something else is fouled."""
    deciding, missing = deciding_readings(checked.design), {finding.missing for finding in lacking_readings(checked)}
    unknown = next((key for key in deciding if key in missing and key not in asked.passed), None)
    return _guessed(checked, asked, deciding) if unknown is None else NextQuestion("reading", unknown)


def _groups(checked: Checked, asked: Asked) -> NextQuestion | None:
    """The pattern, then the diagonal of a bracket that has another one, then the parts. Pattern and parts are groups."""
    design, mounts = checked.design, range(len(checked.design.mounts))
    patterns = [row.key for mount in mounts for row in to_confirm(design, pattern(design, mount))]
    across = next((key for key in bracket_ways(design) if second_value(key, design) is None and key not in asked.passed), "")
    rows = [row for mount in mounts for pair in _PAIRS for row in parts(design, mount, pair)]
    buying = [row.key for row in to_buy_now(design, rows) if state_of(design, row) == "guess"]
    own = NextQuestion("reading", across) if across else None
    return _guessed(checked, asked, patterns) or own or _guessed(checked, asked, buying)


def _old_holes(checked: Checked, asked: Asked) -> NextQuestion | None:
    """Old holes and obstacles, once: a starting shape has none, and nothing else would ask."""
    design = checked.design
    if not design.look_for_holes or design.old_holes or design.inside_blocks or OLD_HOLES in asked.passed:
        return None
    return NextQuestion("old holes", OLD_HOLES)


def _chances(checked: Checked, _asked: Asked) -> NextQuestion | None:
    """All that comes now depends on the chances."""
    bolted = any(mount.bracket.rows is not None for mount in checked.design.mounts)
    return NextQuestion("wait") if bolted and not checked.sure else None


def _second_ways(checked: Checked, asked: Asked) -> NextQuestion | None:
    """Second ways to the five, where a slip in one of them can turn the answer."""
    design = checked.design
    floor, edge = (any(near(finding) for finding in checked.findings) for near in (_near, _near_edge))
    for key in second_ways(design):
        if not (edge if key == OUTLINE else floor):
            continue
        if key in asked.passed or (key == WASHER and WASHER_ACROSS in asked.passed):
            continue
        if second_value(key, design) is None and _of_readings(design, key):
            return NextQuestion("reading", key)
    return None


def _of_readings(design: Design, key: str) -> bool:
    """Return whether the first way was typed as read on the boat: a second way to anything else shows no slip."""
    if key == OUTLINE:
        first: tuple[str, ...] = ("transom.outline",)
    else:
        first = FLOORS[:1] if key == OUTSIDE else (FLOORS[1], "well.fillet_radius")
    read = (design.readings.get(each) for each in first)
    return all(reading is not None and reading.state == "measured" for reading in read)


def _near(finding: Finding) -> bool:
    """Return whether a slip at the well's floor or its corner can turn a finding."""
    floor = any(key in FIRST for key in finding.moved_by)
    return floor and finding.check in IN_WELL and finding.value is not None and abs(finding.value) < _REACH


def _near_edge(finding: Finding) -> bool:
    """Return whether a slip at a corner of the outline can turn a finding about wood at an edge."""
    return finding.check == "edge" and finding.value is not None and finding.margin < 1.0


def _apart(checked: Checked, _asked: Asked) -> NextQuestion | None:
    """Motors that are too close, or old holes to fill: nothing else is fouled, and other places for the holes may follow."""
    fouled = [finding for finding in checked.findings if _stops(finding)]
    kinds = [CHECK_KINDS[finding.check] for finding in fouled]
    if fouled and all(kind.ease for kind in kinds) and not all(kind.of_hardware for kind in kinds):
        return NextQuestion("ease", finding=fouled[0])
    return None


def _place(checked: Checked, asked: Asked) -> NextQuestion | None:
    """The lowest step: a reading that may well make it sure, else the move there.

    Where no other reading helps, a pilot may: the lower bolts stay at that step, or go up to it. They never go down for one.
    """
    design, mount = checked.design, asked.mount
    bolted = design.mounts[mount].bracket.rows if mount < len(design.mounts) else None
    if bolted is None:
        return None
    here = _is_sure_here(checked, mount)
    if here and (LOWER in asked.passed or asked.rungs is None):
        return None
    if asked.rungs is None:
        return NextQuestion("wait")
    drop, lowest, piloted = design.mounts[mount].drop or 0.0, None, _pilot_left(design, asked) and not here
    for step in steps(checked, mount, asked.rungs):
        if here and step.best.drop < drop + bolted.pitch / 2:  # less is no step
            return None
        if step.sure:
            lowest = step
            break
        left = None if step.governs is None else worth(design, step.governs, asked.again, asked.passed)
        if left is not None and left.lifts >= WORTH:
            return NextQuestion("again" if left.again else "reading", left.key, step.governs, step)
        if piloted and step.chance >= LEAST_FOR_A_PILOT and step.best.drop <= drop + CLOSE:
            if step.best.design.mounts[mount] != design.mounts[mount]:
                lowest = step
                break
            if any(reason.kind not in ("doubt", "demonstration") for reason in drillable(checked).reasons):
                return None  # the pilot comes next, or what keeps even a pilot from being drilled
    if lowest is None:
        helping = None if here else helping_guess(design, mount, asked.rungs, asked.passed)
        wanted = NextQuestion("search", finding=checked.findings[0]) if helping is None else NextQuestion("reading", helping)
        return None if here else wanted
    return NextQuestion("lower" if here else "move", step=lowest)


def _pilot_left(design: Design, asked: Asked) -> bool:
    """Return whether the motor in hand has a lower hole whose pilot was not read yet, and none that was passed by."""
    keys = [pilot_key(asked.mount, f"lower {side}") for side in ("port", "starboard")]
    read = [row.key for row in pilot_readings(design) if row.get(design) is not None]
    return not any(key in asked.passed for key in keys) and not all(key in read for key in keys)


def _pilot(checked: Checked, asked: Asked) -> NextQuestion | None:
    """The pilot that the answer names: nothing but chances is in the way."""
    answered = drillable(checked)
    if answered.pilot is None or answered.pilot.key in asked.passed:
        return None
    return NextQuestion("reading", answered.pilot.key, answered.reasons[0].finding, to=answered.pilot.to)


def _behind(checked: Checked, asked: Asked) -> NextQuestion | None:
    """Return a guess that may turn what is fouled, such as a thickness that makes the faces lean; None for none.

    Where one thing is fouled beyond doubt, no guess helps.
    """
    if not readings_may_turn(checked):
        return None
    fouled = [finding for finding in checked.findings if _stops(finding)]
    keys = [key for finding in fouled for key in (*finding.guesses, *finding.moved_by) if is_guess(checked.design, key)]
    return _first_of(checked.design, [key for key in keys if key not in asked.passed], asked)


def _is_sure_here(checked: Checked, mount: int) -> bool:
    """Return whether nothing at the motor's present place keeps its holes from being drilled, as far as its place matters."""
    return not any(
        _stops(finding) or _is_unsure(finding)
        for finding in checked.findings
        if mount in finding.mounts and not CHECK_KINDS[finding.check].ease and not CHECK_KINDS[finding.check].of_hardware
    )


def _stops(finding: Finding) -> bool:
    return finding.state == "fouled" and stops_the_paper(finding)


def _is_unsure(finding: Finding) -> bool:
    by_chance = CHECK_KINDS[finding.check].by_chance and finding.state != "note"
    return by_chance and finding.chance is not None and finding.chance < SURE


def _alone(checked: Checked, asked: Asked) -> NextQuestion | None:
    """A reading that decides alone: once more and blind. One that stays unlikely is looked at."""
    wanted = to_confirm_blind(checked, asked.again, asked.passed)
    if wanted is not None:
        return NextQuestion("again", *wanted)
    reason = next((reason for reason in drillable(checked).reasons if reason.kind == "unlikely"), None)
    if reason is None or reason.key in asked.passed:
        return None
    left = asked.again.count(reason.key) < TWICE
    return NextQuestion("again", reason.key, reason.finding) if left else NextQuestion("look", finding=reason.finding)


def _resting(checked: Checked, asked: Asked) -> NextQuestion | None:
    """Guesses that keep the holes from being drilled; those that were passed by come again at the end."""
    reasons = {reason.key: reason for reason in drillable(checked).reasons if reason.kind == "guess"}
    wanted = _first_of(checked.design, reasons, asked)
    return None if wanted is None else _because_of(checked, reasons[wanted.key])


def _later(checked: Checked, asked: Asked) -> NextQuestion | None:
    """Readings that decide torque and bolts, not holes: asked for before the sheets are made."""
    design = checked.design
    loads = [key for finding in checked.findings if finding.stops == _OVER_LIMIT for key in finding.guesses]
    wanted = {key for key in (*loads, *_bolt_readings(checked)) if key not in asked.passed}
    if not wanted:
        return None
    first = next((key for key in LAST if key in wanted), "") or next(row.key for row in measures(design) if row.key in wanted)
    return NextQuestion("reading", first)


def _bolt_readings(checked: Checked) -> Iterator[str]:
    """Yield the guesses that choose another stock length of a bolt, somewhere in their usual range."""
    design = checked.design
    behind = {key for finding in checked.findings if finding.check == "length" for key in finding.rests}
    now = _lengths(design)
    for row in measures(design):
        value = row.get(design)
        if row.key not in behind or value is None or not guess_of(design, row):
            continue
        for end in row.about(value):
            try:
                if _lengths(row.set(design, end)) != now:
                    yield row.key
                    break
            except NonsenseError:
                continue


def _lengths(design: Design) -> tuple[float | None, ...]:
    try:
        return tuple(bolt.length for bolt in bolts(design))
    except Unmeasured:
        return ()


def _cures(checked: Checked, _asked: Asked) -> NextQuestion | None:
    """A cure of another kind for what no place helps, or a look at the findings."""
    fouled = [finding for finding in checked.findings if _stops(finding)]
    if not fouled:
        return None
    return NextQuestion("ease" if all(CHECK_KINDS[each.check].ease for each in fouled) else "look", finding=fouled[0])


_LOOKS = (
    _boat, _standard, _slips, _lacking, _measure_first, _deciding, _groups, _old_holes, _chances, _second_ways, _apart, _place,
    _alone, _resting, _pilot, _behind, _later, _cures,
)  # fmt: skip


# Words that several looks share


def _guessed(checked: Checked, asked: Asked, keys: Collection[str]) -> NextQuestion | None:
    """Return the first of some guesses that was not passed by and can change the answer.

    While something inside is fouled, each of them can: the lowest step depends on all.
    """
    kinds = (CHECK_KINDS[finding.check] for finding in checked.findings if finding.state == "fouled")
    fouled = any(kind.by_chance and kind.family != "motor" for kind in kinds)
    for key in keys:
        if is_guess(checked.design, key) and key not in asked.passed and (fouled or key in checked.guesses):
            return NextQuestion("reading", key)
    return None


def _first_of(design: Design, keys: Collection[str], asked: Asked) -> NextQuestion | None:
    """Return the first key that was not passed by; once all were, the one that was passed by first; None without keys."""
    left = in_order(design, [key for key in keys if key not in asked.passed]) or [key for key in asked.passed if key in keys]
    return NextQuestion("reading", left[0]) if left else None
