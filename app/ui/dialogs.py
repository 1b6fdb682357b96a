"""The window's dialogs: a file's name, a question with a few answers, a message. Tests answer in their place."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from app.ui.apostrophes import curly

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter
    from PySide6.QtWidgets import QWidget

    from templates_out.drawing.marks import Page


class Dialogs:
    """Shows dialogs over a window."""

    def __init__(self, window: QWidget) -> None:
        self._window = window

    def open_name(self, folder: Path, kinds: str) -> Path | None:
        """Ask which file to open; None where the person cancels."""
        from PySide6.QtWidgets import QFileDialog

        self._keep_on_screen()
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a boat", str(folder), kinds)
        return Path(name) if name else None

    def save_name(self, title: str, proposed: Path, kinds: str) -> Path | None:
        """Ask where to save; return the name as typed, None where the person cancels.

        The caller asks whether to replace a file, since only the caller knows the name with its ending.
        """
        from PySide6.QtWidgets import QFileDialog

        self._keep_on_screen()
        once = QFileDialog.Option.DontConfirmOverwrite
        name, _ = QFileDialog.getSaveFileName(self._window, title, str(proposed), kinds, options=once)
        return Path(name) if name else None

    def choose_printer(self, page: Page, title: str) -> QPrinter | None:
        """Ask for the printer of pages like this one, set to its paper and one-sided; None where the person cancels."""
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter

        from app.ui.printer_paper import set_up

        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        set_up(printer, page)
        printer.setDocName(title)
        dialog = QPrintDialog(printer, self._window)
        for option in (QPrintDialog.PrintDialogOption.PrintPageRange, QPrintDialog.PrintDialogOption.PrintCurrentPage):
            dialog.setOption(option, False)  # a template lacks nothing only as a whole
        self._keep_on_screen()
        return printer if dialog.exec() == QPrintDialog.DialogCode.Accepted else None

    def _keep_on_screen(self) -> None:
        """Keep the next dialog of Qt's within a small screen. The system's dialogs do so themselves."""
        from PySide6.QtCore import QTimer
        from PySide6.QtWidgets import QApplication

        from app.ui.window_place import keep_on_screen

        def fit() -> None:
            dialog = QApplication.activeModalWidget()
            if dialog is not None and dialog.isVisible():
                keep_on_screen(dialog)

        QTimer.singleShot(0, self._window, fit)  # the dialog runs a second event loop

    def choose(self, sentence: str, answers: tuple[str, ...]) -> int:
        """Ask a question with a few answers. The first is the usual one, and Escape gives the last."""
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
        """Show a sentence until the person has read it."""
        self.choose(sentence, ("Go on",))
