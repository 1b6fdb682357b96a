"""F6 goes round the parts of the window, Shift+F6 back."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget


class Rounds:
    """The parts in their order; each takes the focus by ``take_hand`` where it has one."""

    def __init__(self, parts: tuple[QWidget, ...]) -> None:
        self._parts = parts

    def on(self) -> None:
        """Go to the next part."""
        self._go(1)

    def back(self) -> None:
        """Go to the part before."""
        self._go(-1)

    def _go(self, by: int) -> None:
        focus = QApplication.focusWidget()
        at = (
            next((i for i, part in enumerate(self._parts) if part is focus or part.isAncestorOf(focus)), -1)
            if focus
            else -1
        )
        part = self._parts[(at + by) % len(self._parts) if at >= 0 else 0]
        part.window().setAttribute(Qt.WidgetAttribute.WA_KeyboardFocusChange)
        take = getattr(part, "take_hand", None)
        if take is not None:
            take()
        else:
            part.setFocus(Qt.FocusReason.ShortcutFocusReason)
