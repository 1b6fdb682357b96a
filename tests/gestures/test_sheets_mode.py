"""Making the sheets in the window: the plan over the drawing, the real pages beside it, saved and opened."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pypdfium2
import pytest
from PySide6.QtCore import Qt

from app.dates import today
from app.sheet_set import Wish, margin_of, plan_words, sheet_set, taped_words
from geometry.design.edits import set_units
from geometry.errors import OwnerError
from geometry.judge.check import check
from tests.gestures.conftest import place
from tests.gestures.test_window import Answers, too_wide

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.main_window import MainWindow
    from geometry.design.whole import Design

LEFT = Qt.MouseButton.LeftButton


class Viewer(Answers):
    """Answers, and keeps which file was opened in the viewer."""

    shown: Path | None = None

    def show_file(self, path: Path) -> bool:
        self.shown = path
        return True


def begin(qtbot: QtBot, window: MainWindow) -> None:
    """Press the button, and wait for all pages."""
    qtbot.mouseClick(window.answer.button, LEFT)
    assert window.desk.sight.sheets
    all_pictured(qtbot, window)


def all_pictured(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.waitUntil(
        lambda: window.sheets.made is not None and window.paper.pictured == len(window.sheets.made.sheets.pages), timeout=20000
    )


def test_in_and_out_leaves_the_design_as_it_was(qtbot: QtBot, window: MainWindow) -> None:
    design = window.desk.design
    begin(qtbot, window)
    assert window.paper.isVisible()
    assert window.sheets_card.isVisible()
    assert not window.card.isVisible()
    assert not window.ladder.isVisible()
    assert window.answer.button.text() == "Save the PDF"
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert not window.desk.sight.sheets
    assert window.card.isVisible()
    assert window.ladder.isVisible()
    assert window.answer.button.text() == "Make the sheets"
    assert window.desk.design == design
    assert window.desk.history.past == ()


def test_the_way_back_is_a_word_beside_the_button(qtbot: QtBot, window: MainWindow) -> None:
    begin(qtbot, window)
    qtbot.mouseClick(window.answer.link, LEFT)
    assert not window.desk.sight.sheets


def test_what_is_saved_is_what_was_shown(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    answers = Viewer(kept / "x")
    window.doors._asking = answers  # type: ignore[assignment]
    begin(qtbot, window)
    qtbot.mouseClick(window.answer.button, LEFT)
    qtbot.waitUntil(lambda: bool(list(kept.glob("* sheets.pdf"))), timeout=20000)
    path = next(kept.glob("* sheets.pdf"))
    made = window.sheets.made
    assert made is not None
    assert path.read_bytes() == made.pdf
    document = pypdfium2.PdfDocument(path)
    assert len(document) == len(made.sheets.pages)
    plan = made.sheets.plan
    wide, high = document[0].get_size()  # 1/72 in: ISO 32000-1, 8.3.2.3
    assert (wide, high) == pytest.approx((plan.width / 25.4 * 72, plan.height / 25.4 * 72), abs=0.01)
    document.close()
    assert made.sheets.checked.design.revision == 1
    assert window.sheets_card.title.text() == "Print it, then read both bars"
    qtbot.mouseClick(window.sheets_card.open, LEFT)
    assert answers.shown == path
    assert answers.told == [""]


def test_other_paper_makes_other_pages(qtbot: QtBot, window: MainWindow) -> None:
    begin(qtbot, window)
    window.sheets_card.paper.pick("tabloid")
    all_pictured(qtbot, window)
    made = window.sheets.made
    assert made is not None
    assert {made.sheets.plan.width, made.sheets.plan.height} == {279.4, 431.8}
    window.sheets_card.turned.pick("portrait")
    all_pictured(qtbot, window)
    assert window.sheets.made is not None
    assert window.sheets.made.sheets.plan.orientation == "portrait"


def test_sheets_can_be_left_out(qtbot: QtBot, window: MainWindow) -> None:
    begin(qtbot, window)
    window.sheets_card.boxes["shop"].setChecked(False)
    window.sheets_card.boxes["inside"].setChecked(False)
    all_pictured(qtbot, window)
    assert window.sheets.made is not None
    assert [group.key for group in window.sheets.made.sheets.groups] == ["template"]


def test_a_bar_that_no_printer_prints_is_refused_in_its_place(qtbot: QtBot, window: MainWindow) -> None:
    begin(qtbot, window)
    field = window.sheets_card.across
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "5")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: "bar across" in window.sheets_card._problem.text(), timeout=20000)
    assert window.sheets.made is None


def test_nothing_is_dragged_while_the_sheets_are_made(qtbot: QtBot, window: MainWindow) -> None:
    design = window.desk.design
    begin(qtbot, window)
    start = place(window, 60.0, -130.0)
    qtbot.mousePress(window.face, LEFT, pos=start)
    qtbot.mouseMove(window.face, place(window, 120.0, -180.0))
    qtbot.mouseRelease(window.face, LEFT, pos=place(window, 120.0, -180.0))
    assert window.desk.design == design


def test_the_plan_and_the_checks_in_words(fitting: Design) -> None:
    """Spacings by hand: the standard pattern's pairs stand 12 7/8 and 9 7/8 in apart (common practice, no source);
    the diagonal at a drop of 6 1/2 in is the root of (6 7/16 + 4 15/16) squared and 6 1/2 squared: 13.10 in."""
    found = sheet_set(check(fitting), Wish("letter"), today())
    assert plan_words(found.plan) == "Page plan: four pages, two across"
    assert taped_words(found) == (
        "Measure upper to upper 12 7/8 in, lower to lower 9 7/8 in, both diagonals 13 3/32 in."
    )
    metric = sheet_set(check(set_units(fitting, "mm")), Wish("a4", shop=False, inside=False), today())
    assert "both diagonals 332.8 mm" in taped_words(metric)


@pytest.mark.parametrize("text", ["-1", "3 in", "x"])
def test_a_bare_edge_that_no_printer_leaves(text: str) -> None:
    with pytest.raises(OwnerError):
        margin_of(text, "in")


def test_the_event_loop_goes_on_while_pages_are_made(qtbot: QtBot, window: MainWindow) -> None:
    """Ticks of a 10 ms timer come all the while: the work goes on beside the event loop (here: 20 of them at least)."""
    from PySide6.QtCore import QTimer

    ticks: list[int] = []
    timer = QTimer(interval=10)
    timer.timeout.connect(lambda: ticks.append(1))
    timer.start()
    begin(qtbot, window)
    timer.stop()
    assert len(ticks) >= 20


SIZES = [("in", 1366, 708), ("mm", 1366, 708), ("in", 1920, 1016), ("in", 683, 384)]


@pytest.mark.parametrize(("units", "wide", "high"), SIZES)
def test_no_text_is_wider_than_its_place(qtbot: QtBot, window: MainWindow, units: str, wide: int, high: int) -> None:
    window.desk.commit("Unit", set_units(window.desk.design, "in" if units == "in" else "mm"))
    window.resize(wide, high)
    begin(qtbot, window)
    for part in ("card", "face", "cut"):
        window.columns.show_part(part)
        qtbot.wait(20)
        assert too_wide(window) == [], part
