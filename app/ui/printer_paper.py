"""Sets a printer to the paper of a page: the whole of it, one-sided."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QMarginsF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize
from PySide6.QtPrintSupport import QPrinter, QPrinterInfo

if TYPE_CHECKING:
    from templates_out.drawing.marks import Page

RESOLUTION = 1200  # dots in an inch: a step of 0.02 mm
_SAME = 1.0  # mm: two papers are the same


def set_up(printer: QPrinter, page: Page) -> None:
    """Set a printer to a page: its paper, and the whole of it, one-sided. Before a job, set the fineness of its dots too."""
    if printer.printerState() != QPrinter.PrinterState.Active:
        printer.setResolution(RESOLUTION)
        printer.setColorMode(QPrinter.ColorMode.GrayScale)
        printer.setDuplex(QPrinter.DuplexMode.DuplexNone)
        printer.setFullPage(True)
    printer.setPageSize(page_size(page))
    wide = page.width > page.height
    printer.setPageOrientation(QPageLayout.Orientation.Landscape if wide else QPageLayout.Orientation.Portrait)
    printer.setPageMargins(QMarginsF())


def page_size(page: Page) -> QPageSize:
    """Return the paper of a page, upright; by its usual name where it has one."""
    size = QSizeF(min(page.width, page.height), max(page.width, page.height))
    known = QPageSize(size, QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.FuzzyMatch)
    return known if has_size(known, page) else QPageSize(size, QPageSize.Unit.Millimeter, "Template")


def offers(printer: QPrinter, page: Page) -> bool:
    """Return whether a printer has the paper of a page. One that lists no papers, such as a file, takes each."""
    papers = QPrinterInfo(printer).supportedPageSizes() if not printer.outputFileName() else []
    return not papers or QPrinterInfo(printer).supportsCustomPageSizes() or any(has_size(paper, page) for paper in papers)


def has_size(paper: QPageSize, page: Page) -> bool:
    """Return whether a paper is that of a page, turned or not."""
    size = paper.size(QPageSize.Unit.Millimeter)
    sides = sorted((size.width(), size.height()))
    return all(abs(mine - its) <= _SAME for mine, its in zip(sides, sorted((page.width, page.height)), strict=True))
