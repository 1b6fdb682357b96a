"""One entry of the card: a name, a field, and how to measure it. It passes text on and calculates nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.entries.field import Field
from app.entries.field_words import origin_word
from app.entries.step_arrows import StepArrows
from app.ui.basic_widgets import StateMark, recolour, unbroken, words
from app.ui.typography import sized

if TYPE_CHECKING:
    from app.entries.entry_text import Line
    from geometry.design.design import Edge


_STEPPED = (".drop", ".row")  # the ends of the keys whose entries have arrows: drop and height


class Entry(QWidget):
    """A name, a field, and two lines of how-to while it is focused.

    Signals:
        typed: (key, text). focused: key. stepped: (key, direction). step_ended, gone_on: key.
        confirmed: key; the word `guess`, `to buy` or `sure?` was clicked. read_with: (key, what with).
        counted_as: (key, origin).
        read_to: (key, edge); another edge was chosen for a reading.
        step_hinted: (key, direction) of the step under the pointer; direction 0 afterwards.
    """

    typed = Signal(str, str)
    focused = Signal(str)
    stepped = Signal(str, int)
    step_ended = Signal(str)
    gone_on = Signal(str)
    confirmed = Signal(str)
    read_with = Signal(str, str)
    counted_as = Signal(str, str)
    read_to = Signal(str, str)
    step_hinted = Signal(str, int)

    def __init__(self) -> None:
        super().__init__()
        self.key = ""
        self.field = Field()
        self._name = words(wrap=True)
        self._note: QLabel | None = None
        self._below: _Below | None = None
        self._problem = self._how_to = self._spoken = ""
        row = self._row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self._name, 1)
        self._value = QHBoxLayout()
        self._value.setSpacing(2)  # narrow cards have no room for more
        self._value.addStretch(1)
        self._value.addWidget(self.field)
        self._arrows: StepArrows | None = None
        row.addLayout(self._value)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 2, 0, 2)
        self._column.setSpacing(0)
        self._column.addLayout(row)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.field.typed.connect(lambda text: self.typed.emit(self.key, text))
        self.field.focused.connect(self._on_focus)
        self.field.restored.connect(self._on_restored)
        self.field.stepped.connect(lambda way: self.stepped.emit(self.key, way))
        self.field.step_ended.connect(lambda: self.step_ended.emit(self.key))
        self.field.gone_on.connect(lambda: self.gone_on.emit(self.key))
        self.field.read_with.connect(lambda way: self.read_with.emit(self.key, way))
        self.field.counted_as.connect(lambda origin: self.counted_as.emit(self.key, origin))
        self.field.origin.clicked.connect(lambda: self.confirmed.emit(self.key))
        self.field.edge.picked.connect(lambda edge: self.read_to.emit(self.key, edge))
        self.field.installEventFilter(self)
        self._unfold(open_=False)

    def show_line(self, line: Line, name: str) -> None:
        """Show one line of the card under a name; a text that is being typed, or was refused, stays with its sentence."""
        if line.key != self.key:
            self.key, self._problem = line.key, ""
        self._how_to, self.field.way, self.field.counts = line.how, line.way, line.counts
        self._name.setText(name)
        self.field.setAccessibleName(line.name)
        self._spoken = f"{line.how} {line.note or (line.origin if line.edit else '')}".strip()
        self._show_note(line.note)
        self._show_arrows(shown=line.key.endswith(_STEPPED))
        self.field.setReadOnly(line.origin == "calculated" or line.shape)
        edge = self.edge if line.edge and line.origin == "not known" else line.edge  # chosen before the reading is typed
        shown = "unlikely" if line.unlikely else line.origin
        self.field.show_value(line.rest, line.edit, origin=shown, edge=edge, room=line.room)
        self._row.setDirection(QBoxLayout.Direction.TopToBottom if line.room == "line" else QBoxLayout.Direction.LeftToRight)
        self.field.edge.setAccessibleName(f"{line.name} is read to the {edge}")
        confirms = "confirm it" if line.unlikely else "confirm it as measured"
        self.field.origin.setAccessibleName(f"{line.name} is {origin_word(shown)}. Press to {confirms}")
        if not self.field.pending:
            self._problem = ""
        self._unfold(open_=self.field.hasFocus() or self.field.pointed)

    @property
    def arrows(self) -> StepArrows | None:
        """The two arrows of an entry that moves holes; None for all others."""
        return self._arrows

    def _show_arrows(self, *, shown: bool) -> None:
        """Show the arrows of an entry that moves holes. They are made when they are first wanted."""
        if shown and self._arrows is None:
            self._arrows = StepArrows()
            self._arrows.hinted.connect(lambda way: self.step_hinted.emit(self.key, way))
            self._arrows.stepped.connect(self._step)
            self._arrows.step_ended.connect(lambda: self.step_ended.emit(self.key))
            self._value.insertWidget(1, self._arrows)  # next to the field, also where that is below the name
        if self._arrows is not None:
            self._arrows.setVisible(shown)

    def _step(self, way: int) -> None:
        """Take a step that an arrow shows, with the focus in the field: its keys go on from there."""
        self.field.setFocus(Qt.FocusReason.MouseFocusReason)
        self.stepped.emit(self.key, way)

    def _show_note(self, note: str) -> None:
        """Show where an assumption is from, always below its field."""
        if note and self._note is None:
            self._note = words(role="soft", size="small", wrap=True)
            self._column.insertWidget(1, self._note)
        if self._note is not None:
            self._note.setText(unbroken(note))
            self._note.setVisible(bool(note))

    def point_at(self, *, on: bool) -> None:
        """Light it, as focus does, while another part of the window points at it."""
        if on != self.field.pointed:
            self.field.pointed = on
            self.field.update()
            self._unfold(open_=on or self.field.hasFocus())

    @property
    def edge(self) -> Edge:
        """The part of the old hole that was read."""
        return self.field.edge.edge

    def stops(self) -> tuple[QWidget, ...]:
        """Return where Tab stops."""
        return self.field, self.field.origin, self.field.edge

    @property
    def sentence(self) -> str:
        """Why its text was not taken; "" where it was."""
        return self._problem

    def show_problem(self, sentence: str) -> None:
        """Show why a text was not taken; the text stays."""
        self._problem = sentence
        self.field.refuse()
        self._unfold(open_=True)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        """Fold the how-to away when the field is left."""
        popup = isinstance(event, QFocusEvent) and event.reason() == Qt.FocusReason.PopupFocusReason
        if event.type() == QEvent.Type.FocusOut and not popup:
            self._unfold(open_=False)
        return super().eventFilter(watched, event)

    def _on_focus(self) -> None:
        self._unfold(open_=True)
        self.focused.emit(self.key)

    def _on_restored(self) -> None:
        self._problem = ""
        self._unfold(open_=True)

    def _unfold(self, *, open_: bool) -> None:
        self.field.setAccessibleDescription(self._problem or self._spoken)
        shown = bool(self._problem) or (open_ and bool(self._how_to))
        if shown and self._below is None:  # made when it is first wanted: most entries are only read
            self._below = _Below()
            self._column.addWidget(self._below)
        if self._below is not None:
            self._below.show_text(self._problem or self._how_to, wrong=bool(self._problem))
            self._below.setVisible(shown)
        self._name.setFont(sized(strong=shown))


class _Below(QWidget):
    """The lines below a field: how to measure it, or why its text was not taken."""

    def __init__(self) -> None:
        super().__init__()
        self._how = words(role="soft", size="small", wrap=True)
        self._mark = StateMark(14)
        self._mark.show_state("fouled")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 4, 0, 8)
        row.setSpacing(6)
        row.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._how, 1)

    def show_text(self, text: str, *, wrong: bool) -> None:
        self._how.setText(unbroken(text))
        recolour(self._how, "ink" if wrong else "soft")
        self._mark.setVisible(wrong)
