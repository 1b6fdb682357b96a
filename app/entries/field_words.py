"""Words inside a field that can be pressed: where its value is from, and the edge of a hole that was read."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QLabel, QMenu, QWidget

from app.entries.entry_text import SURE
from app.ui.basic_widgets import shows_focus
from app.ui.palette import of
from app.ui.typography import row_high, sized

if TYPE_CHECKING:
    from geometry.design.design import Edge

ENTRY_HIGH = 30
_ORIGIN_WORDS = {"guess": "guess", "to buy": "to buy", "unlikely": SURE}


class OriginWord(QLabel):
    """The word `guess`, `to buy` or `sure?` in a field; a click, or Enter, confirms the value."""

    clicked = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setFont(sized("small"))
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.show_origin("guess")
        self.hide()

    def show_origin(self, origin: str) -> bool:
        """Show the word of a guess, soft, of a size to buy, or of an unlikely reading; return whether there is one."""
        worded = origin in _ORIGIN_WORDS
        if worded and _ORIGIN_WORDS[origin] != self.text():
            self.setText(_ORIGIN_WORDS[origin])
            unlikely = "This is unlikely. Read it again, or click here to confirm it."
            self.setToolTip(unlikely if origin == "unlikely" else "Click here after you have measured it.")
            self.setForegroundRole(QPalette.ColorRole.PlaceholderText if origin == "guess" else QPalette.ColorRole.WindowText)
            self.adjustSize()
            self.move(4, (row_high(ENTRY_HIGH) - 4 - self.height()) // 2)
        self.setVisible(worded)
        return worded

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """A click confirms."""
        self.clicked.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter or Space confirms."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.clicked.emit()
        else:
            super().keyPressEvent(event)


class EdgeWord(QLabel):
    """The words `centre`, `near edge` or `far edge` in a field; a click, or Enter, lists the others.

    Signals:
        picked: one of them.
    """

    picked = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__("centre", parent)
        self.edge: Edge = "centre"
        self.setFont(sized("small"))
        self.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setToolTip("The part of the hole that you read: its centre, near edge or far edge")
        self.hide()

    def show_edge(self, edge: str, *, left: int) -> None:
        """Show the part of the old hole that is read."""
        self.edge = edge_of(edge)
        if self.isHidden():
            return
        self.setText(self.edge)
        self.adjustSize()
        self.move(left, (row_high(ENTRY_HIGH) - 4 - self.height()) // 2)

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """A click lists them."""
        self.open()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter, Space or Down lists them."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space, Qt.Key.Key_Down):
            self.open()
        else:
            super().keyPressEvent(event)

    @cached_property
    def menu(self) -> QMenu:
        """Return the list, made when it is first opened: few entries ever need it."""
        menu = QMenu(self)
        for edge in ("centre", "near edge", "far edge"):
            menu.addAction(f"Read to its {edge}").triggered.connect(lambda _on=False, edge=edge: self._take(edge))
        return menu

    def open(self) -> None:
        """List them."""
        self.menu.popup(self.mapToGlobal(QPoint(0, self.height())))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the word, dotted below; a frame for the focus."""
        super().paintEvent(event)
        colours, painter = of(self), QPainter(self)
        pen = QPen(colours["new" if shows_focus(self) else "edge"], 1)
        pen.setDashPattern([1, 2])
        painter.setPen(pen)
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)

    def _take(self, edge: str) -> None:
        self.show_edge(edge, left=self.x())
        self.picked.emit(edge)


def origin_word(origin: str) -> str:
    """Return where a value is from, as a sentence has it: "a guess", "measured"."""
    return "a guess" if origin == "guess" else origin


def edge_of(word: str) -> Edge:
    """Return the part of an old hole that a word names."""
    return "near edge" if word == "near edge" else "far edge" if word == "far edge" else "centre"
