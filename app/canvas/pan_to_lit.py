"""Pushes the view to the lit dimension where it is out of view: slowly, or at once where the desktop wants less motion."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from app.canvas.view_motion import fitted
from templates_out.drawing.marks import Text
from templates_out.views.face import face_marks
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import whole_rect

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtCore import QVariantAnimation

    from app.document.view_state import ViewState
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Viewport

LONG = 200  # ms
_MARGIN = 8.0  # paper mm between a figure and the edge
_WHOLE = 900.0  # paper mm square, large enough for every figure


def way_to(checked: Checked, view_state: ViewState, view: Viewport, shown: tuple[Mark, ...]) -> Point | None:
    """Return the push [paper mm] that shows the lit dimension's figure; None where it is in view, or does not exist."""
    if _figure(shown, view_state.lit) is not None:
        return None
    whole = fitted(whole_rect(checked.design), _WHOLE, _WHOLE)
    figure = _figure(face_marks(checked, whole, ViewFocus(view_state.mount, "", view_state.lit)), view_state.lit)
    if figure is None:
        return None
    x, y = view.to_paper(whole.to_boat(figure.at))
    to = min(max(x, _MARGIN), view.width - _MARGIN), min(max(y, _MARGIN), view.height - _MARGIN)
    if (x, y) == to:
        return None
    return view.width / 2 - x, view.height / 2 - y


def _figure(marks: tuple[Mark, ...], key: str) -> Text | None:
    return next((mark for mark in marks if isinstance(mark, Text) and mark.part == f"measure:{key}"), None)


class PanAnimation(QObject):
    """A push of the sheet over a fifth of a second.

    Args:
        push: pushes the sheet by (dx, dy) [paper mm].
    """

    def __init__(self, push: Callable[[float, float], None], parent: QObject) -> None:
        super().__init__(parent)
        self._push, self._way, self._gone = push, (0.0, 0.0), 0.0

    @cached_property
    def _moving(self) -> QVariantAnimation:
        """Qt's animation, made when it is first needed, since Qt is slow to load its class."""
        from PySide6.QtCore import QVariantAnimation

        moving = QVariantAnimation(self, startValue=0.0, endValue=1.0, duration=LONG)
        moving.valueChanged.connect(self._step)
        return moving

    def begin(self, way: Point) -> None:
        """Push by ``way``, at once where the desktop wants less motion."""
        from PySide6.QtWidgets import QStyle

        self._moving.stop()
        self._way, self._gone = way, 0.0
        if QApplication.style().styleHint(QStyle.StyleHint.SH_Widget_Animation_Duration) > 0:
            self._moving.start()
        else:
            self._step(1.0)

    def _step(self, gone: float) -> None:
        by, self._gone = gone - self._gone, gone
        self._push(self._way[0] * by, self._way[1] * by)
