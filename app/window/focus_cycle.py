"""F6 goes round the parts of the window, Shift+F6 back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

if TYPE_CHECKING:
    from collections.abc import Callable


class FocusCycle:
    """The parts in their order; each takes the focus by ``take_focus`` where it has one.

    Args:
        parts: gives the parts that there are by now.
        reveal: brings a part to sight, where one is shown at a time. What is not seen even then is passed over.
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
        found = (i for i, part in enumerate(parts) if focus is not None and (part is focus or part.isAncestorOf(focus)))
        at = next(found, -1 if by > 0 else 0)
        for step in range(1, len(parts) + 1):
            part = parts[(at + by * step) % len(parts)]
            self._reveal(part)
            if part.isVisible():
                part.window().setAttribute(Qt.WidgetAttribute.WA_KeyboardFocusChange)
                take = getattr(part, "take_focus", None)
                (take or part.setFocus)()
                return
