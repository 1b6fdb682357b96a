"""A finding in the list: its group's title where it begins one, its line, and what belongs to it while it is open."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QRect, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QBoxLayout, QLabel, QVBoxLayout, QWidget

from app.findings.finding_head import LEFT, RIGHT, FindingHead
from app.ui.basic_widgets import Button, ground, unbroken, words
from app.ui.link import Link
from app.ui.palette import fill, of
from app.ui.typography import row_high
from geometry.judge.words import ALIKE

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.findings.glance_lines import GlanceLine
    from geometry.decide.cures import Cure

_LINES = 2  # the lines of text of an open finding
_PADDING = 12  # px: the air at each side of a link's word
_LOW, _LINE, _LEAST = 30, 16, 120  # px: a button of one line, what each more takes, and the least room for it
_MORE, _SUMS, _LESS = "More", "The sums", "Less"


class GroupTitle(QLabel):
    """The title of a group, under a hairline that parts it from the group above."""

    def __init__(self) -> None:
        super().__init__()
        made = words(role="soft", strong=True)
        self.setFont(made.font())
        self.setForegroundRole(made.foregroundRole())
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setContentsMargins(12, 8, RIGHT, 2)
        self._parted = False

    def show_title(self, title: str, *, parted: bool) -> None:
        """Show a title; ``parted``: there is a group above it."""
        self.setText(title)
        self._parted = parted
        self.setVisible(bool(title))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        super().paintEvent(event)
        if self._parted:
            painter = QPainter(self)
            fill(painter, QRect(12, 2, self.width() - 12 - RIGHT, 1), of(self)["rule"])


class ShortText(QLabel):
    """As many whole sentences as two lines hold, at least one.

    Signals:
        fitted: other sentences may be shown now.
    """

    fitted = Signal()

    def __init__(self) -> None:
        super().__init__()
        made = words(role="soft", wrap=True)
        self.setForegroundRole(made.foregroundRole())
        self.setFont(made.font())
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.setContentsMargins(LEFT, 0, RIGHT, 6)
        self._sentences: tuple[str, ...] = ()

    def show_sentences(self, sentences: tuple[str, ...]) -> None:
        """Show other sentences."""
        self._sentences = tuple(unbroken(sentence) for sentence in sentences)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Take as many sentences as the new width holds."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        count = len(self._sentences)
        while count > 1 and self._lines_of(" ".join(self._sentences[:count])) > _LINES:
            count -= 1
        self.setText(" ".join(self._sentences[:count]))
        self.fitted.emit()

    def _lines_of(self, text: str) -> int:
        metrics, room = QFontMetrics(self.font()), self.width() - LEFT - RIGHT
        high = metrics.boundingRect(0, 0, room, 9999, Qt.TextFlag.TextWordWrap, text).height()
        return round(high / metrics.lineSpacing())


class CureButton(Button):
    """The button of a cure. Words that are too long for its place take more lines."""

    def __init__(self) -> None:
        super().__init__("", high=_LOW)

    def fit(self, room: int) -> None:
        """Take as many lines as its words need, in a place as wide as ``room`` [px]."""
        wide = min(self.sizeHint().width(), room)
        self.setFixedSize(wide, row_high(_LOW) + (self.lines(wide) - 1) * row_high(_LINE))


class _Body(QWidget):
    """The two lines, the cure's button, and all the rest one press away: next to the button, or below it."""

    def __init__(self) -> None:
        super().__init__()
        self.short, self.whole = ShortText(), words(role="soft", wrap=True)
        self.whole.setContentsMargins(LEFT, 0, RIGHT, 6)
        self.button, self.more = CureButton(), Link(_MORE)
        self.foot = QWidget()
        self._row = row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self.foot)
        row.setSpacing(0)
        row.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        row.addWidget(self.more, 1, Qt.AlignmentFlag.AlignLeft)
        self.show_button(shown=False)
        stack(self, self.short, self.whole, self.foot)

    def show_button(self, *, shown: bool) -> None:
        """Show the cure's button, or begin with the words where it would be."""
        self.button.setVisible(shown)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Lay button and words again in the new width."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        room, shown = self.width() - LEFT - RIGHT, not self.button.isHidden()
        self.button.fit(max(room, _LEAST))
        fits = self.button.width() + self.more.sizeHint().width() <= room + RIGHT
        direction = QBoxLayout.Direction.LeftToRight if fits else QBoxLayout.Direction.TopToBottom
        self._row.setDirection(direction)
        self._row.setContentsMargins(LEFT if shown else LEFT - _PADDING, 0, 4, 6)


