"""Small parts that every panel is made of: words, buttons, hairlines. No frames, no boxes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPalette, QPen
from PySide6.QtWidgets import QAbstractButton, QLabel, QSizePolicy, QSplitter, QSplitterHandle, QWidget

from app.palette import of
from app.state_marks import paint_state
from app.type import Size, sized

if TYPE_CHECKING:
    from PySide6.QtGui import QPaintEvent

    from geometry.judge.findings import State
    from templates_out.drawing.marks import Role

_QT_ROLES: dict[Role, QPalette.ColorRole] = {
    "ink": QPalette.ColorRole.WindowText,
    "soft": QPalette.ColorRole.PlaceholderText,
    "fouled": QPalette.ColorRole.BrightText,
    "card": QPalette.ColorRole.Window,
    "sheet": QPalette.ColorRole.AlternateBase,
    "rule": QPalette.ColorRole.Midlight,
}


def words(text: str = "", role: Role = "ink", size: Size = "plain", *, strong: bool = False, wrap: bool = False) -> QLabel:
    """Return a text in one of the colours and sizes."""
    label = QLabel(text)
    label.setFont(sized(size, strong=strong))
    label.setForegroundRole(_QT_ROLES[role])
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(wrap)
    return label


def recolour(label: QLabel, role: Role) -> None:
    """Give a text another colour."""
    label.setForegroundRole(_QT_ROLES[role])


def ground(widget: QWidget, role: Role) -> None:
    """Fill a widget's ground with one of the colours."""
    widget.setBackgroundRole(_QT_ROLES[role])
    widget.setAutoFillBackground(True)


def hairline(*, upright: bool = False) -> QWidget:
    """Return a line one pixel wide that parts what stands beside it."""
    line = QWidget()
    ground(line, "rule")
    (line.setFixedWidth if upright else line.setFixedHeight)(1)
    return line


class Button(QAbstractButton):
    """A button with a word: filled where it is the next step, else an outline."""

    def __init__(self, text: str, *, filled: bool = False, high: int = 34) -> None:
        super().__init__()
        self.setText(text)
        self.setFont(sized(strong=True))
        self._filled = filled
        self.setFixedHeight(high)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    @property
    def filled(self) -> bool:
        """Whether this is the next step."""
        return self._filled

    def fill(self, filled: bool) -> None:
        """Make it the next step, or one beside it."""
        self._filled = filled
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the place that the word takes."""
        return QSize(QFontMetrics(self.font()).horizontalAdvance(self.text()) + 32, self.height())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        colours, painter = of(self), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.setPen(QPen(colours["new" if self._filled else "edge"], 1))
        if self._filled:
            painter.setBrush(colours["new"].darker(115) if self.isDown() else colours["new"])
        elif self.isDown() or self.underMouse():
            painter.setBrush(colours["sheet"])
        painter.drawRoundedRect(box, 3, 3)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(colours.on_new if self._filled else colours["new"], 1.5))
            painter.drawRoundedRect(box.adjusted(2.5, 2.5, -2.5, -2.5), 2, 2)
        painter.setPen(colours.on_new if self._filled else colours["ink"])
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.text())

    def enterEvent(self, event: object) -> None:  # noqa: N802 (Qt's name)
        """Light it under the pointer."""
        self.update()

    def leaveEvent(self, event: object) -> None:  # noqa: N802 (Qt's name)
        """Let it go dark again."""
        self.update()


class StateMark(QWidget):
    """One of the five state marks."""

    def __init__(self, size: int = 16) -> None:
        super().__init__()
        self.setFixedSize(size, size)
        self._state: State = "unknown"

    def show_state(self, state: State) -> None:
        """Draw the mark of another state."""
        self._state = state
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        paint_state(QPainter(self), QRectF(self.rect()), self._state, of(self))


class Parting(QSplitter):
    """Parts its children by a hairline that can be dragged; a double click restores the first widths."""

    def __init__(self, orientation: Qt.Orientation) -> None:
        super().__init__(orientation)
        self.setHandleWidth(1)
        self.setChildrenCollapsible(False)
        self._first: list[int] = []

    def set_first(self, sizes: list[int]) -> None:
        """Set the widths that a double click comes back to."""
        self._first = sizes
        self.setSizes(sizes)

    def restore(self) -> None:
        """Come back to the first widths."""
        self.setSizes(self._first)

    def createHandle(self) -> QSplitterHandle:  # noqa: N802 (Qt's name)
        """Return a hairline."""
        return _Hairline(self.orientation(), self)


class _Hairline(QSplitterHandle):
    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        QPainter(self).fillRect(self.contentsRect(), of(self)["rule"])

    def mouseDoubleClickEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        parting = self.splitter()
        if isinstance(parting, Parting):
            parting.restore()


def wide(font: QFont, text: str) -> int:
    """Return how wide a text is in pixels."""
    return QFontMetrics(font).horizontalAdvance(text)
