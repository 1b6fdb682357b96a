"""The window: it builds its parts and connects them, and decides nothing. Every connection can be read here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMainWindow, QVBoxLayout, QWidget

from app.actions import fill_menus
from app.asking import Asking
from app.canvas.cut_canvas import CutView
from app.canvas.face_canvas import FaceCanvas
from app.canvas.face_head import FaceHead
from app.doors import Doors
from app.light import dress
from app.menus import records
from app.panels.answer import AnswerLine
from app.panels.card import Card
from app.panels.findings import FindingsPanel
from app.panels.foot import FootLine
from app.panels.ladder import LadderStrip
from app.panels.parts import Parting, ground, hairline
from app.rounds import Rounds
from app.slices import Lookahead
from app.title import show_title
from app.words.next_words import first_sight

if TYPE_CHECKING:
    from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent

    from app.desk import Desk

WIDE = 1700  # px: from here on the margins stay as they are and the face takes the rest


class MainWindow(QMainWindow):
    """Answer line above; card, face with its ladder, cut over findings; foot line below."""

    def __init__(self, desk: Desk) -> None:
        dress()
        super().__init__()
        self.desk = desk
        self.answer, self.card, self.face = AnswerLine(), Card(), FaceCanvas()
        self.ladder, self.cut, self.findings, self.foot = LadderStrip(), CutView(), FindingsPanel(), FootLine()
        self.lookahead = Lookahead(self)
        self.asking = Asking(self)
        self.doors = Doors(desk, self.asking, self)
        self._place()
        self.rounds = Rounds((self.answer.button, self.card, self.face, self.cut, self.ladder, self.findings))
        self.refresh_menus = fill_menus(self, records(self))
        self._connect()
        self.setAcceptDrops(True)
        self.resize(1366, 708)
        self.face.setFocus()
        desk.look(first_sight(desk.checked))

    def _place(self) -> None:
        middle = _column(FaceHead(), self.face, hairline(), self.ladder, grows=1)
        right, columns = Parting(Qt.Orientation.Vertical, rows), Parting(Qt.Orientation.Horizontal, columns_of)
        right.add(self.cut, self.findings)
        columns.add(self.card, middle, right)
        self.setCentralWidget(_column(self.answer, hairline(), columns, hairline(), self.foot, grows=2))

    def _connect(self) -> None:
        desk = self.desk
        for view in (
            self.answer,
            self.card,
            self.face,
            self.ladder,
            self.cut,
            self.findings,
            self.foot,
            self.lookahead,
        ):
            desk.shown.connect(view.show_checked)
        desk.shown.connect(self.doors.show_checked)
        desk.shown.connect(self.refresh_menus)
        desk.shown.connect(lambda *_: show_title(self, desk))
        for hand in (self.card, self.face):
            hand.previewed.connect(desk.preview)
            hand.cancelled.connect(desk.cancel)
        for giver in (self.card, self.face, self.ladder):
            giver.committed.connect(desk.commit)
        for eye in (self.card, self.face, self.findings):
            eye.looked.connect(desk.look)
        self.lookahead.told.connect(self.ladder.show_rungs)
        self.lookahead.told.connect(self.card.show_rungs)
        self.face.wanted.connect(self.card.go_to)
        self.face.said.connect(self.foot.say)
        self.face.scaled.connect(self.foot.show_scale)
        self.face.scaled.connect(self.cut.canvas.match)
        self.answer.sheets.connect(self.doors.sheets)
        self.doors.said.connect(self.foot.say)
        self.doors.saved.connect(self.foot.show_saved)

    def say(self, sentence: str) -> None:
        """Show one sentence in the foot line."""
        self.foot.say(sentence)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 (Qt's name)
        """Ask before anything is lost."""
        event.setAccepted(self.doors.may_leave())

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802 (Qt's name)
        """Take files."""
        event.setAccepted(event.mimeData().hasUrls())
        event.setDropAction(Qt.DropAction.CopyAction)

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802 (Qt's name)
        """Open the boat that was dropped."""
        self.doors.open_dropped(event.mimeData().urls())


def columns_of(width: int) -> list[int]:
    """Return the widths of card, face and right margin [px]: 22, 48 and 30 %, fixed margins where there is room."""
    card, right = (340, 480) if width > WIDE else (max(272, round(width * 0.22)), round(width * 0.304))
    return [card, width - card - right, right]


def rows(height: int) -> list[int]:
    """Return the heights of the cut and of the findings below it [px]."""
    cut = round(height * 0.565)
    return [cut, height - cut]


def _column(*parts: QWidget, grows: int) -> QWidget:
    """Return the parts one below another; the one at ``grows`` takes the room that is left."""
    whole = QWidget()
    ground(whole, "card")
    column = QVBoxLayout(whole)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    for index, part in enumerate(parts):
        column.addWidget(part, 1 if index == grows else 0)
    return whole
