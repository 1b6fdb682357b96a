"""The answer: one sentence whose first words settle whether the holes may be drilled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.words.card_words import origin
from app.words.findings_words import finding_lines, grouped_names, number, subject
from geometry.design.measures import measures
from geometry.design.units import format_clearance

if TYPE_CHECKING:
    from geometry.judge.findings import Checked, Finding, State

_INSIDE = ("washer", "nut", "socket", "thread_end")


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer line: a state's mark, one sentence, and whether the sheets are the next step."""

    state: State
    sentence: str
    ready: bool


def answer(checked: Checked) -> Answer:
    """Return the answer to a checked design."""
    if not checked.design.mounts:
        return Answer("unknown", "Nothing to check yet: no motor is hung.", False)
    match checked.verdict:
        case "unknown":
            count = len(missing_keys(checked))
            told = "one reading is" if count == 1 else f"{number(count)} readings are"
            sentence = f"Don’t drill yet: {told} missing." if count else "Don’t drill yet: something can’t be told."
            return Answer("unknown", sentence, False)
        case "fouled":
            return Answer("fouled", f"Don’t drill here: {_fouled(checked)}", False)
        case verdict:
            return Answer(verdict, _fits(checked), not checked.guesses)


def missing_keys(checked: Checked) -> tuple[str, ...]:
    """Return the keys of the readings that are missing and decide something, in walking order."""
    rests = tuple({key for finding in checked.findings if finding.state == "unknown" for key in finding.rests})
    return tuple(
        one.key for one in measures(checked.design) if one.key.startswith(rests) and origin(checked.design, one) == "not known"
    )


def smallest_inside(checked: Checked) -> tuple[Finding, ...]:
    """Return the findings that share the smallest clearance inside, none where nothing limits it."""
    inside = [f for f in checked.findings if f.check in _INSIDE and f.value is not None]
    if not inside:
        return ()
    least = min(inside, key=lambda f: f.value if f.value is not None else 0.0)
    return tuple(
        f for f in inside
        if f.check == least.check and f.value is not None and least.value is not None
        and abs(f.value - least.value) < 1e-4 and f.at.split(" / ")[0] == least.at.split(" / ")[0]
    )  # fmt: skip


def spare_words(checked: Checked | None) -> str:
    """Say the smallest clearance inside in two words, to stand beside a live figure: "clear 5/8 in"."""
    found = smallest_inside(checked) if checked is not None else ()
    if checked is None or not found or found[0].value is None:
        return ""
    told = format_clearance(found[0].value, checked.design.units)
    return f"fouled {told.lstrip('−')}" if found[0].value < 0 else f"clear {told}"


def _fouled(checked: Checked) -> str:
    worst = checked.findings[0]
    alike = tuple(
        f for f in checked.findings
        if f.check == worst.check and f.state == "fouled" and f.value is not None and worst.value is not None
        and abs(f.value - worst.value) < 1e-4 and f.at.split(" / ")[2:] == worst.at.split(" / ")[2:]
    ) or (worst,)  # fmt: skip
    low = all(name.startswith("lower") for name in grouped_names(alike))
    if worst.check in _INSIDE and worst.value is not None and grouped_names(alike):
        depth = format_clearance(worst.value, checked.design.units).lstrip("−")
        told = subject(alike)
        told = told if told.startswith(("both", "all")) else f"the {told}"
        verb, many = ("sit", "") if told.startswith(("both", "all")) else ("sits", "s")
        if low and checked.design.well is not None:
            return f"{told} {verb} {depth} too low for the well’s floor."
        return f"{told} foul{many} by {depth}."
    return worst.text[0].lower() + worst.text[1:]


def _fits(checked: Checked) -> str:
    tight = sum(line.state == "tight" for line in finding_lines(checked))
    if tight == 1:
        more = " One thing is tight."
    elif tight:
        more = f" {number(tight).capitalize()} things are tight."
    else:
        more = ""
    if checked.guesses:
        count = len(checked.guesses)
        return f"It fits, if {'one guess holds' if count == 1 else f'{number(count)} guesses hold'}.{more}"
    spare = smallest_inside(checked)
    if not spare or spare[0].value is None:
        return f"It fits: nothing stands in the way.{more}"
    room = format_clearance(spare[0].value, checked.design.units)
    low = all(name.startswith("lower") for name in grouped_names(spare))
    told = subject(spare).removeprefix("both ").removeprefix("all four ")
    where = f"{'below' if low else 'at'} the {told}"
    return f"It fits: {room} to spare {where}.{more}" if more else f"It fits, with {room} to spare {where}."
