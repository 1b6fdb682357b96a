"""Motors hung, chosen and taken off: the four-bolt pattern, fixed lower holes, clamp-on, own numbers; twin and kicker."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt

from geometry.edits.edits import remove_mount
from tests.gestures.conftest import place
from tests.gestures.test_card_choices import choose, open_section, pick, press
from tests.gestures.test_typing import typed
from tests.gestures.test_window import Answers, file_actions

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

LEFT, IN = Qt.MouseButton.LeftButton, 25.4


@pytest.fixture
def bare(window: MainWindow) -> MainWindow:
    """The demonstration boat without its motor."""
    window.document.commit("Motor off", remove_mount(window.document.design, 0))
    return window


@pytest.mark.parametrize(
    ("word", "bolted"), [("Standard", True), ("Four bolts, fixed", True), ("Clamp-on", False), ("Own", True)]
)
def test_a_motor_is_hung_by_its_bracket(qtbot: QtBot, bare: MainWindow, word: str, bolted: bool) -> None:
    choose(qtbot, bare, "choice.bracket", word)
    design = bare.document.design
    assert len(design.mounts) == 1
    assert (design.mounts[0].bracket.rows is not None) is bolted
    assert design.mounts[0].offset == 0.0
    guesses = {key for key, reading in design.readings.items() if key.startswith("mounts.0.") and reading.state == "guess"}
    assert "mounts.0.leg" in guesses
    assert bare.document.checked.findings


def test_the_slip_leads_to_the_bracket_where_no_motor_hangs(qtbot: QtBot, bare: MainWindow) -> None:
    bare.activateWindow()
    assert "Hang a motor" in bare.card.next_step.accessibleDescription()
    qtbot.mouseClick(bare.card.next_step, LEFT)
    qtbot.waitUntil(bare.card.pick("choice.bracket").button.hasFocus)


def test_own_pattern_by_numbers(qtbot: QtBot, bare: MainWindow) -> None:
    choose(qtbot, bare, "choice.bracket", "Own")
    for key, text in (("rows.half_spacing", "6"), ("rows.pitch", "7/8"), ("lower.slots.0.0", "7 3/4")):
        typed(qtbot, bare, f"mounts.0.bracket.{key}", text)
    bracket = bare.document.design.mounts[0].bracket
    assert (bracket.rows.half_spacing, bracket.rows.pitch) == pytest.approx((6 * IN, 0.875 * IN), abs=1e-9)
    assert bracket.lower.slots[0][0] == pytest.approx(7.75 * IN, abs=1e-9)


def test_another_bracket_keeps_the_motors_place(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.design.mounts[0]
    choose(qtbot, window, "choice.bracket", "Four bolts, fixed")
    after = window.document.design.mounts[0]
    assert (after.upper_at, after.drop, after.row, after.leg) == (before.upper_at, before.drop, before.row, before.leg)
    assert all(high == low for high, low in after.bracket.lower.slots)


def test_a_clamp_on_says_why_there_is_no_template(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    choose(qtbot, window, "choice.bracket", "Clamp-on")
    assert window.document.design.mounts[0].upper_hardware is None
    assert "nothing to drill" in window.answer.sentence or window.document.checked.verdict != "clear"
    open_section(window, 6)
    assert any("no template" in part.text() for part in window.card._visible().values() if hasattr(part, "text"))
    refused: list[str] = []
    window.sheets.mode.refused.connect(refused.append)
    window.make_sheets()
    qtbot.waitUntil(lambda: any(refused))
    assert window.sheets.mode.made is None


def test_a_twin_is_one_step_and_the_new_one_is_in_hand(qtbot: QtBot, window: MainWindow) -> None:
    steps = len(window.document.history.past)
    open_section(window, 5)
    press(qtbot, window, "twin")
    assert [mount.name for mount in window.document.design.mounts] == ["port motor", "starboard motor"]
    assert window.document.view_state.mount == 1
    assert len(window.document.history.past) == steps + 1
    window.document.undo()
    assert len(window.document.design.mounts) == 1
    assert window.document.view_state.mount == 0


def test_the_motor_in_hand_is_chosen_on_the_card_and_on_the_drawing(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, 5)
    press(qtbot, window, "twin")
    choose(qtbot, window, "view.mount", "Port motor")
    assert window.document.view_state.mount == 0
    past = len(window.document.history.past)
    mount = window.document.design.mounts[1]
    window.face.show_whole()
    qtbot.mouseClick(window.face, LEFT, pos=place(window, mount.offset + 30.0, -120.0))
    assert window.document.view_state.mount == 1
    assert len(window.document.history.past) == past  # looking is no step
    assert pick(window, "view.mount").button.text() == "starboard motor"


def test_a_kicker_clamps_on_and_is_taken_off_without_a_question(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    answers = Answers(kept / "any")
    file_actions(window, answers)
    open_section(window, 5)
    press(qtbot, window, "kicker")
    assert window.document.design.mounts[1].bracket.kind == "clamp-on"
    press(qtbot, window, "off")
    assert [mount.name for mount in window.document.design.mounts] == ["main motor"]
    assert answers.asked == 0
    assert not any(key.startswith("mounts.1.") for key in window.document.design.readings)
    window.document.undo()
    assert len(window.document.design.mounts) == 2


def test_findings_name_the_motor_where_there_are_two(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, 5)
    press(qtbot, window, "twin")
    motors = {finding.at.split(" / ")[0] for finding in window.document.checked.findings if finding.check == "washer"}
    assert motors == {"port motor", "starboard motor"}
    assert not window.grab().isNull()


@pytest.mark.parametrize("chosen", ["bracket:0", "bracket:0 corner 2", "lower port hole:0", "saddle:0"])
def test_a_motor_taken_off_while_a_part_of_it_is_chosen_leaves_the_face_alive(window: MainWindow, chosen: str) -> None:
    window.document.set_view_state(replace(window.document.view_state, chosen=chosen))
    window.document.commit("Motor off", replace(window.document.design, mounts=()))
    assert window.face.marks()
    assert window.cut.canvas.marks()
    window.document.undo()
    assert any(getattr(mark, "part", "").startswith("lower port hole:0") for mark in window.face.marks())
