"""The application's style, font and colours, light or dark."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QApplication

import assets
from app.ui.palette import qt_palette
from app.ui.typography import house_font


def start() -> QApplication:
    """Start the application in its style, with its icon. To set the style later costs 10 ms."""
    app = QApplication(["boltwell", "-style", "Fusion"])
    app.setDesktopFileName("boltwell")
    app.setWindowIcon(QIcon(str(assets.ICON)))
    return app


def application() -> QApplication:
    """Return the running application.

    Raises:
        TypeError: there is none.
    """
    running = QApplication.instance()
    if not isinstance(running, QApplication):
        raise TypeError("no application runs")
    return running


def apply_theme(*, dark: bool | None = None) -> None:
    """Set the application's font and colours. ``dark`` None follows the desktop."""
    app = application()
    font = house_font(app.font())
    if font != app.font():
        app.setFont(font)
    app.setPalette(qt_palette(desktop_is_dark() if dark is None else dark))


def desktop_is_dark() -> bool:
    """Return whether the desktop says that it is dark."""
    return application().styleHints().colorScheme() == Qt.ColorScheme.Dark


def is_dark() -> bool:
    """Return whether the window is dark now."""
    return application().palette().window().color().lightness() < 128
