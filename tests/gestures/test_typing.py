"""Typing on the card: either unit, sums, wrong texts, held arrows, guesses; and undo by its keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QMenu

from app.canvas.face_words import corner_numbers
from geometry.edits.edits import set_row, set_units
from geometry.edits.starting_shapes import starts
from geometry.readings.measures import measure
from templates_out.drawing.marks import Text
from tests.gestures.conftest import come_to_rest, guess_all
from tests.gestures.looking import too_wide

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.entries.entry import Entry
    from app.window.main_window import MainWindow
    from geometry.design.design import Design

DROP, FLOOR, HEIGHT = "mounts.0.drop", "well.floor_port", "mounts.0.row"


def open_entry(window: MainWindow, key: str) -> Entry:
    """Open the section of a measure, and take its entry."""
    window.activateWindow()
    window.card.go_to(key)
    entry = window.card.entry(key)
    assert entry is not None
    return entry


def typed(qtbot: QtBot, window: MainWindow, key: str, text: str) -> Entry:
    """Type a text over the text of an entry, and press Enter."""
    entry = open_entry(window, key)
    entry.field.selectAll()
    qtbot.keyClick(entry.field, Qt.Key.Key_Delete)
    qtbot.keyClicks(entry.field, text)
    qtbot.keyClick(entry.field, Qt.Key.Key_Return)
    return entry


# A length of text and the same in mm, calculated by hand: an inch is 25.4 mm.
@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("7 1/4", 184.15),
        ('7-1/4"', 184.15),
        ("7.25in", 184.15),
        ("184 mm", 184.0),
        ("18.4cm", 184.0),
        ("7 + 1/4", 184.15),
        ("1' 3 1/4\"", 387.35),
    ],
)
def test_a_length_in_any_way_changes_the_design(qtbot: QtBot, window: MainWindow, text: str, mm: float) -> None:
    typed(qtbot, window, DROP, text)
    assert window.document.design.mounts[0].drop == pytest.approx(mm, abs=1e-9)
    assert len(window.document.history.past) == 1


@pytest.mark.parametrize(
    "text", ["3", "3rd", "third", "third hole", "3rd hole from the top", "two holes up", "3rd hole from the top (two holes up)"]
)
def test_the_height_is_typed_as_it_is_shown(qtbot: QtBot, window: MainWindow, text: str) -> None:
    """The third hole of the bracket, counted from the top, is number 2 of the file, which counts from 0."""
    window.document.commit("Height", set_row(window.document.design, 0, 0))
    height = typed(qtbot, window, HEIGHT, text)
    assert window.document.design.mounts[0].row == 2
    assert window.document.history.present.label == "Motor's height to 3rd hole from the top (two holes up)"
    assert height.field.text() == "3rd hole from the top"
    height.field.setFocus()
    assert height.field.text() == "3rd hole from the top"  # while it is written in too
    qtbot.waitUntil(lambda: too_wide(window) == [])


@pytest.mark.parametrize(
    ("text", "why"),
    [("0", "This bracket has 5 upper holes"), ("6", "This bracket has 5 upper holes"), ("third-ish", "such as 3 or third")],
)
def test_a_height_that_the_bracket_has_not_is_refused(qtbot: QtBot, window: MainWindow, text: str, why: str) -> None:
    before = window.document.design
    height = typed(qtbot, window, HEIGHT, text)
    assert window.document.design is before
    assert why in height.sentence


def test_in_millimetres_a_bare_number_is_millimetres(qtbot: QtBot, window: MainWindow) -> None:
    from geometry.edits.edits import set_units

    window.document.commit("Millimetres", set_units(window.document.design, "mm"))
    typed(qtbot, window, DROP, "184")
    assert window.document.design.mounts[0].drop == 184.0
    assert window.document.undo_label == "Drop to 184 mm"


def test_a_typed_reading_is_kept_as_typed_and_measured(qtbot: QtBot, window: MainWindow) -> None:
    entry = typed(qtbot, window, FLOOR, "10 7/16 + 1/8")
    reading = window.document.design.readings[FLOOR]
    assert reading.text == "10 7/16 + 1/8"
    assert reading.value == pytest.approx(10.5625 * 25.4, abs=1e-9)
    assert reading.state == "measured"
    assert entry.field.text() == "10 9/16"  # the result, once the field is left


def test_wrong_text_keeps_the_design_and_says_so(qtbot: QtBot, window: MainWindow) -> None:
    design = window.document.design
    entry = typed(qtbot, window, DROP, "7 1/4x")
    assert window.document.design == design
    assert window.document.history.past == ()
    assert entry.field.text() == "7 1/4x"
    assert entry.sentence.startswith('"7 1/4x" does not read as a length.')
    assert not any(word in entry.sentence.lower() for word in ("error", "invalid", "please"))
    qtbot.keyClick(entry.field, Qt.Key.Key_Escape)
    assert entry.field.text() == "8"
    assert entry.sentence == ""


@pytest.mark.parametrize(
    ("key", "text", "sentence"),
    [
        ("transom.thickness.top", "0",
         '"0" can’t be right. The transom is at least as thick as both its skins together. Write 3/8 in or more.'),
        ("mounts.0.leg", "0", '"0" can’t be right. Write a figure above 0.'),
        ("transom.thickness.low_at", "-5", '"-5" can’t be right. It is measured downward. Write a figure above 0.'),
        ("mounts.0.bracket.lower.slots.0.1", "1/2",
         '"1/2" can’t be right. The highest place is no lower than the lowest. Write 8 in or more.'),
        ("mounts.0.upper_hardware.friction.0", "0", '"0" can’t be right. Write 0.001 or more.'),
        ("mounts.0.lower_hardware.washer.inner", "1 1/2",
         '"1 1/2" can’t be right. The bore is smaller than the outside. Write a figure below 1 1/2 in.'),
        ("mounts.0.bracket.rows.pitch", "", "Without this figure there is no bracket. Type one, or press Escape."),
    ],
)  # fmt: skip
def test_nonsense_keeps_the_design_too(qtbot: QtBot, window: MainWindow, key: str, text: str, sentence: str) -> None:
    """And the message has the typed text, not the file's words and millimetres."""
    design = window.document.design
    entry = typed(qtbot, window, key, text)
    assert window.document.design == design
    assert entry.sentence == sentence
    assert entry.field.accessibleDescription() == sentence
    qtbot.keyClick(entry.field, Qt.Key.Key_Escape)
    assert entry.field.accessibleDescription().endswith(" measured")


