"""The rulers around the face."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect

from app.canvas.pen import SCREEN
from app.canvas.picture_cache import CachedLayer
from app.ui.palette import fill
from templates_out.views.rulers import LEFT_WIDTH, TOP_HEIGHT, ruler_marks

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from app.ui.palette import Palette
    from geometry.units.units import Unit
    from templates_out.drawing.marks import Mark
    from templates_out.views.viewport import Viewport

LEFT, TOP = round(LEFT_WIDTH * SCREEN), round(TOP_HEIGHT * SCREEN)  # px: width and height of the rulers


class Rulers:
    """The rulers above the board and at its left. Each is made again only where view or unit has changed."""

    def __init__(self) -> None:
        self._of: tuple[Viewport, Unit] | None = None
        self._marks: tuple[tuple[Mark, ...], tuple[Mark, ...]] = (), ()
        self._layers = CachedLayer("card"), CachedLayer("card")

    def paint(self, painter: QPainter, board: QRect, view: Viewport, unit: Unit, colours: Palette) -> None:
        """Paint both around ``board``."""
        if (view, unit) != self._of:
            self._of, self._marks = (view, unit), (ruler_marks(view, unit, "top"), ruler_marks(view, unit, "left"))
        strips = QRect(LEFT, 0, board.width(), TOP), QRect(0, board.top(), LEFT, board.height())
        fill(painter, QRect(0, 0, LEFT + board.width(), TOP), colours["card"])
        fill(painter, QRect(0, 0, LEFT, TOP + board.height()), colours["card"])
        for layer, strip, marks in zip(self._layers, strips, self._marks, strict=True):
            layer.draw(painter, strip, marks, colours)
        fill(painter, QRect(LEFT - 1, TOP - 1, board.width() + 1, 1), colours["rule"])
        fill(painter, QRect(LEFT - 1, TOP - 1, 1, board.height() + 1), colours["rule"])
