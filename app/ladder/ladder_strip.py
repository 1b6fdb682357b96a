"""The ladder strip: closed it is one line; opened, one upright ladder for each drop, side by side.

A click on a rung takes its height and its drop together.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from app.deciding.motor_height_text import SEATS
from app.document.view_state import ViewState
from app.ladder.ladder_board import Board, RungButton, Sideways
from app.ladder.ladder_text import closed_line, legend, rows, shorter, uprights
from app.ui.basic_widgets import ground, shows_focus, wide
from app.ui.palette import of
from app.ui.timeslice import TimeSlicer, gathered
from app.ui.tool_button import ToolButton
from app.ui.typography import sized
from geometry.edits.edits import hang
from geometry.solid.bracket_holes import plate_height
from geometry.solid.faces import Unmeasured
from geometry.units.height_words import hole_words
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.decide.alternatives import Kind, Seat
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.judge.findings import Checked

CLOSED, OPEN = 44, 200
_SHORT: dict[Kind, str] = {"chosen": "As fitted", "plain": "Whole washers", "cut": "Cut flat", "plate": "Backing plate"}


class LadderStrip(QWidget):
    """The heights and drops of the chosen motor.

    Signals:
        committed: (label, design), a rung taken. opened: whether it is open now.
        view_changed: a view state with the ghost of the rung under pointer or focus.
    """

    committed = Signal(str, object)
    view_changed = Signal(object)
    opened = Signal(bool)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Ladder")
        self._design: Design | None = None
        self._mount = 0
        self._view_state = ViewState()
        self._hinted: tuple[object, ...] = ()
        self._ghost: Design | None = None  # of the rung under pointer or focus
        self._rungs: tuple[Rung, ...] = ()
        self.shown: tuple[Rung, ...] = ()
        self._seats: tuple[Seat, ...] = ()
        self._kind: Kind | None = None  # how the lower washers are seated in the ladders that are shown; None: as now
        self._slicer = TimeSlicer(self)
        self._slicer.done.connect(self._show_others)
        self.head = _Strip()
        self.head.clicked.connect(self._turn)
        self.head.chosen.connect(self._seat)
        self._board = Board()
        self._board.taken.connect(self._take)
        self._board.pointed.connect(self._hint)
        self._area = Sideways(self._board)
        self._area.hide()
        self._board.note.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self._area)
        column.addWidget(self._board.note)  # below what moves sideways, so that all of it can be read

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the present place; the ladders follow once they are calculated."""
        self._design, self._mount, self._view_state = checked.design, view_state.mount, view_state
        self.head.show_line(closed_line(checked.design, view_state.mount, _plate(checked.design, view_state.mount)))
        if view_state.mount >= len(checked.design.mounts) and (self.shown or self._seats):  # nothing will be calculated again
            self._rungs, self.shown, self._seats = (), (), ()
            self._board.show_ladders((), (), "")
            self.head.show_seats((), None)

    def show_rungs(self, rungs: tuple[Rung, ...]) -> None:
        """Show the ladders of the present design, and of the other hardware where that is looked at."""
        self._rungs = rungs
        if self._design is None or self._mount >= len(self._design.mounts):
            return
        if self.is_open:
            self._look()
        if self._kind is None:
            self._fill(rungs)

    def _fill(self, rungs: tuple[Rung, ...]) -> None:
        self.shown = rungs
        if self._design is not None:
            ladders = uprights(self._design, self._mount, rungs, as_now=self._kind is None)
            self._board.show_ladders(ladders, rows(self._design, self._mount, rungs), legend(self._design, self._mount))

    def _look(self) -> None:
        """Find the other hardware, and calculate the ladders of the kind that is chosen."""
        from geometry.decide.alternatives import seat_rungs, seats

        if self._design is None or self._mount >= len(self._design.mounts):
            return
        self._seats = seats(self._design, self._mount)
        seat = next((each for each in self._seats if each.kind == self._kind and not each.present), None)
        if seat is None:
            self._kind = None
        self.head.show_seats(self._seats, self._kind)
        self._slicer.stop()
        if seat is not None:
            self._slicer.start(gathered(seat_rungs(self._design, self._mount, seat)))

    def _show_others(self, rungs: tuple[Rung, ...]) -> None:
        if self._kind is not None:
            self._fill(rungs)

    def _seat(self, kind: Kind) -> None:
        present = next((seat.kind for seat in self._seats if seat.present), None)
        self._kind = None if kind == present else kind
        self._look()
        if self._kind is None:
            self._fill(self._rungs)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Give the note the lines that it takes."""
        super().resizeEvent(event)
        self._board.give_note_lines(self.width())

    @property
    def rungs(self) -> tuple[RungButton, ...]:
        """The rungs, for keyboard and pointer alike."""
        return self._board.rungs

    @property
    def note(self) -> str:
        """The text below the ladders: of the rung under pointer or focus, else the meaning of the signs."""
        return self._board.note.text()

    @property
    def is_open(self) -> bool:
        """Whether the ladders are shown."""
        return self.head.is_open

    def take_focus(self) -> None:
        """Take the focus: the present rung, or the closed line."""
        present = next((rung for rung in self.rungs if rung.isVisible() and rung.present), self.head)
        present.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _turn(self) -> None:
        self.head.turn()
        self._area.setVisible(self.head.is_open)
        self._board.note.setVisible(self.head.is_open)
        if self.head.is_open:
            self._look()
        self.opened.emit(self.head.is_open)

    def _take(self, drop: float, row: int) -> None:
        if self._design is None:
            return
        label = f"Drop to {format_length(drop, self._design.units)}, {hole_words(row)}"
        hung = self._hung(self._design, drop, row)
        seat = self._looked_at
        if seat is not None:
            label = f"{label}, {SEATS[seat.kind].lower()}"
            self._kind = None
        self.committed.emit(label, hung)

    @property
    def _looked_at(self) -> Seat | None:
        """How the lower washers are seated in the ladders that are shown; None for as now."""
        return next((each for each in self._seats if each.kind == self._kind), None)

    def _hung(self, design: Design, drop: float, row: int) -> Design:
        """Return the boat with the motor at a rung of the ladders that are shown."""
        hung, seat = hang(design, self._mount, row, drop), self._looked_at
        return hung if seat is None else seat.fitted(hung, self._mount)

    def _hint(self, place: tuple[float, int] | None) -> None:
        """Show where a rung would put the holes, while pointer or focus is on it."""
        hinted = self._design, place, self._kind
        if hinted == self._hinted:  # rungs that are filled again say so again
            return
        before, self._ghost, self._hinted = self._ghost, None, hinted
        if place is not None and self._design is not None:
            hung = self._hung(self._design, *place)
            self._ghost = None if hung == self._design else hung
        if self._ghost is not None or (before is not None and self._view_state.ghost is before):
            self.view_changed.emit(replace(self._view_state, ghost=self._ghost))


def _plate(design: Design, mount: int) -> float | None:
    try:
        return plate_height(design, mount)
    except (Unmeasured, IndexError):
        return None


class _Strip(QAbstractButton):
    """The closed line, and the head of the open strip: there the words that choose how the lower washers are seated."""

    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.is_open = False
        self._named = True  # whether its name has room before the words of an open strip
        self.seats: dict[Kind, ToolButton] = {}
        self.setFixedHeight(CLOSED)
        self.setMinimumWidth(200)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def show_line(self, line: str) -> None:
        self.setText(line)
        self.setAccessibleName(f"Ladder: {line}")
        self.update()

    def show_seats(self, seats: tuple[Seat, ...], looked_at: Kind | None) -> None:
        """Show the ways to seat the lower washers; the one whose ladders are shown is underlined."""
        for seat in seats:
            if seat.kind not in self.seats:
                made = self.seats[seat.kind] = ToolButton(_SHORT[seat.kind], "", f"Ladders with {SEATS[seat.kind].lower()}")
                made.setParent(self)
                made.clicked.connect(lambda _on=False, kind=seat.kind: self.chosen.emit(kind))
            button = self.seats[seat.kind]
            button.setChecked(seat.kind == looked_at or (looked_at is None and seat.present))
            button.setAccessibleName(f"Ladders with {SEATS[seat.kind].lower()}{', as it is now' if seat.present else ''}")
        for kind, button in self.seats.items():
            button.setVisible(self.is_open and any(seat.kind == kind for seat in seats))
        self._lay()

    def _lay(self) -> None:
        """Lay the words side by side; where there is little room they are closer, and then the name is left out."""
        shown = [self.seats[kind] for kind in _SHORT if kind in self.seats and not self.seats[kind].isHidden()]
        for tight, self._named in ((False, True), (True, True), (True, False)):
            left = 24 + (wide(sized("section", strong=True), "Ladder") + 14 if self._named else -6)
            for button in shown:
                button.show_bare(bare=True, tight=tight)
            if left + sum(button.sizeHint().width() + 6 for button in shown) < self.width() - 56:
                break
        for button in shown:
            size = button.sizeHint()
            button.setGeometry(left, (self.height() - size.height()) // 2, size.width(), size.height())
            left += size.width() + (2 if tight else 6)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        super().resizeEvent(event)
        self._lay()

    def turn(self) -> None:
        self.is_open = not self.is_open
        for button in self.seats.values():
            button.setVisible(self.is_open)
        self.setAccessibleDescription("open" if self.is_open else "closed")
        self.setFixedHeight(36 if self.is_open else CLOSED)
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        return QSize(320, self.height())

    def text_for(self, room: float) -> str:
        """Return as much of its line as there is room for [px], and no word cut off while fewer words will do."""
        metrics = QFontMetrics(sized())
        fits = (line for line in shorter(self.text()) if metrics.horizontalAdvance(line) <= room)
        return next(fits, "") or metrics.elidedText(shorter(self.text())[-1], Qt.TextElideMode.ElideRight, int(room))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        colours, painter = of(self), QPainter(self)
        box = QRectF(self.rect()).adjusted(24, 0, -24, 0)
        middle = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        strong = sized("section", strong=True)
        painter.setFont(strong)
        painter.setPen(colours["ink"])
        if self._named or not self.is_open:
            painter.drawText(box, middle, "Ladder")
        painter.setFont(sized())
        at = wide(strong, "Ladder") + 14
        if not (self.is_open and self.seats):
            painter.drawText(box.adjusted(at, 0, -24, 0), middle, self.text_for(int(box.width()) - at - 24))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(colours["soft"], 1.5))
        x, y, up = box.right() - 6, box.center().y(), 3 if not self.is_open else -3
        painter.drawPolyline(QPolygonF([QPointF(x - 6, y + up), QPointF(x, y - up), QPointF(x + 6, y + up)]))
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(8, 4, -8, -4))