def test_an_emptied_entry_is_not_known_in_one_step_and_is_asked_for(qtbot: QtBot, window: MainWindow) -> None:
    """Of a well's floor one side; undo brings the reading back."""
    before = window.document.design
    typed(qtbot, window, FLOOR, "")
    assert window.document.undo_label == "Floor depth at port to not known"
    entry = window.card.entry(FLOOR)
    assert entry is not None
    assert entry.field.text() == "not known"
    assert window.card.next_step.accessibleDescription().startswith("Measure the floor depth at port. ")
    qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.document.design == before


def test_an_entry_has_its_room_after_another_came_or_went(qtbot: QtBot, window: MainWindow) -> None:
    """The block's own entries go with it; what is unfolded then, a refusal of three lines, is seen whole."""
    typed(qtbot, window, FLOOR, "10 7/16")
    come_to_rest()
    window.document.commit("Block off", replace(window.document.design, inside_blocks=(), readings={}))
    come_to_rest()
    entry = typed(qtbot, window, "well.floor_width", "0")
    assert entry.sentence
    come_to_rest()
    assert too_wide(window) == []


def test_a_refused_text_outlives_a_look_elsewhere(qtbot: QtBot, window: MainWindow) -> None:
    entry = typed(qtbot, window, DROP, "seven")
    window.document.set_view_state(replace(window.document.view_state, chosen="bracket:0"))
    assert entry.field.text() == "seven"
    assert entry.sentence


def test_a_refused_text_that_is_taken_back_takes_its_sentence_along(qtbot: QtBot, window: MainWindow) -> None:
    entry = typed(qtbot, window, DROP, "seven")
    assert entry.sentence
    entry.field.undo()
    assert entry.field.text() == "8"
    assert entry.sentence == ""
    assert window.document.history.past == ()


def test_an_entry_left_alone_is_no_step(qtbot: QtBot, window: MainWindow) -> None:
    entry = open_entry(window, DROP)
    qtbot.keyClick(entry.field, Qt.Key.Key_Return)
    open_entry(window, FLOOR)
    assert window.document.history.past == ()


