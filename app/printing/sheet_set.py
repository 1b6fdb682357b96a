"""The print options, and the sheets that come of them, as values. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from app.document.settings import Printer, printer, remember_printer
from app.printing.print_jobs import taken_words
from app.printing.sheet_kinds import SHEET_KINDS, on_paper, usual_paper
from geometry.errors import OwnerError
from geometry.units.height_words import number
from geometry.units.units import Unit, format_length, parse_length
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


class PrintOptions(msgspec.Struct, frozen=True):
    """The chosen sheets, paper and corrections.

    Attributes:
        paper: a name of the table of papers. turned: "portrait", "landscape", or None for fewer sheets.
        margin: the printer's unprintable margin along each edge [mm].
        across, up: the lengths of the bars of sheet A on the last print [mm]; None: not measured.
        printer: its name, "" where it has none. before: the correction of the last print, None without one.
        correct: whether that correction is used. known: names of printers with a saved correction.
        kinds: the keys of the sheets to make.
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
    """One kind of sheet: its title, how many pages are side by side, and how many there are."""

    key: str
    title: str
    columns: int
    count: int


class SheetSet(msgspec.Struct, frozen=True):
    """The sheets of a design: the template's page plan and bars, the lines to check across its seams, and all pages in order.

    Attributes:
        bars: the true lengths of those of sheet A, across and up [mm].
        correction: of the full-scale sheets; corrected: the same in words, "" for none.
    """

    checked: Checked
    options: PrintOptions
    plan: Plan
    bars: tuple[float, float]
    correction: Correction
    corrected: str
    checks: tuple[Check, ...]
    groups: tuple[Group, ...]
    pages: tuple[Page, ...]


def usual_options(design: Design) -> PrintOptions:
    """Return the usual options for a design's unit of length."""
    return PrintOptions(usual_paper(design))


def with_kind(options: PrintOptions, key: str, *, on: bool) -> PrintOptions:
    """Return the options with one kind of sheet, or without it."""
    return replace(options, kinds=tuple(kind for kind in SHEET_KINDS if (on if kind == key else kind in options.kinds)))


def kept(name: str, paper: str) -> Correction | None:
    """Return the saved correction of a printer on a paper; None for a printer without a name.

    Raises:
        OwnerError: the saved correction is impossible. The settings were damaged or changed by hand.
    """
    saved = printer(name, paper) if name else None
    if saved is None:
        return None
    if not _may_be(saved):
        raise OwnerError(
            f'The saved correction of "{saved.name}" on {paper} is more than {MOST_OFF * 100:.0f} %. No printer needs that. '
            "Measure the bars of an uncorrected print again."
        )
    return Correction(saved.short, saved.long, saved.unsure, saved.read)


def _may_be(printer: Printer) -> bool:
    """Return whether a printer may have such an error and uncertainty; allows 1e-6."""
    factors = all(factor > 0.0 and abs(1.0 / factor - 1.0) <= MOST_OFF + 1e-6 for factor in (printer.short, printer.long))
    return factors and all(0.0 <= share <= MOST_OFF for share in printer.unsure)


def keep(name: str, paper: str, correction: Correction) -> None:
    """Save a printer's correction on a paper, and the lengths of its bars."""
    remember_printer(Printer(name, paper, correction.short, correction.long, correction.unsure, correction.read))


def sheet_set(checked: Checked, options: PrintOptions, date: datetime.date) -> SheetSet:
    """Return the sheets of a checked design: see ``making``."""
    sheets = None
    for made in making(checked, options, date):
        sheets = made if isinstance(made, SheetSet) else sheets
    if sheets is None:
        raise AssertionError("making ends with the sheets")
    return sheets


