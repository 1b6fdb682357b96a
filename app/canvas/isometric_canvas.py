"""The isometric picture: the boat in space, turned by dragging or by the arrow keys. Nothing is edited here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QSize, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from app.canvas.pen import SCREEN, paint_in
from app.ui.palette import fill, of
from geometry.readings.measures import name_of
from geometry.solid.faces import Unmeasured
from templates_out.drawing.marks import Mark, Text
from templates_out.isometric.isometric_marks import Turn, isometric_marks

if TYPE_CHECKING:
    from geometry.judge.findings import Checked

_LATER = 120  # ms: after a change elsewhere; the picture is drawn again when changes pause
_PER_PIXEL = 0.5  # degrees
_STEP = 15.0  # degrees, by a key
_ZOOM = 1.2
_CLOSEST, _FARTHEST = 8.0, 0.5
_NOTCH = 120
_TURNS = {
    Qt.Key.Key_Left: (-_STEP, 0.0), Qt.Key.Key_Right: (_STEP, 0.0), Qt.Key.Key_Up: (0.0, _STEP), Qt.Key.Key_Down: (0.0, -_STEP),
}  # fmt: skip


class IsometricCanvas(QWidget):
    """The picture. A double click, or Home, turns it back."""

    def __init__(self) -> None:
        super().__init__()
        self.turn, self.closer = Turn(), 1.0
        self._checked: Checked | None = None
        self._marks: tuple[Mark, ...] | None = None
        self._pressed: QPointF | None = None
        self._soon = QTimer(self, interval=_LATER, singleShot=True)
        self._soon.timeout.connect(self._redraw)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.OpenHandCursor)
        self.setMinimumSize(180, 120)
        self.setAccessibleName("Isometric picture of the boat")
        self._describe()

    def show_checked(self, checked: Checked) -> None:
        """Show a checked design, as soon as changes pause."""
        if checked is not self._checked:
            self._checked = checked
            self._soon.start()

    def marks(self) -> tuple[Mark, ...]:
        """Return the marks that are drawn now; one sentence where the boat can't be drawn yet."""
        if self._marks is None and self._checked is not None:
            wide, high = self.width() / SCREEN, self.height() / SCREEN
            try:
                self._marks = isometric_marks(self._checked, wide, high, self.turn, self.closer)
            except Unmeasured as missing:
                name = name_of(self._checked.design, missing.key)
                self._marks = (Text((3.0, high - 8.0), f"The picture needs: {name}.", 3.1, "soft"),)
        return self._marks or ()

    def look(self, turn: Turn, closer: float) -> None:
        """Look from another place."""
        self.turn, self.closer = turn, min(_CLOSEST, max(_FARTHEST, closer))
        self._redraw()
        self._describe()

    def _describe(self) -> None:
        keys = "Arrow keys turn it, plus and minus zoom, Home turns it back."
        self.setAccessibleDescription(f"{self.turn.words.capitalize()}. {keys}")

    def _redraw(self) -> None:
        self._marks = None
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return a usual size."""
        return QSize(400, 320)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it for another size."""
        super().resizeEvent(event)
        self._marks = None

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Begin to turn it."""
        self._pressed = event.position()
        self.setCursor(Qt.CursorShape.ClosedHandCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Turn it under the pointer."""
        if self._pressed is not None:
            way = event.position() - self._pressed
            self._pressed = event.position()
            self.look(self.turn.by(way.x() * _PER_PIXEL, way.y() * _PER_PIXEL), self.closer)

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Leave it where it is."""
        self._pressed = None
        self.setCursor(Qt.CursorShape.OpenHandCursor)

    def mouseDoubleClickEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Turn it back."""
        self.look(Turn(), 1.0)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 (Qt's name)
        """Zoom."""
        self.look(self.turn, self.closer * _ZOOM ** (event.angleDelta().y() / _NOTCH))
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Arrow keys turn it, plus and minus zoom, Home turns it back."""
        key = Qt.Key(event.key())
        if key in _TURNS:
            self.look(self.turn.by(*_TURNS[key]), self.closer)
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.look(self.turn, self.closer * _ZOOM)
        elif key == Qt.Key.Key_Minus:
            self.look(self.turn, self.closer / _ZOOM)
        elif key == Qt.Key.Key_Home:
            self.look(Turn(), 1.0)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Paint the picture, and the frame of the focus."""
        colours, painter = of(self), QPainter(self)
        fill(painter, self.rect(), colours["sheet"])
        painter.save()
        painter.setClipRect(self.rect())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_in(painter, self.rect(), self.marks(), colours)
        painter.restore()
        if self.hasFocus():
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(self.rect().adjusted(1, 1, -2, -2))
