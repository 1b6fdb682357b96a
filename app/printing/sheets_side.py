"""The parts of the window while the sheets are made: card, pages, strip, and the mode that fills them."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from app.printing.pages_panel import PagesPanel
from app.printing.sheets_card import SheetsCard
from app.printing.sheets_mode import SheetsMode
from app.printing.taped_strip import TapedStrip

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from app.document.document import Document
    from app.printing.sheet_set import SheetSet
    from app.printing.sheets_mode import SheetFiles
    from app.printing.taped_window import TapedWindow


class SheetsSide:
    """Made when the sheets are first wanted: the window comes up without it."""

    def __init__(self, document: Document, files: SheetFiles, parent: QWidget) -> None:
        self.mode, self.card = SheetsMode(document, files, parent), SheetsCard()
        self.paper, self.strip = PagesPanel(), TapedStrip()
        for view in (self.card, self.strip, self.mode):
            document.shown.connect(view.show_checked)
        for planner in (self.paper, self.strip, self.card):
            self.mode.planned.connect(planner.show_plan)
        self.mode.pictured.connect(self.paper.show_page)
        self.mode.options_changed.connect(self.card.show_options)
        for teller in (self.paper, self.card):
            self.mode.refused.connect(teller.show_refusal)
        self.mode.saved.connect(self.card.show_saved)
        self.card.options_changed.connect(self.mode.ask)
        self.card.opened.connect(self.mode.show_file)
        self.card.drawn.connect(self.mode.save_drawings)
        self.card.printed.connect(self.mode.print_all)
        self.mode.worked.connect(self.card.show_work)
        self.card.stopped.connect(self.mode.stop)
        self.card.stopped.connect(files.stop_printing)
        self.card.gone_on.connect(self.mode.go_on)
        self._document, self._window = document, parent
        self._sheets: SheetSet | None = None
        self.mode.planned.connect(self._keep)
        self.strip.asked.connect(self.show_taped)

    @cached_property
    def taped(self) -> TapedWindow:
        """The window of the taped-up check; made when it is first needed."""
        from app.printing.taped_window import TapedWindow

        return TapedWindow(self._document, self._window)

    def show_taped(self) -> None:
        """Open the window of the taped-up check."""
        self.taped.show_sheets(self._sheets)
        self.taped.show()
        self.taped.raise_()
        self.taped.activateWindow()

    def _keep(self, sheets: SheetSet | None) -> None:
        self._sheets = sheets
        if "taped" in self.__dict__:
            self.taped.show_sheets(sheets)
