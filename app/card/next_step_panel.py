"""The panel at the top of the card, with the next step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QWidget

from app.card.next_step import Next
from app.card.next_step_tracker import NextStepTracker
from app.ui.basic_widgets import Button, ground, shows_focus, unbroken, words
from app.ui.deciding_modes import with_mode
from app.ui.palette import fill, of

if TYPE_CHECKING:
    from app.document.view_state import ViewState
    from geometry.decide.ladder import Rung
    from geometry.judge.findings import Checked

HIGH = 94


class NextStepPanel(QWidget):
    """The next step, with a button where the program can do it.

    Signals:
        committed: (label, design) of the cure. wanted: key of the measure to take.
        view_changed: a view state with what helps to decide opened, or with a reading that is taken once more.
        hinted: the design that the button leads to, while a hand is on it; None once it is not.
    """

    committed = Signal(str, object)
    hinted = Signal(object)
    wanted = Signal(str)
    view_changed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "sheet")
        self.setMinimumHeight(HIGH)
        self.setAccessibleName("Next")
        self._next = Next("", "")
        self._tracker, self._stale = NextStepTracker(), False
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

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show what is next for a checked design; what the ladder and the chances say comes later."""
        self._tracker.show_checked(checked, view_state)
        step = self._tracker.step
        known = self._tracker.rungs is not None or checked.verdict != "fouled" or (step is not None and bool(step.key))
        self._show_next(stale=bool(self._next.button) and not known)

    def show_rungs(self, rungs: tuple[Rung, ...]) -> None:
        """Show the best cure, now that the ladder is known."""
        self._tracker.show_rungs(rungs)
        self._show_next()

    def show_doubts(self, checked: Checked) -> None:
        """Show the reading that moves the answer most, now that the chances are known."""
        if self._tracker.show_doubts(checked):
            self._show_next(stale=self._stale)

    def _show_next(self, *, stale: bool = False) -> None:
        """Show what is next; an old cure or guess stays until a better one is known."""
        self._stale, step, checked = stale, self._tracker.step, self._tracker.checked
        if step is None or checked is None or stale:
            return
        if self._tracker.sure or not {step.key, self._next.key} <= set(checked.guesses):
            self._show(step)

    def _show(self, step: Next) -> None:
        self._next = step
        self._title.setText(unbroken(step.title))
        self._why.setText(unbroken(step.why))
        self.button.setText(step.button)
        self.button.setVisible(bool(step.button))
        self.button.updateGeometry()
        self.button.setAccessibleName(f"{step.button}: {step.why}" if step.button else "")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus if step.key else Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor if step.key else Qt.CursorShape.ArrowCursor)
        self.setAccessibleDescription(f"{step.title}. {step.why}")

    def _do(self) -> None:
        if self._stale:  # an old cure stays to be read until the new one is known, but does nothing
            return
        if self._next.opens:
            self.view_changed.emit(with_mode(self._tracker.view_state, self._next.opens))
        else:
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
        key, view_state = self._next.key, self._tracker.view_state
        if self._next.again and key not in view_state.again:
            self.view_changed.emit(replace(view_state, again=(*view_state.again, key)))
        if key:
            self.wanted.emit(key)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the bar at its left."""
        super().paintEvent(event)
        colours, painter = of(self), QPainter(self)
        fill(painter, QRect(0, 0, 4, self.height()), colours["ink"])
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 2))
            painter.drawRect(self.rect().adjusted(5, 1, -1, -1))