def making(checked: Checked, options: PrintOptions, date: datetime.date) -> Iterator[str | SheetSet]:
    """Make the sheets of a checked design, kind by kind. Yield the name of each kind, and in the end all sheets.

    Raises:
        OwnerError: nothing is chosen, there are no bolts, a place is not measured, or the paper is too small. Also for
            bars that no printer would print, and for a missing correction that is known to be needed.
    """
    from geometry.doubt.spreads import with_spreads
    from templates_out.faces.check_lines import checks
    from templates_out.faces.on_face import on_face
    from templates_out.pages.template.template_pages import bar_lengths, template_layout

    if not options.kinds:
        raise OwnerError("No sheet is chosen. Choose at least one.")
    checked = with_spreads(checked)  # the sheets wait for the chances
    printing = _printing(checked, options, date)
    layout = template_layout(checked, printing)
    pages: list[Page] = []
    groups: list[Group] = []
    for kind in (kind for kind in SHEET_KINDS.values() if kind.key in options.kinds):
        yield kind.title
        made = kind.pages(checked, on_paper(kind, checked.design, printing)) if kind.there(checked.design) else ()
        pages += made
        if made:
            groups.append(_group(kind, len(made), layout.plan.columns))
    read = options.across is not None or options.up is not None
    taken = taken_words(checked, printing, _before(options)) if read and _before(options) != Correction() else ""
    yield SheetSet(
        checked, options, layout.plan, bar_lengths(checked, printing), printing.correction,
        f"{layout.stretch.words} {taken}".strip(), checks(on_face(checked.design, Stretch()).holes), tuple(groups),
        tuple(pages),
    )  # fmt: skip


def _printing(checked: Checked, options: PrintOptions, date: datetime.date) -> Printing:
    """Return how the full-scale sheets are printed.

    Raises:
        OwnerError: see ``sheet_set``.
    """
    from templates_out.pages.template.template_pages import correction

    printing = Printing(date, options.paper, options.margin, options.turned, _before(options), options.printer)
    printing = replace(printing, correction=correction(checked, printing, (options.across, options.up)))
    kinds = [SHEET_KINDS[key] for key in options.kinds]
    if printing.correction == Correction() and any(kind.full_scale and not kind.finds_correction for kind in kinds):
        refuse_uncorrected(options.before or Correction(), options.printer)
    return printing


def _before(options: PrintOptions) -> Correction:
    """Return the correction of the print whose bars were read; none, where it is not used."""
    return options.before if options.correct and options.before is not None else Correction()


def _group(kind: SheetKind, count: int, columns: int) -> Group:
    """Return how ``count`` pages of a kind are shown, where the template has so many columns."""
    match kind.order:
        case "as taped":
            return Group(kind.key, f"{kind.title}, as it is taped", columns, count)
        case "like the template":
            return Group(kind.key, kind.title, max(columns, 2), count)
        case "in a row":
            return Group(kind.key, kind.title, min(4, max(2, count)), count)


def plan_words(plan: Plan) -> str:
    """Say how the pages are arranged: "Page plan: four pages, two across"."""
    count, columns = len(plan.tiles), plan.columns
    if count == 1:
        return "Page plan: one page"
    return f"Page plan: {number(count)} pages, {number(columns)} across"


def reason_words(sheets: SheetSet) -> str:
    """Say why the page plan has these pages."""
    plan, unit = sheets.plan, sheets.checked.design.units
    size = (
        f"{format_length(plan.width, unit, unit_word=False)} by {format_length(plan.height, unit, unit_word=False)}"
        f" {'inches' if unit == 'in' else 'mm'}"
    )
    count = len(plan.tiles)
    if count == 1:
        return f"{size}. One page holds every hole with its cross."
    way = "the fewest possible" if sheets.options.turned is None else "in the orientation that you chose"
    return f"{size}. {number(count).capitalize()} pages, {way}. No seam is near a hole or the centreline."


def taped_words(sheets: SheetSet) -> str:
    """Say what to measure after taping the pages."""
    unit = sheets.checked.design.units
    said = []
    for name, words in (("upper pair", "upper to upper"), ("lower pair", "lower to lower"), ("diagonal", "both diagonals")):
        true = next((check.true for check in sheets.checks if check.name == name), None)
        if true is not None:
            said.append(f"{words} {format_length(true, unit, denominator=32)}")
    return f"Measure {', '.join(said)}." if said else "Measure every line between holes."


def margin_of(text: str, units: Unit) -> float:
    """Return a printer's unprintable margin [mm].

    Raises:
        OwnerError: it is no length, or leaves nothing of the paper.
    """
    value = parse_length(text, units)
    if not 0 <= value <= _WIDEST:
        most = format_length(_WIDEST, "in") if units == "in" else f"{_WIDEST:.0f} mm"
        raise OwnerError(f"An unprintable margin is 0 to {most}. Look at the edge of a full page from this printer.")
    return value
