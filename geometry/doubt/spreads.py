"""How sure each finding is: the errors of every reading and every hole, carried through the checks.

Spreads are one standard deviation. A finding's spread is the root sum of squares of central differences. Each step is one
standard deviation of one reading. Its chance is that the value is on the right side of its least. Differences are not
enough where both sides of a reading disagree, or where a block may reach a part. Many drawn boats then give both.
A guess is a reading with a wide spread. A finding depends on it only in two cases: the guess, within its usual range,
changes whether the finding stops the paper, or the guesses bring its chance under `SURE`.
"""

from __future__ import annotations

import math
import re
from collections import deque
from contextlib import suppress
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.validity import CLOSE, SECOND
from geometry.doubt.kept_bolt_lengths import with_lengths_kept
from geometry.doubt.one_reading_off import trials
from geometry.doubt.slot_chance import slot_chance
from geometry.judge.check import OF_CHANCE, OF_ROOM, assembled, check, findings_of
from geometry.judge.check_kinds import CHECK_KINDS, IN_WELL
from geometry.judge.drillable import SURE
from geometry.judge.findings import is_bad
from geometry.judge.first_reading import with_first_reading
from geometry.readings.measures import guess_of, measures, name_of
from geometry.readings.reading_spreads import spread_of
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.solving.solved import solved

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.doubt.chances import Chance
    from geometry.doubt.one_reading_off import Trial
    from geometry.judge.findings import Checked, Finding
    from geometry.judge.reporter import Reporter

    Looks = tuple[Callable[[Reporter], None], ...]

Place = tuple[str, str]
_SLOT = "row"
ROOMS = (*IN_WELL, "neighbour", "old_hole", _SLOT)
"""The checks of room inside, between bolts, next to old holes and in the bracket's slot."""
_OUTLINES = ("transom.outline",)  # moves rooms only where it gives the edges a washer may not pass
_ONE_SIDED = 0.2  # where the changes to both sides differ by more than this share, the worse one counts
_MATTERS = 0.01  # of a finding's variance: a reading with less needs no drawn boats
_FAR = 30.0  # [mm] of room: more than errors of readings take
_DEEP = 40.0  # [mm] of overlap: more than an inch miscounted
_SETTLED = 5.0  # spreads from the least: no drawn boat changes the answer
DRAWN = 6_000
"""The boats that are drawn where differences are not enough: a chance of 0.975 is then known to 0.002."""
_AT_ONCE = 1_500  # boats between two looks at whether anybody still waits
_EVEN = 0.5
_NOISE = 1e-3  # of the variance: chance alone gives a reading so much
_LEANING = 60.0  # [mm]: no part is wider, so a leaning one begins no more than that times its lean further in
_BLOCK = re.compile(r"inside_blocks\.\d+\.stands_out")
_BOUGHT_LATER = ("length", "shank")  # a guessed thickness chooses another bolt: only the states count


_PATTERN = ".half_spacing"
"""The spacing of a bracket's holes moves no finding, but a wrong guess of it keeps the bracket from fitting."""


class _Sums(msgspec.Struct):
    """The sums of the trials, by place.

    Attributes:
        bent: variance by readings whose two sides disagree. measured: variance by readings and holes.
        guessed: variance by each guess. moved: variance by each reading's key.
        turned: guesses that change a finding's state. swept: guesses that were tried.
        appeared: new findings that stop the paper, each with its guess and the design that has it.
    """

    bent: dict[Place, float] = msgspec.field(default_factory=dict)
    measured: dict[Place, float] = msgspec.field(default_factory=dict)
    guessed: dict[Place, dict[str, float]] = msgspec.field(default_factory=dict)
    moved: dict[Place, dict[str, float]] = msgspec.field(default_factory=dict)
    turned: dict[Place, set[str]] = msgspec.field(default_factory=dict)
    swept: set[str] = msgspec.field(default_factory=set)
    appeared: dict[Place, tuple[str, Design]] = msgspec.field(default_factory=dict)


def with_spreads(checked: Checked) -> Checked:
    """Return the findings with their spreads and chances filled in."""
    return deque(spreading(checked), maxlen=1).pop()


