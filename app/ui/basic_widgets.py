"""Small widgets that all panels use: texts, buttons, hairlines, scrolled areas. No frames, no boxes."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPalette, QPen
from PySide6.QtWidgets import (
    QAbstractButton,
    QFrame,
    QLabel,
    QScrollArea,
    QScrollBar,
    QSizePolicy,
    QSplitter,
    QSplitterHandle,
    QStackedWidget,
    QWidget,
)

from app.ui.palette import fill, of
from app.ui.state_marks import paint_state
from app.ui.typography import Size, row_high, sized

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QKeyEvent, QPaintEvent, QResizeEvent

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


_AIR = 12  # px at each side of a button's words, so that they don't touch its frame


def words(text: str = "", role: Role = "ink", size: Size = "plain", *, strong: bool = False, wrap: bool = False) -> QLabel:
    """Return a label in one of the colours and sizes."""
    label = QLabel(text)
    label.setFont(sized(size, strong=strong))
    label.setForegroundRole(_QT_ROLES[role])
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(wrap)
    return label


def unbroken(text: str) -> str:
    """Return ``text`` with spaces that keep a figure and its unit on one line."""
    return re.sub(r"(?<=[0-9]) (?=[0-9]+/[0-9]|(?:in|mm|kg|psi|lbf|lb-ft|N·m)\b|%)", "\N{NO-BREAK SPACE}", text)


def recolour(label: QLabel, role: Role) -> None:
    """Give a text another colour."""
    label.setForegroundRole(_QT_ROLES[role])


def ground(widget: QWidget, role: Role) -> None:
    """Fill a widget's ground with one of the colours."""
    widget.setBackgroundRole(_QT_ROLES[role])
    widget.setAutoFillBackground(True)


def hairline(*, upright: bool = False) -> QWidget:
    """Return a line one pixel wide between two parts."""
    line = QWidget()
    ground(line, "rule")
    (line.setFixedWidth if upright else line.setFixedHeight)(1)
    return line


class Button(QAbstractButton):
    """A button with a word. It is filled where it is the next step, else it is an outline."""

    def __init__(self, text: str, *, filled: bool = False, high: int = 34) -> None:
        super().__init__()
        self.setText(text)
        self.setFont(sized(strong=True))
        self._filled = filled
        self.setFixedHeight(row_high(high))
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    @property
    def filled(self) -> bool:
        """Whether this is the next step."""
        return self._filled

    def fill(self, filled: bool) -> None:
        """Make it the next step, or an ordinary button."""
        self._filled = filled
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the size that the word needs."""
        return QSize(QFontMetrics(self.font()).horizontalAdvance(self.text()) + 2 * _AIR + 8, self.height())

    def lines(self, width: int) -> int:
        """Return how many lines its words take in a button ``width`` wide [px]."""
        metrics = QFontMetrics(self.font())
        high = metrics.boundingRect(0, 0, width - 2 * _AIR, 999, Qt.TextFlag.TextWordWrap, unbroken(self.text())).height()
        return max(1, round(high / metrics.lineSpacing()))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter presses it, as Space does: so the hand stays there from one question to the next."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

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
        if shows_focus(self):
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(colours.on_new if self._filled else colours["new"], 1.5))
            painter.drawRoundedRect(box.adjusted(2.5, 2.5, -2.5, -2.5), 2, 2)
        painter.setPen(colours.on_new if self._filled else colours["ink"])
        place, centred = self.rect().adjusted(_AIR, 0, -_AIR, 0), Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(place, centred, unbroken(self.text()))

    def enterEvent(self, event: object) -> None:  # noqa: N802 (Qt's name)
        """Light it under the pointer."""
        self.update()

    def leaveEvent(self, event: object) -> None:  # noqa: N802 (Qt's name)
        """Let it go dark again."""
        self.update()


def shows_focus(widget: QWidget) -> bool:
    """Return whether to draw a widget's focus: only where the keyboard brought it."""
    return widget.hasFocus() and widget.window().testAttribute(Qt.WidgetAttribute.WA_KeyboardFocusChange)


class StateMark(QWidget):
    """One of the five state marks."""

    def __init__(self, size: int = 16) -> None:
        super().__init__()
        self.setFixedSize(size, size)
        self._state: State = "unknown"
        self._doubt = False

    def show_state(self, state: State, *, doubt: bool = False) -> None:
        """Draw the mark of another state. ``doubt``: measure first."""
        self._state, self._doubt = state, doubt
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        paint_state(QPainter(self), QRectF(self.rect()), self._state, of(self), doubt=self._doubt)


