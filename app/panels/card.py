"""The card: what is next, then eight sections in the order in which a person with a tape goes round the boat.

One section is open at a time; its entries can be typed in either unit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from app.palette import of
from app.panels.entry import Entry
from app.panels.next_slip import NextSlip
from app.panels.parts import Tall, ground, hairline, scrolled, shows_focus, wide
from app.sight import Sight
from app.tools import typing
from app.type import sized
from app.words.card_words import Section, lines, section_of, sections
from geometry.design.measures import SECTIONS
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from geometry.decide.ladder import Rung
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked

_UNITS = {"in": "inches", "mm": "millimetres"}
CLOSED, OPEN = 27, 32


class SectionHead(QAbstractButton):
    """The head of a section: its number, its name, and what is missing in it or what it says."""

    def __init__(self, number: int) -> None:
        super().__init__()
        self._number, self._told, self._open = number, "", False
        self.setText(SECTIONS[number - 1])
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def show_section(self, section: Section, unit: str, *, opened: bool) -> None:
        """Show a section's head."""
        self._open = opened
        said = section.told if section.missing or section.guesses else ""
        self._told = " · ".join(word for word in (said, unit) if word) if opened else section.told
        self.setAccessibleName(f"{section.title}, {self._told}")
        self.setAccessibleDescription("open" if opened else "closed")
        self.setFixedHeight(OPEN if opened else CLOSED)
        self.update()

    @property
    def told(self) -> str:
        """What stands at its right."""
        return self._told

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the room that both texts take."""
        room = wide(sized("section", strong=True), self.text()) + wide(sized("small"), self._told) + 72
        return QSize(room, OPEN if self._open else CLOSED)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        colours, painter = of(self), QPainter(self)
        box = QRectF(self.rect()).adjusted(16, 0, -16, 0)
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.setFont(sized("section" if self._open else "plain", strong=self._open))
        painter.setPen(colours["ink" if self._open else "soft"])
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft | middle, str(self._number))
        painter.setPen(colours["ink"])
        painter.drawText(box.adjusted(16, 0, 0, 0), Qt.AlignmentFlag.AlignLeft | middle, self.text())
        painter.setFont(sized("small"))
        painter.setPen(colours["soft"])
        painter.drawText(box, Qt.AlignmentFlag.AlignRight | middle, self._told)
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(6, 1, -6, -1))


class Card(QWidget):
    """Next, and what is measured.

    Signals:
        previewed: a design in the middle of a key held down. committed: (label, design).
        looked: a sight: a section opened, an entry lit. cancelled: what was previewed is dropped.
    """

    previewed = Signal(object)
    committed = Signal(str, object)
    cancelled = Signal()
    looked = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setMinimumWidth(240)
        self.setAccessibleName("Card")
        self._design: Design | None = None
        self._sight = Sight()
        self._stepping = ""
        self.slip = NextSlip()
        self.heads = tuple(SectionHead(number) for number in range(1, len(SECTIONS) + 1))
        self._bodies = tuple(_Body() for _ in self.heads)
        self._entries: dict[int, list[Entry]] = {}
        inner = Tall()
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 6, 0, 6)
        column.setSpacing(0)
        for number, (head, body) in enumerate(zip(self.heads, self._bodies, strict=True), start=1):
            column.addWidget(head)
            column.addWidget(body)
            head.clicked.connect(lambda _on=False, number=number: self._open(number))
        column.addStretch(1)
        self._area = scrolled(inner)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.slip)
        whole.addWidget(hairline())
        whole.addWidget(self._area, 1)
        self.slip.committed.connect(self.committed)
        self.slip.wanted.connect(self.go_to)

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show a checked design; a text being typed stays."""
        self._design, self._sight = checked.design, sight
        self.slip.show_checked(checked, sight)
        unit = _UNITS[checked.design.units]
        for section, head, body in zip(sections(checked.design, sight.mount), self.heads, self._bodies, strict=True):
            opened = section.number == sight.section
            head.show_section(section, unit, opened=opened)
            body.setVisible(opened)
            if opened:
                self._fill(section.number)

    def show_rungs(self, rungs: tuple[Rung, ...]) -> None:
        """Show the best cure on the slip."""
        self.slip.show_rungs(rungs)

    def entry(self, key: str) -> Entry | None:
        """Return the visible entry of a measure."""
        return next((e for e in self._entries.get(self._sight.section, ()) if e.key == key and e.isVisibleTo(self)), None)

    def go_to(self, key: str) -> None:
        """Open the section of a measure, and put the hand into its entry, its text chosen."""
        if self._design is None:
            return
        self.looked.emit(replace(self._sight, section=section_of(self._design, key), lit=key))
        entry = self.entry(key)
        if entry is not None:
            entry.field.setFocus(Qt.FocusReason.ShortcutFocusReason)
            self._area.ensureWidgetVisible(entry)

    def take_hand(self) -> None:
        """Take the focus: the open section's first entry, else the first head."""
        opened = self._entries.get(self._sight.section, ())
        first = next((entry.field for entry in opened if entry.isVisible()), None)
        (first or self.heads[max(0, self._sight.section - 1)]).setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _open(self, number: int) -> None:
        section = 0 if number == self._sight.section else number
        self.looked.emit(replace(self._sight, section=section, lit=""))

    def _fill(self, number: int) -> None:
        if self._design is None:
            return
        found = lines(self._design, self._sight.mount, number)
        entries = self._entries.setdefault(number, [])
        while len(entries) < len(found):
            entries.append(self._new_entry(number))
        for index, entry in enumerate(entries):
            entry.setVisible(index < len(found))
            if index < len(found):
                entry.show_line(found[index])

    def _new_entry(self, number: int) -> Entry:
        entry = Entry()
        entry.typed.connect(self._typed)
        entry.focused.connect(self._light)
        entry.stepped.connect(self._step)
        entry.step_ended.connect(self._end_step)
        entry.confirmed.connect(self._confirm)
        entry.gone_on.connect(self._go_on)
        self._bodies[number - 1].add(entry)
        return entry

    def _light(self, key: str) -> None:
        if key != self._sight.lit:
            self.looked.emit(replace(self._sight, lit=key))

    def _typed(self, key: str, text: str) -> None:
        if self._design is None:
            return
        try:
            changed = typing.typed(self._design, key, text)
        except OwnerError as sentence:
            self._problem(key, str(sentence))
        else:
            self.committed.emit(typing.label(changed, key), changed)

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
            self._problem(key, str(sentence))
        else:
            self._stepping = key
            self.previewed.emit(changed)

    def _end_step(self, key: str) -> None:
        if self._stepping == key and self._design is not None:
            self.committed.emit(typing.label(self._design, key), self._design)
        self._stepping = ""

    def _confirm(self, key: str) -> None:
        if self._design is not None:
            name = typing.found(self._design, key).name
            self.committed.emit(f"{name} measured", typing.confirmed(self._design, key))

    def _go_on(self, key: str) -> None:
        entries = [e for e in self._entries.get(self._sight.section, ()) if e.isVisible() and not e.field.isReadOnly()]
        keys = [entry.key for entry in entries]
        if key in keys and keys.index(key) + 1 < len(keys):
            following = entries[keys.index(key) + 1]
            following.field.setFocus(Qt.FocusReason.TabFocusReason)
            self._area.ensureWidgetVisible(following)


class _Body(QWidget):
    """The entries of one section, a hairline below them."""

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(32, 0, 16, 12)
        self._column.setSpacing(0)
        self.hide()

    def add(self, entry: Entry) -> None:
        """Put one entry below the others."""
        self._column.addWidget(entry)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the hairline."""
        painter = QPainter(self)
        painter.fillRect(16, self.height() - 6, self.width() - 32, 1, of(self)["rule"])
