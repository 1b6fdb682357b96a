"""The mode that makes the sheets: entering and leaving it, its options, and saving the pages that are shown."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from msgspec.structs import replace
from PySide6.QtCore import QObject, Signal

from app.document.settings import printer_names
from app.printing.page_maker import Made, PageMaker
from app.printing.sheet_kinds import SHEET_KINDS
from app.printing.sheet_set import PrintOptions, SheetSet, keep, kept, usual_options
from app.ui.dates import today
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from pathlib import Path

    from app.document.document import Document
    from app.document.view_state import ViewState
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page
    from templates_out.drawing.printer import Correction


class SheetFiles(Protocol):
    """The files, as the making of sheets uses them."""

    def sheets_name(self) -> Path | None:
        """Ask where all sheets together go; None where the person changes their mind."""

    def drawings_name(self) -> Path | None:
        """Ask where the drawings go; None where the person changes their mind."""

    def write(self, path: Path, raw: bytes) -> bool:
        """Write a file; return False where that failed, and the person has read why."""

    def write_drawings(self, path: Path, drawn: tuple[tuple[str, str], ...]) -> tuple[Path, ...]:
        """Write drawings, the first under this name; return their paths, none where nothing was written."""

    def show_error(self, sentence: OwnerError) -> None:
        """Say one sentence, until it is read."""

    def print_pages(self, pages: tuple[Page, ...], title: str) -> bool:
        """Print pages through the system's dialog; return False where the person changes their mind."""

    def stop_printing(self) -> None:
        """Stop printing."""

    def show_file(self, path: Path) -> None:
        """Open a file in the system's own viewer."""


