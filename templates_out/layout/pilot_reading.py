"""The words for the one pilot that a sheet is for: where it is measured from and to, with a blank for the distance."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import NonsenseError
from geometry.readings.pilots import end_words, may_move
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.solving.next_pilot import next_pilot
from geometry.units.units import format_clearance, format_length, format_reading
from templates_out.drawing import sheet_figures as figures
from templates_out.drawing import sheet_pens as pens
from templates_out.layout.blocks import Item
from templates_out.layout.drilling_permission import DO_NOT_DRILL_ON

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.drillable import FirstPilot
    from geometry.units.units import Unit

_HEAD = 10 * pens.PT


class PilotWords(msgspec.Struct, frozen=True):
    """The words for a pilot that is to be drilled and read.

    Attributes:
        drill: what to drill. read: how to measure. blank: the name of the distance, before its blank. unit: of the blank.
        should_be: what it should be, and how far off it may be; "" where that is not known.
        then: what to do with it. final: how far the final hole may still move. off: what to do where it is off.
    """

    drill: str
    read: str
    blank: str
    unit: Unit
    should_be: str
    then: str
    final: str
    off: str


def pilot_words(design: Design, pilot: FirstPilot) -> PilotWords:
    """Return what is said of a pilot that is to be drilled and read."""
    unit, hole = design.units, pilot.hole
    whose = f" of {design.mounts[pilot.mount].name}" if len(design.mounts) > 1 else ""
    size = "1/8 in" if unit == "in" else "3 mm"
    return PilotWords(
        f"Drill one pilot, {size}, at the {hole} hole{whose}. Drill no other hole.",
        _how(design, pilot),
        f"{hole.capitalize()} pilot to {end_words(pilot.to)}", unit, _should_be(design, pilot),
        "Mark the drill at the face as it breaks through. How deep it went is the thickness there. Type in both. Then print "
        "again.",
        _final(design, pilot),
        "If it is off by more, read it again, without a look at the first figure. If it is still off, stop. Take the floor "
        "from the pilot.",
    )  # fmt: skip


def pilot_to_read(design: Design, pilot: FirstPilot) -> tuple[Item, ...]:
    """Return the same as paragraphs, with the blank."""
    said = pilot_words(design, pilot)
    return (
        Item("The one pilot", _HEAD, bold=True, before=3.0),
        Item(said.drill, pens.STEP, bold=True),
        Item(said.read, pens.STEP),
        Item(said.blank, pens.STEP, bold=True, blanks=(said.unit,), before=2.4),
        *(Item(text, pens.STEP) for text in (said.should_be, said.off, said.then, said.final) if text),
        Item(DO_NOT_DRILL_ON, pens.QUESTION, bold=True, before=2.2),
    )


def _how(design: Design, pilot: FirstPilot) -> str:
    match pilot.to:
        case "washer mark":
            try:
                washer = next_pilot(design, pilot.mount, pilot.hole, pilot.to).washer
            except (Unmeasured, NonsenseError):
                washer = None
            which = "the washer" if washer is None else f"a washer {_size(washer, design.units)} across"
            return (f"Inside, below the pilot, slide {which} down until it rocks. Mark its middle. Measure down from the "
                    "pilot’s middle to the mark, along the face. Minus is a mark above the pilot.")  # fmt: skip
        case "floor":
            return ("Inside, lay a straightedge on the flat floor, up to the face. Measure down from the pilot’s middle to "
                    "it, along the face.")  # fmt: skip
        case "wall":
            return "Inside, measure from the pilot’s middle level across to the well’s side, along a straightedge on it."
        case "old hole":
            return "Inside, measure from the pilot’s middle to the middle of the nearest old hole."
        case "block":
            return "Inside, measure from the pilot’s middle to the nearest edge of the part in the way."


def _should_be(design: Design, pilot: FirstPilot) -> str:
    try:
        wanted = next_pilot(design, pilot.mount, pilot.hole, pilot.to)
    except (Unmeasured, NonsenseError):
        return ""
    within = figures.unbroken(format_reading(wanted.most, design.units))
    return f"It should be {figures.unbroken(figures.both(wanted.expected, design.units))}, within {within}."


def _final(design: Design, pilot: FirstPilot) -> str:
    bolt = next((bolt for bolt in bolts(design) if (bolt.mount_index, bolt.name) == (pilot.mount, pilot.hole)), None)
    hole = None if bolt is None else bolt.hardware.hole
    if not hole:
        return ""
    most = figures.unbroken(format_clearance(may_move(hole), design.units))
    return f"The final hole may then still move up to {most} and take the pilot away."


def _size(mm: float, unit: Unit) -> str:
    return figures.unbroken(format_length(mm, unit, denominator=64, style="paper"))
