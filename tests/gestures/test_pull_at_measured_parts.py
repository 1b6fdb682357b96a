"""A pull at what was measured: the words at the pointer, the entry lit on the card, and the answer as it was."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent

from app.tools.handles import edge_grips
from assets import design_text
from geometry.design_text import from_text
from tests.gestures.conftest import chosen, pixel, place

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

LEFT = Qt.MouseButton.LeftButton
WORDS = "Floor depth at starboard, measured: 10 5/8 in. Type a new reading on the card."


def press_and_pull(qtbot: QtBot, window: MainWindow, start: QPoint, by: QPoint) -> None:
    """Press and move in three steps; the button stays down."""
    qtbot.mouseMove(window.face, start)
    qtbot.mousePress(window.face, LEFT, pos=start)
    for part in (3, 2, 1):
        qtbot.mouseMove(window.face, QPoint(start.x() + by.x() // part, start.y() + by.y() // part))


def floor_at(window: MainWindow) -> QPoint:
    """Return a place on the floor's line at starboard, off every hole."""
    floor = next(grip for grip in edge_grips(window.document.design) if grip.part == "profile edge 1")
    return place(window, floor.at[0] + 60.0, floor.at[1])


def test_a_pull_at_the_measured_floor_changes_nothing_and_leads_to_its_entry(qtbot: QtBot, window: MainWindow) -> None:
    """Pulled 2 in down, the floor would make room for the lower bolts: the answer must not turn."""
    before, sentence = window.document.design, window.answer.sentence
    assert sentence.startswith("Don’t drill")
    start, by = floor_at(window), QPoint(0, round(50.8 / pixel(window)))
    press_and_pull(qtbot, window, start, by)
    assert window.face.figure == WORDS
    assert window.foot.said == WORDS
    assert window.document.checked.design == before
    assert window.document.view_state.section == 3
    assert window.document.view_state.lit == "well.floor_starboard"
    entry = window.card.entry("well.floor_starboard")
    assert entry is not None
    assert entry.field.pointed
    qtbot.mouseRelease(window.face, LEFT, pos=start + by)
    assert window.document.design == before
    assert window.document.history.past == ()
    assert window.answer.sentence == sentence
    assert entry.field.hasFocus()
    assert entry.field.selectedText() == entry.field.text() == "10 5/8"
    assert window.foot.said == WORDS
    qtbot.keyClicks(entry.field, "11")
    qtbot.keyClick(entry.field, Qt.Key.Key_Return)
    assert window.document.undo_label == "Floor depth at starboard to 11 in"
    assert window.document.design.readings["well.floor_starboard"].state == "measured"


