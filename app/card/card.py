"""The card: the next step, then eight sections in the order of a walk round the boat with a tape, then the assumptions.

One section is open at a time; its entries can be typed in either unit.
"""

from __future__ import annotations

from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QRect, Qt, QTimer, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QApplication, QLabel, QVBoxLayout, QWidget

from app.card.next_step_panel import NextStepPanel
from app.card.section_head import SectionHead
from app.card.section_in_sight import SETTLED, SectionInSight
from app.document.view_state import ViewState
from app.entries import typed_entries as typing
from app.entries.card_items import IN_HAND, Act, Item, Said, answered, items, key_of, section_with, short_name
from app.entries.choice_lines import ActLine, Pick
from app.entries.entry import Entry
from app.entries.entry_text import Line, section_of, sections
from app.entries.field_words import edge_of, origin_word
from app.entries.refusals import plain_refusal
from app.ui.basic_widgets import ScrollContent, ground, hairline, scrolled, words
from app.ui.palette import fill, of
from geometry.design.validity import SECOND
from geometry.edits.choices import Choice, choices
from geometry.edits.confirm_or_buy import counted_as
from geometry.errors import OwnerError
from geometry.readings.assumption_measures import SECTION
from geometry.readings.measure import tool_word
from geometry.readings.measures import SECTIONS, lacking

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.decide.ladder import Rung
    from geometry.design.design import Design, Edge, How, Origin
    from geometry.judge.findings import Checked

_Part = Entry | Pick | ActLine | QLabel
_UNITS = {"in": "inches", "mm": "millimetres"}
_HOLES = 4  # the section of the old holes
_LAST = SECTION - 1  # the section where a walk round the boat ends; the assumptions after it are not measured