def test_held_arrow_in_a_field_is_one_step(qtbot: QtBot, window: MainWindow) -> None:
    entry = open_entry(window, DROP)
    for _ in range(4):
        qtbot.keyPress(entry.field, Qt.Key.Key_Down)
    assert window.document.history.past == ()
    qtbot.keyRelease(entry.field, Qt.Key.Key_Down)
    assert window.document.design.mounts[0].drop == pytest.approx(203.2 - 4 * 25.4 / 16, abs=1e-9)
    assert len(window.document.history.past) == 1


def test_an_arrow_does_not_outlive_the_hand_in_its_field(qtbot: QtBot, window: MainWindow) -> None:
    entry = open_entry(window, DROP)
    qtbot.keyPress(entry.field, Qt.Key.Key_Up)
    window.face.setFocus()
    qtbot.keyRelease(window.face, Qt.Key.Key_Up)
    assert window.document.design.mounts[0].drop == pytest.approx(203.2 + 25.4 / 16, abs=1e-9)
    history = window.document.history
    assert [step.label for step in (*history.past, history.present)][1:] == ["Drop to 8 1/16 in"]


@pytest.mark.parametrize("by_arrow", [False, True])
def test_a_corner_that_becomes_its_twins_image_is_typed_by_the_twin_from_then_on(
    qtbot: QtBot, window: MainWindow, by_arrow: bool
) -> None:
    """Its own entry goes: the step is named by it all the same, and the hand is let go."""
    own, port = window.document.design.mounts[0], "mounts.0.bracket.outline.5.0"
    across, down = own.bracket.outline[5]
    assert across == -190.5  # 7 1/2 in
    skew = replace(own.bracket, outline=(*own.bracket.outline[:5], (across + 25.4 / 16, down)))
    window.document.new(replace(window.document.design, mounts=(replace(own, bracket=skew),)))
    guess_all(window)
    assert measure(window.document.design, port) is not None
    if by_arrow:
        qtbot.keyClick(open_entry(window, port).field, Qt.Key.Key_Down)
    else:
        typed(qtbot, window, port, "-7 1/2")
    assert window.document.design.mounts[0].bracket.outline == own.bracket.outline
    assert measure(window.document.design, port) is None
    assert window.document.undo_label == "Bracket corner 6, across to −7 1/2 in"
    assert window.document.checked.design == window.document.design


