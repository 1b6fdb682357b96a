"""Words at a pace that an eye can read, while a hand drags: the drawing keeps up with the hand, the panels take turns.

The collector rests as long: what a drag leaves behind is soon told, and a stop of 5 ms in the middle of one would be felt.
"""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from geometry.design.differences import equal_designs

if TYPE_CHECKING:
    from app.document.document import Document
    from app.document.view_state import ViewState
    from geometry.judge.findings import Checked


def button_is_held() -> bool:
    """Tell whether a mouse button is held: a drag may be on."""
    return QApplication.mouseButtons() != Qt.MouseButton.NoButton


class Panel(Protocol):
    """What takes what is shown."""

    def show_checked(self, checked: Checked, view_state: ViewState, /) -> None:
        """Show a checked design."""

    def isAncestorOf(self, child: QWidget, /) -> bool:  # noqa: N802 (Qt's name)
        """Tell whether a widget stands in it."""


TURN = 20  # ms from one panel's turn to the next's


class Throttle(QObject):
    """Shows the document to the panels: to all at once at rest, to one after another in the middle of a drag.

    The panel in which the hand is at work is never kept waiting.

    Args:
        panels: the most urgent first. often: one more, which has every other turn.
    """

    def __init__(self, document: Document, panels: tuple[Panel, ...], often: Panel, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document, self._panels, self._often = document, (often, *panels), often
        self._waiting: list[Panel] = []
        self._last: Panel | None = None  # who had the last turn
        self._rested = False  # whether the collector was stopped here
        self._turn = QTimer(self, interval=TURN)
        self._turn.timeout.connect(self._next)
        document.present_shown.connect(self._stand)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show it now, or let the panels take turns."""
        if equal_designs(checked.design, self._document.design):
            self._waiting.clear()
            self._turn.stop()
            for panel in self._panels:
                panel.show_checked(checked, view_state)
            return
        if gc.isenabled():
            gc.disable()
            self._rested = True
        focus = QApplication.focusWidget()
        for panel in self._panels:
            if focus is not None and panel.isAncestorOf(focus):
                panel.show_checked(checked, view_state)
            elif panel not in self._waiting:
                self._waiting.append(panel)
        if not self._turn.isActive():
            self._turn.start()

    def _stand(self) -> None:
        """Let the collector go on: the drag is over."""
        if self._rested:
            gc.enable()
            self._rested = False

    def catch_up(self, *_told: object) -> None:
        """Show the open design to every panel that still waits: something is about to be said of it."""
        waiting, self._waiting = self._waiting, []
        for panel in waiting:
            panel.show_checked(self._document.checked, self._document.view_state)

    def _next(self) -> None:
        """Show one panel the open design."""
        if not self._waiting:
            self._turn.stop()
            return
        often = self._last is not self._often and self._often in self._waiting
        self._last = self._often if often else self._waiting[0]
        self._waiting.remove(self._last)
        self._turn.setInterval(2 * TURN if often else TURN)  # what comes often is a drawing, and has yet to be painted
        self._last.show_checked(self._document.checked, self._document.view_state)
