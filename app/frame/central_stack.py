"""The stack in the middle of the window: the drawing, or the start page."""

from __future__ import annotations

from PySide6.QtWidgets import QStackedWidget, QWidget


class CentralStack(QStackedWidget):
    """The drawing, which is the first page, and the pages that take its place."""

    @property
    def shows_drawing(self) -> bool:
        """Whether the drawing is shown."""
        return self.currentIndex() == 0

    def show_drawing(self) -> None:
        """Show the drawing."""
        self.setCurrentIndex(0)

    def show_page(self, board: QWidget) -> None:
        """Show another page in the drawing's place."""
        if self.indexOf(board) < 0:
            self.addWidget(board)
        self.setCurrentWidget(board)
