"""Several values that one press answers at the top of the card, and moves, by mouse and keyboard."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from geometry.edits.confirm_or_buy import parts, pattern
from geometry.edits.starting_shapes import starts
from geometry.readings.measures import measure, put_path, state_of
from geometry.readings.second_readings import OUTSIDE, WASHER_ACROSS
from tests.designs import sure
from tests.gestures.conftest import come_to_rest
from tests.gestures.looking import nameless, too_wide
from tests.gestures.test_question import GUESS, with_guesses

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.card.next_step_panel import NextStepPanel
    from app.window.main_window import MainWindow
    from geometry.design.design import Design

LEFT = Qt.MouseButton.LeftButton
OUTER = "mounts.0.lower_hardware.washer.outer"


@pytest.fixture
def standard(fitting: Design) -> Design:
    """The worked boat with its pattern's distances guessed: three, and how far the upper holes are apart."""
    rows = pattern(fitting, 0)
    assert len(rows) == 4
    return with_guesses(fitting, *(row.key for row in rows))


def asked(qtbot: QtBot, window: MainWindow, title: str) -> NextStepPanel:
    """Return the panel once it asks for a group, with the hand on its button."""
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    panel = window.card.next_step
    qtbot.waitUntil(lambda: panel.title == title)
    window.card.take_focus()
    assert panel.button.hasFocus()
    come_to_rest()
    assert too_wide(window.card) == []
    assert nameless(window.card) == []
    return panel


def states(window: MainWindow, keys: tuple[str, ...]) -> set[str]:
    """Return where some values are from."""
    design = window.document.design
    return {state_of(design, sure(measure(design, key))) for key in keys}


def test_the_standard_pattern_is_confirmed_with_one_press(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], standard: Design
) -> None:
    window = opened(standard)
    panel = asked(qtbot, window, "Does your bracket match?")
    assert "12 7/8 in" in panel.button.accessibleName()
    qtbot.keyClick(panel.button, Qt.Key.Key_Space)
    assert states(window, tuple(row.key for row in pattern(standard, 0))) == {"confirmed"}
    assert window.document.undo_label.startswith("Standard pattern confirmed")
    assert window.document.history.undo().present.design == standard
    focus = QApplication.focusWidget()
    assert focus is not None
    assert panel.isAncestorOf(focus) or focus is panel


def test_a_press_keeps_what_was_changed_since_the_question_came(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], standard: Design
) -> None:
    """Also before the chances of the changed boat are known."""
    window = opened(standard)
    panel = asked(qtbot, window, "Does your bracket match?")
    window.document.commit("Leg", put_path(window.document.design, "mounts.0.leg", 500.0))
    qtbot.mouseClick(panel.button, LEFT)
    assert window.document.design.mounts[0].leg == 500.0
    assert states(window, tuple(row.key for row in pattern(standard, 0))) == {"confirmed"}


def test_another_pattern_is_typed_value_by_value(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], standard: Design
) -> None:
    window = opened(standard)
    panel = asked(qtbot, window, "Does your bracket match?")
    qtbot.mouseClick(panel.second, LEFT)
    assert panel.field.hasFocus()
    assert window.document.design == standard
    first = panel.title
    qtbot.keyClicks(panel.field, "6 1/2" if "spacing" in first else "8")
    qtbot.keyClick(panel.field, Qt.Key.Key_Return)
    assert panel.title != first
    assert panel.title != "Does your bracket match?"


def test_a_pattern_that_is_only_a_guess_goes_on(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], standard: Design
) -> None:
    window = opened(standard)
    panel = asked(qtbot, window, "Does your bracket match?")
    qtbot.mouseClick(panel.only_guess, LEFT)
    assert {row.key for row in pattern(standard, 0)} <= set(window.document.view_state.passed)
    assert window.document.design == standard


@pytest.mark.parametrize(("press", "origin"), [("button", "to buy"), ("second", "confirmed")])
def test_parts_are_bought_or_confirmed_with_one_press(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design, press: str, origin: str
) -> None:
    keys = tuple(row.key for pair in ("lower", "upper") for row in parts(fitting, 0, "lower" if pair == "lower" else "upper"))
    window = opened(with_guesses(fitting, *keys))
    panel = asked(qtbot, window, "Washers, nuts and tools")
    qtbot.mouseClick(getattr(panel, press), LEFT)
    assert states(window, keys) == {origin}
    window.document.undo()
    assert states(window, keys) == {"guess"}


def test_a_double_click_is_one_press(qtbot: QtBot, opened: Callable[[Design], MainWindow], standard: Design) -> None:
    """The second press would answer the next question, which nobody has read: here it would buy the parts."""
    window = opened(replace(standard, readings={**standard.readings, OUTER: GUESS}))
    panel = asked(qtbot, window, "Does your bracket match?")
    qtbot.mouseClick(panel.button, LEFT)
    qtbot.mouseDClick(panel.button, LEFT)  # the second press only, as Qt sends it
    qtbot.mouseRelease(panel.button, LEFT)
    assert panel.title == "Washers, nuts and tools"
    assert len(window.document.history.past) == 1
    assert states(window, (OUTER,)) == {"guess"}


def test_other_sizes_lead_to_the_card(qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design) -> None:
    window = opened(with_guesses(fitting, OUTER))
    panel = asked(qtbot, window, "Washers, nuts and tools")
    qtbot.mouseClick(panel.unreachable, LEFT)
    assert window.document.view_state.section == 8
    pick = sure(window.card.pick("mounts.0.lower_hardware.washer"))
    assert pick.button.hasFocus()


def _asks_for(panel: NextStepPanel, key: str) -> bool:
    return panel.key == key


def test_the_sheets_are_made_from_the_last_step(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    window = opened(with_guesses(fitting))
    panel = window.card.next_step
    for key in (OUTSIDE, WASHER_ACROSS):  # the second ways to the readings
        qtbot.waitUntil(partial(_asks_for, panel, key))
        qtbot.mouseClick(panel.unreachable, LEFT)
    qtbot.waitUntil(lambda: panel.button.text() == "Make the sheets")
    assert not panel.button.filled or not window.answer.button.filled
    qtbot.mouseClick(panel.button, LEFT)
    assert window.document.view_state.sheets


def test_a_new_boat_is_answered_by_keys_alone(qtbot: QtBot, opened: Callable[[Design], MainWindow], design: Design) -> None:
    """The hand is in the question at once, and the card is folded."""
    window = opened(design)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.file_actions.begin("A shape", starts()[1].design)
    panel = window.card.next_step
    assert panel.field.hasFocus()
    assert window.document.view_state.section == 0
    assert [head.summary for head in window.card.heads][:1] == ["0 of 9 readings"]


