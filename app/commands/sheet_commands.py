"""The commands that make sheets. Each imports what it needs when it runs."""

from __future__ import annotations

import shlex
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app.commands.command import Command, UsageError, Words, checked_of, design_of, out_of
from app.printing.sheet_kinds import SHEET_KINDS, usual_paper
from app.ui.terminal import waiting, warn
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.printing.sheet_kinds import SheetKind
    from geometry.judge.findings import Checked
    from geometry.units.units import Unit
    from templates_out.drawing.printer import Correction, Measured, Printing


def _make(words: Words, kind: SheetKind) -> int:
    """Make one kind of sheet, and those that are asked for behind it."""
    from app.printing.print_jobs import drawings, write_pdf
    from app.printing.sheet_set import keep
    from app.ui.dates import today
    from geometry.judge.check import check

    out, design = out_of(words), design_of(words)
    kinds = [kind, *(SHEET_KINDS[key] for key in kind.behind if getattr(words, key))]
    if out.suffix.lower() == ".svg":
        _refuse_svg(words, kind)
        return _write_svgs(words, drawings(checked_of(design), today(), [each.key for each in kinds]))
    with waiting(f"{kind.what}: planning the sheets"):
        checked = checked_of(design) if kind.stamped else check(design)
        bars = _bars(words.bars, design.units) if kind.takes_bars else None
        printing, taken = _printing(words, checked, bars)
        pages = tuple(page for each in kinds for page in each.pages(checked, printing))
    if taken:
        warn(f"{kind.what}: {taken}")
    write_pdf(out, pages, kind.what, design, today(), force=words.force)
    if bars is not None and words.printer:
        keep(words.printer, printing.paper, printing.correction)
    return 0


def _refuse_svg(words: Words, kind: SheetKind) -> None:
    """Refuse an SVG of a sheet that has none, and choices that only paper has.

    Raises:
        UsageError: it says which.
    """
    if kind.svgs is None:
        raise UsageError(f"The {kind.what} can't be an SVG. Give --to a name that ends with .pdf.")
    names = _options(kind)
    if any(getattr(words, name.removeprefix("--")) for name in names):
        listed = f"{', '.join(names[:-1])} and {names[-1]}"
        raise UsageError(f"An SVG is one sheet for a cutter. Leave out {listed}.")


def _printing(words: Words, checked: Checked, bars: Measured | None = None) -> tuple[Printing, str]:
    """Return how to print full-scale sheets, and a sentence that says which print the bars belong to.

    Raises:
        OwnerError: no such paper or margin, bars that allow no correction, or a printer without a kept correction.
    """
    from app.printing.print_jobs import how, taken_words
    from app.printing.sheet_set import margin_of
    from app.ui.dates import today
    from templates_out.drawing.printer import MARGIN

    if not hasattr(words, "printer"):  # it is read, not laid on the boat
        return how(checked, today()), ""
    paper = (words.paper or usual_paper(checked.design)).lower()
    margin = margin_of(words.margin, checked.design.units) if words.margin else MARGIN
    before = _kept(words.printer, paper, typed=bars is not None)
    printing = how(checked, today(), paper, bars, before, margin, words.printer or "")
    if bars is None:
        return printing, ""
    unnamed = "" if words.printer else " For bars of a corrected print, give the --printer that it was corrected for."
    return printing, taken_words(checked, printing, before) + unnamed


def _kept(name: str | None, paper: str, *, typed: bool) -> Correction:
    """Return the kept correction of a printer; none where no name is given, or it is measured for the first time.

    Raises:
        OwnerError: its name is no text, or no usable correction is kept and no bars are given.
    """
    from app.document.settings import is_text, printer_names
    from app.printing.sheet_set import kept
    from templates_out.drawing.printer import Correction

    if name and not is_text(name):
        raise UsageError(f"The printer's name {name!a} is no text. Give --printer another.")
    try:
        correction = kept(name, paper) if name else None
    except OwnerError:
        if not typed:
            raise
        correction = None  # they are measured again
    if name and correction is None and not typed:
        others = f" Known printers: {', '.join(printer_names())}." if printer_names() else ""
        how = f"boltwell template FILE --to OUT.pdf --bars ACROSS,UP --printer {shlex.quote(name)}"
        raise UsageError(f'No correction is kept for "{name}" on {paper}. Give once what its bars measured: {how}.{others}')
    return correction or Correction()


def _bars(text: str | None, unit: Unit) -> tuple[float, float] | None:
    """Return the measured lengths of the last print's bars, across and up [mm]. A figure without a unit is in the boat's."""
    from geometry.units.units import parse_length

    if text is None:
        return None
    lengths = text.split(",")
    if len(lengths) != 2:
        such = "8 31/32in,5 31/32in" if unit == "in" else "238.5mm,149mm"
        raise UsageError(f'"{text}" is not two lengths. Give what the bars measured across and up, such as {such}.')
    return parse_length(lengths[0], unit), parse_length(lengths[1], unit)


def _write_svgs(words: Words, drawings: Iterable[tuple[str, str]]) -> int:
    from app.printing.print_jobs import write_svgs

    for path in write_svgs(Path(words.to), drawings, force=words.force):
        warn(f"SVG in millimetres: {path}")
    return 0


def _options(kind: SheetKind) -> tuple[str, ...]:
    """Return the names of the values that a command takes, in the order of its usage."""
    if not kind.full_scale:
        return ()
    return ("--paper", *(("--bars",) if kind.takes_bars else ()), "--margin", "--printer")


def _command(kind: SheetKind) -> Command:
    """Return the command that makes one kind of sheet."""
    flags = tuple(f"--{key}" for key in kind.behind)
    paper, *others = [f"[{name} {_VALUES[name]}]" for name in _options(kind)] or [""]
    usage = ("FILE --to OUT.pdf", paper, *(f"[{flag}]" for flag in flags), *others, "[--force]")
    return Command(
        kind.command, " ".join(filter(None, usage)), kind.does + _THERE, partial(_make, kind=kind),
        flags=(*flags, "--force"), options=_options(kind), needed=("FILE", "--to"),
    )  # fmt: skip


def sheet_commands() -> tuple[Command, ...]:
    """Return a command for each kind of sheet."""
    return tuple(map(_command, SHEET_KINDS.values()))


_VALUES = {"--paper": "P", "--bars": "ACROSS,UP", "--margin": "M", "--printer": "NAME"}
_THERE = " A file that this program did not make is replaced only with --force. A design is never replaced."
