"""The face, or in its place and the card's the placements side by side. Cut and findings stay in sight next to them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal

from app.ui.basic_widgets import FittedStack
from app.ui.deciding_modes import COMPARE

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from app.deciding.compare_page import ComparePage
    from app.document.view_state import ViewState
    from geometry.judge.findings import Checked


class FaceOrCompare(FittedStack):
    """The middle of the window. The page with the placements is made when it is first needed.

    Signals:
        committed: (label, design) of the placement that is taken. view_changed: a view state.
        revealed: the page has come in the face's place.
    """

    committed = Signal(str, object)
    view_changed = Signal(object)
    revealed = Signal(object)

    def __init__(self, face: QWidget) -> None:
        super().__init__()
        self.compare: ComparePage | None = None
        self.addWidget(face)

    @property
    def compares(self) -> bool:
        """Whether placements are shown side by side."""
        return self.currentIndex() > 0

    @property
    def open_parts(self) -> tuple[QWidget, ...]:
        """The page in the place of the face; none while the face is there."""
        return (self.compare,) if self.compare is not None and self.compares else ()

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the placements side by side where the view state asks for it."""
        if view_state.deciding != COMPARE or view_state.sheets or not checked.design.mounts:
            if self.compare is not None:
                self.compare.rest(view_state)
            self.setCurrentIndex(0)
            return
        if self.compare is None:
            from app.deciding.compare_page import ComparePage

            self.compare = ComparePage()
            self.compare.committed.connect(self.committed)
            self.compare.view_changed.connect(self.view_changed)
            self.addWidget(self.compare)
        self.compare.show_checked(checked, view_state)
        if not self.compares:
            self.setCurrentWidget(self.compare)
            self.revealed.emit(self.compare)
            if self.compare.isVisible():
                self.compare.take_focus()
