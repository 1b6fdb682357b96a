"""What a person reads on the inside sheets: the words next to each exit, how to put the sheets up, how to judge the pilots."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.doubt.pilot_circle import in_steps
from templates_out.drawing import sheet_figures as figures
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import writable
from templates_out.layout.blocks import Item
from templates_out.layout.seams import join_length

if TYPE_CHECKING:
    from geometry.design.units import Unit
    from templates_out.drawing.marks import Point
    from templates_out.drawing.printer import Printing
    from templates_out.faces.hole_marks import Said
    from templates_out.faces.on_inside import Inner, OnInside
    from templates_out.layout.spread import Lying

_LEVEL = 1.0  # mm: a floor that differs by less under the bolts is called by one depth
_HEAD = 10 * pens.PT


def exit_words(one: Inner, unit: Unit) -> Said:
    """Return the words next to an exit."""
    hole = one.hole
    first, other = figures.both(abs(hole.v), unit).split(" (", 1)
    washer = figures.both(one.washer, unit).split(" (")[0]
    return [
        (hole.name.upper() + (f", {writable(hole.motor)}" if hole.motor else ""), pens.NAME, True),
        (figures.across(hole.u, unit), pens.LINES, False),
        (f"{first} {'below' if hole.v <= 0 else 'above'} inside edge ({other}", pens.LINES, False),
        *_pilot_words(one, unit),
        (f"washer {washer}{', cut flat' if one.cut else ''}", pens.LINES, False),
    ]


def _pilot_words(one: Inner, unit: Unit) -> Said:
    """Return what an exit's words say of its pilot: a line, bold where there is to be none."""
    if one.hole.reused:
        return [(figures.opened(one.hole.final, unit), pens.LINES, False)]
    if one.pilot is not None:
        return [(f"pilot within the dots, {_within(one.pilot, unit)}", pens.LINES, False)]
    return [(f"no pilot: {too_little(one)}", pens.LINES, True)]


def too_little(one: Inner) -> str:
    """Return what to do first where an exit has no circle for its pilot."""
    if not one.measured:
        return "measure its washer’s room first"
    return "raise the bolts first" if one.hole.name.startswith("lower") else "move the bolts first"


def _within(radius: float, unit: Unit) -> str:
    return figures.unbroken(figures.both(in_steps(radius, unit), unit))


def blocks(
    inside: OnInside, lies: Lying, unit: Unit, reason: str | None, printing: Printing
) -> tuple[tuple[Item, ...], ...]:
    """Return the blocks of words that the sheets carry: how to put them up, and how to judge the pilots."""
    if reason is not None:
        return (_only_to_look_at(inside, lies, unit),)
    pilots = pilot_checks(inside, unit)
    return (_putting_it_up(inside, lies, unit, printing), *((pilots,) if pilots else ()))


def _putting_it_up(inside: OnInside, lies: Lying, unit: Unit, printing: Printing) -> tuple[Item, ...]:
    texts = [f"Measure both bars on every sheet. {printing.if_off}"]
    if len(lies.plan.tiles) > 1:
        join = figures.unbroken(figures.check_figure(join_length(unit)[0], unit))
        texts.append(f"Cut the later sheets along their dashed edges, lay cross on cross, tape. Each join check: {join}.")
    texts += [
        "Fold the flap back. Fold on the inside top edge, centreline on the boat’s mark. PORT on your right.",
        f"Before drilling: {_lies_true(inside, lies, unit)} If not, stop: measure again, type it in.",
        "Hold washer, nut and socket on their outlines: is there room? If not, stop.",
        "Drill from outside, by the template.",
    ]
    return (
        Item("Putting it up", _HEAD, bold=True, before=0.0),
        *(Item(text, pens.STEP, lead=f"{number}") for number, text in enumerate(texts, start=1)),
    )


def _lies_true(inside: OnInside, lies: Lying, unit: Unit) -> str:
    """Ask whether floor and flat land were measured true: what is drawn by its line, what lies below the paper by its depth."""
    (floor, floor_whole), (land, _) = (on_paper(runs, lies) for runs in (inside.face.floor, inside.face.land))
    asked = {
        (True, True): "do the floor and the flat land lie where they are drawn",
        (True, False): "does the floor lie where it is drawn",
        (False, True): "does the flat land lie where it is drawn",
    }.get((floor, land), "")
    if floor_whole or (asked and inside.floor_deep is None):
        return f"{asked}?"
    if inside.floor_deep is None:
        return "is the inner face free where washer, nut and socket are drawn?"
    deep = f"{_deep(inside.floor_deep, unit)} below the fold"
    if floor:
        return f"{asked}, and the floor under the bolts {deep}, in part lower than this paper shows?"
    also = f"{asked}, and the well floor" if asked else "does the well floor lie"
    return f"{also} {deep}, lower than this paper shows?"


def on_paper(runs: tuple[tuple[Point, ...], ...], lies: Lying) -> tuple[bool, bool]:
    """Tell whether any of these lines is on the paper, and whether all of them are."""
    heights = [y for run in runs for _, y in run]
    return any(y > lies.room[1] for y in heights), bool(heights) and min(heights) >= lies.room[1]


def _deep(deep: tuple[float, float], unit: Unit) -> str:
    low, high = (figures.unbroken(figures.check_figure(value, unit)) for value in deep)
    return low if deep[1] - deep[0] < _LEVEL else f"{low} to {high}"


def pilot_checks(inside: OnInside, unit: Unit) -> tuple[Item, ...]:
    """Return how each pilot is judged, with a box for each; nothing where every hole is reused."""
    new = [one for one in inside.inner if not one.hole.reused]
    if not new:
        return ()
    lacking = [one for one in new if one.pilot is None]
    if lacking:
        return (
            Item("Drill nothing yet", _HEAD, bold=True, before=0.0),
            *(Item(f"{_capital(_short(one))}: {too_little(one)}.", pens.STEP, bold=True) for one in lacking),
            Item("Too little room is left there for a pilot that is a little off.", pens.STEP),
        )
    return (
        Item("Where each pilot comes out", _HEAD, bold=True, before=0.0),
        Item("Drill one lower pilot, look inside, then the others:" if _lower(new) else "Look inside after each:", pens.STEP),
        *(
            Item(f"{_short(one)}: within {_within(one.pilot, unit)} of its cross, inside the dots", pens.STEP, lead="box")
            for one in new
            if one.pilot is not None
        ),
        Item("Inside its dots: tick it, go on.", pens.STEP, bold=True, before=2.6),
        Item("Outside: stop. Fill the pilot with epoxy. Drill no other hole.", pens.STEP, bold=True, before=1.2),
        Item("Then measure thickness, rake and floor again, type them in and print again.", pens.STEP, before=1.2),
    )


def _lower(new: list[Inner]) -> bool:
    """Say whether a lower hole is among these."""
    return any(one.hole.name.startswith("lower") for one in new)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _short(one: Inner) -> str:
    return f"{one.hole.name}, {writable(one.hole.motor)}" if one.hole.motor else one.hole.name


def _only_to_look_at(inside: OnInside, lies: Lying, unit: Unit) -> tuple[Item, ...]:
    return (
        Item("Only to look at", _HEAD, bold=True, before=0.0),
        Item(f"Taped up, it still shows what was measured: {_lies_true(inside, lies, unit)}", pens.STEP),
        Item("Change or measure what the band names, until the program says that the holes may be drilled.", pens.STEP),
        Item("Then print again: the new sheets have another design number.", pens.STEP),
    )
