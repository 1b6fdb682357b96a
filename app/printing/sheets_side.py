"""What stands in the window while the sheets are made: card, pages, strip, and the mode that fills them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut

from app.printing.pages_panel import PagesPanel
from app.printing.sheets_card import SheetsCard
from app.printing.sheets_mode import SheetsMode
from app.printing.taped_strip import TapedStrip

if TYPE_CHECKING:
    from app.window.main_window import MainWindow


class SheetsSide:
    """Made when the sheets are first wanted: the window comes up without it."""

    def __init__(self, window: MainWindow) -> None:
        desk = window.desk
        self.mode, self.card = SheetsMode(desk, window.doors, window), SheetsCard()
        self.paper, self.strip = PagesPanel(), TapedStrip()
        window.left.add(self.card)
        window.right.add(self.paper)
        window.middle.add(self.strip)
        for view in (self.card, self.strip, self.mode):
            desk.shown.connect(view.show_checked)
        for planner in (window.face, window.face_head, self.paper, self.strip, self.card):
            self.mode.planned.connect(planner.show_plan)
        self.mode.pictured.connect(self.paper.show_page)
        self.mode.wished.connect(self.card.show_wish)
        for teller in (self.paper, self.card):
            self.mode.refused.connect(teller.show_refusal)
        self.mode.said.connect(window.foot.say)
        self.mode.saved.connect(self.card.show_saved)
        window.doors.arrived.connect(self.mode.forget)
        self.card.wished.connect(self.mode.ask)
        self.card.opened.connect(self.mode.show_file)
        self.card.drawn.connect(self.mode.save_drawings)
        window.answer.save.connect(self.mode.save)
        window.answer.back.connect(self.mode.leave)
        escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), window.columns, self.mode.leave)  # hidden, they take no key
        desk.shown.connect(lambda _checked, sight: escape.setEnabled(sight.sheets))
