"""The answer line: one mark, one sentence, one button. Nothing else competes with it in size."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from app.panels.parts import Button, StateMark, wide, words
from app.state_marks import WORDS
from app.type import sized
from geometry.judge.words import answer

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from app.sight import Sight
    from geometry.judge.findings import Checked

HIGH = 52


class AnswerLine(QWidget):
    """The answer to the one question.

    Signals:
        sheets: the button was pressed.
    """

    sheets = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setMinimumHeight(HIGH)
        self._mark = StateMark(32)
        self._sentence = words(size="answer", strong=True, wrap=True)
        self._sentence.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.button = Button("Make the sheets")
        self.button.setAccessibleName("Make the sheets")
        self.button.setAccessibleDescription("Saves the template and the shop sheet")
        self.button.clicked.connect(self.sheets)
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 4, 16, 4)
        row.setSpacing(10)
        row.addWidget(self._mark)
        row.addWidget(self._sentence, 1)
        row.addWidget(self.button)
        self.setAccessibleName("Answer")

    @property
    def sentence(self) -> str:
        """What it says."""
        return self._sentence.text()

    def show_checked(self, checked: Checked, _sight: Sight) -> None:
        """Show the answer to a checked design."""
        found = answer(checked)
        self._mark.show_state(found.state)
        self._mark.setAccessibleName(WORDS[found.state])
        self._sentence.setText(found.sentence.replace("'", "’"))
        self.button.fill(checked.verdict in ("clear", "tight") and bool(checked.design.mounts) and not checked.guesses)
        self.setAccessibleDescription(found.sentence)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Keep the sentence within two lines."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """A sentence too long for one line of the large size takes two of a smaller one."""
        large = sized("answer", strong=True)
        fits = wide(large, self._sentence.text()) <= self._sentence.width()
        self._sentence.setFont(large if fits else sized("section", strong=True))
        self._sentence.setAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
