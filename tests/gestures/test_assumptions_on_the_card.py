"""The card's folded section of assumptions: opened by keys, a value changed and put back, and the findings that follow."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from app.help.manual_places import place_for
from geometry.edits.edits import set_units
from geometry.readings.measures import SECTIONS
from tests.gestures.test_card_choices import open_section, press
from tests.gestures.test_typing import typed

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget
    from pytestqt.qtbot import QtBot

    from app.entries.entry import Entry
    from app.window.main_window import MainWindow

NUMBER, SHARE = 9, "assumptions.thrust_share"


def entry(window: MainWindow, key: str) -> Entry:
    shown = window.card.entry(key)
    assert shown is not None
    return shown


def shown(widget: QWidget) -> list[str]:
    """Return the words of all visible labels, with plain spaces: a figure keeps its unit on its line."""
    return [label.text().replace("\u00a0", " ") for label in widget.findChildren(QLabel) if label.isVisible()]


def pull(window: MainWindow) -> float:
    value = window.document.checked.of("joint", window.document.design.mounts[0].name).value
    assert value is not None
    return value


def test_it_is_the_last_section_and_closed_at_the_start(window: MainWindow) -> None:
    assert SECTIONS[-1] == "Assumptions"
    head = window.card.heads[-1]
    assert (head.accessibleName(), head.accessibleDescription()) == ("Assumptions, all as usual", "closed")
    assert window.document.view_state.section != NUMBER


def test_by_keys_alone_the_thrust_share_changes_the_pull_on_the_bolts(qtbot: QtBot, window: MainWindow) -> None:
    """Which wrong program this catches: one whose check does not read the design."""
    window.activateWindow()
    head = window.card.heads[-1]
    head.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(head, Qt.Key.Key_Space)
    assert head.accessibleDescription() == "open"
    before, design = pull(window), window.document.design
    head.focusNextChild()
    field = entry(window, SHARE).field
    qtbot.waitUntil(field.hasFocus)
    assert field.text() == "55 %"
    qtbot.keyClicks(field, "80")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.document.design.assumptions.thrust_share == pytest.approx(0.8, abs=1e-9)
    assert window.document.undo_label == "Thrust share to 80 %"
    assert pull(window) > 1.1 * before
    assert field.text() == "80 %"
    assert entry(window, "assumptions.reverse_share").field.hasFocus()  # Enter goes on within the section
    assert "Changed. Usual: 55 %, our assumption." in shown(entry(window, SHARE))
    window.document.undo()
    assert window.document.design == design
    assert pull(window) == pytest.approx(before, abs=1e-9)


def test_the_source_of_each_value_is_next_to_it(window: MainWindow) -> None:
    open_section(window, NUMBER)
    for key, source in (
        (SHARE, "Our assumption."), ("assumptions.settling", "Common practice."), ("limits.top_edge.0", "Common practice."),
        ("limits.edge_diameters.1", "From the standard (NDS 12.5.1C"), ("spreads.tape", "Our assumption."),
    ):  # fmt: skip
        assert any(text.startswith(source) for text in shown(entry(window, key))), key
        assert source in entry(window, key).field.accessibleDescription()


def test_a_changed_value_offers_the_way_back_and_undo_takes_that_back(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, NUMBER)
    design = window.document.design
    assert window.card.act(f"usual.{SHARE}") is None
    typed(qtbot, window, SHARE, "60 %")
    assert window.card.heads[-1].accessibleName() == "Assumptions, inches"
    press(qtbot, window, f"usual.{SHARE}")
    assert window.document.design == design
    assert window.document.undo_label == "Thrust share back to usual"
    assert window.card.act(f"usual.{SHARE}") is None
    window.document.undo()
    assert window.document.design.assumptions.thrust_share == pytest.approx(0.6, abs=1e-9)


def test_several_go_back_at_once(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, NUMBER)
    design = window.document.design
    typed(qtbot, window, SHARE, "60")
    assert window.card.act("usual.all") is None
    typed(qtbot, window, "limits.clearance.1", "1/4")
    press(qtbot, window, "usual.all")
    assert window.document.design.assumptions == design.assumptions
    assert window.document.design.limits.clearance == (0.0, 3.175)


def test_a_limit_turned_around_is_refused_with_a_sentence_and_the_text_stays(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, NUMBER)
    design = window.document.design
    typed(qtbot, window, "limits.top_edge.0", "3")
    assert window.document.design == design
    assert entry(window, "limits.top_edge.0").sentence == (
        '"3" can’t be right. The limit must not be stricter than what is advised. Write 2 in or less.'
    )
    typed(qtbot, window, SHARE, "300 %")
    assert entry(window, SHARE).sentence == '"300 %" can’t be right. Write 100 % or less.'


@pytest.mark.parametrize(("unit", "text", "mm"), [("in", "3/16", 4.7625), ("mm", "4", 4.0)])
def test_a_limit_is_typed_in_the_boats_unit(qtbot: QtBot, window: MainWindow, unit: str, text: str, mm: float) -> None:
    window.document.commit("units", set_units(window.document.design, "mm" if unit == "mm" else "in"))
    open_section(window, NUMBER)
    typed(qtbot, window, "limits.clearance.1", text)
    assert window.document.design.limits.clearance[1] == pytest.approx(mm, abs=1e-6)
    assert entry(window, "limits.clearance.1").field.text() == text


def test_enter_at_the_end_of_the_walk_leaves_the_section_closed(qtbot: QtBot, window: MainWindow) -> None:
    """It is not measured, so that the walk from entry to entry does not lead into it."""
    open_section(window, NUMBER - 1)
    last = [part for part in window.card._visible() if window.card.entry(part) is not None][-1]
    field = entry(window, last).field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.document.view_state.section == NUMBER - 1


def test_help_on_it_leads_to_where_the_numbers_come_from(window: MainWindow) -> None:
    assert place_for(window.card.heads[-1], window.document) == "sources#change-them"
    open_section(window, NUMBER)
    assert place_for(entry(window, SHARE).field, window.document) == "sources#change-them"
