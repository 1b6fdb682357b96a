"""Figures typed on what is chosen: an edge's length, a corner's radius; each one step, errors at the pointer."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication, QMenu

from app.tools.handles import edge_grips, grips
from tests.gestures.conftest import place

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

LEFT, IN = Qt.MouseButton.LeftButton, 25.4


def middle(window: MainWindow, part: str) -> QPoint:
    """Return the place of an edge or a corner on the face; an edge at a third of its length."""
    every = {grip.part: grip for grip in (*edge_grips(window.document.design), *grips(window.document.design, 0))}
    grip = every[part]
    if " edge" not in part:
        return place(window, *grip.at)
    begin = every[f"{part.split(maxsplit=1)[0]} corner {grip.index}"].at
    return place(window, *(begin[axis] + (grip.at[axis] - begin[axis]) * 2 / 3 for axis in (0, 1)))


def choose(qtbot: QtBot, window: MainWindow, part: str) -> None:
    window.face.show_whole()
    qtbot.mouseMove(window.face, middle(window, part))
    qtbot.mouseClick(window.face, LEFT, pos=middle(window, part))
    assert window.document.view_state.chosen == part


def listed(window: MainWindow, part: str, *, reason: QContextMenuEvent.Reason = QContextMenuEvent.Reason.Mouse) -> QMenu:
    """Ask for the list of what a part offers."""
    window.face.show_whole()
    at = middle(window, part)
    QApplication.sendEvent(window.face, QContextMenuEvent(reason, at, window.face.mapToGlobal(at)))
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    return menu


def take(menu: QMenu, words: str) -> None:
    next(action for action in menu.actions() if action.text() == words).trigger()
    menu.close()


def in_hand(window: MainWindow) -> str:
    return window.document.view_state.tool


def rim(window: MainWindow) -> tuple[tuple[float, float], ...]:
    return tuple((u or 0.0, v or 0.0) for u, v in window.document.design.transom.outline)


def profile(window: MainWindow) -> tuple[tuple[float, float], ...]:
    well = window.document.design.well
    assert well is not None
    return tuple((u or 0.0, y or 0.0) for u, y in well.profile)


def test_a_typed_length_moves_the_end_further_from_the_centreline(qtbot: QtBot, window: MainWindow) -> None:
    """The outline's side at starboard: its lower end is nearer to the centreline, and stays."""
    outline = rim(window)
    side = next(
        i for i, (a, b) in enumerate(zip(outline, outline[1:], strict=False)) if min(a[0], b[0]) > 400 and a[1] != b[1]
    )
    choose(qtbot, window, f"outline edge {side}")
    qtbot.keyClicks(window.face, "14 1/2")
    assert in_hand(window) == "length"
    assert not window.document.history.past
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    after = rim(window)
    assert math.dist(after[side], after[side + 1]) == pytest.approx(14.5 * IN, abs=1e-9)
    far, near = sorted((side, side + 1), key=lambda i: -outline[i][0])
    assert after[near] == outline[near]
    twin = next(i for i, (u, v) in enumerate(outline) if (u, v) == (-outline[far][0], outline[far][1]))
    assert after[twin] == (-after[far][0], after[far][1])  # both sides alike
    assert len(window.document.history.past) == 1
    assert window.document.undo_label == "Transom’s edge to 14 1/2 in"
    assert (in_hand(window), window.document.view_state.chosen) == ("", f"outline edge {side}")
    window.document.undo()
    assert rim(window) == outline


def test_the_floors_length_grows_to_both_sides(qtbot: QtBot, window: MainWindow) -> None:
    from geometry.readings.measures import put_path

    level = ((-270.0, 0.0), (-250.0, -240.0), (250.0, -240.0), (270.0, 0.0))
    window.document.new(put_path(window.document.design, "well.profile", level))
    choose(qtbot, window, "profile edge 1")
    qtbot.keyClicks(window.face, "400 mm")
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    assert profile(window) == ((-270.0, 0.0), (-200.0, -240.0), (200.0, -240.0), (270.0, 0.0))


@pytest.mark.parametrize(("text", "reason"), [("0", "1 mm long or longer"), ("7..", "does not read as a length")])
def test_an_impossible_length_is_named_at_the_pointer(qtbot: QtBot, window: MainWindow, text: str, reason: str) -> None:
    before = window.document.design
    choose(qtbot, window, "profile edge 1")
    qtbot.keyClicks(window.face, text)
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    assert reason in window.face.tools.note
    assert reason in window.foot.said
    assert window.document.design == before
    assert not window.document.history.past
    for _ in text:
        qtbot.keyClick(window.face, Qt.Key.Key_Backspace)
    assert reason not in window.face.tools.note
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert in_hand(window) == ""


def test_round_takes_a_radius_and_both_corners_alike(qtbot: QtBot, window: MainWindow) -> None:
    """By hand: rounding a corner of angle w by r takes r²(cot(w/2) − (π − w)/2) of the air; within 1/2 mm of edge."""
    from geometry.readings.measures import put_path

    level = ((-250.0, 0.0), (-250.0, -240.0), (250.0, -240.0), (250.0, 0.0))
    window.document.new(put_path(window.document.design, "well.profile", level))
    take(listed(window, "profile corner 1"), "Round…")
    assert in_hand(window) == "round"
    qtbot.keyClicks(window.face, "2")
    assert not window.document.history.past
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    made = profile(window)
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(made, made[1:] + made[:1], strict=True))) / 2
    lost = 2 * (2 * IN) ** 2 * (1 - math.pi / 4)
    arcs = 2 * math.pi / 2 * 2 * IN
    assert 0.0 <= (500.0 * 240.0 - lost) - area <= 0.5 * arcs  # never more air than there is
    assert all((round(-u, 9), round(y, 9)) in {(round(a, 9), round(b, 9)) for a, b in made} for u, y in made)
    assert len(window.document.history.past) == 1
    assert window.document.undo_label == "Well corner 2 rounded by 2 in"
    window.document.undo()
    assert profile(window) == level


def test_a_radius_that_is_too_large_is_named_at_the_pointer(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.design
    take(listed(window, "profile corner 1"), "Round…")
    qtbot.keyClicks(window.face, "40")
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    assert "too short" in window.face.tools.note
    assert "At most about" in window.foot.said
    assert window.document.design == before


def test_the_list_of_the_chosen_comes_by_a_key_too(qtbot: QtBot, window: MainWindow) -> None:
    choose(qtbot, window, "profile edge 1")
    menu = listed(window, "profile edge 1", reason=QContextMenuEvent.Reason.Keyboard)
    assert [action.text() for action in menu.actions()] == [
        "Type its length…", "Add a corner here", "Count the well’s line as a guess, so that you can drag it",
    ]
    take(menu, "Type its length…")
    assert in_hand(window) == "length"


def test_a_guessed_wells_new_corner_stays_a_guess(window: MainWindow) -> None:
    from geometry.edits.sketching import insert_corner, remove_corner
    from geometry.edits.starting_shapes import starts

    design = starts()[0].design
    bent = insert_corner(design, "well.profile", 1, (0.0, -247.65))
    assert {bent.readings[f"well.profile.{corner}.{axis}"].state for corner in range(5) for axis in (0, 1)} == {"guess"}
    assert not any(key.startswith("well.floor_port") for key in bent.readings)
    back = remove_corner(bent, "well.profile", 2).readings
    assert back["well.floor_port"].state == back["well.floor_width"].state == "guess"
    assert not any(key.startswith("well.profile") for key in back)
