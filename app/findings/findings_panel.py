"""The findings: grouped by what to do, one line each, clear ones folded; one open at a time."""

from __future__ import annotations

from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.card.next_step_tracker import NextStepTracker
from app.document.view_state import ViewState, only_ghost_differs
from app.findings.finding_head import FoldHead
from app.findings.finding_row import FindingRow, stack
from app.findings.glance_lines import GlanceLine, glance_lines, group_title, least_room
from app.ui.apostrophes import curly
from app.ui.basic_widgets import Button, ScrollContent, ground, hairline, scrolled, words
from app.ui.deciding_modes import FIT
from app.ui.timeslice import TimeSlicer
from geometry.judge.first_reading import with_first_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.decide.cures import Cure
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.doubt.flips import Flip
    from geometry.judge.findings import Checked

_SETTLED = (0, 40)  # ms after which the layout is settled


class FindingsPanel(QWidget):
    """All findings.

    Signals:
        view_changed: a view state with the finding's part chosen, or with the ghost of a cure.
        committed: (label, design) of a cure.
    """

    view_changed = Signal(object)
    committed = Signal(str, object)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setAccessibleName("Findings")
        self._view_state = ViewState()
        self._tracker = NextStepTracker()
        self._next: Design | None = None  # the design after the next step's cure
        self._hopeless = False  # whether no row or drop clears
        self._cure: Cure | None = None
        self._sought = ""  # key of the line whose cure was looked for; another may be open by now
        self._flip = self._turned = ""  # what would turn a line, and that line's key
        self._turning = TimeSlicer(self)
        self._turning.done.connect(self._show_flip)
        self._lines: tuple[GlanceLine, ...] = ()
        self._open: str | None = None  # key of the open line; None: the worst
        self._unfolded = False
        self._stops: list[QWidget] = []
        self._fold = FoldHead()
        self._fold.clicked.connect(self._turn)
        self._fold.stepped.connect(lambda by: self._go(self._fold, by))
        self._pools = _Pool(self._new_row), _Pool(self._new_row)  # those to look at, and the clear ones
        inner = ScrollContent()
        self._empty = words("Nothing to check yet.", "soft", wrap=True)
        self._empty.setContentsMargins(16, 4, 16, 4)
        self._line_above = hairline()
        column = stack(inner, self._empty, self._pools[0], self._line_above, self._fold, self._pools[1])
        column.setContentsMargins(0, 2, 0, 8)
        column.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        self._area = scrolled(inner)
        whole.addWidget(self._area)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the findings of a checked design; their cures and chances come once it has rested."""
        if only_ghost_differs(view_state, self._view_state) and self._tracker.shows(checked):
            self._view_state = view_state
            return
        if self._tracker.show_checked(checked, view_state):
            self._cure, self._next, self._sought, self._hopeless = None, None, "", False
            self._flip = ""
            self._turning.stop()
        self._view_state = view_state
        self._refresh()

    def show_rungs(self, rungs: tuple[Rung, ...]) -> None:
        """Look for the open line's cure, now that the next step has its cure: no cure is in two places."""
        self._tracker.show_rungs(rungs)
        self._settle()

    def show_doubts(self, checked: Checked) -> None:
        """Show which findings are in doubt, and what to measure again first."""
        if self._tracker.show_doubts(checked):
            self._settle()
            self._seek_flip()

    def take_focus(self) -> None:
        """Take the focus."""
        heads = self._heads()
        (heads[0] if heads else self._fold).setFocus(Qt.FocusReason.ShortcutFocusReason)

    @property
    def shown(self) -> tuple[str, ...]:
        """Names of the lines that are shown, the folded one aside."""
        return tuple(row.head.line.name for row in self.rows)

    @property
    def rows(self) -> tuple[FindingRow, ...]:
        """The rows that are shown, from above to below."""
        return tuple(row for pool in self._pools for row in pool.rows if row.isVisibleTo(self))

    @property
    def button(self) -> Button | None:
        """The button of the open line's cure, None where there is none."""
        return next((row.button for row in self.rows if row.button is not None), None)

    def _settle(self) -> None:
        """Look for the open line's cure, once, and again where the next step has changed."""
        step = self._tracker.step
        if self._tracker.rungs is None or step is None:
            self._refresh()
            return
        before, self._next, self._hopeless = self._next, step.design, step.opens == FIT
        self._refresh()
        opened = self._opened()
        if self._next is not before or (opened is not None and opened.key != self._sought):
            self._seek()

    def _refresh(self) -> None:
        if self._tracker.checked is not None:
            self._lines = glance_lines(self._named(self._tracker.checked), hopeless=self._hopeless)
            self._show()

    def _named(self, checked: Checked) -> Checked:
        """Return the findings with the reading that the next step asks for, once it is known."""
        step = self._tracker.step if self._tracker.sure and self._tracker.rungs is not None else None
        if step is None or not step.key or step.to is not None:
            return checked
        return with_first_reading(checked, step.key)

    def _show(self) -> None:
        clear = tuple(line for line in self._lines if line.group == "clear")
        shown = self._lines[: len(self._lines) - len(clear)], clear if self._unfolded else ()
        opened = self._opened()
        cure = self._cure if opened is not None and opened.key == self._sought else None
        flip = self._flip if opened is not None and opened.key == self._turned else ""
        for pool, lines in zip(self._pools, shown, strict=True):
            pool.fill(lines, opened, flip, cure, titled=lines is not clear)
        self._empty.setVisible(not self._lines)
        if not self._lines and self._tracker.step is not None:
            following = self._tracker.step.title
            self._empty.setText(f"Nothing to check yet. Next: {following[:1].lower()}{following[1:]}.")
        self._fold.setVisible(bool(clear))
        self._line_above.setVisible(bool(clear) and bool(shown[0]))
        if clear:
            self._fold.show_fold(group_title(clear), least_room(clear), unfolded=self._unfolded)
        self._order()

    def _new_row(self) -> FindingRow:
        row = FindingRow(self._watch)
        row.head.clicked.connect(lambda: self._choose(row))
        row.head.stepped.connect(lambda by: self._go(row.head, by))
        return row

    def _order(self) -> None:
        """Let Tab go from above to below, where there is a row more."""
        stops: list[QWidget] = [row.head for row in self._pools[0].rows]
        stops += [self._fold, *(row.head for row in self._pools[1].rows)]
        if stops != self._stops:
            self._stops = stops
            for before, after in pairwise(stops):
                QWidget.setTabOrder(before, after)

    def _heads(self) -> list[QWidget]:
        heads: list[QWidget] = [row.head for row in self._pools[0].rows if row.isVisibleTo(self)]
        heads += [self._fold] if self._fold.isVisibleTo(self) else []
        return heads + [row.head for row in self._pools[1].rows if row.isVisibleTo(self)]

    def _go(self, head: QWidget, by: int) -> None:
        """Go from a line to the one before it, or after it."""
        heads = self._heads()
        to = heads.index(head) + by
        if 0 <= to < len(heads):
            heads[to].setFocus(Qt.FocusReason.TabFocusReason)
            self._area.ensureWidgetVisible(heads[to])

    def _watch(self, button: Button) -> None:
        button.clicked.connect(self._do)
        button.installEventFilter(self)

    def _choose(self, row: FindingRow) -> None:
        line = row.head.line
        self._open = "" if self._opened() == line else line.key
        self._cure = None
        self.view_changed.emit(replace(self._view_state, chosen=line.lit if self._open else "", ghost=None))
        self._seek()
        self._seek_flip()
        if self._open:
            for later in _SETTLED:
                QTimer.singleShot(later, row, partial(self._area.ensureWidgetVisible, row))

    def _opened(self) -> GlanceLine | None:
        """Return the open line: the one that was opened, or the worst."""
        if self._open is None:
            return self._lines[0] if self._lines and self._lines[0].group != "clear" else None
        return next((line for line in self._lines if line.key == self._open), None)

    def _seek(self) -> None:
        """Look for the open line's cure."""
        from geometry.decide.cures import cure, improves

        opened, self._cure = self._opened(), None
        self._sought = "" if opened is None else opened.key
        checked = self._tracker.checked
        if checked is not None and opened is not None and opened.group != "drilled":
            known = self._next is not None and improves(self._next, opened.first)  # by the next step: one advice is enough
            self._cure = None if known else cure(checked, opened.first)
        self._show()

    def _seek_flip(self) -> None:
        """Look for what would turn the open line, in short slices; only once the chances are known."""
        from geometry.doubt.flips import seeking

        opened, self._flip = self._opened(), ""
        self._turned = "" if opened is None else opened.key
        self._turning.stop()
        if self._tracker.checked is not None and self._tracker.sure and opened is not None and opened.group != "drilled":
            self._turning.start(seeking(self._tracker.checked, opened.first))

    def _show_flip(self, flip: Flip | None) -> None:
        self._flip = "" if flip is None else curly(flip.text)
        self._show()

    def _do(self) -> None:
        if self._cure is not None:
            self.committed.emit(self._cure.label, self._cure.design)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        """Show where the cure leads, while pointer or focus is on its button."""
        kinds = QEvent.Type
        if event.type() in (kinds.Enter, kinds.FocusIn) and self._cure is not None:
            self._hint(self._cure.design)
        elif event.type() in (kinds.Leave, kinds.FocusOut, kinds.Hide):
            self._hint(None)
        return super().eventFilter(watched, event)

    def _hint(self, design: Design | None) -> None:
        if design is not self._view_state.ghost:
            self.view_changed.emit(replace(self._view_state, ghost=design))

    def _turn(self) -> None:
        self._unfolded = not self._unfolded
        self._show()


class _Pool(QWidget):
    """Rows one below another. A row once made is used again: lines come and go at every turn in a drag."""

    def __init__(self, make: Callable[[], FindingRow]) -> None:
        super().__init__()
        self._make = make
        self.rows: list[FindingRow] = []
        self._column = stack(self)

    def fill(
        self, lines: tuple[GlanceLine, ...], opened: GlanceLine | None, flip: str, cure: Cure | None, *, titled: bool
    ) -> None:
        """Show other lines. ``titled``: each group with its title."""
        while len(self.rows) < len(lines):
            self.rows.append(self._make())
            self._column.addWidget(self.rows[-1])
        for index, row in enumerate(self.rows):
            row.setVisible(index < len(lines))
        for row, line, before in zip(self.rows, lines, (None, *lines), strict=False):
            begins = titled and (before is None or before.group != line.group)
            alike = tuple(other for other in lines if other.group == line.group) if begins else ()
            row.title.show_title(group_title(alike) if begins else "", parted=before is not None)
            row.show_line(line, opened=line is opened, flip=flip)
            row.show_cure(cure if line is opened else None)
