"""Will it hang low enough? The height picture, the result of each way to seat the washers, and the missing readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.canvas.pen import SCREEN, paint
from app.deciding.motor_height_text import answer_words, usual_words, way_words
from app.document.view_state import ViewState
from app.entries.choice_lines import ActLine
from app.findings.findings_text import guess_words
from app.ui.apostrophes import curly
from app.ui.basic_widgets import ScrollContent, ground, hairline, scrolled, words
from app.ui.deciding_modes import FIT, with_mode
from app.ui.link import Link
from app.ui.palette import of
from geometry.decide.alternatives import LowEnough, low_enough
from geometry.readings.measures import name_of
from templates_out.views.motor_height import low_enough_marks

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Mark

_REST = 40  # ms without a change before it is calculated again
_MOST_LINES = 4
_LEAST_WIDE = 350  # px: the words below the picture's four ways have room


class Picture(QWidget):
    """A sheet with marks on it, scaled to its width."""

    def __init__(self) -> None:
        super().__init__()
        ground(self, "sheet")
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(190)
        self._design: Design | None = None
        self._mount = 0
        self._outcome: LowEnough | None = None

    def show_outcome(self, design: Design, mount: int, outcome: LowEnough) -> None:
        """Show another boat."""
        self._design, self._mount, self._outcome = design, mount, outcome
        self.update()

    def marks(self) -> tuple[Mark, ...]:
        """Return what is drawn."""
        if self._design is None or self._outcome is None or self._mount >= len(self._design.mounts):
            return ()
        return low_enough_marks(self._design, self._mount, self._outcome, self.width() / SCREEN, self.height() / SCREEN)

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return a usual size."""
        return QSize(400, 280)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        painter = QPainter(self)
        painter.translate(0, self.height())
        paint(painter, self.marks(), SCREEN, of(self))


class LowEnoughPanel(QWidget):
    """Answers whether the chosen motor can be low enough.

    Signals:
        view_changed: a view state. wanted: key of a measure to take.
    """

    view_changed = Signal(object)
    wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setAccessibleName("Will it hang low enough?")
        self.setMinimumWidth(_LEAST_WIDE)
        self._view_state = ViewState()
        self._design: Design | None = None
        self._shown: tuple[Design, int] | None = None
        self.outcome: LowEnough | None = None
        self.answer = words(size="section", strong=True, wrap=True)
        self.picture = Picture()
        self.guesses = words(role="soft", size="small")
        self.ways, self.usual = words(wrap=True), words(role="soft", size="small", wrap=True)
        self.missing = tuple(ActLine() for _ in range(_MOST_LINES))
        self.fit, self.back = ActLine(), Link("Back to the findings")
        self.fit.show_words("Find a fit")
        self._rest = QTimer(self, interval=_REST, singleShot=True)
        self._rest.timeout.connect(self._calculate)
        self._place()
        self.back.clicked.connect(lambda: self.view_changed.emit(with_mode(self._view_state, "")))
        self.fit.clicked.connect(lambda: self.view_changed.emit(with_mode(self._view_state, FIT)))
        for line in self.missing:
            line.clicked.connect(lambda _on=False, line=line: self.wanted.emit(line.property("key")))

    def _place(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(16, 4, 4, 0)
        head.addWidget(words("Will it hang low enough?", size="section", strong=True, wrap=True), 1)
        head.addWidget(self.back)
        inner = ScrollContent()
        whole = QVBoxLayout(inner)  # in a low window the picture scrolls with the words
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.picture, 1)
        whole.addWidget(hairline())
        column = QVBoxLayout()
        column.setContentsMargins(16, 8, 16, 8)
        column.setSpacing(4)
        for part in (self.answer, self.guesses, self.ways, *self.missing, self.usual, self.fit):
            column.addWidget(part)
        whole.addLayout(column)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(head)
        outer.addWidget(scrolled(inner), 1)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show another boat, once it rests for a moment."""
        self._view_state, self._design = view_state, checked.design
        guesses = guess_words(checked)
        self.guesses.setText(guesses)
        self.guesses.setVisible(bool(guesses))
        asked = checked.design, view_state.mount
        if self._shown is None:
            self._calculate()
        elif asked[0] is not self._shown[0] or asked[1] != self._shown[1]:
            self._rest.start()

    def rest(self, view_state: ViewState) -> None:
        """Calculate nothing while the panel is hidden."""
        self._view_state = view_state
        self._rest.stop()
        self._shown = None

    def take_focus(self) -> None:
        """Take the focus: the first reading that is missing, else the way on, else the way back."""
        first = next((line for line in (*self.missing, self.fit) if line.isVisible()), self.back)
        first.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _calculate(self) -> None:
        design, mount = self._design, self._view_state.mount
        if design is None or mount >= len(design.mounts):
            return
        self._shown = design, mount
        self.outcome = outcome = low_enough(design, mount)
        self.answer.setText(answer_words(design, outcome))
        self.ways.setText("\n".join(way_words(design, way) for way in outcome.ways))
        self.ways.setVisible(bool(outcome.ways))
        self.usual.setText(
            f"{usual_words(design, outcome)} Heights are plumb, where the motor is."
            f"{' They are the lowest that leave the advised clearance.' if outcome.ways else ''}"
        )
        for number, line in enumerate(self.missing):
            key = outcome.missing[number] if number < len(outcome.missing) else ""
            line.setVisible(bool(key))
            line.setProperty("key", key)
            if key:
                line.show_words(curly(f"Measure the {name_of(design, key)}"))
        self.fit.setVisible(design.mounts[mount].bracket.rows is not None)
        self.picture.setAccessibleName(f"Height picture. {self.answer.text()} {self.ways.text()}")
        self.picture.show_outcome(design, mount, outcome)
