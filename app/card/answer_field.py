"""The field of the question: it starts empty, and only Enter takes what is typed."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QApplication

from app.entries.windows_field import AWAY, WindowsField
from app.ui.basic_widgets import wide
from app.ui.palette import of
from app.ui.typography import row_high, sized

_HIGH = 36


class AnswerField(WindowsField):
    """The field. The guess and the unit are at its right in soft ink, and are no part of its text.

    Signals:
        entered: Enter was pressed. focused: the focus came. dropped: Escape emptied it.
    """

    entered = Signal()
    focused = Signal()
    dropped = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setFixedHeight(row_high(_HIGH))
        self.setMinimumWidth(96)
        self._guess = self._unit = ""

    def show_hint(self, guess: str, unit: str) -> None:
        """Show the guess and the unit of what is typed."""
        self._guess, self._unit = guess, unit
        self.setTextMargins(8, 0, wide(sized("small"), unit) + 14, 0)
        self.update()

    @property
    def hint(self) -> str:
        """The words in soft ink at its right: the guess where it has room, else the unit."""
        guess = f"guess {self._guess}" if self._guess else ""
        room = self.width() - wide(self.font(), self.text()) - 30
        return guess if guess and wide(sized("small"), guess) <= room else self._unit

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter takes the text, Escape empties the field."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.clear()
            self.dropped.emit()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """Select what is in it, and say so."""
        super().focusInEvent(event)
        self.tint()
        if event.reason() not in AWAY:
            if event.reason() != Qt.FocusReason.MouseFocusReason:
                self.selectAll()
            self.focused.emit()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """Keep what is typed."""
        super().focusOutEvent(event)
        self.tint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the text, the frame, and the guess or the unit."""
        super().paintEvent(event)
        colours, painter, box = of(self), QPainter(self), QRectF(self.rect())
        painter.setPen(QPen(colours["new"], 2) if self.hasFocus() else QPen(colours["edge"], 1))
        inset = 1.0 if self.hasFocus() else 0.5
        painter.drawRect(box.adjusted(inset, inset, -inset, -inset))
        painter.setFont(sized("small"))
        painter.setPen(colours["soft"])
        painter.drawText(box.adjusted(0, 0, -8, 0), Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, self.hint)

    def tint(self) -> None:
        """White while focused, the window's ground otherwise."""
        self.setFont(sized("section"))
        tinted = QPalette()
        if not self.hasFocus():
            tinted.setColor(QPalette.ColorRole.Base, QApplication.palette().color(QPalette.ColorRole.Window))
        self.setPalette(tinted)
