"""The words of the inside sheets: next to each exit, how to put the sheets up, how to judge the pilots."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.drilling.pilot_circle import in_steps
from templates_out.drawing import sheet_figures as figures
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import writable
from templates_out.faces.hole_marks import first_words
from templates_out.layout.blocks import Item
from templates_out.layout.pilot_reading import pilot_to_read

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.units.units import Unit
    from templates_out.drawing.marks import Point
    from templates_out.drawing.printer import Printing
    from templates_out.faces.hole_marks import Drilling, Said
    from templates_out.faces.on_face import Hole
    from templates_out.faces.on_inside import Inner, OnInside
    from templates_out.layout.drilling_permission import Stamp
    from templates_out.layout.spread_on_sheets import SheetLayout

_LEVEL = 1.0  # mm: a floor that differs by less under the bolts is called by one depth
_HEAD = 10 * pens.PT


def exit_words(exit_: Inner, unit: Unit, drilling: Drilling = "all") -> Said:
    """Return the words next to an exit."""
    hole = exit_.hole
    washer = figures.both(exit_.washer, unit).split(" (")[0]
    return [
        (hole.name.upper() + (f", {writable(hole.motor)}" if hole.motor else ""), pens.NAME, True),
        (figures.across(hole.u, unit), pens.LINES, False),
        (_from_edge(hole, unit), pens.LINES, False),
        *_pilot_words(exit_, unit, drilling),
        (f"washer {washer}{', cut flat' if exit_.cut else ''}", pens.LINES, False),
    ]


def opening_words(opening: Hole, unit: Unit, *, drilled: bool, off_flat: bool) -> Said:
    """Return the words next to an opening for a cable or a hose; its place only, where nothing may be drilled.

    Args:
        off_flat: whether it does not come out wholly on the free inner face.
    """
    place: Said = [
        (f"Not for the motor: {writable(opening.name)}", pens.LINES, True),
        (figures.across(opening.u, unit), pens.LINES, False),
        (_from_edge(opening, unit), pens.LINES, False),
    ]
    if off_flat:
        place.append(("not wholly on the free inner face", pens.LINES, True))
    return [*place, (f"{figures.both(opening.final, unit)} comes out here", pens.LINES, False)] if drilled else place


def _from_edge(hole: Hole, unit: Unit) -> str:
    first, other = figures.both(abs(hole.v), unit).split(" (", 1)
    return f"{first} {'below' if hole.v <= 0 else 'above'} inside edge ({other}"


def _pilot_words(exit_: Inner, unit: Unit, drilling: Drilling) -> Said:
    """Return what an exit's words say of its pilot: a line, bold where there is to be none."""
    if drilling == "pilot":
        return [*first_words(exit_.hole), ("the pilot comes out here: measure from it", pens.LINES, True)]
    if drilling == "later":
        return [(figures.pilot_later(), pens.LINES, False)]
    if exit_.hole.reused:
        return [(figures.opened(exit_.hole.final, unit), pens.LINES, False)]
    if exit_.pilot is not None:
        within = f"pilot within the dots, {_within(exit_.pilot, unit)}"
        return [*first_words(exit_.hole), (within, pens.LINES, False)]
    return [(f"no pilot: {too_little(exit_)}", pens.LINES, True)]


def too_little(exit_: Inner) -> str:
    """Return what to do first where an exit has no circle for its pilot."""
    if not exit_.measured:
        return "measure its washer’s room first"
    return "raise the bolts first" if exit_.hole.name.startswith("lower") else "move the bolts first"


def _within(radius: float, unit: Unit) -> str:
    return figures.unbroken(figures.both(in_steps(radius, unit), unit))


def blocks(
    design: Design, inside: OnInside, layout: SheetLayout, stamped: Stamp | None, printing: Printing
) -> tuple[tuple[Item, ...], ...]:
    """Return the blocks of words that the sheets carry: how to put them up, and how to judge the pilots."""
    unit = design.units
    if stamped is not None and stamped.pilot is not None:
        return _putting_it_up(inside, layout, unit, printing), pilot_to_read(design, stamped.pilot)
    if stamped is not None:
        return (_only_to_look_at(inside, layout, unit),)
    pilots = pilot_checks(inside, unit)
    return (_putting_it_up(inside, layout, unit, printing), *((pilots,) if pilots else ()))


