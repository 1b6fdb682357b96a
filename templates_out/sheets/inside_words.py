"""What a person reads on the inside sheets: the words beside each exit, how to put the sheets up, the table of pilots."""

from __future__ import annotations

from typing import TYPE_CHECKING

from templates_out.drawing.fonts import writable
from templates_out.sheets import figures, pens
from templates_out.sheets.blocks import Item
from templates_out.sheets.seams import join_length

if TYPE_CHECKING:
    from geometry.design.units import Unit
    from templates_out.drawing.marks import Point
    from templates_out.sheets.hole_marks import Said
    from templates_out.sheets.on_inside import Inner, OnInside
    from templates_out.sheets.printer import Printing
    from templates_out.sheets.spread import Lying

GO_ON = 25.4 / 8  # mm: a pilot this near its place needs no second thought; common practice, no source
_LEVEL = 1.0  # mm: a floor that differs by less under the bolts is called by one depth
_HEAD = 10 * pens.PT


def exit_words(one: Inner, unit: Unit) -> Said:
    """Return what stands beside an exit."""
    hole = one.hole
    first, other = figures.both(abs(hole.v), unit).split(" (", 1)
    washer = figures.both(one.washer, unit).split(" (")[0]
    return [
        (hole.name.upper() + (f", {writable(hole.motor)}" if hole.motor else ""), pens.NAME, True),
        (figures.across(hole.u, unit), pens.LINES, False),
        (f"{first} {'below' if hole.v <= 0 else 'above'} inside edge ({other}", pens.LINES, False),
        (f"pilot inside the dots; washer {washer}{', cut flat' if one.cut else ''}", pens.LINES, False),
    ]


def blocks(
    inside: OnInside, lies: Lying, unit: Unit, reason: str | None, printing: Printing
) -> tuple[tuple[Item, ...], ...]:
    """Return the blocks of words that the sheets carry: how to put them up, and the table of pilots."""
    if reason is not None:
        return (_only_to_look_at(inside, lies, unit),)
    return _putting_it_up(inside, lies, unit, printing), pilot_table(inside, unit)


def _putting_it_up(inside: OnInside, lies: Lying, unit: Unit, printing: Printing) -> tuple[Item, ...]:
    texts = [f"Measure both bars on every sheet. {printing.if_off}"]
    if len(lies.plan.tiles) > 1:
        join = figures.unbroken(figures.check_figure(join_length(unit)[0], unit))
        texts.append(f"Cut the later sheets along their dashed edges, lay cross on cross, tape. Each join check: {join}.")
    texts += [
        "Fold the flap back. Fold on the inside top edge, centreline on the boat’s mark. PORT on your right.",
        f"Before drilling: {_lies_true(inside, lies, unit)} If not, stop: measure again, type it in.",
        "Hold washer, nut and socket on their outlines: is there room?",
        "Drill from outside, by the template. Then fill in the table.",
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


def pilot_table(inside: OnInside, unit: Unit) -> tuple[Item, ...]:
    """Return the table of pilots: how far off each came out, and what that means."""
    within = figures.unbroken(figures.check_figure(GO_ON, unit))
    dots = min((one.hole.final - one.hole.pilot) / 2 for one in inside.inner)
    if dots > GO_ON + 1e-6:
        rules = [f"Within {within}: go on.", "More, but inside the dots: stop, type it in, print again."]
    else:
        rules = ["Inside the dots: go on."]
    return (
        Item("Where each pilot came out", _HEAD, bold=True, before=0.0),
        Item("From the middle of its cross to the middle of the pilot:", pens.STEP),
        *(
            Item(_short(one), pens.STEP, before=3.4, blanks=("up / down", "port / starboard"))
            for one in inside.inner
        ),
        *(Item(rule, pens.STEP, bold=True, before=2.6 if index == 0 else 1.2) for index, rule in enumerate(rules)),
        Item("Outside the dots: plug it first.", pens.STEP, bold=True, before=1.2),
    )  # fmt: skip


def _short(one: Inner) -> str:
    return f"{one.hole.name}, {writable(one.hole.motor)}" if one.hole.motor else one.hole.name


def _only_to_look_at(inside: OnInside, lies: Lying, unit: Unit) -> tuple[Item, ...]:
    return (
        Item("Only to look at", _HEAD, bold=True, before=0.0),
        Item(f"Taped up, it still shows what was measured: {_lies_true(inside, lies, unit)}", pens.STEP),
        Item("Change or measure what the black band names, until the program calls the design clear or tight.", pens.STEP),
        Item("Then print again: the new sheets have another design number.", pens.STEP),
    )
