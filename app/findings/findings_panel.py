"""The findings: worst first, left and right alike in one line, clear ones folded into one; one open at a time."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.card.next_step_tracker import NextStepTracker
from app.document.view_state import ViewState
from app.findings.findings_text import FindingLine, finding_lines
from app.ui.apostrophes import curly
from app.ui.basic_widgets import Button, ScrollContent, ground, scrolled, shows_focus, unbroken, words
from app.ui.deciding_modes import FIT
from app.ui.palette import of
from app.ui.state_marks import paint_state
from app.ui.timeslice import TimeSlicer
from app.ui.typography import sized
from geometry.judge.words import MEASURE_FIRST

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.decide.cures import Cure
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.doubt.flips import Flip
    from geometry.judge.findings import Checked

HIGH = 27
_SETTLED = (0, 40)  # ms after which the layout is settled
_MARK, _WORD, _NAME = 12, 36, 104  # where mark, word and name begin
_NARROW, _LOWER = 120, 21  # px: a name with less room than this next to its figure begins lower by so much


class FindingHead(QAbstractButton):
    """One line: mark, word, part, figure. A name too long for it takes two; next to a long figure it goes below."""

    def __init__(self) -> None:
        super().__init__()
        self._line = FindingLine("note", "", "", "", "", "")
        self._word, self._open = "", False
        self._highs: dict[int, int] = {}  # by width: a layout asks for them again and again
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_line(self, line: FindingLine, word: str, *, opened: bool) -> None:
        """Show one line."""
        if line is self._line and (word, opened) == (self._word, self._open):  # as most of them are at each turn in a drag
            return
        before = self.text(), self._line.figure, self._line.doubt, self._open
        if (before, self._line.state, self._word) != ((line.name, line.figure, line.doubt, opened), line.state, word):
            self.update()  # a list of twenty is shown many times in a drag, and little of it is new
        other_word = word != self._word
        self._line, self._word, self._open = line, word, opened
        self.setText(line.name)
        spoken = word, MEASURE_FIRST if line.doubt else "", line.name, line.figure
        self.setAccessibleName(", ".join(part for part in spoken if part))
        self.setAccessibleDescription(f"{line.text} {line.remedy}".strip() if opened else "")
        if other_word or before != (line.name, line.figure, line.doubt, opened):
            high = self._highs.get(self.width())
            self._highs.clear()
            if self.heightForWidth(self.width()) != high:  # a layout is dear in the middle of a drag
                self.updateGeometry()

    @property
    def line(self) -> FindingLine:
        """The line that it shows."""
        return self._line

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the size of one line."""
        return QSize(240, HIGH)

    def heightForWidth(self, width: int) -> int:  # noqa: N802 (Qt's name)
        """Return the height that the name takes."""
        if width not in self._highs:
            metrics, (_, top, room) = QFontMetrics(self._font()), self._name_place(width)
            high = metrics.boundingRect(0, 0, room, 999, Qt.TextFlag.TextWordWrap, self.text()).height()
            name = HIGH if high <= metrics.lineSpacing() + 1 else HIGH + high - metrics.lineSpacing()
            self._highs[width] = top + name + self._below()
        return self._highs[width]

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Calculate heights again in another font."""
        if event.type() == QEvent.Type.FontChange:
            self._highs.clear()
        super().changeEvent(event)

    def _below(self) -> int:
        """Return the height of the words of doubt below the name."""
        return QFontMetrics(sized("small")).height() if self._line.doubt else 0

    def _font(self) -> QFont:
        return sized(strong=self._open)

    def _name_place(self, width: int) -> tuple[int, int, int]:
        """Return left, top and width of the name's place [px].

        It is between the state's word, which may be a long one, and the figure. Where that is narrow, it is a line lower.
        """
        left = max(_NAME, _WORD + QFontMetrics(sized(strong=True)).horizontalAdvance(self._word) + 8)
        room = width - left - QFontMetrics(self._font()).horizontalAdvance(self._line.figure) - 28
        return (left, 0, room) if room >= _NARROW else (_NAME, _LOWER, max(_NARROW, width - _NAME - 28))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        colours, painter, state = of(self), QPainter(self), self._line.state
        box = QRectF(self.rect())
        first = QRectF(0, 0, box.width(), HIGH)
        paint_state(painter, QRectF(_MARK, (HIGH - 16) / 2, 16, 16), state, colours, doubt=self._line.doubt)
        loud, quiet = colours["fouled" if state == "fouled" else "ink"], colours["soft" if state == "clear" else "ink"]
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.setFont(sized(strong=self._open and state == "fouled"))
        painter.setPen(colours["soft"] if state == "clear" else loud)
        painter.drawText(first.adjusted(_WORD, 0, 0, 0), Qt.AlignmentFlag.AlignLeft | middle, self._word)
        painter.setFont(self._font())
        painter.setPen(quiet)
        left, top, room = self._name_place(self.width())
        name = QRectF(left, top, room, box.height() - top - self._below())
        painter.drawText(name, Qt.AlignmentFlag.AlignLeft | middle | Qt.TextFlag.TextWordWrap, self.text())
        if self._line.doubt:
            painter.setFont(sized("small"))
            painter.setPen(colours["soft"])
            below = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom
            painter.drawText(box.adjusted(left, 0, 0, -4), below, MEASURE_FIRST)
            painter.setFont(self._font())
        painter.setPen(colours["soft"] if state == "clear" else loud)
        painter.drawText(first.adjusted(0, 0, -16, 0), Qt.AlignmentFlag.AlignRight | middle, self._line.figure)
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(box.adjusted(4, 1, -6, -1))


class _Body(QWidget):
    """The two or three lines that belong to an open one, and a button where the program can do the cure."""

    def __init__(self) -> None:
        super().__init__()
        self.text = words(role="soft", wrap=True)
        self.text.setContentsMargins(_WORD, 0, 16, 8)
        self.button = Button("", high=30)
        self.cure = QWidget()
        self.cure.hide()
        row = QHBoxLayout(self.cure)
        row.setContentsMargins(_WORD, 0, 16, 8)
        row.addWidget(self.button)
        row.addStretch(1)
        _stack(self, self.text, self.cure)


class _Finding(QWidget):
    """A line, and what belongs to it while it is open.

    Args:
        opens: takes its button, when it is first opened.
    """

    def __init__(self, opens: Callable[[Button], object]) -> None:
        super().__init__()
        self.head, self._opens = FindingHead(), opens
        self._body: _Body | None = None
        self._column = _stack(self, self.head)

    @property
    def button(self) -> Button | None:
        """The button of its cure, None where none is shown."""
        return self._body.button if self._body is not None and self._body.cure.isVisibleTo(self) else None

    def show_line(self, line: FindingLine, word: str, *, opened: bool, flip: str) -> None:
        self.head.show_line(line, word, opened=opened)
        if opened:
            text = "\n".join(said for said in (f"{line.text} {line.limit}".strip(), line.remedy, flip) if said)
            self._opened().text.setText(unbroken(text))
        if self._body is not None and opened != self._body.isVisibleTo(self):
            self._body.setVisible(opened)
            ground(self, "sheet" if opened else "card")

    def show_cure(self, cure: Cure | None) -> None:
        """Show the button of a cure, or none."""
        if cure is not None:
            button = self._opened().button
            button.setText(cure.button)
            button.setAccessibleName(f"{cure.button}: for {self.head.line.name}")
            button.updateGeometry()
        if self._body is not None:
            self._body.cure.setVisible(cure is not None)

    def _opened(self) -> _Body:
        """Return what belongs to it, made when it is first opened: most lines never are."""
        if self._body is None:
            self._body = _Body()
            self._body.hide()
            self._column.addWidget(self._body)
            self._opens(self._body.button)
        return self._body


def _stack(whole: QWidget, *parts: QWidget) -> QVBoxLayout:
    column = QVBoxLayout(whole)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    for part in parts:
        column.addWidget(part)
    return column


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
        self._sought = False  # whether the open line's cure was looked for
        self._flip = ""  # what would turn the open line
        self._turning = TimeSlicer(self)
        self._turning.done.connect(self._show_flip)
        self._lines: tuple[FindingLine, ...] = ()
        self._open: str | None = None  # name of the open line; None: the worst
        self._unfolded = False
        self._rows: list[_Finding] = []
        inner = ScrollContent()
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 8, 0, 8)
        self._column.setSpacing(0)
        self._empty = words("Nothing to check yet.", "soft", wrap=True)
        self._empty.setContentsMargins(16, 4, 16, 4)
        self._column.addWidget(self._empty)
        self._clear = FindingHead()
        self._clear.clicked.connect(self._fold)
        self._column.addWidget(self._clear)
        self._column.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        self._area = scrolled(inner)
        whole.addWidget(self._area)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the findings of a checked design; their cures and chances come once it has rested."""
        if self._tracker.show_checked(checked, view_state):
            self._cure, self._next, self._sought, self._hopeless = None, None, False, False
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
        first = self._rows[0].head if self._rows and self._rows[0].isVisible() else self._clear
        first.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @property
    def shown(self) -> tuple[str, ...]:
        """Names of the lines that are shown, the folded one aside."""
        return tuple(row.head.line.name for row in self._rows if row.isVisibleTo(self))

    @property
    def button(self) -> Button | None:
        """The button of the open line's cure, None where there is none."""
        return next((row.button for row in self._rows if row.button is not None and row.isVisibleTo(self)), None)

    def _settle(self) -> None:
        """Look for the open line's cure, once, and again where the next step has changed."""
        step = self._tracker.step
        if self._tracker.rungs is None or step is None:
            self._refresh()
            return
        before, self._next, self._hopeless = self._next, step.design, step.opens == FIT
        self._refresh()
        if not self._sought or self._next is not before:
            self._seek()

    def _refresh(self) -> None:
        if self._tracker.checked is not None:
            self._lines = finding_lines(self._tracker.checked, hopeless=self._hopeless)
            self._show()

    def _show(self) -> None:
        clear = [line for line in self._lines if line.state == "clear"]
        shown = [line for line in self._lines if line.state != "clear"] + (clear if self._unfolded else [])
        while len(self._rows) < len(shown):
            row, index = _Finding(self._watch), len(self._rows)
            row.head.clicked.connect(lambda _on=False, index=index: self._choose(index))
            self._rows.append(row)
            self._column.insertWidget(self._column.count() - 2, row)
            QWidget.setTabOrder(row.head, self._clear)  # Tab too comes to the folded ones last
        names = [line.name for line in shown]
        opened = names.index(self._open) if self._open in names else (0 if self._open is None else -1)
        for index, row in enumerate(self._rows):
            row.setVisible(index < len(shown))
            if index < len(shown):
                row.show_line(shown[index], shown[index].word, opened=index == opened, flip=self._flip)
                row.show_cure(self._cure if index == opened else None)
        self._empty.setVisible(not self._lines)
        if not self._lines and self._tracker.step is not None:
            following = self._tracker.step.title
            self._empty.setText(f"Nothing to check yet. Next: {following[:1].lower()}{following[1:]}.")
        self._clear.setVisible(bool(clear))
        word = "shown" if self._unfolded else "more" if len(shown) else "findings"
        self._clear.show_line(FindingLine("clear", f"{len(clear)} {word}", "", "", "", ""), "clear", opened=False)

    def _watch(self, button: Button) -> None:
        button.clicked.connect(self._do)
        button.installEventFilter(self)

    def _choose(self, index: int) -> None:
        line = self._rows[index].head.line
        self._open = "" if self._open == line.name else line.name
        self._cure = None
        self.view_changed.emit(replace(self._view_state, chosen=line.part if self._open else "", ghost=None))
        self._seek()
        self._seek_flip()
        row = next((row for row in self._rows if row.head.line.name == self._open), None)
        if row is not None:
            for later in _SETTLED:
                QTimer.singleShot(later, row, partial(self._area.ensureWidgetVisible, row))

    def _opened(self) -> FindingLine | None:
        """Return the open line: the one that was opened, or the worst."""
        if self._open is None:
            return self._lines[0] if self._lines and self._lines[0].state != "clear" else None
        return next((line for line in self._lines if line.name == self._open), None)

    def _seek(self) -> None:
        """Look for the open line's cure."""
        from geometry.decide.cures import cure, improves

        opened, self._cure, self._sought = self._opened(), None, True
        checked = self._tracker.checked
        if checked is not None and opened is not None and opened.first is not None:
            known = self._next is not None and improves(self._next, opened.first)  # by the next step: one advice is enough
            self._cure = None if known else cure(checked, opened.first)
        self._show()

    def _seek_flip(self) -> None:
        """Look for what would turn the open line, in short slices; only once the chances are known."""
        from geometry.doubt.flips import seeking

        opened, self._flip = self._opened(), ""
        self._turning.stop()
        if self._tracker.checked is not None and self._tracker.sure and opened is not None and opened.first is not None:
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

    def _fold(self) -> None:
        self._unfolded = not self._unfolded
        self._show()
