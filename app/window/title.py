"""The window's title: the boat's name, a mark where it has changed, and where it lies."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QMainWindow

    from app.document.document import Desk


def show_title(window: QMainWindow, desk: Desk) -> None:
    """Show which boat is on the desk."""
    name = desk.design.name or "A boat without a name"
    kind = " (demonstration)" if desk.design.demonstration else ""
    file = f" – {desk.path.name}" if desk.path is not None else ""
    window.setWindowTitle(f"{name}{kind}[*]{file} – Boltwell")
    window.setWindowModified(desk.changed_since_saved)
