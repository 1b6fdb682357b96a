"""The message of an exception, and the hook that shows every uncaught one."""

from __future__ import annotations

import sys
import traceback
from typing import TYPE_CHECKING

from app.ui.apostrophes import curly
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import TracebackType

    Show = Callable[[str, str], None]

FAULT = "A fault in this program."


def message_for(error: BaseException, where: Callable[[], str] = str) -> tuple[str, str]:
    """Return the sentence to show for ``error``, and the details of a fault ("" where there is none).

    Args:
        where: says where the design is now, for a fault.
    """
    if isinstance(error, OwnerError):
        return str(error), ""
    from app.starter.saying import why_not_loaded

    if missing := why_not_loaded(error):
        return missing, ""
    return f"{FAULT} {where()}".strip(), "".join(traceback.format_exception(error))


def install_hook(show: Show | None = None, where: Callable[[], str] = str) -> None:
    """Catch every uncaught exception, also those in Qt's slots.

    Args:
        show: gets the sentence and the details; a box where none is given.
        where: says where the design is now, "" where nothing can be lost.
    """

    showing = False

    def last_stop(_kind: type[BaseException], error: BaseException, _trace: TracebackType | None) -> None:
        nonlocal showing
        sentence, details = message_for(error, where)
        sys.stderr.write(details)
        if showing:  # a fault in painting repeats with every repaint
            return
        showing = True
        try:
            (show or _box)(sentence, details)
        finally:
            showing = False

    sys.excepthook = last_stop


def _box(sentence: str, details: str) -> None:
    from PySide6.QtWidgets import QApplication, QMessageBox

    if QApplication.instance() is None or QApplication.platformName() in ("offscreen", "minimal"):
        sys.stderr.write(f"{sentence}\n")  # nobody could close a box there
        return
    box = QMessageBox(QMessageBox.Icon.NoIcon, "Boltwell", curly(sentence))
    box.setDetailedText(details)
    box.exec()
