"""The main window: it builds its parts and connects them, and decides nothing. It has all connections."""

from __future__ import annotations

from functools import cached_property, partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QMainWindow, QVBoxLayout, QWidget

from app.canvas.cut_canvas import CutView
from app.canvas.face_canvas import FaceCanvas
from app.canvas.face_head import FaceHead
from app.canvas.small_picture import Picture
from app.card.card import Card
from app.card.next_step import first_view_state
from app.deciding.deciding_aside import Aside
from app.document.settings import recent_boats, remember, settings
from app.findings.findings_panel import FindingsPanel
from app.frame.answer_line import AnswerLine
from app.frame.central_stack import CentralStack
from app.frame.columns import Columns, FaceColumn, SheetsStack, rows
from app.frame.face_or_compare import FaceOrCompare
from app.frame.first_hint import Hint
from app.frame.foot_line import FootLine
from app.ladder.ladder_strip import LadderStrip
from app.ui.basic_widgets import SharedSplitter, ground, hairline
from app.ui.deciding_modes import with_mode
from app.ui.dialogs import Dialogs
from app.ui.text_size import other_size
from app.ui.theme import apply_theme
from app.ui.throttle import Throttle
from app.ui.timeslice import DoubtWorker, LadderWorker
from app.ui.window_place import USUAL, remember_place
from app.window.file_actions import FileActions
from app.window.focus_cycle import FocusCycle
from app.window.menu_bar import fill_menus
from app.window.menus import menu_entries
from app.window.title import show_title
from app.window.undo_highlight import UndoHighlight

if TYPE_CHECKING:
    from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent

    from app.document.document import Document
    from app.frame.start_page import StartPage
    from app.help.manual_window import Manual
    from app.printing.sheets_side import SheetsSide
    from app.window.survey_window import SurveyWindow


