"""One fit of the search: two lines to read, and its details when it is opened."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.deciding.fit_text import FitLine
from app.ui.basic_widgets import Button, ground, unbroken, words
from app.ui.line_button import LineButton
from app.ui.link import Link
from app.ui.palette import of
from app.ui.state_marks import paint_state
from app.ui.typography import sized
from geometry.judge.findings import STATE_WORDS

if TYPE_CHECKING:
    from geometry.decide.offer import Fit

HIGH = 46
_LEFT, _TEXT = 16, 40


class FitHead(LineButton):
    """One fit: mark, place and smallest clearance; below, its costs and the finding that limits it."""

    def __init__(self) -> None:
        super().__init__()
        self.line = FitLine("note", "", "", "", (), "")
        self._open = self._hung = False
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_line(self, line: FitLine, *, opened: bool, hung: bool) -> None:
        """Show one fit; ``hung``: the motor hangs so now."""
        self.line, self._open, self._hung = line, opened, hung
        self.setText(line.title)
        now = ", as it is now" if hung else ""
        self.setAccessibleName(f"{line.title}: {STATE_WORDS[line.state]}, {line.room}{now}. {line.gist}")
        self.setAccessibleDescription(" ".join(line.details) if opened else "")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the height of two lines."""
        return QSize(240, HIGH)

    def heightForWidth(self, width: int) -> int:  # noqa: N802 (Qt's name)
        """Return the height that the gist takes."""
        metrics = QFontMetrics(sized("small"))
        high = metrics.boundingRect(0, 0, width - _TEXT - 16, 999, Qt.TextFlag.TextWordWrap, self.line.gist).height()
        return HIGH + self.more_title(width) + max(0, high - metrics.lineSpacing() - 1)

    @property
    def title(self) -> str:
        """The place, and whether the motor hangs so now."""
        return f"{self.line.title} · as it is now" if self._hung else self.line.title

    def title_width(self, width: int) -> int:
        """Return the room for the title, up to the clearance [px]."""
        return width - _TEXT - 16 - QFontMetrics(sized(strong=True)).horizontalAdvance(self.line.room) - 8

    def more_title(self, width: int) -> int:
        """Return the height of the title's lines beyond the first [px]: it wraps before it meets the clearance."""
        metrics = QFontMetrics(sized(strong=True))
        high = metrics.boundingRect(0, 0, self.title_width(width), 999, Qt.TextFlag.TextWordWrap, self.title).height()
        return max(0, high - metrics.lineSpacing() - 1)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        colours, painter, line = of(self), QPainter(self), self.line
        box, middle = QRectF(self.rect()), Qt.AlignmentFlag.AlignVCenter
        if self.underMouse() and not self._open:
            painter.fillRect(box, colours["sheet"])
        paint_state(painter, QRectF(_LEFT, 5, 16, 16), line.state, colours)
        painter.setPen(colours["fouled" if line.state == "fouled" else "ink"])
        strong = sized(strong=True)
        painter.setFont(strong)
        top, more = QRectF(_TEXT, 2, box.width() - _TEXT - 16, 22), self.more_title(self.width())
        painter.drawText(top, Qt.AlignmentFlag.AlignRight | middle, line.room)
        painter.setFont(sized(strong=self._open))
        place = QRectF(_TEXT, 2, self.title_width(self.width()), 22 + more)
        painter.drawText(place, Qt.AlignmentFlag.AlignLeft | middle | Qt.TextFlag.TextWordWrap, self.title)
        painter.setFont(sized("small"))
        painter.setPen(colours["soft"])
        low = QRectF(_TEXT, 24 + more, box.width() - _TEXT - 16, box.height() - 26 - more)
        painter.drawText(low, int(Qt.AlignmentFlag.AlignLeft) | int(Qt.TextFlag.TextWordWrap), line.gist)
        self.paint_focus(painter)

    def enterEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Highlight it under the pointer."""
        self.update()

    def leaveEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """End the highlight."""
        self.update()


class FitRow(QWidget):
    """A fit with its details, on the sheet's colour while it is open."""

    def __init__(self) -> None:
        super().__init__()
        self.fit: Fit | None = None
        self.head = FitHead()
        self.details = words(role="soft", wrap=True)
        self.details.setContentsMargins(_TEXT, 0, 16, 4)
        self.take, self.keep = Button("Use this", high=30), Link("Keep to compare")
        self._foot = QWidget()
        foot = QHBoxLayout(self._foot)
        foot.setContentsMargins(_TEXT, 2, 0, 8)
        foot.setSpacing(4)
        foot.addWidget(self.take)
        foot.addWidget(self.keep)
        foot.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for part in (self.head, self.details, self._foot):
            column.addWidget(part)

    def show_fit(self, fit: Fit, line: FitLine, *, opened: bool, hung: bool) -> None:
        """Show one fit."""
        self.fit = fit
        self.head.show_line(line, opened=opened, hung=hung)
        self.details.setText(unbroken("\n".join(line.details)))
        self.details.setVisible(opened)
        self._foot.setVisible(opened and fit.fits)
        self.take.setVisible(not hung)
        self.take.setAccessibleName(f"Use this: {line.title}")
        self.keep.setAccessibleName(f"Keep to compare: {line.title}")
        ground(self, "sheet" if opened else "card")
