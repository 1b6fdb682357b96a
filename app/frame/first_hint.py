"""The hint of the first start: three lines above the drawing, until the person dismisses them."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.ui.basic_widgets import Button, ground, words

LINES = (
    "This is the demonstration boat. Its sheets are marked so that nobody drills by them.",
    "Drag a hole or the bracket, or type on the card. The program checks each change.",
    "For your own boat, choose Boat, New. Then measure down the card. F1 shows how.",
)


class Hint(QWidget):
    """The three lines of the hint.

    Signals:
        read: the person dismissed them.
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
        self.button = Button("Dismiss", high=30)
        self.button.setAccessibleName("Dismiss the hint")
        self.button.clicked.connect(self._put_away)
        row.addWidget(self.button)
        self.hide()

    def _put_away(self) -> None:
        self.hide()
        self.read.emit()
