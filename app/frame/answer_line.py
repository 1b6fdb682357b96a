"""The answer line at the top of the window: one mark, one sentence, one button. Nothing else is as large."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.document.view_state import ViewState
from app.ui.apostrophes import curly
from app.ui.basic_widgets import Button, StateMark, wide, words
from app.ui.deciding_modes import FIT, LOW_ENOUGH, clamps_on, with_mode
from app.ui.link import Link
from app.ui.typography import sized
from geometry.judge.drillable import drillable, lacking_readings
from geometry.judge.words import answer

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from geometry.judge.findings import Checked

HIGH = 52
_FIT, _LOW = "Find a fit", "Will it hang low enough?"


class AnswerLine(QWidget):
    """Shows whether the holes may be drilled.

    Signals:
        sheets: the person wants to make the sheets. save: to save their PDF. back: to go back to the drawing.
        view_changed: a view state with a way to decide opened.
    """

    sheets = Signal()
    save = Signal()
    back = Signal()
    view_changed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setMinimumHeight(HIGH)
        self._mark = StateMark(32)
        self._sentence = words(size="answer", strong=True, wrap=True)
        self._sentence.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._stamp = words(role="soft", wrap=True)
        self._stamp.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._stamp.hide()
        said = QVBoxLayout()
        said.setSpacing(0)
        said.addWidget(self._sentence)
        said.addWidget(self._stamp)
        self.button = Button("Make the sheets")
        self.button.setAccessibleName("Make the sheets")
        self.button.clicked.connect(self._press)
        self.link = Link("Back to the drawing")
        self.link.clicked.connect(self.back)
        self.link.hide()
        self.decide = Link(_FIT)
        self.decide.clicked.connect(self._decide)
        self._view_state = ViewState()
        self._making = False
        self._shown: Checked | None = None
        self._sure: Checked | None = None
        self._asked: str | None = None  # the reading that is asked for next; None where nobody asks
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 4, 16, 4)
        row.setSpacing(10)
        row.addWidget(self._mark)
        row.addLayout(said, 1)
        row.addWidget(self.decide)
        row.addWidget(self.link)
        row.addWidget(self.button)
        self.setAccessibleName("Answer")

    @property
    def sentence(self) -> str:
        """The sentence that it shows."""
        return self._sentence.text()

    @property
    def stamped(self) -> str:
        """The sentence about the stamp on the sheets; "" where they have none, or are not being made."""
        return self._stamp.text()

    def _press(self) -> None:
        (self.save if self._making else self.sheets).emit()

    def _decide(self) -> None:
        self.view_changed.emit(with_mode(self._view_state, FIT if self.decide.text() == _FIT else LOW_ENOUGH))

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the answer to a checked design."""
        self._shown, self._making, self._view_state = checked, view_state.sheets, view_state
        if self._sure is not None and self._sure.design is checked.design:
            checked = self._sure
        bolted = bool(checked.design.mounts) and checked.design.mounts[view_state.mount].bracket.rows is not None
        self.decide.show_words(_FIT if bolted and not lacking_readings(checked) else _LOW)
        self.decide.setVisible(bool(checked.design.mounts) and not view_state.sheets and not view_state.deciding)
        self.button.setText("Save the PDF" if view_state.sheets else "Make the sheets")
        self.button.setAccessibleName(self.button.text())
        description = "Saves all sheets in one file" if view_state.sheets else "Shows where each sheet goes on the transom"
        self.button.setAccessibleDescription(description)
        self.button.updateGeometry()
        self.link.setVisible(view_state.sheets)
        answered = answer(checked, None if view_state.sheets else self._asked)
        self._mark.show_state(answered.state, doubt=answered.doubt)
        self._mark.setAccessibleName(answered.word)
        self._sentence.setText(curly(answered.sentence))
        clamped = clamps_on(checked.design)
        fits = drillable(checked).answer == "yes"
        stamped = _stamp_words(checked) if view_state.sheets else ""
        self._stamp.setText(stamped)
        self._stamp.setVisible(bool(stamped))
        self.button.fill(fits and not stamped and not clamped)
        self.button.setVisible(view_state.sheets or not clamped)
        self.setAccessibleDescription(f"{self.sentence} {stamped}".rstrip())
        self._fit()

    def show_doubts(self, checked: Checked) -> None:
        """Show the answer again, now that the chances of this design are known."""
        self._sure = checked
        self.show_checked(checked, self._view_state)

    def show_asked(self, key: str) -> None:
        """Show the answer again, now that another reading is asked for: the two never say different things."""
        if key != self._asked:
            self._asked = key
            if self._shown is not None:
                self.show_checked(self._shown, self._view_state)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Keep the sentence within two lines."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Give a sentence two lines of a smaller size where it is too long for one large line."""
        large = sized("answer", strong=True)
        fits = wide(large, self._sentence.text()) <= self._sentence.width()
        self._sentence.setFont(large if fits else sized("section", strong=True))
        self._sentence.setAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)


def _stamp_words(checked: Checked) -> str:
    """Return that the sheets are stamped, and why where the answer does not say it; "" where they are not, or not yet known.

    Without the chances nobody knows which guesses the answer rests on.
    """
    answered, open_yet = drillable(checked), () if checked.sure else ("not calculated", "guess")
    if all(reason.kind in open_yet for reason in answered.reasons):
        return ""
    said = any(reason.kind in ("fouled", "unknown") for reason in answered.reasons)
    if answered.pilot is not None:
        return f"The sheets are stamped PILOT ONLY. {answered.why_not}"
    return f"The sheets are stamped NOT TO BE DRILLED.{'' if said else f' {answered.why_not}'}"
