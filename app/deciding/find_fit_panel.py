"""Find a fit: the search in slices, and its list of fits. The fit under pointer or focus is drawn on the face."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QVBoxLayout, QWidget

from app.deciding.fit_row import FitRow
from app.deciding.fit_text import FitLine, fit_line
from app.document.view_state import ViewState
from app.entries.choice_lines import ActLine
from app.findings.findings_text import guess_words
from app.ui.apostrophes import curly
from app.ui.basic_widgets import ScrollContent, ground, hairline, scrolled, words
from app.ui.deciding_modes import COMPARE, FIT, with_kept, with_mode
from app.ui.link import Link
from app.ui.timeslice import TimeSlicer
from geometry.decide.fit import search
from geometry.decide.offer import Fit, Progress
from geometry.decide.search_ground import Leeway
from geometry.readings.measures import name_of
from geometry.solid.faces import Unmeasured

if TYPE_CHECKING:
    from collections.abc import Generator

    from geometry.design.design import Design
    from geometry.judge.findings import Checked

_REST = 250  # ms without a change before it is searched again
_MAY = {
    "old_holes": "Use old upper holes again",
    "washers": "Other washers, or washers cut flat",
    "plate": "A backing plate",
    "bolts": "Thinner or thicker bolts",
    "tilt": "Holes tilted up or down",
    "drops": "Drops between whole holes",
    "aside": "The motor a little to port or starboard",
}


class FitPanel(QWidget):
    """Finds a fit for the motor in hand.

    Signals:
        committed: (label, design) of the fit that is taken. view_changed: a view state.
        wanted: key of the measure to take first.
    """

    committed = Signal(str, object)
    view_changed = Signal(object)
    wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setAccessibleName("Find a fit")
        self._view_state = ViewState()
        self._design: Design | None = None
        self._base: tuple[Design, int] | None = None
        self.fits: list[Fit] = []
        self._lines: list[FitLine] = []
        self._open = 0
        self._missing = ""
        self._hinted: QObject | None = None
        self._slicer = TimeSlicer(self)
        self._slicer.progressed.connect(self._step)
        self._slicer.done.connect(self._end)
        self._rest = QTimer(self, interval=_REST, singleShot=True)
        self._rest.timeout.connect(self.begin)
        self.stop, self.again, self.back = Link("Stop"), Link("Search again"), Link("Back to the findings")
        self.status, self.guesses = words(role="soft", wrap=True), words(role="soft", size="small")
        self.measure = ActLine()
        self.change = words(wrap=True)
        self.boxes = {name: QCheckBox(text) for name, text in _MAY.items()}
        self.options = ActLine()
        self.compare = ActLine()
        self.rows: list[FitRow] = []
        self._place()
        self.back.clicked.connect(lambda: self.view_changed.emit(with_mode(self._view_state, "")))
        self.stop.clicked.connect(self.halt)
        self.again.clicked.connect(self.begin)
        self.options.clicked.connect(lambda: self._fold(on=not self._may.isVisibleTo(self)))
        self.compare.clicked.connect(lambda: self.view_changed.emit(with_mode(self._view_state, COMPARE)))
        self.measure.clicked.connect(lambda: self.wanted.emit(self._missing))
        for box in self.boxes.values():
            box.setChecked(True)
            box.toggled.connect(lambda _on: self._rest.start())

    def _place(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(16, 4, 4, 0)
        head.addWidget(words("Find a fit", size="section", strong=True))
        head.addStretch(1)
        head.addWidget(self.back)
        state = QHBoxLayout()
        state.setContentsMargins(16, 0, 4, 0)
        state.addWidget(self.status, 1)
        state.addWidget(self.stop)
        state.addWidget(self.again)
        self._may = QWidget()
        may = QVBoxLayout(self._may)
        may.setContentsMargins(16, 0, 16, 8)
        may.setSpacing(2)
        for box in self.boxes.values():
            may.addWidget(box)
        self._may.hide()
        inner = ScrollContent()
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 4, 0, 8)
        self._column.setSpacing(0)
        for part in (self.change, self.measure):
            part.setContentsMargins(16, 4, 16, 8)
            self._column.addWidget(part)
        self._column.addStretch(1)
        foot = QVBoxLayout()
        foot.setContentsMargins(16, 0, 16, 4)
        foot.addWidget(self.compare)
        opts = QVBoxLayout()
        opts.setContentsMargins(16, 0, 16, 0)
        opts.addWidget(self.options)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(head)
        whole.addLayout(state)
        self.guesses.setContentsMargins(16, 0, 16, 2)
        whole.addWidget(self.guesses)
        whole.addLayout(opts)
        whole.addWidget(self._may)
        whole.addWidget(hairline())
        self._area = scrolled(inner)
        whole.addWidget(self._area, 1)
        whole.addLayout(foot)
        self._fold(on=False)
        self._tab()

    def _tab(self) -> None:
        """Let Tab go from above to below."""
        rows = (part for row in self.rows for part in (row.head, row.take, row.keep))
        order = (self.back, self.stop, self.again, self.options, *self.boxes.values(), self.measure, *rows, self.compare)
        for before, after in pairwise(order):
            QWidget.setTabOrder(before, after)

    # One way in

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the fits of the boat. Another boat is searched again, once nothing changes."""
        self._view_state, self._design = view_state, checked.design
        guesses = guess_words(checked) if self._bolted else ""
        self.guesses.setText(guesses)
        self.guesses.setVisible(bool(guesses))
        self.options.setVisible(self._bolted)
        if not self._bolted:
            self._fold(on=False)
        count = len(view_state.kept)
        self.compare.setVisible(count > 0)
        self.compare.show_words(f"Compare: {count} kept" if count else "")
        if self._base is None:
            self.begin()
        elif not self._is_ours(checked.design, view_state.mount):
            self._slicer.stop()
            self._rest.start()
        self._show()

    def rest(self, view_state: ViewState) -> None:
        """Drop what is under way: nobody looks."""
        self._view_state = view_state
        if self._base is not None:
            self.halt()
            self._rest.stop()
            self._base = None

    def take_focus(self) -> None:
        """Take the focus: the first find, else the way back."""
        first = next((row.head for row in self.rows if row.isVisible()), self.back)
        first.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @property
    def allowed(self) -> Leeway:
        """The things that the search may change."""
        return Leeway(**{name: box.isChecked() for name, box in self.boxes.items()})

    @property
    def _bolted(self) -> bool:
        """Whether the motor in hand has bolts to search for."""
        return self._design is not None and self._design.mounts[self._view_state.mount].bracket.rows is not None

    @property
    def busy(self) -> bool:
        """Whether it is searching, or about to."""
        return self._rest.isActive() or self.stop.isVisibleTo(self)

    def _go(self, index: int, by: int) -> None:
        """Go from a find to the one before it, or behind it."""
        if 0 <= index + by < len(self.fits):
            head = self.rows[index + by].head
            head.setFocus(Qt.FocusReason.TabFocusReason)
            self._area.ensureWidgetVisible(head)

    # The search

    def begin(self) -> None:
        """Search for the boat as it is now."""
        self._rest.stop()
        if self._design is None:
            return
        self._base = self._design, self._view_state.mount
        self.fits, self._lines, self._open, self._missing = [], [], 0, ""
        self._say("Searching…")
        self._running(on=True)
        self._show()
        self._slicer.start(_until_missing(search(self._design, self._view_state.mount, self.allowed)))

    def halt(self) -> None:
        """Stop the search; its fits so far stay."""
        if not self.stop.isVisibleTo(self):
            return
        self._slicer.stop()
        self._running(on=False)
        self._say(f"Stopped. {_count(len(self.fits))}")

    def _step(self, step: object) -> None:
        if isinstance(step, Progress):
            count = f" {_count(len(self.fits))}" if self.fits else ""
            self._say(f"Searching: {step.done} of {step.total}.{count}")
        elif isinstance(step, Fit) and self._base is not None:
            self.fits.append(step)
            self._lines.append(fit_line(*self._base, step))
            self._show()
            if len(self.fits) == 1 and self.back.hasFocus():
                self.take_focus()

    def _end(self, missing: object) -> None:
        self._running(on=False)
        self._missing = missing if isinstance(missing, str) else ""
        if self._missing and self._design is not None:
            self._say("The search needs a reading that is missing.")
            name = name_of(self._design, self._missing)
            self.measure.show_words(curly(f"Measure the {name} first"))
        elif not self.fits:
            self._say("This motor clamps on. There is nothing to drill.")
        else:
            self._say(_count(len(self.fits)) if self.fits[0].fits else "Nothing fits. The nearest miss is:")
        self._show()

    def _say(self, text: str) -> None:
        self.status.setText(text)
        self.setAccessibleDescription(text)

    def _running(self, *, on: bool) -> None:
        self.stop.setVisible(on)
        self.again.setVisible(not on and self._bolted)

    def _is_ours(self, design: Design, mount: int) -> bool:
        """Return whether the fits are still true: the boat is the one that was searched, or one of its fits."""
        if self._base is None or mount != self._base[1]:
            return False
        return design == self._base[0] or any(fit.design == design for fit in self.fits)

    # The list

    def _show(self) -> None:
        while len(self.rows) < len(self.fits):
            self._add_row()
        stale = self._design is None or not self._is_ours(self._design, self._view_state.mount)
        for number, row in enumerate(self.rows):
            shown = number < len(self.fits)
            row.setVisible(shown)
            if shown:
                fit = self.fits[number]
                hung = fit.design == self._design
                row.show_fit(fit, self._lines[number], opened=number == self._open, hung=hung)
                row.take.setEnabled(not stale)
                row.keep.setEnabled(not stale and with_kept(self._view_state, fit.design) != self._view_state)
        miss = self.fits[0].change if self.fits and not self.fits[0].fits else None
        self.change.setText(curly(miss or ""))
        self.change.setVisible(bool(miss))
        self.measure.setVisible(bool(self._missing))

    def _add_row(self) -> None:
        row, index = FitRow(), len(self.rows)
        row.head.clicked.connect(lambda: self._choose(index))
        row.head.stepped.connect(lambda by: self._go(index, by))
        row.take.clicked.connect(lambda: self._take(index))
        row.keep.clicked.connect(lambda: self.view_changed.emit(with_kept(self._view_state, self.fits[index].design)))
        for part in (row.head, row.take):
            part.installEventFilter(self)
        self.rows.append(row)
        self._column.insertWidget(self._column.count() - 1, row)
        self._tab()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        """Show where a find would put the holes, while pointer or focus is on it."""
        if event.type() in (QEvent.Type.Enter, QEvent.Type.FocusIn):
            row = next((row for row in self.rows if watched in (row.head, row.take)), None)
            if row is not None and row.fit is not None:
                self._hinted = watched
                self._hint(row.fit.design)
        elif event.type() in (QEvent.Type.Leave, QEvent.Type.FocusOut, QEvent.Type.Hide) and watched is self._hinted:
            self._hinted = None
            self._hint(None)
        return super().eventFilter(watched, event)

    def _hint(self, design: Design | None) -> None:
        if design is not self._view_state.ghost and self._view_state.deciding == FIT:
            self.view_changed.emit(replace(self._view_state, ghost=design))

    def _choose(self, index: int) -> None:
        self._open = -1 if self._open == index else index
        self._show()

    def _take(self, index: int) -> None:
        fit, line = self.fits[index], self._lines[index]
        if self._design is not None and self._is_ours(self._design, self._view_state.mount):
            self.committed.emit(line.label, fit.design)

    def _fold(self, *, on: bool) -> None:
        self._may.setVisible(on)
        self.options.show_words("Hide what may change" if on else "Choose what may change…")


def _count(count: int) -> str:
    return "Nothing yet." if not count else f"{count} {'fit' if count == 1 else 'fits'}, the best first."


def _until_missing(steps: Generator[Fit | Progress]) -> Generator[Fit | Progress, None, str | None]:
    """Pass the search on; return the key of the reading that it lacks, None where it came to its end."""
    try:
        yield from steps
    except Unmeasured as missing:
        return missing.key
    return None
