"""Origins on the card, by the keyboard alone: groups confirmed or bought at once, the word in the field, its menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QMenu

from geometry.edits.starting_shapes import starts
from tests.gestures.conftest import come_to_rest
from tests.gestures.test_card_choices import open_section
from tests.gestures.test_typing import open_entry

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

LOWER = "mounts.0.lower_hardware"
OUTER = f"{LOWER}.washer.outer"
TOP_HOLE = "mounts.0.bracket.rows.row0_depth"
DISTANCES = tuple(
    f"mounts.0.bracket.{field}" for field in ("rows.half_spacing", "rows.pitch", "lower.half_spacing", "lower.slots.0.0")
)


@pytest.fixture
def begun(opened: Callable[..., MainWindow]) -> MainWindow:
    """A window on a new boat, whose every value is a guess."""
    return opened(starts()[0].design)


def states(window: MainWindow, *keys: str) -> set[str]:
    return {window.document.design.readings[key].state for key in keys}


def press_by_keys(qtbot: QtBot, window: MainWindow, key: str) -> None:
    """Go to a line by Tab from the head of its section, and press Enter."""
    window.activateWindow()
    number = window.document.view_state.section
    window.card.heads[number - 1].setFocus()
    line = window.card.act(key)
    assert line is not None
    for _ in range(60):
        focus = QApplication.focusWidget()
        if focus is line:
            break
        qtbot.keyClick(focus, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is line
    qtbot.keyClick(line, Qt.Key.Key_Return)


def test_one_press_confirms_the_standard_pattern_in_one_step_that_says_so(qtbot: QtBot, begun: MainWindow) -> None:
    open_section(begun, 5)
    press_by_keys(qtbot, begun, "pattern.confirmed")
    assert states(begun, *DISTANCES) == {"confirmed"}
    assert states(begun, TOP_HOLE) == {"guess"}
    assert begun.document.undo_label == "Standard pattern confirmed: 12 7/8, 3/4, 9 7/8 and 8 in"
    assert begun.card.act("pattern.confirmed") is None
    assert QApplication.focusWidget() is begun.card.heads[4]  # the keyboard is not lost with the line
    begun.document.undo()
    assert states(begun, *DISTANCES) == {"guess"}
    assert begun.card.act("pattern.confirmed") is not None
    begun.document.redo()
    assert states(begun, *DISTANCES) == {"confirmed"}


def test_the_parts_of_a_pair_are_to_buy_then_in_hand(qtbot: QtBot, begun: MainWindow) -> None:
    open_section(begun, 8)
    press_by_keys(qtbot, begun, "parts.0.lower.bought")
    assert states(begun, OUTER, f"{LOWER}.socket.outer") == {"to buy"}
    assert states(begun, OUTER.replace("lower", "upper"), f"{LOWER}.torque") == {"guess"}
    assert begun.document.undo_label == "Lower inside washers, outside washers and socket to buy"
    entry = open_entry(begun, OUTER)
    assert (entry.field.origin.text(), entry.field.origin.isVisible()) == ("to buy", True)
    assert "to buy" in entry.field.accessibleDescription()
    press_by_keys(qtbot, begun, "parts.0.lower.confirmed")
    assert states(begun, OUTER, f"{LOWER}.socket.outer") == {"confirmed"}
    assert not begun.card.entry(OUTER).field.origin.isVisible()
    assert len(begun.document.history.past) == 2


def test_the_word_to_buy_becomes_measured_by_enter(qtbot: QtBot, begun: MainWindow) -> None:
    open_section(begun, 8)
    press_by_keys(qtbot, begun, "parts.0.lower.bought")
    entry = open_entry(begun, OUTER)
    qtbot.keyClick(entry.field, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is entry.field.origin
    qtbot.keyClick(entry.field.origin, Qt.Key.Key_Return)
    assert states(begun, OUTER) == {"measured"}
    assert not entry.field.origin.isVisible()


def test_a_typed_size_is_measured_and_stays_so_when_the_rest_is_bought(qtbot: QtBot, begun: MainWindow) -> None:
    entry = open_entry(begun, OUTER)
    qtbot.keyClicks(entry.field, "1 1/4")
    qtbot.keyClick(entry.field, Qt.Key.Key_Return)
    press_by_keys(qtbot, begun, "parts.0.lower.bought")
    assert states(begun, OUTER) == {"measured"}
    assert states(begun, f"{LOWER}.washer.inner") == {"to buy"}


@pytest.mark.parametrize(
    ("key", "offered", "word", "state"),
    [
        (OUTER, ["A guess", "Measured", "To buy"], "To buy", "to buy"),
        ("transom.rake", ["A guess", "Measured"], "Measured", "measured"),
    ],
)
def test_the_fields_menu_changes_where_a_value_is_from(
    qtbot: QtBot, begun: MainWindow, key: str, offered: list[str], word: str, state: str
) -> None:
    field = open_entry(begun, key).field
    menu = field.full_menu()
    origins = next(part for part in menu.findChildren(QMenu) if part.title() == "Counts as")
    assert [action.text() for action in origins.actions()] == offered
    assert [action.text() for action in origins.actions() if action.isChecked()] == ["A guess"]
    next(action for action in origins.actions() if action.text() == word).trigger()
    assert states(begun, key) == {state}
    begun.document.undo()
    assert states(begun, key) == {"guess"}


def test_a_drop_has_no_other_origin(begun: MainWindow) -> None:
    titles = [part.title() for part in open_entry(begun, "mounts.0.drop").field.full_menu().findChildren(QMenu)]
    assert "Counts as" not in titles


def test_a_click_into_a_field_selects_its_text_and_typing_replaces_it(qtbot: QtBot, begun: MainWindow) -> None:
    """A field of a guess and one of a size to buy, each clicked at its figure from another field."""
    for key in ("transom.thickness.top", OUTER):
        field = open_entry(begun, key).field
        begun.card.heads[0].setFocus()
        come_to_rest()
        qtbot.mouseClick(field, Qt.MouseButton.LeftButton, pos=QPoint(field.width() - 12, field.height() // 2))
        assert field.selectedText() == field.text() != ""
        qtbot.keyClicks(field, "1 3/8")
        assert field.text() == "1 3/8"
        qtbot.keyClick(field, Qt.Key.Key_Return)
        assert states(begun, key) == {"measured"}


def test_the_summary_says_that_the_parts_are_to_buy(qtbot: QtBot, begun: MainWindow) -> None:
    open_section(begun, 8)
    for pair in ("lower", "upper"):
        press_by_keys(qtbot, begun, f"parts.0.{pair}.bought")
    for pair in ("lower", "upper"):
        entry = open_entry(begun, f"mounts.0.{pair}_hardware.torque")
        qtbot.keyClicks(entry.field, "30 lb-ft")
        qtbot.keyClick(entry.field, Qt.Key.Key_Return)
    open_section(begun, 1)
    assert "to buy" in begun.card.heads[7].accessibleName()