def with_chances_of_room(checked: Checked) -> tuple[Finding, ...]:
    """Return the findings on room inside, between bolts and next to old holes, with their chances: faster than all of them.

    A guess counts with its spread only: whether it turns a finding is not tried. A part far from its least is
    left without a chance.
    """
    rooms = tuple(finding for finding in checked.findings if finding.check in ROOMS and not _is_far(finding))
    asked = {(finding.check, finding.at) for finding in rooms}
    still = frozenset(place for place in checked.by_place if place not in asked)
    second = (f"well{SECOND}", *(f"mounts.{index}{SECOND}" for index in range(len(checked.design.mounts))))
    behind = (*second, *{key for finding in rooms for key in finding.rests if key not in _OUTLINES})
    bought = with_lengths_kept(checked.design)
    sums, kept = _Sums(), check(bought)
    for trial in trials(checked.design, bought, behind):
        _add(sums, trial, checked if trial.guess else kept, OF_ROOM, still)
    return tuple(_doubted(checked.design, finding, sums, {}) for finding in rooms)


def spreading(checked: Checked, *, of_chance: bool = False, only: frozenset[Place] | None = None) -> Iterator[Checked]:
    """Yield after each trial, and after some drawn boats; the last one has every spread and chance.

    Long: about two checks for each reading and four for each guess. All but the last are the findings without them.

    Args:
        of_chance: find only the findings that need a chance. The last one has no others.
        only: with ``of_chance``, find only these of them.
    """
    if checked.sure:
        yield checked
        return
    bought = with_lengths_kept(checked.design)
    sums = _Sums()
    kept = check(bought)
    still = frozenset() if only is None else frozenset(place for place in checked.by_place if place not in only)
    for trial in trials(checked.design, bought, None if only is None else _behind(checked, only)):
        yield checked
        _add(sums, trial, checked if trial.guess else kept, OF_CHANCE if of_chance else None, still)
    asked = [finding for finding in checked.findings if CHECK_KINDS[finding.check].by_chance or not of_chance]
    asked = [finding for finding in asked if (finding.check, finding.at) not in still]
    drawn: dict[Place, Chance] = {}
    ends = _next_to_ends(checked.design)
    bent = frozenset((each.check, each.at) for each in asked if _needs_draws(each, sums, ends))
    if bent:
        from geometry.doubt.chances import drawing

        for progress in drawing(checked.design, count=DRAWN, only=bent, at_once=_AT_ONCE):
            yield checked
            drawn = {(each.check, each.at): each for each in progress.chances}
    doubted = tuple(_doubted(checked.design, finding, sums, drawn) for finding in asked)
    appeared = tuple(_may_appear(checked, place, *where) for place, where in sums.appeared.items())
    yield with_first_reading(replace(assembled(checked.design, (*doubted, *appeared)), sure=True))


def _behind(checked: Checked, only: frozenset[Place]) -> tuple[str, ...] | None:
    """Return the first parts of the keys of all readings that can move some findings; None for every reading.

    A boat with second readings is solved with all of them together.
    """
    if solved(checked.design) is not checked.design:
        return None
    return tuple({key for finding in checked.findings if (finding.check, finding.at) in only for key in finding.rests})


def _is_far(finding: Finding) -> bool:
    """Return whether a part has so much room, or overlaps so far, that no error of a reading changes the answer."""
    if finding.unit != "mm" or finding.value is None or finding.check == _SLOT:
        return False
    return not -_DEEP <= finding.value - (finding.least or 0.0) <= _FAR


def _next_to_ends(design: Design) -> set[Place]:
    """Return the parts that a block may reach if it sticks out a few spreads more than was read: their room then jumps."""
    places: set[Place] = set()
    for row in measures(design):
        block = _BLOCK.fullmatch(row.key)
        out = row.get(design) if block and not guess_of(design, row) else None
        if out is None:
            continue
        reach = _SETTLED * spread_of(design, row)
        for bolt in bolts(design):
            for part in IN_WELL:
                with suppress(Unmeasured):
                    body = bolt.body(part)
                    lean = math.sin(abs(bolt.exit.lean)) * _LEANING
                    if body is not None and -CLOSE <= body.start - out <= reach + lean:
                        places.add((part, bolt.at))
    return places


def _needs_draws(finding: Finding, sums: _Sums, ends: set[Place]) -> bool:
    """Return whether differences are not enough for a finding: the two sides of a reading disagree, and it may matter.

    A finding that is fouled already needs no chance to be so. One that rests mostly on guesses waits until they are measured.
    """
    place = finding.check, finding.at
    guessed = sum(sums.guessed.get(place, {}).values())
    measured = sums.measured.get(place, 0.0)
    if not CHECK_KINDS[finding.check].by_chance or is_bad(finding) or finding.value is None or finding.least is None:
        return False
    if guessed > measured:
        return False
    if place in ends:
        return True
    if sums.bent.get(place, 0.0) <= _MATTERS * (measured + guessed):
        return False
    return abs(finding.value - finding.least) < _SETTLED * math.sqrt(measured + guessed)


