"""The card while the sheets are made: what is next, the paper, the two bars, and which sheets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QMenu, QVBoxLayout, QWidget

from app.entries.choice_lines import ActLine, PickButton
from app.entries.field import Field
from app.printing.sheet_kinds import SHEET_KINDS
from app.printing.sheet_set import PrintOptions, SheetSet, margin_of, reason_words, with_kind
from app.ui.apostrophes import curly
from app.ui.basic_widgets import Button, ScrollContent, ground, hairline, recolour, scrolled, words
from app.ui.link import Link
from geometry.errors import OwnerError
from geometry.tables.papers import paper
from geometry.units.units import format_length, parse_length

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from app.document.view_state import ViewState
    from geometry.judge.findings import Checked
    from geometry.units.units import Unit

_PAPERS: dict[str | None, str] = {
    "letter": "Letter", "legal": "Legal", "tabloid": "Tabloid", "a4": "A4", "a3": "A3", "a2": "A2",
    "roll24": "24 in roll", "roll36": "36 in roll",
}  # fmt: skip
_OFF: dict[Unit, float] = {"in": 25.4 / 32, "mm": 0.5}  # [mm] how far off the bar of the example reads
_FIRST = "Print, then measure both bars"
_GO_ON = "Make them now"
_LONGEST, _NAME_LEAST, _NAME_WIDE = 40, 80, 140  # of a printer's name: letters, and pixels for them
_TURNED: dict[str | None, str] = {None: "fewest pages", "portrait": "portrait", "landscape": "landscape"}


class SheetsCard(QWidget):
    """Paper, bars, sheets.

    Signals:
        options_changed: other PrintOptions. opened: open the saved file in the system's viewer.
        drawn: save the drawings as SVG. printed: print all sheets. stopped: stop what is under way.
        gone_on: make the sheets after a stop.
    """

    options_changed = Signal(object)
    opened = Signal()
    drawn = Signal()
    printed = Signal()
    stopped = Signal()
    gone_on = Signal()

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setMinimumWidth(280)
        self.setAccessibleName("Sheets")
        self._options, self._unit = PrintOptions("letter"), "in"
        self._bars = (152.4, 152.4)
        self._saved, self._how = False, ""
        self.title = words(_FIRST, size="section", strong=True, wrap=True)
        self._text = words(role="soft", wrap=True)
        self.open = Button("Open the PDF", high=32)
        self.open.setAccessibleName("Open the PDF in the system’s viewer")
        self.open.clicked.connect(self.opened)
        self.open.hide()
        self.print = Button("Print…", high=32)
        self.print.setAccessibleName("Print all sheets")
        self.print.setAccessibleDescription("Opens the system’s print dialog. Each sheet is printed at 100 %, on one side.")
        self.print.clicked.connect(self.printed)
        self._work, self._printing = "", False
        self.stop = Link("Stop")
        self.stop.clicked.connect(self._press_stop)
        self.stop.hide()
        self.paper, self.turned = _Pick(_PAPERS), _Pick(_TURNED)
        self.margin, self.across, self.up, self.printer = Field(), Field(), Field(), Field()
        self.known = _Pick({None: "none"})
        self.correct = QCheckBox("Use the printer’s correction")
        self._corrected = words(role="soft", wrap=True)
        self.svg = ActLine()
        self.svg.show_words("Save the drawings as SVG")
        self.svg.clicked.connect(self.drawn)
        self._why = words(role="soft", wrap=True)
        self._problem = words(role="fouled", wrap=True)
        self.boxes = {key: QCheckBox(kind.title) for key, kind in SHEET_KINDS.items()}
        self._counts = {key: words(role="soft") for key in self.boxes}
        self._total = words(role="soft", size="small")
        self._place()
        self.paper.chosen.connect(lambda key: self._ask(replace(self._options, paper=key)))
        self.turned.chosen.connect(lambda key: self._ask(replace(self._options, turned=key)))
        self.known.chosen.connect(lambda key: self._ask(replace(self._options, printer=key or "")))
        self.correct.toggled.connect(lambda on: self._ask(replace(self._options, correct=on)))
        for field, take in (
            (self.margin, self._margin), (self.across, self._across), (self.up, self._up), (self.printer, self._printer)
        ):  # fmt: skip
            field.typed.connect(lambda text, take=take: self._typed(take, text))
            field.gone_on.connect(field.focusNextChild)
        for key, box in self.boxes.items():
            box.toggled.connect(lambda on, key=key: self._ask(with_kind(self._options, key, on=on)))

    def _place(self) -> None:
        slip, bar = QWidget(), QWidget()
        ground(slip, "sheet")
        ground(bar, "ink")
        bar.setFixedWidth(4)
        halves, top = QHBoxLayout(slip), QVBoxLayout()
        halves.setContentsMargins(0, 0, 0, 0)
        halves.setSpacing(0)
        halves.addWidget(bar)
        halves.addLayout(top, 1)
        top.setContentsMargins(12, 10, 16, 10)
        top.setSpacing(3)
        for part in (words("Next", "soft", "small", strong=True), self.title, self._text):
            top.addWidget(part)
        buttons = QHBoxLayout()
        buttons.setContentsMargins(0, 4, 0, 0)
        for button in (self.print, self.open, self.stop):
            buttons.addWidget(button)
        buttons.addStretch(1)
        top.addLayout(buttons)
        inner = ScrollContent()
        column = QVBoxLayout(inner)
        column.setContentsMargins(32, 10, 16, 12)
        column.setSpacing(4)
        column.addWidget(words("Paper", size="section", strong=True))
        column.addLayout(_row("Size", self.paper))
        column.addWidget(self._why)
        column.addLayout(_row("Page orientation", self.turned))
        column.addLayout(_row("Unprintable margin", self.margin))
        column.addLayout(_row("Printer name", self.printer))
        self._kept = _row_of("Saved printers", self.known)
        column.addWidget(self._kept)
        column.addLayout(_row("Bar across reads", self.across))
        column.addLayout(_row("Bar up reads", self.up))
        column.addWidget(self.correct)
        column.addWidget(self._corrected)
        column.addWidget(self._problem)
        column.addSpacing(8)
        column.addWidget(hairline())
        column.addSpacing(8)
        head = QHBoxLayout()
        head.addWidget(words("Sheets", size="section", strong=True))
        head.addStretch(1)
        head.addWidget(self._total)
        column.addLayout(head)
        for key, box in self.boxes.items():
            row = QHBoxLayout()
            row.addWidget(box)
            row.addStretch(1)
            row.addWidget(self._counts[key])
            column.addLayout(row)
        column.addWidget(self.svg)
        column.addStretch(1)
        self._problem.hide()
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(slip)
        whole.addWidget(hairline())
        whole.addWidget(scrolled(inner), 1)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show lengths in the design's unit; nothing is saved yet when the sheets are made again."""
        self._unit = checked.design.units
        for key, box in self.boxes.items():
            box.setEnabled(SHEET_KINDS[key].there(checked.design))
        if not view_state.sheets:
            self._saved = False
            self.open.hide()
        self._show()

    def show_options(self, options: PrintOptions) -> None:
        """Show the options."""
        self._options = options
        self._show()

    def show_plan(self, sheets: SheetSet | None) -> None:
        """Show how many pages there are, and why."""
        counts = {} if sheets is None else {group.key: group.count for group in sheets.groups}
        for key, label in self._counts.items():
            label.setText(str(counts.get(key, "")))
        total = sum(counts.values())
        self._total.setText(f"{total} {'page' if total == 1 else 'pages'}" if total else "")
        self._why.setText("" if sheets is None else reason_words(sheets))
        self._how = "" if sheets is None else sheets.corrected
        if sheets is not None:
            self._bars = sheets.bars
        self._show()

    def show_refusal(self, sentence: str) -> None:
        """Say why there are no sheets."""
        self._problem.setText(curly(sentence))
        self._problem.setVisible(bool(sentence))

    def show_saved(self, _path: Path) -> None:
        """After saving, the two bars are next."""
        self._saved = True
        self.open.show()
        self._show()

    def show_printed(self) -> None:
        """After printing, the two bars are next."""
        self._saved = True
        self._show()

    def show_work(self, work: str) -> None:
        """Show what can be stopped: "making" while the sheets are made, "stopped" after that, else ""."""
        self._work = work
        self._show_stop()

    def show_printing(self, *, on: bool) -> None:
        """Show that pages are being printed, which can be stopped."""
        self._printing = on
        self._show_stop()

    def take_focus(self) -> None:
        """Take the focus."""
        self.paper.setFocus(Qt.FocusReason.ShortcutFocusReason)

    # Inside

    def _show_stop(self) -> None:
        self.stop.show_words(_GO_ON if self._work == "stopped" and not self._printing else "Stop")
        self.stop.setVisible(self._printing or bool(self._work))
        self.print.setEnabled(not self._printing)

    def _press_stop(self) -> None:
        (self.gone_on if self.stop.text() == _GO_ON else self.stopped).emit()

    def _show(self) -> None:
        unit, options = self._unit_now(), self._options
        across, up = (format_length(bar, unit) for bar in self._bars)  # as printed along them: whole inches or centimetres
        off = format_length(self._bars[0] - _OFF[unit], unit)
        bars = f"they are {across} long" if across == up else f"they are {across} across and {up} up"
        if self._saved:
            self.title.setText("Print it, then read both bars")
            self._text.setText(f"At actual size {bars}. If one is off, type what it reads, such as {off}, and save again.")
        else:
            self.title.setText(_FIRST)
            self._text.setText(f"On paper {bars}. If one is off, type below what it reads, such as {off}.")
        self.paper.show_key(options.paper)
        self.turned.show_key(options.turned)
        self.turned.setEnabled(not paper(options.paper).roll)
        self.printer.show_value(options.printer or "not named", options.printer)
        self.printer.setMinimumWidth(_NAME_LEAST)
        self.printer.setMaximumWidth(_NAME_WIDE)
        self.known.show_words({None: "none", **{name: name for name in options.known}}, options.printer or None)
        self._kept.setVisible(bool(options.known))
        for box, on in ((self.correct, options.correct), *((box, key in options.kinds) for key, box in self.boxes.items())):
            box.blockSignals(True)
            box.setChecked(on)
            box.blockSignals(False)
        self.correct.setVisible(options.before is not None)
        lacking = options.printer in options.known and options.before is None and options.across is None and options.up is None
        self._corrected.setText("This printer has no saved correction on this paper." if lacking else self._how)
        self._corrected.setVisible(bool(self._corrected.text()))
        fields: tuple[tuple[Field, float | None, str, Unit], ...] = (
            (self.margin, options.margin, "Unprintable margin", unit),
            (self.across, options.across, "Bar across reads", unit),
            (self.up, options.up, "Bar up reads", unit),
        )
        for field, value, name, shown in fields:
            text = "" if value is None else format_length(value, shown, denominator=64, unit_word=shown != unit)
            field.show_value(text or "not known", text)
            field.setAccessibleName(name)

    def _unit_now(self) -> Unit:
        return "in" if self._unit == "in" else "mm"

    def _ask(self, options: PrintOptions) -> None:
        self.show_refusal("")
        self.options_changed.emit(options)

    def _typed(self, take: Callable[[str], PrintOptions], text: str) -> None:
        try:
            options = take(text)
        except OwnerError as sentence:
            self.show_refusal(str(sentence))
        else:
            self._ask(options)

    def _margin(self, text: str) -> PrintOptions:
        return replace(self._options, margin=margin_of(text, self._unit_now()))

    def _across(self, text: str) -> PrintOptions:
        return replace(self._options, across=self._read(text))

    def _up(self, text: str) -> PrintOptions:
        return replace(self._options, up=self._read(text))

    def _printer(self, text: str) -> PrintOptions:
        return replace(self._options, printer="" if text.strip() == "not named" else " ".join(text.split())[:_LONGEST])

    def _read(self, text: str) -> float | None:
        return parse_length(text, self._unit_now()) if text.strip() and text.strip() != "not known" else None


