"""The widget that both drawings share: a sheet of paper, painted from marks, that a person zooms and pushes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from app.canvas.painted_area import ink_region
from app.canvas.pen import SCREEN
from app.canvas.picture_cache import CachedLayer
from app.canvas.view_motion import NOTCH, fitted, pushed, zoomed
from app.document.view_state import ViewState, only_ghost_differs
from app.ui.palette import of, palette
from geometry.readings.adjusted_guesses import nothing_measured

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.ui.palette import Palette
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Rect, Viewport

_TOUCH = 1.0  # the sheet moves by as many pixels as the touchpad says


class Drawing(QWidget):
    """A view of the boat.

    Signals:
        scaled: the scale, paper to boat. view_changed: a view state. said: the part under the pointer.
    """

    scaled = Signal(float)
    view_changed = Signal(object)
    said = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.checked: Checked | None = None
        self.view_state = ViewState()
        self.view: Viewport | None = None
        self.own = False  # whether the person zoomed or pushed: then a new size keeps the middle
        self._layer = CachedLayer()
        self._marks: tuple[Mark, ...] | None = None
        self._pushing: QPointF | None = None
        self._space = False
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)  # Qt need not paint the column behind it first
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(180, 120)

    # For subclasses

    def board(self) -> QRect:
        """Return the area of the drawing in the widget."""
        return self.rect()

    def work(self, checked: Checked) -> Rect:
        """Return the part of the boat to show at first [boat mm]."""
        raise NotImplementedError

    def whole(self, checked: Checked) -> Rect:
        """Return the area of all that can be seen [boat mm]."""
        raise NotImplementedError

    def make_marks(self, checked: Checked, view: Viewport) -> tuple[Mark, ...]:
        """Return the marks of the drawing."""
        raise NotImplementedError

    def paint_over(self, painter: QPainter, board: QRect) -> None:
        """Paint short-lived marks: the part under the pointer, a live figure."""

    def paint_round(self, painter: QPainter) -> None:
        """Paint the margin around the drawing."""

    # Show

    @property
    def colours(self) -> Palette:
        """Its colours. A boat with nothing measured is drawn in pencil."""
        pencil = self.checked is not None and nothing_measured(self.checked.design)
        return palette(of(self).dark, pencil=pencil)

    @property
    def dragging(self) -> bool:
        """Whether a hand drags a part now."""
        return False

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show a checked design. A step of a drag that changes nothing, as most small ones do, is not drawn again."""
        if self.dragging and checked is self.checked and view_state is self.view_state:
            return
        if checked is self.checked and self._marks is not None and only_ghost_differs(view_state, self.view_state):
            self.view_state = view_state  # a ghost is painted over the sheet, which stays
            self.update()
            return
        before, same_view = self._marks, self.dragging and view_state is self.view_state
        self.checked, self.view_state = checked, view_state
        self._marks = None
        if self.view is None:
            self.refit()
        if same_view and before is not None and self.bare:
            self.update_part(QRect(), set(before) ^ set(self.sheet_marks()))
        else:
            self.update()

    @property
    def bare(self) -> bool:
        """Whether nothing is painted over the sheet that may move with the design."""
        return False

    def update_part(self, box: QRect, marks: Iterable[Mark]) -> None:
        """Paint a box of the widget again soon, and what marks cover."""
        board = self.board()
        self.update(ink_region(marks, board.left(), board.top() + board.height()) + box)

    # The sheet under the pointer

    def marks(self) -> tuple[Mark, ...]:
        """Return the marks that are drawn now."""
        return self.sheet_marks()

    def sheet_marks(self) -> tuple[Mark, ...]:
        """Return the marks on the sheet itself. A view may draw more over them."""
        if self.checked is None or self.view is None:
            return ()
        if self._marks is None:
            self._marks = self.make_marks(self.checked, self.view)
        return self._marks

    def redraw(self) -> None:
        """Make the marks again, after a change outside the design."""
        self._marks = None
        self.update()

    def paper_at(self, place: QPointF) -> Point:
        """Return the place on paper of a place in the widget [mm]."""
        board = self.board()
        return (place.x() - board.left()) / SCREEN, (board.top() + board.height() - place.y()) / SCREEN

    def place_of(self, at: Point) -> QPointF:
        """Return the place in the widget of a place on paper [mm]."""
        board = self.board()
        return QPointF(board.left() + at[0] * SCREEN, board.top() + board.height() - at[1] * SCREEN)

    def refit(self) -> None:
        """Show the work."""
        if self.checked is not None:
            self.own = False
            self._fit(self.work(self.checked))

    def show_whole(self) -> None:
        """Show all."""
        if self.checked is not None:
            self._fit(self.whole(self.checked))
            self.own = True

    def zoom(self, factor: float, about: Point | None = None) -> None:
        """Zoom around a place on paper, else around the middle."""
        if self.view is None or self.checked is None:
            return
        middle = self.view.width / 2, self.view.height / 2
        self._set(zoomed(self.view, factor, about or middle, self.whole(self.checked)))
        self.own = True

    def push(self, dx: float, dy: float) -> None:
        """Push the sheet by (dx, dy) [paper mm]."""
        if self.view is None or self.checked is None:
            return
        self._set(pushed(self.view, dx, dy, self.whole(self.checked)))
        self.own = True

    def _fit(self, rect: Rect) -> None:
        board = self.board()
        if board.width() > 0 and board.height() > 0:
            self._set(fitted(rect, board.width() / SCREEN, board.height() / SCREEN))

    def _set(self, view: Viewport) -> None:
        self.view, self._marks = view, None
        self.scaled.emit(view.scale)
        self.update()

    # Qt's events

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return a usual size."""
        return QSize(650, 560)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Keep the middle, or fit again if nobody has zoomed."""
        super().resizeEvent(event)
        board = self.board()
        if self.view is None or not self.own:
            self.refit()
        elif board.width() > 0 and board.height() > 0:
            self._set(self.view.resized(board.width() / SCREEN, board.height() / SCREEN))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Paint the sheet."""
        painter, colours = QPainter(self), self.colours
        board = self.board()
        self._layer.draw(painter, board, self.sheet_marks(), colours, event.region())
        painter.save()
        painter.setClipRect(board)
        self.paint_over(painter, board)
        painter.restore()
        self.paint_round(painter)

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Paint again where the colours have changed."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()

    def event(self, event: QEvent) -> bool:
        """Zoom by a pinch."""
        if isinstance(event, QNativeGestureEvent) and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
            self.zoom(1.0 + event.value(), self.paper_at(event.position()))
            return True
        return super().event(event)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 (Qt's name)
        """Zoom around the pointer with a wheel, push with two fingers."""
        pixels, angle = event.pixelDelta(), event.angleDelta()
        if not pixels.isNull() and event.source() != Qt.MouseEventSource.MouseEventNotSynthesized:
            self.push(pixels.x() * _TOUCH / SCREEN, -pixels.y() * _TOUCH / SCREEN)
        elif angle.y():
            self.zoom(NOTCH ** (angle.y() / 120), self.paper_at(event.position()))
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Begin to push with the middle button, or with Space held."""
        if event.button() == Qt.MouseButton.MiddleButton or self._space:
            self._pushing = event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Push."""
        if self._pushing is not None:
            moved = event.position() - self._pushing
            self._pushing = event.position()
            self.push(moved.x() / SCREEN, -moved.y() / SCREEN)

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """End pushing."""
        if self._pushing is not None:
            self._pushing = None
            self.unsetCursor()

    @property
    def pushing(self) -> bool:
        """Whether a drag pushes the sheet now, or a press would begin to."""
        return self._pushing is not None or self._space

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Zoom by keys."""
        match event.key():
            case Qt.Key.Key_Plus | Qt.Key.Key_Equal:
                self.zoom(NOTCH)
            case Qt.Key.Key_Minus:
                self.zoom(1 / NOTCH)
            case Qt.Key.Key_Home if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
                self.show_whole()
            case Qt.Key.Key_Home:
                self.refit()
            case Qt.Key.Key_Space:
                self._space = True
            case _:
                super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """Forget a held Space when the focus goes."""
        super().focusOutEvent(event)
        self._space = False

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Let go of Space."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
        super().keyReleaseEvent(event)
