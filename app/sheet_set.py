"""The sheets to be made, as values: what is chosen, and what comes of it. No Qt, no disk."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from app.printing import usual_paper
from geometry.design.units import Unit, format_length, parse_length
from geometry.errors import OwnerError

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from geometry.design.whole import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page
    from templates_out.sheets.check_lines import Check
    from templates_out.sheets.tiles import Plan

MARGIN = 6.35  # mm, a quarter inch: what most printers leave; common practice, no source
_WIDEST = 38.1  # mm
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


class Wish(msgspec.Struct, frozen=True):
    """What is to be printed, and on what.

    Attributes:
        paper: a name of the table of papers. turned: "portrait", "landscape", or None for fewer sheets.
        margin: what the printer leaves bare along each edge [mm].
        across, up: what the bars of sheet A read on a print made before [mm]; None: not measured.
        inside, shop, coupons, gauge, plate, measuring: which sheets are made as well; the template always is.
    """

    paper: str
    turned: str | None = None
    margin: float = MARGIN
    across: float | None = None
    up: float | None = None
    inside: bool = True
    shop: bool = True
    coupons: bool = False
    gauge: bool = False
    plate: bool = False
    measuring: bool = False


SHEETS = {
    "template": "Template", "inside": "Inside sheet", "shop": "Shop sheet", "coupons": "Coupons",
    "gauge": "Drill-angle gauge", "plate": "Backing plate", "measuring": "Measuring sheet",
}  # fmt: skip
"""Every kind of sheet and its name, in the order in which they are printed."""


class Group(msgspec.Struct, frozen=True):
    """One kind of sheet: its title, how many lie beside each other, and how many there are."""

    key: str
    title: str
    columns: int
    count: int


class SheetSet(msgspec.Struct, frozen=True):
    """The sheets of a design: how the template lies, what to check across its seams, and all pages in order."""

    checked: Checked
    wish: Wish
    plan: Plan
    bars: tuple[float, float]
    checks: tuple[Check, ...]
    groups: tuple[Group, ...]
    pages: tuple[Page, ...]


def first_wish(design: Design) -> Wish:
    """Return what is usual where lengths are measured as in ``design``."""
    return Wish(usual_paper(design))


def sheet_set(checked: Checked, wish: Wish, date: datetime.date) -> SheetSet:
    """Return the sheets of a checked design.

    Raises:
        OwnerError: no bolts, a place not measured, a paper too small, or bars that no printer would print.
    """
    from templates_out.sheets.check_lines import checks
    from templates_out.sheets.on_face import Stretch, on_face
    from templates_out.sheets.template import bar_lengths, template_set

    design = checked.design
    true = bar_lengths(design, checked, wish.paper, wish.margin, wish.turned)
    bars = None if wish.across is None and wish.up is None else (wish.across or true[0], wish.up or true[1])
    plan, template = template_set(design, checked, wish.paper, wish.margin, bars, date, wish.turned)
    pages, groups = list(template), [Group("template", "Template, laid as it is taped", plan.columns, len(template))]
    for key, made in _others(checked, wish, bars, date):
        pages += made
        if made:
            columns = max(plan.columns, 2) if key == "inside" else min(4, max(2, len(made)))
            groups.append(Group(key, SHEETS[key], columns, len(made)))
    found = checks(on_face(design, Stretch()).holes)
    return SheetSet(checked, wish, plan, true, found, tuple(groups), tuple(pages))


def _others(
    checked: Checked, wish: Wish, bars: tuple[float, float] | None, date: datetime.date
) -> Iterator[tuple[str, tuple[Page, ...]]]:
    """Yield each kind of sheet that is wished for beside the template, with its pages."""
    from templates_out.sheets.coupons import coupon_pages
    from templates_out.sheets.gauge import gauge_pages
    from templates_out.sheets.inside import inside_pages
    from templates_out.sheets.measuring import measuring_pages
    from templates_out.sheets.plate import plate_pages
    from templates_out.sheets.shop import shop_pages
    from templates_out.sheets.template import outside

    design = checked.design
    reading = _for_reading(wish.paper, design)
    if wish.inside:
        yield "inside", inside_pages(design, checked, wish.paper, wish.margin, date, bars, wish.turned)
    if wish.shop:
        yield "shop", shop_pages(checked, date, paper=reading)
    if wish.coupons or wish.gauge:
        stretch = outside(design, checked, wish.paper, wish.margin, bars, wish.turned)[1]
        if wish.coupons:
            yield "coupons", coupon_pages(design, reading, wish.margin, date, stretch)
        if wish.gauge:
            yield "gauge", gauge_pages(design, reading, wish.margin, date, stretch)
    if wish.plate and has_plate(design):
        yield "plate", plate_pages(design, checked, wish.paper, wish.margin, date, bars)
    if wish.measuring:
        yield "measuring", measuring_pages(design, date, paper=reading)


def has_plate(design: Design) -> bool:
    """Tell whether there is a backing plate to be made."""
    pairs = ((mount.upper_hardware, mount.lower_hardware) for mount in design.mounts)
    return any(hardware is not None and hardware.backing_plate is not None for pair in pairs for hardware in pair)


def _for_reading(paper: str, design: Design) -> str:
    """The shop sheet is read, not laid on the boat: it takes a page that a binder takes."""
    return paper if paper in ("letter", "legal", "a4") else usual_paper(design)


def plan_words(plan: Plan) -> str:
    """Say how the pages lie: "Page plan: four pages, two across"."""
    count, columns = len(plan.tiles), plan.columns
    if count == 1:
        return "Page plan: one page"
    return f"Page plan: {in_words(count)} pages, {in_words(columns)} across"


def reason_words(found: SheetSet) -> str:
    """Say why the planner takes the sheets that it takes."""
    plan, unit = found.plan, found.checked.design.units
    size = (
        f"{format_length(plan.width, unit, unit_word=False)} by {format_length(plan.height, unit, unit_word=False)}"
        f" {'inches' if unit == 'in' else 'mm'}"
    )
    count = len(plan.tiles)
    if count == 1:
        return f"{size}. One page holds every hole with its cross."
    way = "this way takes fewest" if found.wish.turned is None else "turned as you chose"
    return f"{size}. {in_words(count).capitalize()} pages, {way}; no seam runs near a hole or the centreline."


def taped_words(found: SheetSet) -> str:
    """Say what to measure once the pages are taped."""
    unit = found.checked.design.units
    said = []
    for name, words in (("upper pair", "upper to upper"), ("lower pair", "lower to lower"), ("diagonal", "both diagonals")):
        true = next((check.true for check in found.checks if check.name == name), None)
        if true is not None:
            said.append(f"{words} {format_length(true, unit, denominator=32)}")
    return f"Measure {', '.join(said)}." if said else "Measure every line between holes."


def in_words(count: int) -> str:
    """Return a small number in words."""
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def margin_of(text: str, units: Unit) -> float:
    """Return a printer's bare edge [mm].

    Raises:
        OwnerError: it is no length, or leaves nothing of the paper.
    """
    value = parse_length(text, units)
    if not 0 <= value <= _WIDEST:
        raise OwnerError("A printer leaves between nothing and 1 1/2 in bare. Look at the edge of a full page that it printed.")
    return value
