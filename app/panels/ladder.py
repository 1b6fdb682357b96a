"""The ladder strip: closed it is one line; opened, one upright ladder for each drop, side by side.

A click on a rung takes its row and its drop together.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QLineF, QObject, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QFrame, QGridLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from app.palette import of
from app.panels.parts import Slim, ground, shows_focus, wide, words
from app.state_marks import paint_state
from app.type import sized
from app.words.ladder_words import RowSight, RungSight, Upright, closed_line, rows, uprights
from geometry.design.edits import hang
from geometry.design.units import format_length
from geometry.solid.frames import Unmeasured
from geometry.solid.rows import plate_height

if TYPE_CHECKING:
    from app.sight import Sight
    from geometry.decide.ladder import Rung
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Role

CLOSED, OPEN = 44, 200
_ROW = 22
_NARROW, _WIDE = 78, 106


class LadderStrip(QWidget):
    """The rows and drops of the motor in hand.

    Signals:
        committed: (label, design), a rung taken. opened: whether it is open now.
    """

    committed = Signal(str, object)
    opened = Signal(bool)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Ladder")
        self._design: Design | None = None
        self._mount = 0
        self._rungs: tuple[Rung, ...] = ()
        self.head = _Strip()
        self.head.clicked.connect(self._turn)
        self._board = _Board()
        self._board.taken.connect(self._take)
        self._area = _Sideways(self._board)
        self._area.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self._area)

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show the present place; the ladders follow once they are reckoned."""
        self._design, self._mount = checked.design, sight.mount
        self.head.show_line(closed_line(checked.design, sight.mount, _plate(checked.design, sight.mount)))

    def show_rungs(self, found: tuple[Rung, ...]) -> None:
        """Show the ladders of the present design."""
        self._rungs = found
        if self._design is not None and self._design.mounts:
            self._board.show_ladders(uprights(self._design, self._mount, found), rows(self._design, self._mount, found))

    @property
    def rungs(self) -> tuple[RungButton, ...]:
        """The rungs, for keyboard and pointer alike."""
        return self._board.rungs

    @property
    def is_open(self) -> bool:
        """Whether the ladders are shown."""
        return self.head.is_open

    def take_hand(self) -> None:
        """Take the focus: the present rung, or the closed line."""
        present = next((rung for rung in self.rungs if rung.isVisible() and rung.present), self.head)
        present.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _turn(self) -> None:
        self.head.turn()
        self._area.setVisible(self.head.is_open)
        self.opened.emit(self.head.is_open)

    def _take(self, drop: float, row: int) -> None:
        if self._design is not None:
            told = f"Drop to {format_length(drop, self._design.units)}, hole {row + 1}"
            self.committed.emit(told, hang(self._design, self._mount, row, drop))


def _plate(design: Design, mount: int) -> float | None:
    try:
        return plate_height(design, mount)
    except (Unmeasured, IndexError):
        return None


class _Strip(QAbstractButton):
    """The closed line, and the head of the open strip."""

    def __init__(self) -> None:
        super().__init__()
        self.is_open = False
        self.setFixedHeight(CLOSED)
        self.setMinimumWidth(200)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def show_line(self, line: str) -> None:
        self.setText(line)
        self.setAccessibleName(f"Ladder: {line}")
        self.update()

    def turn(self) -> None:
        self.is_open = not self.is_open
        self.setAccessibleDescription("open" if self.is_open else "closed")
        self.setFixedHeight(36 if self.is_open else CLOSED)
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        return QSize(320, self.height())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        colours, painter = of(self), QPainter(self)
        box = QRectF(self.rect()).adjusted(24, 0, -24, 0)
        middle = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        strong = sized("section", strong=True)
        painter.setFont(strong)
        painter.setPen(colours["ink"])
        painter.drawText(box, middle, "Ladder")
        painter.setFont(sized())
        at = wide(strong, "Ladder") + 14
        told = QFontMetrics(sized()).elidedText(self.text(), Qt.TextElideMode.ElideRight, int(box.width()) - at - 24)
        painter.drawText(box.adjusted(at, 0, -24, 0), middle, told)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(colours["soft"], 1.5))
        x, y, up = box.right() - 6, box.center().y(), 3 if not self.is_open else -3
        painter.drawPolyline(QPolygonF([QPointF(x - 6, y + up), QPointF(x, y - up), QPointF(x + 6, y + up)]))
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(8, 4, -8, -4))


