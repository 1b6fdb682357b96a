"""The stack in the middle of the window: the drawing, the start page, or the comparison."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from app.document.view_state import ViewState
from app.ui.deciding_modes import COMPARE, with_mode

if TYPE_CHECKING:
    from app.deciding.compare_page import ComparePage
    from geometry.judge.findings import Checked


class CentralStack(QStackedWidget):
    """The drawing, which is the first page, and the pages that take its place.

    Signals:
        committed: (label, design) of the placement that is taken. view_changed: a view state.
    """

    committed = Signal(str, object)
    view_changed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._compare: ComparePage | None = None
        self._view_state = ViewState()
        self.currentChanged.connect(self._turned)

    @property
    def compare(self) -> ComparePage | None:
        """The page with placements side by side; None before it is first needed."""
        return self._compare

    @property
    def shows_drawing(self) -> bool:
        """Whether the drawing is shown."""
        return self.currentIndex() == 0

    @property
    def shows_comparison(self) -> bool:
        """Whether placements are shown side by side."""
        return self._compare is not None and self.currentWidget() is self._compare

    def show_drawing(self) -> None:
        """Show the drawing."""
        self.setCurrentIndex(0)

    def show_page(self, board: QWidget) -> None:
        """Show another page in the drawing's place."""
        if self.indexOf(board) < 0:
            self.addWidget(board)
        self.setCurrentWidget(board)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the placements side by side where the view state asks for it. The page is made when it is first needed."""
        self._view_state = view_state
        if view_state.deciding != COMPARE or not checked.design.mounts:
            if self.shows_comparison:
                self.show_drawing()
            return
        if self._compare is None:
            from app.deciding.compare_page import ComparePage

            self._compare = ComparePage()
            self._compare.committed.connect(self.committed)
            self._compare.view_changed.connect(self.view_changed)
        self._compare.show_checked(checked, view_state)
        if not self.shows_comparison:
            self.show_page(self._compare)
            self._compare.take_focus()

    def _turned(self, _index: int) -> None:
        """Close the comparison where another page has taken its place."""
        if self._view_state.deciding == COMPARE and self._compare is not None and not self.shows_comparison:
            self.view_changed.emit(with_mode(self._view_state, ""))
