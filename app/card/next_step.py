"""The next step in words: a reading that can change the answer, a move, then the sheets.

`geometry.asking` says what is asked; its order is a part of the geometry. Here it gets its title, its reason and its button.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from app.document.view_state import ViewState
from app.entries.entry_text import exactness
from app.ui.apostrophes import curly
from app.ui.deciding_modes import FIT, LOW_ENOUGH, clamps_on
from geometry.asking.next_question import STANDARD, Asked, NextQuestion, next_question
from geometry.asking.question_order import is_guess
from geometry.asking.question_words import ANY_OLD_HOLES, WHERE_TO_LOOK
from geometry.design.validity import known
from geometry.edits.standard_pattern import with_standard
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.words import title_of
from geometry.readings.measures import measure
from geometry.readings.pilots import with_end
from geometry.units.height_words import height_step, up_words
from geometry.units.units import format_clearance, format_length, format_reading

if TYPE_CHECKING:
    from collections.abc import Collection

    from geometry.decide.best_rung import Best
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design, PilotEnd
    from geometry.judge.findings import Checked, Finding
    from geometry.units.units import Unit

SHEETS = "sheets"
"""Opened by a button: the sheets."""
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
        leave: the word for leaving it, "" where it can't be left. leaves: the key that is then passed by.
        waits: whether what comes next is still being calculated.
        to: of a pilot's reading, the other end of its distance; None for another reading.
    """

    title: str
    why: str
    key: str = ""
    again: bool = False
    button: str = ""
    label: str = ""
    design: Design | None = None
    opens: str = ""
    leave: str = ""
    leaves: str = ""
    waits: bool = False
    to: PilotEnd | None = None

    def asked_on(self, design: Design) -> Design:
        """Return the boat on which the reading is asked for and typed: a pilot's, with the end of its distance."""
        return design if self.to is None else with_end(design, self.key, self.to)


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
        again: readings that were taken once more, once for each time.
        passed: readings that the person left as guesses, or can't reach: they come last.
    """
    asked = next_question(checked, Asked(mount, rungs, tuple(again), passed))
    design, finding = checked.design, asked.finding
    match asked.kind:
        case "draw":
            why = "Click its corners on the sheet. Or choose a starting shape in the menu Boat, New."
            return Next("Draw the transom", why, asked.key)
        case "hang":
            return Next("Hang a motor", "Choose its bracket on the card. The drawing then shows it.", asked.key)
        case "reading" | "again":
            return _reading(design, asked)
        case "standard":
            return _standard(design, asked.mount)
        case "old holes":
            return Next(ANY_OLD_HOLES, WHERE_TO_LOOK, asked.key)
        case "wait":
            return Next("One moment", "The next question depends on all readings together.", waits=True)
        case "move":
            return _move(checked, mount, asked)
        case "lower":
            return _lower(checked, mount, asked)
        case "search":
            why = "Find a fit also tries other places and other hardware."
            return Next("No height or drop fits", why, button="Find a fit", opens=FIT)
        case "ease" if finding is not None:
            return _ease(checked, finding)
        case "look" if finding is not None:
            return Next("Look at the findings", curly(finding.remedy or finding.text))
        case "clamp":
            return Next("Clamp the motor on", _CLAMP, button="See how low", opens=LOW_ENOUGH)
        case "sheets":
            why = "Nothing left to measure would change this. Measure both bars on page 1 before you mark anything."
            return Next("Make the sheets and print page 1", why, button="Make the sheets", opens=SHEETS)
        case _:
            return Next("Something is not known yet", "The findings show it.")


def _standard(design: Design, mount: int) -> Next:
    """Ask whether a bracket is the standard one."""
    whose = f"{design.mounts[mount].name}: " if len(design.mounts) > 1 else ""
    why = "Your figures are those of the standard pattern, as far as a tape shows. The template shows later whether it fits."
    title = "Is the bracket the standard one?"
    return Next(f"{whose}{title[0].lower() if whose else title[0]}{title[1:]}", why, button="It is", label="Standard pattern",
                design=with_standard(design, mount), leave="It is not", leaves=f"{STANDARD}{mount}")  # fmt: skip


def _reading(design: Design, asked: NextQuestion) -> Next:
    """Ask for a reading, and say what it decides."""
    if asked.to is not None:
        design = with_end(design, asked.key, asked.to)
    taken, again = measure(design, asked.key), asked.kind == "again"
    if taken is None:
        return Next("Something is not known yet", "The findings show it.")
    name = f"{taken.name[0].lower()}{taken.name[1:]}{' again' if again else ''}"
    said = taken.how if asked.finding is None else _reason(design, asked.finding, asked.key)
    why = curly(f"{said} {exactness(taken, design)}".strip())
    return Next(curly(f"Measure the {name}"), why, asked.key, again, to=asked.to)


def _reason(design: Design, finding: Finding, key: str) -> str:
    """Say what a reading changes, and how likely that holds."""
    title = title_of(finding)
    title = f"{title[0].lower()}{title[1:]}"
    said = f"The answer for the {title} depends on it."
    if finding.moved_by[:1] == (key,):
        said = f"No other reading changes the {title} so much."
    elif next((moved for moved in finding.moved_by if is_guess(design, moved)), "") == key:
        said = f"No other guess changes the {title} so much."
    odds = ""
    if finding.doubtful and finding.chance is not None:
        odds = f" It is within its limit in about {min(9, max(1, round(10 * finding.chance)))} of 10 cases."
    return f"{said}{odds}"


def _move(checked: Checked, mount: int, asked: NextQuestion) -> Next:
    """Move the motor to the lowest step that is sure."""
    if asked.step is None:
        return Next("Look at the findings", curly(checked.findings[0].text))
    best, design = asked.step.best, checked.design
    present, unit = design.mounts[mount].drop, design.units
    why = _where(best, unit)
    if present is None or abs(present - best.drop) < _SAME:
        return Next(f"Hang the motor {up_words(best.row)}", why, button="Hang it", label=height_step(best.row),
                    design=best.design)  # fmt: skip
    by = format_reading(abs(present - best.drop), unit)
    verb = "Raise" if best.drop < present else "Lower"
    label = f"Drop to {format_length(best.drop, unit)}"
    return Next(f"{verb} the lower bolts {by}", why, button=f"{verb} it", label=label, design=best.design)


def _lower(checked: Checked, mount: int, asked: NextQuestion) -> Next:
    """Say that the lower bolts can be lower after all."""
    lower = _move(checked, mount, asked)
    drop = "" if asked.step is None else format_length(asked.step.best.drop, checked.design.units)
    return msgspec.structs.replace(
        lower, title=f"{drop} clears after all: hang it lower?", button="Lower it", leave="Leave it here", leaves="lower"
    )


def _ease(checked: Checked, finding: Finding) -> Next:
    """Offer a cure that is no place, such as less torque, where the program has one."""
    from geometry.decide.cures import cure  # what helps to decide comes in when it is wanted

    better = cure(checked, finding)
    title, why = curly(CHECK_KINDS[finding.check].ease), curly(finding.remedy or finding.text)
    if better is None:
        return Next(title, why)
    return Next(title, why, button=curly(better.button), label=better.label, design=better.design)


def _where(best: Best, unit: Unit) -> str:
    """Say where a move leads: drop, height and room."""
    room = "" if best.room is None else f". Smallest clearance {format_clearance(best.room, unit)}"
    return f"Drop {format_length(best.drop, unit)}, motor {up_words(best.row)}{room}.{_at_the_end(best, unit)}"


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
