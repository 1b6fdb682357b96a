"""The open ladders: one upright ladder for each drop, a rung for each height; heights and AV plate are written once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QLineF, QObject, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QFrame, QGridLayout, QScrollArea, QSizePolicy, QWidget

from app.ladder.ladder_text import RowSight, RungSight, Upright
from app.ui.basic_widgets import ThinScrollBar, ground, recolour, shows_focus, wide, words
from app.ui.palette import of
from app.ui.state_marks import paint_state
from app.ui.typography import sized

if TYPE_CHECKING:
    from templates_out.drawing.marks import Role

_ROW = 21
_NARROW, _WIDE = 84, 106
_ROOMY = 600  # px: from here on two lines hold the note


class RungButton(QAbstractButton):
    """One rung: heavy in new where the motor hangs now, broken where the lower bolt misses.

    Signals:
        hinted: its full text, while pointer or focus is on it; "" afterwards.
    """

    hinted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._rung = RungSight(0.0, 0, "whole", False, False, "")
        self._dull = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFixedHeight(_ROW)
        self.setMinimumWidth(_NARROW)
        self.setMaximumWidth(_WIDE)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def present(self) -> bool:
        """Whether the motor hangs here now."""
        return self._rung.present

    @property
    def place(self) -> tuple[float, int]:
        """Its drop [mm] and its row, counted from 0."""
        return self._rung.drop, self._rung.row

    def show_rung(self, rung: RungSight, *, dull: bool) -> None:
        """Show one rung; ``dull`` on a ladder that fouls."""
        self._rung, self._dull = rung, dull
        self.setEnabled(rung.kind != "broken")
        self.setAccessibleName(rung.spoken)
        self.setAccessibleDescription(rung.detail)
        if self.underMouse() or self.hasFocus():
            self.hinted.emit(rung.detail)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the rung and its piece of both rails."""
        colours, painter, rung = of(self), QPainter(self), self._rung
        in_from = round(0.19 * self.width()) + 0.5
        left, right, y = in_from, self.width() - in_from, self.height() / 2 + 0.5
        painter.setPen(QPen(colours["edge" if self._dull else "ink"], 1 if self._dull else 1.4))
        painter.drawLine(QLineF(left, 0, left, self.height()))
        painter.drawLine(QLineF(right, 0, right, self.height()))
        if rung.present:
            painter.fillRect(QRectF(left - 7, y - 2.5, right - left + 14, 5), colours["new"])
        elif rung.kind == "broken":
            painter.drawLine(QLineF(left, y, left + 8, y))
            painter.drawLine(QLineF(right - 8, y, right, y))
        else:
            if rung.kind == "just":
                painter.setPen(QPen(colours["edge"], 1, Qt.PenStyle.DotLine))
            painter.drawLine(QLineF(left, y, right, y))
        if rung.fouled:
            paint_state(painter, QRectF(self.width() / 2 - 8, y - 8, 16, 16), "fouled", colours)
        if self.underMouse() and self.isEnabled() and not rung.present:
            painter.fillRect(QRectF(left, y - 1.5, right - left, 3), colours["new"])
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(8, 1, -8, -1))

    def enterEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Highlight it, and show its text."""
        self.hinted.emit(self._rung.detail)
        self.update()

    def leaveEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """End the highlight."""
        self.hinted.emit("")
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """Show its text."""
        super().focusInEvent(event)
        self.hinted.emit(self._rung.detail)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """End the highlight."""
        super().focusOutEvent(event)
        self.hinted.emit("")


class _Top(QWidget):
    """The head of one ladder: its drop, its mark, its smallest clearance."""

    def __init__(self) -> None:
        super().__init__()
        self._ladder: Upright | None = None
        self.setFixedHeight(44)
        self.setMinimumWidth(_NARROW)
        self.setMaximumWidth(_WIDE)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_ladder(self, ladder: Upright) -> None:
        self._ladder = ladder
        self.setAccessibleName(f"Drop {ladder.title}: {ladder.state}, {ladder.room}")
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        if self._ladder is None:
            return
        colours, painter, ladder = of(self), QPainter(self), self._ladder
        centre = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter
        painter.setFont(sized("section", strong=True))
        painter.setPen(colours["new" if ladder.present else "ink"])
        painter.drawText(QRectF(0, 0, self.width(), 22), centre, ladder.title)
        room = wide(sized(), ladder.room)
        left = (self.width() - room - 20) / 2
        paint_state(painter, QRectF(left, 24, 16, 16), ladder.state, colours)
        painter.setFont(sized())
        painter.setPen(colours["fouled" if ladder.state == "fouled" else "ink"])
        painter.drawText(QRectF(left + 20, 22, room + 4, 20), Qt.AlignmentFlag.AlignVCenter, ladder.room)


class Sideways(QScrollArea):
    """As high as what is in it; where that is too wide it moves sideways."""

    def __init__(self, inner: QWidget) -> None:
        super().__init__()
        ground(inner, "card")
        self._inner = inner
        self.setHorizontalScrollBar(ThinScrollBar(Qt.Orientation.Horizontal))
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setWidget(inner)
        self.setWidgetResizable(True)
        inner.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        """Take another height where there are more rows."""
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(watched, event)

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the height of what is in it, and of the bar where it moves sideways."""
        inner = self._inner.minimumSizeHint()
        return QSize(min(inner.width(), 320), inner.height() + (8 if inner.width() > self.width() else 0))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the same height, and little width."""
        return QSize(200, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Take another height where the bar comes or goes."""
        super().resizeEvent(event)
        self.updateGeometry()


