"""What the command and the window print: the sheets as PDF files, the views as pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from app.document.outputs import refuse_to_replace, write_output
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


def usual_paper(design: Design) -> str:
    """Return the paper that is at hand where lengths are measured as in ``design``."""
    return "letter" if design.units == "in" else "a4"


def how(
    checked: Checked, date: datetime.date, paper: str | None = None, bars: Measured | None = None,
    before: Correction | None = None, margin: float = MARGIN, printer: str = "",
) -> Printing:  # fmt: skip
    """Return how full-scale sheets are printed.

    Args:
        paper: a name of the table of papers; None: the usual one.
        bars: what sheet A's bars measured on the last print, across and up [mm].
        before: what that print was corrected by. margin: what the printer leaves bare along each edge [mm].
        printer: the name that its correction is kept under, "" for none.

    Raises:
        OwnerError: no such paper, nothing to drill, or bars that call for no correction or for one that no printer needs.
    """
    from templates_out.pages.template.template_pages import correction

    paper = (paper or usual_paper(checked.design)).lower()
    printing = Printing(date, paper, margin, correction=before or Correction(), printer=printer)
    return printing if bars is None else replace(printing, correction=correction(checked, printing, bars))


def taken_words(checked: Checked, printing: Printing, before: Correction) -> str:
    """Say of which print the bars are taken to be that gave ``printing`` its correction."""
    from templates_out.pages.template.template_pages import template_lying

    if before == Correction():
        return "The bars are taken as read on a print without a correction."
    figures = template_lying(checked, replace(printing, correction=before)).stretch.figures
    if before == printing.correction:
        return f"The bars read as they were typed last time: the correction stays as it is, {figures}."
    return f"The bars are taken as read on a print corrected by {figures}."


def template(checked: Checked, printing: Printing, *, inside: bool = False) -> tuple[Page, ...]:
    """Return the template's sheets, and with ``inside`` the inside sheets behind them.

    Raises:
        OwnerError: there is nothing to drill, or no such paper.
    """
    from templates_out.pages.inside.inside_pages import inside_pages
    from templates_out.pages.template.template_pages import template_pages

    return template_pages(checked, printing) + (inside_pages(checked, printing) if inside else ())


def bars_and_grid(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    """Return the page of bars and a grid, to find out what a printer is off."""
    from templates_out.pages.bars.bars_page import bars_page

    return (bars_page(checked, printing),)


def coupons(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    """Return the coupons and fillet cards to try in the well."""
    from templates_out.pages.coupons.coupon_pages import coupon_pages

    return coupon_pages(checked.design, printing)


def gauge(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    """Return the drill-angle gauge and the guide block for each tilt."""
    from templates_out.pages.gauge.gauge_pages import gauge_pages

    return gauge_pages(checked, printing)


def plates(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    """Return the drawing of every backing plate."""
    from templates_out.pages.plate.plate_pages import plate_pages

    return plate_pages(checked, printing)


def drawings(checked: Checked, date: datetime.date, kinds: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield a name and an SVG in millimetres for each drawing of these kinds: "template", "inside", "plate".

    Template and inside sheet are one sheet each, as large as it has to be.

    Raises:
        OwnerError: there is no such thing in the design, or one of its measurements is not known.
    """
    from templates_out.drawing.printer import WHOLE
    from templates_out.drawing.svg import svg_text
    from templates_out.pages.inside.inside_pages import inside_pages
    from templates_out.pages.plate.plate_pages import plate_svgs
    from templates_out.pages.template.template_pages import template_pages

    printing = Printing(date, WHOLE.name)
    for kind in kinds:
        if kind == "plate":
            yield from plate_svgs(checked, date)
            continue
        name, make = {"template": ("template", template_pages), "inside": ("inside sheet", inside_pages)}[kind]
        for number, page in enumerate(make(checked, printing)):
            yield f"{name}, to read" if number else name, svg_text(page)


def measuring_sheet(design: Design, date: datetime.date) -> tuple[Page, ...]:
    """Return the measuring sheet's pages, to carry to the boat."""
    from templates_out.pages.measuring.measuring_pages import measuring_pages

    return measuring_pages(design, date, paper=usual_paper(design))


def shop_sheet(checked: Checked, date: datetime.date) -> tuple[Page, ...]:
    """Return the shop sheet's pages."""
    from templates_out.pages.shop.shop_pages import shop_pages

    return shop_pages(checked, date, paper=usual_paper(checked.design))


def svg_paths(out: Path, found: tuple[tuple[str, str], ...]) -> tuple[Path, ...]:
    """Return where drawings go: the first under a name, the others next to it with their own names added."""
    return tuple(out.with_name(f"{out.stem}, {name}{out.suffix}") if index else out for index, (name, _) in enumerate(found))


def write_svgs(out: Path, found: Iterable[tuple[str, str]], *, force: bool = False) -> tuple[Path, ...]:
    """Write drawings, see `svg_paths`; return all names.

    Args:
        force: whether other files that are there may be lost.

    Raises:
        OwnerError: a file can't be written, or would be lost; where one would be, none is written.
    """
    drawn = tuple(found)
    paths = svg_paths(out, drawn)
    for path in paths:
        refuse_to_replace(path, force=force)
    for path, (_, text) in zip(paths, drawn, strict=True):
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
