"""The face of the transom, seen from astern: what is grabbed here is grabbed first, the number beside it second."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
)

from app.canvas.drawing import Drawing
from app.canvas.face_words import blank_words, corner_numbers
from app.canvas.ghost import ghost_marks
from app.canvas.key_drawing import HIGH, WIDE, key_marks
from app.canvas.layer import Layer
from app.canvas.page_plan import pages_rect, paint_veil, plan_marks, without_figures
from app.canvas.panning import Push, way_to
from app.canvas.part_menu import part_menu
from app.canvas.pen import SCREEN, paint
from app.canvas.tool_hand import ToolHand
from app.canvas.zone import ZoneHand
from app.palette import of
from app.panels.parts import shows_focus
from app.tools.corners import inserted, removed
from app.tools.hand import Hand, chosen_grip, entry_of, lying, mount_of, neighbour
from app.tools.handles import figure_under, grips
from app.type import sized
from app.words.findings_words import spare_words, wood_words
from app.words.ladder_words import lost_words
from geometry.errors import OwnerError
from templates_out.drawing.marks import Circle, Line, Mark, Path, Pen
from templates_out.views.face import face_marks
from templates_out.views.rulers import LEFT_WIDTH, TOP_HEIGHT, ruler_marks
from templates_out.views.sight import FaceSight
from templates_out.views.viewport import AIR, whole_rect, work_rect

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.sheet_set import SheetSet
    from app.sight import Sight
    from app.tools.corners import Step
    from app.tools.drag import Moved
    from app.tools.handles import Grip
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Point
    from templates_out.views.viewport import Rect, Viewport

_LEFT, _TOP = round(LEFT_WIDTH * SCREEN), round(TOP_HEIGHT * SCREEN)
_LONGEST, _OFF, _OFF_FIGURE = 400, 12, 56  # px: the longest line at the pointer, and how far above it words stand
_KEY_SHOWS = 2  # marks: the frame alone shows nothing
_KEY_FROM = 450  # px: below this height the key drawing is left out
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
        self._hand = Hand()
        self._pointer = QPointF()
        self._hover = ""
        self._figure = ""
        self._ruled: object = None  # view and units that the rulers stand for
        self._rules: tuple[tuple[Mark, ...], tuple[Mark, ...]] = (), ()
        self._rulers = Layer("card"), Layer("card")
        self._plan: SheetSet | None = None
        self._push = Push(self.push, self)
        self.tools = ToolHand(self)
        self.tools.committed.connect(self.committed)
        self.tools.looked.connect(self.looked)
        self.tools.wanted.connect(self.wanted)
        self.tools.said.connect(self.said)
        self.tools.changed.connect(self.update)
        self.zone = ZoneHand(self)
        self.zone.changed.connect(self.redraw)

    @property
    def figure(self) -> str:
        """What stands beside the pointer in a drag."""
        return self._figure

    def board(self) -> QRect:
        """Return where the drawing lies: right of one ruler and below the other."""
        return self.rect().adjusted(_LEFT, _TOP, 0, 0)

    def work(self, checked: Checked) -> Rect:
        """Return the part of the face where the work is."""
        return work_rect(checked.design) if self._plan is None else pages_rect(self._plan)

    def whole(self, checked: Checked) -> Rect:
        """Return the whole transom."""
        return whole_rect(checked.design)

    def make_marks(self, checked: Checked, view: Viewport) -> tuple[Mark, ...]:
        """Return the face as marks."""
        if self.sight.sheets:
            return without_figures(face_marks(checked, view, FaceSight(self.sight.mount)))
        return self.zone.into(face_marks(checked, view, FaceSight(self.sight.mount, self.sight.chosen, self.sight.lit)), view)

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show a checked design, and say what is chosen."""
        if sight.chosen != self.sight.chosen:
            chosen = chosen_grip(checked.design, sight.mount, sight.chosen)
            told = "" if chosen is None else f"{chosen.name} chosen"
            self.setAccessibleDescription(told)
            from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent

            if QAccessible.isActive():  # a painted canvas is mute: say it
                QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, told))
        self.zone.show(checked.design, sight)
        hung = -1 if self.checked is None else len(self.checked.design.mounts)
        lit = sight.lit if sight.lit != self.sight.lit else ""
        super().show_checked(checked, sight)
        if hung not in (-1, len(checked.design.mounts)) and not self.own:  # a new motor is shown whole
            self.refit()
        if lit and self.view is not None and self.own:
            way = way_to(checked, sight, self.view, self.marks())
            if way is not None:
                self._push.begin(way)
        self.tools.show(checked.design, sight)
        if self.tools.tool is not None:
            self.setCursor(Qt.CursorShape.CrossCursor)
        elif self.cursor().shape() == Qt.CursorShape.CrossCursor:
            self.unsetCursor()

    def show_plan(self, found: SheetSet | None) -> None:
        """Lay the page plan over the drawing, or take it off."""
        fits_anew = (self._plan is None) != (found is None)
        self._plan = found
        if fits_anew:
            self.refit()
        self.update()

    # Pointing

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Take what is under the pointer."""
        super().mousePressEvent(event)
        if self.pushing or event.button() != Qt.MouseButton.LeftButton or self.checked is None or self.view is None:
            return
        if self.sight.sheets:
            return
        if self.board().contains(event.position().toPoint()):
            at = self.paper_at(event.position())
            if self._for_the_tool(at):
                self.tools.press(self.view, at, event.modifiers())
            else:
                self._hand.press(self.checked.design, self.view, at, self.sight.mount, self.sight.chosen)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Put a corner into the edge under the pointer; with a tool in hand it is a click like any other."""
        if self.checked is None or self.view is None or event.button() != Qt.MouseButton.LeftButton or self.sight.sheets:
            return
        at = self.paper_at(event.position())
        if self._for_the_tool(at):
            self.tools.press(self.view, at, event.modifiers())
            return
        grip = lying(self.checked.design, self.view, at, self.sight.mount, self.sight.chosen)
        if grip is not None:
            self._step(lambda design: inserted(design, grip, self.view.to_boat(at), alike=self.sight.alike))  # type: ignore[union-attr]

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:  # noqa: N802 (Qt's name)
        """List what the part under the pointer offers; asked for by a key, the chosen one."""
        if self.checked is None or self.view is None or self.sight.sheets or self._hand.busy or self.tools.busy:
            return
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        at = self.paper_at(QPointF(event.pos()))
        grip = self._chosen() if by_key else lying(self.checked.design, self.view, at, self.sight.mount, self.sight.chosen)
        if grip is None:
            return
        self.looked.emit(replace(self.sight, chosen=grip.part, lit="", tool="", mount=mount_of(grip, self.sight.mount)))
        place = grip.at if by_key else self.view.to_boat(at)
        menu = part_menu(self, grip, place, alike=self.sight.alike, step=self._step,
                         figure=lambda kind: self.looked.emit(replace(self.sight, tool=kind)))  # fmt: skip
        if menu is not None:
            menu.popup(self.mapToGlobal(self.place_of(self.view.to_paper(place)).toPoint()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Drag what was taken, or light what lies under the pointer."""
        super().mouseMoveEvent(event)
        self._pointer = event.position()
        if self.pushing or self.checked is None or self.view is None or self.sight.sheets:
            return
        if self._hand.pressed is None and self._for_the_tool(self.paper_at(event.position())):
            self.tools.move(self.view, self.paper_at(event.position()), event.modifiers())
            return
        if self._hand.pressed is None:
            self._light(self.checked, self.view, event.position())
            return
        keys, at = event.modifiers(), self.paper_at(event.position())
        free, one_axis = bool(keys & Qt.KeyboardModifier.AltModifier), bool(keys & Qt.KeyboardModifier.ShiftModifier)
        moved = self._hand.move(self.checked.design, self.view, at, free=free, one_axis=one_axis, alike=self.sight.alike)
        if moved is not None:
            self._show_moved(moved)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """End a drag as one step; a click chooses."""
        super().mouseReleaseEvent(event)
        pressed = self._hand.pressed
        if event.button() != Qt.MouseButton.LeftButton or pressed is None:
            return
        drag = self._hand.let_go()
        self._figure = ""
        if drag is None and self.tools.tool is not None and self.view is not None:
            self.tools.press(self.view, pressed, event.modifiers())
        elif drag is None:
            self._click(pressed)
        elif drag.last is None or not drag.last.label:
            self.cancelled.emit()
        else:
            part = drag.grip.part if drag.grip.kind != "saddle" else f"bracket:{drag.grip.index}"
            self.committed.emit(drag.last.label, drag.last.design)
            self.looked.emit(replace(self.sight, chosen=part, mount=mount_of(drag.grip, self.sight.mount)))

    def leaveEvent(self, _event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Let go of what was lit."""
        self._set_hover("", "")

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Arrows move the chosen, Enter opens its entry, Escape drops a drag or the choice."""
        key = event.key()
        chosen = self._chosen()
        if self.tools.key(event):
            return
        if key == Qt.Key.Key_Delete and chosen is not None:
            self._step(lambda design: removed(design, chosen, alike=self.sight.alike))
        elif key == Qt.Key.Key_Escape:
            self._escape()
        elif key in _ARROWS and chosen is not None and self.checked is not None:
            times = 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
            moved = self._hand.push(self.checked.design, chosen, _ARROWS[Qt.Key(key)], times)
            if moved is not None:
                self.previewed.emit(moved.design)
                self.said.emit(moved.said or moved.figure)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and chosen is not None:
            self.wanted.emit(entry_of(chosen))
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """An arrow held down is one step, until it is let go."""
        super().keyReleaseEvent(event)
        if event.key() in _ARROWS and not event.isAutoRepeat():
            self._end_push()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """An arrow does not outlive the focus."""
        super().focusOutEvent(event)
        self._end_push()

    def focusNextPrevChild(self, forward: bool) -> bool:  # noqa: N802 (Qt's name)
        """Tab goes from part to part in the order of the card, and on from the last."""
        part = ""
        if self.tools.busy:
            self.tools.key(QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Tab, Qt.KeyboardModifier.NoModifier))
            return True
        if self.checked is not None:
            part = neighbour(self.checked.design, self.sight.mount, self.sight.chosen, forward=forward)
        if part:
            self.looked.emit(replace(self.sight, chosen=part, lit=""))
            return True
        return super().focusNextPrevChild(forward)

    # What it does

    def _chosen(self) -> Grip | None:
        return None if self.checked is None else chosen_grip(self.checked.design, self.sight.mount, self.sight.chosen)

    def _for_the_tool(self, at: Point) -> bool:
        """Tell whether a press there is the tool's: with a shape's tool in hand, its own corners and edges are the hand's."""
        if self.tools.tool is None or self.checked is None or self.view is None:
            return False
        shape = {"outline": "outline", "well": "profile"}.get(self.sight.tool)
        if shape is None or self.tools.busy:
            return True
        grip = lying(self.checked.design, self.view, at, self.sight.mount, self.sight.chosen)
        return grip is None or not grip.kind.startswith(shape)

    def _step(self, make: Callable[[Design], Step | None]) -> None:
        """Make a step of the present design, or say why there is none."""
        if self.checked is None:
            return
        try:
            step = make(self.checked.design)
        except OwnerError as sentence:
            self.said.emit(f"{sentence}. It stays as it was.")
            return
        if step is not None:
            self.committed.emit(step.label, step.design)
            self.looked.emit(replace(self.sight, chosen=step.chosen, lit=""))

    def _show_moved(self, moved: Moved) -> None:
        self.previewed.emit(moved.design)
        drag = self._hand.drag
        drops = drag is not None and drag.grip.kind in ("upper", "lower")
        lost = lost_words(moved.design, drag.grip.index) if drops and drag is not None else ""
        wood = "" if drag is None else wood_words(moved.design, drag.grip.kind, drag.grip.index)
        spare = "" if drag is not None and drag.grip.kind == "old hole" else spare_words(self.checked)
        told = moved.figure, wood, spare, lost, moved.said
        self._figure = " · ".join(word for word in told if word)
        self.said.emit(moved.said or moved.figure)
        self.update()

    def _end_push(self) -> None:
        moved = self._hand.end_push()
        if moved is not None:
            self.committed.emit(moved.label, moved.design)

    def _escape(self) -> None:
        if self._hand.busy:
            self._hand.give_up()
            self._figure = ""
            self.cancelled.emit()
        else:
            self.looked.emit(replace(self.sight, chosen="", lit=""))

    def _click(self, at: Point) -> None:
        if self.checked is None or self.view is None:
            return
        found = lying(self.checked.design, self.view, at, self.sight.mount, self.sight.chosen)
        key = figure_under(self.marks(), at)
        if key and not (found and found.kind in ("outline", "profile", "saddle", "upper", "lower")):
            self.wanted.emit(key)
            return
        part = found.part if found else ""
        mount = mount_of(found, self.sight.mount) if found else self.sight.mount
        self.looked.emit(replace(self.sight, chosen=part, lit="", mount=mount))

    def _light(self, checked: Checked, view: Viewport, place: QPointF) -> None:
        at = self.paper_at(place)
        inside = self.board().contains(place.toPoint())
        found = lying(checked.design, view, at, self.sight.mount, self.sight.chosen) if inside else None
        if found is not None:
            self._set_hover(found.part, found.name)
        else:
            self._set_hover("", "")

    def _set_hover(self, part: str, name: str) -> None:
        if part != self._hover:
            self._hover = part
            self.said.emit(name)
            self.setCursor(Qt.CursorShape.OpenHandCursor if part else Qt.CursorShape.ArrowCursor)
            self.update()

    # Painting

    def paint_over(self, painter: QPainter, board: QRect) -> None:
        """Paint what is lit, the saddle's handle, the key drawing and the live figure."""
        colours = of(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._plan is not None and self.sight.sheets and self.view is not None:
            paint_veil(painter, board, self._plan, lambda at: self.place_of(self.view.to_paper(at)), colours)  # type: ignore[union-attr]
            painter.translate(board.left(), board.top() + board.height())
            paint(painter, plan_marks(self._plan, self.view), SCREEN, colours)
            return
        painter.save()
        painter.translate(board.left(), board.top() + board.height())
        paint(painter, self._lit_marks(), SCREEN, colours)
        if self.view is not None and self.checked is not None:
            paint(painter, corner_numbers(self.checked.design, self.sight, self.view), SCREEN, colours)
            paint(painter, self.tools.marks(self.view), SCREEN, colours)
            paint(painter, self.zone.over(self.view), SCREEN, colours)
            if self.sight.ghost is not None:
                paint(painter, ghost_marks(self.checked.design, self.sight.ghost, self.view), SCREEN, colours)
        painter.restore()
        self._paint_saddle(painter)
        blank = "" if self.checked is None or self.tools.busy else blank_words(self.checked.design)
        if blank:
            place, middle = board.adjusted(0, 0, 0, -board.height() // 5), Qt.AlignmentFlag.AlignCenter
            painter.setFont(sized())
            painter.fillRect(painter.boundingRect(place, middle, blank).adjusted(-8, -4, 8, 4), colours["sheet"])
            painter.setPen(colours["soft"])
            painter.drawText(place, middle, blank)
        elif board.height() >= _KEY_FROM and self.checked is not None and self.view is not None:
            self._paint_key(painter, board, self.checked, self.view)
        self._paint_zone_key(painter, board)
        if self._figure or self.tools.note:
            self._paint_figure(painter, board, self._figure or self.tools.note)

    def _lit_marks(self) -> tuple[Mark, ...]:
        """What is under the pointer or chosen, once more in a heavier line."""
        names = {name for name in (self._hover, self.sight.chosen) if name and not self._hand.busy}
        flash, found = self.sight.flash, list[Mark]()
        for mark in self.marks() if flash else ():
            if isinstance(mark, Path | Line | Circle) and mark.pen is not None and mark.part.startswith(flash):
                names.add(mark.part)
                pen = Pen("lit", mark.pen.weight + 1.6)
                found.append(replace(mark, pen=pen) if isinstance(mark, Line) else replace(mark, pen=pen, fill=None))
        for mark in self.marks():
            if mark.part in names and isinstance(mark, Path | Line | Circle) and mark.pen is not None:
                pen = replace(mark.pen, weight=mark.pen.weight * 1.7 + 0.1)
                found.append(replace(mark, pen=pen) if isinstance(mark, Line) else replace(mark, pen=pen, fill=None))
        return tuple(found)

    def _paint_saddle(self, painter: QPainter) -> None:
        """A small handle on the saddle of the motor in hand, while the hand is near."""
        if self.checked is None or self.view is None or not (self._hover or self.sight.chosen):
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
        marks = key_marks(checked.design, view.rect)
        if len(marks) < _KEY_SHOWS or view.to_boat((wide / SCREEN + 4, high / SCREEN + 4))[1] > _lowest_work(checked):
            return
        painter.fillRect(box, of(self)["sheet"])
        painter.save()
        painter.translate(box.left(), box.top() + high)
        paint(painter, marks, SCREEN, of(self))
        painter.restore()

    def _paint_zone_key(self, painter: QPainter, board: QRect) -> None:
        found = self.zone.key(self.marks(), board.width() / SCREEN, board.height() / SCREEN)
        if found is None:
            return
        marks, (left, bottom), (wide, high) = found
        box = QRect(0, 0, round(wide * SCREEN), round(high * SCREEN))
        box.moveBottomLeft(self.place_of((left, bottom)).toPoint())
        painter.fillRect(box, of(self)["sheet"])
        painter.save()
        painter.translate(box.left(), box.top() + box.height())
        paint(painter, marks, SCREEN, of(self))
        painter.restore()

    def _paint_figure(self, painter: QPainter, board: QRect, told: str) -> None:
        font = sized(strong=True)
        metrics, colours, room = QFontMetrics(font), of(self), min(_LONGEST, board.width() - 28)
        text = metrics.boundingRect(0, 0, room, 999, Qt.TextFlag.TextWordWrap, told)
        wide, high = text.width() + 16, text.height() + 8
        off = _OFF_FIGURE if self.tools.busy else _OFF  # a typed figure stands there already
        left = min(max(round(self._pointer.x()) + 18, board.left() + 4), board.right() - wide - 4)
        top = min(max(round(self._pointer.y()) - high - off, board.top() + 4), board.bottom() - high - 4)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colours["lit"])
        painter.drawRoundedRect(QRectF(left, top, wide, high), 3, 3)
        painter.setPen(colours["ink"])
        painter.setFont(font)
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(QRect(left + 8, top, wide - 16, high), flags, told)

    def paint_round(self, painter: QPainter) -> None:
        """Paint the rulers."""
        if self.checked is None or self.view is None:
            return
        colours, board = of(self), self.board()
        painter.fillRect(QRect(0, 0, self.width(), _TOP), colours["card"])
        painter.fillRect(QRect(0, 0, _LEFT, self.height()), colours["card"])
        asked = self.view, self.checked.design.units
        if asked != self._ruled:
            self._ruled, self._rules = asked, (ruler_marks(*asked, "top"), ruler_marks(*asked, "left"))
        strips = QRect(_LEFT, 0, board.width(), _TOP), QRect(0, board.top(), _LEFT, board.height())
        for layer, strip, marks in zip(self._rulers, strips, self._rules, strict=True):
            layer.draw(painter, strip, marks, colours)
        painter.fillRect(QRect(_LEFT - 1, _TOP - 1, board.width() + 1, 1), colours["rule"])
        painter.fillRect(QRect(_LEFT - 1, _TOP - 1, 1, board.height() + 1), colours["rule"])
        if shows_focus(self) and not self.sight.chosen:
            painter.setPen(QPen(colours["new"], 2))
            painter.drawRect(QRectF(board).adjusted(1, 1, -1, -1))


def _lowest_work(checked: Checked) -> float:
    return work_rect(checked.design)[1] + AIR - 15.0
