"""The cut fore and aft through one side's bolts, seen from starboard, with its head and the detail ring."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QApplication, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.canvas.drawing import Drawing
from app.palette import of
from app.panels.parts import ground, shows_focus, wide, words
from app.pictures import tightest_side
from app.type import sized
from templates_out.views.cut import CutSight, Side, bolts_of, cut_marks, cut_rect, cut_title, plane_of
from templates_out.views.detail import RADIUS, detail_box, detail_centre, detail_marks, detail_scale, smallest

if TYPE_CHECKING:
    from app.sight import Sight
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Mark
    from templates_out.views.viewport import Rect, Viewport

HEAD = 30
_LEAST_RADIUS = 12.0  # mm: a ring smaller than that shows nothing


class CutCanvas(Drawing):
    """The drawing of the cut; it takes the face's scale where that fits, so that a washer is equally big in both."""

    def __init__(self) -> None:
        super().__init__()
        self.side: Side = "starboard"
        self._face_scale = 0.0
        self._times: int | None = None
        self.setAccessibleName("Cut through the transom, seen from starboard")

    def work(self, checked: Checked) -> Rect:
        """Return the part of the cut where the work is."""
        return cut_rect(checked.design, self.side, self.sight.mount)

    def whole(self, checked: Checked) -> Rect:
        """Return the same with more round it."""
        left, bottom, right, top = self.work(checked)
        return left - 100.0, bottom - 100.0, right + 300.0, top + 100.0

    def make_marks(self, checked: Checked, view: Viewport) -> tuple[Mark, ...]:
        """Return the cut as marks."""
        sight, mount = CutSight(self.sight.mount, self.sight.chosen, self.sight.lit), self.sight.mount
        radius = min(RADIUS, 0.27 * view.width, 0.36 * view.height)
        centre = detail_centre(view, radius)
        times = self._ring_scale(checked, view)
        if times is None or radius < _LEAST_RADIUS:
            return cut_marks(checked, view, self.side, mount, sight)
        return (
            *cut_marks(checked, view, self.side, mount, sight, keep_free=detail_box(centre, radius)),
            *detail_marks(checked, view, self.side, mount, sight, centre=centre, radius=radius, times=times),
        )

    def _ring_scale(self, checked: Checked, view: Viewport) -> int | None:
        """Return how much larger the ring shows; while a button is held it stays, so that a drag is seen to move."""
        if self._times is None or QApplication.mouseButtons() == Qt.MouseButton.NoButton:
            upper = self.sight.chosen.startswith("upper")
            plane = plane_of(checked.design, self.side, self.sight.mount, upper=upper)
            spot = smallest(checked, plane, bolts_of(checked.design, self.side, self.sight.mount))
            self._times = None if spot is None else detail_scale(abs(spot.w_part - spot.w_solid) * view.scale)
        return self._times

    def match(self, scale: float) -> None:
        """Take the face's scale, where the work still fits and nobody has zoomed here."""
        self._face_scale = scale
        if not self.own:
            self.refit()

    def refit(self) -> None:
        """Show the work, at the face's scale where it fits."""
        super().refit()
        if self.view is None or self.checked is None:
            return
        view = self.view.at_scale(min(self._face_scale or self.view.scale, self.view.scale))
        left, bottom, _, top = self.work(self.checked)
        spare = view.height / view.scale - (top - bottom)
        self._set(replace(view, left=left, bottom=bottom - spare / 2))  # aft at the edge: the ring stands forward

    def paint_over(self, painter: QPainter, board: QRect) -> None:
        """Paint the frame of the focus."""
        if shows_focus(self):
            painter.setPen(QPen(of(self)["new"], 2))
            painter.drawRect(QRectF(board).adjusted(1, 1, -1, -1))


class CutView(QWidget):
    """The cut under its head; the head says which bolts it goes through, and steps to the other side."""

    def __init__(self) -> None:
        super().__init__()
        ground(self, "sheet")
        self._chosen_side: Side | None = None
        self._shown: tuple[Checked, Sight] | None = None
        self.canvas = CutCanvas()
        self.head = _Title()
        self.head.clicked.connect(self.step)
        row = QHBoxLayout()
        row.setContentsMargins(4, 0, 16, 0)
        row.addWidget(self.head)
        row.addStretch(1)
        row.addWidget(words("seen from starboard", "soft", "small"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.canvas, 1)

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show a checked design: the side that was stepped to, else that of the chosen part, else the tightest one."""
        self._shown = checked, sight
        named: Side | None = "port" if " port " in sight.chosen else "starboard" if " starboard " in sight.chosen else None
        side = self._chosen_side or named or tightest_side(checked)
        changed = side != self.canvas.side
        self.canvas.side = side
        bolted = sight.mount < len(checked.design.mounts) and checked.design.mounts[sight.mount].bracket.rows is not None
        self.head.show_title(cut_title(side, bolted=bolted))
        self.canvas.show_checked(checked, sight)
        if changed and not self.canvas.own:
            self.canvas.refit()

    def step(self) -> None:
        """Go to the other side."""
        self._chosen_side = "port" if self.canvas.side == "starboard" else "starboard"
        if self._shown is not None:
            self.show_checked(*self._shown)

    def take_hand(self) -> None:
        """Take the focus."""
        self.canvas.setFocus(Qt.FocusReason.ShortcutFocusReason)


class _Title(QAbstractButton):
    """The head's words; pressed, it steps to the other side."""

    def __init__(self) -> None:
        super().__init__()
        self.setFixedHeight(HEAD)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setToolTip("To the other side’s bolts")

    def show_title(self, title: str) -> None:
        self.setText(title)
        self.setAccessibleName(f"{title}; press for the other side")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        return QSize(wide(sized(strong=True), self.text()) + 18, HEAD)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Left, Qt.Key.Key_Right):
            self.click()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        colours, painter = of(self), QPainter(self)
        painter.setFont(sized(strong=True))
        painter.setPen(colours["ink"])
        painter.drawText(self.rect().adjusted(7, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, self.text())
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(2, 3, -2, -3))
