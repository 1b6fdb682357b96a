"""Prints pages through the system's dialog: asks for the printer, prints page by page, and can be stopped."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, Signal

from app.ui.timeslice import TimeSlicer
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Generator

    from PySide6.QtPrintSupport import QPrinter

    from geometry.units.units import Unit
    from templates_out.drawing.marks import Page


class PrintDialogs(Protocol):
    """The dialogs, as printing uses them."""

    def choose_printer(self, page: Page, title: str) -> QPrinter | None:
        """Ask for the printer of pages like this one; None where the person cancels."""

    def choose(self, sentence: str, answers: tuple[str, ...]) -> int:
        """Ask a question with a few answers."""

    def show_message(self, sentence: str) -> None:
        """Show a sentence until the person has read it."""


class PagePrinter(QObject):
    """Prints one set of pages at a time.

    Signals:
        said: the progress, and how it ended. changed: printing has begun or ended. printed: every page is printed.
    """

    said = Signal(str)
    changed = Signal()
    printed = Signal()

    def __init__(self, dialogs: PrintDialogs, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.dialogs = dialogs
        self._slicer = TimeSlicer(self)
        self._slicer.progressed.connect(self._go_on)
        self._slicer.done.connect(self._end)
        self._work: Generator[int, None, int] | None = None
        self._count, self._where = 0, ""

    @property
    def busy(self) -> bool:
        """Whether pages are being printed."""
        return self._work is not None

    def start(self, pages: tuple[Page, ...], title: str, unit: Unit) -> bool:
        """Ask for a printer, and print the pages there. Return False where the person changes their mind."""
        if self.busy:
            self.dialogs.show_message("Other pages are still being printed. Wait for them, or stop them first.")
            return False
        from app.printing.printed_pages import print_pages
        from app.ui.printer_paper import has_size, offers, page_size

        printer = self.dialogs.choose_printer(pages[0], title)
        if printer is None:
            return False
        lacking = next((page for page in pages if not offers(printer, page)), None)
        if lacking is not None:
            paper = page_size(lacking).name().split(" / ")[0]
            self.dialogs.show_message(
                f"The printer {printer.printerName()} has no {paper} paper. On other paper the sheets would be cut off, or not "
                "at full scale. Choose another printer, or a paper that this one has in the sheets’ card."
            )
            return False
        taken = printer.pageLayout().pageSize()
        if not has_size(taken, pages[0]):
            taken_name, planned = (size.name().split(" / ")[0] for size in (taken, page_size(pages[0])))
            sentence = (
                f"The printer is set to {taken_name}, and the sheets are made for {planned}. "
                f"On other paper they would be cut off, or not at full scale. Load {planned}, or choose another paper in "
                "the sheets’ card."
            )
            if self.dialogs.choose(sentence, (f"Print on {planned}", "Back to the drawing")) != 0:
                return False
        self._count, self._where = len(pages), printer.printerName() or "a file"
        self._work = self._caught(print_pages(pages, printer, unit))
        self.said.emit(self._progress(0))
        self.changed.emit()
        self._slicer.start(self._work)
        return True

    def stop(self) -> None:
        """Stop, and drop the job under way."""
        if self._work is None:
            return
        work, self._work = self._work, None
        self._slicer.stop()
        work.close()
        self.said.emit("Printing is stopped. Throw away the pages that came out.")
        self.changed.emit()

    def _caught(self, work: Generator[int, None, int]) -> Generator[int, None, int]:
        """Yield the pages done; where the printer takes no more, say why and return 0."""
        try:
            return (yield from work)
        except OwnerError as sentence:
            self.dialogs.show_message(str(sentence))
            return 0

    def _progress(self, done: int) -> str:
        return f"Printing on {self._where}: page {min(done + 1, self._count)} of {self._count} …"

    def _go_on(self, done: object) -> None:
        if isinstance(done, int) and self._work is not None:
            self.said.emit(self._progress(done))

    def _end(self, done: object) -> None:
        self._work = None
        if done:
            pages = "1 page is" if self._count == 1 else f"{self._count} pages are"
            self.said.emit(f"{pages} sent to {self._where}. Measure both bars before you mark anything.")
            self.printed.emit()
        else:
            self.said.emit("Nothing was printed.")
        self.changed.emit()
