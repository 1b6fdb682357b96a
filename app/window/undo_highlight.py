"""Lights the parts that undo has changed, for one second."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QObject, QTimer

if TYPE_CHECKING:
    from app.document.document import Document
    from app.document.view_state import ViewState

LIT = 1000  # ms


class UndoHighlight(QObject):
    """Ends the highlight of changed parts.

    Attributes:
        timer: runs while parts are lit. They go dark when it ends.
    """

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._lit: tuple[str, ...] = ()
        self.timer = QTimer(self, interval=LIT, singleShot=True)
        self.timer.timeout.connect(self._end)

    def show_checked(self, _checked: object, view_state: ViewState) -> None:
        """Start the timer where parts have been lit."""
        if view_state.flash and view_state.flash != self._lit:
            self.timer.start()
        self._lit = view_state.flash

    def _end(self) -> None:
        self._document.set_view_state(replace(self._document.view_state, flash=()))
