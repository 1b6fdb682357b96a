"""A button of a tool strip: a word, with an icon where there is room; in the narrowest heads the icon alone."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy

from app.ui.basic_widgets import shows_focus, wide
from app.ui.icons import draw
from app.ui.palette import fill, of
from app.ui.typography import sized

HIGH = 30  # px
_ICON = 16  # px
_TIGHT = 3  # px: at each side of a word


class ToolButton(QAbstractButton):
    """A button with a tool's word, and its icon where there is room. The tool in hand is underlined."""

    def __init__(self, word: str, picture: str, tip: str) -> None:
        super().__init__()
        self._picture, self._bare, self._tight, self._wordless = picture, not picture, False, False
        self._tip = tip
        self.setText(word)
        self.setToolTip(tip)
        self.setAccessibleName(word)
        self.setAccessibleDescription(tip)
        self.setCheckable(True)
        self.setFixedHeight(HIGH)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def nextCheckState(self) -> None:  # noqa: N802 (Qt's name)
        """Keep the state: only the view state says which tool is in hand."""

    def show_bare(self, *, bare: bool, tight: bool) -> None:
        """Show the word alone, or with its icon."""
        if (bare or not self._picture, tight) != (self._bare, self._tight):
            self._bare, self._tight = bare or not self._picture, tight
            self.updateGeometry()
            self.update()

    def show_icon_alone(self, *, alone: bool) -> None:
        """Show the icon alone, and the word in the tool tip; or the word again. A button without an icon keeps its word."""
        alone = alone and bool(self._picture)
        if alone != self._wordless:
            self._wordless = alone
            self.setToolTip(f"{self.text()}. {self._tip}" if alone else self._tip)
            self.updateGeometry()
            self.update()

    @property
    def least_with_word(self) -> int:
        """The width [px] of the word alone, close to its neighbours."""
        return wide(sized(strong=True), self.text()) + 2 * _TIGHT

    def _room(self) -> int:
        return _TIGHT if self._tight and not self._wordless else 6

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the size of what it shows of icon and word."""
        if self._wordless:
            return QSize(_ICON + 2 * self._room(), HIGH)
        return QSize(wide(sized(strong=True), self.text()) + 2 * self._room() + (0 if self._bare else _ICON + 4), HIGH)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw it."""
        colours, painter = of(self), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = self._room()
        role = colours["ink" if self.isChecked() or self.underMouse() else "soft"]
        if self._wordless or not self._bare:
            draw(painter, self._picture, room, (HIGH - _ICON) / 2, role, _ICON)
        if not self._wordless:
            left = room + (0 if self._bare else _ICON + 4)
            painter.setFont(sized(strong=self.isChecked()))
            painter.setPen(role)
            painter.drawText(self.rect().adjusted(left, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, self.text())
        if self.isChecked():
            fill(painter, QRect(room, HIGH - 4, self.width() - 2 * room, 2), colours["ink"])
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 2, -1, -2))

    def enterEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Light it under the pointer."""
        self.update()

    def leaveEvent(self, _event: object) -> None:  # noqa: N802 (Qt's name)
        """Let it go dark again."""
        self.update()
