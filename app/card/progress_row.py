"""A row of washers that shows how far the questions are: filled is answered, a ring is asked now, dotted is to come."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.ui.palette import of

_PITCH, _RADIUS, _BORE = 15, 4.5, 1.6  # px


class WasherRow(QWidget):
    """The row, from left to right."""

    def __init__(self) -> None:
        super().__init__()
        self.done = self.every = 0
        self.setFixedHeight(16)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_progress(self, done: int, every: int) -> None:
        """Show that ``done`` of ``every`` questions are answered. The next one is asked now."""
        if (done, every) != (self.done, self.every):
            self.done, self.every = done, every
            self.setAccessibleName(self.words)
            self.setToolTip(self.words)
            self.updateGeometry()
            self.update()

    @property
    def words(self) -> str:
        """The words for a screen reader: "4 of 9"."""
        return f"{min(self.done + 1, self.every)} of {self.every}"

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the room of all washers."""
        return QSize(self.every * _PITCH, 16)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw them."""
        colours, painter = of(self), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for at in range(self.every):
            middle = QPointF(self.width() - (self.every - at - 0.5) * _PITCH, self.height() / 2)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            if at < self.done:
                painter.setPen(QPen(colours["soft"], 2 * (_RADIUS - _BORE) / 2))
                painter.drawEllipse(middle, (_RADIUS + _BORE) / 2, (_RADIUS + _BORE) / 2)
            elif at == self.done:
                painter.setPen(QPen(colours["new"], 2))
                painter.drawEllipse(middle, _RADIUS, _RADIUS)
            else:
                pen = QPen(colours["soft"], 1.2)
                pen.setDashPattern([1.2, 1.6])
                painter.setPen(pen)
                painter.drawEllipse(middle, _RADIUS, _RADIUS)
