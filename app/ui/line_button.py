"""A line of a list that can be pressed: its focus, its cursor and its keys."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QAbstractButton

from app.ui.basic_widgets import shows_focus
from app.ui.palette import of


class LineButton(QAbstractButton):
    """A line that can be pressed. Enter presses it, as Space does; Up and Down go to the next one.

    Signals:
        stepped: go to the line before it (-1), or after it (1).
    """

    stepped = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Press it, or go on."""
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(1 if event.key() == Qt.Key.Key_Down else -1)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def paint_focus(self, painter: QPainter) -> None:
        """Draw the frame of the focus."""
        if shows_focus(self):
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(of(self)["new"], 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(4, 1, -6, -1))
