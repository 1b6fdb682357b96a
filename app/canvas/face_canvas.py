"""The face of the transom with its mouse and keyboard handling."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QMouseEvent

from app.canvas.face_drawing import FaceDrawing
from app.entries.refusals import plain_refusal as reason
from app.findings.findings_text import lost_words, spare_words, wood_words
from app.tools.pointer_tool import PickOrder, chosen_grip, entry_of, mount_of, neighbour, part_at, parts_at
from geometry.design.validity import known
from geometry.edits.moving_by_hand import MeasuredError
from geometry.errors import OwnerError
from geometry.readings.measures import measure

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document.view_state import ViewState
    from app.tools.corners import CornerEdit
    from app.tools.drag import DragResult
    from app.tools.handles import Grip
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Point

_ARROWS = {
    Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0), Qt.Key.Key_Up: (0, 1), Qt.Key.Key_Down: (0, -1),
}  # fmt: skip
_NO_SPARE = ("old hole", "fitting", "fitting corner", "bracket corner")  # no clearance depends on them
_GRABS, _LEADS = Qt.CursorShape.OpenHandCursor, Qt.CursorShape.PointingHandCursor
_ONWARD, _BACKWARD = Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason
_HELD = (Qt.Key.Key_Shift, Qt.Key.Key_Control, Qt.Key.Key_Alt, Qt.Key.Key_Meta, Qt.Key.Key_AltGr)


class FaceCanvas(FaceDrawing):
    """The face.

    Signals:
        previewed: a design during a drag. committed: (label, design) at its end. cancelled: Escape during it.
        wanted: key of a clicked dimension, or of a measured value that stopped a drag.
        shown_entry: key of an entry to show, while the focus stays here.
    """

    previewed = Signal(object)
    committed = Signal(str, object)
    cancelled = Signal()
    wanted = Signal(str)
    shown_entry = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._pointed = False  # whether the last event was the pointer's, and not a key's
        self._turn: PickOrder | None = None
        self.tools.committed.connect(self.committed)
        self.tools.view_changed.connect(self.view_changed)
        self.tools.wanted.connect(self.wanted)
        self.tools.said.connect(self.said)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show a checked design. End a drag whose part has changed."""
        if self._hand.lost(checked.design):
            self._hand.give_up()
            self._figure = ""
        super().show_checked(checked, view_state)

    # Pointing

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Take the part under the pointer."""
        super().mousePressEvent(event)
        self._pointer, self._pointed, self._entered = event.position(), True, None
        if self.pushing or event.button() != Qt.MouseButton.LeftButton or self.checked is None or self.view is None:
            return
        if self.view_state.sheets:
            return
        if self.board().contains(event.position().toPoint()):
            at = self.paper_at(event.position())
            if self._for_the_tool(at):
                self.tools.press(self.view, at, event.modifiers())
            else:
                self._hand.press(at, self._under(at))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Add a corner to the edge under the pointer. With a tool in hand it is an ordinary click."""
        if self.checked is None or self.view is None or event.button() != Qt.MouseButton.LeftButton or self.view_state.sheets:
            return
        at = self.paper_at(event.position())
        if self._for_the_tool(at):
            self.tools.press(self.view, at, event.modifiers())
            return
        grip = self._part_under(at)
        if grip is not None:
            from app.tools.corners import inserted

            self._step(lambda design: inserted(design, grip, self.view.to_boat(at), alike=self.view_state.alike))  # type: ignore[union-attr]

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:  # noqa: N802 (Qt's name)
        """Open the menu of the part under the pointer, or by a key of the chosen part."""
        if self.checked is None or self.view is None or self.view_state.sheets or self._hand.busy or self.tools.busy:
            return
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        at = self.paper_at(QPointF(event.pos()))
        grip = self._chosen() if by_key else self._under(at)
        if grip is None:
            return
        mount = mount_of(grip, self.view_state.mount)
        chosen = "" if grip.kind == "dimension" else grip.part
        self.view_changed.emit(replace(self.view_state, chosen=chosen, lit="", tool="", mount=mount))
        place = grip.at if by_key else self.view.to_boat(at)
        from app.canvas.part_menu import part_menu

        menu = part_menu(
            self, self.checked.design, grip, place, alike=self.view_state.alike, step=self._step, wanted=self.wanted.emit,
            figure=lambda kind: self.view_changed.emit(replace(self.view_state, tool=kind)),
            zone=lambda: self.view_changed.emit(replace(self.view_state, zone=not self.view_state.zone)),
        )  # fmt: skip
        if menu is not None:
            menu.popup(self.mapToGlobal(self.place_of(self.view.to_paper(place)).toPoint()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Drag the taken part, or light the part under the pointer."""
        super().mouseMoveEvent(event)
        self._pointer, self._pointed = event.position(), True
        if self.pushing or self.checked is None or self.view is None or self.view_state.sheets:
            return
        if self._hand.pressed is None and self._for_the_tool(self.paper_at(event.position())):
            self.tools.move(self.view, self.paper_at(event.position()), event.modifiers())
            return
        if self._hand.pressed is None:
            self._light(event.position())
            return
        keys, at = event.modifiers(), self.paper_at(event.position())
        free, one_axis = bool(keys & Qt.KeyboardModifier.AltModifier), bool(keys & Qt.KeyboardModifier.ShiftModifier)
        moved = self._hand.move(self.checked.design, self.view, at, free=free, one_axis=one_axis, alike=self.view_state.alike)
        if moved is not None:
            self._show_moved(moved)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """End a drag as one step, or choose the clicked part."""
        super().mouseReleaseEvent(event)
        pressed = self._hand.pressed
        if event.button() != Qt.MouseButton.LeftButton or pressed is None:
            return
        taken, drag = self._hand.taken, self._hand.let_go()
        self._figure, self._turn = "", None
        if drag is None and taken is None and self.checked is not None and not known(self.checked.design.transom.outline):
            # The blank sheet asks for a click, also once the tool was put down.
            self.view_changed.emit(replace(self.view_state, tool="outline"))
        if drag is None and self.tools.tool is not None and self.view is not None:
            self.tools.press(self.view, pressed, event.modifiers())
        elif drag is None:
            self._click(taken)
        elif drag.last is None or not drag.last.label:
            self.cancelled.emit()
        else:
            part = drag.grip.part if drag.grip.kind != "saddle" else f"bracket:{drag.grip.index}"
            self.committed.emit(drag.last.label, drag.last.design)
            self.view_changed.emit(replace(self.view_state, chosen=part, mount=mount_of(drag.grip, self.view_state.mount)))
        if self.tools.tool is None:
            self._light(event.position())
        if drag is not None and drag.last is not None and drag.last.entry:
            self._to_entry(drag.last)

    def leaveEvent(self, _event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Unlight the part."""
        self._pointed, self._turn = False, None
        self._set_hover("", "")

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Move the chosen part by arrows, open its entry by Enter, drop a drag or the choice by Escape."""
        key = event.key()
        chosen = self._chosen()
        self._pointed = self._pointed and key in _HELD
        self._entered = self._entered if key in _HELD else None
        if self.tools.key(event):
            return
        if key == Qt.Key.Key_Delete and chosen is not None:
            from app.tools.corners import removed

            self._step(lambda design: removed(design, chosen, alike=self.view_state.alike))
        elif key == Qt.Key.Key_Escape:
            self._escape()
        elif key in _ARROWS and chosen is not None and self.checked is not None:
            times = 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
            moved = self._hand.push(self.checked.design, chosen, _ARROWS[Qt.Key(key)], times, alike=self.view_state.alike)
            if moved is not None:
                self.previewed.emit(moved.design)
                self._show_entry(moved.entry)
                self.said.emit(moved.said or moved.figure)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and chosen is not None:
            self._open(chosen)
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """End a move by a held arrow as one step."""
        super().keyReleaseEvent(event)
        if event.key() in _ARROWS and not event.isAutoRepeat():
            self._end_push()

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """Ignore the part under a resting pointer when the focus comes by a key."""
        super().focusInEvent(event)
        self._pointed = self._pointed and event.reason() == Qt.FocusReason.MouseFocusReason
        self._entered = event.reason() if event.reason() in (_ONWARD, _BACKWARD) else None

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """End a move by a held arrow when the focus goes."""
        super().focusOutEvent(event)
        self._end_push()

    def focusNextPrevChild(self, forward: bool) -> bool:  # noqa: N802 (Qt's name)
        """Go by Tab to the next part under the pointer, else from part to part in the card's order, then out of the face.

        Each time the focus comes in, the order begins again. Turned around at once, it goes back where it came from.
        """
        part, entered = "", self._entered
        if self.tools.busy:
            self.tools.key(QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Tab, Qt.KeyboardModifier.NoModifier))
            return True
        if self._turned(forward=forward):
            return True
        self._entered = None
        if self.checked is not None and entered in (None, _ONWARD if forward else _BACKWARD):
            before = "" if entered else self.view_state.chosen
            part = neighbour(self.checked.design, self.view_state.mount, before, forward=forward)
        if part:
            self.view_changed.emit(replace(self.view_state, chosen=part, lit=""))
            return True
        return super().focusNextPrevChild(forward)

    # Edits

    def _chosen(self) -> Grip | None:
        return None if self.checked is None else chosen_grip(self.checked.design, self.view_state.mount, self.view_state.chosen)

    def _turned(self, *, forward: bool) -> bool:
        """Go to the next part under the pointer, if the person pointed there and parts are left."""
        if not self._pointed or self.tools.tool is not None or self._hand.pressed is not None or self.view_state.sheets:
            return False
        if self._turn is None:
            parts, at = self._pile(self._pointer), self.paper_at(self._pointer)
            self._turn = PickOrder(parts, at).on(forward=forward) if parts else None
        else:
            self._turn = self._turn.on(forward=forward)
        self._pointed = self._turn is not None
        self._light(self._pointer)
        return self._pointed

    def _pile(self, place: QPointF) -> tuple[Grip, ...]:
        """Return the parts under a place in the widget, in the order in which a press takes them."""
        if self.checked is None or self.view is None or not self.board().contains(place.toPoint()):
            return ()
        view_state = self.view_state
        return parts_at(self.checked.design, self.view, self.paper_at(place), view_state.mount, view_state.chosen, self.marks())

    def _under(self, at: Point) -> Grip | None:
        """Return the part that a press at a place on paper takes."""
        if self._turn is not None and self._turn.holds(at):
            return self._turn.top
        return next(iter(self._pile(self.place_of(at))), None)

    def _part_under(self, at: Point) -> Grip | None:
        """Return the part there that can be edited."""
        part = self._under(at)
        if part is None or part.kind != "dimension" or self.checked is None or self.view is None:
            return part
        return part_at(self.checked.design, self.view, at, self.view_state.mount, self.view_state.chosen)

    def _for_the_tool(self, at: Point) -> bool:
        """Return whether a press there is the tool's. With a shape's tool in hand, that shape's corners and edges are not."""
        if self.tools.tool is None or self.checked is None or self.view is None:
            return False
        shape = {"outline": "outline", "well": "profile"}.get(self.view_state.tool)
        if shape is None or self.tools.busy:
            return True
        grip = part_at(self.checked.design, self.view, at, self.view_state.mount, self.view_state.chosen)
        return grip is None or not grip.kind.startswith(shape)

    def _step(self, make: Callable[[Design], CornerEdit | None]) -> None:
        """Make a step of the present design, or say why that is impossible."""
        if self.checked is None:
            return
        try:
            step = make(self.checked.design)
        except MeasuredError as measured:
            self._show_entry(measured.key)
            self.said.emit(str(measured))
            return
        except OwnerError as sentence:
            self.said.emit(f"{reason(sentence).rstrip('.')}. It stays as it was.")
            return
        if step is not None:
            self.committed.emit(step.label, step.design)
            self.view_changed.emit(replace(self.view_state, chosen=step.chosen, lit=""))

    def _show_moved(self, moved: DragResult) -> None:
        self.previewed.emit(moved.design)
        drag = self._hand.drag
        drops = drag is not None and drag.grip.kind in ("upper", "lower")
        lost = lost_words(moved.design, drag.grip.index) if drops and drag is not None else ""
        wood = "" if drag is None else wood_words(moved.design, drag.grip.kind, drag.grip.index)
        spare = "" if drag is not None and drag.grip.kind in _NO_SPARE else spare_words(self.checked)
        texts = (moved.figure, wood, spare, lost, moved.said) if moved.label else (moved.said,)
        self._figure = " · ".join(word for word in texts if word)
        self._show_entry(moved.entry)
        self.said.emit(moved.said or moved.figure)
        self.move_figure()

    def _show_entry(self, key: str) -> None:
        """Light the entry of a measured value that can't be dragged. A shape has no entry."""
        if key and key != self.view_state.lit and self._typed_on_the_card(key):
            self.shown_entry.emit(key)

    def _to_entry(self, stopped: DragResult) -> None:
        """Move the focus to the entry of the part that a drag could not move, once the button is released."""
        if self._typed_on_the_card(stopped.entry):
            self.wanted.emit(stopped.entry)
        self.said.emit(stopped.said)

    def _typed_on_the_card(self, key: str) -> bool:
        entry = None if self.checked is None else measure(self.checked.design, key)
        return entry is not None and entry.kind != "shape"

    def _open(self, chosen: Grip) -> None:
        """Go to a part's entry. An edge's length is typed on the face. A fitting has no entry."""
        entry = entry_of(chosen)
        if entry:
            self.wanted.emit(entry)
        elif chosen.kind.endswith(" edge"):
            self.view_changed.emit(replace(self.view_state, tool="length"))

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
            self.view_changed.emit(replace(self.view_state, chosen="", lit=""))

    def _click(self, grip: Grip | None) -> None:
        if grip is not None and grip.kind == "dimension":
            self.wanted.emit(entry_of(grip))
            return
        part = grip.part if grip else ""
        mount = mount_of(grip, self.view_state.mount) if grip else self.view_state.mount
        self.view_changed.emit(replace(self.view_state, chosen=part, lit="", mount=mount))

    def _light(self, place: QPointF) -> None:
        at = self.paper_at(place)
        if self._turn is not None and not self._turn.holds(at):
            self._turn = None
        grip = self._under(at)
        if grip is None:
            self._set_hover("", "")
        else:
            self._set_hover(grip.part, grip.name, _LEADS if grip.kind == "dimension" else _GRABS)

    def _set_hover(self, part: str, name: str, shape: Qt.CursorShape = Qt.CursorShape.ArrowCursor) -> None:
        if part != self._hover:
            self._hover = part
            self.said.emit(name)
            self.setCursor(shape)
            self.update()
