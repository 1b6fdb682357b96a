"""Slows the panels down during a drag: the drawing follows the hand at once, and the panels take turns.

The garbage collector is off during a drag. A drag leaves little garbage, and a person would feel a stop of 5 ms.
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
    """Return whether a mouse button is held: a drag may be going on."""
    return QApplication.mouseButtons() != Qt.MouseButton.NoButton


class Panel(Protocol):
    """A panel that shows the checked design."""

    def show_checked(self, checked: Checked, view_state: ViewState, /) -> None:
        """Show a checked design."""

    def isAncestorOf(self, child: QWidget, /) -> bool:  # noqa: N802 (Qt's name)
        """Return whether a widget is in it."""


TURN = 20  # ms from one panel's turn to the next


class Throttle(QObject):
    """Shows the document to the panels: to all at once at rest, to one after another during a drag.

    The panel with the focus never waits.

    Args:
        panels: the panels, the most urgent first. often: a panel that has every other turn.
    """

    def __init__(self, document: Document, panels: tuple[Panel, ...], often: Panel, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document, self._panels, self._often = document, (often, *panels), often
        self._waiting: list[Panel] = []
        self._last: Panel | None = None  # the panel that had the last turn
        self._collector_stopped = False  # whether this object stopped the collector
        self._turn = QTimer(self, interval=TURN)
        self._turn.timeout.connect(self._next)
        document.present_shown.connect(self._end_drag)

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
            self._collector_stopped = True
        focus = QApplication.focusWidget()
        for panel in self._panels:
            if focus is not None and panel.isAncestorOf(focus):
                panel.show_checked(checked, view_state)
            elif panel not in self._waiting:
                self._waiting.append(panel)
        if not self._turn.isActive():
            self._turn.start()

    def _end_drag(self) -> None:
        """Start the collector again: the drag is over."""
        if self._collector_stopped:
            gc.enable()
            self._collector_stopped = False

    def catch_up(self, *_ready: object) -> None:
        """Show the open design to every panel that still waits, since results for it are ready."""
        waiting, self._waiting = self._waiting, []
        for panel in waiting:
            panel.show_checked(self._document.checked, self._document.view_state)

    def _next(self) -> None:
        """Show the open design to the next panel."""
        if not self._waiting:
            self._turn.stop()
            return
        often = self._last is not self._often and self._often in self._waiting
        self._last = self._often if often else self._waiting[0]
        self._waiting.remove(self._last)
        self._turn.setInterval(2 * TURN if often else TURN)  # this one is a drawing, and needs time to paint
        self._last.show_checked(self._document.checked, self._document.view_state)