class Board(QWidget):
    """All ladders; heights and AV plate are written once at the left.

    Signals:
        taken: (drop, row) of a rung. pointed: the same of the rung under pointer or focus; None afterwards.
    """

    taken = Signal(float, int)
    pointed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(24, 0, 16, 0)
        self._grid.setHorizontalSpacing(0)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnMinimumWidth(0, 64)
        self._grid.setColumnMinimumWidth(1, 84)
        self._grid.addWidget(words("height", "soft", "small"), 0, 0, Qt.AlignmentFlag.AlignBottom)
        at_right = Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignRight
        self._grid.addWidget(words("AV plate", "soft", "small"), 0, 1, at_right)
        self.note = words("", "soft", "small", wrap=True)
        self._legend = ""
        self.note.setContentsMargins(24, 3, 16, 0)
        self.note.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self._tops: list[_Top] = []
        self._places: list[tuple[QWidget, QWidget]] = []
        self._cells: dict[tuple[int, int], RungButton] = {}
        self._bands: list[bool] = []

    def give_note_lines(self, wide: int) -> None:
        """Give the note the height that its text takes in a strip of this width [px]; it stays while the text changes."""
        lines = 2 if wide >= _ROOMY else 4
        self.note.setFixedHeight(lines * QFontMetrics(sized("small")).lineSpacing() + 4)

    @property
    def rungs(self) -> tuple[RungButton, ...]:
        """Every rung that is shown."""
        return tuple(cell for cell in self._cells.values() if not cell.isHidden())

    def show_ladders(self, ladders: tuple[Upright, ...], places: tuple[RowSight, ...], legend: str) -> None:
        """Show the ladders next to the motor's heights, and the meaning of their signs below."""
        if self.note.text() == self._legend:
            self.note.setText(legend)
        self._legend = legend
        count = len(places)
        self._bands = [place.usual for place in reversed(places)]
        for index, ladder in enumerate(ladders):
            self._top(index).show_ladder(ladder)
            for rung in ladder.rungs:
                self._cell(index, count - 1 - rung.row).show_rung(rung, dull=ladder.state == "fouled")
        for index, top in enumerate(self._tops):
            top.setVisible(index < len(ladders))
        for (column, row), cell in self._cells.items():
            cell.setVisible(column < len(ladders) and row < count)
        self._name(places)
        self._grid.setColumnStretch(len(ladders) + 2, 1)
        for column in range(2, len(ladders) + 2):
            self._grid.setColumnStretch(column, 8)
        self.update()

    def _say(self, detail: str) -> None:
        self.note.setText(detail or self._legend)
        recolour(self.note, "ink" if detail else "soft")

    def _name(self, places: tuple[RowSight, ...]) -> None:
        for labels in self._places:
            for label in labels:
                label.deleteLater()
        self._places = []
        for index, place in enumerate(reversed(places)):
            role: Role = "ink" if place.present else "soft"
            pair = words(place.words, role, strong=place.present), words(place.plate, role, strong=place.present)
            pair[0].setContentsMargins(0, 0, 10, 0)
            self._grid.addWidget(pair[0], index + 1, 0)
            self._grid.addWidget(pair[1], index + 1, 1, Qt.AlignmentFlag.AlignRight)
            self._places.append(pair)

    def _top(self, index: int) -> _Top:
        while len(self._tops) <= index:
            self._tops.append(_Top())
            self._grid.addWidget(self._tops[-1], 0, len(self._tops) + 1)
        return self._tops[index]

    def _cell(self, column: int, row: int) -> RungButton:
        if (column, row) not in self._cells:
            cell = self._cells[column, row] = RungButton()
            cell.clicked.connect(lambda _on=False, cell=cell: self.taken.emit(*cell.place))
            cell.hinted.connect(self._say)
            cell.hinted.connect(lambda text, cell=cell: self.pointed.emit(cell.place if text and cell.isEnabled() else None))
            self._grid.addWidget(cell, row + 1, column + 2)
        return self._cells[column, row]

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the pale band over the usual heights."""
        painter, sheet = QPainter(self), of(self)["sheet"]
        right = max((cell.geometry().right() for cell in self.rungs), default=0)
        for (column, row), cell in self._cells.items():
            if column == 0 and row < len(self._bands) and self._bands[row]:
                painter.fillRect(24, cell.y(), right - 24, cell.height(), sheet)