class SheetsMode(QObject):
    """Holds the print options, and asks for new sheets when design or options change.

    Signals:
        options_changed: the PrintOptions as they are now. planned: a SheetSet, None where there are no sheets.
        pictured: (number, QImage). said: the progress. refused: why no sheets can be made, "" where they can.
        saved: the path that was written. worked: "making" while sheets are made, "stopped" after a stop, else "".
    """

    options_changed = Signal(object)
    planned = Signal(object)
    pictured = Signal(int, object)
    said = Signal(str)
    refused = Signal(str)
    saved = Signal(object)
    worked = Signal(str)

    def __init__(self, document: Document, files: SheetFiles, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document, self._files = document, files
        self._maker = PageMaker(self)
        self._maker.begun.connect(lambda name: self.said.emit(f"Making the sheets: {name.lower()} …"))
        self._maker.planned.connect(self._plan)
        self._maker.pictured.connect(self.pictured)
        self._maker.made.connect(self._take)
        self._maker.refused.connect(self._refuse)
        self._maker.drawn.connect(self._write_drawings)
        self._asked: tuple[Design, PrintOptions] | None = None
        self._options: PrintOptions | None = None
        self._target: Path | None = None
        self._prints = False  # as soon as the sheets are made
        self._drawings: Path | None = None
        self.made: Made | None = None
        self.path: Path | None = None

    @property
    def options(self) -> PrintOptions:
        """The present options."""
        return self._options or replace(usual_options(self._document.design), known=printer_names())

    def enter(self) -> None:
        """Make the sheets, of the present design: what is in the middle of a drag is dropped."""
        self._document.cancel()
        self._document.set_view_state(replace(self._document.view_state, sheets=True, tool="", lit="", chosen="", ghost=None))

    def leave(self) -> None:
        """Go back to the drawing; what is under way is dropped."""
        self._target, self._prints = None, False
        self._document.set_view_state(replace(self._document.view_state, sheets=False))

    def forget(self) -> None:
        """Begin with the usual options for another boat. Paper, bars and sheets belonged to the last one."""
        self._options = None

    def ask(self, options: PrintOptions) -> None:
        """Take other options. Another printer or paper gets its saved correction, and its bars are to be measured.

        A first name for a printer without one makes no other printer: its correction is saved under that name.
        """
        before = self.options
        if (options.printer.casefold(), options.paper) != (before.printer.casefold(), before.paper):
            saved = self._kept(options.printer, options.paper)
            if saved is not None or before.printer or options.paper != before.paper:
                options = replace(options, before=saved, correct=True, across=None, up=None)
            elif options.before is not None:
                keep(options.printer, options.paper, options.before)
                options = replace(options, known=printer_names())
        self._options = options
        self.show_checked(self._document.checked, self._document.view_state)

    def _kept(self, name: str, paper: str) -> Correction | None:
        """Return the saved correction of a printer; None, and say why, where it is impossible."""
        try:
            return kept(name, paper)
        except OwnerError as sentence:
            self._files.show_error(sentence)
            return None

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Make the sheets of what is shown, where they are being made and something has changed."""
        if not view_state.sheets:
            if self._asked is not None:
                self._maker.stop()
                self._asked = self.made = None
                self.planned.emit(None)
                self.said.emit("")
                self.worked.emit("")
            return
        asked = checked.design, self.options
        if asked == self._asked:
            return
        self._asked, self.made = asked, None
        self.options_changed.emit(self.options)
        self.said.emit("Making the sheets …")
        self.worked.emit("making")
        self._maker.make(checked, self.options, today())

    def stop(self) -> None:
        """Stop making the sheets. `go_on`, or another option, makes them."""
        if self._asked is not None and self.made is None:
            self._maker.stop()
            self._target, self._prints = None, False
            self.said.emit("Stopped. The sheets are not made.")
            self.worked.emit("stopped")

    def go_on(self) -> None:
        """Make the sheets again after a stop."""
        self._asked = None
        self.show_checked(self._document.checked, self._document.view_state)

    def print_all(self) -> None:
        """Print all sheets through the system's dialog: at once where they are made, else as soon as they are."""
        self._document.for_a_sheet()
        if self.made is not None and self.made.sheets.checked.design == self._document.design:
            self._print(self.made)
        else:
            self._prints = True

    def _print(self, made: Made) -> None:
        self._prints = False
        if self._files.print_pages(made.sheets.pages, f"{made.sheets.checked.design.name}: sheets"):
            self._keep(made)

    def save(self) -> None:
        """Ask where the PDF goes, and write it: at once where it is made, else as soon as it is."""
        path = self._files.sheets_name()
        if path is None:
            return
        self._target = path
        self._document.for_a_sheet()
        if self.made is not None and self.made.sheets.checked.design == self._document.design:
            self._write(self.made)

    def save_drawings(self) -> None:
        """Ask where the drawings go, and write what is chosen among them as SVG."""
        path = self._files.drawings_name()
        if path is None:
            return
        self._drawings = path
        self._document.for_a_sheet()
        drawn = [kind for kind in SHEET_KINDS.values() if kind.svgs is not None and kind.there(self._document.design)]
        chosen = [kind for kind in drawn if kind.key in self.options.kinds] or drawn[:1]
        self._maker.draw(self._document.checked, tuple(kind.key for kind in chosen), today())

    def show_file(self) -> None:
        """Open the saved file in the system's viewer."""
        if self.path is not None:
            self._files.show_file(self.path)

    def _plan(self, sheets: SheetSet) -> None:
        self.refused.emit("")
        self.planned.emit(sheets)

    def _take(self, made: Made) -> None:
        self.made = made
        self.said.emit("")
        self.worked.emit("")
        if self._prints:
            self._print(made)
        if self._target is not None:
            self._write(made)

    def _write(self, made: Made) -> None:
        path, self._target = self._target, None
        if path is not None and self._files.write(path, made.pdf):
            count = len(made.sheets.pages)
            self.path = path
            pages = "page" if count == 1 else "pages"
            self.said.emit(f"{count} {pages} in {path.name}. Measure both bars before you mark anything.")
            self.saved.emit(path)
            self._keep(made)

    def _keep(self, made: Made) -> None:
        """From here on, bars are those of the print just saved; what it was corrected by is kept for its printer."""
        options, correction = made.sheets.options, made.sheets.correction
        if options.across is None and options.up is None:
            return
        if options.printer:
            keep(options.printer, options.paper, correction)
        self._options = replace(options, before=correction, correct=True, across=None, up=None, known=printer_names())
        self._asked = made.sheets.checked.design, self._options  # the same pages: nothing to make again
        self.options_changed.emit(self._options)

    def _write_drawings(self, drawn: tuple[tuple[str, str], ...] | OwnerError) -> None:
        path, self._drawings = self._drawings, None
        if path is None:
            return
        if isinstance(drawn, OwnerError):
            self._files.show_error(drawn)
            return
        written = self._files.write_drawings(path, drawn)
        if written:
            count = len(written)
            self.said.emit(f"{count} {'drawing' if count == 1 else 'drawings'} in millimetres, in {written[0].name}"
                           f"{' and next to it' if count > 1 else ''}.")

    def _refuse(self, sentence: str) -> None:
        self._target, self._prints = None, False
        self.worked.emit("")
        self.planned.emit(None)
        self.said.emit(sentence)
        self.refused.emit(sentence)
