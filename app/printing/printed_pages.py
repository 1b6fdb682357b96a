"""Paints pages on a printer at exactly 1:1, in black, from the marks that the PDF is written from.

The printer's own scale is the only one. A correction of the printer is in the marks already.
Texts are painted as outlines of the shipped fonts, so that no printer replaces a font.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import groupby
from typing import TYPE_CHECKING, assert_never

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPainterPath, QPen

from app.ui.font_files import load_font
from app.ui.printer_paper import has_size, set_up
from geometry.errors import OwnerError
from geometry.units.units import format_length
from templates_out.drawing.fonts import font_name, text_width
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Path, Text
from templates_out.drawing.paper_ink import INK
from templates_out.drawing.transforms import hatch_lines, text_box

if TYPE_CHECKING:
    from collections.abc import Generator

    from PySide6.QtPrintSupport import QPrinter

    from geometry.units.units import Unit
    from templates_out.drawing.marks import Mark, Page, Pen, Point, Role

_EM = 1000  # px of a letter's box, from which its outline is scaled


def print_pages(pages: tuple[Page, ...], printer: QPrinter, unit: Unit) -> Generator[int, None, int]:
    """Print the pages, yielding how many are done, and return their number. Pages of another paper are another job.

    To close the generator stops the job under way.

    Raises:
        OwnerError: the printer does not take a page, or not its paper.
    """
    done = 0
    jobs = [pages] if printer.outputFileName() else [tuple(job) for _, job in groupby(pages, _paper)]
    for job in jobs:
        painter = QPainter()
        _take(printer, job[0], unit)
        if not painter.begin(printer):
            raise OwnerError(f"{_name(printer)} takes no pages now. Look whether it is switched on, then print again.")
        try:
            for number, page in enumerate(job):
                if number:
                    _take(printer, page, unit)
                    printer.newPage()
                paint_page(painter, page, printer.resolution() / 25.4)
                done += 1
                yield done
        except GeneratorExit:
            printer.abort()
            raise
        finally:
            painter.end()
    return done


def _paper(page: Page) -> tuple[float, float]:
    return round(page.width, 1), round(page.height, 1)


def _take(printer: QPrinter, page: Page, unit: Unit) -> None:
    """Set the printer to a page, and see that it took the paper.

    Raises:
        OwnerError: it did not.
    """
    set_up(printer, page)
    if not has_size(printer.pageLayout().pageSize(), page):
        across, up = (format_length(side, unit) for side in sorted((page.width, page.height)))
        raise OwnerError(f"{_name(printer)} has no paper of {across} by {up}. Choose a paper on the left that it has.")


def _name(printer: QPrinter) -> str:
    return printer.printerName() or "The printer"


def paint_page(painter: QPainter, page: Page, dots: float) -> None:
    """Paint a page with ``dots`` a millimetre, the painter's origin in the paper's upper left corner."""
    hand = _Hand(painter, page.height, dots)
    for mark in page.marks:
        hand.draw(mark)


class _Hand:
    """Paints marks in black."""

    def __init__(self, painter: QPainter, height: float, dots: float) -> None:
        self._painter, self._height, self._dots = painter, height, dots

    def draw(self, mark: Mark) -> None:
        match mark:
            case Line():
                if self._take(mark.pen, None):
                    self._painter.drawLine(self._to(mark.a), self._to(mark.b))
            case Circle():
                if self._take(mark.pen, mark.fill):
                    radius = mark.radius * self._dots
                    self._painter.drawEllipse(self._to(mark.centre), radius, radius)
            case Arc():
                if self._take(mark.pen, None):
                    radius, middle = mark.radius * self._dots, self._to(mark.centre)
                    box = QRectF(middle.x() - radius, middle.y() - radius, 2 * radius, 2 * radius)
                    path = QPainterPath()
                    path.arcMoveTo(box, mark.start)
                    path.arcTo(box, mark.start, mark.end - mark.start)
                    self._painter.drawPath(path)
            case Path():
                if self._take(mark.pen, mark.fill):
                    path = QPainterPath(self._to(mark.points[0]))
                    for point in mark.points[1:]:
                        path.lineTo(self._to(point))
                    if mark.closed:
                        path.closeSubpath()
                    self._painter.drawPath(path)
            case Hatch():
                for line in hatch_lines(mark):
                    self.draw(line)
            case Text():
                self._text(mark)
            case _:
                assert_never(mark)

    def _to(self, point: Point) -> QPointF:
        return QPointF(point[0] * self._dots, (self._height - point[1]) * self._dots)

    def _take(self, pen: Pen | None, fill: Role | None) -> bool:
        """Take pen and fill in hand. Return whether any of them puts something on paper."""
        ink = INK[pen.role] if pen else None
        tone = INK[fill] if fill else None
        if pen and ink is not None:
            width = pen.weight * self._dots
            made = QPen(_gray(ink), width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.MiterJoin)
            if pen.dash:
                made.setDashPattern([length * self._dots / width for length in pen.dash])
            self._painter.setPen(made)
        else:
            self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(Qt.BrushStyle.NoBrush if tone is None else _gray(tone))
        return ink is not None or tone is not None

    def _text(self, text: Text) -> None:
        if text.patch:  # on paper every ground is the paper's
            self.draw(Path(text_box(text), True, None, "sheet"))
        tone = INK[text.role]
        if tone is None:
            return
        width = text_width(text.text, text.size, text.bold, text.italic, text.condensed)
        back = {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
        turned = math.radians(text.angle)
        at = self._to((text.at[0] - back * math.cos(turned), text.at[1] - back * math.sin(turned)))
        painter, scale = self._painter, text.size * self._dots / _EM
        painter.save()
        painter.translate(at)
        painter.rotate(-text.angle)
        painter.scale(scale, scale)
        letters = QPainterPath()
        letters.addText(QPointF(), _font(text.bold, text.italic, text.condensed), text.text)
        painter.fillPath(letters, _gray(tone))
        painter.restore()


def _gray(tone: float) -> Qt.GlobalColor:
    return Qt.GlobalColor.white if tone else Qt.GlobalColor.black


@cache
def _font(bold: bool, italic: bool, condensed: bool) -> QFont:
    font = QFont(load_font(font_name(bold, italic, condensed)))
    font.setPixelSize(_EM)
    font.setBold(bold)
    font.setItalic(italic)
    font.setKerning(False)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font
