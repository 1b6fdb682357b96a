"""Widgets of the manual's contents: a line for each page and part, and the search field."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QSizePolicy

from app.ui.basic_widgets import shows_focus, wide
from app.ui.palette import of
from app.ui.typography import sized

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent, QPaintEvent


class ContentsLine(QAbstractButton):
    """A page's number and name, or the name of one of its parts.

    Signals:
        clicked: the person chose it.
    """

    def __init__(self, place: str, text: str, number: str = "", detail: str = "") -> None:
        super().__init__()
        self.place, self._number, self._detail, self._open = place, number, detail, False
        self.setText(text)
        self.setAccessibleName(f"{text}, {detail}" if detail else text)
        self.setToolTip(detail)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(28 if number else 42 if detail else 24)

    def show_open(self, opened: bool) -> None:
        """Show whether the reader shows this page or part."""
        self._open = opened
        self.setAccessibleDescription("open" if opened else "")
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the room of its words."""
        return QSize(wide(sized(strong=True), self.text()) + 56, self.height())

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Open it with Enter; go along the lines with Up and Down."""
        match event.key():
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self.click()
            case Qt.Key.Key_Up:
                self.focusPreviousChild()
            case Qt.Key.Key_Down:
                self.focusNextChild()
            case _:
                super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        colours, painter, box = of(self), QPainter(self), QRectF(self.rect())
        if self._open and self._number:
            painter.fillRect(self.rect(), colours["sheet"])
            painter.fillRect(QRect(0, 0, 4, self.height()), colours["ink"])
        middle = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.setFont(sized(strong=self._open))
        painter.setPen(colours["soft"])
        painter.drawText(box.adjusted(16, 0, 0, 0), middle, self._number)
        painter.setPen(colours["ink" if self._number or self._detail or self._open or self.underMouse() else "soft"])
        indent = 40 if self._number or (self.place and not self._detail) else 16
        name = box.adjusted(indent, 0, -8, -18 if self._detail else 0)
        metrics = painter.fontMetrics()
        painter.drawText(name, middle, metrics.elidedText(self.text(), Qt.TextElideMode.ElideRight, round(name.width())))
        if self._detail:
            painter.setFont(sized("small"))
            painter.setPen(colours["soft"])
            detail = painter.fontMetrics().elidedText(self._detail, Qt.TextElideMode.ElideRight, round(box.width()) - 24)
            painter.drawText(box.adjusted(16, 18, -8, 0), middle, detail)
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(box.adjusted(6, 1, -6, -1))

    def enterEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Light it under the pointer."""
        self.update()

    def leaveEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Let it go dark again."""
        self.update()


class FindLine(QLineEdit):
    """The search field: a hairline below, no frame."""

    def __init__(self) -> None:
        super().__init__()
        self.setFrame(False)
        self.setPlaceholderText("Find a word")
        self.setAccessibleName("Find a word in the manual")
        self.setFixedHeight(30)
        self.setTextMargins(6, 0, 6, 0)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the text and the line below."""
        super().paintEvent(event)
        painter, colours, box = QPainter(self), of(self), self.rect()
        painter.setPen(QPen(colours["new" if self.hasFocus() else "edge"], 1))
        painter.drawLine(box.left(), box.bottom(), box.right(), box.bottom())
