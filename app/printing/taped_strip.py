"""The strip below the page plan: what to measure once the pages are taped."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from app.printing.sheet_set import SheetSet, taped_words
from app.ui.basic_widgets import ground, unbroken, words

if TYPE_CHECKING:
    from app.document.view_state import ViewState
    from geometry.judge.findings import Checked

HIGH = 44


class TapedStrip(QWidget):
    """One line, in the ladder's place."""

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setMinimumHeight(HIGH)
        self.setAccessibleName("Once taped")
        self._told = words(wrap=True)
        self._told.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        row = QHBoxLayout(self)
        row.setContentsMargins(24, 4, 24, 4)
        row.setSpacing(14)
        row.addWidget(words("Once taped", size="section", strong=True))
        row.addWidget(self._told, 1)
        self.hide()

    @property
    def told(self) -> str:
        """What it says."""
        return self._told.text()

    def show_checked(self, _checked: Checked, view_state: ViewState) -> None:
        """Stand there while the sheets are made."""
        self.setVisible(view_state.sheets)

    def show_plan(self, found: SheetSet | None) -> None:
        """Say what to measure."""
        self._told.setText("" if found is None else unbroken(taped_words(found)))
        self.setAccessibleDescription(self._told.text())
