"""Placements side by side, in the place of card and face: a small picture of each, and the same rows of figures below.

The cut stays in sight. It shows the ghost of the placement under pointer or focus.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.canvas.pen import SCREEN, paint
from app.document.view_state import ViewState
from app.findings.findings_text import guess_words
from app.ui.basic_widgets import Button, ScrollContent, StateMark, ThinScrollBar, ground, hairline, recolour, scrolled, words
from app.ui.deciding_modes import MOST_KEPT, with_kept, with_mode
from app.ui.link import Link
from app.ui.palette import of

if TYPE_CHECKING:
    from geometry.decide.compare import Side
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Mark
    from templates_out.views.viewport import Rect

_LOW, _HIGH, _BELOW = 130, 420, 490  # px: least and greatest height of the pictures, and of the rows below
_ROWS = 3  # the grid's first row of figures: above it are picture, title and buttons
_SMALL = 0.6  # the pictures are drawn larger and shown smaller, so that their lines are fine


class ComparePage(QWidget):
    """Up to four placements: the motor's present place, and those that are kept.

    Signals:
        committed: (label, design). view_changed: a view state.
    """

    committed = Signal(str, object)
    view_changed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setAccessibleName("Compare placements")
        self._view_state = ViewState()
        self._checked: Checked | None = None
        self.sides: tuple[Side, ...] = ()
        self.columns: tuple[_Column, ...] = ()
        self.back, self.keep = Link("Back to the drawing"), Link("Keep the present place")
        self._note, self._sources = words(role="soft", wrap=True), words(role="soft", wrap=True)
        self._sources.setContentsMargins(0, 8, 0, 0)
        self._inner = ScrollContent()
        self._grid = QGridLayout(self._inner)
        self._grid.setContentsMargins(24, 12, 24, 16)
        self._grid.setHorizontalSpacing(24)
        self._grid.setVerticalSpacing(0)
        head = QHBoxLayout()
        head.setContentsMargins(24, 12, 16, 4)
        head.addWidget(words("Compare", size="answer", strong=True))
        head.addSpacing(16)
        head.addWidget(self._note, 1)
        head.addWidget(self.keep)
        head.addWidget(self.back)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(head)
        whole.addWidget(hairline())
        area = scrolled(self._inner)
        area.setHorizontalScrollBar(ThinScrollBar(Qt.Orientation.Horizontal))  # four have no room in a narrow window
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        whole.addWidget(area, 1)
        self.back.clicked.connect(lambda: self.view_changed.emit(with_mode(self._view_state, "")))
        self.keep.clicked.connect(self._keep)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Judge the placements on the boat as it is now, and show them."""
        from app.deciding.compare_text import load_sources
        from geometry.decide.compare import placement_of, same_placement, side
        from geometry.design.validity import NonsenseError

        before, self._view_state = self._view_state, view_state
        same_places = (view_state.kept, view_state.mount) == (before.kept, before.mount)
        if self._checked is not None and checked.design is self._checked.design and same_places:
            return
        self._checked = checked
        present = placement_of(checked.design, view_state.mount)
        sides: list[Side] = []
        gone = 0
        others = (place for place in view_state.kept if place.index == view_state.mount and not same_placement(place, present))
        for placement in (present, *others):
            try:
                sides.append(side(checked.design, placement))
            except NonsenseError:
                gone += 1
        self.sides = tuple(sides)
        text = "All use the boat as it is measured now."
        if len(sides) < 2:
            text = "Only the present place is here. Keep it and change the motor’s place, or keep an offer of Find a fit."
        if gone:
            text = f"{gone} of the kept places no longer fit this bracket. {text}"
        self._note.setText(f"{text} {guess_words(checked)}".strip())
        self._sources.setText(load_sources(self.sides[0]) if self.sides else "")
        self.keep.setVisible(len(view_state.kept) < MOST_KEPT and with_kept(view_state, checked.design) != view_state)
        self._fill()

    def rest(self, view_state: ViewState) -> None:
        """Take a view state that shows the face: a ghost that goes later must not bring this page back."""
        self._view_state = view_state

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Give the pictures what room the rows leave."""
        super().resizeEvent(event)
        self._picture()

    def _picture(self) -> None:
        for column in self.columns:
            column.picture.setFixedHeight(min(_HIGH, max(_LOW, self.height() - _BELOW)))

    def take_focus(self) -> None:
        """Take the focus."""
        first = next((column.take for column in self.columns if column.take.isVisible()), self.back)
        first.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Escape goes back to the drawing."""
        if event.key() == Qt.Key.Key_Escape:
            self.view_changed.emit(with_mode(self._view_state, ""))
        else:
            super().keyPressEvent(event)

    def _fill(self) -> None:
        from app.deciding.compare_text import ROWS, column
        from templates_out.views.viewport import work_rect

        while (item := self._grid.takeAt(0)) is not None:
            gone = item.widget()
            if gone is not None and gone is not self._sources:
                gone.hide()
                gone.deleteLater()
        for row, name in enumerate(ROWS):
            label = words(name, "soft")
            label.setContentsMargins(0, 6, 0, 6)
            self._grid.addWidget(label, 2 * row + _ROWS, 0, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(hairline(), 2 * row + _ROWS + 1, 0, 1, 1 + len(self.sides))
        rects = [work_rect(side.checked.design) for side in self.sides]
        rect = (min(r[0] for r in rects), min(r[1] for r in rects), max(r[2] for r in rects), max(r[3] for r in rects))
        columns = []
        for number, side in enumerate(self.sides):
            made = _Column(side, self._view_state.mount, rect, present=number == 0)
            said = column(side)
            made.show_words(said.title, said.cells)
            made.take.clicked.connect(lambda _on=False, side=side, title=said.title: self._take(title, side))
            made.drop.clicked.connect(lambda _on=False, side=side: self._drop(side))
            self._grid.addWidget(made.picture, 0, number + 1)
            self._grid.addWidget(made.title, 1, number + 1, Qt.AlignmentFlag.AlignTop)
            for row, cell in enumerate(made.cells):
                self._grid.addWidget(cell, 2 * row + _ROWS, number + 1, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(made.buttons, 2, number + 1, Qt.AlignmentFlag.AlignTop)
            for part in made.parts:
                part.installEventFilter(self)
            columns.append(made)
        self.columns = tuple(columns)
        self._picture()
        for number in range(1, 5):
            self._grid.setColumnStretch(number, 1 if number <= max(3, len(columns)) else 0)
        self._grid.addWidget(self._sources, 2 * len(ROWS) + _ROWS, 0, 1, 5)
        self._grid.setRowStretch(2 * len(ROWS) + _ROWS + 1, 1)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        """Show the ghost of the placement that pointer or focus is on."""
        if event.type() in (QEvent.Type.Enter, QEvent.Type.FocusIn):
            self._hint(next((column for column in self.columns if watched in column.parts), None))
        elif event.type() == QEvent.Type.FocusOut:
            self._hint(None)
        return super().eventFilter(watched, event)

    def leaveEvent(self, _event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Show no ghost once the pointer is elsewhere."""
        self._hint(None)

    def _hint(self, column: _Column | None) -> None:
        ghost = None if column is None or column.present else column.design
        if ghost is not self._view_state.ghost:
            self.view_changed.emit(replace(self._view_state, ghost=ghost))

    def _keep(self) -> None:
        if self._checked is not None:
            self.view_changed.emit(with_kept(self._view_state, self._checked.design))

    def _take(self, title: str, side: Side) -> None:
        from geometry.decide.compare import with_placement

        if self._checked is None:
            return
        view_state = replace(with_kept(self._view_state, self._checked.design), ghost=None)
        design = self._checked.design
        self.view_changed.emit(view_state)  # the present place stays in view
        self.committed.emit(f"{title}, from the comparison", with_placement(design, side.placement))

    def _drop(self, side: Side) -> None:
        kept = tuple(placement for placement in self._view_state.kept if placement != side.placement)
        self.view_changed.emit(replace(self._view_state, kept=kept))


class _Column:
    """One placement's parts, to be laid in the grid."""

    def __init__(self, side: Side, mount: int, rect: Rect, *, present: bool) -> None:
        self.picture = _Picture(side.checked, mount, rect)
        self.present, self.design = present, side.checked.design
        self.title = words(size="section", strong=True, wrap=True)
        self.title.setContentsMargins(0, 8, 0, 2)
        self.mark = StateMark()
        self.mark.show_state(side.state)
        self.cells: tuple[QWidget, ...] = ()
        self.texts: tuple[str, ...] = ()
        self.take, self.drop = Button("Use this place", high=30), Link("Remove")
        self.buttons = QWidget()
        column = QVBoxLayout(self.buttons)
        column.setContentsMargins(0, 4, 0, 8)
        column.setSpacing(2)
        column.addWidget(self.take)
        column.addWidget(self.drop, 0, Qt.AlignmentFlag.AlignLeft)
        self.take.setVisible(not present)
        self.drop.setVisible(not present)
        self._state = side.state

    @property
    def parts(self) -> tuple[QWidget, ...]:
        """Its parts in the grid, and its buttons."""
        return self.picture, self.title, *self.cells, self.buttons, self.take, self.drop

    def show_words(self, title: str, cells: tuple[str, ...]) -> None:
        self.title.setText(f"{title}\nas it is now" if self.present else title)
        self.texts = cells
        self.take.setAccessibleName(f"Use this place: {title}")
        self.drop.setAccessibleName(f"Remove {title}")
        self.picture.setAccessibleName(f"Picture of {title}")
        made: list[QWidget] = []
        for number, text in enumerate(cells):
            label: QLabel = words(text, wrap=True)
            label.setContentsMargins(0, 6, 0, 6)
            if number:
                made.append(label)
                continue
            if self._state == "fouled":
                recolour(label, "fouled")
            whole = QWidget()
            row = QHBoxLayout(whole)
            row.setContentsMargins(0, 0, 0, 0)
            row.setSpacing(6)
            row.addWidget(self.mark)
            row.addWidget(label, 1)
            made.append(whole)
        self.cells = tuple(made)


class _Picture(QWidget):
    """One placement in small."""

    def __init__(self, checked: Checked, mount: int, rect: Rect) -> None:
        super().__init__()
        ground(self, "sheet")
        self._checked, self._mount, self._rect = checked, mount, rect
        self._kept: tuple[QSize, tuple[Mark, ...]] | None = None
        self.setFixedHeight(_LOW)
        self.setMinimumWidth(150)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        return QSize(260, self.height())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        from templates_out.pictures.thumbnails import placement_marks

        small = SCREEN * _SMALL
        if self._kept is None or self._kept[0] != self.size():
            size = self.width() / small, self.height() / small
            self._kept = self.size(), placement_marks(self._checked, self._mount, self._rect, *size)
        painter = QPainter(self)
        painter.setClipRect(QRect(0, 0, self.width(), self.height()))
        painter.translate(0, self.height())
        paint(painter, self._kept[1], small, of(self))
