"""Moves the focus from part to part of the window: F6 forward, Shift+F6 back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

if TYPE_CHECKING:
    from collections.abc import Callable


class FocusCycle:
    """Moves the focus through the parts in order. A part with a method ``take_focus`` gets the focus by it.

    Args:
        parts: returns the parts that exist by now.
        reveal: shows a part, in a narrow window. Parts that stay hidden are skipped.
    """

    def __init__(self, parts: Callable[[], tuple[QWidget, ...]], reveal: Callable[[QWidget], None]) -> None:
        self._parts, self._reveal = parts, reveal

    def next(self) -> None:
        """Go to the next part."""
        self._go(1)

    def previous(self) -> None:
        """Go to the part before."""
        self._go(-1)

    def _go(self, by: int) -> None:
        focus = QApplication.focusWidget()
        parts = self._parts()
        holders = (i for i, part in enumerate(parts) if focus is not None and (part is focus or part.isAncestorOf(focus)))
        at = next(holders, -1 if by > 0 else 0)
        for step in range(1, len(parts) + 1):
            part = parts[(at + by * step) % len(parts)]
            self._reveal(part)
            if part.isVisible():
                part.window().setAttribute(Qt.WidgetAttribute.WA_KeyboardFocusChange)
                take = getattr(part, "take_focus", None)
                (take or part.setFocus)()
                return
