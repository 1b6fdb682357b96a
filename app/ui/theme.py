"""The window's dress: style, font and colours, light or dark, the latter two changed all at once."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.ui.palette import qt_palette
from app.ui.typography import house_font


def start() -> QApplication:
    """Start the application in its style; asking Qt for the style later on costs 10 ms."""
    return QApplication(["boltwell", "-style", "Fusion"])


def application() -> QApplication:
    """Return the running application.

    Raises:
        TypeError: there is none.
    """
    found = QApplication.instance()
    if not isinstance(found, QApplication):
        raise TypeError("no application runs")
    return found


def apply_theme(*, dark: bool | None = None) -> None:
    """Dress the application; ``dark`` None follows the desktop."""
    app = application()
    font = house_font(app.font())
    if font != app.font():
        app.setFont(font)
    app.setPalette(qt_palette(desktop_is_dark() if dark is None else dark))


def desktop_is_dark() -> bool:
    """Return whether the desktop is dark, as far as it says so."""
    return application().styleHints().colorScheme() == Qt.ColorScheme.Dark


def is_dark() -> bool:
    """Return whether the window is dark now."""
    return application().palette().window().color().lightness() < 128
