"""The view of the cut: fore and aft through one side's bolts, seen from starboard, with its head and the detail ring."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.canvas.detail_ring import DetailRing
from app.canvas.drawing import Drawing
from app.canvas.face_overlays import lit_marks
from app.canvas.pen import paint_in
from app.canvas.port_or_starboard_first import tightest_side
from app.tools.handles import figure_under
from app.ui.basic_widgets import Button, ground, shows_focus, wide, words
from app.ui.palette import of
from app.ui.throttle import button_is_held
from app.ui.tool_button import ToolButton
from app.ui.typography import sized
from geometry.readings.measures import name_of
from geometry.solving.solved import solved
from templates_out.views.cut import Side, bolts_of, cut_marks, cut_rect, cut_title, plane_of
from templates_out.views.lit_parts import has_figure, lit_parts
from templates_out.views.motor_sweep import is_shown, sweep_rect
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import union

if TYPE_CHECKING:
    from app.canvas.drilling_way_text import OtherWay
    from app.canvas.isometric_canvas import IsometricCanvas
    from app.document.view_state import ViewState
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from geometry.solid.placed_bolts import Bolt
    from templates_out.drawing.marks import Mark
    from templates_out.views.cut_plane import Plane
    from templates_out.views.viewport import Rect, Viewport

HEAD = 30
_ROOMY = 430  # px: the head's width from which its buttons have icons


class CutCanvas(Drawing):
    """The drawing of the cut. It takes the face's scale where that fits, so that a washer has one size in both.

    Signals:
        wanted: key of a clicked dimension.
    """

    wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.side: Side = "starboard"
        self._face_scale = 0.0
        self._alone = False
        self._work: tuple[tuple[Checked, Side, int], Rect] | None = None  # each new size asks for it again
        self.other: Design | None = None
        self.ring = DetailRing(self, self)
        self._figure_places: dict[str, int] = {}  # places of the figures: during a drag they stay there while they can
        self._swept = False  # whether the motor's sweep is shown, which takes a wider view
        self._hover = ""  # key of the dimension under the pointer
        self.setAccessibleName("Cut through the transom, seen from starboard")

    @property
    def dragging(self) -> bool:
        """Whether a button is held: a hand may be dragging a part of the face."""
        return button_is_held()

    @property
    def bare(self) -> bool:
        """Whether nothing over the sheet moves with the design: the ring asks for its own painting."""
        return True

    def work(self, checked: Checked) -> Rect:
        """Return the part of the cut where the work is."""
        asked = checked, self.side, self.view_state.mount
        if self._work is None or self._work[0][0] is not checked or self._work[0][1:] != asked[1:]:
            self._work = asked, cut_rect(checked.design, self.side, self.view_state.mount)
        swept = sweep_rect(checked.design, self.cut_focus)
        return self._work[1] if swept is None else union(self._work[1], swept)

    def whole(self, checked: Checked) -> Rect:
        """Return the same part with more around it."""
        left, bottom, right, top = self.work(checked)
        return left - 100.0, bottom - 100.0, right + 300.0, top + 100.0

    def make_marks(self, checked: Checked, view: Viewport) -> tuple[Mark, ...]:
        """Return the marks of the cut, without the ring."""
        taken = self.ring.place()
        if not button_is_held():
            self._figure_places.clear()
        marks = cut_marks(
            checked, view, self.side, self.view_state.mount, self.cut_focus, keep_free=taken, over=self.ring.marks(),
            kept_places=self._figure_places,
        )  # fmt: skip
        return (*marks, *self._ghost(checked, view, taken))

    def marks(self) -> tuple[Mark, ...]:
        """Return the marks that are drawn now, the ring over the cut."""
        return (*self.sheet_marks(), *self.ring.marks())

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show a checked design. The ring may follow a little later."""
        self.ring.follow(checked)
        before = self.view is not None and self._swept
        super().show_checked(checked, view_state)
        self._swept = is_shown(checked.design, self.cut_focus)
        if self._swept != before and self.view is not None and not self.own:
            self.refit()

    def relayout(self) -> None:
        """Choose the figures' places and the ring's scale again after a cancelled drag, also while a button is held."""
        if button_is_held():
            self._figure_places.clear()
            self.ring.relayout()
            self.redraw()

    @property
    def cut_focus(self) -> ViewFocus:
        """The motor, part and dimension in focus."""
        return ViewFocus(self.view_state.mount, self.view_state.chosen, self.view_state.lit)

    def plane(self, checked: Checked) -> Plane:
        """Return the plane of a design's cut."""
        upper = self.view_state.chosen.startswith("upper")
        return plane_of(solved(checked.design), self.side, self.view_state.mount, upper=upper)

    def pair(self, checked: Checked) -> tuple[Bolt, ...]:
        """Return the bolts that the cut goes through."""
        return bolts_of(solved(checked.design), self.side, self.view_state.mount)

    def _ghost(self, checked: Checked, view: Viewport, taken: Rect | None) -> tuple[Mark, ...]:
        if self.other is None:
            return ()
        from templates_out.views.cut_ghost import ghost_marks

        return ghost_marks(checked, view, self.side, self.view_state.mount, self.other, taken)

    def ghost(self) -> tuple[Mark, ...]:
        """Return the ghost of the design under pointer or focus: a rung, a fit, a cure."""
        if self.view_state.ghost is None or self.checked is None or self.view is None:
            return ()
        from app.canvas.ghost_overlay import cut_ghost

        return cut_ghost(
            self.checked, self.view_state.ghost, self.view, self.side, self.view_state.mount, self.ring.place()
        )  # fmt: skip

    def lit(self) -> tuple[Mark, ...]:
        """Return the parts that the entry with the focus is about; none where its dimension is lit."""
        key, marks = self.view_state.lit, self.sheet_marks()
        if self.checked is None or not key or has_figure(marks, key):
            return ()
        return lit_marks(marks, (), (), lit_parts(self.checked.design, key))

    def match(self, scale: float) -> None:
        """Take the face's scale, if the work still fits and nobody has zoomed here."""
        self._face_scale = scale
        if not self.own:
            self.refit()

    def stand_alone(self, alone: bool, _part: str) -> None:
        """Keep a separate scale where no face is next to it."""
        self._alone = alone
        if not self.own:
            self.refit()

    def refit(self) -> None:
        """Show the work, at the face's scale where it fits."""
        super().refit()
        if self.view is None or self.checked is None:
            return
        next_to = 0.0 if self._alone else self._face_scale
        view = self.view.at_scale(min(next_to or self.view.scale, self.view.scale))
        left, bottom, _, top = self.work(self.checked)
        spare = view.height / view.scale - (top - bottom)
        self._set(replace(view, left=left, bottom=bottom - spare / 2))  # the edge is aft, so that the ring is forward of it

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Push; else say which dimension is under the pointer."""
        super().mouseMoveEvent(event)
        key = "" if self.pushing else self._figure_at(event.position())
        if key != self._hover and not self.pushing:
            self._hover = key
            self.setCursor(Qt.CursorShape.PointingHandCursor if key else Qt.CursorShape.ArrowCursor)
            self.said.emit(f"Dimension: {name_of(self.checked.design, key)}" if key and self.checked is not None else "")

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """A click on a dimension goes to its entry."""
        pushed = self.pushing
        super().mouseReleaseEvent(event)
        if event.button() == Qt.MouseButton.LeftButton and not pushed and (key := self._figure_at(event.position())):
            self.wanted.emit(key)

    def leaveEvent(self, _event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Forget the dimension under the pointer."""
        self._hover = ""

    def _figure_at(self, place: QPointF) -> str:
        """Return the key of the dimension whose figure is at a place in the widget; the ring hides what is under it."""
        at, ring = self.paper_at(place), self.ring.place()
        if ring is not None and ring[0] <= at[0] <= ring[2] and ring[1] <= at[1] <= ring[3]:
            return ""
        return figure_under(self.sheet_marks(), at)

    def paint_over(self, painter: QPainter, board: QRect) -> None:
        """Paint the lit parts, the ghost of another place, the ring, and the frame of the focus."""
        paint_in(painter, board, self.lit(), of(self))
        paint_in(painter, board, self.ghost(), of(self))
        self.ring.paint(painter, board, self.colours)
        if shows_focus(self):
            painter.setPen(QPen(of(self)["new"], 2))
            painter.drawRect(QRectF(board).adjusted(1, 1, -1, -1))


