"""The three lines that the first start shows over the drawing, until they are put away."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.ui.basic_widgets import Button, ground, words

LINES = (
    "This is the demonstration boat. Its sheets are marked so that nobody drills by them.",
    "Drag a hole or the bracket, or type on the card: all is checked at once.",
    "Your own boat: Boat, New. Then measure down the card; F1 tells how.",
)


class Hint(QWidget):
    """Three lines.

    Signals:
        read: they are put away.
    """

    read = Signal()

    def __init__(self) -> None:
        super().__init__()
        ground(self, "sheet")
        self.setAccessibleName("Hint")
        self.setAccessibleDescription(" ".join(LINES))
        row = QHBoxLayout(self)
        row.setContentsMargins(24, 8, 16, 8)
        row.setSpacing(16)
        column = QVBoxLayout()
        column.setSpacing(2)
        for line in LINES:
            column.addWidget(words(line, wrap=True))
        row.addLayout(column, 1)
        self.button = Button("Put away", high=30)
        self.button.setAccessibleName("Put the hint away")
        self.button.clicked.connect(self._put_away)
        row.addWidget(self.button)
        self.hide()

    def _put_away(self) -> None:
        self.hide()
        self.read.emit()
