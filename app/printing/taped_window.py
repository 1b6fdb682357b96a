"""The window of the taped-up check: each distance, what it should be, a field for what was read, and the answer."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.entries.field import Field
from app.entries.refusals import plain_refusal
from app.printing.taped_check import table_of_sheets, with_readings
from app.ui.apostrophes import curly
from app.ui.basic_widgets import Button, ScrollContent, ground, scrolled, unbroken, words
from geometry.errors import OwnerError
from geometry.survey.taped_paper import is_out
from geometry.survey.taped_words import FROM, allowed, figure
from geometry.units.units import parse_length

if TYPE_CHECKING:
    from app.document.document import Document
    from app.printing.sheet_set import SheetSet
    from app.printing.taped_check import TapedTable

_NO_TEMPLATE = "The template is not among the sheets. Choose it, and wait for its pages."
_HEADS = ("", "should be", "within", "you read", "")


class TapedWindow(QDialog):
    """The table of the template that is shown, and its answer. Each reading is one step of the document."""

    def __init__(self, document: Document, parent: QWidget) -> None:
        super().__init__(parent)
        ground(self, "card")
        self.setWindowTitle("After taping")
        self._document = document
        self._table: TapedTable | None = None
        self.answer, self.problem = words(strong=True, wrap=True), words(role="fouled", wrap=True)
        self.fields: dict[str, Field] = {}
        self._states: dict[str, QLabel] = {}
        self._inner = ScrollContent()
        self._grid = QGridLayout(self._inner)
        self._grid.setContentsMargins(0, 6, 8, 6)
        self._grid.setColumnStretch(0, 1)
        self.close_button = Button("Close", high=32)
        self.close_button.clicked.connect(self.close)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(self.close_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 14)
        column.addWidget(self.answer)
        column.addWidget(self.problem)
        column.addWidget(words(FROM, role="soft", wrap=True))
        column.addWidget(scrolled(self._inner), 1)
        column.addLayout(foot)
        self.problem.hide()
        document.present_shown.connect(self._show)
        self.resize(620, 620)

    def show_sheets(self, sheets: SheetSet | None) -> None:
        """Show the table of these sheets."""
        table = None if sheets is None else table_of_sheets(sheets)
        if table is None or self._table is None or table.paper != self._table.paper:
            self._table = table
            self._fill()
        self._table = table
        self._show()

    def _fill(self) -> None:
        """Make a line for each row of the table."""
        while self._grid.count():
            item = self._grid.takeAt(0)
            part = None if item is None else item.widget()
            if part is not None:
                part.hide()
                part.deleteLater()
        self.fields = {}
        self._states = {}
        if self._table is None:
            return
        unit = self._document.design.units
        for column, head in enumerate(_HEADS):
            self._grid.addWidget(words(head, role="soft", size="small"), 0, column)
        for line, row in enumerate(self._table.paper.rows, start=1):
            field, state = Field(), words(role="fouled")
            field.setAccessibleName(f"{row.name}, should be {figure(row.expected, unit)}")
            field.typed.connect(partial(self._typed, row.name))
            field.gone_on.connect(field.focusNextChild)
            cells = (words(row.name), words(unbroken(figure(row.expected, unit))), words(unbroken(allowed(row, unit)), "soft"))
            for column, part in enumerate((*cells, field, state)):
                self._grid.addWidget(part, line, column, Qt.AlignmentFlag.AlignVCenter)
            self.fields[row.name], self._states[row.name] = field, state
        self._grid.setRowStretch(len(self.fields) + 1, 1)

    def _show(self) -> None:
        """Show what was read, and the answer."""
        design = self._document.design
        if self._table is None:
            self.answer.setText(_NO_TEMPLATE)
            return
        read = self._table.readings(design)
        for row in self._table.paper.rows:
            seen = read.get(row.name)
            text = "" if seen is None else figure(seen, design.units)
            self.fields[row.name].show_value(text or design.units, text)
            self._states[row.name].setText("✕ off" if seen is not None and is_out(row, seen) else "")
        self.answer.setText(unbroken(curly(self._table.answer(design))))

    def _typed(self, name: str, text: str) -> None:
        """Take one reading; an empty text takes it away."""
        design = self._document.design
        if self._table is None:
            return
        try:
            length = parse_length(text, design.units) if text.strip() else None
            changed = with_readings(design, self._table.paper, {name: length})
        except OwnerError as sentence:
            self._say(plain_refusal(sentence))
            self.fields[name].refuse()
        else:
            self._say("")
            self._document.commit(f"Read on the paper: {name}", changed)

    def _say(self, sentence: str) -> None:
        self.problem.setText(curly(sentence))
        self.problem.setVisible(bool(sentence))
