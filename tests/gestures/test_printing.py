"""Printing through the system's dialog: 1:1, one-sided, on the planned paper, the correction once, with a stop."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QPageSize
from PySide6.QtPrintSupport import QPrinter

from app.ui.printer_paper import set_up
from templates_out.drawing.marks import Circle, Page
from tests.designs import sure
from tests.gestures.test_sheets_mode import begin
from tests.gestures.test_window import Answers, file_actions
from tests.readers import read_with_pdfium, read_with_pikepdf

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from tests.readers import ReadPage

LEFT = Qt.MouseButton.LeftButton
NEAR = 0.02  # mm


class Paper(Answers):
    """Answers, and takes a printer that writes a file; on other ``paper`` where that is given."""

    def __init__(self, path: Path, paper: QPageSize.PageSizeId | None = None, answer: int = 0) -> None:
        super().__init__(path, answer)
        self._paper, self.printer, self.questions = paper, QPrinter(QPrinter.PrinterMode.HighResolution), list[str]()

    def choose(self, sentence: str, answers: tuple[str, ...]) -> int:
        if sentence.endswith("or save it as a PDF?"):
            return answers.index("Print…")
        self.questions.append(sentence)
        return self.answer

    def choose_printer(self, page: Page, title: str) -> QPrinter | None:
        set_up(self.printer, page)
        self.printer.setDocName(title)
        self.printer.setOutputFileName(str(self.path))
        if self._paper is not None:
            self.printer.setPageSize(QPageSize(self._paper))
        return self.printer


def printed(qtbot: QtBot, window: MainWindow, answers: Paper) -> tuple[Page, ...]:
    """Press Print, and wait until all is printed. Return the pages."""
    file_actions(window, answers)
    pages = sure(window.sheets.mode.made).sheets.pages
    with qtbot.waitSignal(window.file_actions.printed, timeout=60_000):
        qtbot.mouseClick(window.sheets.card.print, LEFT)
    return pages


@pytest.mark.parametrize("read", [read_with_pikepdf, read_with_pdfium])
def test_every_circle_is_printed_in_its_place_at_full_scale(
    qtbot: QtBot, window: MainWindow, kept: Path, read: Callable[[bytes], list[ReadPage]]
) -> None:  # fmt: skip
    """The correction of this printer is in the marks. Printing adds none: what is printed are the marks, within 0.02 mm."""
    begin(qtbot, window)
    mode = window.sheets.mode
    first = sure(mode.made).sheets
    mode.ask(replace(mode.options, across=first.bars[0] * 0.99, up=first.bars[1] * 1.01, kinds=("template",)))
    qtbot.waitUntil(lambda: mode.made is not None and mode.made.sheets.correction != first.correction)
    answers = Paper(kept / "printed.pdf")
    pages = printed(qtbot, window, answers)
    result = read(answers.path.read_bytes())
    assert len(result) == len(pages)
    count = 0
    for page, paper in zip(pages, result, strict=True):
        assert (paper.width, paper.height) == pytest.approx((page.width, page.height), abs=NEAR)
        for mark in page.marks:
            if isinstance(mark, Circle) and mark.pen is not None and not mark.fill and not mark.pen.dash:
                assert paper.circle_at(mark.centre, mark.radius, NEAR)
                count += 1
    assert count >= 4
    assert answers.printer.duplex() == QPrinter.DuplexMode.DuplexNone
    assert answers.printer.fullPage()
    assert window.foot.said.startswith(f"{len(pages)} pages are sent to ") or len(pages) == 1
    assert window.sheets.card.title.text() == "Print it, then read both bars"
    assert mode.options.across is None  # the bars were those of the print before
    assert mode.options.before == sure(mode.made).sheets.correction


@pytest.mark.parametrize("answer", [0, 1])
def test_another_paper_is_asked_about_and_never_taken(qtbot: QtBot, window: MainWindow, kept: Path, answer: int) -> None:
    begin(qtbot, window)
    answers = Paper(kept / "printed.pdf", QPageSize.PageSizeId.A5, answer)
    file_actions(window, answers)
    qtbot.mouseClick(window.sheets.card.print, LEFT)
    assert answers.questions[0].startswith("The printer is set to A5, and the sheets are made for Letter.")
    qtbot.waitUntil(lambda: not window.file_actions.printer.busy, timeout=60_000)
    assert answers.path.exists() == (answer == 0)
    if answer == 0:
        page = sure(window.sheets.mode.made).sheets.pages[0]
        assert read_with_pikepdf(answers.path.read_bytes())[0].width == pytest.approx(page.width, abs=NEAR)


def test_printing_shows_its_progress_and_can_be_stopped(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    begin(qtbot, window)
    card, said = window.sheets.card, list[str]()
    assert not card.stop.isVisible()
    window.file_actions.said.connect(said.append)
    window.file_actions.said.connect(lambda text: qtbot.mouseClick(card.stop, LEFT) if ": page 2 of" in text else None)
    file_actions(window, Paper(kept / "printed.pdf"))
    qtbot.mouseClick(card.print, LEFT)
    assert card.stop.isVisible()
    assert not card.print.isEnabled()
    qtbot.waitUntil(lambda: not window.file_actions.printer.busy)
    assert said[-1] == "Printing is stopped. Throw away the pages that came out."
    assert any(": page 1 of" in text for text in said)
    assert not card.stop.isVisible()
    assert card.print.isEnabled()
    assert card.title.text() != "Print it, then read both bars"


def test_the_measuring_sheet_is_printed_by_itself(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    answers = Paper(kept / "printed.pdf")
    file_actions(window, answers)
    with qtbot.waitSignal(window.file_actions.printed, timeout=60_000):
        qtbot.mouseClick(window.card.sheet_line, LEFT)
    assert read_with_pikepdf(answers.path.read_bytes())[0].height == pytest.approx(279.4, abs=NEAR)
    assert answers.printer.docName().endswith(": measuring sheet")


def test_making_the_sheets_is_stopped_and_goes_on(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.mouseClick(window.answer.button, LEFT)
    mode, card = window.sheets.mode, window.sheets.card
    assert card.stop.isVisible()
    qtbot.mouseClick(card.stop, LEFT)
    assert card.stop.text() == "Make them now"
    assert window.foot.said == "Stopped. The sheets are not made."
    qtbot.wait(300)
    assert mode.made is None
    qtbot.mouseClick(card.stop, LEFT)
    assert card.stop.text() == "Stop"
    qtbot.waitUntil(lambda: mode.made is not None, timeout=60_000)
    assert not card.stop.isVisible()
