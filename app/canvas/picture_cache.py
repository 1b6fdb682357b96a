"""Keeps a picture of unchanged marks, so that a drag paints only the changed ones.

In a drag on a screen of 3840 x 2160, 70 of the face's 157 marks are in the picture, and all 165 of its rulers'.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QPainter, QPixmap, QRegion

from app.canvas.painted_area import ink_box
from app.canvas.pen import SCREEN, paint
from app.ui.palette import fill
from app.ui.throttle import button_is_held

if TYPE_CHECKING:
    from collections.abc import Iterable

    from PySide6.QtCore import QRect

    from app.ui.palette import Palette
    from templates_out.drawing.marks import Mark, Role

_FEW = 12  # so few marks are painted again and not kept
_RESTED = 3  # paintings in one place before a moved mark is kept, since it may move again


class CachedLayer:
    """The kept picture of one view."""

    def __init__(self, ground: Role = "sheet") -> None:
        self._ground: Role = ground
        self._last: tuple[Mark, ...] = ()
        self._kept: QPixmap | None = None
        self._count = self._wait = 0
        self._unchanged = 0  # marks without a change since a button was pressed: while it is held, no more are kept
        self._key: object = None

    def draw(
        self, painter: QPainter, box: QRect, marks: tuple[Mark, ...], colours: Palette, region: QRegion | None = None
    ) -> None:
        """Draw ``marks``, with the paper's lower left corner in that of ``box``. None outside ``region`` is drawn."""
        ratio = painter.device().devicePixelRatioF()
        key = (box.size().toTuple(), ratio, colours.dark, colours.pencil)
        same = _alike(self._last, marks) if key == self._key else 0
        self._unchanged = min(self._unchanged, same) if button_is_held() else len(marks)
        if key != self._key or self._count > same:
            self._wait = _RESTED if key == self._key else 0
            self._kept, self._count, self._key = None, 0, key
            if same:
                self._keep(box, ratio, marks[:same], colours)
        elif same - self._count > _FEW:
            self._wait = max(0, self._wait - 1)
            upto = min(self._unchanged, same)
            if not self._wait and upto - self._count > _FEW:
                self._keep(box, ratio, marks[self._count : upto], colours)
        self._last = marks
        if self._kept is None:
            fill(painter, box, colours[self._ground])
        else:
            painter.drawPixmap(box.topLeft(), self._kept)
        rest: Iterable[Mark] = marks[self._count :]
        left, foot = box.left(), box.top() + box.height()
        if region is not None and not QRegion(box).subtracted(region).isEmpty():
            rest = [mark for mark in rest if region.intersects(ink_box(mark, left, foot))]
        painter.save()
        painter.setClipRect(box)
        painter.translate(left, foot)
        paint(painter, rest, SCREEN, colours)
        painter.restore()

    def _keep(self, box: QRect, ratio: float, marks: tuple[Mark, ...], colours: Palette) -> None:
        """Keep some more marks."""
        self._count += len(marks)
        if self._kept is None:
            self._kept = QPixmap(box.size() * ratio)
            self._kept.setDevicePixelRatio(ratio)
            self._kept.fill(colours[self._ground])
        painter = QPainter(self._kept)
        painter.translate(0, box.height())
        paint(painter, marks, SCREEN, colours)
        painter.end()


def _alike(first: tuple[Mark, ...], second: tuple[Mark, ...]) -> int:
    """Return the number of equal marks at both beginnings."""
    count = 0
    for a, b in zip(first, second, strict=False):
        if a is not b and a != b:
            break
        count += 1
    return count
