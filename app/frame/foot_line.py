"""The foot line of the window: the part under the pointer, snap, unit, scale, and whether the boat is saved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from app.entries import steps as snap
from app.frame.columns import PARTS
from app.ui.apostrophes import curly
from app.ui.basic_widgets import ground, words
from app.ui.tool_button import ToolButton
from app.ui.typography import row_high
from geometry.readings.measures import measure

if TYPE_CHECKING:
    from app.document.view_state import ViewState
    from geometry.judge.findings import Checked

HIGH = 28


class _Sentence(QLabel):
    """A sentence in one line. Where it is too long for its place, it ends with dots, and the pointer shows all of it."""

    def __init__(self) -> None:
        super().__init__()
        made = words(role="soft", size="small")
        self.setFont(made.font())
        self.setForegroundRole(made.foregroundRole())
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    @property
    def shown(self) -> str:
        """The sentence as far as it is seen."""
        return self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, self.shown)

    def event(self, event: QEvent) -> bool:
        """Show all of it under the pointer, where it is cut."""
        if event.type() == QEvent.Type.ToolTip:
            self.setToolTip(self.text() if self.shown != self.text() else "")
        return super().event(event)


class FootLine(QWidget):
    """One line at the foot of the window.

    Signals:
        part: the part to show, in a narrow window.
    """

    part = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setFixedHeight(row_high(HIGH))
        self.setAccessibleName("Foot line")
        self._said = _Sentence()
        self._state = words(role="soft", size="small")
        self._trouble = words(size="small", strong=True)
        self._trouble.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._trouble.hide()
        self._sheets = False
        self._unit = self._scale = self._saved = self._lit = ""
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 0, 16, 0)
        row.setSpacing(0)
        self.parts = {name: ToolButton(name.capitalize(), "", f"Show {name}") for name in PARTS}
        for name, button in self.parts.items():
            button.setFixedHeight(row_high(HIGH))
            button.clicked.connect(lambda _on=False, name=name: self.part.emit(name))
            button.hide()
            row.addWidget(button)
        row.addSpacing(8)
        row.addWidget(self._said, 1)
        row.addWidget(self._trouble, 2)
        row.addSpacing(16)
        row.addWidget(self._state)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the lit part, and the unit."""
        unit = checked.design.units
        if view_state.sheets != self._sheets:
            self._sheets = view_state.sheets
            self.parts["cut"].setText("Pages" if view_state.sheets else "Cut")
            self.parts["findings"].setEnabled(not view_state.sheets)
            self.parts["findings"].setVisible(not view_state.sheets and self.parts["cut"].isVisible())
            self.parts["cut"].updateGeometry()
        self._unit = f"snap {snap.WORDS[unit]}  ·  {'inches' if unit == 'in' else 'millimetres'}"
        if view_state.lit != self._lit:
            self._lit = view_state.lit
            lit = measure(checked.design, view_state.lit)
            self.say("" if lit is None else f"{lit.name}: {lit.how[0].lower()}{lit.how[1:]}")
        self._show_state()

    def show_parts(self, narrow: bool, current: str) -> None:
        """Offer the parts by their names, in a narrow window."""
        for name, button in self.parts.items():
            button.setVisible(narrow and button.isEnabled())
            button.setChecked(name == current)
        self._state.setVisible(not narrow)

    def show_scale(self, scale: float) -> None:
        """Show the face's scale, paper to boat."""
        self._scale = f"scale {scale:.1f}:1" if scale > 1 else f"scale 1:{1 / scale:.1f}"
        self._show_state()

    def show_saved(self, said: str) -> None:
        """Show whether the boat is saved: "saved 10:42"."""
        self._saved = said
        self._show_state()

    def show_trouble(self, sentence: str) -> None:
        """Show why the last change is not kept against a crash; "" where it is kept."""
        self._trouble.setText(curly(sentence))
        self._trouble.setToolTip(curly(sentence))
        self._trouble.setVisible(bool(sentence))

    @property
    def trouble(self) -> str:
        """The reason why the last change is not kept; "" where it is."""
        return self._trouble.text()

    def say(self, sentence: str) -> None:
        """Show a sentence: the part under the pointer, or why a part does not move."""
        self._said.setText(curly(sentence))

    @property
    def said(self) -> str:
        """The sentence at its left."""
        return self._said.text()

    def _show_state(self) -> None:
        self._state.setText("  ·  ".join(word for word in (self._unit, self._scale, self._saved) if word))