def test_an_arrow_at_a_measured_corner_says_the_same_and_lights_the_entry(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.design
    chosen(window, "profile corner 2")
    for _ in range(3):
        qtbot.keyPress(window.face, Qt.Key.Key_Down)
    assert window.foot.said == WORDS
    assert window.document.checked.design == before
    entry = window.card.entry("well.floor_starboard")
    assert entry is not None
    assert entry.field.pointed
    assert window.face.hasFocus()
    qtbot.keyRelease(window.face, Qt.Key.Key_Down)
    assert window.document.history.past == ()
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    assert entry.field.hasFocus()
    assert entry.field.selectedText() == "10 5/8"


def test_the_light_goes_with_the_hand(qtbot: QtBot, window: MainWindow) -> None:
    chosen(window, "profile corner 2")
    qtbot.keyClick(window.face, Qt.Key.Key_Down)
    entry = window.card.entry("well.floor_starboard")
    assert entry is not None
    assert entry.field.pointed
    qtbot.mouseClick(window.face, LEFT, pos=place(window, 60.0, -130.0))  # the bracket is chosen instead
    assert window.document.view_state.chosen == "bracket:0"
    assert not entry.field.pointed


def test_escape_in_such_a_pull_leaves_all_as_it_was(qtbot: QtBot, window: MainWindow) -> None:
    before, start = window.document.design, floor_at(window)
    press_and_pull(qtbot, window, start, QPoint(0, 40))
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert window.face.figure == ""
    qtbot.mouseRelease(window.face, LEFT, pos=start)
    assert window.document.design == before
    assert window.document.history.past == ()


def test_a_measured_old_hole_stays_and_its_entry_is_lit(qtbot: QtBot, window: MainWindow) -> None:
    window.document.new(from_text(design_text("thrice-drilled-runabout")))
    window.face.show_whole()
    old_holes = window.document.design.old_holes
    index, hole = next((i, old_hole) for i, old_hole in enumerate(old_holes) if old_hole.name == "cable hole")
    before = window.document.design
    start = place(window, hole.at[0] or 0.0, hole.at[1] or 0.0)
    press_and_pull(qtbot, window, start, QPoint(0, 40))
    assert "Cable hole, down, measured: " in window.face.figure
    qtbot.mouseRelease(window.face, LEFT, pos=start + QPoint(0, 40))
    assert window.document.design == before
    entry = window.card.entry(f"old_holes.{index}.down")
    assert entry is not None
    assert entry.field.hasFocus()


def test_a_measured_outline_stays_and_its_menu_frees_it(qtbot: QtBot, window: MainWindow) -> None:
    """It has no entry to be led to; its menu, which a key opens too, counts it as a guess in one step that can be undone."""
    window.face.show_whole()
    before, corner = window.document.design, window.document.design.transom.outline[4]
    start = place(window, corner[0] or 0.0, corner[1] or 0.0)
    press_and_pull(qtbot, window, start, QPoint(30, 0))
    assert "Transom corner 5, measured: 13 in across, 3 in up." in window.face.figure
    qtbot.mouseRelease(window.face, LEFT, pos=start + QPoint(30, 0))
    assert window.document.design == before
    assert window.document.view_state.lit == ""
    chosen(window, "outline corner 4")
    asked = QContextMenuEvent(QContextMenuEvent.Reason.Keyboard, start, window.face.mapToGlobal(start))
    window.face.contextMenuEvent(asked)
    from PySide6.QtWidgets import QMenu

    menu = window.face.findChildren(QMenu)[-1]
    offer = next(action for action in menu.actions() if action.text().startswith("Count the transom’s outline as a guess"))
    offer.trigger()
    menu.close()
    assert window.document.undo_label == "Transom’s outline counted as a guess"
    assert window.document.design.readings["transom.outline"].state == "guess"
    press_and_pull(qtbot, window, start, QPoint(30, 0))
    qtbot.mouseRelease(window.face, LEFT, pos=start + QPoint(30, 0))
    assert window.document.undo_label == "Transom corner 5 moved"
    assert window.document.design.readings["transom.outline"].state == "guess"
    window.document.undo()
    window.document.undo()
    assert window.document.design == before


@pytest.mark.parametrize("key", [Qt.Key.Key_Delete, None])
def test_no_corner_comes_or_goes_on_a_measured_well(qtbot: QtBot, window: MainWindow, key: Qt.Key | None) -> None:
    before = window.document.design
    if key is None:
        qtbot.mouseDClick(window.face, LEFT, pos=floor_at(window))
        qtbot.mouseRelease(window.face, LEFT, pos=floor_at(window))
    else:
        chosen(window, "profile corner 2")
        qtbot.keyClick(window.face, key)
    assert window.document.design == before
    assert "measured: " in window.foot.said


def test_a_bolt_is_still_dragged(qtbot: QtBot, window: MainWindow) -> None:
    mount = window.document.design.mounts[0]
    assert mount.bracket.lower is not None
    start = place(window, mount.bracket.lower.half_spacing, (mount.upper_at or 0.0) - (mount.drop or 0.0))
    press_and_pull(qtbot, window, start, QPoint(0, -20))
    qtbot.mouseRelease(window.face, LEFT, pos=start + QPoint(0, -20))
    assert window.document.undo_label.startswith("Drop to ")
