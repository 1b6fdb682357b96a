"""Draws the face of the transom, seen from astern: the drawing, marks over it, and the rulers around it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QRegion

from app.canvas.drawing import Drawing
from app.canvas.face_overlays import (
    figure_box,
    lit_marks,
    paint_blank,
    paint_figure,
    paint_handle,
    paint_key,
    paint_zone_key,
)
from app.canvas.face_words import blank_words, corner_numbers
from app.canvas.pan_to_lit import PanAnimation, way_to
from app.canvas.pen import SCREEN, paint_in
from app.canvas.ruler_strips import LEFT, TOP, Rulers
from app.canvas.tool_controller import ToolController
from app.canvas.zone_overlay import ZoneOverlay
from app.tools.handles import CORNERS, grips
from app.tools.pointer_tool import PointerTool, chosen_grip
from app.ui.basic_widgets import shows_focus
from app.ui.palette import of
from templates_out.views.face import face_marks
from templates_out.views.lit_parts import has_figure, lit_parts
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import whole_rect, work_rect

if TYPE_CHECKING:
    from app.document.view_state import ViewState
    from app.printing.sheet_set import SheetSet
    from app.tools.handles import Grip
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Mark
    from templates_out.views.viewport import Rect, Viewport


class FaceDrawing(Drawing):
    """The drawing of the face. `FaceCanvas` adds mouse and keyboard.

    Attributes:
        tools: the tool in hand. zone: the drillable zone.
    """

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Face of the transom, seen from astern")
        self._hand = PointerTool()
        self._pointer = QPointF()
        self._entered: Qt.FocusReason | None = None  # the Tab that brought the focus, until another event
        self._hover = ""
        self._figure = ""
        self._label = QRect()  # where the figure next to the pointer was painted
        self._rulers = Rulers()
        self._plan: SheetSet | None = None
        self._rested: Design | None = None  # the part that the key drawing shows: it waits for the end of a drag
        self._figure_places: dict[str, int] = {}  # places of the figures: during a drag they stay there while they can
        self._push = PanAnimation(self.push, self)
        self.tools = ToolController(self)
        self.tools.changed.connect(self.update)
        self.zone = ZoneOverlay(self)
        self.zone.changed.connect(self.redraw)

    @property
    def figure(self) -> str:
        """The text next to the pointer in a drag."""
        return self._figure

    def board(self) -> QRect:
        """Return the area of the drawing: right of one ruler and below the other."""
        return self.rect().adjusted(LEFT, TOP, 0, 0)

    def work(self, checked: Checked) -> Rect:
        """Return the part of the face where the work is."""
        if self._plan is None:
            return work_rect(checked.design)
        from app.canvas.page_plan import pages_rect  # imported with the sheets

        return pages_rect(self._plan)

    def whole(self, checked: Checked) -> Rect:
        """Return the whole transom."""
        return whole_rect(checked.design)

    def make_marks(self, checked: Checked, view: Viewport) -> tuple[Mark, ...]:
        """Return the face as marks."""
        if self.view_state.sheets:
            from app.canvas.page_plan import without_figures

            return without_figures(face_marks(checked, view, ViewFocus(self.view_state.mount)))
        focus = ViewFocus(self.view_state.mount, self.view_state.chosen, self.view_state.lit)
        if not self._hand.busy:
            self._figure_places.clear()
        return face_marks(checked, view, focus, under=self.zone.under(view), kept_places=self._figure_places)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show a checked design, and announce the chosen part."""
        if view_state.chosen != self.view_state.chosen:
            chosen = chosen_grip(checked.design, view_state.mount, view_state.chosen)
            announcement = "" if chosen is None else f"{chosen.name} chosen"
            self.setAccessibleDescription(announcement)
            from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent

            if QAccessible.isActive():  # a screen reader reads no painting: announce it
                QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, announcement))
        self.zone.show(checked.design, view_state)
        hung = -1 if self.checked is None else len(self.checked.design.mounts)
        lit = view_state.lit if view_state.lit != self.view_state.lit else ""
        super().show_checked(checked, view_state)
        if hung not in (-1, len(checked.design.mounts)) and not self.own:  # show all of a new motor
            self.refit()
        if lit and self.view is not None and self.own:
            way = way_to(checked, view_state, self.view, self.marks())
            if way is not None:
                self._push.begin(way)
        self.tools.show(checked.design, view_state)
        if self.tools.tool is not None:
            self.setCursor(Qt.CursorShape.CrossCursor)
        elif self.cursor().shape() == Qt.CursorShape.CrossCursor:
            self.unsetCursor()

    def lit_parts(self) -> tuple[str, ...]:
        """Return the parts that the entry with the focus is about; none where its dimension is lit."""
        key = self.view_state.lit
        return () if self.checked is None or has_figure(self.marks(), key) else lit_parts(self.checked.design, key)

    def show_plan(self, sheets: SheetSet | None) -> None:
        """Show the page plan over the drawing, or hide it."""
        fits_again = (self._plan is None) != (sheets is None)
        self._plan = sheets
        if fits_again:
            self.refit()
        self.update()

    # Painting

    @property
    def dragging(self) -> bool:
        """Whether a hand drags a part now."""
        return self._hand.busy

    @property
    def bare(self) -> bool:
        """Whether nothing is painted over the sheet that may move with the design: no tool, zone, number or handle."""
        state, checked, view = self.view_state, self.checked, self.view
        if checked is None or view is None or state.flash or state.zone or state.sheets or state.ghost is not None:
            return False
        over = self.tools.tool or corner_numbers(checked.design, state, view) or self.lit_parts()
        return not over and not self._handles(checked.design, {self._hover, state.chosen})

    def move_figure(self) -> None:
        """Paint the figure again at the pointer. All else stays."""
        now = figure_box(self.board(), self._figure, self._pointer, typing=self.tools.busy)
        self.update(QRegion(self._label) + QRegion(now.adjusted(-1, -1, 1, 1)))

    def paint_over(self, painter: QPainter, board: QRect) -> None:
        """Paint lit parts, handles, the key drawing and the live figure."""
        checked, view, colours = self.checked, self.view, of(self)
        if checked is None or view is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._plan is not None and self.view_state.sheets:
            from app.canvas.page_plan import paint_veil, plan_marks

            paint_veil(painter, board, self._plan, lambda at: self.place_of(view.to_paper(at)), colours)
            paint_in(painter, board, plan_marks(self._plan, view), colours)
            return
        hover, chosen = self._hover, self.view_state.chosen
        names = {hover, chosen} - {""} if not self._hand.busy else set()
        lit = lit_marks(self.marks(), names, self.view_state.flash, self.lit_parts())
        numbers = corner_numbers(checked.design, self.view_state, view, self.marks())
        over = numbers, self.tools.marks(view), self.zone.over(view)
        for marks in (lit, *over, self._ghost(checked, view)):
            paint_in(painter, board, marks, colours)
        for grip in self._handles(checked.design, {hover, chosen}):
            paint_handle(painter, self.place_of(view.to_paper(grip.at)), colours, full=grip.part == chosen)
        blank = "" if self.tools.busy else blank_words(checked.design)
        if blank:
            paint_blank(painter, board, blank, colours)
        else:
            if not self._hand.busy or self._rested is None:
                self._rested = checked.design
            paint_key(painter, board, self._rested, view, colours)
        key = self.zone.key(self.marks(), board.width() / SCREEN, board.height() / SCREEN)
        if key is not None:
            paint_zone_key(painter, self.place_of(key[1]), key[0], key[2], colours)
        text = self._figure or self.tools.note
        self._label = figure_box(board, text, self._pointer, typing=self.tools.busy) if text else QRect()
        if text:
            paint_figure(painter, self._label, text, colours)

    def _handles(self, design: Design, parts: set[str]) -> tuple[Grip, ...]:
        """Return the parts with a handle: corners, and the bracket hook of a bracket among ``parts``."""
        bracket = any(part.startswith(("bracket", "saddle")) for part in parts)
        if not bracket and not any(" corner " in part for part in parts):
            return ()
        return tuple(
            grip for grip in grips(design, self.view_state.mount)
            if (grip.kind == "saddle" and bracket) or (grip.part in parts and grip.kind in CORNERS)
        )  # fmt: skip

    def _ghost(self, checked: Checked, view: Viewport) -> tuple[Mark, ...]:
        if self.view_state.ghost is None:
            return ()
        from app.canvas.ghost_overlay import face_ghost

        return face_ghost(checked, self.view_state.ghost, view, self.view_state.mount)

    def paint_round(self, painter: QPainter) -> None:
        """Paint the rulers."""
        if self.checked is None or self.view is None:
            return
        colours, board = of(self), self.board()
        self._rulers.paint(painter, board, self.view, self.checked.design.units, colours)
        if shows_focus(self) and (self._entered or not self.view_state.chosen):
            painter.setPen(QPen(colours["new"], 2))
            painter.drawRect(QRectF(board).adjusted(1, 1, -1, -1))