class MainWindow(QMainWindow):
    """The main window: answer line above; card, face with ladder, cut with findings; foot line below.

    Attributes:
        starts_again: whether the program begins again once the window is closed.
    """

    def __init__(self, document: Document) -> None:
        apply_theme(dark=settings().dark)
        super().__init__()
        self.document, self.starts_again = document, False
        self.hint, self.central = Hint(), CentralStack()
        self.answer, self.card, self.face = AnswerLine(), Card(Picture()), FaceCanvas()
        self.ladder, self.cut, self.findings, self.foot = LadderStrip(), CutView(), FindingsPanel(), FootLine()
        self.face_head, self.ladder_worker, self.doubt_worker = FaceHead(), LadderWorker(self), DoubtWorker(self)
        self.dialogs = Dialogs(self)
        self.file_actions = FileActions(document, self.dialogs, self)
        self.undo_highlight = UndoHighlight(document, self)
        self._place()
        self.focus_cycle = FocusCycle(self._around, self.columns.reveal)
        self.refresh_menus = fill_menus(self, menu_entries(self))
        self._connect()
        self.setAcceptDrops(True)
        self.resize(USUAL.wide, USUAL.high)
        self.face.setFocus()
        document.set_view_state(first_view_state(document.checked))

    def _place(self) -> None:
        self.middle = FaceColumn(self.face_head, self.hint, self.face, self.ladder)
        upright = SharedSplitter(Qt.Orientation.Vertical, rows)
        self.aside = Aside(self.findings)
        upright.add(self.cut, self.aside)
        self.left, self.right = SheetsStack(self.card), SheetsStack(upright)
        self.face_or_compare = FaceOrCompare(self.middle)
        self.columns = Columns(self.left, self.face_or_compare, self.right, upright, self.cut, self.aside)
        self.central.addWidget(_column(self.answer, hairline(), self.columns, hairline(), self.foot, grows=2))
        self.setCentralWidget(self.central)

    def _connect(self) -> None:
        document = self.document
        slow = self.card, self.findings, self.ladder
        self.throttle = Throttle(document, (self.cut.canvas.ring, self.answer), slow, self)
        for view in (
            self.face,
            self.face_head,
            self.cut,
            self.throttle,
            self.foot,
            self.ladder_worker,
            self.doubt_worker,
            self.left,
            self.middle,
            self.right,
            self.aside,
            self.face_or_compare,
            self.undo_highlight,
        ):
            document.shown.connect(view.show_checked)
        document.shown.connect(self.file_actions.show_checked)
        document.begun.connect(self.card.next_step.forget)
        document.present_shown.connect(self.cut.canvas.relayout)
        document.present_shown.connect(self.refresh_menus)
        self.central.currentChanged.connect(self.refresh_menus)
        document.present_shown.connect(lambda: show_title(self, document))
        for editor in (self.card, self.face):
            editor.previewed.connect(document.preview)
            editor.cancelled.connect(document.cancel)
        for giver in (self.card, self.face, self.ladder, self.cut, self.findings, self.aside.panels, self.face_or_compare):
            giver.committed.connect(document.commit)
        for eye in (
            self.answer, self.card, self.face, self.face_head, self.findings, self.cut, self.ladder, self.aside.panels,
            self.face_or_compare,
        ):  # fmt: skip
            eye.view_changed.connect(document.set_view_state)
        self.face_head.taken.connect(self.face.setFocus)
        for worker in (self.ladder_worker, self.doubt_worker):
            worker.ready.connect(self.throttle.catch_up)  # first: the results are of the design that the panels show
        self.ladder_worker.ready.connect(self.ladder.show_rungs)
        self.ladder_worker.ready.connect(self.card.show_rungs)
        self.ladder_worker.ready.connect(self.findings.show_rungs)
        self.doubt_worker.ready.connect(self.answer.show_doubts)
        self.doubt_worker.ready.connect(self.card.show_doubts)
        self.doubt_worker.ready.connect(self.findings.show_doubts)
        self.doubt_worker.ready.connect(self.cut.show_doubts)
        for drawing in (self.face, self.cut.canvas):
            drawing.wanted.connect(lambda _key: self.stop_comparing())
            drawing.wanted.connect(lambda _key: self.columns.reveal(self.card))
            drawing.wanted.connect(self.card.go_to)
        self.cut.canvas.said.connect(self.foot.say)
        self.face.shown_entry.connect(self.card.show_entry)
        self.face.said.connect(self.foot.say)
        self.face.scaled.connect(self.foot.show_scale)
        self.face.scaled.connect(self.cut.canvas.match)
        self.answer.sheets.connect(self.make_sheets)
        self.columns.turned.connect(self.foot.show_parts)
        self.columns.turned.connect(self.cut.canvas.stand_alone)
        self.foot.part.connect(self.aside.leave)  # first: only where its panel is what is in sight
        self.foot.part.connect(self.columns.show_part)
        self.aside.revealed.connect(self.columns.reveal)
        self.aside.currentChanged.connect(self.columns.show_deciding)
        self.face_or_compare.currentChanged.connect(self.columns.show_comparing)
        self.face_or_compare.currentChanged.connect(self.refresh_menus)
        self.face_or_compare.revealed.connect(self.columns.reveal)
        for stack in (self.left, self.right, self.aside, self.aside.panels):
            stack.currentChanged.connect(self.columns.share_again)
        self.aside.panels.wanted.connect(lambda _key: self.columns.reveal(self.card))
        self.aside.panels.wanted.connect(self.card.go_to)
        self.file_actions.said.connect(self.foot.say)
        self.file_actions.saved.connect(self.foot.show_saved)
        self.card.said.connect(self.foot.say)
        self.card.sheets.connect(self.make_sheets)
        self.card.next_step.asking.connect(self.answer.show_asked)
        self.card.surveying.connect(self.show_survey)
        self.card.measuring.connect(partial(self.file_actions.sheet, "measuring"))
        self.file_actions.settling.connect(self.card.settle)
        self.file_actions.boat_opened.connect(self.show_board)
        self.file_actions.boat_opened.connect(self.hint.hide)
        self.file_actions.boat_opened.connect(self.face.refit)
        self.file_actions.boat_opened.connect(self.cut.canvas.refit)
        self.hint.read.connect(lambda: remember(hint_read=True))

    def _around(self) -> tuple[QWidget, ...]:
        """Return the parts for F6, in their order."""
        side = self.__dict__.get("sheets")  # a part that is not made yet can't have the focus
        card, paper = ((side.card,), (side.paper,)) if side is not None else ((), ())
        right = self.cut, *paper, self.ladder, self.findings, *self.aside.open_parts
        return (self.answer.button, self.card, *card, self.face, *self.face_or_compare.open_parts, *right)

    @cached_property
    def sheets(self) -> SheetsSide:
        """The parts that are shown while the sheets are made; made when they are first needed."""
        from app.printing.sheets_side import SheetsSide

        side = SheetsSide(self.document, self.file_actions, self)
        self.left.add(side.card)
        self.right.add(side.paper)
        self.middle.add(side.strip)
        for planner in (self.face, self.face_head):
            side.mode.planned.connect(planner.show_plan)
        side.mode.said.connect(self.foot.say)
        self.file_actions.boat_opened.connect(side.mode.forget)
        self.file_actions.printing_changed.connect(lambda: side.card.show_printing(on=self.file_actions.printer.busy))
        self.file_actions.printed.connect(side.card.show_printed)
        self.answer.save.connect(side.mode.save)
        self.answer.back.connect(side.mode.leave)
        escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self.columns, side.mode.leave)  # hidden columns take no key
        self.document.shown.connect(lambda _checked, view_state: escape.setEnabled(view_state.sheets))
        return side

    @cached_property
    def start(self) -> StartPage:
        """The start page, in the place of the drawing; made when it is first needed."""
        from app.frame.start_page import StartPage

        page = StartPage()
        page.begun.connect(self.file_actions.begin)
        page.opened.connect(self.file_actions.open_path)
        page.asked.connect(self.file_actions.open)
        page.demonstration.connect(self.file_actions.open_demonstration)
        page.left.connect(self.show_board)
        return page

    @cached_property
    def manual(self) -> Manual:
        """The manual, in a second window; made when it is first needed."""
        from app.help.manual_window import manual_of

        return manual_of(menu_entries(self), self)

    @cached_property
    def survey(self) -> SurveyWindow:
        """The window of the survey; made when it is first needed."""
        from app.window.survey_window import SurveyWindow

        return SurveyWindow(self.document, self)

    def show_survey(self) -> None:
        """Open the window of the survey."""
        self.survey.show()
        self.survey.raise_()
        self.survey.activateWindow()

    def show_manual(self) -> None:
        """Open the manual at the page for the focus."""
        from app.help.manual_places import place_for

        self.manual.show_at(place_for(QApplication.focusWidget(), self.document))

    def show_keys(self) -> None:
        """Open the manual at the list of shortcuts."""
        from app.help.manual_pages import KEYS

        self.manual.show_at(KEYS)

    def say(self, sentence: str) -> None:
        """Show one sentence in the foot line."""
        self.foot.say(sentence)

    def fit_views(self) -> None:
        """Show the work again in face and cut, also where somebody zoomed."""
        self.face.refit()
        self.cut.canvas.refit()

    def change_text(self, way: int) -> None:
        """Take larger (1) or smaller (-1) text from the next start on, and offer to start again now."""
        size = other_size(settings().text, way)
        if size is None:
            return
        remember(text=size)
        self.refresh_menus()
        sentence = f"Text is at {size} % once Boltwell starts again. You are asked to save first, and the steps to undo end."
        if self.dialogs.choose(sentence, ("Start again now", "At the next start")) == 0:
            self.starts_again = self.close()

    def make_sheets(self) -> None:
        """Show where the sheets go on the transom, and their pages."""
        self.sheets.mode.enter()

    def print_sheets(self) -> None:
        """Print the sheets through the system's dialog."""
        self.sheets.mode.print_all()

    def leave_sheets(self) -> None:
        """Go back to the drawing."""
        self.sheets.mode.leave()

    def stop_comparing(self) -> None:
        """Show card and face again, where placements are side by side in their place."""
        if self.face_or_compare.compares:
            self.document.set_view_state(with_mode(self.document.view_state, ""))

    def show_start(self) -> None:
        """Show the start page, in the place of the drawing."""
        self.stop_comparing()
        self.start.fill(self.document.design.units, recent_boats())
        self.central.show_page(self.start)
        self.start.take_focus()

    def show_board(self) -> None:
        """Show the drawing."""
        self.central.show_drawing()
        if self.card.next_step.asks:
            self.card.take_focus()
        else:
            self.face.setFocus()

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 (Qt's name)
        """Ask before anything is lost, and keep the window's place."""
        event.setAccepted(self.file_actions.may_leave())
        if event.isAccepted():
            remember_place(self)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802 (Qt's name)
        """Accept files."""
        event.setAccepted(event.mimeData().hasUrls())
        event.setDropAction(Qt.DropAction.CopyAction)

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802 (Qt's name)
        """Open the boat that was dropped."""
        self.file_actions.open_dropped(event.mimeData().urls())


def _column(*parts: QWidget, grows: int) -> QWidget:
    """Return the parts one below another. The part at ``grows`` takes the rest of the room."""
    whole = QWidget()
    ground(whole, "card")
    column = QVBoxLayout(whole)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    for index, part in enumerate(parts):
        column.addWidget(part, 1 if index == grows else 0)
    return whole