class FindingRow(QWidget):
    """A line, and what belongs to it while it is open.

    Args:
        opens: takes its cure's button, when it is first opened.
    """

    def __init__(self, opens: Callable[[Button], object]) -> None:
        super().__init__()
        self.title, self.head, self._opens = GroupTitle(), FindingHead(), opens
        self._body: _Body | None = None
        self._all = False  # whether all of the text is shown
        self._laid = "", False, False  # the text, the button and the foot that have their room
        self._inner = QWidget()
        self._column = stack(self._inner, self.head)
        stack(self, self.title, self._inner)
        self.title.hide()

    @property
    def button(self) -> Button | None:
        """The button of its cure, None where none is shown."""
        return self._body.button if self._body is not None and self._body.button.isVisibleTo(self) else None

    @property
    def more(self) -> Link | None:
        """The words that show all of the text; None before it is first opened."""
        return None if self._body is None else self._body.more

    @property
    def text(self) -> str:
        """The text that is shown below the line, "" while it is closed."""
        if self._body is None or not self._body.isVisibleTo(self):
            return ""
        return (self._body.whole if self._all else self._body.short).text()

    def show_line(self, line: GlanceLine, *, opened: bool, flip: str) -> None:
        """Show a line. ``flip``: what would turn it."""
        if self.head.show_line(line, opened=opened):
            self._lay_again()
        if opened:
            self._show_text(self._opened(), line, flip)
        if self._body is not None and opened != self._body.isVisibleTo(self):
            self._all = False
            self._show_all()
            self._body.setVisible(opened)
            self._lay_again()
            ground(self._inner, "sheet" if opened else "card")

    def show_cure(self, cure: Cure | None) -> None:
        """Show the button of a cure, or none."""
        if cure is not None:
            button = self._opened().button
            button.setText(cure.button)
            button.setAccessibleName(f"{cure.button}: for {self.head.line.name}")
        if self._body is not None:
            self._body.show_button(shown=cure is not None)
            self._show_more()
            self._grow(self._body)

    def _grow(self, body: _Body) -> None:
        """Make room at once for a text that is longer now, a cure, or the words that lead to the rest."""
        laid = self.text, not body.button.isHidden(), not body.foot.isHidden()
        if laid != self._laid and body.isVisible():
            lay_at_once(body)
        self._laid = laid

    def _lay_again(self) -> None:
        """Ask for another height, part by part: Qt keeps old heights of a row that is hidden when its line changes."""
        for part in (self.head, self._inner, self, self.parentWidget()):
            if part is not None:
                part.updateGeometry()

    def _show_text(self, body: _Body, line: GlanceLine, flip: str) -> None:
        body.short.show_sentences(line.short)
        body.whole.setText(unbroken("\n".join(said for said in (line.whole, flip) if said)))
        self._show_all()

    def _turn(self) -> None:
        self._all = not self._all
        self._show_all()

    def _show_all(self) -> None:
        if self._body is not None:
            line = self.head.line
            closed = _SUMS if line.bar is not None else _MORE
            self._body.short.setVisible(not self._all)
            self._body.whole.setVisible(self._all)
            self._show_more()
            self._body.more.show_words(_LESS if self._all else closed)
            self._body.more.setAccessibleName(f"{self._body.more.text()}: {line.part}")

    def _show_more(self) -> None:
        """Show the words that lead to the rest, where the two lines do not say it all."""
        if self._body is not None:
            rest = self._body.whole.text().replace("\n", " ").removeprefix(f"{ALIKE} ") != self._body.short.text()
            self._body.more.setVisible(self._all or rest)
            self._body.foot.setVisible(self._all or rest or self._body.button.isVisibleTo(self._body.foot))

    def _opened(self) -> _Body:
        """Return what belongs to it, made when it is first opened: most lines never are."""
        if self._body is None:
            self._body = _Body()
            self._body.hide()
            self._body.more.clicked.connect(self._turn)
            self._body.short.fitted.connect(self._show_more)
            self._column.addWidget(self._body)
            self._opens(self._body.button)
        return self._body


def lay_at_once(inner: QWidget) -> None:
    """Give a widget, and all around it up to the scrolled one, their new heights now. Qt would cut a text until later."""
    part: QWidget | None = inner
    while part is not None and (layout := part.layout()) is not None:
        layout.activate()
        QApplication.sendEvent(part, QEvent(QEvent.Type.LayoutRequest))
        part = part.parentWidget()


def stack(whole: QWidget, *parts: QWidget) -> QVBoxLayout:
    """Lay parts one below another in a widget, without air."""
    column = QVBoxLayout(whole)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    for part in parts:
        column.addWidget(part)
    return column