class ThinScrollBar(QScrollBar):
    """A thin scroll bar that draws only its handle."""

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return its width. Its length is the room that there is."""
        return QSize(8, 8)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the handle."""
        painter, colours = QPainter(self), of(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        fill(painter, self.rect(), self.palette().color(self.backgroundRole()))
        upright = self.orientation() == Qt.Orientation.Vertical
        length = self.height() if upright else self.width()
        every = self.maximum() - self.minimum() + self.pageStep()
        long = max(24.0, length * self.pageStep() / max(1, every))
        start = 2 + (length - long - 4) * (self.value() - self.minimum()) / max(1, self.maximum() - self.minimum())
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colours["edge" if self.isSliderDown() or self.underMouse() else "rule"])
        painter.drawRoundedRect(QRectF(2, start, 4, long) if upright else QRectF(start, 2, long, 4), 2, 2)


class ScrollContent(QWidget):
    """The content of a scrolled area. It is as high as its wrapped texts need at its width."""

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Ask for the height that belongs to the new width."""
        super().resizeEvent(event)
        self._ask()

    def event(self, event: QEvent) -> bool:
        """Ask for the height again where something in it has changed."""
        done = super().event(event)
        if event.type() == QEvent.Type.LayoutRequest:
            self._ask()
        return done

    def _ask(self) -> None:
        layout = self.layout()
        if layout is not None:
            wraps = layout.hasHeightForWidth()
            self.setMinimumHeight(layout.totalHeightForWidth(self.width()) if wraps else layout.totalMinimumSize().height())


def scrolled(inner: ScrollContent) -> QScrollArea:
    """Return an area that scrolls ``inner`` up and down."""
    ground(inner, "card")
    area = QScrollArea()
    area.setVerticalScrollBar(ThinScrollBar(Qt.Orientation.Vertical))
    area.setWidget(inner)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area


class FittedStack(QStackedWidget):
    """A stacked widget whose least size is that of the page that it shows."""

    def minimumSizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the least size of the page that is shown."""
        shown = self.currentWidget()
        return QSize() if shown is None else shown.minimumSizeHint().expandedTo(shown.minimumSize())


class SharedSplitter(QSplitter):
    """A splitter with a hairline as its handle. ``share`` sets the sizes until a drag, and again after a double click.

    Args:
        share: gives the children's lengths for the whole length [px].
    """

    def __init__(self, orientation: Qt.Orientation, share: Callable[[int], list[int]]) -> None:
        super().__init__(orientation)
        self.setHandleWidth(1)
        self.setChildrenCollapsible(False)
        self._share, self._own = share, False
        self.splitterMoved.connect(self._take)

    def add(self, *parts: QWidget) -> None:
        """Add the parts side by side, or one below another."""
        for part in parts:
            self.addWidget(part)

    def reshare(self, share: Callable[[int], list[int]]) -> None:
        """Take another function for the usual lengths."""
        self._share = share
        self.restore()

    def prefer(self, share: Callable[[int], list[int]]) -> None:
        """Take another function, unless the person dragged the hairline: then that stays until a double click."""
        self._share = share
        self.share_again()

    def share_again(self) -> None:
        """Share the length again for another part, unless the person dragged the hairline."""
        if not self._own:
            self.restore()

    def restore(self) -> None:
        """Go back to the usual lengths."""
        self._own = False
        self.setSizes(self._share(self.width() if self.orientation() == Qt.Orientation.Horizontal else self.height()))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Share the new length, unless the person dragged the hairline."""
        super().resizeEvent(event)
        self.share_again()

    def _take(self, _place: int, _index: int) -> None:
        self._own = True

    def createHandle(self) -> QSplitterHandle:  # noqa: N802 (Qt's name)
        """Return a hairline."""
        return _Hairline(self.orientation(), self)


class _Hairline(QSplitterHandle):
    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        fill(QPainter(self), self.contentsRect(), of(self)["rule"])

    def mouseDoubleClickEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        parting = self.splitter()
        if isinstance(parting, SharedSplitter):
            parting.restore()


def wide(font: QFont, text: str) -> int:
    """Return the width of a text [px]."""
    return QFontMetrics(font).horizontalAdvance(text)
