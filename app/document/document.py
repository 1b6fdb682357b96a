"""The open design, which is the only mutable object. Edits come in, and one signal goes out."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace
from PySide6.QtCore import QObject, Signal

from app.document.changed_parts import changed_parts
from app.document.files import FileState, lock_design, read_design, write_design
from app.document.history import History, Step
from app.document.view_state import ViewState
from geometry.design.design import forget_results
from geometry.design.differences import equal_designs
from geometry.design_text import fingerprint
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.readings.measures import measure

if TYPE_CHECKING:
    from pathlib import Path

    from app.document.file_lock import FileLock
    from geometry.design.design import Design


class Document(QObject):
    """Holds the open design: its history, its file, and the view state.

    Signals:
        shown: (Checked, ViewState), to show now. Views learn of a change by this signal only.
        present_shown: comes after ``shown`` for the present design, and not for a preview during a drag.
        begun: another boat is opened. It comes before ``shown``, so that no part goes on with the last boat.

    Attributes:
        history: the finished designs. Saving and printing read its present design, never a widget.
        checked: the design that was shown last: the present one, or a preview during a drag.
        view_state: the view state that was shown with it.
        path: the design's file; None before the first save.
        file_state: the state of that file when it was last read or written here; None before.
        elsewhere: whether another window had the file open when it was opened here.
    """

    shown = Signal(object, object)
    present_shown = Signal()
    begun = Signal()

    def __init__(self, design: Design, path: Path | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.file_state: FileState | None
        self._safe: tuple[Design, ...]
        self._on_paper: Design
        self._lock: FileLock | None = None
        self._begin(design, None, path)

    @property
    def design(self) -> Design:
        """The present design: the last finished one, also during a drag."""
        return self.history.present.design

    @property
    def undo_label(self) -> str:
        """The step that `undo` takes back; "" where there is none."""
        return self.history.present.label if self.history.past else ""

    @property
    def redo_label(self) -> str:
        """The step that `redo` does again; "" where there is none."""
        return self.history.future[0].label if self.history.future else ""

    @property
    def changed_since_saved(self) -> bool:
        """Whether the person would lose a change by closing now."""
        return self.design not in self._safe

    # Edits

    def preview(self, design: Design) -> None:
        """Show a design during a drag. This is no step."""
        self._show(design)

    def commit(self, label: str, design: Design) -> None:
        """Make ``design`` the present one, as the step ``label``. Without a change there is no step."""
        self._set(self.history.do(label, design))

    def cancel(self) -> None:
        """Show the present design again: Escape in a drag."""
        self._show(self.design)

    def undo(self) -> None:
        """Go back one step, if there is one."""
        self._go(self.history.undo())

    def redo(self) -> None:
        """Do the last undone step again, if there is one."""
        self._go(self.history.redo())

    def go_to(self, index: int) -> None:
        """Go to one of the history's steps, back or forward. Nothing is lost."""
        self._set(self.history.at(index))

    def set_view_state(self, view_state: ViewState) -> None:
        """Show the same design with another view state. This is no step."""
        self.view_state = view_state
        self._show(self.checked.design)

    # Files

    def new(self, design: Design) -> None:
        """Open ``design``, which has no file yet."""
        self._begin(design, None, None)
        self.cancel()

    def start(self, label: str, design: Design, before: Design) -> None:
        """Open ``design``, as the step ``label`` after ``before``. Neither counts as a change to save."""
        self._begin(before, None, None)
        self._safe = before, design
        self.commit(label, design)
        self.cancel()

    def open(self, path: Path) -> None:
        """Open the design in ``path``.

        Raises:
            OwnerError: it can't be read; everything stays as it was.
        """
        design, file_state = read_design(path)
        self._begin(design, file_state, path.absolute())
        self.cancel()

    def recover(self, label: str, design: Design, file_state: FileState | None) -> None:
        """Open a design that a crash left, as the step ``label`` after the design in its file.

        Args:
            file_state: the state of its file then. Where the file has changed since, `save` refuses to replace it.
        """
        before = design
        if file_state is not None:
            with suppress(OwnerError):  # missing or damaged by now: there is nothing to go back to
                before, now = read_design(file_state.path)
                if before == design:  # the process was killed right after it saved: nobody else wrote there
                    file_state = now
        self._begin(before, file_state, file_state.path if file_state else None)
        self._safe = ()
        self.commit(label, design)
        self.cancel()

    def save(self, path: Path | None = None, *, over: bool = False) -> None:
        """Write the present design to ``path``, else to its own file.

        Under another name a demonstration becomes the person's boat, and undo does not change that.

        Args:
            over: whether another design that is there may be lost.

        Raises:
            OwnerError: nothing was written, and why; everything stays as it was.
        """
        target = path.absolute() if path else self.path
        if target is None:
            raise ValueError("a design without a file is saved under a name")
        written, file_state = write_design(target, self.design, self.file_state, over=over)
        if target != self.path:
            self._take(target)
        self.file_state, self._safe = file_state, (written,)
        self._everywhere(demonstration=written.demonstration)

    def close(self) -> None:
        """Release the file's lock."""
        self._take(None)

    def for_a_sheet(self) -> Design:
        """Return the present design for a sheet. Raise its revision at the first sheet after a change.

        Undo does not lower the revision: no two sheets of different holes share a number.
        """
        if fingerprint(self.design) != fingerprint(self._on_paper):
            self._on_paper = self.design
            self._everywhere(revision=self.design.revision + 1)
        return self.design

    def _begin(self, design: Design, file_state: FileState | None, path: Path | None) -> None:
        checked = check(design)
        self.checked, self.history = checked, History(Step("", design))
        self.view_state = ViewState()
        self.file_state, self._safe, self._on_paper = file_state, (design,), design
        self._take(path)
        self.begun.emit()

    def _take(self, path: Path | None) -> None:
        """Take the lock of ``path``, and release the last one."""
        if self._lock is not None:
            self._lock.release()
        self.path = path
        self._lock = lock_design(path) if path else None
        self.elsewhere = path is not None and self._lock is None

    def _everywhere(self, **fields: bool | int) -> None:
        self._set(self.history.everywhere(lambda design: msgspec.structs.replace(design, **fields)))

    def _go(self, history: History) -> None:
        """Go back or forward, and light the parts that change."""
        parts = changed_parts(self.design, history.present.design)
        self.view_state = replace(self.view_state, flash=parts or self.view_state.flash)
        self._set(history)

    def _set(self, history: History) -> None:
        if history.present.design != self.design:
            self.view_state = replace(self.view_state, ghost=None)
        if history.present.design != self.checked.design:
            self.checked = check(history.present.design)  # first: an uncheckable design must not become the present one
        left, self.history = self.design, history
        self._show(self.design)
        if left is not self.design:
            forget_results(left)  # else each step would keep its bolts and planes: 16 kB for one motor, and not 2

    def _show(self, design: Design) -> None:
        if not equal_designs(design, self.checked.design):
            self.checked = check(design, self.checked)
        if self.view_state.mount >= max(1, len(design.mounts)):
            self.view_state = replace(self.view_state, mount=0)
        lit = self.view_state.lit
        if lit and measure(design, lit) is None:  # undone or removed: there is nothing to light
            self.view_state = replace(self.view_state, lit="")
        self.shown.emit(self.checked, self.view_state)
        if design is self.design:
            self.present_shown.emit()
