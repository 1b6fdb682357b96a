"""The strip below the page plan: what to measure after taping the pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from app.printing.sheet_set import SheetSet, taped_words
from app.ui.basic_widgets import Button, ground, unbroken, words

if TYPE_CHECKING:
    from app.document.view_state import ViewState
    from geometry.judge.findings import Checked

HIGH = 44


class TapedStrip(QWidget):
    """One line, in the ladder's place, with a button for what was read.

    Signals:
        asked: the window of the taped-up check is asked for.
    """

    asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setMinimumHeight(HIGH)
        self.setAccessibleName("After taping")
        self._text = words(wrap=True)
        self._text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        row = QHBoxLayout(self)
        row.setContentsMargins(24, 4, 24, 4)
        row.setSpacing(14)
        row.addWidget(words("After taping", size="section", strong=True))
        row.addWidget(self._text, 1)
        self.button = Button("Type what you read", high=30)
        self.button.clicked.connect(self.asked)
        row.addWidget(self.button)
        self.hide()

    @property
    def text(self) -> str:
        """The text that it shows."""
        return self._text.text()

    def show_checked(self, _checked: Checked, view_state: ViewState) -> None:
        """Show the strip while the sheets are made."""
        self.setVisible(view_state.sheets)

    def show_plan(self, sheets: SheetSet | None) -> None:
        """Say what to measure."""
        self.button.setEnabled(sheets is not None and "template" in sheets.options.kinds)
        self._text.setText("" if sheets is None else unbroken(taped_words(sheets)))
        self.setAccessibleDescription(self._text.text())