def _may_appear(checked: Checked, place: Place, guess: str, tried: Design) -> Finding:
    """Return a finding that is not there now, as clear, with the words that it has where a guess is off."""
    finding = next(each for each in findings_of(tried, checked, worded=True) if (each.check, each.at) == place)
    text = f"Nothing is found here now. If the guess for {name_of(checked.design, guess)} is off: {finding.text}"
    return replace(finding, state="clear", value=None, guesses=(guess,), remedy=None, text=text)


def _add(
    sums: _Sums, trial: Trial, checked: Checked, looks: Looks | None = None, still: frozenset[Place] = frozenset()
) -> None:
    now = checked.by_place
    plus, minus = (_tried(design, checked, looks, still) for design in (trial.plus, trial.minus))
    for place, finding in now.items():
        after, before = plus.get(place), minus.get(place)
        if after is finding and before is finding:
            continue
        if after is None or before is None or after.value is None or before.value is None or finding.value is None:
            continue
        share = _step(finding, after.value, before.value) ** 2
        if share == 0.0:
            continue
        if _is_one_sided(finding.value, after.value, before.value):
            sums.bent[place] = sums.bent.get(place, 0.0) + share
        if trial.guess:
            if finding.check not in _BOUGHT_LATER:
                _more(sums.guessed.setdefault(place, {}), trial.guess, share)
        else:
            sums.measured[place] = sums.measured.get(place, 0.0) + share
        if trial.key and not _is_bought(trial):
            _more(sums.moved.setdefault(place, {}), trial.key, share)
    if trial.guess and looks is not OF_ROOM:
        sums.swept.add(trial.guess)
        _turns(sums, trial.guess, now, trial.plus, plus)
        _turns(sums, trial.guess, now, trial.minus, minus)
        for design in trial.between:
            _turns(sums, trial.guess, now, design, _tried(design, checked, looks))
        if trial.guess.endswith(_PATTERN):
            mount = trial.plus.mounts[int(trial.guess.split(".")[1])].name
            sums.turned.setdefault(("row", mount), set()).add(trial.guess)


def _is_bought(trial: Trial) -> bool:
    """Return whether a trial has the size of a part off that is still to be bought. Nobody can measure it again."""
    reading = trial.plus.readings.get(trial.key)
    return reading is not None and reading.state == "to buy"


def _tried(
    design: Design, checked: Checked, looks: Looks | None = None, still: frozenset[Place] = frozenset()
) -> dict[Place, Finding]:
    """Return the findings of a design with one reading off; those that do not rest on it are the same ones."""
    findings = findings_of(design, checked, worded=False, looks=looks, still=still)
    return {(finding.check, finding.at): finding for finding in findings}


def _more(shares: dict[str, float], key: str, share: float) -> None:
    shares[key] = shares.get(key, 0.0) + share


def _step(finding: Finding, after: float, before: float) -> float:
    """Return the change of a value by one spread; where the two sides differ, the change towards its least."""
    now = finding.value or 0.0
    up, down = after - now, now - before
    if not _is_one_sided(now, after, before):
        return (after - before) / 2
    sign = -1.0 if less_is_better(finding) else 1.0
    return max(0.0, -sign * up, sign * down)


def _is_one_sided(now: float, after: float, before: float) -> bool:
    """Return whether the changes of a value to both sides of a reading disagree."""
    up, down = after - now, now - before
    return abs(up - down) > _ONE_SIDED * max(abs(up), abs(down))


def less_is_better(finding: Finding) -> bool:
    """Return whether a finding is on the right side of its least below it."""
    limited = finding.least is not None and finding.advised is not None
    return CHECK_KINDS[finding.check].less_is_better or (limited and (finding.least or 0.0) > (finding.advised or 0.0))


def _turns(sums: _Sums, guess: str, now: dict[Place, Finding], design: Design, tried: dict[Place, Finding]) -> None:
    for place, finding in tried.items():
        before = now.get(place)
        if before is None:
            if is_bad(finding):
                sums.appeared.setdefault(place, (guess, design))
        elif is_bad(finding) != is_bad(before):
            sums.turned.setdefault(place, set()).add(guess)
    for place, finding in now.items():
        if place not in tried and is_bad(finding):
            sums.turned.setdefault(place, set()).add(guess)