class Card(QWidget):
    """The next step, and the sections of entries.

    Args:
        picture: the widget for the picture of what is asked; None for none.

    Signals:
        previewed: a design in the middle of a key held down. committed: (label, design).
        view_changed: a view state: a section opened, an entry lit. cancelled: what was previewed is dropped.
        said: why a choice could not be made. measuring, sheets: the measuring sheet, or
            all sheets, are asked for. surveying: the window of the survey is asked for.
    """

    previewed = Signal(object)
    committed = Signal(str, object)
    cancelled = Signal()
    view_changed = Signal(object)
    said = Signal(str)
    measuring = Signal()
    surveying = Signal()
    sheets = Signal()

    def __init__(self, picture: QWidget | None = None) -> None:
        super().__init__()
        ground(self, "card")
        self.setMinimumWidth(280)
        self.setAccessibleName("Card")
        self._design: Design | None = None
        self._view_state = ViewState()
        self._pointed = ""  # the entry that another part of the window points at
        self._stepping = "", ""  # the entry that is stepped by a key held down, and what the step is called
        self.next_step = NextStepPanel(picture)
        self.heads = tuple(SectionHead(number) for number in range(1, len(SECTIONS) + 1))
        self._bodies = tuple(_Body() for _ in self.heads)
        self._parts: dict[int, dict[str, _Part]] = {}
        inner = ScrollContent()
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 6, 0, 6)
        column.setSpacing(0)
        for number, (head, body) in enumerate(zip(self.heads, self._bodies, strict=True), start=1):
            column.addWidget(head)
            column.addWidget(body)
            head.clicked.connect(lambda _on=False, number=number: self._open(number))
        column.addStretch(1)
        self._area = scrolled(inner)
        self._in_sight, self._pressing = SectionInSight(self._area), False
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.next_step)
        whole.addWidget(hairline())
        whole.addWidget(self._area, 1)
        self.sheet_line = ActLine()
        self.sheet_line.show_words("Print the measuring sheet")
        self.sheet_line.clicked.connect(self.measuring)
        foot = QVBoxLayout()
        foot.setContentsMargins(16, 0, 16, 6)
        foot.addWidget(self.sheet_line)
        self.survey_line = ActLine()
        self.survey_line.show_words("Survey: distances between points")
        self.survey_line.clicked.connect(self.surveying)
        foot.addWidget(self.survey_line)
        whole.addLayout(foot)
        self.next_step.committed.connect(self.committed)
        self.next_step.hinted.connect(self._hint)
        self.next_step.wanted.connect(self.go_to)
        self.next_step.sheets.connect(self.sheets)
        self.next_step.view_changed.connect(self.view_changed)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show a checked design; a text being typed stays."""
        opens = view_state.section != self._view_state.section
        self._design, self._view_state = checked.design, view_state
        self.next_step.show_checked(checked, view_state)
        unit = _UNITS[checked.design.units]
        for section, head, body in zip(sections(checked.design, view_state.mount), self.heads, self._bodies, strict=True):
            opened = section.number == view_state.section
            head.show_section(section, unit, opened=opened)
            body.setVisible(opened)
            if opened:
                self._fill(section.number)
            if opens and opened and not self._pressing:
                self._in_sight.lead_to(head, body)

    def show_rungs(self, rungs: tuple[Rung, ...]) -> None:
        """Show the best cure in the panel of the next step."""
        self.next_step.show_rungs(rungs)

    def show_doubts(self, checked: Checked) -> None:
        """Show the reading that moves the answer most in the panel of the next step."""
        self.next_step.show_doubts(checked)

    def entry(self, key: str) -> Entry | None:
        """Return the visible entry of a measure."""
        part = self._visible().get(key)
        return part if isinstance(part, Entry) else None

    def pick(self, key: str) -> Pick | None:
        """Return the visible line of a choice."""
        part = self._visible().get(key)
        return part if isinstance(part, Pick) else None

    def act(self, key: str) -> ActLine | None:
        """Return the visible line of an act."""
        part = self._visible().get(key)
        return part if isinstance(part, ActLine) else None

    def go_to(self, key: str) -> None:
        """Open the section of a measure or a choice, and give it the focus, with its text selected."""
        part = self.show_entry(key)
        if part is not None:
            stop = part.button if isinstance(part, Pick) else part.stops()[0]
            stop.setFocus(Qt.FocusReason.ShortcutFocusReason)
            self._reveal(part)
        self._pointed = ""

    def show_entry(self, key: str) -> Entry | Pick | ActLine | None:
        """Open the section of a measure or a choice, highlight it and scroll to it. The focus stays where it is."""
        if self._design is None:
            return None
        key = lacking(self._design, key)
        mount = int(key.split(".")[1]) if key.startswith("mounts.") else self._view_state.mount
        chosen = next((choice for choice in choices(self._design, mount) if key in (choice.key, choice.reading)), None)
        section = section_with(self._design, mount, key) or section_of(self._design, key)
        section = section or (0 if chosen is None else chosen.section)
        lit = self._pointed = "" if chosen is not None and chosen.key == key else key
        self.view_changed.emit(replace(self._view_state, section=section, mount=mount, lit=lit))
        part = self._visible().get(key) or self._visible().get("" if chosen is None else chosen.key)
        if part is None or isinstance(part, QLabel):
            return None
        self._reveal(part)
        return part

    def take_focus(self) -> None:
        """Take the focus: the question, else the open section's first entry, else the first head."""
        if self.next_step.asks:
            self.next_step.take_focus()
            return
        opened = (part for part in self._visible().values() if isinstance(part, Entry))
        first = next((entry.field for entry in opened if not entry.field.isReadOnly()), None)
        (first or self.heads[max(0, self._view_state.section - 1)]).setFocus(Qt.FocusReason.ShortcutFocusReason)

    def settle(self) -> None:
        """Take the text that is still being typed, as if the focus had left."""
        self.next_step.settle()
        for part in self._visible().values():
            if isinstance(part, Entry) and part.field.hasFocus():
                part.field.commit()

    def _visible(self) -> dict[str, _Part]:
        """Return the open section's parts in their order."""
        parts = self._parts.get(self._view_state.section, {})
        body = self._bodies[self._view_state.section - 1]
        return {key: parts[key] for key in body.keys if key in parts} if self._view_state.section else {}

    def _hint(self, design: Design | None) -> None:
        if design is not self._view_state.ghost:
            self.view_changed.emit(replace(self._view_state, ghost=design))

    def _open(self, number: int) -> None:
        section = 0 if number == self._view_state.section else number
        self._in_sight.leave()
        self._pressing = True  # what is pressed stays under the hand
        self.view_changed.emit(replace(self._view_state, section=section, lit=""))
        self._pressing = False

    def _fill(self, number: int) -> None:
        if self._design is None:
            return
        shown = {key_of(item): item for item in items(self._design, self._view_state.mount, number)}
        parts = self._parts.setdefault(number, {})
        for key, item in shown.items():
            if key not in parts:
                parts[key] = self._new_part(item)
            _show(parts[key], item, self._design)
            if isinstance(part := parts[key], Entry):
                part.point_at(on=key == self._pointed == self._view_state.lit)
        gone = [parts.pop(key) for key in parts.keys() - shown.keys()]  # its motor, hole or well is gone
        if any(part.isAncestorOf(focus) for part in gone if (focus := QApplication.focusWidget())):
            self.heads[number - 1].setFocus()  # else Qt gives the hand to the next entry, which looks in the middle of this
        for part in gone:
            part.hide()
            part.deleteLater()
        self._bodies[number - 1].arrange(shown.keys(), parts, after=self.heads[number - 1])

    def _new_part(self, item: Item) -> _Part:
        if isinstance(item, Line):
            return self._new_entry()
        if isinstance(item, Choice):
            pick = Pick()
            pick.chosen.connect(self._choose)
            pick.hinted.connect(self._hint_choice)
            pick.confirmed.connect(self._confirm)
            return pick
        if isinstance(item, Act):
            act = ActLine()
            act.clicked.connect(lambda: self._do(act))
            return act
        said = words(role="ink" if item.head else "soft", strong=item.head, wrap=True)
        said.setContentsMargins(0, 10 if item.head else 2, 0, 2)
        return said

    def _new_entry(self) -> Entry:
        entry = Entry()
        entry.typed.connect(lambda key, text: self._typed(key, text, entry.edge))
        entry.focused.connect(self._light)
        entry.stepped.connect(self._step)
        entry.step_hinted.connect(self._hint_step)
        entry.step_ended.connect(self._end_step)
        entry.confirmed.connect(self._confirm)
        entry.gone_on.connect(self._go_on)
        entry.read_to.connect(self._read_to)
        entry.read_with.connect(self._read_with)
        entry.counted_as.connect(self._count_as)
        return entry

    def _choose(self, key: str, index: int) -> None:
        if self._design is None:
            return
        if key == IN_HAND:
            self.view_changed.emit(replace(self._view_state, mount=index, chosen="", lit=""))
            return
        choice = next((each for each in choices(self._design, self._view_state.mount) if each.key == key), None)
        if choice is None:
            return
        try:
            changed = answered(choice, index, self._view_state.mount)
        except OwnerError as sentence:
            self.said.emit(plain_refusal(sentence))
        else:
            pick = self.pick(key)
            by_keys = _guessed(self._design, choice) and pick is not None and pick.button.by_keys
            before = set(self._visible())
            self.committed.emit(f"{choice.name}: {choice.options[index].short}", changed)
            asked = (new for new, part in self._visible().items() if new not in before and isinstance(part, Entry))
            if new := next(asked, ""):  # what the answer asks for is typed next
                self._take(new)
            elif by_keys:  # a guess answered in walking order: on to what is measured next
                self._go_on(key)

    def _do(self, line: ActLine) -> None:
        if line.act is not None:
            before = 0 if self._design is None else len(self._design.mounts)
            try:
                changed = line.act.make()
            except OwnerError as sentence:
                self.said.emit(plain_refusal(sentence))
                return
            self.committed.emit(line.act.label, changed)
            if len(changed.mounts) > before:  # the new one is in hand
                self.view_changed.emit(replace(self._view_state, mount=len(changed.mounts) - 1, chosen=""))

    def _read_to(self, key: str, edge: str) -> None:
        if self._design is None:
            return
        try:
            changed = typing.read_to(self._design, key, edge_of(edge))
        except OwnerError as sentence:
            self._problem(key, plain_refusal(sentence))
        else:
            self.committed.emit(typing.label(changed, key, self._design), changed)

    def _read_with(self, key: str, way: How) -> None:
        if self._design is not None:
            name = typing.measure_of(self._design, key).name
            self.committed.emit(f"{name}: read with {tool_word(way)}", typing.read_with(self._design, key, way))

    def _count_as(self, key: str, origin: Origin) -> None:
        if self._design is None:
            return
        measure = typing.measure_of(self._design, key)
        try:
            changed = counted_as(self._design, measure, origin)
        except OwnerError as sentence:
            self._problem(key, plain_refusal(sentence))
        else:
            self.committed.emit(f"{measure.name} counted as {origin_word(origin)}", changed)

    def _light(self, key: str) -> None:
        if key != self._view_state.lit:
            self.view_changed.emit(replace(self._view_state, lit=key))

    def _typed(self, key: str, text: str, edge: Edge) -> None:
        if self._design is None:
            return
        try:
            changed = typing.typed(self._design, key, text, edge)
        except OwnerError as sentence:
            self._problem(key, plain_refusal(sentence))
        else:
            self.committed.emit(typing.label(changed, key, self._design), changed)

    def _problem(self, key: str, sentence: str) -> None:
        entry = self.entry(key)
        if entry is not None:
            entry.show_problem(sentence)

    def _step(self, key: str, way: int) -> None:
        if self._design is None or not key:
            return
        try:
            changed = typing.stepped(self._design, key, way)
        except OwnerError as sentence:
            self._problem(key, plain_refusal(sentence))
        else:
            called = typing.label(changed, key, self._design)
            self._stepping = "", ""  # an entry that is not there any more loses the hand while it is shown
            self.previewed.emit(changed)
            self._design = changed  # where the focus is elsewhere, the card itself is shown later
            self._stepping = key, called
            if self.entry(key) is None:
                self._end_step(key)

    def _hint_step(self, key: str, way: int) -> None:
        """Show where a step would put the holes, while the pointer is on its arrow."""
        changed = None
        if way and self._design is not None and key:
            with suppress(OwnerError):  # at its end there is no further step
                changed = typing.stepped(self._design, key, way)
        self._hint(None if changed == self._design else changed)

    def _hint_choice(self, key: str, index: int) -> None:
        """Show the holes and hardware of an answer, while it is under the pointer or the arrow keys."""
        changed, mount = None, self._view_state.mount
        if index >= 0 and self._design is not None:
            choice = next((each for each in choices(self._design, mount) if each.key == key), None)
            if choice is not None and index != choice.at:
                with suppress(OwnerError):  # an answer that is not possible says so once it is pressed
                    changed = answered(choice, index, mount)
        self._hint(changed)

    def _end_step(self, key: str) -> None:
        (stepped, called), self._stepping = self._stepping, ("", "")
        if stepped == key and self._design is not None:
            self.committed.emit(called, self._design)

    def _confirm(self, key: str) -> None:
        if self._design is not None:
            design, measure = self._design, typing.measure_of(self._design, key)
            try:
                changed = typing.confirmed(design, key)
            except OwnerError as sentence:
                self._problem(key, plain_refusal(sentence))
                return
            if measure.kind == "shape":  # it leaves the card once it is measured
                self._go_on(key)
            done = "measured" if changed.sure_of == design.sure_of else "confirmed"
            self.committed.emit(f"{measure.name} {done}", changed)

    def _go_on(self, key: str) -> None:
        """Go to the next entry, in this section or the first after it that holds one; choices that are guesses count."""
        if self._design is None:
            return
        design, mount, number = self._design, self._view_state.mount, self._view_state.section
        waiting = items(design, mount, number)
        waiting = waiting[next((at for at, item in enumerate(waiting, start=1) if key_of(item) == key), len(waiting)) :]
        while (wanted := next((key_of(item) for item in waiting if _waits(design, item)), None)) is None:
            if number >= _LAST or self._view_state.section == _HOLES:  # there may be another hole
                return
            number += 1
            waiting = items(design, mount, number)
        if number != self._view_state.section:
            self.view_changed.emit(replace(self._view_state, section=number, lit=""))
        self._take(wanted)

    def _take(self, key: str) -> None:
        """Give a visible entry or choice the focus."""
        part = self._visible()[key]
        stop = part.button if isinstance(part, Pick) else part.field if isinstance(part, Entry) else part
        stop.setFocus(Qt.FocusReason.TabFocusReason)
        self._reveal(part)

    def _reveal(self, part: QWidget) -> None:
        """Bring a part into sight: at once, and again once a section that was just opened has its height."""
        self._area.ensureWidgetVisible(part)
        for later in SETTLED:
            QTimer.singleShot(later, part, partial(self._area.ensureWidgetVisible, part))


