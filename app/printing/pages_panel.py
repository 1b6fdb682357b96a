"""The real pages of the PDF: the template's as they are taped, the other sheets below."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.ui.apostrophes import curly
from app.ui.basic_widgets import ScrollContent, ground, scrolled, wide, words
from app.ui.palette import of
from app.ui.typography import sized

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from app.printing.sheet_set import Group, SheetSet

_SIDE, _GAP, _BETWEEN = 16, 8, 20
_TITLE = 26


class PagesPanel(QWidget):
    """All pages, scrolled."""

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setAccessibleName("Pages")
        self.setMinimumWidth(200)
        self._stack = _Stack()
        self._why = words(role="soft", wrap=True)
        self._why.setContentsMargins(_SIDE, 12, _SIDE, 0)
        self._why.hide()
        inner = ScrollContent()
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 0, 0, 12)
        column.addWidget(self._why)
        column.addWidget(self._stack)
        column.addStretch(1)
        self._area = scrolled(inner)
        self._area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._area.setAccessibleName("Pages of the PDF")
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._area)

    @property
    def pictured(self) -> int:
        """How many pages are shown by now."""
        return len(self._stack.pictures)

    def show_plan(self, sheets: SheetSet | None) -> None:
        """Lay out the pages; their pictures follow."""
        self._stack.show_set(sheets)
        text = "" if sheets is None else ", ".join(f"{group.title}: {group.count}" for group in sheets.groups)
        self._area.setAccessibleDescription(text)

    def show_page(self, number: int, picture: QImage) -> None:
        """Show one page."""
        self._stack.show_page(number, picture)

    def show_refusal(self, sentence: str) -> None:
        """Say why there are no sheets."""
        self._why.setText(curly(sentence))
        self._why.setVisible(bool(sentence))

    def take_focus(self) -> None:
        """Take the focus."""
        self._area.setFocus(Qt.FocusReason.ShortcutFocusReason)


class _Stack(QWidget):
    """The groups, one below another."""

    def __init__(self) -> None:
        super().__init__()
        self.pictures: dict[int, QImage] = {}
        self._scaled: dict[int, QImage] = {}
        self._set: SheetSet | None = None
        self._places: list[QRectF] = []
        self._titles: list[tuple[float, Group]] = []

    def show_set(self, sheets: SheetSet | None) -> None:
        self._set, self.pictures, self._scaled = sheets, {}, {}
        self._lay()

    def show_page(self, number: int, picture: QImage) -> None:
        self.pictures[number] = picture
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        super().resizeEvent(event)
        self._lay()

    def _lay(self) -> None:
        """Give each page its place."""
        self._places, self._titles = [], []
        top = 0.0
        if self._set is not None:
            room, first = self.width() - 2 * _SIDE, 0
            for group in self._set.groups:
                pages = self._set.pages[first : first + group.count]
                first += group.count
                self._titles.append((top, group))
                top += _TITLE
                wide = (room - (group.columns - 1) * _GAP) / group.columns
                for start in range(0, len(pages), group.columns):
                    row = pages[start : start + group.columns]
                    high = max(wide * page.height / page.width for page in row)
                    for column, page in enumerate(row):
                        at = _SIDE + column * (wide + _GAP)
                        self._places.append(QRectF(at, top, wide, wide * page.height / page.width))
                    top += high + _GAP
                top += _BETWEEN - _GAP
        self.setFixedHeight(max(1, math.ceil(top)))
        self.update()

    def _fitting(self, number: int, place: QRectF) -> QImage:
        """Return a page's picture made smooth for its place, once for each size."""
        ratio = self.devicePixelRatioF()
        wanted = QSize(round(place.width() * ratio), round(place.height() * ratio))
        kept = self._scaled.get(number)
        if kept is None or kept.size() != wanted:
            smooth = Qt.TransformationMode.SmoothTransformation
            kept = self.pictures[number].scaled(wanted, Qt.AspectRatioMode.IgnoreAspectRatio, smooth)
            self._scaled[number] = kept
        return kept

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        colours, painter = of(self), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        for top, group in self._titles:
            box = QRectF(_SIDE, top, self.width() - 2 * _SIDE, _TITLE)
            painter.setFont(sized(strong=True))
            painter.setPen(colours["ink"])
            painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, group.title)
            painter.setFont(sized("small"))
            painter.setPen(colours["soft"])
            room = box.width() - wide(sized(strong=True), group.title) - 8
            text = "full size on paper" if group.key == "template" else str(group.count)
            if wide(sized("small"), text) > room:
                text = "full size"
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, text)
        for number, place in enumerate(self._places):
            painter.fillRect(place, Qt.GlobalColor.white)
            if number in self.pictures:
                painter.drawImage(place, self._fitting(number, place))
            painter.setPen(QPen(colours["rule"], 1))
            painter.drawRect(place.adjusted(0.5, 0.5, -0.5, -0.5))
