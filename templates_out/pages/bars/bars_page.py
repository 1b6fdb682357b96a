"""A page of bars and a grid, to find out how far a printer is off before anything is printed that matters.

It is turned as the template's sheet A and has bars as long, so that their lengths are typed in the same place.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from templates_out.drawing import sheet_figures as figures
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.marks import Line, Page, Text
from templates_out.layout.frame import ONE_SIDE, across_bar, across_bar_marks, ask_marks, up_bar, up_bar_marks
from templates_out.layout.spread_on_sheets import title_of
from templates_out.pages.template.template_pages import template_layout

if TYPE_CHECKING:
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Mark, Point
    from templates_out.drawing.printer import Printing, Stretch

SQUARE, HEAVIER = 10, 50  # mm: from line to line of the grid, and from heavier line to heavier line
ASKEW = 25.4 / 32  # mm: by which the grid's diagonals may differ, as those of the holes may; our assumption


def bars_page(checked: Checked, printing: Printing) -> Page:
    """Return the page, on the paper and turned as the template of this design is.

    Raises:
        OwnerError: as ``template.template_set`` does.
    """
    layout = template_layout(checked, printing)
    plan, stretch, unit = layout.plan, layout.stretch, checked.design.units
    across, up = (bar(plan.tiles[0], plan, stretch, unit) for bar in (across_bar, up_bar))
    if across is None or up is None:
        raise AssertionError("the first sheet is at both outer edges")
    title = title_of("Bars and a grid", checked.design, printing, plan)
    left, right, top = across.at[0], plan.width - plan.margin - 6.0, plan.height - plan.margin - 10.5
    about = f"design {title.design}  ·  revision {title.revision}  ·  {title.date:%Y-%m-%d}  ·  {title.paper}"
    head: list[Mark] = [
        Text((left, top - 5.4), pens.shortened(title.what, pens.LETTER, right - left, bold=True), pens.LETTER, bold=True,
             part="title"),
        pens.words((left, top - 9.4), about, pens.TITLE, part="title"),
        pens.words((right, top - 9.4), ONE_SIDE, pens.FIGURE, bold=True, anchor="end", part="title"),
    ]  # fmt: skip
    asked = [*ask_marks(left, right, top - 14.0, unit, (across, up), stretch)]
    low = min(mark.at[1] for mark in asked if isinstance(mark, Text))
    corner = (left + 8.0, plan.margin + 8.0)  # past the numbers of the bar up
    wide, high = (
        HEAVIER * math.floor(room / (HEAVIER * by))
        for room, by in ((right - corner[0], stretch.across), (low - 14.0 - corner[1], stretch.up))
    )
    size = (wide, high)
    diagonal = figures.both(math.hypot(wide, high), unit)
    steps = (
        "Type in the length of both bars: it corrects the sheets after this one. Then measure the grid from corner to corner, "
        f"both ways: {diagonal}. If the two differ by more than {figures.both(ASKEW, unit)}, the printer pulls the paper "
        "askew. No correction helps. Use another printer."
    )
    y = low - 3.6
    lines = []
    for line in pens.wrapped(steps, pens.STEP, right - corner[0], condensed=True):
        y -= 1.3 * pens.STEP
        lines.append(pens.words((corner[0], y), line, pens.STEP, part="words"))
    bars = (*across_bar_marks(across, stretch), *up_bar_marks(up, stretch))
    return Page(plan.width, plan.height, (*head, *asked, *lines, *bars, *_grid(corner, size, stretch)), "Bars and a grid")


def _grid(corner: Point, size: tuple[int, int], stretch: Stretch) -> Iterator[Line]:
    """Yield the grid's lines over its lower left corner, every fifth one heavier."""
    x0, y0 = corner
    wide, high = size[0] * stretch.across, size[1] * stretch.up
    for mm in range(0, size[0] + 1, SQUARE):
        x = x0 + mm * stretch.across
        yield Line((x, y0), (x, y0 + high), pens.FINAL if mm % HEAVIER == 0 else pens.FINE, "grid")
    for mm in range(0, size[1] + 1, SQUARE):
        y = y0 + mm * stretch.up
        yield Line((x0, y), (x0 + wide, y), pens.FINAL if mm % HEAVIER == 0 else pens.FINE, "grid")
