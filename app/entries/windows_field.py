"""A field of the window: it leaves undo to the window while nothing is typed, and follows the window's light."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit

AWAY = (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason)  # the focus comes back to the field


class WindowsField(QLineEdit):
    """The common base of an entry's field and of the question's."""

    def __init__(self) -> None:
        super().__init__()
        self.setFrame(False)

    @property
    def takes_undo(self) -> bool:
        """Whether it has a typed text to take back."""
        return bool(self.text())

    def tint(self) -> None:
        """Take the colours of the window's light."""
        raise NotImplementedError

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window, unless there is a typed text to take back."""
        standard = QKeySequence.StandardKey
        if (
            isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride and not self.takes_undo
            and (event.matches(standard.Undo) or event.matches(standard.Redo))
        ):  # fmt: skip
            event.ignore()
            return False
        return super().event(event)

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Take the colours of another light."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.tint()
