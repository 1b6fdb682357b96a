"""What undo has changed stays lit for one second."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QObject, QTimer

if TYPE_CHECKING:
    from app.document.document import Document
    from app.document.selection import Sight

LIT = 1000  # ms


class Afterglow(QObject):
    """Lets what is lit go dark again.

    Attributes:
        timer: runs while something is lit; what is lit goes dark when it ends.
    """

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._lit: tuple[str, ...] = ()
        self.timer = QTimer(self, interval=LIT, singleShot=True)
        self.timer.timeout.connect(self._end)

    def show_checked(self, _checked: object, sight: Sight) -> None:
        """Begin to count where something has been lit."""
        if sight.flash and sight.flash != self._lit:
            self.timer.start()
        self._lit = sight.flash

    def _end(self) -> None:
        self._document.look(replace(self._document.sight, flash=()))