class CutView(QWidget):
    """The cut under its head. The head names the bolts, and changes to the other side.

    Signals:
        view_changed: a view state that shows or hides the other way to drill, or the isometric picture.
        committed: (label, design) of that way.
    """

    view_changed = Signal(object)
    committed = Signal(str, object)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "sheet")
        self._chosen_side: Side | None = None
        self._shown: tuple[Checked, ViewState] | None = None
        self._sure: Checked | None = None  # with its chances
        self.canvas = CutCanvas()
        self.head = _Title()
        self.head.clicked.connect(self.step)
        row = QHBoxLayout()
        row.setContentsMargins(4, 0, 8, 0)
        row.addWidget(self.head)
        row.addStretch(1)
        self.switch = ToolButton("Square or level", "drill", "Show the other way to drill, and how far the exits move")
        self.switch.clicked.connect(self._switch)
        self.in_space = ToolButton("Picture", "isometric", "Show the boat in space, as an isometric picture that you can turn")
        self.in_space.clicked.connect(self._show_in_space)
        row.addWidget(self.switch)
        row.addWidget(self.in_space)
        self.bar = OtherWayLine()
        self.bar.drill.clicked.connect(self._drill)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.bar)
        column.addWidget(self.canvas, 1)
        self._row, self._column = row, column
        self._isometric: IsometricCanvas | None = None

    @property
    def isometric(self) -> IsometricCanvas | None:
        """The isometric picture; None before it is first wanted."""
        return self._isometric

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show a checked design: the side that the person set, else the chosen part's side, else the tightest one.

        While a button is held the side stays, so that the cut does not jump under a drag.
        """
        if self._sure is not None and self._sure.design is checked.design:
            checked = self._sure
        self._shown = checked, view_state
        chosen = view_state.chosen
        named: Side | None = "port" if " port " in chosen else "starboard" if " starboard " in chosen else None
        tightest = self.canvas.side if self.canvas.view is not None and button_is_held() else tightest_side(checked)
        side = self._chosen_side or named or tightest
        changed = side != self.canvas.side
        self.canvas.side = side
        if changed:
            self.canvas.redraw()
        mounts = checked.design.mounts
        bolted = view_state.mount < len(mounts) and mounts[view_state.mount].bracket.rows is not None
        self._show_picture(checked, shown=view_state.isometric)
        self.head.show_title("Isometric picture" if view_state.isometric else cut_title(side, bolted=bolted))
        self.head.setEnabled(not view_state.isometric)
        self.switch.setVisible(bolted and not view_state.isometric)
        self.switch.setChecked(view_state.other_way)
        other = bolted and view_state.other_way and not view_state.isometric
        other_way = _other_way(checked, view_state.mount, side) if other else None
        self.canvas.other = None if other_way is None else other_way.design
        self.bar.show_way(other_way)
        self.canvas.show_checked(checked, view_state)
        if changed and not self.canvas.own:
            self.canvas.refit()

    def show_doubts(self, checked: Checked) -> None:
        """Show how sure the places of floor and washer are, now that the chances of this design are known."""
        self._sure = checked
        if self._shown is not None and self._shown[0].design is checked.design:
            self.show_checked(*self._shown)

    def _switch(self) -> None:
        if self._shown is not None:
            view_state = self._shown[1]
            self.view_changed.emit(replace(view_state, other_way=not view_state.other_way))

    def _show_in_space(self) -> None:
        if self._shown is not None:
            view_state = self._shown[1]
            self.view_changed.emit(replace(view_state, isometric=not view_state.isometric))

    def _show_picture(self, checked: Checked, *, shown: bool) -> None:
        """Show the isometric picture in the cut's place, or the cut."""
        self.in_space.setChecked(shown)
        if shown and self._isometric is None:
            from app.canvas.isometric_canvas import IsometricCanvas  # numpy comes with it: loaded when first wanted

            self._isometric = IsometricCanvas()
            self._column.addWidget(self._isometric, 1)
        if self._isometric is not None:
            focused = self.canvas.hasFocus() or self._isometric.hasFocus()
            self._isometric.setVisible(shown)
            self.canvas.setVisible(not shown)
            if shown:
                self._isometric.show_checked(checked)
            if focused:
                self.take_focus()

    def _drill(self) -> None:
        if self.canvas.other is not None and self.bar.label:
            self.committed.emit(self.bar.label, self.canvas.other)

    def step(self) -> None:
        """Go to the other side."""
        self._chosen_side = "port" if self.canvas.side == "starboard" else "starboard"
        if self._shown is not None:
            self.show_checked(*self._shown)

    def take_focus(self) -> None:
        """Take the focus."""
        shown = self._isometric if self._isometric is not None and self._isometric.isVisibleTo(self) else self.canvas
        shown.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Leave the buttons' icons out where the head is narrow, and their words where the title needs their room."""
        super().resizeEvent(event)
        margins, buttons = self._row.contentsMargins(), (self.switch, self.in_space)
        title = _room_for(cut_title("starboard", bolted=True))  # the longest: a step to the other side changes no button
        needed = margins.left() + title + sum(button.least_with_word for button in buttons) + margins.right()
        for button in buttons:
            button.show_bare(bare=self.width() < _ROOMY, tight=self.width() < _ROOMY)
            button.show_icon_alone(alone=self.width() < needed)


