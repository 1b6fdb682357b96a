"""How a boat begins: starting shapes, blank, recent boats, the first start's hint; steps and what is remembered."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent

from app.document.recovery import Autosave
from app.document.settings import remember_boat, settings
from app.ui.theme import apply_theme, is_dark
from assets import design_text
from geometry.edits.edits import with_mount
from geometry.edits.starting_shapes import starts
from tests.gestures.test_window import Answers, file_actions

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtGui import QAction
    from PySide6.QtWidgets import QMenu
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

LEFT = Qt.MouseButton.LeftButton


def menu_action(window: MainWindow, title: str) -> QAction:
    """Return a menu's line by its words."""
    menus = [action.menu() for action in window.menuBar().actions()]
    lines: list[QAction] = [line for menu in menus for line in menu.actions()]  # type: ignore[attr-defined]
    return next(line for line in lines if line.text().replace("&", "").startswith(title))


def listed(window: MainWindow, title: str) -> list[QAction]:
    """Open a list in a menu; return its lines."""
    menu: QMenu = menu_action(window, title).menu()  # type: ignore[assignment]
    menu.aboutToShow.emit()
    return menu.actions()


def tile(window: MainWindow, title: str):
    """Open the page where a boat begins; return one of its tiles."""
    menu_action(window, "New").trigger()
    return next(tile for tile in window.start.tiles if tile.text() == title)


def test_new_offers_five_shapes_and_blank(window: MainWindow) -> None:
    menu_action(window, "New").trigger()
    assert window.start.isVisible()
    assert not window.card.isVisible()
    names = [tile.accessibleName() for tile in window.start.tiles]
    assert names == [*(start.title for start in starts()), "Blank sheet"]
    assert all(tile.accessibleDescription() for tile in window.start.tiles)


