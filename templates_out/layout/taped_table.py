"""The table of the taped-up check: what to measure between holes, across joins, and to the boat's edge and centreline."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.survey.taped_paper import Paper, SeamLine, rows_for
from templates_out.drawing.marks import Line
from templates_out.drawing.printer import Stretch
from templates_out.faces.check_lines import checks
from templates_out.faces.on_face import on_face
from templates_out.layout.seams import CHECK, join_length, seams_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from templates_out.drawing.marks import Page, Point
    from templates_out.layout.seams import Seam
    from templates_out.layout.tiles import Plan

_NEAR = 0.05  # mm: of a mark on a page to its place on the drawing


def paper_without_joins(design: Design) -> Paper:
    """Return the table of a design's template before it is laid on sheets.

    Raises:
        OwnerError: there are no bolts, or a measurement that places a hole has not been taken.
    """
    return _paper(design, (), ())


def taped_paper(design: Design, plan: Plan, pages: tuple[Page, ...], stretch: Stretch) -> Paper:
    """Return the table of a template as it is laid on sheets. A seam has a line in it where its sheets carry a check.

    Args:
        pages: of the template, one for each sheet of ``plan`` first. stretch: of its drawing.
    """
    lines: list[SeamLine] = []
    joins: list[tuple[str, int, float]] = []
    for seam in seams_of(plan):
        length = _join_of(seam, plan, pages, stretch, join_length(design.units))
        if length is None:
            continue
        at = seam.start[0] / stretch.across if seam.upright else seam.start[1] / stretch.up
        line = SeamLine(upright=seam.upright, at=at)
        if line not in lines:
            lines.append(line)
        joins.append((f"join {seam.under.letter}-{seam.over.letter}", lines.index(line), length))
    return _paper(design, tuple(lines), tuple(joins))


def _paper(design: Design, lines: tuple[SeamLine, ...], joins: tuple[tuple[str, int, float], ...]) -> Paper:
    drawn = on_face(design, Stretch()).holes
    holes = tuple((f"{hole.motor}, {hole.name}" if hole.motor else hole.name, (hole.u, hole.v)) for hole in drawn)
    numbers = {hole.part: number for number, hole in enumerate(drawn)}
    pairs = tuple((numbers[check.first.part], numbers[check.second.part]) for check in checks(drawn))
    return Paper(holes, lines, rows_for(holes, pairs, joins))


def _join_of(
    seam: Seam, plan: Plan, pages: tuple[Page, ...], stretch: Stretch, lengths: tuple[float, ...]
) -> float | None:
    """Return the length of a seam's check, as the later sheet carries half of it; None where it has none."""
    page, tile = pages[plan.tiles.index(seam.over)], seam.over
    for a, b in _check_lines(page):
        ends = [(x - tile.offset[0], y - tile.offset[1]) for x, y in (a, b)]
        for start, end in (ends, ends[::-1]):
            half = math.dist(start, end) / (stretch.across if seam.upright else stretch.up)
            whole = next((length for length in lengths if abs(2 * half - length) < _NEAR), None)
            if whole is not None and _is_on(seam, start):
                return whole
    return None


def _check_lines(page: Page) -> Iterator[tuple[Point, Point]]:
    yield from ((mark.a, mark.b) for mark in page.marks if isinstance(mark, Line) and mark.part == CHECK)


def _is_on(seam: Seam, place: Point) -> bool:
    off, along = (0, 1) if seam.upright else (1, 0)
    within = seam.start[along] - _NEAR <= place[along] <= seam.end[along] + _NEAR
    return within and abs(place[off] - seam.start[off]) < _NEAR
