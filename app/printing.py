"""What the command and the window print: the sheets as PDF files, the views as pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.files import write_bytes
from app.terminal import follow, warn

if TYPE_CHECKING:
    import datetime
    from pathlib import Path

    from geometry.design.whole import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page


def usual_paper(design: Design) -> str:
    """Return the paper that is at hand where lengths are measured as in ``design``."""
    return "letter" if design.units == "in" else "a4"


def template(checked: Checked, date: datetime.date, paper: str | None = None) -> tuple[Page, ...]:
    """Return the template's sheets.

    Raises:
        OwnerError: there is nothing to drill, or no such paper.
    """
    from templates_out.sheets.template import template_pages

    design = checked.design
    return template_pages(design, checked, paper=paper or usual_paper(design), date=date)


def shop_sheet(checked: Checked, date: datetime.date) -> tuple[Page, ...]:
    """Return the shop sheet's pages."""
    from templates_out.sheets.shop import shop_pages

    return shop_pages(checked, date, paper=usual_paper(checked.design))


def measuring_sheet(checked: Checked, date: datetime.date) -> tuple[Page, ...]:
    """Return the measuring sheet's pages: what to measure, with drawings and blanks, to carry to the boat."""
    from templates_out.sheets.measuring import measuring_pages

    return measuring_pages(checked.design, date, paper=usual_paper(checked.design))


def write_pdf(out: Path, pages: tuple[Page, ...], what: str, design: Design, date: datetime.date) -> None:
    """Write the pages at 1:1, and say on standard error how many went where.

    Raises:
        OwnerError: the file can't be written.
    """
    from templates_out.drawing import pdf

    writing = pdf.write_pdf(pages, f"{design.name}: {what}", date)
    write_bytes(out, follow(writing, f"{what}, sheets", len(pages)))
    warn(f"{what}: {len(pages)} {'sheet' if len(pages) == 1 else 'sheets'} in {out}")
