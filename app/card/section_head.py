"""The head of one of the card's sections: its number, its name, and at the right its summary."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy

from app.ui.basic_widgets import shows_focus, wide
from app.ui.palette import of
from app.ui.typography import row_high, sized
from geometry.readings.measures import SECTIONS

if TYPE_CHECKING:
    from app.entries.entry_text import Section

CLOSED, OPEN = 25, 32  # px


class SectionHead(QAbstractButton):
    """The head of a section: its number, its name, and its summary."""

    def __init__(self, number: int) -> None:
        super().__init__()
        self.number, self._summary, self._open = number, "", False
        self.setText(SECTIONS[number - 1])
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def show_section(self, section: Section, unit: str, *, opened: bool) -> None:
        """Show a section's head."""
        said = section.summary if section.missing or section.guesses else ""
        summary = " · ".join(word for word in (said.removesuffix(" readings"), unit) if word) if opened else section.summary
        if (summary, opened) == (self._summary, self._open) and self.accessibleName():
            return
        self._summary, self._open = summary, opened
        self.setAccessibleName(f"{section.title}, {self._summary}")
        self.setAccessibleDescription("open" if opened else "closed")
        self.setFixedHeight(row_high(OPEN if opened else CLOSED))
        self.update()

    @property
    def summary(self) -> str:
        """The text at its right."""
        return self._summary

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the room that both texts take at the least: the unit is left out first."""
        name = sized("section", strong=True) if self._open else sized()
        room = wide(name, self.text()) + wide(sized("small"), self._summary.split(" · ")[0]) + 72
        return QSize(room, OPEN if self._open else CLOSED)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        colours, painter = of(self), QPainter(self)
        box = QRectF(self.rect()).adjusted(16, 0, -16, 0)
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.setFont(sized("section" if self._open else "plain", strong=self._open))
        painter.setPen(colours["ink" if self._open else "soft"])
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft | middle, str(self.number))
        painter.setPen(colours["ink"])
        painter.drawText(box.adjusted(16, 0, 0, 0), Qt.AlignmentFlag.AlignLeft | middle, self.text())
        room = box.width() - 24 - wide(sized("section" if self._open else "plain", strong=self._open), self.text())
        whole = wide(sized("small"), self._summary) <= room
        summary = self._summary if whole else self._summary.split(" · ")[0]  # the unit is left out first
        painter.setFont(sized("small"))
        painter.setPen(colours["soft"])
        painter.drawText(box, Qt.AlignmentFlag.AlignRight | middle, summary)
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(6, 1, -6, -1))