def test_undo_and_redo_by_their_keys(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.design
    typed(qtbot, window, DROP, "7 1/4")
    after = window.document.design
    open_entry(window, DROP)  # with no text to take back, the field leaves both keys to the window
    qtbot.keyClick(window.focusWidget() or window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.document.design == before
    assert window.document.redo_label == "Drop to 7 1/4 in"
    window.face.setFocus()
    qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert window.document.design == after


def test_enter_goes_to_the_next_entry(qtbot: QtBot, window: MainWindow) -> None:
    typed(qtbot, window, FLOOR, "10 7/16")
    qtbot.waitUntil(lambda: window.document.view_state.lit == "well.floor_starboard")
    assert window.document.view_state.lit == "well.floor_starboard"


def test_the_top_cut_in_degrees_takes_words(qtbot: QtBot, window: MainWindow) -> None:
    from geometry.readings.measures import put_path

    window.document.commit("Top cut", put_path(window.document.design, "transom.top_cut", 10.0))
    cuts = []
    for text in ("12", "Level"):
        typed(qtbot, window, "transom.top_cut", text)
        cuts.append(window.document.design.transom.top_cut)
    assert cuts == [12.0, "level"]


def test_a_click_on_the_word_guess_confirms(qtbot: QtBot, window: MainWindow) -> None:
    key = "well.fillet_radius"
    assert window.document.design.readings[key].state == "guess"
    entry = open_entry(window, key)
    value = window.document.design.well
    qtbot.mouseClick(entry.field.origin, Qt.MouseButton.LeftButton)
    assert window.document.design.readings[key].state == "measured"
    assert window.document.design.well == value
    assert not entry.field.origin.isVisible()


@pytest.mark.parametrize("units", ["in", "mm"])
def test_an_unlikely_reading_is_confirmed_by_keyboard_and_asks_again_when_it_changes(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], design: Design, units: str
) -> None:
    """Typed, it is accepted and marked. Tab leads to the word, Enter confirms it, one step back asks again."""
    window = opened(set_units(design, "in" if units == "in" else "mm"))
    entry = typed(qtbot, window, "transom.rake", "22")
    assert entry.field.origin.text() == "sure?"
    entry = open_entry(window, "transom.rake")
    come_to_rest()
    assert entry.field.accessibleDescription().startswith("Rake is 22°. Most are 5° to 20° (common practice). Read it again")
    qtbot.keyClick(entry.field, Qt.Key.Key_Tab)
    word = QApplication.focusWidget()
    assert word is entry.field.origin
    assert word.accessibleName() == "Rake is unlikely. Press to confirm it"
    past = len(window.document.history.past)
    qtbot.keyClick(word, Qt.Key.Key_Return)
    assert not entry.field.origin.isVisible()
    assert window.document.design.sure_of == {"transom.rake": (22.0,)}
    assert len(window.document.history.past) == past + 1
    window.document.undo()
    assert entry.field.origin.isVisible()
    window.document.redo()
    typed(qtbot, window, "transom.rake", "22.5")
    assert entry.field.origin.isVisible()


def test_a_second_reading_that_contradicts_is_the_answer_until_it_is_read_again(qtbot: QtBot, window: MainWindow) -> None:
    """The depth inside typed again as the depth from outside: the step between the edges was forgotten."""
    said = "Don’t drill yet: two readings contradict each other."
    depth = open_entry(window, FLOOR).field.text()
    typed(qtbot, window, "well.second.outside", depth)
    qtbot.waitUntil(lambda: window.answer.sentence == said)
    assert window.findings.shown[0] == "Reading: floor depth at port, from outside"
    typed(qtbot, window, "well.second.outside", "")
    qtbot.waitUntil(lambda: window.answer.sentence != said)
    assert "well.second.outside" not in window.document.design.readings


def test_the_note_of_an_unlikely_reading_has_a_button_that_confirms_it(qtbot: QtBot, window: MainWindow) -> None:
    typed(qtbot, window, "transom.rake", "22")
    head = next(row.head for row in window.findings.rows if row.head.line.name == "Reading: rake")
    if window.findings._opened() != head.line:  # the first line is open, and a press would close it
        qtbot.keyClick(head, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: window.findings.button is not None)
    button = window.findings.button
    assert button.text() == "Confirm it"
    qtbot.keyClick(button, Qt.Key.Key_Space)
    assert window.document.design.sure_of == {"transom.rake": (22.0,)}
    assert "Reading: rake" not in window.findings.shown


def test_a_guess_typed_again_as_it_is_counts_as_measured(qtbot: QtBot, window: MainWindow) -> None:
    key = "well.fillet_radius"
    assert window.document.design.readings[key].state == "guess"
    entry = open_entry(window, key)
    qtbot.keyClick(entry.field, Qt.Key.Key_Return)  # passed by: still a guess
    assert window.document.design.readings[key].state == "guess"
    typed(qtbot, window, key, entry.field.text())
    assert window.document.design.readings[key].state == "measured"
    assert len(window.document.history.past) == 1


def test_enter_at_the_end_of_a_section_opens_the_next_that_waits(qtbot: QtBot, window: MainWindow) -> None:
    """The last reading of the transom, its outline as guessed, is passed by; then the top cut, a guess; then the well."""
    window.file_actions.begin("Shallow", starts()[0].design)
    entry = open_entry(window, "transom.outline")
    qtbot.keyClick(entry.field, Qt.Key.Key_Return)
    assert window.document.design.readings["transom.outline"].state == "guess"
    assert window.document.view_state.section == 2
    cut = window.card.pick("choice.top_cut")
    assert cut is not None
    qtbot.waitUntil(cut.button.hasFocus)
    qtbot.keyClick(cut.button, Qt.Key.Key_Return)
    qtbot.waitUntil(cut.menu.isVisible)
    qtbot.keyClick(cut.menu, Qt.Key.Key_Return)  # level, as it is
    assert "transom.top_cut" not in window.document.design.readings
    assert window.document.view_state.section == 3
    qtbot.waitUntil(lambda: window.document.view_state.lit == "well.floor_port")


def test_a_guess_at_the_other_side_follows_and_stays_a_guess(qtbot: QtBot, window: MainWindow) -> None:
    window.file_actions.begin("Shallow", starts()[0].design)
    port, starboard = "well.floor_port", "well.floor_starboard"
    typed(qtbot, window, port, "9 1/8")
    well = window.document.design.well
    assert well is not None
    assert [y for _, y in well.profile[1:3]] == pytest.approx([-9.125 * 25.4] * 2, abs=1e-9)
    states = [window.document.design.readings[key].state for key in (port, starboard)]
    assert states == ["measured", "guess"]
    assert len(window.document.history.past) == 2  # the shape, and this
    typed(qtbot, window, starboard, "9 1/2")
    typed(qtbot, window, port, "9 1/4")  # the other is measured by now, and stays
    assert window.document.design.readings[starboard].text == "9 1/2"
    entry = window.card.entry(starboard)
    assert entry is not None
    assert entry.field.text() == "9 1/2"


def test_a_brackets_corners_are_typed_and_both_sides_follow(qtbot: QtBot, window: MainWindow) -> None:
    """The foot 12 in wide and 14 in down; a foot at the bracket hook is no bracket, and the design stays."""
    window.file_actions.begin("Shallow", starts()[0].design)
    foot, down = "mounts.0.bracket.outline.3.0", "mounts.0.bracket.outline.3.1"
    typed(qtbot, window, foot, "6")
    typed(qtbot, window, down, "14")
    design = window.document.design
    starboard, port = design.mounts[0].bracket.outline[3:5]
    assert starboard == pytest.approx((152.4, -355.6), abs=1e-9)
    assert port == pytest.approx((-152.4, -355.6), abs=1e-9)
    assert [design.readings[key].state for key in (foot, down)] == ["measured"] * 2
    entry = typed(qtbot, window, down, "0")
    assert window.document.design == design
    assert entry.sentence == '"0" can’t be right. The sides would meet or cross each other. Write a figure above 0.'
    entry = typed(qtbot, window, foot, "-6")
    assert window.document.design == design
    assert entry.sentence == '"-6" can’t be right. Write a figure above 0.'
    assert window.face.view is not None
    numbers = corner_numbers(design, window.document.view_state, window.face.view)
    assert [mark.text for mark in numbers if isinstance(mark, Text)] == ["1", "2", "3"]


# Shown as typed where it is a plain figure in the unit that is shown; sums and other units show what came out.
@pytest.mark.parametrize(
    ("text", "rest", "metric"),
    [
        ("10 13/64", "10 13/64", "259.2"),
        ("10.203", "10.203", "259.2"),
        ("10 1/8 + 1/16", "10 3/16", "258.8"),
        ("257 mm", "10 1/8", "257"),
    ],
)
def test_an_entry_that_is_left_shows_what_was_typed(
    qtbot: QtBot, window: MainWindow, text: str, rest: str, metric: str
) -> None:
    from geometry.edits.edits import set_units

    entry = typed(qtbot, window, FLOOR, text)
    assert entry.field.text() == rest
    window.document.commit("Millimetres", set_units(window.document.design, "mm"))
    assert entry.field.text() == metric


def clicked_field(qtbot: QtBot, window: MainWindow, key: str) -> Entry:
    """Open the section of a measure with the hand elsewhere, and click into its entry at the end of its text."""
    window.card.show_entry(key)
    window.face.setFocus()
    entry = window.card.entry(key)
    assert entry is not None
    assert not entry.field.hasFocus()
    qtbot.mouseClick(entry.field, Qt.MouseButton.LeftButton, pos=entry.field.rect().center() + QPoint(44, 0))
    assert entry.field.hasFocus()
    return entry


def test_a_click_into_a_field_selects_its_text_so_that_a_figure_replaces_it(qtbot: QtBot, window: MainWindow) -> None:
    """A figure typed after a click once came in front of the old one, and both together were accepted."""
    entry = clicked_field(qtbot, window, "well.floor_port")
    assert entry.field.selectedText() == "10 7/16"
    qtbot.keyClicks(entry.field, "10")
    assert entry.field.text() == "10"
    qtbot.keyClick(entry.field, Qt.Key.Key_Return)
    assert window.document.design.readings["well.floor_port"].text == "10"
    assert window.document.undo_label == "Floor depth at port to 10 in"


def test_the_second_click_places_the_cursor(qtbot: QtBot, window: MainWindow) -> None:
    entry = clicked_field(qtbot, window, "well.floor_port")
    qtbot.wait(QApplication.doubleClickInterval() + 1)
    qtbot.mouseClick(entry.field, Qt.MouseButton.LeftButton, pos=entry.field.rect().center() + QPoint(44, 0))
    assert entry.field.selectedText() == ""
    assert entry.field.cursorPosition() == len("10 7/16")
    qtbot.keyClick(entry.field, Qt.Key.Key_Escape)


def test_a_hand_that_shakes_in_the_first_click_leaves_all_selected(qtbot: QtBot, window: MainWindow) -> None:
    window.card.show_entry("well.floor_port")
    window.face.setFocus()
    entry = window.card.entry("well.floor_port")
    assert entry is not None
    at = entry.field.rect().center() + QPoint(44, 0)
    left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    qtbot.mousePress(entry.field, left, pos=at)
    for away in (QPoint(8, 0), QPoint(20, 2)):
        moved = QPointF(at - away)
        QApplication.sendEvent(entry.field, QMouseEvent(
            QEvent.Type.MouseMove, moved, entry.field.mapToGlobal(moved), Qt.MouseButton.NoButton, left, none,
        ))  # fmt: skip
    qtbot.mouseRelease(entry.field, left, pos=at - QPoint(20, 2))
    assert entry.field.selectedText() == "10 7/16"


def test_a_measured_value_is_not_stepped_by_keys(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.design
    entry = open_entry(window, "well.floor_port")
    qtbot.keyClick(entry.field, Qt.Key.Key_Up)
    assert window.document.design == before
    assert window.document.checked.design == before
    assert window.document.history.past == ()
    assert entry.sentence == "Measured: 10 7/16 in. Type a new reading. Keys change only a guess or a choice."
    assert entry.field.text() == "10 7/16"
    qtbot.keyClicks(entry.field, "10 1/2")  # what was selected is replaced
    qtbot.keyClick(entry.field, Qt.Key.Key_Return)
    assert window.document.design.readings["well.floor_port"].value == pytest.approx(266.7)


def test_a_guess_that_is_stepped_stays_a_guess(qtbot: QtBot, window: MainWindow) -> None:
    entry = open_entry(window, "well.fillet_radius")
    qtbot.keyClick(entry.field, Qt.Key.Key_Up)
    reading = window.document.design.readings["well.fillet_radius"]
    assert (reading.state, reading.text, reading.how) == ("guess", "7/16", "washer")
    assert reading.value == pytest.approx(11.1125)
    assert window.document.undo_label == "Corner radius to 7/16 in"


@pytest.mark.parametrize("key", ["mounts.0.upper_at", "mounts.0.drop", "mounts.0.offset", "mounts.0.lower_hardware.torque"])
def test_a_choice_is_stepped_after_any_reading(qtbot: QtBot, window: MainWindow, key: str) -> None:
    choice = measure(window.document.design, key)
    assert choice is not None
    before = choice.get(window.document.design)
    qtbot.keyClick(open_entry(window, key).field, Qt.Key.Key_Up)
    assert choice.get(window.document.design) > before


def test_a_fields_menu_says_what_a_reading_was_taken_with(qtbot: QtBot, window: MainWindow) -> None:
    """Chosen there it is one step, and a figure typed later keeps it."""
    entry = open_entry(window, "well.floor_port")
    menu = entry.field.full_menu()
    ways = next(action.menu() for action in menu.actions() if action.text() == "Read with")
    assert isinstance(ways, QMenu)
    assert [action.text() for action in ways.actions() if action.isChecked()] == ["Tape"]
    next(action for action in ways.actions() if action.text() == "Rule").trigger()
    menu.deleteLater()
    reading = window.document.design.readings["well.floor_port"]
    assert (reading.how, reading.state, reading.text) == ("rule", "measured", "10 7/16")
    assert window.document.undo_label == "Floor depth at port: read with rule"
    typed(qtbot, window, "well.floor_port", "10 1/2")
    assert window.document.design.readings["well.floor_port"].how == "rule"
    decided = open_entry(window, DROP).field.full_menu()  # a choice was read with nothing
    assert "Read with" not in [action.text() for action in decided.actions()]
    decided.deleteLater()
