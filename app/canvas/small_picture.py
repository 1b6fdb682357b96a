"""A small picture that is painted from marks. They are made when it is seen, after the window's first paint."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.canvas.pen import SCREEN, paint_in
from app.ui.palette import fill, of

if TYPE_CHECKING:
    from collections.abc import Callable

    from templates_out.drawing.marks import Mark

_HIGH, _LOW, _LEAST = 132, 116, 56  # px: its height, that in a low window, and under which nothing is drawn
_TALL = 760  # px: the height of a window that is not low


class Picture(QWidget):
    """The picture. It takes no click, and gives its room away where the window is low."""

    def __init__(self) -> None:
        super().__init__()
        self._make: Callable[[float, float], tuple[Mark, ...]] | None = None
        self._marks: tuple[Mark, ...] = ()
        self._old = False  # whether the marks are those of before: they stay until the new ones are made
        self._soon = QTimer(self, interval=0, singleShot=True)
        self._soon.timeout.connect(self._draw)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()

    def draw(self, make: Callable[[float, float], tuple[Mark, ...]] | None) -> None:
        """Show what ``make`` gives for a width and a height of paper [mm]; None shows nothing."""
        self._make, self._old = make, True
        self.setVisible(make is not None)
        self.update()

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks, made where they are not yet."""
        if self._old:
            self._old = False
            high = self.height() >= _LEAST
            self._marks = self._make(self.width() / SCREEN, self.height() / SCREEN) if self._make and high else ()
        return self._marks

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return its usual size."""
        return QSize(240, _HIGH if self.window().height() >= _TALL else _LOW)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return no height: what is asked comes before it."""
        return QSize(120, 0)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it again for another size."""
        super().resizeEvent(event)
        self._old = True

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Paint the marks that there are; ask for new ones where these are old."""
        if self.height() < _LEAST:
            return
        if self._old:
            self._soon.start()
        colours, painter = of(self), QPainter(self)
        fill(painter, self.rect(), colours["card"])
        painter.save()
        painter.setClipRect(self.rect())
        paint_in(painter, self.rect(), self._marks, colours)
        painter.restore()
        painter.setPen(QPen(colours["rule"], 1))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def _draw(self) -> None:
        """Make the marks: not while it is painted, since a text that is refused keeps the painter alive for a while."""
        _made = self.marks
        self.update()