def _putting_it_up(inside: OnInside, layout: SheetLayout, unit: Unit, printing: Printing) -> tuple[Item, ...]:
    texts = [f"Measure both bars on every sheet. {printing.if_off}"]
    if len(layout.plan.tiles) > 1:
        texts.append("Cut the later sheets along their dashed edges. Lay cross on cross. Tape. Each join check is as printed.")
    texts += [
        "Fold the flap back. Lay the fold on the inside top edge, the centreline on the boat’s mark. PORT is on your right.",
        f"Before drilling, look: {_measured_right(inside, layout, unit)} If not, stop. Measure again, then type it in.",
        "Hold washer, nut and socket on their outlines. If one has no room, stop.",
        "Drill from outside, by the template.",
    ]
    return (
        Item("Put it up", _HEAD, bold=True, before=0.0),
        *(Item(text, pens.STEP, lead=f"{number}") for number, text in enumerate(texts, start=1)),
    )


def _measured_right(inside: OnInside, layout: SheetLayout, unit: Unit) -> str:
    """Ask if floor and flat land were measured right: by their lines on the paper, or by the depth of what is below it."""
    (floor, floor_whole), (land, _) = (on_paper(runs, layout) for runs in (inside.face.floor, inside.face.land))
    asked = {
        (True, True): "are the floor and the flat land where they are drawn",
        (True, False): "is the floor where it is drawn",
        (False, True): "is the flat land where it is drawn",
    }.get((floor, land), "")
    if floor_whole or (asked and inside.floor_deep is None):
        return f"{asked}?"
    if inside.floor_deep is None:
        return "is the inner face free where washer, nut and socket are drawn?"
    deep = f"{_deep(inside.floor_deep, unit)} below the fold"
    if floor:
        return f"{asked}, and is it {deep} under the bolts, in part lower than this paper shows?"
    also = f"{asked}, and is the well floor" if asked else "is the well floor"
    return f"{also} {deep}, lower than this paper shows?"


def on_paper(runs: tuple[tuple[Point, ...], ...], layout: SheetLayout) -> tuple[bool, bool]:
    """Say whether any of these lines is on the paper, and whether all of them are."""
    heights = [y for run in runs for _, y in run]
    return any(y > layout.room[1] for y in heights), bool(heights) and min(heights) >= layout.room[1]


def _deep(deep: tuple[float, float], unit: Unit) -> str:
    low, high = (figures.unbroken(figures.both(value, unit)) for value in deep)
    return low if deep[1] - deep[0] < _LEVEL else f"{low} to {high}"


def pilot_checks(inside: OnInside, unit: Unit) -> tuple[Item, ...]:
    """Return how each pilot is judged, with a box for each; nothing where every hole is reused."""
    new = [exit_ for exit_ in inside.inner if not exit_.hole.reused]
    if not new:
        return ()
    lacking = [exit_ for exit_ in new if exit_.pilot is None]
    if lacking:
        return (
            Item("Drill nothing yet", _HEAD, bold=True, before=0.0),
            *(Item(f"{_capital(_short(exit_))}: {too_little(exit_)}.", pens.STEP, bold=True) for exit_ in lacking),
            Item("A pilot that is a little off has too little room there.", pens.STEP),
        )
    first = "Drill one lower pilot. Look inside. Then drill the others." if _lower(new) else "Look inside after each pilot."
    return (
        Item("Where each pilot comes out", _HEAD, bold=True, before=0.0),
        Item(first, pens.STEP),
        *(
            Item(
                f"{_capital(_short(exit_))}: within {_within(exit_.pilot, unit)} of its cross, inside the dots.",
                pens.STEP, lead="box",
            )
            for exit_ in new
            if exit_.pilot is not None
        ),
        Item("If it is inside its dots, tick it and go on.", pens.STEP, bold=True, before=2.6),
        Item("If it is outside, stop. Fill the pilot with epoxy. Drill no other hole.", pens.STEP, bold=True, before=1.2),
        Item("Then measure thickness, rake and floor again. Type them in, then print again.", pens.STEP, before=1.2),
    )


def _lower(new: list[Inner]) -> bool:
    """Say whether a lower hole is among these."""
    return any(exit_.hole.name.startswith("lower") for exit_ in new)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _short(exit_: Inner) -> str:
    return f"{exit_.hole.name}, {writable(exit_.hole.motor)}" if exit_.hole.motor else exit_.hole.name


def _only_to_look_at(inside: OnInside, layout: SheetLayout, unit: Unit) -> tuple[Item, ...]:
    return (
        Item("Only to look at", _HEAD, bold=True, before=0.0),
        Item(f"You may tape it up to check what was measured: {_measured_right(inside, layout, unit)}", pens.STEP),
        Item("Change or measure what the band names. Go on until the program says that you may drill.", pens.STEP),
        Item("Then print again. The new sheets have another design number.", pens.STEP),
    )
