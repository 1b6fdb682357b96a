"""The commands that make papers for the boat. Each imports what it needs when it runs."""

from __future__ import annotations

import shlex
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app.commands.command import Command, UsageError, Words, checked_of, design_of, out_of
from app.ui.terminal import waiting, warn
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page
    from templates_out.drawing.printer import Correction, Measured, Printing


def _template(words: Words) -> int:
    from app.printing.print_jobs import drawings, template, write_pdf
    from app.printing.sheet_set import keep
    from app.ui.dates import today

    out, design = out_of(words), design_of(words)
    if _is_svg(out):
        if words.bars or words.paper or words.printer or words.margin:
            raise UsageError("An SVG is one sheet for a cutter. Leave out --paper, --margin, --bars and --printer.")
        kinds = ("template", "inside") if words.inside else ("template",)
        return _write_svgs(words, drawings(checked_of(design), today(), kinds))
    with waiting("template: planning the sheets"):
        checked, bars = checked_of(design), _bars(words.bars)
        printing, taken = _printing(words, checked, bars)
        pages = template(checked, printing, inside=words.inside)
    if taken:
        warn(f"template: {taken}")
    write_pdf(out, pages, "template", design, today(), force=words.force)
    if words.printer and bars is not None:
        keep(words.printer, printing.paper, printing.correction)
    return 0


def _printing(words: Words, checked: Checked, bars: Measured | None = None) -> tuple[Printing, str]:
    """Return how the words want full-scale sheets printed, and of which print the bars are taken to be.

    Raises:
        OwnerError: no such paper, no such margin, bars that call for no correction, or a printer that nothing is kept of.
    """
    from app.printing.print_jobs import how, taken_words, usual_paper
    from app.printing.sheet_set import margin_of
    from app.ui.dates import today
    from templates_out.drawing.printer import MARGIN

    paper = (words.paper or usual_paper(checked.design)).lower()
    margin = margin_of(words.margin, checked.design.units) if words.margin else MARGIN
    before = _kept(words.printer, paper, typed=bars is not None)
    printing = how(checked, today(), paper, bars, before, margin, words.printer or "")
    if bars is None:
        return printing, ""
    unnamed = "" if words.printer else " For bars of a corrected print, give the --printer that it was corrected for."
    return printing, taken_words(checked, printing, before) + unnamed


def _kept(name: str | None, paper: str, *, typed: bool) -> Correction:
    """Return what is kept of a printer; nothing where it is not named, or is measured now for the first time.

    Raises:
        OwnerError: its name is no text; or nothing is kept of it, or nothing that can be, and no bars are given.
    """
    from app.document.settings import is_text, printer_names
    from app.printing.sheet_set import kept
    from templates_out.drawing.printer import Correction

    if name and not is_text(name):
        raise UsageError(f"The printer's name {name!a} is no text. Give --printer another.")
    try:
        found = kept(name, paper) if name else None
    except OwnerError:
        if not typed:
            raise
        found = None  # they are measured anew
    if name and found is None and not typed:
        others = f" Known printers: {', '.join(printer_names())}." if printer_names() else ""
        how = f"boltwell template FILE --to OUT.pdf --bars ACROSS,UP --printer {shlex.quote(name)}"
        raise UsageError(f'No correction is kept for "{name}" on {paper}. Give once what its bars measured: {how}.{others}')
    return found or Correction()


def _bars(text: str | None) -> tuple[float, float] | None:
    """Return what the bars of the last print measured, across and up [mm]; without a unit in mm, as printed along them."""
    from geometry.design.units import parse_length

    if text is None:
        return None
    lengths = text.split(",")
    if len(lengths) != 2:
        raise UsageError(f'"{text}" is not two lengths. Give what the bars measured across and up, such as 238.5mm,149mm.')
    return parse_length(lengths[0], "mm"), parse_length(lengths[1], "mm")


def _is_svg(out: Path) -> bool:
    return out.suffix.lower() == ".svg"


def _write_svgs(words: Words, found: Iterable[tuple[str, str]]) -> int:
    from app.printing.print_jobs import write_svgs

    for path in write_svgs(Path(words.to), found, force=words.force):
        warn(f"SVG in millimetres: {path}")
    return 0


