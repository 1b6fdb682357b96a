"""The windows of the survey and of the taped-up check, by mouse and keys: lines typed one by one, and one answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt

from geometry.design.boat import OldHole
from geometry.units.units import format_length
from tests.designs import roomy
from tests.gestures.conftest import come_to_rest
from tests.gestures.test_sheets_mode import begin

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.printing.taped_window import TapedWindow
    from app.window.main_window import MainWindow
    from app.window.survey_window import SurveyWindow
    from geometry.design.checking_readings import SurveyDistance
    from geometry.design.design import Design

LEFT = Qt.MouseButton.LeftButton
HOLE = OldHole(name="old lower port", at=(-120.0, -255.0), diameter=12.7,
               state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip


@pytest.fixture
def surveying(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> SurveyWindow:
    """The window of the survey, opened from the card of a boat in millimetres with one old hole."""
    window = opened(replace(roomy(), units="mm", old_holes=(HOLE,)))
    qtbot.mouseClick(window.card.survey_line, LEFT)
    come_to_rest()
    assert window.survey.isVisible()
    return window.survey


def type_line(qtbot: QtBot, survey: SurveyWindow, first: str, second: str, length: str) -> None:
    """Type the last line: both names and the distance, then Enter."""
    row = survey.rows[-1]
    for box, name in ((row.first, first), (row.second, second)):
        box.setFocus()
        box.lineEdit().selectAll()
        qtbot.keyClicks(box.lineEdit(), name)
    row.field.setFocus()
    qtbot.keyClicks(row.field, length)
    qtbot.keyClick(row.field, Qt.Key.Key_Return)
    come_to_rest()


def test_lines_typed_one_by_one_say_what_is_missing_and_then_that_all_agree(
    qtbot: QtBot, surveying: SurveyWindow
) -> None:
    document = surveying._document
    assert surveying.said.text().startswith("No distance yet.")
    type_line(qtbot, surveying, "old lower port", "centreline", "121")
    assert "it has one distance. Measure it to one more place." in surveying.said.text()
    type_line(qtbot, surveying, "old lower port", "top edge", "256")
    assert "nothing checks them" in surveying.said.text()
    type_line(qtbot, surveying, "old lower port", "middle of the top edge", "283")
    assert surveying.said.text().startswith("All 3 readings agree within 1\N{NO-BREAK SPACE}mm.")
    assert "121.0 mm to port, 255.9 mm down" in surveying.places.text()
    assert any(mark.part == "ellipse: old lower port" for mark in surveying.picture.marks)
    qtbot.mouseClick(surveying.take, LEFT)
    assert document.design.old_holes[0].at == pytest.approx((-121.0, -256.0), abs=0.2)
    assert document.design.readings["old_holes.0.across"].state == "measured"
    document.undo()
    assert document.design.old_holes == (HOLE,)
    assert len(document.design.survey.distances) == 3


def test_a_distance_that_does_not_agree_is_marked_and_can_be_corrected_or_removed(
    qtbot: QtBot, surveying: SurveyWindow
) -> None:
    for second, length in (("centreline", "120"), ("top edge", "255"), ("middle of the top edge", "300")):
        type_line(qtbot, surveying, "old lower port", second, length)
    assert "nobody can say which" in surveying.said.text()
    assert not surveying.take.isEnabled()
    field = surveying.rows[2].field
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "281.8")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    come_to_rest()
    assert surveying.take.isEnabled()
    qtbot.mouseClick(surveying.rows[0].off, LEFT)
    come_to_rest()
    assert [each.to for each in surveying._document.design.survey.distances] == ["top edge", "middle of the top edge"]
    assert len(surveying.rows) == 3


def test_a_bad_distance_is_refused_in_one_sentence_and_stays_where_it_was_typed(
    qtbot: QtBot, surveying: SurveyWindow
) -> None:
    before = surveying._document.design
    type_line(qtbot, surveying, "old lower port", "centreline", "about a foot")
    assert "does not read as a length" in surveying.problem.text()
    assert surveying.rows[-1].field.text() == "about a foot"
    assert surveying._document.design is before
    type_line_again = surveying.rows[-1].field
    type_line_again.selectAll()
    qtbot.keyClicks(type_line_again, "120")
    qtbot.keyClick(type_line_again, Qt.Key.Key_Return)
    assert surveying.problem.text() == ""
    assert len(surveying._document.design.survey.distances) == 1


def test_a_distance_typed_before_its_names_waits_for_them(qtbot: QtBot, surveying: SurveyWindow) -> None:
    row = surveying.rows[0]
    row.field.setFocus()
    qtbot.keyClicks(row.field, "120")
    qtbot.keyClick(row.field, Qt.Key.Key_Tab)
    assert not _distances(surveying)
    for box, name in ((row.first, "old lower port"), (row.second, "centreline")):
        box.setFocus()
        qtbot.keyClicks(box.lineEdit(), name)
        qtbot.keyClick(box.lineEdit(), Qt.Key.Key_Return)
    come_to_rest()
    assert [each.length for each in _distances(surveying)] == [120.0]


def _distances(surveying: SurveyWindow) -> tuple[SurveyDistance, ...]:
    survey = surveying._document.design.survey
    return survey.distances if survey is not None else ()


@pytest.fixture
def taped(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> TapedWindow:
    """The window of the taped-up check, opened from the strip below the page plan."""
    window = opened(replace(roomy(), units="mm"))
    begin(qtbot, window)
    qtbot.mouseClick(window.sheets.strip.button, LEFT)
    come_to_rest()
    assert window.sheets.taped.isVisible()
    return window.sheets.taped


def test_readings_typed_in_order_end_in_go_on(qtbot: QtBot, taped: TapedWindow) -> None:
    rows = taped._table.paper.rows
    assert taped.answer.text().startswith("Measure the rest before you punch:")
    for row in rows:
        field = taped.fields[row.name]
        field.setFocus()
        qtbot.keyClicks(field, format_length(row.expected, "mm", places=1, unit_word=False))
        qtbot.keyClick(field, Qt.Key.Key_Return)
    come_to_rest()
    assert taped.answer.text().startswith("Go on: every figure is within its tolerance.")
    assert len(taped._document.design.taped.readings) == len(rows)


def test_a_paper_out_of_scale_and_a_bad_reading(qtbot: QtBot, taped: TapedWindow) -> None:
    rows = taped._table.paper.rows
    for row in rows:
        taped.fields[row.name].typed.emit(f"{1.01 * row.expected:.2f}")
    assert taped.answer.text().startswith("Print again: the paper is not at its size.")
    name = rows[0].name
    taped.fields[name].typed.emit("wide")
    assert "does not read as a length" in taped.problem.text()
    assert len(taped._document.design.taped.readings) == len(rows)
