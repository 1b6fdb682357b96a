"""Two arrows next to a field that the hand steps: under the pointer each shows its step, and a press takes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.entries.field_words import ENTRY_HIGH
from app.ui.palette import of
from app.ui.typography import row_high

if TYPE_CHECKING:
    from PySide6.QtCore import QEvent

_WIDE = 24  # px of one arrow: as wide as a finger or a tired hand needs


class StepArrows(QWidget):
    """One step up, one down. The keyboard has Up and Down in the field itself, so these take no focus.

    Signals:
        hinted: the step under the pointer, +1 or -1; 0 afterwards. stepped: a step was pressed. step_ended: it was let go.
    """

    hinted = Signal(int)
    stepped = Signal(int)
    step_ended = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._under = 0
        self.setFixedSize(2 * _WIDE, row_high(ENTRY_HIGH) - 4)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip("One step up or down, like the keys Up and Down")

    def place_of(self, way: int) -> QPointF:
        """Return the middle of an arrow's place: +1 up, -1 down."""
        return QPointF(_WIDE / 2 if way > 0 else 1.5 * _WIDE, self.height() / 2)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Show the step under the pointer."""
        self._point(self._at(event.position()))

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Take it."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._point(0)
            self.stepped.emit(self._at(event.position()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """End it, and show the next."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.step_ended.emit()
            self._point(self._at(event.position()) if QRectF(self.rect()).contains(event.position()) else 0)

    def leaveEvent(self, _event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Show no step any more."""
        self._point(0)

    def _at(self, place: QPointF) -> int:
        return 1 if place.x() < _WIDE else -1

    def _point(self, way: int) -> None:
        if way != self._under:
            self._under = way
            self.hinted.emit(way)
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw both arrows, the one under the pointer heavier."""
        colours, painter = of(self), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for way in (1, -1):
            at, on = self.place_of(way), self._under == way
            painter.setPen(QPen(colours["ink" if on else "soft"], 2.2 if on else 1.4))
            painter.drawPolyline(QPolygonF([at + QPointF(-4, 2 * way), at + QPointF(0, -2 * way), at + QPointF(4, 2 * way)]))
