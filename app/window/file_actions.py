"""The window's file actions: open and save boats, write sheets, and ask before anything is lost."""

from __future__ import annotations

import os
import re
import time
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.card.next_step import first_view_state
from app.document.examples import DEMONSTRATION, demonstration
from app.document.files import ENDING, read_design, reason
from app.document.outputs import write_output
from app.document.settings import remember_boat
from app.ui.dates import today
from app.ui.timeslice import TimeSlicer
from geometry.design.design import LONGEST_NAME
from geometry.design_text import NewerError
from geometry.edits.edits import rename
from geometry.edits.starting_shapes import blank
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from PySide6.QtCore import QUrl

    from app.document.document import Document
    from app.printing.page_printer import PagePrinter
    from app.printing.sheet_kinds import SheetKind
    from app.ui.dialogs import Dialogs
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page

_BOATS = f"Boats (*{ENDING})"
_PAGES = "PDF (*.pdf)"
_DRAWINGS = "SVG (*.svg)"


class FileActions(QObject):
    """Opens and saves boats, and writes sheets.

    Signals:
        said: one sentence on the result. saved: "saved 10:42", "not saved yet" and the like.
        printing_changed: printing has begun or ended. printed: every page is printed.
        boat_opened: another boat is open. settling: before a boat is saved or closed; entries take their typed text.

    Attributes:
        recover_unsaved: opens the design that a crash left of a file, and returns a sentence; "" where there is none.
    """

    said = Signal(str)
    saved = Signal(str)
    boat_opened = Signal()
    settling = Signal()
    printing_changed = Signal()
    printed = Signal()

    def __init__(self, document: Document, dialogs: Dialogs, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document, self._dialogs = document, dialogs
        self._slicer = TimeSlicer(self)
        self._slicer.progressed.connect(lambda page: self.said.emit(f"Writing sheet {page} …"))
        self._slicer.done.connect(self._write)
        self._target: tuple[Path, str] | None = None
        self._at = ""
        self.recover_unsaved: Callable[[Path], str] = lambda _path: ""

    # Boats

    def open(self) -> None:
        """Ask for a boat and open it."""
        if self.may_leave():
            path = self._dialogs.open_name(self._folder(), _BOATS)
            if path is not None:
                self._open(path)

    def open_path(self, path: Path) -> None:
        """Open a recent boat."""
        if self.may_leave():
            self._open(path)

    def begin(self, title: str, design: Design) -> None:
        """Start a boat with a starting shape. The shape is a step after a blank sheet."""
        if not self.may_leave():
            return
        self._at = ""
        self._document.start(title, design, blank(design.units))
        self._arrive()

    def open_dropped(self, urls: Sequence[QUrl]) -> None:
        """Open the boat that was dropped on the window."""
        path = next((Path(url.toLocalFile()) for url in urls if url.isLocalFile()), None)
        if path is not None and self.may_leave():
            self._open(path)

    def open_demonstration(self, key: str = DEMONSTRATION) -> None:
        """Open a demonstration boat."""
        if self.may_leave():
            self._at = ""
            self._document.new(demonstration(key))
            self._arrive()

    def opened(self, said: str) -> None:
        """Keep a backup of an opened boat's file. Where the file can't be read, say so.

        Args:
            said: the sentence about a design that a crash left; "" where the boat comes from its file.
        """
        from app.document.backups import save_backup

        file_state = self._document.file_state
        if self._document.elsewhere:
            self.said.emit(f"{said} Another window has this boat open. Save yours under a new name.".lstrip())
        if file_state is None:
            return
        save_backup(file_state)
        try:
            if said:  # its file may be missing or damaged by now
                read_design(file_state.path)
        except OwnerError as sentence:
            stays = "The file stays as it is. Save under another name."
            goes = stays if os.path.exists(file_state.path) else "Saving puts the file back."
            self._dialogs.show_message(f"{reason(sentence)}\n\n{said} {goes}")

    def refuse(self, path: Path, sentence: OwnerError) -> None:
        """Say why a file can't be opened, and offer its backup.

        A newer program's file is not damaged, so it gets no old backup.
        """
        from app.document.backups import load_backup

        copy = None if isinstance(sentence, NewerError) else load_backup(path)
        if copy is None:
            self.show_error(sentence)
            return
        at = time.strftime("%Y-%m-%d at %H:%M", time.localtime(copy.at))
        offer = f"{reason(sentence)}\n\nBoltwell kept a copy when this boat was last opened or saved here, on {at}."
        if self._dialogs.choose(offer, ("Open the copy", "Go on without")) == 0:
            self._at = ""
            self._document.recover("", copy.design, copy.file_state)
            self._arrive()
            self.said.emit(f"This is the copy of {at}.")

    def save(self) -> bool:
        """Save to the boat's file, else ask for a name; False where it was not saved."""
        self.settling.emit()
        if self._document.path is None or self._document.design.demonstration:
            return self.save_as()
        try:
            self._save()
        except OwnerError as sentence:
            answer = self._dialogs.choose(str(sentence), ("Save under another name…", "Back to the drawing"))
            return answer == 0 and self.save_as(f" 2{ENDING}")
        return True

    def save_as(self, ending: str = ENDING) -> bool:
        """Ask for a name and save under it; False where it was not saved.

        Args:
            ending: the end of the proposed name, after the boat's name.
        """
        self.settling.emit()
        path = self._save_name("Save the boat", self._proposed(ending), _BOATS)
        return path is not None and self._try(lambda: self._save(path, over=True))

    def may_leave(self) -> bool:
        """Ask what to do with unsaved changes; False where the person stays."""
        self.settling.emit()
        if not self._document.changed_since_saved:
            return True
        name = self._document.design.name or "this boat"
        answer = self._dialogs.choose(f"Save the changes to {name}?", ("Save", "Don’t save", "Back to the drawing"))
        return self.save() if answer == 0 else answer == 1

    def show_checked(self, _checked: Checked, _view_state: object) -> None:
        """Say whether the boat is saved."""
        if self._document.changed_since_saved:
            self.saved.emit("not saved" if self._document.path is None or not self._at else f"changed since {self._at}")
        else:
            self.saved.emit(f"saved {self._at}" if self._at else "")

    # Sheets

    def sheet(self, key: str) -> None:
        """Ask whether one kind of sheet is printed or saved, and do it."""
        from app.printing.sheet_kinds import SHEET_KINDS

        kind = SHEET_KINDS[key]
        answers = "Print…", "Save the PDF…", "Back to the drawing"
        answer = self._dialogs.choose(f"Print the {kind.what}, or save it as a PDF?", answers)
        if answer == 0:
            self._try(lambda: self._print_sheet(kind))
        if answer != 1:
            return
        path = self._save_name(f"Save the {kind.what}", self._proposed(f" {kind.what}.pdf"), _PAGES)
        if path is not None:
            self._try(lambda: self._sheet(kind, path))

    def sheets_name(self) -> Path | None:
        """Ask where all sheets together go; None where the person cancels."""
        return self._save_name("Save the PDF", self._proposed(" sheets.pdf"), _PAGES)

    def drawings_name(self) -> Path | None:
        """Ask where the drawings go; None where the person cancels."""
        return self._save_name("Save the drawings", self._proposed(" drawings.svg"), _DRAWINGS)

    def write_drawings(self, path: Path, drawings: tuple[tuple[str, str], ...]) -> tuple[Path, ...]:
        """Write drawings, the first under this name; return their files, none where they were not written.

        The names of the others are known only here, so this asks before it replaces them.
        """
        from app.printing.print_jobs import svg_paths, write_svgs

        there = [other.name for other in svg_paths(path, drawings)[1:] if os.path.exists(other)]
        if there and self._dialogs.choose(_there(*there), ("Replace", "Back to the drawing")) != 0:
            return ()
        written: list[Path] = []
        self._try(lambda: written.extend(write_svgs(path, drawings, force=True)))
        return tuple(written)

    def show_error(self, sentence: OwnerError) -> None:
        """Show an error until the person has read it."""
        self._dialogs.show_message(str(sentence))

    def write(self, path: Path, raw: bytes) -> bool:
        """Write a file; False where that failed, and the person has read why."""
        return self._try(lambda: write_output(path, raw, force=True))

    @cached_property
    def printer(self) -> PagePrinter:
        """Prints pages; made when it is first wanted."""
        from app.printing.page_printer import PagePrinter

        made = PagePrinter(self._dialogs, self)
        made.said.connect(self.said)
        made.changed.connect(self.printing_changed)
        made.printed.connect(self.printed)
        return made

    def print_pages(self, pages: tuple[Page, ...], title: str) -> bool:
        """Print pages through the system's dialog; False where the person changes their mind."""
        self.printer.dialogs = self._dialogs
        return self.printer.start(pages, title, self._document.design.units)

    def stop_printing(self) -> None:
        """Stop printing."""
        self.printer.stop()

    def show_file(self, path: Path) -> None:
        """Open a file in the system's own viewer."""
        if not self._dialogs.show_file(path):
            self.said.emit(f"No program on this computer opens a PDF. It is in {path}.")

    def _print_sheet(self, kind: SheetKind) -> None:
        self.print_pages(self._pages(kind), f"{self._document.design.name}: {kind.what}")

    def _pages(self, kind: SheetKind) -> tuple[Page, ...]:
        from app.printing.sheet_kinds import pages_of, usual_paper
        from templates_out.drawing.printer import Printing

        self._document.for_a_sheet()
        return tuple(pages_of(kind, self._document.checked, Printing(today(), usual_paper(self._document.design))))

    def _sheet(self, kind: SheetKind, path: Path) -> None:
        from templates_out.drawing.pdf import write_pdf

        design, pages = self._document.design, self._pages(kind)
        count = f"{len(pages)} {'page' if len(pages) == 1 else 'pages'}"
        self._target = path, f"{kind.title}: {count} in {path.name}"
        self._slicer.start(write_pdf(pages, f"{design.name}: {kind.what}", today()))

    def _write(self, raw: bytes) -> None:
        if self._target is None:
            return
        (path, sentence), self._target = self._target, None
        if self.write(path, raw):
            self.said.emit(sentence)

    # Inside

    def _open(self, path: Path) -> None:
        said = self.recover_unsaved(path)
        try:
            if not said:
                self._document.open(path)
        except OwnerError as sentence:
            self.refuse(path, sentence)
            return
        remember_boat(path)
        self._at = ""
        self._arrive()
        if said:
            self.said.emit(said)
        self.opened(said)

    def _arrive(self) -> None:
        self._document.set_view_state(first_view_state(self._document.checked))
        self.boat_opened.emit()

    def _save(self, path: Path | None = None, *, over: bool = False) -> None:
        from app.document.backups import save_backup

        if path is not None and not self._document.design.name:
            self._document.commit(f"Name {path.stem}", rename(self._document.design, path.stem[:LONGEST_NAME]))
        before, self._at = self._at, time.strftime("%H:%M")
        try:
            self._document.save(path, over=over)
        except OwnerError:
            self._at = before
            raise
        if self._document.path is not None and self._document.file_state is not None:
            remember_boat(self._document.path)
            save_backup(self._document.file_state)

    def _save_name(self, title: str, proposed: Path, kinds: str) -> Path | None:
        """Ask where to save, and ask before a file is replaced; None where the person cancels."""
        while True:
            typed = self._dialogs.save_name(title, proposed, kinds)
            if typed is None:
                return None
            path = _with_ending(typed, proposed.suffix)
            if not os.path.lexists(path):
                return path
            answer = self._dialogs.choose(_there(path.name), ("Choose another name…", "Replace it", "Back to the drawing"))
            if answer != 0:
                return path if answer == 1 else None
            proposed = path

    def _try(self, act: Callable[[], object]) -> bool:
        try:
            act()
        except OwnerError as sentence:
            self._dialogs.show_message(str(sentence))
            return False
        return True

    def _folder(self) -> Path:
        return self._document.path.parent if self._document.path is not None else Path.home()

    def _proposed(self, ending: str) -> Path:
        name = re.sub(r'[\\/:*?"<>|\x00-\x1f]', " ", self._document.design.name).strip() or "boat"
        return self._folder() / f"{name}{ending}"


def _with_ending(path: Path, ending: str) -> Path:
    """Return the typed name of a file, with its ending where the person left it out."""
    return path if path.suffix.lower() == ending else path.with_name(f"{path.name}{ending}")


def _there(*names: str) -> str:
    """Return the sentence that files exist already."""
    if len(names) == 1:
        return f"{names[0]} is there already, and what it holds would be lost."
    return f"{', '.join(names)} are there already, and what they hold would be lost."
