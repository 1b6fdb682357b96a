"""The detail ring over the cut: a separate picture. During a drag it takes turns with the texts."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QRect, Qt, QTimer
from PySide6.QtGui import QPainter, QPixmap

from app.canvas.pen import SCREEN, paint_in
from app.ui.throttle import button_is_held
from templates_out.drawing.marks import Text
from templates_out.views.detail import RADIUS, detail_box, detail_centre, detail_marks, detail_scale, smallest

if TYPE_CHECKING:
    from collections.abc import Iterable

    from PySide6.QtCore import QObject
    from PySide6.QtWidgets import QWidget

    from app.document.view_state import ViewState
    from app.ui.palette import Palette
    from geometry.judge.findings import Checked
    from geometry.solid.placed_bolts import Bolt
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.cut import Side
    from templates_out.views.cut_plane import Plane
    from templates_out.views.view_focus import ViewFocus
    from templates_out.views.viewport import Rect, Viewport

    _Asked = tuple[Checked, Viewport | None, Side, ViewFocus, int | None]
    _Calculated = tuple[_Asked, tuple[Mark, ...]]

_PLACE, _NAME = "detail place", "detail"  # parts of the drawing that reach out of the ring: the line to its place, and its name
_RIM = 0.5  # mm: the ring's line reaches no further out
_EVEN = 4  # px: a multiple of it is a whole pixel at 125, 150 and 175 % too
_LATER = 20  # ms between the ring's calculation and its painting: a step of a drag has time for only one of them
_LEAST_RADIUS = 12.0  # mm: a smaller ring would show nothing


class RingedCut(Protocol):
    """The drawing under a ring."""

    side: Side
    checked: Checked | None
    view: Viewport | None

    @property
    def cut_focus(self) -> ViewFocus:
        """Return the motor, part and dimension in focus."""

    def plane(self, checked: Checked) -> Plane:
        """Return the plane of a design's cut."""

    def pair(self, checked: Checked) -> tuple[Bolt, ...]:
        """Return the bolts that the cut goes through."""

    def update(self) -> None:
        """Paint it again soon."""

    def update_part(self, box: QRect, marks: Iterable[Mark]) -> None:
        """Paint a box of it again soon, and what marks cover."""

    def board(self) -> QRect:
        """Return the area of the drawing."""


