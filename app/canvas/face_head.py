"""The strip above the face: a button for each tool, or the page plan's text while the sheets are made."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.document.view_state import ViewState
from app.tools.tool import NAMES
from app.ui.basic_widgets import ground, words
from app.ui.tool_button import HIGH, ToolButton

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from app.printing.sheet_set import SheetSet
    from geometry.judge.findings import Checked

_LEFT, _GAP = 18, 2
_WORDS = {
    "outline": ("Outline", "outline", "Draw the transom’s outline"),
    "well": ("Well", "well", "Draw the well’s profile"),
    "block": ("Block", "block", "Draw a part that sticks out inside"),
    "old hole": ("Old hole", "old-hole", "Mark an existing hole"),
    "fitting": ("Fitting", "fitting", "Draw a part that sticks out outside"),
    "bracket": ("Bracket", "bracket", "Hang the bracket of the chosen motor"),
    "measure": ("Measure", "measure", "Lay a tape between two places"),
}


class FaceHead(QWidget):
    """The line above the face.

    Signals:
        view_changed: a view state with another tool in hand. taken: a tool was taken, so the face needs the focus.
    """

    view_changed = Signal(object)
    taken = Signal()

    def __init__(self) -> None:
        super().__init__()
        ground(self, "sheet")
        self.setFixedHeight(HIGH)
        self.setAccessibleName("Tools")
        self._view_state = ViewState()
        self._shown: ViewState | None = None
        self.tools = {name: ToolButton(*_WORDS[name]) for name in NAMES}
        self.alike = ToolButton("Both sides alike", "", "Whether port and starboard change together")
        self.alike.clicked.connect(lambda: self.view_changed.emit(replace(self._view_state, alike=not self.alike.isChecked())))
        self.zone = ToolButton("Zone", "zone", "Show where holes may be drilled")
        self.zone.clicked.connect(lambda: self.view_changed.emit(replace(self._view_state, zone=not self._view_state.zone)))
        self._plan = words(strong=True)
        self._plan.hide()
        for name, button in self.tools.items():
            button.setParent(self)
            button.clicked.connect(lambda _on=False, name=name: self._take(name))
        self.zone.setParent(self)  # after the tools, for the order of Tab
        self.alike.setParent(self)
        self._plan.setParent(self)
        self.setMinimumWidth(_LEFT + 140)
        self.alike.hide()

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show which tool is in hand. During a drag only the switch *Both sides alike* may change."""
        shape = view_state.tool if view_state.tool in ("outline", "well") else view_state.chosen
        shaping = shape in ("outline", "well") or " corner " in shape or " edge " in shape
        if shaping:
            from app.tools.corners import sides_alike  # this import waits for the first move

            self.alike.setChecked(sides_alike(checked.design, shape, view_state.alike))
        if view_state == self._shown:
            return
        self._view_state = self._shown = view_state
        for name, button in self.tools.items():
            button.setChecked(view_state.tool == name)
            button.setVisible(not view_state.sheets)
        self.zone.setChecked(view_state.zone)
        self.zone.setVisible(not view_state.sheets)
        self.alike.setVisible(shaping and not view_state.sheets)
        self._plan.setVisible(view_state.sheets)
        self._fit()

    def show_plan(self, sheets: SheetSet | None) -> None:
        """Show the layout of the pages."""
        from app.printing.sheet_set import plan_words

        self._plan.setText("" if sheets is None else plan_words(sheets.plan))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Leave the icons out where only the words have room."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Set the words in a row, or in two rows where one is too long even without icons."""
        shown = [button for button in (*self.tools.values(), self.zone, self.alike) if not button.isHidden()]
        for bare, tight in ((False, False), (False, True), (True, False), (True, True)):
            for button in shown:
                button.show_bare(bare=bare, tight=tight)
            if sum(button.sizeHint().width() + _GAP for button in shown) + _LEFT <= self.width():
                break
        x, y = _LEFT, 0
        for button in shown:
            size = button.sizeHint()
            if x > _LEFT and x + size.width() > self.width():
                x, y = _LEFT, y + HIGH
            if button is self.alike and y == 0:
                x = max(x, self.width() - size.width() - 8)
            button.setGeometry(x, y, size.width(), HIGH)
            x += size.width() + _GAP
        self._plan.setGeometry(_LEFT + 6, 0, self.width() - _LEFT - 6, HIGH)
        if self.height() != y + HIGH:
            self.setFixedHeight(y + HIGH)

    def _take(self, name: str) -> None:
        self.view_changed.emit(replace(self._view_state, tool="" if self._view_state.tool == name else name, chosen="", lit=""))
        self.taken.emit()
