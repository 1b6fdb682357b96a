"""A button that looks like text."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy

from app.ui.basic_widgets import shows_focus, wide
from app.ui.palette import of
from app.ui.typography import sized


class Link(QAbstractButton):
    """A button that looks like text: no frame, underlined under the pointer."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.setText(text)
        self.setAccessibleName(text)
        self.setFixedHeight(34)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_words(self, text: str) -> None:
        """Show other words."""
        if text != self.text():
            self.setText(text)
            self.setAccessibleName(text)
            self.updateGeometry()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the room of the word."""
        return QSize(wide(sized(), self.text()) + 24, 34)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        painter, font = QPainter(self), sized()
        font.setUnderline(self.underMouse())
        painter.setFont(font)
        painter.setPen(of(self)["ink"])
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.text())
        if shows_focus(self):
            painter.setPen(QPen(of(self)["new"], 1.5))
            painter.drawRect(self.rect().adjusted(2, 3, -3, -4))

    def enterEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Underline it."""
        self.update()

    def leaveEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Leave it plain."""
        self.update()