class DetailRing:
    """The ring of one cut. ``parent`` ends its timer."""

    def __init__(self, cut: RingedCut, parent: QObject) -> None:
        self._cut = cut
        self._checked: Checked | None = None
        self._times: int | None = None
        self._calculated: _Calculated | None = None
        self._coming: _Calculated | None = None  # calculated, and not painted yet
        self._later = QTimer(parent, singleShot=True, interval=_LATER)
        self._later.timeout.connect(self._come)
        self._outside: tuple[Mark, ...] = ()  # the marks that were painted last outside its picture
        self._picture = QPixmap()
        self._painted: tuple[tuple[Mark, ...], QRect, float, tuple[bool, bool]] | None = None

    def show_checked(self, checked: Checked, _view_state: ViewState) -> None:
        """Show a checked design. During a drag, calculate the ring now and paint it a little later."""
        shown = self._checked
        if checked is shown or (shown is not None and shown.sure and shown.design is checked.design):
            return
        if self._checked is None or not button_is_held():
            self._show(checked)
            return
        self._coming = self._calculate(checked)
        self._later.start()

    def _come(self) -> None:
        """Show the calculated ring, and paint only what it covers."""
        coming, view = self._coming, self._cut.view
        if coming is None or view is None:
            return
        self._checked, self._coming, self._calculated = coming[0][0], None, coming
        box = _box(detail_centre(view, self._radius), self._radius, self._cut.board())
        self._cut.update_part(box, (*self._outside, *filter(_is_outside, self.marks())))

    def _show(self, checked: Checked) -> None:
        self._checked, self._coming = checked, None
        self._cut.update()

    def isAncestorOf(self, _child: QWidget) -> bool:  # noqa: N802 (Qt's name)
        """Return whether a widget is in it: never."""
        return False

    def follow(self, checked: Checked) -> None:
        """Show a checked design at once. While a button is held, wait for the throttle's turn."""
        if self._checked is None or not button_is_held():
            self._show(checked)

    def relayout(self) -> None:
        """Show the final design, and choose the scale again, also while a button is held."""
        self._times = None
        if self._cut.checked is not None:
            self._show(self._cut.checked)

    def place(self) -> Rect | None:
        """Return the area that it takes on paper [paper mm], None where there is nothing to show."""
        cut = self._cut
        if cut.checked is None or cut.view is None or self._scale(cut.checked) is None:
            return None
        return detail_box(detail_centre(cut.view, self._radius), self._radius)

    def marks(self) -> tuple[Mark, ...]:
        """Return the marks of it that are drawn now."""
        if self._checked is None or self.place() is None:
            return ()
        if self._calculated is None or not _same(self._calculated[0], self._asked(self._checked)):
            self._calculated = self._calculate(self._checked)
        return self._calculated[1]

    def _asked(self, checked: Checked) -> _Asked:
        cut = self._cut
        return checked, cut.view, cut.side, cut.cut_focus, self._times

    def _calculate(self, checked: Checked) -> _Calculated:
        """Return the ring of a design, with all values that it depends on."""
        asked = _, view, side, focus, times = self._asked(checked)
        if view is None:
            return asked, ()
        centre = detail_centre(view, self._radius)
        marks = detail_marks(checked, view, side, focus.mount, focus, centre=centre, radius=self._radius, times=times)
        return asked, marks

    def paint(self, painter: QPainter, board: QRect, colours: Palette) -> None:
        """Paint it over the cut. Only changed marks are painted again."""
        marks, view, ratio = self.marks(), self._cut.view, painter.device().devicePixelRatioF()
        if not marks or view is None:
            return
        box = _box(detail_centre(view, self._radius), self._radius, board)
        self._outside = tuple(filter(_is_outside, marks))
        wanted = marks, box, ratio, (colours.dark, colours.pencil)
        if self._painted is None or self._painted[0] is not marks or self._painted[1:] != wanted[1:]:
            self._picture, self._painted = QPixmap(box.size() * ratio), wanted
            self._picture.setDevicePixelRatio(ratio)
            self._picture.fill(Qt.GlobalColor.transparent)
            inside = tuple(mark for mark in marks if not _is_outside(mark))
            paint_in(QPainter(self._picture), board.translated(-box.topLeft()), inside, colours)
        paint_in(painter, board, self._outside, colours)
        painter.drawPixmap(box.topLeft(), self._picture)

    @property
    def times(self) -> int | None:
        """The ring's scale, relative to the cut."""
        return self._times

    @property
    def _radius(self) -> float:
        view = self._cut.view
        return RADIUS if view is None else min(RADIUS, 0.27 * view.width, 0.36 * view.height)

    def _scale(self, checked: Checked) -> int | None:
        """Return the ring's scale. It stays while a button is held, so that the drag is visible."""
        cut = self._cut
        if cut.view is None or self._radius < _LEAST_RADIUS:
            return None
        if self._times is None or not button_is_held():
            spot = smallest(checked, cut.plane(checked), cut.pair(checked))
            self._times = None if spot is None else detail_scale(abs(spot.w_part - spot.w_solid) * cut.view.scale, self._radius)
        return self._times


def _is_outside(mark: Mark) -> bool:
    """Return whether a mark of the ring reaches out of it."""
    return mark.part == _PLACE or (mark.part == _NAME and isinstance(mark, Text))


def _same(first: _Asked, second: _Asked) -> bool:
    return first[0] is second[0] and first[1:] == second[1:]


def _box(centre: Point, radius: float, board: QRect) -> QRect:
    """Return the square around the ring [px], its corner on a whole pixel at any screen scale."""
    half = radius + _RIM
    left, top = board.left() + (centre[0] - half) * SCREEN, board.bottom() + 1 - (centre[1] + half) * SCREEN
    size = math.ceil(2 * half * SCREEN) + _EVEN
    return QRect(math.floor(left / _EVEN) * _EVEN, math.floor(top / _EVEN) * _EVEN, size, size)