def _full_scale(words: Words, what: str) -> int:
    """Make one kind of paper that is printed at full scale."""
    from app.printing import print_jobs as printing
    from app.ui.dates import today

    out, design = out_of(words), design_of(words)
    if _is_svg(out):
        if what != "backing plate":
            raise UsageError(f"The {what} can't be an SVG. Give --to a name that ends with .pdf.")
        return _write_svgs(words, printing.drawings(checked_of(design), today(), ("plate",)))
    makers: dict[str, Callable[[Checked, Printing], tuple[Page, ...]]] = {
        "page of bars": printing.bars_and_grid, "coupons": printing.coupons, "gauge": printing.gauge,
        "backing plate": printing.plates,
    }  # fmt: skip
    with waiting(f"{what}: laying it out"):
        checked = checked_of(design)
        pages = makers[what](checked, _printing(words, checked)[0])
    printing.write_pdf(out, pages, what, design, today(), force=words.force)
    return 0


def _to_read(words: Words, what: str) -> int:
    """Make the measuring sheet or the shop sheet."""
    from app.printing.print_jobs import measuring_sheet, shop_sheet, write_pdf
    from app.ui.dates import today

    out, design = out_of(words), design_of(words)
    with waiting(f"{what}: laying it out"):
        date = today()
        pages = measuring_sheet(design, date) if what == "measuring sheet" else shop_sheet(checked_of(design), date)
    write_pdf(out, pages, what, design, date, force=words.force)
    return 0


_PAPER, _NAMES = "[--paper P] [--margin M] [--printer NAME] [--force]", ("--paper", "--margin", "--printer")
_THERE = " A file that this program did not make is replaced only with --force. A design is never replaced."


def _full_scale_command(name: str, what: str, does: str) -> Command:
    run = partial(_full_scale, what=what)
    return Command(
        name, f"FILE --to OUT.pdf {_PAPER}", does + _THERE, run, flags=("--force",), options=_NAMES, needed=("FILE", "--to")
    )


SHEET_COMMANDS = (
    Command(
        "template", "FILE --to OUT.pdf [--paper P] [--inside] [--bars ACROSS,UP] [--margin M] [--printer NAME] [--force]",
        "Writes the full-scale paper template. P is letter, legal, tabloid, a4, a3, a2, roll24 or roll36. Without --paper it "
        "is letter for a boat in inches, and a4 for a boat in millimetres. M is the printer's unprintable margin. "
        "With --inside the sheets for the well's inner face follow, as seen looking aft. "
        "ACROSS and UP are the measured lengths of the two bars on sheet A of the last print. They are in millimetres, or "
        "have a unit. The new sheets are corrected by them. "
        "With --printer the correction is kept under that name, and used again where no bars are given. Bars given with "
        "--printer belong to a print corrected by it. Bars without --printer belong to a print without a correction. "
        "Where OUT ends with .svg, it is one sheet in millimetres, with the inside sheet in a second file." + _THERE,
        _template, flags=("--inside", "--force"), options=("--bars", *_NAMES), needed=("FILE", "--to"),
    ),
    _full_scale_command(
        "bars", "page of bars",
        "Writes a page of bars and a grid, to find out how far off the printer is before you print the template. Its bars are "
        "as long as those of the template's sheet A. Give their measured lengths after --bars.",
    ),
    _full_scale_command(
        "coupons", "coupons",
        "Writes washers, sockets, nuts and corner cards at their real size, to cut out and try in the well.",
    ),
    _full_scale_command(
        "gauge", "gauge", "Writes the drill-angle gauge and the drawing of a guide block, for each tilt in the design."
    ),
    _full_scale_command(
        "plate", "backing plate",
        "Writes the drawing of every backing plate at full scale. Where OUT ends with .svg, it is for a cutter, "
        "in millimetres.",
    ),
    Command(
        "measure", "FILE --to OUT.pdf [--force]",
        "Writes the measuring sheet: each reading, how to take it, and a blank to fill in at the boat." + _THERE,
        partial(_to_read, what="measuring sheet"), flags=("--force",), needed=("FILE", "--to"),
    ),
    Command(
        "sheet", "FILE --to OUT.pdf [--force]", "Writes the shop sheet: holes, shopping list, order of work, torque." + _THERE,
        partial(_to_read, what="shop sheet"), flags=("--force",), needed=("FILE", "--to"),
    ),
)  # fmt: skip
