"""What is next: a reading while one is missing, a cure while it fouls, a guess to measure, and then the sheets."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from app.sight import Sight
from app.words.card_words import exactness, origin, section_of, up_words
from app.words.ladder_words import USUAL_PLATE
from geometry.design.edits import hang
from geometry.design.measures import measures
from geometry.design.sense import known
from geometry.design.units import format_clearance, format_length

if TYPE_CHECKING:
    from collections.abc import Collection

    from geometry.decide.ladder import Rung
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked, Finding

_MOTOR, _DROP_AND_ROW = 5, 7  # the sections of the motor, and where a cure shows


_EASED = {"clamp": "Take less torque", "pressure": "Ease the core", "power": "Mind the boat’s plate"}  # no row or drop helps


class Next(msgspec.Struct, frozen=True):
    """The next step.

    Attributes:
        title: one line. why: one or two more.
        key: the measure to take; "" for none.
        button: the word on the button; "" for none. label, design: the edit that it makes.
    """

    title: str
    why: str
    key: str = ""
    button: str = ""
    label: str = ""
    design: Design | None = None


def first_sight(checked: Checked) -> Sight:
    """Return what to look at when a boat comes on the desk: the section of the reading to take, else drop and row.

    On a blank sheet the outline's tool is in hand.
    """
    key = next_step(checked, 0, None).key
    drawn = known(checked.design.transom.outline) is not None
    return Sight(section=section_of(checked.design, key) or _DROP_AND_ROW, tool="" if drawn else "outline")


def next_step(checked: Checked, mount: int, rungs: tuple[Rung, ...] | None) -> Next:
    """Return the next step; ``rungs`` are the ladder of the motor in hand, None while they are being reckoned."""
    design = checked.design
    if not design.mounts:
        unknown = {one.key for one in measures(design) if one.section < _MOTOR and origin(design, one) == "not known"}
        if unknown:
            return _reading(design, unknown)
        return Next("Hang a motor", "Choose its bracket on the card; it then lies on the drawing.", "choice.bracket")
    if checked.verdict == "unknown":
        lacking = {finding.missing for finding in checked.findings if finding.state == "unknown"}
        return _reading(design, lacking)
    if checked.verdict == "fouled" and not _mostly_guessed(checked.findings[0]):
        return _cure(checked, mount, rungs)
    if checked.guesses:
        return _reading(design, checked.guesses)
    return Next("Make the sheets, print page 1", "Measure both bars on it before you mark anything.")


def _mostly_guessed(finding: Finding) -> bool:
    """Tell whether readings may well change what is fouled: more than half of what it rests on is a guess."""
    return 2 * len(finding.guesses) > len(finding.rests)


def _reading(design: Design, keys: Collection[str | None]) -> Next:
    """The first of the readings in walking order."""
    found = next((one for one in measures(design) if one.key in keys), None)
    if found is None:
        return Next("Something is not known yet", "The findings say what.")
    name = found.name[0].lower() + found.name[1:]
    return Next(f"Measure the {name}", f"{found.how} {exactness(found, design)}".strip(), found.key)


def _cure(checked: Checked, mount: int, rungs: tuple[Rung, ...] | None) -> Next:
    worst = checked.findings[0]
    fouled = [finding for finding in checked.findings if finding.state == "fouled"]
    if all(finding.check in _EASED for finding in fouled):
        return Next(_EASED[worst.check], worst.remedy or worst.text)
    if rungs is None:
        return Next("Looking at the ladder", "Every row and drop is tried.")
    design = checked.design
    best = best_rung(design, mount, rungs)
    if best is None:
        return Next("No row or drop clears", worst.remedy or "Read the well again, or take smaller washers.")
    present = design.mounts[mount].drop
    unit = design.units
    place = f"motor {up_words(best.row)}" if best.row else "motor lowest"
    room = "" if best.room is None else f": clear by {format_clearance(best.room, unit)}"
    drop = format_length(best.drop, unit)
    hung = hang(design, mount, best.row, best.drop)
    label = f"Drop to {drop}"
    why = f"Drop {drop}, {place}{room}."
    if present is None or abs(present - best.drop) < 1e-6:
        return Next(f"Hang the motor {up_words(best.row)}", why, button="Hang it", label=f"Row {best.row + 1}", design=hung)
    by = format_length(abs(present - best.drop), unit)
    verb = "Raise" if best.drop < present else "Lower"
    return Next(f"{verb} the lower pair by {by}", why, button=f"{verb} it", label=label, design=hung)


def best_rung(design: Design, mount: int, rungs: tuple[Rung, ...]) -> Rung | None:
    """Return the rung that clears with the least change of the drop, then the plate nearest its usual height."""
    present = design.mounts[mount].drop or 0.0
    able = [rung for rung in rungs if rung.state in ("clear", "tight") and rung.row in rung.rows_left]

    def away(rung: Rung) -> float:
        plate = rung.plate_height
        return 0.0 if plate is None else max(USUAL_PLATE[0] - plate, 0.0, plate - USUAL_PLATE[1])

    return min(able, key=lambda rung: (round(abs(rung.drop - present), 6), round(away(rung), 3), rung.row), default=None)
