"""The card's other lines: a choice of a few answers, something done by one press, a word between."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QMenu, QSizePolicy, QWidget

from app.entries.field_words import ENTRY_HIGH, OriginWord
from app.ui.basic_widgets import shows_focus, wide, words
from app.ui.palette import of
from app.ui.typography import row_high, sized

if TYPE_CHECKING:
    from app.entries.card_items import Act
    from geometry.edits.choices import Choice

_LEAST, _CARET = 104, 16


class PickButton(QAbstractButton):
    """The present answer, and a small caret; pressed, it lists the others.

    Attributes:
        by_keys: whether a key pressed it last.
    """

    def __init__(self) -> None:
        super().__init__()
        self.by_keys = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFixedHeight(row_high(ENTRY_HIGH) - 4)
        self.setMinimumWidth(_LEAST)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the place that the answer takes."""
        return QSize(max(_LEAST, wide(sized(), self.text()) + _CARET + 8), row_high(ENTRY_HIGH) - 4)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter, Space and Down list the answers."""
        self.by_keys = True
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Down):
            self.click()
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """A press of the mouse lists them too."""
        self.by_keys = False
        super().mousePressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw answer, caret and the line below."""
        colours, painter, box = of(self), QPainter(self), QRectF(self.rect())
        painter.setFont(sized())
        painter.setPen(colours["ink"])
        room = box.adjusted(2, 0, -_CARET, 0)
        cut = QFontMetrics(sized()).elidedText(self.text(), Qt.TextElideMode.ElideRight, round(room.width()))
        painter.drawText(room, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, cut)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(colours["soft"], 1.3))
        x, y = box.right() - 8, box.center().y()
        painter.drawPolyline([QPointF(x - 4, y - 2), QPointF(x, y + 2), QPointF(x + 4, y - 2)])
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 2))
            painter.drawRect(box.adjusted(1, 1, -1, -1))
        else:
            painter.setPen(QPen(colours["edge"], 1))
            painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)


class Pick(QWidget):
    """A name, and the answer chosen.

    Signals:
        chosen: (key, index). confirmed: key of the reading whose guess was confirmed.
        hinted: (key, index) of the answer under the pointer or the arrow keys; index -1 once the list is closed.
    """

    chosen = Signal(str, int)
    hinted = Signal(str, int)
    confirmed = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.choice: Choice | None = None
        self.button = PickButton()
        self.guess = OriginWord(self)
        self.menu = QMenu(self)
        self._name = words(wrap=True)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 2, 0, 2)
        row.setSpacing(8)
        row.addWidget(self._name, 1)
        row.addWidget(self.guess)
        row.addWidget(self.button)
        self.button.clicked.connect(self.open)
        self.guess.clicked.connect(self._confirm)
        self.menu.hovered.connect(lambda action: self._hint(self.menu.actions().index(action)))
        self.menu.aboutToHide.connect(lambda: self._hint(-1))

    def show_choice(self, choice: Choice, name: str, *, guess: bool) -> None:
        """Show what is chosen, under a name."""
        before, self.choice = self.choice, choice
        if before is not None and guess == self.guess.isVisibleTo(self) and _looks(before) == _looks(choice):
            return
        known = 0 <= choice.at < len(choice.options)
        self._name.setText(name)
        self.button.setText(choice.options[choice.at].short if known else "not known")
        self.button.setToolTip(f"{choice.options[choice.at].full}. {choice.how}" if known else choice.how)
        self.button.setAccessibleName(f"{choice.name}: {self.button.text()}")
        self.button.setAccessibleDescription(f"{choice.how} Press to choose.")
        self.guess.setVisible(guess)
        self.guess.setAccessibleName(f"{choice.name} is a guess. Press to confirm it as measured")
        self.button.updateGeometry()
        self.button.update()

    def open(self) -> None:
        """List the answers, the present one ticked."""
        if self.choice is None:
            return
        self.menu.clear()
        for index, option in enumerate(self.choice.options):
            action = self.menu.addAction(option.full)
            action.setCheckable(True)
            action.setChecked(index == self.choice.at)
            action.triggered.connect(lambda _on=False, index=index: self._take(index))
            if index == self.choice.at:
                self.menu.setActiveAction(action)
        self.menu.popup(self.button.mapToGlobal(QPoint(0, self.button.height())))

    def stops(self) -> tuple[QWidget, ...]:
        """Return where Tab stops."""
        return self.guess, self.button

    def _confirm(self) -> None:
        if self.choice is not None:
            self.confirmed.emit(self.choice.reading)

    def _hint(self, index: int) -> None:
        if self.choice is not None:
            self.hinted.emit(self.choice.key, index)

    def _take(self, index: int) -> None:
        if self.choice is not None:
            self.chosen.emit(self.choice.key, index)


class ActLine(QAbstractButton):
    """A line of underlined words that does something."""

    def __init__(self) -> None:
        super().__init__()
        self.act: Act | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFixedHeight(row_high(ENTRY_HIGH) - 2)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_act(self, act: Act) -> None:
        """Show what it does."""
        self.act = act
        self.show_words(act.words)

    def show_words(self, said: str) -> None:
        """Show its words; too long ones stand whole in its tip."""
        if said == self.text():
            return
        self.setText(said)
        self.setAccessibleName(said)
        self.setToolTip(said)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the place that the words take."""
        return QSize(wide(sized(), self.text()) + 6, row_high(ENTRY_HIGH) - 2)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter does it, like Space."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def stops(self) -> tuple[QWidget, ...]:
        """Return where Tab stops."""
        return (self,)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the words, underlined."""
        colours, painter, box = of(self), QPainter(self), QRectF(self.rect())
        font = sized()
        font.setUnderline(True)
        painter.setFont(font)
        painter.setPen(colours["ink"])
        metrics = QFontMetrics(font)
        cut = metrics.elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width() - 4)
        painter.drawText(box.adjusted(0, 0, -2, 0), Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, cut)
        if shows_focus(self):  # under the words, where no margin is taken up
            painter.setPen(QPen(colours["new"], 3))
            painter.drawLine(QPointF(0, box.bottom() - 2), QPointF(metrics.horizontalAdvance(cut), box.bottom() - 2))


def _looks(choice: Choice) -> tuple[object, ...]:
    """Return all of a choice that is seen."""
    return choice.key, choice.name, choice.at, choice.options
