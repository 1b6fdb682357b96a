"""Slows the panels down during a drag: the drawing follows the hand, and the panels with many words wait until it rests.

The ring and the answer take turns; card, findings and ladder follow once the hand rests, or at the end of the drag. A step
in which one of these three was filled again took 3 to 8 ms longer.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from geometry.design.differences import equal_designs

if TYPE_CHECKING:
    from app.document.document import Document
    from app.document.view_state import ViewState
    from geometry.judge.findings import Checked


def button_is_held() -> bool:
    """Return whether a mouse button is held: a drag may be going on."""
    return QApplication.mouseButtons() != Qt.MouseButton.NoButton


class Panel(Protocol):
    """A panel that shows the checked design."""

    def show_checked(self, checked: Checked, view_state: ViewState, /) -> None:
        """Show a checked design."""

    def isAncestorOf(self, child: QWidget, /) -> bool:  # noqa: N802 (Qt's name)
        """Return whether a widget is in it."""


TURN = 40  # ms from the turn of one quick panel to that of the next
REST = 120  # ms without a step after which every panel shows the design, though the button is still held


class Throttle(QObject):
    """Shows the document to the panels: to all at once at rest, else as far as the drag leaves time for it.

    The panel with the focus never waits.

    Args:
        quick: panels that take turns during a drag. slow: panels that wait until the hand rests.
    """

    def __init__(self, document: Document, quick: tuple[Panel, ...], slow: tuple[Panel, ...], parent: QObject) -> None:
        super().__init__(parent)
        self._document, self._quick, self._panels = document, quick, (*quick, *slow)
        self._waiting: list[Panel] = []
        self._turn = QTimer(self, interval=TURN)
        self._turn.timeout.connect(self._next)
        self._rest = QTimer(self, interval=REST, singleShot=True)
        self._rest.timeout.connect(self.catch_up)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show it now, or let the panels wait."""
        if equal_designs(checked.design, self._document.design):
            self._waiting.clear()
            self._turn.stop()
            self._rest.stop()
            for panel in self._panels:
                panel.show_checked(checked, view_state)
            return
        focus = QApplication.focusWidget()
        for panel in self._panels:
            if focus is not None and panel.isAncestorOf(focus):
                panel.show_checked(checked, view_state)
            elif panel not in self._waiting:
                self._waiting.append(panel)
        self._rest.start()
        if not self._turn.isActive():
            self._turn.start()

    def catch_up(self, *_ready: object) -> None:
        """Show the open design to every panel that still waits, since the hand rests or results for it are ready."""
        waiting, self._waiting = self._waiting, []
        for panel in waiting:
            panel.show_checked(self._document.checked, self._document.view_state)

    def _next(self) -> None:
        """Show the open design to the quick panel that waits longest."""
        panel = next((each for each in self._waiting if each in self._quick), None)
        if panel is None:
            self._turn.stop()
            return
        self._waiting.remove(panel)
        panel.show_checked(self._document.checked, self._document.view_state)
