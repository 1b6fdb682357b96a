"""The page that starts a boat: starting shapes with a small drawing of each, a blank sheet, and recent boats."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.canvas.pen import SCREEN, paint
from app.entries.choice_lines import ActLine
from app.ui.basic_widgets import ScrollContent, ground, scrolled, shows_focus, words
from app.ui.palette import of
from app.ui.typography import sized
from geometry.edits.starting_shapes import Start, blank, starts
from geometry.judge.check import check
from templates_out.pictures.thumbnails import cut_portrait, face_portrait

if TYPE_CHECKING:
    from pathlib import Path
    from typing import Literal

    from geometry.design.design import Design
    from templates_out.drawing.marks import Mark

_WIDE, _PICTURE = 270, 118
_COLUMNS = ((1000, 3), (660, 2), (0, 1))  # px of width that give room for so many tiles side by side
_SMALL = 0.5  # the drawings are made larger and shown at half their size, for fine lines
_CUT = 0.36  # the cut's share of the picture's width


class Tile(QAbstractButton):
    """A button for one way to start: a drawing, a name, a line."""

    def __init__(self, start: Start) -> None:
        super().__init__()
        self.start = start
        self.setText(start.title)
        self.setAccessibleName(start.title)
        self.setAccessibleDescription(start.summary)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setMinimumWidth(190)
        self.setMaximumWidth(360)
        self._name_high = QFontMetrics(sized("section", strong=True)).lineSpacing()
        self.setFixedHeight(_PICTURE + 38 + self._name_high + 2 * QFontMetrics(sized()).lineSpacing())
        self._checked = check(start.design)
        self._marks: tuple[int, tuple[Mark, ...], tuple[Mark, ...]] | None = None

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return its size."""
        return QSize(_WIDE, self.height())

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Choose it with Enter, as with Space."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def enterEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Light it under the pointer."""
        self.update()

    def leaveEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Let it go dark again."""
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        painter, colours, box = QPainter(self), of(self), self.rect()
        painter.fillRect(box, colours["new wash" if self.underMouse() or self.isDown() else "sheet"])
        self._picture(painter, QRect(12, 10, box.width() - 24, _PICTURE))
        text = QRect(16, 10 + _PICTURE + 6, box.width() - 32, box.height() - _PICTURE - 20)
        painter.setPen(colours["ink"])
        painter.setFont(sized("section", strong=True))
        painter.drawText(text, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop, self.text())
        painter.setPen(colours["ink" if self.underMouse() else "soft"])
        painter.setFont(sized())
        summary = text.adjusted(0, self._name_high + 4, 0, 0)
        painter.drawText(summary, Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap, self.start.summary)
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 2))
            painter.drawRect(QRectF(box).adjusted(1, 1, -1, -1))

    def _picture(self, painter: QPainter, place: QRect) -> None:
        wide = min(_PICTURE, round(_CUT * place.width()))
        face = place.adjusted(0, 0, -wide - 8, 0)
        cut = QRect(place.right() - wide, place.top(), wide, place.height())
        if self._marks is None or self._marks[0] != place.width():
            small = SCREEN * _SMALL
            self._marks = (
                place.width(),
                face_portrait(self._checked, face.width() / small, face.height() / small),
                cut_portrait(self._checked, cut.width() / small, cut.height() / small),
            )
        for part, marks in ((face, self._marks[1]), (cut, self._marks[2])):
            painter.save()
            painter.setClipRect(part)
            painter.translate(part.left(), part.top() + part.height())
            paint(painter, marks, SCREEN * _SMALL, of(self))
            painter.restore()


class StartPage(QWidget):
    """The start page.

    Signals:
        begun: (title, design) of a shape. opened: path of a recent boat. asked: another file. demonstration, left.
    """

    begun = Signal(str, object)
    opened = Signal(object)
    asked = Signal()
    demonstration = Signal()
    left = Signal()

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setAccessibleName("A new boat")
        self.tiles: tuple[Tile, ...] = ()
        self.recent: list[ActLine] = []
        inner = ScrollContent()
        whole = QHBoxLayout(inner)
        whole.setContentsMargins(40, 28, 40, 28)
        whole.setSpacing(40)
        shapes = QVBoxLayout()
        shapes.setSpacing(8)
        shapes.addWidget(words("A new boat", size="answer", strong=True))
        advice = "Choose the shape that is nearest to your boat. Every value in it is a guess until you measure it."
        shapes.addWidget(words(advice, "soft", wrap=True))
        self._grid = QGridLayout()
        self._grid.setSpacing(16)
        self._grid.setContentsMargins(0, 12, 0, 0)
        shapes.addLayout(self._grid)
        shapes.addStretch(1)
        whole.addLayout(shapes, 3)
        side = QVBoxLayout()
        side.setSpacing(2)
        self._recent_title = words("Recent boats", size="section", strong=True)
        side.addWidget(self._recent_title)
        self._list = QVBoxLayout()
        self._list.setSpacing(2)
        side.addLayout(self._list)
        side.addSpacing(16)
        for text, signal in (
            ("Open another boat…", self.asked),
            ("The demonstration boat", self.demonstration),
            ("Back to the drawing", self.left),
        ):
            line = ActLine()
            line.show_words(text)
            line.setMinimumWidth(line.sizeHint().width())
            line.clicked.connect(signal)
            side.addWidget(line)
        side.addStretch(1)
        whole.addLayout(side, 1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(scrolled(inner))

    def fill(self, units: Literal["in", "mm"], recent: tuple[Path, ...]) -> None:
        """Show the shapes in a unit, and the recent boats."""
        for tile in self.tiles:
            self._grid.removeWidget(tile)
            tile.hide()
            tile.deleteLater()
        empty = Start("Blank sheet", "Nothing is known yet. Draw and measure all of it.", blank(units))
        self.tiles = tuple(Tile(start) for start in (*starts(units), empty))
        for tile in self.tiles:
            tile.clicked.connect(lambda _on=False, tile=tile: self._begin(tile.text(), tile.start.design))
        self._lay()
        for line in self.recent:
            line.deleteLater()
        self.recent = []
        for path in recent:
            line = ActLine()
            line.show_words(path.stem)
            line.setToolTip(str(path))
            line.setAccessibleDescription(str(path))
            line.clicked.connect(lambda _on=False, path=path: self.opened.emit(path))
            self._list.addWidget(line)
            self.recent.append(line)
        self._recent_title.setVisible(bool(recent))
        for before, after in zip(self.tiles, (*self.tiles[1:], *self.recent[:1]), strict=False):
            QWidget.setTabOrder(before, after)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Show as many shapes side by side as there is room for."""
        super().resizeEvent(event)
        self._lay()

    def _columns(self) -> int:
        return next(count for least, count in _COLUMNS if self.width() >= least)

    def _lay(self) -> None:
        columns = self._columns()
        for index, tile in enumerate(self.tiles):
            self._grid.addWidget(tile, index // columns, index % columns)

    def take_focus(self) -> None:
        """Take the focus."""
        if self.tiles:
            self.tiles[0].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Go back to the drawing with Escape; go from shape to shape with arrows."""
        columns = self._columns()
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Up: -columns, Qt.Key.Key_Down: columns}
        at = next((index for index, tile in enumerate(self.tiles) if tile.hasFocus()), -1)
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif at >= 0 and event.key() in steps and 0 <= (to := at + steps[Qt.Key(event.key())]) < len(self.tiles):
            self.tiles[to].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            super().keyPressEvent(event)

    def _begin(self, title: str, design: Design) -> None:
        self.begun.emit(title, design)
