"""Small windows: one part at a time below 900 wide, the ladder over the face below 680 high."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from app.panels.columns import FOLDED, PARTS, columns_of
from tests.gestures.conftest import come_to_rest
from tests.gestures.looking import too_wide

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.main_window import MainWindow

LEFT = Qt.MouseButton.LeftButton


def small(qtbot: QtBot, window: MainWindow, wide: int = 683, high: int = 384) -> None:
    window.hint.hide()
    window.resize(wide, high)
    qtbot.waitUntil(lambda: (window.width(), window.height()) == (wide, high))


def seen(window: MainWindow) -> set[str]:
    places = {"card": window.card, "face": window.face, "cut": window.cut, "findings": window.findings}
    return {name for name, place in places.items() if place.isVisible()}


def test_a_wide_window_shows_all(window: MainWindow) -> None:
    assert seen(window) == set(PARTS)
    assert not any(button.isVisible() for button in window.foot.parts.values())


def test_a_narrow_one_shows_the_part_that_is_chosen(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window)
    assert seen(window) == {"face"}
    assert window.answer.isVisible()
    for name in PARTS:
        qtbot.mouseClick(window.foot.parts[name], LEFT)
        assert seen(window) == {name}
        assert window.foot.parts[name].isChecked()
    window.resize(1366, 708)
    qtbot.waitUntil(lambda: seen(window) == set(PARTS))


def test_f6_goes_round_and_brings_each_part_to_sight(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window)
    window.answer.button.setFocus()
    came = []
    for _ in range(6):
        window.rounds.on()
        came.append(next(iter(seen(window))))
    assert came == ["card", "face", "cut", "face", "findings", "findings"]
    assert window.answer.button.hasFocus()
    window.rounds.back()
    assert seen(window) == {"findings"}


def test_a_dimension_leads_to_the_card(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window)
    window.face.wanted.emit("mounts.0.drop")
    assert seen(window) == {"card"}
    assert window.desk.sight.lit == "mounts.0.drop"


def test_low_windows_open_the_ladder_over_the_face(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window, 1366, 560)
    before = window.face.height()
    qtbot.mouseClick(window.ladder.head, LEFT)
    qtbot.waitUntil(lambda: any(rung.isVisible() for rung in window.ladder.rungs))
    assert window.face.height() == before
    assert window.ladder.geometry().top() < window.face.geometry().bottom()
    qtbot.mouseClick(window.ladder.head, LEFT)
    assert window.ladder.geometry().top() > window.face.geometry().bottom()


def test_high_windows_open_it_below_the_face(qtbot: QtBot, window: MainWindow) -> None:
    before = window.face.height()
    qtbot.mouseClick(window.ladder.head, LEFT)
    qtbot.waitUntil(lambda: any(rung.isVisible() for rung in window.ladder.rungs))
    assert window.face.height() < before
    assert window.ladder.geometry().top() > window.face.geometry().bottom()


def test_the_cut_folds_where_the_margin_is_narrow(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window, 1100, 700)
    assert seen(window) == set(PARTS)
    assert window.cut.height() == FOLDED


@pytest.mark.parametrize("wide", [683, 1000, 1366])
def test_every_tool_has_its_place(qtbot: QtBot, window: MainWindow, wide: int) -> None:
    small(qtbot, window, wide, 500)
    head = window.face_head
    for name, button in head.tools.items():
        assert button.geometry().right() <= head.width(), name
        assert button.width() >= button.sizeHint().width(), name
        assert button.geometry().bottom() < head.height(), name


def test_the_columns_fill_the_width() -> None:
    for wide in (900, 1180, 1366, 1920, 3840):
        assert sum(columns_of(wide)) == wide


@pytest.mark.parametrize(("wide", "high"), [(683, 384), (899, 560), (1180, 640)])
def test_no_text_is_wider_than_its_place(qtbot: QtBot, window: MainWindow, wide: int, high: int) -> None:
    small(qtbot, window, wide, high)
    for part in PARTS:
        window.columns.show_part(part)
        come_to_rest()
        assert too_wide(window) == [], part
