"""The next step: a reading that can change the answer, a cure for what is fouled, a guess to measure, then the sheets.

The five readings that decide the lower holes come first. Once the chances are known, the first of all others is the one
that changes most the finding nearest to its limit. Until then they come in walking order. While most is a guess, no move
is proposed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from app.document.view_state import ViewState
from app.entries.entry_text import exactness, origin
from app.ui.apostrophes import curly
from app.ui.deciding_modes import FIT, LOW_ENOUGH, clamps_on
from geometry.design.height_words import height_step, up_words
from geometry.design.measures import guess_of, measure, measures
from geometry.design.units import format_clearance, format_length, format_reading
from geometry.design.validity import known
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import drillable, lacking_readings
from geometry.judge.words import title_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from geometry.decide.best_rung import Best
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.design.units import Unit
    from geometry.judge.findings import Checked, Finding

SHEETS = "sheets"
"""Opened by a button: the sheets."""
FIRST = ("well.floor_port", "well.floor_starboard", "well.fillet_radius", "transom.top_cut", "transom.rake")
"""The five readings that decide the lower holes. They are asked for in this order, before any other guess."""
_OUTLINE = "transom.outline"
_MOTOR, _DROP_AND_ROW = 5, 7  # the sections of the motor, and where a cure shows
_SAME = 1e-6  # mm
_CLAMP = "Tighten the screws by hand. Chain the motor to the boat. Tighten again after the first run."
"""Common practice, no source."""


class Next(msgspec.Struct, frozen=True):
    """The next step.

    Attributes:
        title: one line. why: one or two more.
        key: the measure to take; "" for none. again: whether it was measured before.
        button: the word on the button; "" for none. label, design: the edit that it makes.
        opens: what the button opens to decide by; "" for nothing.
    """

    title: str
    why: str
    key: str = ""
    again: bool = False
    button: str = ""
    label: str = ""
    design: Design | None = None
    opens: str = ""


def first_view_state(checked: Checked) -> ViewState:
    """Return what to look at when a boat is opened: the folded card while a reading is asked for, else drop and row.

    On a blank sheet the outline's tool is in hand.
    """
    design = checked.design
    step = next_step(checked, 0, None)
    section = 0 if step.key else _MOTOR if clamps_on(design) else _DROP_AND_ROW
    return ViewState(section=section, tool="outline" if known(design.transom.outline) is None else "")


def next_step(
    checked: Checked, mount: int, rungs: tuple[Rung, ...] | None, again: Collection[str] = (), passed: tuple[str, ...] = ()
) -> Next:
    """Return the next step.

    Args:
        checked: with chances, once they are calculated.
        rungs: the ladder of the motor in hand, None while they are being calculated.
        again: readings that were taken once more: they are not asked for a third time.
        passed: readings that the person left as guesses, or can't reach: they come last.
    """
    design = checked.design
    if not design.mounts:
        if known(design.transom.outline) is None:
            why = "Click its corners on the sheet. Or choose a starting shape in the menu Boat, New."
            return Next("Draw the transom", why, _OUTLINE)
        unknown = {each.key for each in measures(design) if each.section < _MOTOR and origin(design, each) == "not known"}
        if unknown:
            return _reading(design, _still_asked(unknown, passed))
        return Next("Hang a motor", "Choose its bracket on the card. The drawing then shows it.", "choice.bracket")
    lacking = lacking_readings(checked)
    if lacking and checked.verdict == "unknown":
        return _reading(design, _still_asked({finding.missing or "" for finding in lacking}, passed))
    left, open_guesses = checked, tuple(key for key in checked.guesses if key not in passed)
    checked = msgspec.structs.replace(checked, guesses=open_guesses)
    curable = checked.verdict == "fouled" and not (checked.guesses and _mostly_guessed(checked.findings[0]))
    first = [key for key in FIRST if key in checked.guesses]
    if first and (len(first) > 1 or not curable):
        return _reading(design, first[:1])
    doubt = _doubt(checked, (*again, *passed))
    if checked.verdict == "fouled" and (doubt is not None or curable):
        return doubt or _cure(checked, mount, rungs)
    if checked.guesses:
        return _guess(checked) or _reading(design, checked.guesses)
    if doubt is not None:
        return doubt
    unsure = next((reason for reason in drillable(checked).reasons if reason.kind == "doubt"), None)
    if unsure is not None and checked.sure:
        return Next("Add a little room", curly(unsure.text), button="Find a fit", opens=FIT)
    resting = [reason.key for reason in drillable(left).reasons if reason.kind == "guess"]
    if resting:
        return _reading(design, _still_asked(resting, passed))
    if clamps_on(design):
        return Next("Clamp the motor on", _CLAMP, button="See how low", opens=LOW_ENOUGH)
    why = "Measure both bars on it before you mark anything."
    return Next("Make the sheets and print page 1", why, button="Make the sheets", opens=SHEETS)


def _still_asked(keys: Collection[str], passed: tuple[str, ...]) -> tuple[str, ...]:
    """Return the keys that were not passed by; once all were, the one that was passed by first."""
    return tuple(key for key in keys if key not in passed) or tuple(key for key in passed if key in keys)[:1]


def _turning(checked: Checked) -> Iterator[Finding]:
    """Yield the findings that readings can change: the most fouled first, then those nearest to their limits.

    Nearness is counted in spreads.
    """
    judged = [(turn, each) for each in checked.findings if each.moved_by and (turn := _spreads_off(each)) is not None]
    yield from (each for _, each in sorted(judged, key=lambda pair: pair[0]))


def _spreads_off(finding: Finding) -> float | None:
    """Return by how many spreads a finding holds its least, negative where it does not; None where nothing limits it."""
    if not finding.spread or finding.value is None or finding.least is None or finding.state == "note":
        return None
    off = abs(finding.value - finding.least) / finding.spread
    return -off if finding.state == "fouled" else off


def _guess(checked: Checked) -> Next | None:
    """The guess that moves most what decides; None while chances are not known, or too little is for them to mean much."""
    turning = tuple(_turning(checked))
    if not turning or _mostly_guessed(turning[0]):
        return None
    for finding in turning:
        key = next((moving for moving in finding.moved_by if _guess_key(checked.design, moving) in checked.guesses), "")
        if key:
            return _taken(checked.design, finding, key, again=False)
    return None


def _doubt(checked: Checked, again: Collection[str]) -> Next | None:
    """The reading that can turn the answer round: while all that fouls, or some of what holds, may well be otherwise."""
    fouled = checked.verdict == "fouled"
    if fouled and not all(each.doubtful for each in checked.findings if each.state == "fouled"):
        return None
    for finding in _turning(checked):
        key = finding.moved_by[0]
        if finding.doubtful and fouled == (finding.state == "fouled") and key not in again:
            return _taken(checked.design, finding, key, again=not _is_guess(checked.design, key))
    return None


def _taken(design: Design, finding: Finding, key: str, *, again: bool) -> Next | None:
    """Ask for a reading, and say what it moves and how likely that holds."""
    taken = measure(design, key)
    if taken is None:
        return None
    title = title_of(finding)
    odds = ""
    if finding.doubtful and finding.chance is not None:
        odds = f" It is within its limit in about {min(9, max(1, round(10 * finding.chance)))} of 10 cases."
    which = "reading" if key == finding.moved_by[0] else "guess"
    why = f"No other {which} changes the {title[0].lower()}{title[1:]} so much.{odds} {exactness(taken, design)}".strip()
    name = f"{taken.name[0].lower()}{taken.name[1:]}{' again' if again else ''}"
    return Next(curly(f"Measure the {name}"), curly(why), key, again)


def _is_guess(design: Design, key: str) -> bool:
    """Return whether a measure is a guess, by itself or as part of a guessed shape."""
    return bool(_guess_key(design, key))


def _guess_key(design: Design, key: str) -> str:
    taken = measure(design, key)
    return "" if taken is None else guess_of(design, taken)


def _mostly_guessed(finding: Finding) -> bool:
    """Return whether readings may well change a fouled finding: more than half of its readings are guesses."""
    return 2 * len(finding.guesses) > len(finding.rests)


def _reading(design: Design, keys: Collection[str | None]) -> Next:
    """The first of the readings in walking order."""
    first = next((each for each in measures(design) if each.key in keys), None)
    if first is None:
        return Next("Something is not known yet", "The findings show it.")
    name = first.name[0].lower() + first.name[1:]
    return Next(curly(f"Measure the {name}"), curly(f"{first.how} {exactness(first, design)}".strip()), first.key)


def _cure(checked: Checked, mount: int, rungs: tuple[Rung, ...] | None) -> Next:
    worst, design = checked.findings[0], checked.design
    fouled = [finding for finding in checked.findings if finding.state == "fouled"]
    if all(CHECK_KINDS[finding.check].ease for finding in fouled):
        return Next(curly(CHECK_KINDS[worst.check].ease), curly(worst.remedy or worst.text))
    if design.mounts[mount].bracket.rows is None:
        return Next("Look at the findings", curly(worst.remedy or worst.text))
    if rungs is None:
        return Next("Trying every height and drop", "The best one comes next.")

    from geometry.decide.best_rung import best_rung  # what helps to decide comes in when it is wanted

    best = best_rung(design, mount, rungs)
    if best is None:
        why = "Find a fit also tries other places and other hardware."
        return Next("No height or drop fits", why, button="Find a fit", opens=FIT)
    present, unit = design.mounts[mount].drop, design.units
    place = f"motor {up_words(best.row)}"
    room = "" if best.room is None else f". Smallest clearance {format_clearance(best.room, unit)}"
    drop = format_length(best.drop, unit)
    why = f"Drop {drop}, {place}{room}.{_at_the_end(best, unit)}"
    if present is None or abs(present - best.drop) < _SAME:
        return Next(f"Hang the motor {up_words(best.row)}", why, button="Hang it", label=height_step(best.row),
                    design=best.design)  # fmt: skip
    by = format_reading(abs(present - best.drop), unit)
    verb = "Raise" if best.drop < present else "Lower"
    return Next(f"{verb} the lower bolts {by}", why, button=f"{verb} it", label=f"Drop to {drop}", design=best.design)


def _at_the_end(best: Best, unit: Unit) -> str:
    """Say beforehand how the lower bolts are at the slot's end: there a hole has no room to come out a little off."""
    slot_end = best.slot_end
    if abs(best.off_end) >= _SAME:
        more = "more" if best.off_end > 0 else "less"
        return f" {format_reading(abs(best.off_end), unit)} {more} drop than the step keeps the lower bolts off the slot’s end."
    if slot_end is None:
        return ""
    away = format_clearance(max(0.0, slot_end), unit)
    where = "at" if away.split()[0] == "0" else f"{away} from"
    return f" The lower bolts are then {where} the slot’s end. Drill these two with care."