def test_a_shape_is_one_step_upon_a_blank_sheet(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.mouseClick(tile(window, "Notched transom"), LEFT)
    expected = next(start.design for start in starts() if start.title == "Notched transom")
    assert window.document.design == expected
    assert window.card.isVisible()
    assert window.document.undo_label == "Notched transom"
    assert len(window.document.history.past) == 1
    window.document.undo()
    assert window.document.design.mounts == ()
    assert window.document.path is None


def test_a_shape_is_taken_by_keys_alone(qtbot: QtBot, window: MainWindow) -> None:
    window.activateWindow()
    qtbot.keyClick(window, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    first = window.start.tiles[0]
    qtbot.waitUntil(first.hasFocus)
    qtbot.keyClick(first, Qt.Key.Key_Right)
    qtbot.waitUntil(window.start.tiles[1].hasFocus)
    qtbot.keyClick(window.start.tiles[1], Qt.Key.Key_Return)
    assert window.document.design.well is None
    assert window.document.design.mounts != ()


@pytest.mark.parametrize(("wide", "columns"), [(1366, 3), (700, 2)])
def test_the_shapes_stand_side_by_side_as_there_is_room(qtbot: QtBot, window: MainWindow, wide: int, columns: int) -> None:
    window.show_start()
    window.resize(wide, 600)
    qtbot.waitUntil(lambda: len({tile.x() for tile in window.start.tiles}) == columns)
    assert len({tile.y() for tile in window.start.tiles}) == 6 / columns


def test_escape_goes_back_and_changes_nothing(qtbot: QtBot, window: MainWindow) -> None:
    design = window.document.design
    first = tile(window, "Cut-out, shallow well")
    qtbot.keyClick(first, Qt.Key.Key_Escape)
    assert window.card.isVisible()
    assert window.document.design is design


def test_blank_says_what_is_next(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.mouseClick(tile(window, "Blank sheet"), LEFT)
    assert window.card.next_step.accessibleDescription().startswith("Draw the transom. ")
    assert window.document.history.past == ()
    assert not window.document.changed_since_saved


def test_a_new_boat_asks_before_another_is_lost(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    window.document.commit("Drop", with_mount(window.document.design, 0, drop=170.0))
    answers = Answers(kept / "other.boltwell", answer=2)
    file_actions(window, answers)
    qtbot.mouseClick(tile(window, "No well"), LEFT)
    assert answers.asked == 1
    assert window.document.design.mounts[0].drop == 170.0
    assert window.start.isVisible()


@pytest.mark.parametrize("title", ["Notched transom", "Blank sheet"])
def test_a_new_boat_that_nobody_touched_is_left_without_a_question(
    qtbot: QtBot, window: MainWindow, kept: Path, title: str
) -> None:
    answers = Answers(kept / "other.boltwell", answer=2)
    file_actions(window, answers)
    qtbot.mouseClick(tile(window, title), LEFT)
    assert not window.isWindowModified()
    window.closeEvent(QCloseEvent())
    qtbot.mouseClick(tile(window, "No well"), LEFT)
    assert window.document.undo_label == "No well"
    assert answers.asked == 0
    window.document.commit("Drop", with_mount(window.document.design, 0, drop=170.0))
    assert window.isWindowModified()
    qtbot.mouseClick(tile(window, title), LEFT)
    assert answers.asked == 1
    assert window.document.undo_label == "Drop"
    window.document.undo()  # to the shape as it was taken
    window.closeEvent(QCloseEvent())
    assert answers.asked == 1


def test_recent_boats_are_offered_and_open(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    path = kept / "launch.boltwell"
    path.write_text(design_text("cap-lip-launch"))
    remember_boat(path)
    menu_action(window, "New").trigger()
    assert [line.text() for line in window.start.recent] == ["launch"]
    qtbot.mouseClick(window.start.recent[0], LEFT)
    assert window.document.path == path
    assert window.card.isVisible()
    assert [line.text() for line in listed(window, "Recent boats")] == ["launch.boltwell"]


def test_a_saved_boat_is_remembered_and_takes_its_files_name(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    qtbot.mouseClick(tile(window, "No well"), LEFT)
    file_actions(window, Answers(kept / "any"))
    assert window.file_actions.save()
    saved = next(kept.glob("*.boltwell"))
    assert settings().recent == (str(saved),)
    assert window.document.design.name == saved.stem


def test_the_hint_has_three_lines_and_is_put_away_for_good(qtbot: QtBot, window: MainWindow) -> None:
    from app.frame.first_hint import LINES

    assert not window.hint.isVisible()  # only a first start shows it
    window.hint.show()
    assert len(LINES) == 3
    qtbot.mouseClick(window.hint.button, LEFT)
    assert not window.hint.isVisible()
    assert settings().hint_read


def test_the_list_of_steps_jumps_back_and_forth(window: MainWindow) -> None:
    for drop in (190.0, 180.0, 170.0):
        window.document.commit(f"Drop to {drop:g} mm", with_mount(window.document.design, 0, drop=drop))
    names = [line.text() for line in listed(window, "Steps")]
    assert names == ["As opened", "Drop to 190 mm", "Drop to 180 mm", "Drop to 170 mm"]
    listed(window, "Steps")[1].trigger()
    assert window.document.design.mounts[0].drop == 190.0
    assert window.document.redo_label == "Drop to 180 mm"
    assert [line.isChecked() for line in listed(window, "Steps")] == [False, True, False, False]
    listed(window, "Steps")[3].trigger()
    assert window.document.design.mounts[0].drop == 170.0
    assert window.document.redo_label == ""


def test_light_or_dark_is_remembered(window: MainWindow) -> None:
    menu_action(window, "Dark").trigger()
    assert settings().dark is True
    apply_theme(dark=False)
    again = type(window)(window.document)
    assert is_dark()
    again.deleteLater()
    apply_theme(dark=False)


def test_trouble_with_keeping_is_shown_until_it_is_over(window: MainWindow) -> None:
    window.foot.show_trouble("The last change is not kept against a crash: the disk is full.")
    window.foot.say("Bracket of main motor")
    assert window.foot.trouble.startswith("The last change is not kept")
    window.foot.show_trouble("")
    assert window.foot.trouble == ""


@pytest.mark.parametrize("title", ["Cut-out, shallow well", "Blank sheet"])
def test_a_new_boat_shows_in_every_part(qtbot: QtBot, window: MainWindow, title: str) -> None:
    qtbot.mouseClick(tile(window, title), LEFT)
    if window.document.design.mounts:
        qtbot.waitUntil(lambda: bool(window.ladder.shown))  # the ladder of the new boat is known
    assert not window.grab().isNull()
    assert window.answer.sentence


def test_a_change_that_cannot_be_kept_is_named_in_the_foot_line(window: MainWindow, kept: Path) -> None:
    (kept / "full").write_text("a file where a folder was expected")
    saver = Autosave(kept / "full")
    saver.follow(window.document)
    window.document.shown.connect(lambda *_: window.foot.show_trouble(saver.trouble))
    window.document.commit("Drop", with_mount(window.document.design, 0, drop=170.0))
    assert window.foot.trouble.startswith("The last change is not kept against a crash:")
    window.document.undo()  # nothing is left to lose
    assert window.foot.trouble == ""
