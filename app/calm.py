"""Words at a pace that an eye can read, while a hand drags: the drawing keeps up with the hand, the panels take turns.

The collector rests as long: what a drag leaves behind is soon told, and a stop of 5 ms in the middle of one would be felt.
"""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

if TYPE_CHECKING:
    from app.desk import Desk
    from app.sight import Sight
    from geometry.judge.findings import Checked


class Panel(Protocol):
    """What takes what is shown."""

    def show_checked(self, checked: Checked, sight: Sight, /) -> None:
        """Show a checked design."""

    def isAncestorOf(self, child: QWidget, /) -> bool:  # noqa: N802 (Qt's name)
        """Tell whether a widget stands in it."""


TURN = 20  # ms from one panel's turn to the next's


class Calm(QObject):
    """Shows the panels what the desk shows: all at once where it stands, one after another in the middle of a drag.

    The panel in which the hand is at work is never kept waiting.

    Args:
        panels: the most urgent first.
    """

    def __init__(self, desk: Desk, panels: tuple[Panel, ...], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk, self._panels = desk, panels
        self._waiting: list[Panel] = []
        self._rested = False  # whether the collector was stopped here
        self._turn = QTimer(self, interval=TURN)
        self._turn.timeout.connect(self._next)

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show it now, or let the panels take turns."""
        if checked.design == self._desk.design:
            if self._rested:
                gc.enable()
                self._rested = False
            self._waiting.clear()
            self._turn.stop()
            for panel in self._panels:
                panel.show_checked(checked, sight)
            return
        if gc.isenabled():
            gc.disable()
            self._rested = True
        focus = QApplication.focusWidget()
        for panel in self._panels:
            if focus is not None and panel.isAncestorOf(focus):
                panel.show_checked(checked, sight)
            elif panel not in self._waiting:
                self._waiting.append(panel)
        if not self._turn.isActive():
            self._turn.start()

    def catch_up(self, *_told: object) -> None:
        """Show all who still wait what is on the desk: something is about to be told of it."""
        waiting, self._waiting = self._waiting, []
        for panel in waiting:
            panel.show_checked(self._desk.checked, self._desk.sight)

    def _next(self) -> None:
        """Show one panel what is on the desk by now."""
        if self._waiting:
            self._waiting.pop(0).show_checked(self._desk.checked, self._desk.sight)
        else:
            self._turn.stop()
