"""The right button gives what can be done with a part: a bolt, a corner, a figure, an old hole, a bracket."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QMenu

from app.tools.handles import grips
from templates_out.drawing.marks import Text
from tests.designs import sure
from tests.gestures.conftest import come_to_rest, place

if TYPE_CHECKING:
    from app.window.main_window import MainWindow


def menu_at(window: MainWindow, at: QPoint) -> QMenu:
    """Ask for the menu there, as the right button does."""
    asked = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, window.face.mapToGlobal(at))
    window.face.contextMenuEvent(asked)
    return [menu for menu in window.face.findChildren(QMenu) if menu.isVisible()][-1]


def take(window: MainWindow, menu: QMenu, words: str) -> None:
    """Press the offer that begins with some words. The window has the focus again, as on a real screen."""
    offer = next(action for action in menu.actions() if action.text().startswith(words))
    menu.close()
    window.activateWindow()
    offer.trigger()
    come_to_rest()


@pytest.mark.parametrize(("part", "words", "key"), [
    ("lower port hole:0", "Go to its entry: drop", "mounts.0.drop"),
    ("upper starboard hole:0", "Go to its entry: upper holes, down", "mounts.0.upper_at"),
    ("lower port hole:0", "Go to its washer, nut and bolt", "mounts.0.lower_hardware.washer.outer"),
    ("bracket:0", "Go to its entry: motor’s height", "mounts.0.row"),
    ("profile corner 1", "Go to its entry: floor depth at port", "well.floor_port"),
])  # fmt: skip
def test_a_parts_menu_leads_to_its_entries(window: MainWindow, part: str, words: str, key: str) -> None:
    grip = next(each for each in grips(window.document.design, 0) if each.part == part)
    at = grip.at if part != "bracket:0" else (grip.at[0] + 50.0, grip.at[1])
    take(window, menu_at(window, place(window, *at)), words)
    assert sure(window.card.entry(key)).field.hasFocus()


def test_a_figures_menu_leads_to_its_entry(window: MainWindow) -> None:
    key = "mounts.0.drop"
    figure = next(mark for mark in window.face.marks() if isinstance(mark, Text) and mark.part == f"measure:{key}")
    at = window.face.place_of((figure.at[0], figure.at[1] + figure.size / 3)).toPoint()
    take(window, menu_at(window, at), "Go to its entry: drop")
    assert sure(window.card.entry(key)).field.hasFocus()


def test_a_bolts_menu_shows_and_hides_where_it_may_be(window: MainWindow) -> None:
    grip = next(each for each in grips(window.document.design, 0) if each.part == "lower port hole:0")
    for shown in (True, False):
        take(window, menu_at(window, place(window, *grip.at)), "Show or hide where its holes may be")
        assert window.document.view_state.zone is shown
        assert window.document.view_state.chosen == "lower port hole:0"
