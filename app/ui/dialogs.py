"""What the window asks a person: a name for a file, one of a few answers. Tests answer in its place."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from app.ui.apostrophes import curly

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget


class Dialogs:
    """Asks over one window."""

    def __init__(self, window: QWidget) -> None:
        self._window = window

    def open_name(self, folder: Path, kinds: str) -> Path | None:
        """Ask which file to open; None where the person thinks better of it."""
        from PySide6.QtWidgets import QFileDialog

        self._keep_on_screen()
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a boat", str(folder), kinds)
        return Path(name) if name else None

    def save_name(self, title: str, proposed: Path, kinds: str) -> Path | None:
        """Ask where to save; return the name as it is typed, None where the person thinks better of it.

        Whether a file that is there may be replaced is not asked here: only the caller knows the name with its ending.
        """
        from PySide6.QtWidgets import QFileDialog

        self._keep_on_screen()
        once = QFileDialog.Option.DontConfirmOverwrite
        name, _ = QFileDialog.getSaveFileName(self._window, title, str(proposed), kinds, options=once)
        return Path(name) if name else None

    def _keep_on_screen(self) -> None:
        """See to it that the dialog that is about to open is whole on a small screen; the system's own sees to itself."""
        from PySide6.QtCore import QTimer
        from PySide6.QtWidgets import QApplication

        from app.ui.window_place import keep_on_screen

        def fit() -> None:
            dialog = QApplication.activeModalWidget()
            if dialog is not None and dialog.isVisible():
                keep_on_screen(dialog)

        QTimer.singleShot(0, self._window, fit)  # the dialog runs an event loop of its own

    def choose(self, sentence: str, answers: tuple[str, ...]) -> int:
        """Ask for one of a few answers, the first being the usual one; the last is Escape's."""
        from PySide6.QtCore import Qt
        from PySide6.QtWidgets import QMessageBox

        box = QMessageBox(QMessageBox.Icon.NoIcon, "Boltwell", curly(sentence), parent=self._window)
        box.setTextFormat(Qt.TextFormat.PlainText)  # a file's name may hold a < and a >
        buttons = [box.addButton(answer, QMessageBox.ButtonRole.ActionRole) for answer in answers]
        box.setDefaultButton(buttons[0])
        box.setEscapeButton(buttons[-1])
        box.exec()
        clicked = box.clickedButton()
        return next((index for index, button in enumerate(buttons) if button is clicked), len(answers) - 1)

    def show_file(self, path: Path) -> bool:
        """Open a file in the system's viewer; False where it has none."""
        from PySide6.QtCore import QUrl
        from PySide6.QtGui import QDesktopServices

        return QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))

    def show_message(self, sentence: str) -> None:
        """Say one sentence, until it is read."""
        self.choose(sentence, ("Go on",))
