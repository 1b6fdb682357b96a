"""The face of the transom, seen from astern: what is grabbed here is grabbed first, the number beside it second."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPen

from app.canvas.drawing import Drawing
from app.canvas.key_drawing import HIGH, WIDE, key_marks
from app.canvas.pen import SCREEN, paint
from app.palette import of
from app.panels.parts import shows_focus
from app.tools.drag import HOLD, Drag
from app.tools.handles import Grip, grips, under
from app.tools.snap import step
from app.type import sized
from app.words.answer_words import smallest_inside
from geometry.design.units import format_clearance
from templates_out.drawing.marks import Line, Mark, Path, Text
from templates_out.views.face import face_marks
from templates_out.views.rulers import LEFT_WIDTH, TOP_HEIGHT, ruler_marks
from templates_out.views.sight import FaceSight
from templates_out.views.viewport import AIR, whole_rect, work_rect

if TYPE_CHECKING:
    from PySide6.QtCore import QEvent

    from app.sight import Sight
    from geometry.judge.findings import Checked
    from templates_out.views.viewport import Rect, Viewport

_LEFT, _TOP = round(LEFT_WIDTH * SCREEN), round(TOP_HEIGHT * SCREEN)
_CLICK = 4  # px: a press that moves less is a click
_KEY_FROM = 450  # px: below this height the key drawing is left out
_HOLD_PX = 8.0
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0), Qt.Key.Key_Up: (0, 1), Qt.Key.Key_Down: (0, -1),
}  # fmt: skip


class FaceCanvas(Drawing):
    """The face.

    Signals:
        previewed: a design in the middle of a drag. committed: (label, design) at its end. cancelled: Escape in it.
        wanted: key of a dimension that was clicked.
    """

    previewed = Signal(object)
    committed = Signal(str, object)
    cancelled = Signal()
    wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Face of the transom, seen from astern")
        self._pressed: QPoint | None = None
        self._taken: Grip | None = None
        self._drag: Drag | None = None
        self._nudge: Drag | None = None
        self._pointer = QPointF()
        self._hover = ""
        self._figure = ""

    def board(self) -> QRect:
        """Return where the drawing lies: right of one ruler and below the other."""
        return self.rect().adjusted(_LEFT, _TOP, 0, 0)

    def work(self, checked: Checked) -> Rect:
        """Return the part of the face where the work is."""
        return work_rect(checked.design)

    def whole(self, checked: Checked) -> Rect:
        """Return the whole transom."""
        return whole_rect(checked.design)

    def make_marks(self, checked: Checked, view: Viewport) -> tuple[Mark, ...]:
        """Return the face as marks."""
        return face_marks(checked, view, FaceSight(self.sight.mount, self.sight.chosen, self.sight.lit))

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show a checked design, and say what is chosen."""
        if sight.chosen != self.sight.chosen:
            chosen = next((grip for grip in grips(checked.design, sight.mount) if grip.part == sight.chosen), None)
            self.setAccessibleDescription("" if chosen is None else f"{chosen.name} chosen")
        super().show_checked(checked, sight)

    # Pointing

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Take what is under the pointer."""
        super().mousePressEvent(event)
        if self.pushing or event.button() != Qt.MouseButton.LeftButton:
            return
        self._pressed = event.position().toPoint()
        found = self._under(event.position())
        self._taken = found[0] if found else None

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Drag what was taken, or light what lies under the pointer."""
        super().mouseMoveEvent(event)
        self._pointer = event.position()
        if self.pushing:
            return
        if self._pressed is None:
            self._light(event.position())
            return
        far = (event.position().toPoint() - self._pressed).manhattanLength() >= _CLICK
        if self._drag is None and self._taken is not None and far and self.checked is not None:
            self._drag = Drag(self.checked.design, self._taken, self._boat(QPointF(self._pressed)))
        if self._drag is not None:
            self._drag_to(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """End a drag as one step; a click chooses."""
        super().mouseReleaseEvent(event)
        if event.button() != Qt.MouseButton.LeftButton or self._pressed is None:
            return
        pressed, drag = self._pressed, self._drag
        self._pressed = self._drag = None
        if drag is None:
            self._click(QPointF(pressed))
            return
        self._figure = ""
        self._end(drag)

    def leaveEvent(self, _event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Let go of what was lit."""
        self._set_hover("", "")

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Arrows move the chosen, Enter opens its entry, Escape drops a drag or the choice."""
        key = event.key()
        if key == Qt.Key.Key_Escape:
            self._escape()
        elif key in _ARROWS and self._chosen() is not None:
            self._push_part(Qt.Key(key), 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open_entry()
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """An arrow held down is one step, until it is let go."""
        super().keyReleaseEvent(event)
        if event.key() in _ARROWS and not event.isAutoRepeat():
            self._end_nudge()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """A drag does not outlive the hand."""
        super().focusOutEvent(event)
        self._end_nudge()

    def focusNextPrevChild(self, forward: bool) -> bool:  # noqa: N802 (Qt's name)
        """Tab goes from part to part in the order of the card, and on from the last."""
        if self.checked is None:
            return super().focusNextPrevChild(forward)
        parts = [grip.part for grip in grips(self.checked.design, self.sight.mount)]
        at = parts.index(self.sight.chosen) if self.sight.chosen in parts else (-1 if forward else len(parts))
        at += 1 if forward else -1
        if not 0 <= at < len(parts):
            return super().focusNextPrevChild(forward)
        self.looked.emit(replace(self.sight, chosen=parts[at], lit=""))
        return True

    # What it does

    def _boat(self, place: QPointF) -> tuple[float, float]:
        if self.view is None:
            return 0.0, 0.0
        return self.view.to_boat(self.paper_at(place))

    def _under(self, place: QPointF) -> tuple[Grip, ...]:
        if self.checked is None or self.view is None or not self.board().contains(place.toPoint()):
            return ()
        return under(self.checked.design, self.view, self.paper_at(place), self.sight.mount, self.sight.chosen)

    def _dimension(self, place: QPointF) -> str:
        """Return the key of the figure under the pointer, "" for none."""
        at = self.paper_at(place)
        for mark in self.marks():
            if isinstance(mark, Text) and mark.part.startswith("measure:"):
                wide, high = len(mark.text) * mark.size * 0.32, mark.size
                if abs(mark.at[0] - at[0]) <= wide and -0.6 * high <= at[1] - mark.at[1] <= 1.2 * high:
                    return mark.part.removeprefix("measure:")
        return ""

    def _drag_to(self, event: QMouseEvent) -> None:
        if self._drag is None or self.view is None:
            return
        modifiers = event.modifiers()
        self._drag = self._drag.to(
            self._boat(event.position()),
            free=bool(modifiers & Qt.KeyboardModifier.AltModifier),
            one_axis=bool(modifiers & Qt.KeyboardModifier.ShiftModifier),
            hold=min(HOLD, _HOLD_PX / SCREEN / self.view.scale),
        )
        moved = self._drag.last
        if moved is not None:
            self.previewed.emit(moved.design)
            self._figure = " · ".join(word for word in (moved.figure, self._spare(), moved.said) if word)
            self.said.emit(moved.said or moved.figure)
        self.update()

    def _spare(self) -> str:
        """The smallest clearance inside, beside the live figure."""
        found = smallest_inside(self.checked) if self.checked is not None else ()
        if not found or found[0].value is None or self.checked is None:
            return ""
        return f"clear {format_clearance(found[0].value, self.checked.design.units)}".replace("clear −", "fouled ")

    def _end(self, drag: Drag) -> None:
        self.update()
        if drag.last is None or not drag.last.label:
            self.cancelled.emit()
            return
        part = drag.grip.part if drag.grip.kind != "saddle" else f"bracket:{drag.grip.index}"
        self.committed.emit(drag.last.label, drag.last.design)
        self.looked.emit(replace(self.sight, chosen=part, mount=self._mount_of(drag.grip)))

    def _mount_of(self, grip: Grip) -> int:
        return grip.index if grip.kind in ("bracket", "upper", "lower", "saddle") else self.sight.mount

    def _click(self, place: QPointF) -> None:
        key = self._dimension(place)
        found = self._under(place)
        corner = found and found[0].kind in ("outline", "profile", "saddle", "upper", "lower")
        if key and not corner and "." in key:
            self.wanted.emit(key)
            return
        part = found[0].part if found else self._edge_under(place)
        mount = self._mount_of(found[0]) if found else self.sight.mount
        self.looked.emit(replace(self.sight, chosen=part, lit="", mount=mount))

    def _edge_under(self, place: QPointF) -> str:
        """Return the outline's or the profile's edge under the pointer, "" for none."""
        at = self.paper_at(place)
        for mark in self.marks():
            if isinstance(mark, Line) and " edge " in mark.part and _off_line(mark, at) < 1.6:
                return mark.part
        return ""

    def _light(self, place: QPointF) -> None:
        found = self._under(place)
        if found:
            self._set_hover(found[0].part, found[0].name)
        else:
            edge = self._edge_under(place)
            self._set_hover(edge, {"outline": "Transom’s edge", "profile": "Well’s edge"}.get(edge.split(" ")[0], ""))

    def _set_hover(self, part: str, name: str) -> None:
        if part != self._hover:
            self._hover = part
            self.said.emit(name)
            self.setCursor(
                Qt.CursorShape.OpenHandCursor if part and " edge " not in part else Qt.CursorShape.ArrowCursor
            )
            self.update()

    def _escape(self) -> None:
        if self._drag is not None or self._nudge is not None:
            self._drag = self._nudge = self._pressed = self._taken = None
            self._figure = ""
            self.cancelled.emit()
        else:
            self.looked.emit(replace(self.sight, chosen="", lit=""))

    def _chosen(self) -> Grip | None:
        if self.checked is None or not self.sight.chosen:
            return None
        return next((g for g in grips(self.checked.design, self.sight.mount) if g.part == self.sight.chosen), None)

    def _push_part(self, key: Qt.Key, times: int) -> None:
        chosen = self._chosen()
        if chosen is None or self.checked is None:
            return
        if self._nudge is None:
            self._nudge = Drag(self.checked.design, chosen, (0.0, 0.0))
            self._nudged = (0.0, 0.0)
        by = step(self.checked.design.units) * times
        (du, dv), (x, y) = self._nudged, _ARROWS[key]
        self._nudged = du + x * by, dv + y * by
        self._nudge = self._nudge.to(self._nudged, hold=0.0)
        if self._nudge.last is not None:
            self.previewed.emit(self._nudge.last.design)
            self.said.emit(self._nudge.last.said or self._nudge.last.figure)

    def _end_nudge(self) -> None:
        nudge, self._nudge = self._nudge, None
        if nudge is not None and nudge.last is not None and nudge.last.label:
            self.committed.emit(nudge.last.label, nudge.last.design)

    def _open_entry(self) -> None:
        chosen = self._chosen()
        if chosen is None:
            return
        keys = {
            "upper": f"mounts.{chosen.index}.upper_at", "lower": f"mounts.{chosen.index}.drop",
            "saddle": f"mounts.{chosen.index}.row", "bracket": f"mounts.{chosen.index}.offset",
            "old hole": f"old_holes.{chosen.index}.across", "profile": "well.floor_port", "outline": "transom.height",
            "block": f"inside_blocks.{chosen.index}.stands_out",
        }  # fmt: skip
        self.wanted.emit(keys.get(chosen.kind, ""))

    # Painting

    def paint_over(self, painter: QPainter, board: QRect) -> None:
        """Paint what is lit, the saddle's handle, the key drawing and the live figure."""
        colours = of(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.save()
        painter.translate(board.left(), board.top() + board.height())
        paint(painter, self._lit_marks(), SCREEN, colours)
        painter.restore()
        self._paint_saddle(painter)
        if board.height() >= _KEY_FROM and self.checked is not None and self.view is not None:
            self._paint_key(painter, board, self.checked, self.view)
        if self._figure:
            self._paint_figure(painter, board)

    def _lit_marks(self) -> tuple[Mark, ...]:
        """What is under the pointer or chosen, once more in a heavier line."""
        names = {name for name in (self._hover, self.sight.chosen) if name and not self._drag}
        found: list[Mark] = []
        for mark in self.marks():
            if mark.part in names and isinstance(mark, Path | Line) and mark.pen is not None:
                pen = replace(mark.pen, weight=mark.pen.weight * 1.7 + 0.1)
                found.append(replace(mark, pen=pen, fill=None) if isinstance(mark, Path) else replace(mark, pen=pen))
        return tuple(found)

    def _paint_saddle(self, painter: QPainter) -> None:
        """A small handle on the saddle of the motor in hand, while the hand is near."""
        if self.checked is None or self.view is None or not (self._hover or self.sight.chosen or self._drag):
            return
        if "racket" not in self._hover + self.sight.chosen and not self._hover.startswith("saddle"):
            return
        saddle = next((g for g in grips(self.checked.design, self.sight.mount) if g.kind == "saddle"), None)
        if saddle is not None:
            place, colours = self.place_of(self.view.to_paper(saddle.at)), of(self)
            painter.setPen(QPen(colours["new"], 1.5))
            painter.setBrush(colours["field"])
            painter.drawRect(QRectF(round(place.x()) - 4.5, round(place.y()) - 4.5, 9, 9))

    def _paint_key(self, painter: QPainter, board: QRect, checked: Checked, view: Viewport) -> None:
        wide, high = round(WIDE * SCREEN), round(HIGH * SCREEN)
        box = QRect(board.left() + 6, board.bottom() - high - 6, wide, high)
        if view.to_boat((wide / SCREEN + 4, high / SCREEN + 4))[1] > _lowest_work(checked):
            return
        painter.fillRect(box, of(self)["sheet"])
        painter.save()
        painter.translate(box.left(), box.top() + high)
        paint(painter, key_marks(checked.design, view.rect), SCREEN, of(self))
        painter.restore()

    def _paint_figure(self, painter: QPainter, board: QRect) -> None:
        font = sized(strong=True)
        metrics, colours = QFontMetrics(font), of(self)
        wide, high = metrics.horizontalAdvance(self._figure) + 16, metrics.height() + 8
        left = min(max(round(self._pointer.x()) + 18, board.left() + 4), board.right() - wide - 4)
        top = min(max(round(self._pointer.y()) - high - 12, board.top() + 4), board.bottom() - high - 4)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colours["lit"])
        painter.drawRoundedRect(QRectF(left, top, wide, high), 3, 3)
        painter.setPen(colours["ink"])
        painter.setFont(font)
        painter.drawText(QRect(left, top, wide, high), Qt.AlignmentFlag.AlignCenter, self._figure)

    def paint_round(self, painter: QPainter) -> None:
        """Paint the rulers."""
        if self.checked is None or self.view is None:
            return
        colours, board = of(self), self.board()
        painter.fillRect(QRect(0, 0, self.width(), _TOP), colours["card"])
        painter.fillRect(QRect(0, 0, _LEFT, self.height()), colours["card"])
        units = self.checked.design.units
        for edge, x, y in (("top", _LEFT, _TOP), ("left", 0, board.top() + board.height())):
            painter.save()
            painter.translate(x, y)
            paint(painter, ruler_marks(self.view, units, "top" if edge == "top" else "left"), SCREEN, colours)
            painter.restore()
        painter.fillRect(QRect(_LEFT - 1, _TOP - 1, board.width() + 1, 1), colours["rule"])
        painter.fillRect(QRect(_LEFT - 1, _TOP - 1, 1, board.height() + 1), colours["rule"])
        if shows_focus(self) and not self.sight.chosen:
            painter.setPen(QPen(colours["new"], 2))
            painter.drawRect(QRectF(board).adjusted(1, 1, -1, -1))


def _lowest_work(checked: Checked) -> float:
    return work_rect(checked.design)[1] + AIR - 15.0


def _off_line(line: Line, at: tuple[float, float]) -> float:
    """Return the distance of a place from a line [mm]."""
    (ax, ay), (bx, by) = line.a, line.b
    dx, dy = bx - ax, by - ay
    size = dx * dx + dy * dy
    t = min(1.0, max(0.0, ((at[0] - ax) * dx + (at[1] - ay) * dy) / size)) if size else 0.0
    return float(((ax + t * dx - at[0]) ** 2 + (ay + t * dy - at[1]) ** 2) ** 0.5)
