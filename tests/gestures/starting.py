"""Starts the program as a person does, prints the window's place and the parts out of reach, and closes it.

Run as a program, it prints one line of JSON: the scale, the window's frame, the screen's free area [px], and whether the
window is maximised. Last come the names of the buttons that are visible but not whole on the screen.
"""

from __future__ import annotations

import json
import sys
from typing import Any

from PySide6.QtCore import QRect
from PySide6.QtWidgets import QAbstractButton, QApplication, QScrollArea, QWidget

from app.window import program
from app.window.main_window import MainWindow


def main(*place: int) -> int:
    """Start it, move it to ``place`` (left, top, width, height) where that is given, and close it."""
    resume = program.resume_collector

    def resume_and_look() -> None:
        resume()
        window = next(widget for widget in QApplication.topLevelWidgets() if isinstance(widget, MainWindow))
        print(json.dumps(seen(window)), flush=True)
        if place:
            window.showNormal()
            window.move(*place[:2])
            window.resize(*place[2:])
            QApplication.processEvents()
        window.close()

    program.resume_collector = resume_and_look
    return program.run()


def seen(window: MainWindow) -> dict[str, Any]:
    """Return where a window is, and what of it is out of reach."""
    area = window.screen().availableGeometry()
    return {
        "scale": window.devicePixelRatio(), "frame": _numbers(window.frameGeometry()), "area": _numbers(area),
        "size": [window.width(), window.height()], "maximised": window.isMaximized(), "cut off": cut_off(window),
    }  # fmt: skip


def cut_off(window: QWidget) -> list[str]:
    """Return the buttons that are not whole on the screen, those left out that can be scrolled to."""
    area = window.screen().availableGeometry()
    return [
        button.accessibleName() or button.text() for button in window.findChildren(QAbstractButton)
        if button.isVisible() and not _scrolls(button) and not _is_whole(button, area)
    ]  # fmt: skip


def _is_whole(widget: QWidget, area: QRect) -> bool:
    there = QRect(widget.mapToGlobal(widget.rect().topLeft()), widget.size())
    return area.contains(there) and widget.visibleRegion().boundingRect() == widget.rect()


def _scrolls(widget: QWidget) -> bool:
    parent = widget.parentWidget()
    return parent is not None and (isinstance(parent, QScrollArea) or _scrolls(parent))


def _numbers(rect: QRect) -> list[int]:
    return [rect.x(), rect.y(), rect.width(), rect.height()]


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
