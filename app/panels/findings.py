"""The findings: worst first, left and right alike in one line, clear ones folded into one; one open at a time."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.palette import of
from app.panels.parts import Button, Tall, ground, scrolled, shows_focus, unbroken, words
from app.sight import Sight
from app.state_marks import WORDS, paint_state
from app.type import sized
from app.words.findings_words import FindingLine, finding_lines
from app.words.next_words import next_step

if TYPE_CHECKING:
    from geometry.decide.cures import Cure
    from geometry.decide.ladder import Rung
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked

HIGH = 27
DOUBT = "measure first"
_SETTLED = (0, 40)  # ms after which the layout stands
_MARK, _WORD, _NAME = 12, 36, 104  # where mark, word and name begin


class FindingHead(QAbstractButton):
    """One line: mark, word, part, figure; a name too long for one line takes two."""

    def __init__(self) -> None:
        super().__init__()
        self._line = FindingLine("note", "", "", "", "", "")
        self._word, self._open = "", False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_line(self, line: FindingLine, word: str, *, opened: bool) -> None:
        """Show one line."""
        before = self.text(), self._line.figure, self._line.doubt, self._open
        self._line, self._word, self._open = line, word, opened
        self.setText(line.name)
        told = word, DOUBT if line.doubt else "", line.name, line.figure
        self.setAccessibleName(", ".join(part for part in told if part))
        self.setAccessibleDescription(f"{line.text} {line.remedy}".strip() if opened else "")
        if before != (line.name, line.figure, line.doubt, opened):  # a layout is dear in the middle of a drag
            self.updateGeometry()
        self.update()

    @property
    def line(self) -> FindingLine:
        """What it shows."""
        return self._line

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the size of one line."""
        return QSize(240, HIGH)

    def heightForWidth(self, width: int) -> int:  # noqa: N802 (Qt's name)
        """Return the height that the name takes."""
        metrics, room = QFontMetrics(self._font()), self._room(width)
        high = metrics.boundingRect(0, 0, room, 999, Qt.TextFlag.TextWordWrap, self.text()).height()
        name = HIGH if high <= metrics.lineSpacing() + 1 else HIGH + high - metrics.lineSpacing()
        return name + self._below()

    def _below(self) -> int:
        """Return the height of the words of doubt below the name."""
        return QFontMetrics(sized("small")).height() if self._line.doubt else 0

    def _font(self) -> QFont:
        return sized(strong=self._open)

    def _room(self, width: int) -> int:
        return max(40, width - _NAME - QFontMetrics(self._font()).horizontalAdvance(self._line.figure) - 28)

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
        name = QRectF(_NAME, 0, self._room(self.width()), box.height() - self._below())
        painter.drawText(name, Qt.AlignmentFlag.AlignLeft | middle | Qt.TextFlag.TextWordWrap, self.text())
        if self._line.doubt:
            painter.setFont(sized("small"))
            painter.setPen(colours["soft"])
            painter.drawText(box.adjusted(_NAME, 0, 0, -4), Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom, DOUBT)
            painter.setFont(self._font())
        painter.setPen(colours["soft"] if state == "clear" else loud)
        painter.drawText(first.adjusted(0, 0, -16, 0), Qt.AlignmentFlag.AlignRight | middle, self._line.figure)
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(box.adjusted(4, 1, -6, -1))


class _Finding(QWidget):
    """A line with the two or three that belong to it, and a button where the program can do the cure."""

    def __init__(self) -> None:
        super().__init__()
        self.head = FindingHead()
        self.button = Button("", high=30)
        self._text = words(role="soft", wrap=True)
        self._text.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self._text)
        self._cure = QWidget()
        self._cure.hide()
        row = QHBoxLayout(self._cure)
        row.setContentsMargins(_NAME, 0, 16, 8)
        row.addWidget(self.button)
        row.addStretch(1)
        column.addWidget(self._cure)
        self._text.setContentsMargins(_NAME, 0, 16, 8)

    def show_line(self, line: FindingLine, word: str, *, opened: bool) -> None:
        self.head.show_line(line, word, opened=opened)
        if opened:
            told = "\n".join(said for said in (f"{line.text} {line.limit}".strip(), line.remedy) if said)
            self._text.setText(unbroken(told))
        if opened != self._text.isVisibleTo(self):
            self._text.setVisible(opened)
            ground(self, "sheet" if opened else "card")

    def show_cure(self, found: Cure | None) -> None:
        """Show the button of a cure, or none."""
        self._cure.setVisible(found is not None)
        if found is not None:
            self.button.setText(found.button)
            self.button.setAccessibleName(f"{found.button}: cures {self.head.line.name}")
            self.button.updateGeometry()


