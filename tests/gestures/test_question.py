"""The question at the top of the card, by mouse and keyboard: what is typed, refused, left a guess or out of reach."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt

from app.card.question import question
from geometry.asking.question_order import SECOND_WAYS
from geometry.design.design import Reading
from geometry.edits.edits import set_units, with_mount
from geometry.edits.starting_shapes import starts
from geometry.readings.measures import measure, measures, put_path, state_of
from geometry.readings.second_readings import OUTSIDE
from templates_out.drawing.marks import Text
from tests.designs import example_design, sure
from tests.gestures.conftest import come_to_rest
from tests.gestures.looking import nameless, run_out, too_wide

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.card.next_step_panel import NextStepPanel
    from app.window.main_window import MainWindow
    from geometry.design.design import Design

LEFT, ENTER = Qt.MouseButton.LeftButton, Qt.Key.Key_Return
FLOOR, RADIUS = "well.floor_port", "well.fillet_radius"
GUESS = Reading(text="", value=None, from_="centre", how="tape", state="guess", spread=None, second=None)


def with_guesses(design: Design, *keys: str) -> Design:
    """Return a boat whose values are measured, all but ``keys``: these are guesses."""
    known = {key: replace(reading, state="measured") for key, reading in design.readings.items()}
    return replace(design, readings={**known, **dict.fromkeys(keys, GUESS)})


def asking(qtbot: QtBot, window: MainWindow) -> NextStepPanel:
    """Return the panel of the next step, the hand in its field."""
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.card.take_focus()
    assert window.card.next_step.field.hasFocus()
    return window.card.next_step


def shown_figure(panel: NextStepPanel) -> str:
    """Return the figure in the question's picture."""
    picture = panel._picture
    return next(mark.text for mark in picture.marks if isinstance(mark, Text) and mark.part == "figure")


