"""The isometric picture in the window: shown in the cut's place, turned by the pointer and by keys, live."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt

from geometry.edits.edits import with_mount
from templates_out.drawing.marks import Text
from templates_out.isometric.isometric_marks import Turn

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.canvas.isometric_canvas import IsometricCanvas
    from app.window.main_window import MainWindow

LEFT = Qt.MouseButton.LeftButton


def opened_picture(qtbot: QtBot, window: MainWindow) -> IsometricCanvas:
    qtbot.mouseClick(window.cut.in_space, LEFT)
    picture = window.cut.isometric
    assert picture is not None
    qtbot.waitUntil(lambda: bool(picture.marks()))
    return picture


def words(picture: IsometricCanvas) -> list[str]:
    return [mark.text for mark in picture.marks() if isinstance(mark, Text)]


def test_the_picture_takes_the_cuts_place_and_gives_it_back(qtbot: QtBot, window: MainWindow) -> None:
    assert window.cut.isometric is None  # not made before it is wanted
    picture = opened_picture(qtbot, window)
    assert picture.isVisible()
    assert not window.cut.canvas.isVisible()
    assert not window.cut.switch.isVisible()
    assert "Fouled: both lower bolts" in words(picture)
    qtbot.mouseClick(window.cut.in_space, LEFT)
    assert window.cut.canvas.isVisible()
    assert not picture.isVisible()
    assert window.document.undo_label == ""


def test_dragging_and_keys_turn_it_and_home_turns_it_back(qtbot: QtBot, window: MainWindow) -> None:
    picture = opened_picture(qtbot, window)
    before = picture.marks()
    qtbot.mousePress(picture, LEFT, pos=QPoint(100, 100))
    qtbot.mouseMove(picture, QPoint(160, 100))
    qtbot.mouseRelease(picture, LEFT, pos=QPoint(160, 100))
    assert picture.turn.round == Turn().round + 30.0
    assert picture.marks() != before
    picture.setFocus()
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_Plus):
        qtbot.keyClick(picture, key)
    assert (picture.turn.round, picture.turn.up) == (Turn().round + 60.0, Turn().up - 15.0)
    assert picture.closer > 1.0
    assert picture.accessibleDescription().startswith("Seen from outside and starboard.")
    qtbot.keyClick(picture, Qt.Key.Key_Home)
    assert (picture.turn, picture.closer) == (Turn(), 1.0)
    assert picture.marks() == before


def test_it_follows_the_boat_and_asks_for_what_is_missing(qtbot: QtBot, window: MainWindow) -> None:
    picture = opened_picture(qtbot, window)
    window.document.commit("Drop", with_mount(window.document.design, 0, drop=184.15))
    qtbot.waitUntil(lambda: "Fouled: both lower bolts" not in words(picture))
    design = window.document.design
    window.document.commit("Rake", replace(design, transom=replace(design.transom, rake=None)))
    qtbot.waitUntil(lambda: words(picture) == ["The picture needs: rake."])


def test_the_keyboard_opens_it_and_it_has_the_focus_then(qtbot: QtBot, window: MainWindow) -> None:
    window.cut.take_focus()
    qtbot.keyClick(window, Qt.Key.Key_I, Qt.KeyboardModifier.ControlModifier)
    assert window.document.view_state.isometric
    assert window.cut.isometric is not None
    assert window.cut.isometric.hasFocus()
