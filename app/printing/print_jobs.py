"""Printing for the command and the window: sheets as PDF files, views as drawings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from app.document.outputs import refuse_to_replace, write_output
from app.printing.sheet_kinds import SHEET_KINDS, usual_paper
from app.ui.terminal import follow, warn
from templates_out.drawing.printer import MARGIN, Correction, Printing

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterable, Iterator
    from pathlib import Path

    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page
    from templates_out.drawing.printer import Measured


def how(
    checked: Checked, date: datetime.date, paper: str | None = None, bars: Measured | None = None,
    before: Correction | None = None, margin: float = MARGIN, printer: str = "",
) -> Printing:  # fmt: skip
    """Return how full-scale sheets are printed.

    Args:
        paper: a name of the table of papers; None: the usual one.
        bars: the lengths of sheet A's bars on the last print, across and up [mm].
        before: the correction of that print. margin: the printer's unprintable margin [mm].
        printer: the name of its saved correction, "" for none.

    Raises:
        OwnerError: no such paper, nothing to drill, or bars that call for no correction or for one that no printer needs.
    """
    from templates_out.pages.template.template_pages import correction

    paper = (paper or usual_paper(checked.design)).lower()
    printing = Printing(date, paper, margin, correction=before or Correction(), printer=printer)
    return printing if bars is None else replace(printing, correction=correction(checked, printing, bars))


def taken_words(checked: Checked, printing: Printing, before: Correction) -> str:
    """Say from which print the bars are that gave ``printing`` its correction."""
    from templates_out.pages.template.template_pages import template_layout

    if before == Correction():
        return "The bars count as read on an uncorrected print."
    figures = template_layout(checked, replace(printing, correction=before)).stretch.figures
    if before == printing.correction:
        return f"The bars read the same as last time. The correction stays {figures}."
    return f"The bars count as read on a print corrected by {figures}."


def drawings(checked: Checked, date: datetime.date, kinds: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield a name and an SVG in millimetres for each drawing of these kinds of sheets.

    Template and inside sheet are one sheet each, as large as it has to be.

    Raises:
        OwnerError: there is no such thing in the design, or one of its measurements is not known.
    """
    from templates_out.drawing.printer import WHOLE

    for key in kinds:
        if (svgs := SHEET_KINDS[key].svgs) is not None:
            yield from svgs(checked, Printing(date, WHOLE.name))


def svg_paths(out: Path, drawn: tuple[tuple[str, str], ...]) -> tuple[Path, ...]:
    """Return the paths of drawings: the first has the name itself, the others are next to it with their names added."""
    return tuple(out.with_name(f"{out.stem}, {name}{out.suffix}") if index else out for index, (name, _) in enumerate(drawn))


def write_svgs(out: Path, drawn: Iterable[tuple[str, str]], *, force: bool = False) -> tuple[Path, ...]:
    """Write drawings, see `svg_paths`; return all names.

    Args:
        force: whether other files that are there may be lost.

    Raises:
        OwnerError: a file can't be written, or would be lost; where one would be, none is written.
    """
    named = tuple(drawn)
    paths = svg_paths(out, named)
    for path in paths:
        refuse_to_replace(path, force=force)
    for path, (_, text) in zip(paths, named, strict=True):
        write_output(path, text.encode(), force=force)
    return paths


def write_pdf(
    out: Path, pages: tuple[Page, ...], what: str, design: Design, date: datetime.date, *, force: bool = False
) -> None:
    """Write the pages at 1:1, and say on standard error how many went where.

    Args:
        force: whether another file that is there may be lost.

    Raises:
        OwnerError: the file can't be written, or another would be lost.
    """
    from templates_out.drawing import pdf

    writing = pdf.write_pdf(pages, f"{design.name}: {what}", date)
    write_output(out, follow(writing, f"{what}, sheets", len(pages)), force=force)
    warn(f"{what}: {len(pages)} {'sheet' if len(pages) == 1 else 'sheets'} in {out}")
