"""Sets the window's title: the boat's name, a mark where it has changed, and its file."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QMainWindow

    from app.document.document import Document


def show_title(window: QMainWindow, document: Document) -> None:
    """Show which boat is open."""
    kind = " (demonstration)" if document.design.demonstration else ""
    file = f" – {document.path.name}" if document.path is not None else ""
    window.setWindowTitle(f"{document.design.called}{kind}[*]{file} – Boltwell")
    window.setWindowModified(document.changed_since_saved)