def _show(part: _Part, item: Item, design: Design) -> None:
    """Show an item in the part that was made for it."""
    if isinstance(part, Entry) and isinstance(item, Line):
        part.show_line(item, short_name(item))
    elif isinstance(part, Pick) and isinstance(item, Choice):
        part.show_choice(item, short_name(item), guess=_guessed(design, item))
    elif isinstance(part, ActLine) and isinstance(item, Act):
        part.show_act(item)
    elif isinstance(part, QLabel) and isinstance(item, Said):
        part.setText(item.text)


def _waits(design: Design, item: Item) -> bool:
    """Return whether an item waits for an answer: a choice that is a guess, or an entry.

    An entry that is calculated or only compared with others does not wait.
    """
    if isinstance(item, Line):
        return item.origin != "calculated" and SECOND not in item.key
    return isinstance(item, Choice) and _guessed(design, item)


def _guessed(design: Design, choice: Choice) -> bool:
    reading = design.readings.get(choice.reading)
    return reading is not None and reading.state == "guess"


class _Body(QWidget):
    """The items of one section, with a hairline below."""

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(32, 0, 16, 12)
        self._column.setSpacing(0)
        self.keys: tuple[str, ...] = ()
        self.hide()

    def arrange(self, keys: Iterable[str], parts: dict[str, _Part], after: QWidget) -> None:
        """Put the parts one below another, and let Tab go through them in that order from ``after``."""
        wanted = tuple(keys)
        if wanted == self.keys:
            return
        self.keys = wanted
        for part in self.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly):
            self._column.removeWidget(part)  # the item with it: one taken out would keep its hold, and a new one old heights
        last = after
        for key in wanted:
            part = parts[key]
            self._column.addWidget(part)
            part.show()
            for stop in () if isinstance(part, QLabel) else part.stops():
                QWidget.setTabOrder(last, stop)
                last = stop

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the hairline."""
        painter = QPainter(self)
        fill(painter, QRect(16, self.height() - 6, self.width() - 32, 1), of(self)["rule"])
