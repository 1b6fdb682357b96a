"""The card's choices: the top cut, where depths are from, readings to an edge, guesses, old holes, hardware."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication

from geometry.edits.starting_shapes import starts
from geometry.readings.measures import at_path
from tests.gestures.test_typing import open_entry, typed
from tests.gestures.test_window import Answers, file_actions

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.entries.choice_lines import Pick
    from app.window.main_window import MainWindow

LEFT, IN = Qt.MouseButton.LeftButton, 25.4
LOWER = "mounts.0.lower_hardware"


def pick(window: MainWindow, key: str) -> Pick:
    """Open the section of a choice, and take its line."""
    window.activateWindow()
    window.card.go_to(key)
    choice = window.card.pick(key)
    assert choice is not None
    return choice


def choose(qtbot: QtBot, window: MainWindow, key: str, word: str) -> None:
    """Press a choice, and click one of its answers."""
    choice = pick(window, key)
    qtbot.mouseClick(choice.button, LEFT)
    action = next(action for action in choice.menu.actions() if action.text().startswith(word))
    qtbot.mouseClick(choice.menu, LEFT, pos=choice.menu.actionGeometry(action).center())
    choice.menu.close()


def press(qtbot: QtBot, window: MainWindow, key: str) -> None:
    """Press a line that does something."""
    line = window.card.act(key)
    assert line is not None
    qtbot.mouseClick(line, LEFT)


def open_section(window: MainWindow, number: int) -> None:
    window.document.set_view_state(replace(window.document.view_state, section=number))


def test_the_top_cut_is_square_level_or_in_degrees(qtbot: QtBot, window: MainWindow) -> None:
    choose(qtbot, window, "choice.top_cut", "Square")
    cuts: list[object] = [window.document.design.transom.top_cut]
    assert window.document.undo_label == "Top cut: square"
    choose(qtbot, window, "choice.top_cut", "In degrees")
    cuts.append(window.document.design.transom.top_cut)
    typed(qtbot, window, "transom.top_cut", "6")
    cuts.append(window.document.design.transom.top_cut)
    assert window.document.design.readings["transom.top_cut"].state == "measured"
    choose(qtbot, window, "choice.top_cut", "Level")
    cuts.append(window.document.design.transom.top_cut)
    assert cuts == ["square", 0.0, 6.0, "level"]
    assert "transom.top_cut" not in window.document.design.readings


def test_depths_from_the_outside_edge_and_the_step_between_the_edges(qtbot: QtBot, window: MainWindow) -> None:
    choose(qtbot, window, "well.well_from", "The outside")
    assert window.document.design.well.well_from == "datum"
    open_section(window, 2)
    # Level cut, leaning 15 degrees, 1-1/2 in thick: the inside edge is 1-1/2 tan 15 = 0.402 in lower, 3/8 to a sixteenth.
    assert window.card.entry("Inside edge lower by").field.text() == "3/8"


def test_no_well_and_a_well_to_measure(qtbot: QtBot, window: MainWindow) -> None:
    choose(qtbot, window, "choice.well", "No well")
    assert window.document.design.well is None
    assert not any(key.startswith("well.") for key in window.document.design.readings)
    choose(qtbot, window, "choice.well", "A splash well")
    assert window.document.checked.verdict == "unknown"
    typed(qtbot, window, "well.floor_port", "10 7/16")
    assert window.card.entry("well.floor_port").field.text() == "10 7/16"


def test_a_choice_is_made_by_keys_alone(qtbot: QtBot, window: MainWindow) -> None:
    choice = pick(window, "choice.top_cut")
    qtbot.waitUntil(choice.button.hasFocus)
    qtbot.keyClick(choice.button, Qt.Key.Key_Return)
    qtbot.waitUntil(choice.menu.isVisible)
    qtbot.keyClick(choice.menu, Qt.Key.Key_Up)  # from level, the present one, to square
    qtbot.keyClick(choice.menu, Qt.Key.Key_Return)
    assert window.document.design.transom.top_cut == "square"


def test_tab_goes_down_the_card_in_measuring_order(qtbot: QtBot, window: MainWindow) -> None:
    choice = pick(window, "choice.well")
    qtbot.waitUntil(choice.button.hasFocus)
    seen = []
    for _ in range(4):
        focus = QApplication.focusWidget()
        assert focus is not None
        seen.append(focus.accessibleName())
        QApplication.sendEvent(focus, QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Tab, Qt.KeyboardModifier.NoModifier))
    order = ["Splash well", "Depths are from", "Floor depth at port", "Floor depth at starboard"]
    assert [name.split(":")[0] for name in seen] == order


# A half-inch hole read 5-3/8 in down to its near edge has its centre 5-5/8 in down.
def test_a_reading_to_an_edge_becomes_the_centre_and_says_so(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, 4)
    press(qtbot, window, "add hole")
    key = "old_holes.0.down"
    assert window.document.design.old_holes[0].at == (None, None)
    entry = open_entry(window, key)
    edge = entry.field.edge
    qtbot.mouseClick(edge, LEFT)
    next(action for action in edge.menu.actions() if "near" in action.text()).trigger()
    edge.menu.close()
    entry = typed(qtbot, window, key, "5 3/8")
    assert window.document.design.old_holes[0].at[1] == pytest.approx(-5.625 * IN, abs=1e-9)
    reading = window.document.design.readings[key]
    assert (reading.text, reading.from_) == ("5 3/8", "near edge")
    assert entry.field.text() == "5 5/8"
    assert "Near edge 5 3/8 in, hole 1/2 in: the centre is at 5 5/8 in." in entry.field.accessibleDescription()
    next(action for action in edge.menu.actions() if "far" in action.text()).trigger()
    assert window.document.design.old_holes[0].at[1] == pytest.approx(-5.125 * IN, abs=1e-9)


def test_the_edge_of_a_hole_without_a_diameter_is_refused_in_words(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, 4)
    press(qtbot, window, "add hole")
    hole = window.document.design.old_holes[0]
    window.document.commit("No diameter", replace(window.document.design, old_holes=(replace(hole, diameter=None),)))
    entry = open_entry(window, "old_holes.0.down")
    entry.field.edge.show_edge("near edge", left=4)
    typed(qtbot, window, "old_holes.0.down", "6")
    assert window.document.design.old_holes[0].at == (None, None)
    assert "diameter" in window.card.entry("old_holes.0.down").sentence


def test_an_old_hole_is_plugged_and_taken_off(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, 4)
    press(qtbot, window, "add hole")
    choose(qtbot, window, "old_holes.0.state", "Plugged")
    typed(qtbot, window, "old_holes.0.plug_diameter", "1")
    assert window.document.design.old_holes[0].plug_diameter == pytest.approx(IN, abs=1e-9)
    press(qtbot, window, "old_holes.0.off")
    assert window.document.design.old_holes == ()
    window.document.undo()
    assert len(window.document.design.old_holes) == 1


def test_a_pair_of_old_holes_is_used_for_the_upper_holes(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, 4)
    for number, across in enumerate(("-6 7/16", "6 7/16")):
        press(qtbot, window, "add hole")
        typed(qtbot, window, f"old_holes.{number}.across", across)
        typed(qtbot, window, f"old_holes.{number}.down", "2 3/4")
    press(qtbot, window, "pair.0.1")
    assert window.document.design.mounts[0].upper_at == pytest.approx(-2.75 * IN, abs=1e-9)
    assert window.document.design.mounts[0].offset == pytest.approx(0.0, abs=1e-9)
    assert window.document.undo_label == "Upper holes at the old pair"


def test_guesses_of_words_and_shapes_are_confirmed_by_a_click(qtbot: QtBot, window: MainWindow) -> None:
    window.file_actions.begin("Deep well", starts()[2].design)
    choice = pick(window, "choice.top_cut")
    assert choice.guess.isVisible()
    qtbot.mouseClick(choice.guess, LEFT)
    assert window.document.design.readings["transom.top_cut"].state == "measured"
    shape = open_entry(window, "transom.outline")
    assert shape.field.text() == "9 corners"
    qtbot.mouseClick(shape.field.origin, LEFT)
    assert window.document.design.readings["transom.outline"].state == "measured"
    assert window.card.entry("transom.outline") is None
    window.document.save(window.document.path or _anywhere(window))


def _anywhere(window: MainWindow):
    from app.document.files import data_folder, make_folder

    make_folder(data_folder())
    return data_folder() / "done.boltwell"


@pytest.mark.parametrize(
    ("key", "word", "path", "expected"),
    [
        ("bolt", "M12", "bolt", "M12x1.75"),
        ("grade", "A2-70", "grade", "A2-70"),
        ("nut", "ASME B18.2.2 hex", "nut", "ASME B18.2.2 hex"),
        ("washer", "ASME B18.21.1 type B wide", "washer.outer", 1.75 * IN),  # ASME B18.21.1 type B: 1.750 in
        ("outside_washer", "ASME B18.21.1 type A narrow", "outside_washer.outer", 1.062 * IN),  # type A: 1.062 in
        ("inserted_from", "From inside", "inserted_from", "inside"),
        ("tool", "Box-end wrench", "socket", None),
    ],
)
def test_hardware_is_chosen_from_the_published_sizes(
    qtbot: QtBot, window: MainWindow, key: str, word: str, path: str, expected: object
) -> None:
    before = window.document.checked
    choose(qtbot, window, f"{LOWER}.{key}", word)
    value = at_path(window.document.design, f"{LOWER}.{path}")
    assert value == (pytest.approx(expected, abs=1e-9) if isinstance(expected, float) else expected)
    assert window.document.checked is not before  # shown at once
    assert len(window.document.history.past) == 1


def test_what_is_undone_while_the_hand_is_in_it_hands_it_to_its_section(qtbot: QtBot, window: MainWindow) -> None:
    """An entry, lit on the drawing, that is not there in the design before."""
    choose(qtbot, window, "choice.bracket", "Four bolts, fixed")
    window.card.go_to("mounts.0.bracket.lower.slots.4.1")
    assert window.document.view_state.lit == "mounts.0.bracket.lower.slots.4.1"
    window.document.undo()
    assert window.card.entry("mounts.0.bracket.lower.slots.0.1") is not None
    assert window.card.entry("mounts.0.bracket.lower.slots.4.1") is None
    assert window.document.view_state.lit == ""
    assert window.card.heads[4].hasFocus()
    assert window.face.marks()


def test_a_flat_cut_on_and_off_with_its_distance(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, 8)
    assert window.card.entry(f"{LOWER}.washer.flat_cut") is None
    choose(qtbot, window, f"{LOWER}.flat", "Cut flat")
    typed(qtbot, window, f"{LOWER}.washer.flat_cut", "1/2")
    assert at_path(window.document.design, f"{LOWER}.washer.flat_cut") == pytest.approx(12.7, abs=1e-9)
    choose(qtbot, window, f"{LOWER}.flat", "Whole")
    assert at_path(window.document.design, f"{LOWER}.washer.flat_cut") is None


def test_a_backing_plate_with_relief_on_and_off(qtbot: QtBot, window: MainWindow) -> None:
    """By hand: the backing plate reaches 19.05 + 3.5 mm below the hole, the flat land 21.32 - 7.58 = 13.74, and 3.175 are
    to be free. So 22.55 - 13.74 + 3.175 = 11.98 mm of relief, to the next half 12.
    """
    for word, relief in (("A backing plate, cham", 12.0), ("A backing plate under", 0.0)):
        choose(qtbot, window, f"{LOWER}.plate", word)
        plate = window.document.design.mounts[0].lower_hardware.backing_plate
        assert plate.relief[0] == pytest.approx(relief, abs=1e-9)
        assert plate.joins == ("lower port", "lower starboard")
        assert (window.card.entry(f"{LOWER}.backing_plate.relief.0") is not None) is (relief > 0)
        if relief:
            typed(qtbot, window, f"{LOWER}.backing_plate.relief.0", "3/4")
            plate = window.document.design.mounts[0].lower_hardware.backing_plate
            assert plate.relief[0] == pytest.approx(0.75 * IN, abs=1e-9)
    assert any(f.at.endswith("/ plate") for f in window.document.checked.findings)
    choose(qtbot, window, f"{LOWER}.plate", "None")
    assert window.document.design.mounts[0].lower_hardware.backing_plate is None


def test_the_upper_pair_takes_the_lower_pairs_hardware(qtbot: QtBot, window: MainWindow) -> None:
    choose(qtbot, window, f"{LOWER}.bolt", "7/16-14")
    press(qtbot, window, "alike")
    mount = window.document.design.mounts[0]
    assert mount.upper_hardware == mount.lower_hardware


@pytest.mark.parametrize("number", range(1, 9))
def test_every_control_of_the_card_has_a_name_and_a_tab_place(qtbot: QtBot, window: MainWindow, number: int) -> None:
    window.file_actions.begin("Shallow", starts()[0].design)
    open_section(window, 4)
    press(qtbot, window, "add hole")
    open_section(window, number)
    stops = [stop for part in window.card._visible().values() if hasattr(part, "stops") for stop in part.stops()]
    shown = [stop for stop in stops if stop.isVisible()]
    assert shown
    assert [type(stop).__name__ for stop in shown if not stop.accessibleName()] == []
    assert all(stop.focusPolicy() & Qt.FocusPolicy.TabFocus for stop in shown)
    window.document.save(_anywhere(window))


def test_the_boats_name_is_typed_and_is_a_step(qtbot: QtBot, window: MainWindow) -> None:
    open_section(window, 1)
    typed(qtbot, window, "boat.name", "Our own")
    assert window.document.design.name == "Our own"
    assert not window.document.design.demonstration
    assert window.document.undo_label == "Name Our own"
    qtbot.keyClick(window.card.entry("boat.name").field, Qt.Key.Key_Up)  # there is no next name
    assert window.document.design.name == "Our own"


def test_the_measuring_sheet_is_offered_where_it_can_be_made(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    assert window.card.sheet_line.isVisible()
    file_actions(window, Answers(kept / "measure.pdf"))
    qtbot.mouseClick(window.card.sheet_line, LEFT)
    qtbot.waitUntil(lambda: bool(list(kept.glob("*measuring sheet.pdf"))))
    assert next(kept.glob("*measuring sheet.pdf")).read_bytes().startswith(b"%PDF")
