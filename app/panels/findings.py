"""The findings: worst first, left and right alike in one line, clear ones folded into one; one open at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from app.palette import of
from app.panels.parts import Tall, ground, scrolled, shows_focus, words
from app.sight import Sight
from app.state_marks import WORDS, paint_state
from app.type import sized
from app.words.findings_words import FindingLine, finding_lines

if TYPE_CHECKING:
    from geometry.judge.findings import Checked

HIGH = 27
_MARK, _WORD, _NAME = 12, 36, 90  # where mark, word and name begin


class FindingHead(QAbstractButton):
    """One line: mark, word, part, figure."""

    def __init__(self) -> None:
        super().__init__()
        self._line = FindingLine("note", "", "", "", "", "")
        self._word, self._open = "", False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFixedHeight(HIGH)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def show_line(self, line: FindingLine, word: str, *, opened: bool) -> None:
        """Show one line."""
        self._line, self._word, self._open = line, word, opened
        self.setText(line.name)
        self.setToolTip(line.name if self._cut() != line.name else "")
        self.setAccessibleName(", ".join(part for part in (word, line.name, line.figure) if part))
        self.setAccessibleDescription(f"{line.text} {line.remedy}".strip() if opened else "")
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return a line's height; a name that is too long is cut, and whole in its tip and when it is opened."""
        return QSize(240, HIGH)

    def _cut(self) -> str:
        strong = sized(strong=self._open)
        figure = QFontMetrics(strong).horizontalAdvance(self._line.figure)
        room = self.width() - _NAME - figure - 28
        return QFontMetrics(strong).elidedText(self._line.name, Qt.TextElideMode.ElideRight, room)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        colours, painter, state = of(self), QPainter(self), self._line.state
        box = QRectF(self.rect())
        paint_state(painter, QRectF(_MARK, (HIGH - 16) / 2, 16, 16), state, colours)
        loud, quiet = colours["fouled" if state == "fouled" else "ink"], colours["soft" if state == "clear" else "ink"]
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.setFont(sized(strong=self._open and state == "fouled"))
        painter.setPen(colours["soft"] if state == "clear" else loud)
        painter.drawText(box.adjusted(_WORD, 0, 0, 0), Qt.AlignmentFlag.AlignLeft | middle, self._word)
        painter.setFont(sized(strong=self._open))
        painter.setPen(quiet)
        painter.drawText(box.adjusted(_NAME, 0, 0, 0), Qt.AlignmentFlag.AlignLeft | middle, self._cut())
        painter.setPen(colours["soft"] if state == "clear" else loud)
        painter.drawText(box.adjusted(0, 0, -16, 0), Qt.AlignmentFlag.AlignRight | middle, self._line.figure)
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(box.adjusted(4, 1, -6, -1))


class _Finding(QWidget):
    """A line with the two or three that belong to it, on the sheet's colour while it is open."""

    def __init__(self) -> None:
        super().__init__()
        self.head = FindingHead()
        self._text = words(role="soft", wrap=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self._text)
        self._text.setContentsMargins(_NAME, 0, 16, 8)

    def show_line(self, line: FindingLine, word: str, *, opened: bool) -> None:
        self.head.show_line(line, word, opened=opened)
        self._text.setText(f"{line.text}\n{line.remedy}".strip())
        self._text.setVisible(opened)
        ground(self, "sheet" if opened else "card")


class FindingsPanel(QWidget):
    """All findings.

    Signals:
        looked: a sight with the finding's part chosen.
    """

    looked = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setAccessibleName("Findings")
        self._sight = Sight()
        self._lines: tuple[FindingLine, ...] = ()
        self._open: str | None = None  # name of the open line; None: the worst
        self._unfolded = False
        self._rows: list[_Finding] = []
        inner = Tall()
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 8, 0, 8)
        self._column.setSpacing(0)
        self._empty = words("Nothing to check yet.", "soft")
        self._empty.setContentsMargins(16, 4, 16, 4)
        self._column.addWidget(self._empty)
        self._clear = FindingHead()
        self._clear.clicked.connect(self._fold)
        self._column.addWidget(self._clear)
        self._column.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scrolled(inner))

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show the findings of a checked design."""
        self._sight = sight
        self._lines = finding_lines(checked)
        self._show()

    def take_hand(self) -> None:
        """Take the focus."""
        first = self._rows[0].head if self._rows and self._rows[0].isVisible() else self._clear
        first.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @property
    def shown(self) -> tuple[str, ...]:
        """Names of the lines that are shown, the folded one aside."""
        return tuple(row.head.text() for row in self._rows if row.isVisibleTo(self))

    def _show(self) -> None:
        clear = [line for line in self._lines if line.state == "clear"]
        shown = [line for line in self._lines if line.state != "clear"] + (clear if self._unfolded else [])
        while len(self._rows) < len(shown):
            row, index = _Finding(), len(self._rows)
            row.head.clicked.connect(lambda _on=False, index=index: self._choose(index))
            self._rows.append(row)
            self._column.insertWidget(self._column.count() - 2, row)
        names = [line.name for line in shown]
        opened = names.index(self._open) if self._open in names else (0 if self._open is None else -1)
        for index, row in enumerate(self._rows):
            row.setVisible(index < len(shown))
            if index < len(shown):
                row.show_line(shown[index], WORDS[shown[index].state], opened=index == opened)
        self._empty.setVisible(not self._lines)
        self._clear.setVisible(bool(clear))
        told = "shown" if self._unfolded else "more" if len(shown) else "findings"
        self._clear.show_line(FindingLine("clear", f"{len(clear)} {told}", "", "", "", ""), "clear", opened=False)

    def _choose(self, index: int) -> None:
        row = self._rows[index].head.text()
        line = next(line for line in self._lines if line.name == row)
        self._open = "" if self._open == row else row
        self.looked.emit(replace(self._sight, chosen=line.part if self._open else ""))
        self._show()

    def _fold(self) -> None:
        self._unfolded = not self._unfolded
        self._show()