class RungButton(QAbstractButton):
    """One rung: heavy in new where the motor hangs now, broken where the lower bolt misses."""

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
        """Its drop [mm] and its row."""
        return self._rung.drop, self._rung.row

    def show_rung(self, rung: RungSight, *, dull: bool) -> None:
        """Show one rung; ``dull`` on a ladder that fouls."""
        self._rung, self._dull = rung, dull
        self.setEnabled(rung.kind != "broken")
        self.setAccessibleName(rung.spoken)
        self.setToolTip(rung.spoken)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the rung and the piece of both rails beside it."""
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
        """Light it."""
        self.update()

    def leaveEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Let it go."""
        self.update()


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


class _Sideways(QScrollArea):
    """As high as what is in it; where that is too wide it moves sideways."""

    def __init__(self, inner: QWidget) -> None:
        super().__init__()
        ground(inner, "card")
        self._inner = inner
        self.setHorizontalScrollBar(Slim(Qt.Orientation.Horizontal))
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
        inner = self._inner.minimumSizeHint()
        return QSize(min(inner.width(), 320), inner.height() + (8 if inner.width() > self.width() else 0))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        return QSize(200, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        super().resizeEvent(event)
        self.updateGeometry()


class _Board(QWidget):
    """All ladders, motor place and plate written once at the left."""

    taken = Signal(float, int)

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(24, 0, 16, 8)
        self._grid.setHorizontalSpacing(0)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnMinimumWidth(0, 64)
        self._grid.setColumnMinimumWidth(1, 84)
        self._grid.addWidget(words("motor", "soft", "small"), 0, 0, Qt.AlignmentFlag.AlignBottom)
        self._grid.addWidget(words("plate", "soft", "small"), 0, 1, Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignRight)
        self._note = words(
            "Broken rung: the lower bolt misses the slot. Pale band: plate 0 to 1 in above the bottom, as is common.",
            "soft", "small",
        )  # fmt: skip
        self._tops: list[_Top] = []
        self._places: list[tuple[QWidget, QWidget]] = []
        self._cells: dict[tuple[int, int], RungButton] = {}
        self._bands: list[bool] = []

    @property
    def rungs(self) -> tuple[RungButton, ...]:
        """Every rung that is shown."""
        return tuple(cell for cell in self._cells.values() if not cell.isHidden())

    def show_ladders(self, ladders: tuple[Upright, ...], places: tuple[RowSight, ...]) -> None:
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
        self._grid.addWidget(self._note, count + 1, 0, 1, len(ladders) + 3)
        self._grid.setColumnStretch(len(ladders) + 2, 1)
        for column in range(2, len(ladders) + 2):
            self._grid.setColumnStretch(column, 8)
        self.update()

    def _name(self, places: tuple[RowSight, ...]) -> None:
        for one, two in self._places:
            one.deleteLater()
            two.deleteLater()
        self._places = []
        for index, place in enumerate(reversed(places)):
            role: Role = "ink" if place.present else "soft"
            pair = words(place.words, role, strong=place.present), words(place.plate, role, strong=place.present)
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
            self._grid.addWidget(cell, row + 1, column + 2)
        return self._cells[column, row]

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the pale band over the usual rows."""
        painter, sheet = QPainter(self), of(self)["sheet"]
        right = max((cell.geometry().right() for cell in self.rungs), default=0)
        for (column, row), cell in self._cells.items():
            if column == 0 and row < len(self._bands) and self._bands[row]:
                painter.fillRect(24, cell.y(), right - 24, cell.height(), sheet)
