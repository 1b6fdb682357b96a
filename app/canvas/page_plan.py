"""Draws the page plan over the face: pages, tinted overlaps, a veil outside them, and the checks across the seams."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from geometry.units.units import format_length
from templates_out.drawing.marks import Line, Mark, Path, Pen, Text
from templates_out.views import view_pens as pens

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtCore import QRect

    from app.printing.sheet_set import SheetSet
    from app.ui.palette import Palette
    from templates_out.drawing.marks import Point
    from templates_out.views.viewport import Rect, Viewport

VEIL, TINT = 0.62, 0.16  # how much of the drawing below they hide
AIR = 25.0  # boat mm around the pages
_ASIDE = 0.28  # the figure's share of a diagonal: in the middle it would meet the other figure
_HIDDEN = ("bracket", "measure:", "finding:")
_PAGE, _SEAM = Pen("ink", 0.35), Pen("ink", 0.25)


def without_figures(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """Return the face without its figures, findings and brackets, to make room for the checks."""
    return tuple(mark for mark in marks if not mark.part.startswith(_HIDDEN))


def pages_rect(sheets: SheetSet) -> Rect:
    """Return the area of the pages, with some space around it [boat mm]."""
    shown = [tile.shown for tile in sheets.plan.tiles]
    return (
        min(rect[0] for rect in shown) - AIR,
        min(rect[1] for rect in shown) - AIR,
        max(rect[2] for rect in shown) + AIR,
        max(rect[3] for rect in shown) + AIR,
    )


def plan_marks(sheets: SheetSet, view: Viewport) -> tuple[Mark, ...]:
    """Return the pages' edges, their letters and the checks across the seams."""
    from templates_out.layout.seams import seams_of

    marks: list[Mark] = []
    for tile in sheets.plan.tiles:
        left, bottom, right, top = tile.shown
        ring = tuple(view.to_paper(at) for at in ((left, bottom), (right, bottom), (right, top), (left, top)))
        marks.append(Path(ring, True, _PAGE, None, f"page {tile.letter}"))
        outer_x = left if tile.column == 0 else tile.core[2]
        x, y = view.to_paper((outer_x, top if tile.row == 0 else tile.core[1]))
        step = 4.5 if tile.column == 0 else -4.5
        y = y - 7.5 if tile.row == 0 else y + 4.0
        marks.append(Text((x + step, y), tile.letter, 5.2, bold=True, anchor="middle", part="page letter"))
    for seam in seams_of(sheets.plan):
        marks.append(Line(view.to_paper(seam.start), view.to_paper(seam.end), _SEAM, "seam"))
    return (*marks, *_checks(sheets, view))


def _checks(sheets: SheetSet, view: Viewport) -> list[Mark]:
    """Return the checks that the strip below asks for: lines from hole to hole, each with its figure in a gap."""
    unit, marks = sheets.checked.design.units, list[Mark]()
    for check in sheets.checks:
        if check.name.endswith(("pair", "diagonal")):
            upper, lower = sorted((check.first, check.second), key=lambda hole: -hole.v)
            share = _ASIDE if check.name == "diagonal" else 0.5
            words = format_length(check.true, unit, denominator=32)
            marks += _dimension(view, (upper.u, upper.v), (lower.u, lower.v), share, words)
    return marks


def _dimension(view: Viewport, a: Point, b: Point, share: float, words: str) -> tuple[Mark, Mark]:
    """Return a line with its figure at a share of its length."""
    start, end = view.to_paper(a), view.to_paper(b)
    x, y = (first + share * (last - first) for first, last in zip(start, end, strict=True))
    size = pens.FIGURE["screen"]
    return (
        Line(start, end, pens.FINE, "check"),
        Text((x, y - size * 0.36), words, size, anchor="middle", patch="well", part="check"),
    )


def paint_veil(
    painter: QPainter, board: QRect, sheets: SheetSet, to_place: Callable[[Point], QPointF], colours: Palette
) -> None:
    """Veil the area outside the pages, and tint the overlaps of two pages."""

    from templates_out.layout.seams import seams_of
    from templates_out.layout.spread_on_sheets import overlap

    def box(rect: Rect) -> QRectF:
        return QRectF(to_place((rect[0], rect[3])), to_place((rect[2], rect[1])))

    veil, pages = QPainterPath(), QPainterPath()
    veil.addRect(QRectF(board))
    for tile in sheets.plan.tiles:
        page = QPainterPath()
        page.addRect(box(tile.shown))
        pages = pages.united(page)
    painter.setPen(QPen(QColor(0, 0, 0, 0)))
    painter.fillPath(veil.subtracted(pages), _thin(colours["board"], VEIL))
    for seam in seams_of(sheets.plan):
        shared = overlap(seam.under.shown, seam.over.core)
        if shared is not None:
            painter.fillRect(box(shared), _thin(colours["new"], TINT))


def _thin(colour: QColor, share: float) -> QColor:
    made = QColor(colour)
    made.setAlphaF(share)
    return made
