"""The sheets to be made, as values: what is chosen, and what comes of it. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from app.document.settings import Printer, printer, remember_printer
from app.printing.print_jobs import taken_words
from app.printing.sheet_kinds import SHEET_KINDS, on_paper, usual_paper
from geometry.design.hole_words import number
from geometry.design.units import Unit, format_length, parse_length
from geometry.errors import OwnerError
from templates_out.drawing.printer import MARGIN, MOST_OFF, Correction, Printing, Stretch, refuse_uncorrected

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from app.printing.sheet_kinds import SheetKind
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
        kinds: which sheets are made, by their keys.
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
    kinds: tuple[str, ...] = tuple(kind.key for kind in SHEET_KINDS.values() if kind.chosen)


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


def with_kind(wish: Wish, key: str, *, on: bool) -> Wish:
    """Return the wish with one kind of sheet, or without it."""
    return replace(wish, kinds=tuple(kind for kind in SHEET_KINDS if (on if kind == key else kind in wish.kinds)))


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
    for kind in (kind for kind in SHEET_KINDS.values() if kind.key in wish.kinds):
        yield kind.title
        made = kind.pages(checked, on_paper(kind, checked.design, printing)) if kind.there(checked.design) else ()
        pages += made
        if made:
            groups.append(_group(kind, len(made), lies.plan.columns))
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
    kinds = [SHEET_KINDS[key] for key in wish.kinds]
    if printing.correction == Correction() and any(kind.full_scale and not kind.finds_correction for kind in kinds):
        refuse_uncorrected(wish.before or Correction(), wish.printer)
    return printing


def _before(wish: Wish) -> Correction:
    """Return what the print was corrected by whose bars were read: by nothing, where the correction is left out."""
    return wish.before if wish.correct and wish.before is not None else Correction()


def _group(kind: SheetKind, count: int, columns: int) -> Group:
    """Return how ``count`` pages of a kind are shown, where the template has so many columns."""
    match kind.order:
        case "as taped":
            return Group(kind.key, f"{kind.title}, laid as it is taped", columns, count)
        case "like the template":
            return Group(kind.key, kind.title, max(columns, 2), count)
        case "in a row":
            return Group(kind.key, kind.title, min(4, max(2, count)), count)


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
