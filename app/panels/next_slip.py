"""The slip at the top of the card: the one thing to do next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QWidget

from app.palette import of
from app.panels.parts import Button, ground, shows_focus, unbroken, words
from app.words.next_words import Next, next_step

if TYPE_CHECKING:
    from app.sight import Sight
    from geometry.decide.ladder import Rung
    from geometry.judge.findings import Checked

HIGH = 94


class NextSlip(QWidget):
    """The next step, with a button where the program can do it.

    Signals:
        committed: (label, design) of the cure. wanted: key of the measure to take.
    """

    committed = Signal(str, object)
    hinted = Signal(object)  # the design that the button leads to, while a hand is on it; None once it is not
    wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "sheet")
        self.setMinimumHeight(HIGH)
        self.setAccessibleName("Next")
        self._next = Next("", "")
        self._checked: Checked | None = None
        self._mount, self._stale = 0, False
        self._title = words(size="section", strong=True, wrap=True)
        self._why = words(role="soft", wrap=True)
        self.button = Button("", filled=True, high=32)
        grid = QGridLayout(self)
        grid.setContentsMargins(16, 10, 16, 10)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(3)
        grid.addWidget(words("Next", "soft", "small", strong=True), 0, 0, 1, 2)
        grid.addWidget(self._title, 1, 0, 1, 2)
        grid.addWidget(self._why, 2, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self.button, 2, 1, Qt.AlignmentFlag.AlignTop)
        grid.setColumnStretch(0, 1)
        grid.setRowStretch(3, 1)
        self.button.clicked.connect(self._do)
        self.button.installEventFilter(self)

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show what is next for a checked design; what the ladder says comes later."""
        self._checked, self._mount = checked, sight.mount
        found = next_step(checked, sight.mount, None)
        self._stale = checked.verdict == "fouled" and bool(self._next.button)
        if not self._stale:
            self._show(found)

    def show_rungs(self, rungs: tuple[Rung, ...]) -> None:
        """Show the best cure, now that the ladder is known."""
        self._stale = False
        if self._checked is not None:
            self._show(next_step(self._checked, self._mount, rungs))

    def _show(self, found: Next) -> None:
        self._next = found
        self._title.setText(unbroken(found.title))
        self._why.setText(unbroken(found.why))
        self.button.setText(found.button)
        self.button.setVisible(bool(found.button))
        self.button.updateGeometry()
        self.button.setAccessibleName(f"{found.button}: {found.why}" if found.button else "")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus if found.key else Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor if found.key else Qt.CursorShape.ArrowCursor)
        self.setAccessibleDescription(f"{found.title}. {found.why}")

    def _do(self) -> None:
        if not self._stale:  # an old cure stays to be read until the new one is known, but does nothing
            self.committed.emit(self._next.label, self._next.design)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        """Show where the cure leads, while pointer or focus is on its button."""
        if watched is self.button:
            if event.type() in (QEvent.Type.Enter, QEvent.Type.FocusIn):
                self.hinted.emit(None if self._stale else self._next.design)
            elif event.type() in (QEvent.Type.Leave, QEvent.Type.FocusOut, QEvent.Type.Hide):
                self.hinted.emit(None)
        return super().eventFilter(watched, event)

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Go to the reading's entry."""
        self._go()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter goes to the reading's entry."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._go()
        else:
            super().keyPressEvent(event)

    def _go(self) -> None:
        if self._next.key:
            self.wanted.emit(self._next.key)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the bar at its left."""
        super().paintEvent(event)
        colours, painter = of(self), QPainter(self)
        painter.fillRect(0, 0, 4, self.height(), colours["ink"])
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 2))
            painter.drawRect(self.rect().adjusted(5, 1, -1, -1))