class FindingsPanel(QWidget):
    """All findings.

    Signals:
        looked: a sight with the finding's part chosen, or with the ghost of a cure. committed: (label, design) of a cure.
    """

    looked = Signal(object)
    committed = Signal(str, object)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setAccessibleName("Findings")
        self._sight = Sight()
        self._checked: Checked | None = None
        self._doubted: Checked | None = None  # the same with chances, once they are reckoned
        self._next: Design | None = None  # what the slip's cure leads to
        self._cure: Cure | None = None
        self._sought = False  # whether the open line's cure was looked for
        self._lines: tuple[FindingLine, ...] = ()
        self._open: str | None = None  # name of the open line; None: the worst
        self._unfolded = False
        self._rows: list[_Finding] = []
        inner = Tall()
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

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show the findings of a checked design; their cures and chances come once it has rested."""
        if self._checked is None or checked.design is not self._checked.design:
            self._cure, self._next, self._sought = None, None, False
        self._checked, self._sight = checked, sight
        known = self._doubted is not None and self._doubted.design is checked.design
        self._lines = finding_lines(self._doubted if known and self._doubted is not None else checked)
        self._show()

    def show_rungs(self, rungs: tuple[Rung, ...]) -> None:
        """Look for the open line's cure, now that the slip has its own: no cure stands in two places."""
        if self._checked is not None and not self._sought:
            self._next = next_step(self._checked, self._sight.mount, rungs).design
            self._seek()

    def show_doubts(self, checked: Checked) -> None:
        """Show which findings are in doubt, and what to measure again first."""
        if self._checked is not None and checked.design is self._checked.design:
            self._doubted = checked
            self._lines = finding_lines(checked)
            self._show()

    def take_hand(self) -> None:
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
        return next((row.button for row in self._rows if row.button.isVisibleTo(self)), None)

    def _show(self) -> None:
        clear = [line for line in self._lines if line.state == "clear"]
        shown = [line for line in self._lines if line.state != "clear"] + (clear if self._unfolded else [])
        while len(self._rows) < len(shown):
            row, index = _Finding(), len(self._rows)
            row.head.clicked.connect(lambda _on=False, index=index: self._choose(index))
            row.button.clicked.connect(self._do)
            row.button.installEventFilter(self)
            self._rows.append(row)
            self._column.insertWidget(self._column.count() - 2, row)
        names = [line.name for line in shown]
        opened = names.index(self._open) if self._open in names else (0 if self._open is None else -1)
        for index, row in enumerate(self._rows):
            row.setVisible(index < len(shown))
            if index < len(shown):
                row.show_line(shown[index], WORDS[shown[index].state], opened=index == opened)
                row.show_cure(self._cure if index == opened else None)
        self._empty.setVisible(not self._lines)
        if not self._lines and self._checked is not None:
            following = next_step(self._checked, self._sight.mount, None).title
            self._empty.setText(f"Nothing to check yet. Next: {following[:1].lower()}{following[1:]}.")
        self._clear.setVisible(bool(clear))
        told = "shown" if self._unfolded else "more" if len(shown) else "findings"
        self._clear.show_line(FindingLine("clear", f"{len(clear)} {told}", "", "", "", ""), "clear", opened=False)

    def _choose(self, index: int) -> None:
        line = self._rows[index].head.line
        self._open = "" if self._open == line.name else line.name
        self._cure = None
        self.looked.emit(replace(self._sight, chosen=line.part if self._open else "", ghost=None))
        self._seek()
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
        from geometry.decide.cures import betters, cure

        opened, self._cure, self._sought = self._opened(), None, True
        if self._checked is not None and opened is not None and opened.first is not None:
            told = self._next is not None and betters(self._next, opened.first)  # by the slip: one advice is enough
            self._cure = None if told else cure(self._checked, opened.first)
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
        if design is not self._sight.ghost:
            self.looked.emit(replace(self._sight, ghost=design))

    def _fold(self) -> None:
        self._unfolded = not self._unfolded
        self._show()
