"""A section that the program opens is brought into sight. One that a hand opens stays where it was pressed."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt

from app.document.examples import demonstrations
from tests.gestures.conftest import come_to_rest

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from geometry.design.design import Design

LEFT = Qt.MouseButton.LeftButton
SIZE = 1024, 700
DROP, MOTOR = 7, 5  # sections


def _small(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> MainWindow:
    window = opened(demonstrations()["tapered-work-boat"])
    window.resize(*SIZE)
    qtbot.waitUntil(lambda: (window.width(), window.height()) == SIZE)
    return window


def _lines_in_sight(window: MainWindow, section: int) -> int:
    """Return how many lines of a section are whole within the list, its head not counted; -1 where that is not."""
    card = window.card
    list_high = card._area.viewport().height()

    def whole(low: int, high: int) -> bool:
        return low >= 0 and high <= list_high

    head, body = card.heads[section - 1], card._bodies[section - 1]
    top = head.mapTo(card._area.viewport(), QPoint(0, 0)).y()
    if not whole(top, top + head.height()):
        return -1
    parts = [card._parts[section][key] for key in body.keys]
    tops = [part.mapTo(card._area.viewport(), QPoint(0, 0)).y() for part in parts]
    return sum(whole(at, at + part.height()) for at, part in zip(tops, parts, strict=True))


def _shows_its_lines(window: MainWindow, section: int) -> bool:
    return _lines_in_sight(window, section) >= 4


def test_a_section_that_the_program_opens_shows_its_first_lines(
    qtbot: QtBot, opened: Callable[[Design], MainWindow]
) -> None:
    """With the question above it, the list of 1024 x 700 has room for some seven lines."""
    window = _small(qtbot, opened)
    for section in (DROP, MOTOR, DROP):
        window.document.set_view_state(replace(window.document.view_state, section=section))
        qtbot.waitUntil(partial(_shows_its_lines, window, section))


def test_a_section_that_is_pressed_stays_under_the_pointer(
    qtbot: QtBot, opened: Callable[[Design], MainWindow]
) -> None:
    window = _small(qtbot, opened)
    window.document.set_view_state(replace(window.document.view_state, section=MOTOR))
    qtbot.waitUntil(lambda: _lines_in_sight(window, MOTOR) >= 4)
    window.document.set_view_state(replace(window.document.view_state, section=0))
    come_to_rest()
    bar, card = window.card._area.verticalScrollBar(), window.card
    bar.setValue(bar.maximum())
    before = bar.value()
    qtbot.mouseClick(card.heads[DROP - 1], LEFT)
    assert window.document.view_state.section == DROP
    come_to_rest()
    card._in_sight._scroll()  # what later timers do
    assert bar.value() == before


def test_the_list_stays_where_a_hand_scrolled_it(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    window = _small(qtbot, opened)
    window.document.set_view_state(replace(window.document.view_state, section=MOTOR))
    qtbot.waitUntil(lambda: _lines_in_sight(window, MOTOR) >= 4)
    bar = window.card._area.verticalScrollBar()
    bar.triggerAction(bar.SliderAction.SliderToMinimum)
    window.resize(SIZE[0], SIZE[1] + 20)
    come_to_rest()
    window.card._in_sight._scroll()
    assert bar.value() == bar.minimum()
