"""The manual: its pages, their pictures, the window that shows them. Nothing of it is loaded before it is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

if TYPE_CHECKING:
    from app.window.main_window import MainWindow


def show_here(window: MainWindow) -> None:
    """Open the manual at the page for what has the focus."""
    from app.help.manual_places import place_for

    window.manual.show_at(place_for(QApplication.focusWidget(), window.desk))


def show_keys(window: MainWindow) -> None:
    """Open the manual where the shortcuts are listed."""
    from app.help.manual_pages import KEYS

    window.manual.show_at(KEYS)