def _doubted(design: Design, finding: Finding, sums: _Sums, drawn: dict[Place, Chance]) -> Finding:
    """Return a finding with its spread, its chance, and what they depend on; the slot's chance comes from its own rule."""
    doubted = _by_differences(design, finding, sums, drawn)
    if finding.check == _SLOT and finding.value is not None:
        inside = slot_chance(design, finding.mounts[0])
        shares = {} if inside is None else inside.shares
        moved_by = tuple(sorted(shares, key=lambda key: -shares[key]))
        by_key = tuple(shares[key] for key in moved_by)
        spread, chance = (None, None) if inside is None else (inside.spread, inside.chance)
        doubted = replace(doubted, spread=spread, chance=chance, moved_by=moved_by, shares=by_key)
    return doubted


def _by_differences(design: Design, finding: Finding, sums: _Sums, drawn: dict[Place, Chance]) -> Finding:
    place = finding.check, finding.at
    measured, guessed = sums.measured.get(place, 0.0), sums.guessed.get(place, {})
    draws = drawn.get(place)
    if draws is not None:
        wide, before = _as_wide(finding, draws), measured + sum(guessed.values())
        guessed = {key: variance * wide / before for key, variance in guessed.items()}
        measured = wide - sum(guessed.values())
    turned = sums.turned.get(place, set())
    shares = sums.moved.get(place, {}) if draws is None else _to_measure(design, draws)
    moved_by = tuple(sorted(shares, key=lambda key: -shares[key]))
    spread = None if finding.value is None else math.sqrt(measured + sum(guessed.values()))
    chance = _chance(finding, measured + sum(guessed.values()))
    matter = set(turned)
    if chance is not None and finding.state != "fouled":
        matter |= _that_matter(finding, measured, guessed)
    if finding.least is None and finding.state == "fouled":  # it is right between the ends of a guess, such as on an old hole
        matter.update(finding.guesses)
    elif finding.stops != "always":
        matter.update(key for key in finding.guesses if key not in sums.swept)
    kept = tuple(sorted(matter))
    if draws is not None:
        spread, chance = draws.spread, draws.chance
    by_key = tuple(shares[key] for key in moved_by)
    return replace(finding, spread=spread, chance=chance, moved_by=moved_by, shares=by_key, guesses=kept)


def _to_measure(design: Design, draws: Chance) -> dict[str, float]:
    """Return the variance by each reading that can be taken again: by no hole, and by no part that is still to be bought."""
    readings = design.readings
    return {
        key: share for key, share in draws.shares.items()
        if key and share > _NOISE * draws.spread**2 and not (key in readings and readings[key].state == "to buy")
    }  # fmt: skip


def _as_wide(finding: Finding, draws: Chance) -> float:
    """Return the variance of a normal distribution with the chance of the drawn boats; theirs where it has none."""
    apart = (finding.value or 0.0) - (finding.least or 0.0)
    if not 0.0 < draws.chance < 1.0 or (draws.chance > _EVEN) != (apart > 0.0) or draws.chance == _EVEN:
        return draws.spread**2
    from statistics import NormalDist  # not loaded at the start: it takes 15 ms there

    return (apart / NormalDist().inv_cdf(draws.chance)) ** 2


def _that_matter(finding: Finding, measured: float, guessed: dict[str, float]) -> set[str]:
    """Return the fewest guesses, the widest first, without which the chance would be `SURE`, or that of the readings alone.

    A guess that hardly moves the finding is none of them.
    """
    left = dict(guessed)
    matter: set[str] = set()
    for key in sorted(guessed, key=lambda key: -guessed[key]):
        chance = _chance(finding, measured + sum(left.values()))
        if chance is None or chance >= SURE or sum(left.values()) <= _NOISE * (measured + sum(guessed.values())):
            break
        matter.add(key)
        del left[key]
    return matter


def _chance(finding: Finding, variance: float) -> float | None:
    """Return the chance that a value is on the right side of its least; None where nothing limits it."""
    if finding.value is None or finding.least is None:
        return None
    sign = -1.0 if less_is_better(finding) else 1.0
    apart, spread = sign * (finding.value - finding.least), math.sqrt(variance)
    if spread > 1e-9:
        return 0.5 * (1 + math.erf(apart / spread / math.sqrt(2)))
    return 1.0 if apart >= -1e-6 else 0.0