class _Pick(PickButton):
    """A choice of a few words.

    Signals:
        chosen: the key of the one taken.
    """

    chosen = Signal(object)

    def __init__(self, words_of: dict[str | None, str]) -> None:
        super().__init__()
        self._words = words_of
        self._key: str | None = None
        self.menu = QMenu(self)
        self.clicked.connect(self._open)

    def show_key(self, key: str | None) -> None:
        """Show the one that is chosen."""
        self._key = key
        self.setText(self._words[key])
        self.setAccessibleDescription(f"{self._words[key]}. Press to choose.")
        self.updateGeometry()
        self.update()

    def show_words(self, words_of: dict[str | None, str], key: str | None) -> None:
        """Offer other words, one of them chosen; a key that is not among them counts as none."""
        self._words = words_of
        self.show_key(key if key in words_of else None)

    def pick(self, key: str | None) -> None:
        """Take one."""
        self.chosen.emit(key)

    def _open(self) -> None:
        self.menu.clear()
        for key, word in self._words.items():
            action = self.menu.addAction(word)
            action.setCheckable(True)
            action.setChecked(key == self._key)
            action.triggered.connect(lambda _on=False, key=key: self.pick(key))
        self.menu.popup(self.mapToGlobal(self.rect().bottomLeft()))


def _row_of(name: str, field: QWidget) -> QWidget:
    whole = QWidget()
    row = _row(name, field)
    row.setContentsMargins(0, 0, 0, 0)
    whole.setLayout(row)
    return whole


def _row(name: str, field: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    label = words(name)
    recolour(label, "ink")
    field.setAccessibleName(name)
    row.addWidget(label, 1)
    row.addWidget(field)
    return row
