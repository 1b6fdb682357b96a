"""Prints the demonstration boat's template on the system's usual printer, as the window does it; the dialog is accepted.

Run as a program, for one kind of paper, it prints one line of JSON: the pages' size and the circles on them [mm]. The marks
have the correction of a printer that prints 1 % small across and 1 % large up::

    CUPS_SERVER=SOCKET python3 -m tests.gestures.queued letter
"""

from __future__ import annotations

import datetime
import json
import sys

from msgspec.structs import replace
from PySide6.QtPrintSupport import QPrintDialog
from PySide6.QtWidgets import QDialog, QWidget

from app.document.examples import demonstration
from app.printing.page_printer import PagePrinter
from app.printing.sheet_set import PrintOptions, sheet_set
from app.ui.dialogs import Dialogs
from app.ui.theme import start
from geometry.judge.check import check
from templates_out.drawing.marks import Circle


def main(paper: str) -> None:
    """Print the template on ``paper``."""
    application = start()
    checked = check(demonstration())
    options = PrintOptions(paper, kinds=("template",))
    across, up = sheet_set(checked, options, datetime.date(2030, 5, 1)).bars
    sheets = sheet_set(checked, replace(options, across=across * 0.99, up=up * 1.01), datetime.date(2030, 5, 1))
    QPrintDialog.exec = lambda _dialog: QDialog.DialogCode.Accepted  # type: ignore[method-assign]
    window = QWidget()
    dialogs = Dialogs(window)
    dialogs.show_message = lambda sentence: print(sentence, file=sys.stderr)  # type: ignore[method-assign]
    printer = PagePrinter(dialogs)
    printer.printed.connect(application.quit)
    if not printer.start(sheets.pages, "template", checked.design.units):
        raise SystemExit(1)
    application.exec()
    print(json.dumps([
        {"size": [page.width, page.height], "circles": [
            [*mark.centre, mark.radius] for mark in page.marks
            if isinstance(mark, Circle) and mark.pen is not None and not mark.fill and not mark.pen.dash
        ]} for page in sheets.pages
    ]))  # fmt: skip


if __name__ == "__main__":
    main(sys.argv[1])
