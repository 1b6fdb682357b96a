"""The sheets to be made, as values: what is chosen, and what comes of it. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from app.document.settings import Printer, printer, remember_printer
from app.printing.print_jobs import taken_words, usual_paper
from geometry.design.hole_words import number
from geometry.design.units import Unit, format_length, parse_length
from geometry.errors import OwnerError
from templates_out.drawing.printer import MARGIN, MOST_OFF, Correction, Printing, Stretch, plain, refuse_uncorrected

if TYPE_CHECKING:
    import datetime
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page
    from templates_out.faces.check_lines import Check
    from templates_out.layout.tiles import Plan

_WIDEST = 38.1  # mm


class Wish(msgspec.Struct, frozen=True):
    """What is to be printed, and on what.

    Attributes:
        paper: a name of the table of papers. turned: "portrait", "landscape", or None for fewer sheets.
        margin: what the printer leaves bare along each edge [mm].
        across, up: what the bars of sheet A read on the last print [mm]; None: not measured.
        printer: its name, "" where it has none. before: what the last print was corrected by; None: by nothing.
        correct: whether that correction is taken. known: names of printers that something is kept of.
        template, inside, shop, coupons, gauge, plate, measuring, bars: which sheets are made.
    """

    paper: str
    turned: str | None = None
    margin: float = MARGIN
    across: float | None = None
    up: float | None = None
    printer: str = ""
    before: Correction | None = None
    correct: bool = True
    known: tuple[str, ...] = ()
    template: bool = True
    inside: bool = True
    shop: bool = True
    coupons: bool = False
    gauge: bool = False
    plate: bool = False
    measuring: bool = False
    bars: bool = False

    @property
    def kinds(self) -> tuple[str, ...]:
        """Which sheets are made, in the order in which they are printed."""
        return tuple(key for key in SHEETS if getattr(self, key))


SHEETS = {
    "template": "Template", "inside": "Inside sheet", "shop": "Shop sheet", "coupons": "Coupons",
    "gauge": "Drill-angle gauge", "plate": "Backing plate", "measuring": "Measuring sheet", "bars": "Bars and a grid",
}  # fmt: skip
"""Every kind of sheet and its name, in the order in which they are printed."""

FULL_SCALE = ("template", "inside", "coupons", "gauge", "plate", "bars")
DRAWN = ("template", "inside", "plate")
"""What can be had as SVG as well."""


class Group(msgspec.Struct, frozen=True):
    """One kind of sheet: its title, how many lie beside each other, and how many there are."""

    key: str
    title: str
    columns: int
    count: int


class SheetSet(msgspec.Struct, frozen=True):
    """The sheets of a design: how the template lies, its bars, what to check across its seams, and all pages in order.

    Attributes:
        bars: how long those of sheet A say they are, across and up [mm].
        correction: what the full-scale sheets are corrected by; corrected: that in words, "" for nothing.
    """

    checked: Checked
    wish: Wish
    plan: Plan
    bars: tuple[float, float]
    correction: Correction
    corrected: str
    checks: tuple[Check, ...]
    groups: tuple[Group, ...]
    pages: tuple[Page, ...]


def first_wish(design: Design) -> Wish:
    """Return what is usual where lengths are measured as in ``design``."""
    return Wish(usual_paper(design))


def kept(name: str, paper: str) -> Correction | None:
    """Return what is kept of a printer on a paper; nothing of one without a name.

    Raises:
        OwnerError: no printer is so far off; the person's settings were damaged or changed by hand.
    """
    found = printer(name, paper) if name else None
    if found is None:
        return None
    if not _may_be(found):
        raise OwnerError(
            f'What is kept of "{found.name}" on {paper} is not within {MOST_OFF * 100:.0f} %, as every printer is. '
            "Measure the bars of a print without a correction again."
        )
    return Correction(found.short, found.long, found.unsure, found.read)


def _may_be(found: Printer) -> bool:
    """Tell whether a printer may be so far off, and so surely; allows 1e-6."""
    factors = all(factor > 0.0 and abs(1.0 / factor - 1.0) <= MOST_OFF + 1e-6 for factor in (found.short, found.long))
    return factors and all(0.0 <= share <= MOST_OFF for share in found.unsure)


def keep(name: str, paper: str, found: Correction) -> None:
    """Keep what a printer is off on a paper, and what its bars read."""
    remember_printer(Printer(name, paper, found.short, found.long, found.unsure, found.read))


def sheet_set(checked: Checked, wish: Wish, date: datetime.date) -> SheetSet:
    """Return the sheets of a checked design: see ``making``."""
    found = None
    for told in making(checked, wish, date):
        found = told if isinstance(told, SheetSet) else found
    if found is None:
        raise AssertionError("the last thing told is the sheets")
    return found


def making(checked: Checked, wish: Wish, date: datetime.date) -> Iterator[str | SheetSet]:
    """Make the sheets of a checked design, kind by kind: yield the name of the one under way, and all of them at last.

    Raises:
        OwnerError: nothing is chosen, no bolts, a place not measured, a paper too small, bars that no printer would print,
            or a correction left out that is known to be needed.
    """
    from geometry.doubt.spreads import with_spreads
    from templates_out.faces.check_lines import checks
    from templates_out.faces.on_face import on_face
    from templates_out.pages.template.template_pages import bar_lengths, template_lying

    if not wish.kinds:
        raise OwnerError("No sheet is chosen. Choose at least one.")
    checked = with_spreads(checked)  # the sheets wait for the chances
    printing = _printing(checked, wish, date)
    lies = template_lying(checked, printing)
    pages: list[Page] = []
    groups: list[Group] = []
    for key, make in _makers(checked, wish, printing):
        yield SHEETS[key]
        made = make()
        pages += made
        if made:
            columns = lies.plan.columns if key == "template" else min(4, max(2, len(made)))
            if key == "inside":
                columns = max(lies.plan.columns, 2)
            title = "Template, laid as it is taped" if key == "template" else SHEETS[key]
            groups.append(Group(key, title, columns, len(made)))
    read = wish.across is not None or wish.up is not None
    taken = taken_words(checked, printing, _before(wish)) if read and _before(wish) != Correction() else ""
    yield SheetSet(
        checked, wish, lies.plan, bar_lengths(checked, printing), printing.correction, f"{lies.stretch.words} {taken}".strip(),
        checks(on_face(checked.design, Stretch()).holes), tuple(groups), tuple(pages),
    )  # fmt: skip


def _printing(checked: Checked, wish: Wish, date: datetime.date) -> Printing:
    """Return how the full-scale sheets are printed.

    Raises:
        OwnerError: see ``sheet_set``.
    """
    from templates_out.pages.template.template_pages import correction

    printing = Printing(date, wish.paper, wish.margin, wish.turned, _before(wish), wish.printer)
    printing = replace(printing, correction=correction(checked, printing, (wish.across, wish.up)))
    if printing.correction == Correction() and set(wish.kinds) & (set(FULL_SCALE) - {"bars"}):
        refuse_uncorrected(wish.before or Correction(), wish.printer)
    return printing


def _before(wish: Wish) -> Correction:
    """Return what the print was corrected by whose bars were read: by nothing, where the correction is left out."""
    return wish.before if wish.correct and wish.before is not None else Correction()


def _makers(
    checked: Checked, wish: Wish, printing: Printing
) -> Iterator[tuple[str, Callable[[], tuple[Page, ...]]]]:
    """Yield each kind of sheet that is wished for, with what makes its pages."""
    from templates_out.pages.bars.bars_page import bars_page
    from templates_out.pages.coupons.coupon_pages import coupon_pages
    from templates_out.pages.gauge.gauge_pages import gauge_pages
    from templates_out.pages.inside.inside_pages import inside_pages
    from templates_out.pages.measuring.measuring_pages import measuring_pages
    from templates_out.pages.plate.plate_pages import plate_pages
    from templates_out.pages.shop.shop_pages import shop_pages
    from templates_out.pages.template.template_pages import template_pages

    design, date = checked.design, printing.date
    reading = _for_reading(wish.paper, design)
    # A correction holds for the paper that it was measured on.
    upright = replace(printing if reading == wish.paper else plain(printing), paper=reading)
    makers: dict[str, Callable[[], tuple[Page, ...]]] = {
        "template": lambda: template_pages(checked, printing),
        "inside": lambda: inside_pages(checked, printing),
        "shop": lambda: shop_pages(checked, date, paper=reading),
        "coupons": lambda: coupon_pages(design, upright),
        "gauge": lambda: gauge_pages(checked, upright),
        "plate": lambda: plate_pages(checked, printing) if has_plate(design) else (),
        "measuring": lambda: measuring_pages(design, date, paper=reading),
        "bars": lambda: (bars_page(checked, printing),),
    }
    for key in wish.kinds:
        yield key, makers[key]


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
    return f"Page plan: {number(count)} pages, {number(columns)} across"


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
    return f"{size}. {number(count).capitalize()} pages, {way}; no seam runs near a hole or the centreline."


def taped_words(found: SheetSet) -> str:
    """Say what to measure once the pages are taped."""
    unit = found.checked.design.units
    said = []
    for name, words in (("upper pair", "upper to upper"), ("lower pair", "lower to lower"), ("diagonal", "both diagonals")):
        true = next((check.true for check in found.checks if check.name == name), None)
        if true is not None:
            said.append(f"{words} {format_length(true, unit, denominator=32)}")
    return f"Measure {', '.join(said)}." if said else "Measure every line between holes."


def margin_of(text: str, units: Unit) -> float:
    """Return a printer's bare edge [mm].

    Raises:
        OwnerError: it is no length, or leaves nothing of the paper.
    """
    value = parse_length(text, units)
    if not 0 <= value <= _WIDEST:
        raise OwnerError("A printer leaves between nothing and 1 1/2 in bare. Look at the edge of a full page that it printed.")
    return value