def test_another_boat_is_asked_for_its_own_question_at_once(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    """Not only once the chances are known: by then somebody types, and the radius would be taken as the floor's depth."""
    window = opened(with_guesses(fitting, RADIUS))
    panel = asking(qtbot, window)
    assert panel.key == RADIUS
    qtbot.keyClicks(panel.field, "1/2")
    window.document.new(starts()[0].design)
    assert (panel.key, panel.field.text()) == (FLOOR, "")
    assert window.answer.sentence.startswith("Nothing measured yet")
    come_to_rest()
    assert panel.key == FLOOR


def test_an_answer_by_keyboard_is_one_step_and_the_next_question_has_the_focus(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    window = opened(with_guesses(fitting, FLOOR, RADIUS))
    panel = asking(qtbot, window)
    first = panel.field.accessibleName()
    assert {first} <= {"Floor depth at port", "Corner radius"}
    typed, key = ("10", FLOOR) if first == "Floor depth at port" else ("1/4", RADIUS)
    assert panel.field.text() == ""
    qtbot.keyClicks(panel.field, typed)
    qtbot.keyClick(panel.field, ENTER)
    row = sure(measure(window.document.design, key))
    assert row.get(window.document.design) == pytest.approx((10 if key == FLOOR else 0.25) * 25.4, abs=1e-6)
    assert state_of(window.document.design, row) == "measured"
    assert window.document.undo_label == f"{row.name} to {typed}{' in' if typed else ''}"
    assert panel.field.hasFocus()
    assert panel.field.text() == ""
    assert panel.field.accessibleName() in {"Floor depth at port", "Corner radius"} - {first}
    qtbot.keyClick(panel.field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)  # nothing is typed: the window's undo
    assert window.document.undo_label == ""


def test_enter_alone_never_makes_a_guess_a_measurement(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    window = opened(with_guesses(fitting, FLOOR))
    panel = asking(qtbot, window)
    assert panel.field.hint.startswith("guess ")
    before = window.document.design
    qtbot.keyClick(panel.field, ENTER)
    qtbot.mouseClick(panel.enter, LEFT)
    assert window.document.design == before
    assert panel.sentence.startswith("Type what you read. ")
    assert panel.field.hasFocus()


@pytest.mark.parametrize("text", ["nine", "-3", "0", "900"])
def test_a_refused_answer_says_why_and_stays(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design, text: str
) -> None:
    window = opened(with_guesses(fitting, FLOOR))
    panel, before = asking(qtbot, window), window.document.design
    qtbot.keyClicks(panel.field, text)
    qtbot.mouseClick(panel.enter, LEFT)
    assert window.document.design == before
    assert panel.field.text() == text
    assert panel.sentence
    assert panel.field.accessibleDescription() == panel.sentence
    assert panel.field.hasFocus()
    come_to_rest()
    assert too_wide(window.card) == []
    qtbot.keyClick(panel.field, Qt.Key.Key_Escape)
    assert (panel.field.text(), panel.sentence) == ("", "")


def test_only_a_guess_goes_on_and_the_value_stays_a_guess(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    window = opened(with_guesses(fitting, FLOOR, RADIUS))
    panel = asking(qtbot, window)
    first, before = panel.field.accessibleName(), window.document.design
    qtbot.mouseClick(panel.only_guess, LEFT)
    assert window.document.design == before
    assert panel.field.accessibleName() != first
    assert panel.field.hasFocus()


def test_a_typed_guess_is_taken_as_a_guess(qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design) -> None:
    window = opened(with_guesses(fitting, FLOOR))
    panel = asking(qtbot, window)
    qtbot.keyClicks(panel.field, "10 1/2")
    qtbot.mouseClick(panel.only_guess, LEFT)
    row = sure(measure(window.document.design, FLOOR))
    assert row.get(window.document.design) == pytest.approx(10.5 * 25.4, abs=1e-6)
    assert state_of(window.document.design, row) == "guess"


def test_out_of_reach_offers_the_other_way_and_then_goes_on(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    window = opened(with_guesses(fitting, FLOOR, "transom.rake"))
    panel = asking(qtbot, window)
    if panel.field.accessibleName() == "Rake":  # it has no other way
        qtbot.mouseClick(panel.unreachable, LEFT)
    assert panel.field.accessibleName() == "Floor depth at port"
    qtbot.mouseClick(panel.unreachable, LEFT)
    assert panel.field.accessibleName() == "Floor depth at port"
    assert "Another way: " in panel.field.accessibleDescription()
    qtbot.mouseClick(panel.unreachable, LEFT)
    assert window.document.view_state.passed[-1] == FLOOR
    assert window.document.undo_label == ""


def test_a_typed_text_never_moves_to_another_question(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    """The chances come while a person types: so high up the rake decides nothing, and something else is asked for."""
    window = opened(with_guesses(with_mount(fitting, 0, drop=165.1, row=3), "transom.rake"))
    panel = asking(qtbot, window)
    first = panel.field.accessibleName()
    assert first == "Rake"
    qtbot.keyClicks(panel.field, "1")
    qtbot.waitUntil(lambda: panel._tracker.sure)
    assert panel.field.text() == "1"
    assert panel.field.accessibleName() == first


def test_the_dimension_of_the_question_is_lit_and_follows_it(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    """Also where the chances change the question under the hand while nothing is typed."""
    window = opened(with_guesses(with_mount(fitting, 0, drop=165.1, row=3), "transom.rake"))
    panel = asking(qtbot, window)
    assert window.document.view_state.lit == panel.key == "transom.rake"
    qtbot.waitUntil(lambda: panel._tracker.sure)
    come_to_rest()
    assert window.document.view_state.lit == panel.key == OUTSIDE


def test_the_picture_follows_what_is_typed(qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design) -> None:
    window = opened(with_guesses(fitting, FLOOR))
    panel = asking(qtbot, window)
    come_to_rest()
    assert shown_figure(panel) == "?"
    qtbot.keyClicks(panel.field, "11 1/2")
    assert shown_figure(panel) == "11 1/2 in"
    qtbot.keyClicks(panel.field, "x")
    assert shown_figure(panel) == "?"


def test_a_top_cut_in_words_or_degrees_is_measured(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    for text, value in (("square", "square"), ("2", 2.0)):
        window = opened(with_guesses(put_path(fitting, "transom.top_cut", "level"), "transom.top_cut"))
        panel = asking(qtbot, window)
        assert panel.field.accessibleName() == "Top cut"
        qtbot.keyClicks(panel.field, text)
        qtbot.keyClick(panel.field, ENTER)
        assert window.document.design.transom.top_cut == value
        assert "transom.top_cut" not in window.document.checked.guesses
        assert panel.key != "transom.top_cut"


def test_the_row_of_washers_says_how_far_it_is(qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design) -> None:
    window = opened(with_guesses(fitting, FLOOR, RADIUS))
    panel = asking(qtbot, window)
    done = panel.washers.done
    assert panel.washers.words == f"{done + 1} of {panel.washers.every}"
    assert panel.accessibleName() == f"Next, {panel.washers.words}"
    text = "10" if panel.field.accessibleName() == "Floor depth at port" else "1/4"
    qtbot.keyClicks(panel.field, text)
    qtbot.keyClick(panel.field, ENTER)
    assert panel.washers.done == done + 1


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("size", [(1366, 708), (1024, 700)])
def test_a_question_has_its_room(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design, units: str, size: tuple[int, int]
) -> None:
    window = opened(set_units(with_guesses(fitting, FLOOR), "mm" if units == "mm" else "in"))
    window.resize(*size)
    asking(qtbot, window)
    come_to_rest()
    assert too_wide(window.card) == []
    assert run_out(window.card) == []
    assert nameless(window.card) == []
    assert all(head.isVisible() for head in window.card.heads)


def test_a_corner_is_named_by_where_it_is(fitting: Design) -> None:
    """A well of five corners, its floor deepest in the middle."""
    well = replace(sure(fitting.well), profile=((-200.0, 0.0), (-190.0, -220.0), (0.0, -240.0), (190.0, -221.0), (200.0, 0.0)))
    design = replace(fitting, well=well)
    titles = [sure(question(design, f"well.profile.{corner}.1")).title for corner in range(5)]
    assert titles == [
        "Well’s top at port, depth", "Floor corner at port, depth", "Deepest point of the floor, depth",
        "Floor corner at starboard, depth", "Well’s top at starboard, depth",
    ]  # fmt: skip




TORQUES = ("mounts.0.upper_hardware.torque", "mounts.0.lower_hardware.torque")


def with_question(
    qtbot: QtBot, window: MainWindow, key: str, again: tuple[str, ...] = ()
) -> tuple[MainWindow, NextStepPanel]:
    """Return the window and its panel once it asks for a reading; second ways are passed by."""
    window.document.set_view_state(replace(window.document.view_state, again=again, passed=SECOND_WAYS))
    qtbot.waitUntil(lambda: window.card.next_step.key == key, timeout=20_000)
    return window, window.card.next_step


def torques(design: Design) -> list[tuple[float | None, str]]:
    """Return both torques and their origins."""
    rows = [sure(measure(design, key)) for key in TORQUES]
    return [(row.get(design), state_of(design, row)) for row in rows]


def test_one_answer_gives_both_torques_and_undo_takes_both_back(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    """Bolts and guesses are alike in both pairs. One step of the history has both."""
    window, panel = with_question(qtbot, opened(with_guesses(set_units(fitting, "mm"), *TORQUES)), TORQUES[0])
    assert panel.title == "Wrench torque of all bolts"
    panel = asking(qtbot, window)
    before = window.document.design
    qtbot.keyClicks(panel.field, "31")
    qtbot.keyClick(panel.field, ENTER)
    for value, origin in torques(window.document.design):
        assert value == pytest.approx(31.0, abs=1e-6)
        assert origin == "measured"
    assert panel.key not in TORQUES
    window.document.undo()
    assert window.document.design == before


def test_two_torques_that_differ_are_asked_for_apart(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    window, panel = with_question(qtbot, opened(with_guesses(set_units(fitting, "mm"), *TORQUES)), TORQUES[0])
    asking(qtbot, window)
    qtbot.mouseClick(panel.unreachable, LEFT)
    assert panel.title == "Upper wrench torque"
    assert panel.field.hasFocus()
    qtbot.keyClicks(panel.field, "31")
    qtbot.keyClick(panel.field, ENTER)
    (upper, read), (_, guessed) = torques(window.document.design)
    assert upper == pytest.approx(31.0, abs=1e-6)
    assert (read, guessed) == ("measured", "guess")


def test_the_slip_asks_for_a_pilot_and_keeps_what_it_was_measured_to(
    qtbot: QtBot, opened: Callable[[Design], MainWindow]
) -> None:
    """The worked example may be drilled by a pilot only. Its readings are spent, and the second ways out of reach."""
    design = example_design()
    keys = tuple(row.key for row in measures(design))
    window, panel = with_question(qtbot, opened(design), "mounts.0.second.pilot_lower_port", again=(*keys, *keys))
    assert panel.title == "Lower port pilot, to the washer’s mark"
    assert panel._why.text().replace("\N{NO-BREAK SPACE}", " ").startswith("Make the sheets, and drill this pilot only. ")
    assert not panel.only_guess.isVisible()
    asking(qtbot, window)
    qtbot.keyClicks(panel.field, "1/8")
    qtbot.keyClick(panel.field, ENTER)
    (pilot,) = window.document.design.pilots
    assert (pilot.hole, pilot.to) == ("lower port", "washer mark")
    assert pilot.value == pytest.approx(25.4 / 8, abs=1e-6)
