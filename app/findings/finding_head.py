"""The line of one finding: mark, part, what it hits, and figure or bar. A press opens it; arrows go from line to line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy

from app.findings import load_bar
from app.ui.basic_widgets import wide
from app.ui.line_button import LineButton
from app.ui.palette import of
from app.ui.state_marks import paint_state
from app.ui.typography import row_high, sized

if TYPE_CHECKING:
    from app.findings.glance_lines import GlanceLine

_HIGH = 27
LEFT, RIGHT = 36, 16  # px: where the part begins, and the margin after the figure
_LONGEST_SHARE = "100 %"  # so that bars end at one place
_MARK, _COLUMN, _BARS, _GAP = 12, 172, 200, 12  # px: where mark, hit and bar begin if they can, and between two texts
_WRAP = Qt.TextFlag.TextWordWrap


class _Layout(msgspec.Struct, frozen=True):
    """Where the texts of a line are at one width [px]; ``second`` is below the part where there is no room next to it."""

    part: QRectF
    second: QRectF
    high: int


class FindingHead(LineButton):
    """One finding, or several equal ones. Texts that have no room next to the part are below it."""

    def __init__(self) -> None:
        super().__init__()
        self._line: GlanceLine | None = None
        self._open = False
        self._layouts: dict[int, _Layout] = {}  # by width: a layout asks for them again and again
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    @property
    def line(self) -> GlanceLine:
        """The line that it shows."""
        if self._line is None:
            raise RuntimeError("a line is shown before it is asked for")
        return self._line

    def show_line(self, line: GlanceLine, *, opened: bool) -> bool:
        """Show one line; return whether it is higher or lower now."""
        if line == self._line and opened == self._open:  # as most of them are at each turn in a drag
            return False
        high = self._high(self.width())
        self._line, self._open = line, opened
        self._layouts.clear()
        self.setText(line.part)
        self.setAccessibleName(line.spoken)
        self.setAccessibleDescription(" ".join(line.short) if opened else "")
        self.update()
        return self._high(self.width()) != high

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the size of one line."""
        return QSize(240, row_high(_HIGH))

    def heightForWidth(self, width: int) -> int:  # noqa: N802 (Qt's name)
        """Return the height that its texts take."""
        return self._high(width)

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Calculate heights again in another font."""
        if event.type() == QEvent.Type.FontChange:
            self._layouts.clear()
        super().changeEvent(event)

    def places(self, width: int) -> tuple[QRectF, QRectF, QRectF]:
        """Return the places of the part, of what follows it, and of the figure, at a width [px]."""
        figure = wide(self._figure_font(), self.line.figure)
        layout = self._layout(width)
        return layout.part, layout.second, QRectF(width - RIGHT - figure, 0, figure, row_high(_HIGH))

    def _high(self, width: int) -> int:
        return row_high(_HIGH) if self._line is None else self._layout(width).high

    def _layout(self, width: int) -> _Layout:
        if width not in self._layouts:
            self._layouts[width] = self._laid(width)
        return self._layouts[width]

    def _laid(self, width: int) -> _Layout:
        line, figure, row = self.line, wide(self._figure_font(), self.line.figure), row_high(_HIGH)
        if line.bar is not None:
            figure = max(figure, wide(self._figure_font(), _LONGEST_SHARE))
        room = width - LEFT - RIGHT - (figure + _GAP if figure else 0)
        part, hit = wide(self._part_font(), line.part), wide(sized(), line.hit)
        needs = load_bar.LEAST if line.bar is not None else hit
        start = max(_COLUMN, LEFT + part + _GAP) if LEFT + room >= _COLUMN + needs else LEFT + part + _GAP
        if line.bar is not None:
            start = _BARS if LEFT + part + _GAP <= _BARS else width  # else below: all bars of a panel begin at one place
        below = load_bar.words_high() if line.bar is not None else 0
        if part <= room and start + needs <= LEFT + room:
            return _Layout(QRectF(LEFT, 0, part, row), QRectF(start, 0, LEFT + room - start, row), row + below)
        more = 0
        if part > room:
            high = QFontMetrics(self._part_font()).boundingRect(0, 0, room, 999, _WRAP, line.part).height()
            more = high - QFontMetrics(self._part_font()).lineSpacing()
        first = QRectF(LEFT, 0, room, row + more)
        if line.bar is not None:
            track = QRectF(LEFT, first.bottom() - 6, width - LEFT - RIGHT, row - 6)
            return _Layout(first, track, round(track.bottom()) + below)
        if not line.hit:
            return _Layout(first, QRectF(), round(first.bottom()))
        all_room = width - LEFT - RIGHT
        high = QFontMetrics(sized()).boundingRect(0, 0, all_room, 999, _WRAP, line.hit).height()
        return _Layout(first, QRectF(LEFT, first.bottom() - 5, all_room, high), round(first.bottom()) + high)

    def _part_font(self) -> QFont:
        return sized(strong=self._open or self.line.state == "fouled")

    def _figure_font(self) -> QFont:
        return sized(strong=self.line.state == "fouled")

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        if self._line is None:
            return
        colours, painter, line = of(self), QPainter(self), self._line
        part, second, figure = self.places(self.width())
        left, middle = Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignVCenter
        paint_state(painter, QRectF(_MARK, (row_high(_HIGH) - 16) / 2, 16, 16), line.state, colours, doubt=line.doubt)
        loud = colours["fouled" if line.state == "fouled" else "ink"]
        painter.setPen(loud)
        painter.setFont(self._figure_font())
        painter.drawText(figure.adjusted(-2, 0, 0, 0), Qt.AlignmentFlag.AlignRight | middle, line.figure)
        painter.setFont(self._part_font())
        painter.drawText(part.adjusted(0, 0, 2, 0), left | middle | _WRAP, line.part)
        if line.bar is not None:
            load_bar.paint_bar(painter, second, line.bar, colours)
        elif line.hit:
            painter.setFont(sized())
            painter.setPen(colours["soft"])
            painter.drawText(second.adjusted(0, 0, 2, 0), left | middle | _WRAP, line.hit)
        self.paint_focus(painter)


class FoldHead(LineButton):
    """The line that folds the clear findings: its title with their number, and the least room among them."""

    def __init__(self) -> None:
        super().__init__()
        self._gist, self._unfolded = "", False
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def show_fold(self, title: str, gist: str, *, unfolded: bool) -> None:
        """Show another number of findings, or whether they are shown below."""
        self._gist, self._unfolded = gist, unfolded
        self.setText(title)
        self.setAccessibleName(f"{title}, {gist}" if gist else title)
        self.setAccessibleDescription("open" if unfolded else "closed")
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the size of one line."""
        return QSize(240, row_high(_HIGH) + 4)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw title, gist and arrow."""
        colours, painter, box = of(self), QPainter(self), QRectF(self.rect())
        middle = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        strong = sized(strong=True)
        painter.setFont(strong)
        painter.setPen(colours["soft"])
        painter.drawText(box.adjusted(_MARK, 0, 0, 0), middle, self.text())
        start = _MARK + wide(strong, self.text()) + _GAP
        painter.setFont(sized())
        painter.setPen(colours["ink"])
        if start + wide(sized(), self._gist) <= box.width() - RIGHT - 16:
            painter.drawText(box.adjusted(start, 0, 0, 0), middle, self._gist)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(colours["soft"], 1.5))
        x, y, up = box.right() - RIGHT - 4, box.center().y(), 2 if self._unfolded else -2
        painter.drawPolyline(QPolygonF([QPointF(x - 4, y + up), QPointF(x, y - up), QPointF(x + 4, y + up)]))
        self.paint_focus(painter)
