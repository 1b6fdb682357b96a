"""Brings a section that the program opened into sight. Nothing moves while a person works in the list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication

if TYPE_CHECKING:
    from PySide6.QtWidgets import QScrollArea, QWidget

SETTLED = (0, 40)  # ms after which the layout is settled


class SectionInSight(QObject):
    """Scrolls to an open section, its first lines before all, until a person works in the list.

    Args:
        area: the list of all sections.
    """

    def __init__(self, area: QScrollArea) -> None:
        super().__init__(area)
        self._area = area
        self._head: QWidget | None = None
        self._body: QWidget | None = None
        area.verticalScrollBar().rangeChanged.connect(self._scroll)
        area.verticalScrollBar().actionTriggered.connect(self.leave)

    def lead_to(self, head: QWidget, body: QWidget) -> None:
        """Bring a section into sight: at once, and again whenever the list has another height."""
        self._head, self._body = head, body
        for later in SETTLED:
            QTimer.singleShot(later, self, self._scroll)

    def leave(self, *_how: int) -> None:
        """Let the list stay where it is."""
        self._head = self._body = None

    def _scroll(self, *_range: int) -> None:
        focus = QApplication.focusWidget()
        if QApplication.mouseButtons() or (focus is not None and self._area.isAncestorOf(focus)):
            self.leave()
        if self._head is not None and self._body is not None:
            self._area.ensureWidgetVisible(self._body, 0, 0)
            self._area.ensureWidgetVisible(self._head, 0, 0)