class OtherWayLine(QWidget):
    """A line with the other way to drill, in one sentence, and the button that sets it."""

    def __init__(self) -> None:
        super().__init__()
        ground(self, "sheet")
        self.label = ""
        self._words = words(role="soft", wrap=True)
        self._words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.drill = Button("Drill this way", high=30)
        row = QHBoxLayout(self)
        row.setContentsMargins(11, 0, 8, 4)
        row.addWidget(self._words, 1)
        row.addWidget(self.drill)
        self.hide()

    @property
    def sentence(self) -> str:
        """The sentence that it shows."""
        return self._words.text()

    def show_way(self, other_way: OtherWay | None) -> None:
        """Show the other way to drill; None hides the line."""
        self.label = "" if other_way is None else other_way.label
        self._words.setText("" if other_way is None else other_way.words)
        self.drill.setVisible(bool(self.label))
        self.drill.setAccessibleName(f"Drill this way: {self._words.text()}")
        self.setVisible(other_way is not None)


class _Title(QAbstractButton):
    """The head's title, which is a button: it changes to the other side."""

    def __init__(self) -> None:
        super().__init__()
        self.setFixedHeight(HEAD)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.setToolTip("To the other side’s bolts")

    def show_title(self, title: str) -> None:
        if title == self.text():
            return
        self.setText(title)
        self.setAccessibleName(f"{title}. Press for the other side")
        self.updateGeometry()
        self.update()

    def text_for(self, room: int) -> str:
        """Return its words, shortened to ``room`` [px]. The side is the last word to go."""
        whole = self.text()
        short = whole.replace(" through the ", ", ")
        ways = whole, short, short.removesuffix(" bolts"), short.removeprefix("Cut, ").removesuffix(" bolts").capitalize()
        return next((way for way in ways if wide(sized(strong=True), way) <= room), ways[-1])

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        return QSize(_room_for(self.text()), HEAD)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        return QSize(110, HEAD)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Left, Qt.Key.Key_Right):
            self.click()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        colours, painter = of(self), QPainter(self)
        painter.setFont(sized(strong=True))
        painter.setPen(colours["ink"])
        title = self.text_for(self.width() - 9)
        painter.drawText(self.rect().adjusted(7, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, title)
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(2, 3, -2, -3))


def _room_for(title: str) -> int:
    return wide(sized(strong=True), title) + 13


def _other_way(checked: Checked, mount: int, side: Side) -> OtherWay:
    from app.canvas.drilling_way_text import describe_other_way  # imported when it is first needed

    return describe_other_way(checked, mount, side)
