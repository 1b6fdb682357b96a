"""The window as a whole: the ladder, files in and out, the question before closing, and its looks as values."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import msgspec
import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QCloseEvent, QColor, QDropEvent, QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QWidget

from app.canvas.cut_canvas import CutView
from app.canvas.face_canvas import FaceCanvas
from app.card.card import Card
from app.deciding.find_fit_panel import FitPanel
from app.document.files import read_design
from app.document.view_state import ViewState
from app.findings.findings_panel import FindingsPanel
from app.frame.answer_line import AnswerLine
from app.frame.foot_line import FootLine
from app.ladder.ladder_strip import LadderStrip
from app.ui.deciding_modes import LOW_ENOUGH
from app.ui.palette import palette
from app.ui.theme import apply_theme
from app.ui.typography import sized
from app.window.file_actions import FileActions
from assets import design_names, design_text
from geometry.design_text import from_text
from geometry.edits.edits import remove_mount, set_units, with_mount
from geometry.edits.starting_shapes import starts
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.readings.measures import put_path
from tests.designs import all_measured
from tests.gestures.conftest import come_to_rest, pass_second_ways
from tests.gestures.looking import share, too_wide
from tests.reference.test_trade_boats import tender

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from geometry.design.design import Design
    from geometry.judge.findings import Checked

CTRL = Qt.KeyboardModifier.ControlModifier


class Answers:
    """Answers in the person's place, and keeps the messages."""

    def __init__(self, path: Path, answer: int = 0) -> None:
        self.path, self.answer, self.asked, self.messages = path, answer, 0, [""]

    def open_name(self, _folder: Path, _kinds: str) -> Path | None:
        return self.path

    def save_name(self, _title: str, proposed: Path, _kinds: str) -> Path | None:
        return self.path.with_name(proposed.name)

    def choose(self, sentence: str, _answers: tuple[str, ...]) -> int:
        if sentence.endswith("or save it as a PDF?"):
            return 1
        self.asked += 1
        return self.answer

    def show_message(self, sentence: str) -> None:
        self.messages.append(sentence)


def file_actions(window: MainWindow, answers: Answers) -> FileActions:
    """Put the answers in the place of the dialogs."""
    window.file_actions._dialogs = answers  # type: ignore[assignment]
    return window.file_actions


def opened_ladder(qtbot: QtBot, window: MainWindow) -> LadderStrip:
    """Open the strip and wait until its rungs are calculated."""
    qtbot.mouseClick(window.ladder.head, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: any(rung.isVisible() for rung in window.ladder.rungs))
    return window.ladder


def test_a_rung_is_row_and_drop_in_one_step(qtbot: QtBot, window: MainWindow) -> None:
    ladder = opened_ladder(qtbot, window)
    rung = next(rung for rung in ladder.rungs if rung.isEnabled() and rung.place[0] == pytest.approx(184.15))
    qtbot.mouseClick(rung, Qt.MouseButton.LeftButton)
    mount = window.document.design.mounts[0]
    assert (mount.drop, mount.row) == rung.place
    assert len(window.document.history.past) == 1
    window.document.undo()
    assert window.document.design.mounts[0].drop == 203.2


def test_a_rung_out_of_reach_takes_no_click(qtbot: QtBot, window: MainWindow) -> None:
    ladder = opened_ladder(qtbot, window)
    broken = next(rung for rung in ladder.rungs if not rung.isEnabled())
    qtbot.mouseClick(broken, Qt.MouseButton.LeftButton)
    assert window.document.history.past == ()


def test_what_is_being_typed_is_asked_for_and_saved(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    """Without Enter, the hand still in the entry."""
    window.activateWindow()
    window.card.go_to("transom.rake")
    entry = window.card.entry("transom.rake")
    assert entry is not None
    qtbot.waitUntil(entry.field.hasFocus)
    answers = Answers(tmp_path / "boat.boltwell", answer=2)
    qtbot.keyClicks(entry.field, "17")
    assert not file_actions(window, answers).may_leave()
    assert answers.asked == 1
    entry.field.selectAll()
    qtbot.keyClicks(entry.field, "16")
    assert file_actions(window, answers).save()
    assert window.document.path is not None
    assert read_design(window.document.path)[0].transom.rake == pytest.approx(16.0, abs=1e-9)


def test_without_a_motor_no_rung_is_left(qtbot: QtBot, window: MainWindow) -> None:
    ladder = opened_ladder(qtbot, window)
    window.document.commit("Main motor off", remove_mount(window.document.design, 0))
    assert not any(rung.isVisible() for rung in ladder.rungs)
    assert not any(word.isVisible() for word in ladder.head.seats.values())
    window.document.undo()
    qtbot.waitUntil(lambda: any(rung.isVisible() for rung in ladder.rungs))


def test_the_slip_raises_the_pair_in_one_step(qtbot: QtBot, at_a_move: MainWindow) -> None:
    window = at_a_move
    qtbot.mouseClick(window.card.next_step.button, Qt.MouseButton.LeftButton)
    # 7 1/4 in clears first; 1/16 in more takes the bolts off the slot's end.
    assert window.document.design.mounts[0].drop == pytest.approx(7.3125 * 25.4)
    assert window.document.checked.verdict != "fouled"
    assert {finding.state for finding in window.document.checked.findings if finding.check == "row"} == {"clear"}
    assert len(window.document.history.past) == 1


def test_the_slip_turns_to_what_decides_and_asks_for_it_once(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    """All is measured: what may make the room sure is read once more, one after another, and then comes the move.

    At 7 5/8 in the lower port washer has 4.2 mm of room, a little less than the 4.4 mm that make it sure.
    """
    window = opened(with_mount(all_measured(fitting), 0, drop=7.625 * 25.4))
    pass_second_ways(window)
    slip = window.card.next_step
    assert slip.accessibleDescription().startswith("One moment")  # before the chances are known
    asked: list[str] = []
    while not asked or not slip.button.isVisible():
        qtbot.waitUntil(lambda: slip.accessibleDescription().startswith("Measure the "))
        asked.append(slip.accessibleDescription())
        assert " again. No other reading changes the " in asked[-1] or " again. The answer for the " in asked[-1]
        qtbot.mouseClick(slip, Qt.MouseButton.LeftButton)
        assert slip.field.hasFocus()
        assert slip.field.hint in ("in", "°")  # a second reading is blind
        assert slip.accessibleDescription() == asked[-1]  # as long as the hand is there
        assert slip.unreachable.text() == "Not now"
        qtbot.mouseClick(slip.unreachable, Qt.MouseButton.LeftButton)
        assert slip.accessibleDescription() not in asked
    assert asked[0].startswith("Measure the floor depth at port again. ")
    assert len(asked) == 6
    assert slip.button.text() == "Raise it"
    assert window.document.history.past == ()


def test_a_guess_that_decides_more_takes_the_place_of_the_next_one_round(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], fitting: Design
) -> None:
    """The height comes first on the way, and decides nothing; the inner skin, on which the washers press, decides."""
    text = next(iter(fitting.readings.values()))
    guesses = dict.fromkeys(("transom.height", "transom.skin_inside"), msgspec.structs.replace(text, state="guess"))
    fitting = all_measured(fitting)
    window = opened(msgspec.structs.replace(fitting, readings={**fitting.readings, **guesses}))
    pass_second_ways(window)
    slip = window.card.next_step
    assert slip.accessibleDescription().startswith("One moment. ")  # without chances nobody knows which one decides
    qtbot.waitUntil(lambda: slip.accessibleDescription().startswith("Measure the inner skin. "))
    description = slip.accessibleDescription()
    window.document.commit("Leg", put_path(window.document.design, "mounts.0.leg", 500.0))
    assert slip.accessibleDescription() == description  # no change back and forth while it is calculated again


def test_the_floor_is_asked_for_at_once_and_also_when_the_chances_are_known(
    qtbot: QtBot, at_a_move: MainWindow
) -> None:
    """A starting shape. The boat before does not hold it up."""
    window, slip = at_a_move, at_a_move.card.next_step
    results: list[Checked] = []
    window.doubt_worker.ready.connect(results.append)
    window.file_actions.begin("A shape", starts()[0].design)
    assert slip.accessibleDescription().startswith("Measure the floor depth at port. ")
    qtbot.waitUntil(lambda: bool(results) and results[-1].design is window.document.design)
    assert slip.accessibleDescription().startswith("Measure the floor depth at port. ")
    qtbot.mouseClick(slip, Qt.MouseButton.LeftButton)
    assert slip.field.hasFocus()
    assert slip.field.accessibleName() == "Floor depth at port"
    assert window.document.view_state.lit == "well.floor_port"


def test_where_nothing_clears_the_slip_opens_the_search(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    window = opened(from_text(design_text("thrice-drilled-runabout")))
    button = window.card.next_step.button
    qtbot.waitUntil(lambda: button.isVisible() and button.text() == "Find a fit")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert isinstance(window.aside.panels.currentWidget(), FitPanel)
    assert window.aside.panels.isVisible()
    assert window.document.history.past == ()


def test_what_clamps_on_offers_no_sheets(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    window = opened(tender())
    assert not window.answer.button.isVisible()
    assert "Make the sheets" not in possible(window)
    assert "Measuring sheet…" in possible(window)
    slip = window.card.next_step
    assert slip.accessibleDescription().startswith("Clamp the motor on. ")
    qtbot.mouseClick(slip.button, Qt.MouseButton.LeftButton)
    assert window.document.view_state.deciding == LOW_ENOUGH
    window.document.new(from_text(design_text("shallow-well-skiff")))
    assert window.answer.button.isVisible()
    assert "Make the sheets" in possible(window)


def test_open_and_save_come_back_equal(window: MainWindow, kept: Path) -> None:
    path = kept / "mine.boltwell"
    answers = Answers(path)
    window.document.commit("Millimetres", set_units(window.document.design, "mm"))
    assert file_actions(window, answers).save()
    saved = next(kept.glob("*.boltwell"))
    assert read_design(saved)[0] == window.document.design
    assert not window.document.changed_since_saved
    assert not window.isWindowModified()
    answers.path = saved
    window.file_actions.open()
    assert window.document.design.units == "mm"
    assert window.document.path == saved
    assert answers.messages == [""]


def test_a_damaged_file_gives_a_sentence_and_all_stays(window: MainWindow, kept: Path) -> None:
    path = kept / "half.boltwell"
    path.write_text(design_text("shallow-well-skiff")[:300])
    design, answers = window.document.design, Answers(path)
    file_actions(window, answers).open()
    assert window.document.design == design
    assert answers.messages[-1].startswith("half.boltwell")
    assert path.read_text() == design_text("shallow-well-skiff")[:300]


def test_a_dropped_file_opens(window: MainWindow, kept: Path) -> None:
    path = kept / "dropped.boltwell"
    path.write_text(design_text("cap-lip-launch"))
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    window.dropEvent(QDropEvent(QPointF(10, 10), Qt.DropAction.CopyAction, data, buttons, keys))
    assert window.document.path == path


@pytest.mark.parametrize(("answer", "closes"), [(0, True), (1, True), (2, False)])
def test_closing_asks_before_anything_is_lost(window: MainWindow, kept: Path, answer: int, closes: bool) -> None:
    answers = Answers(kept / "kept.boltwell", answer)
    file_actions(window, answers)
    window.document.commit("Millimetres", set_units(window.document.design, "mm"))
    event = QCloseEvent()
    window.closeEvent(event)
    assert event.isAccepted() is closes
    assert answers.asked == 1
    assert len(list(kept.glob("*.boltwell"))) == (1 if answer == 0 else 0)


def test_closing_without_a_change_asks_nothing(window: MainWindow, kept: Path) -> None:
    answers = Answers(kept / "kept.boltwell")
    file_actions(window, answers)
    window.closeEvent(QCloseEvent())
    assert answers.asked == 0


def test_the_measuring_sheet_by_itself(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    answers = Answers(kept / "x")
    file_actions(window, answers)
    window.file_actions.sheet("measuring")
    qtbot.waitUntil(lambda: len(list(kept.glob("*.pdf"))) == 1)
    assert next(kept.glob("* measuring sheet.pdf")).read_bytes().startswith(b"%PDF-1.7")
    assert window.foot.said.startswith("Measuring sheet: ")
    assert answers.messages == [""]


def test_the_print_key_makes_the_sheets_and_nothing_prints_past_them(qtbot: QtBot, window: MainWindow) -> None:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.keyClick(window.face, Qt.Key.Key_P, CTRL)
    assert window.document.view_state.sheets
    sheets = next(menu for menu in window.menuBar().actions() if menu.text() == "&Sheets").menu()
    lines = [line.text() for line in sheets.actions() if line.text()]  # type: ignore[attr-defined]
    assert lines == ["&Make the sheets", "&Back to the drawing", "&Print…", "&Measuring sheet…", "&Planning page…"]


# What is not seen is not changed

WORKS_ANYWHERE = {"New…", "Open…", "Recent boats", "Demonstration boats", "Quit", "Light", "Dark",
                  "Larger text", "Smaller text", "Manual", "Keys", "About Boltwell"}  # fmt: skip


def possible(window: MainWindow) -> set[str]:
    """Return the words of the menus' lines that can be chosen now."""
    lines = [line for menu in window.menuBar().actions() for line in menu.menu().actions()]  # type: ignore[attr-defined]
    return {line.text().replace("&", "") for line in lines if line.text() and line.isEnabled()}


def test_while_a_boat_begins_the_one_out_of_sight_is_left_alone(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    answers = Answers(kept / "unseen.boltwell")
    file_actions(window, answers)
    before = set_units(window.document.design, "mm")
    window.document.commit("Millimetres", before)
    offered = possible(window)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.keyClick(window.face, Qt.Key.Key_N, CTRL)
    assert window.start.isVisible()
    assert possible(window) <= WORKS_ANYWHERE
    for key in (Qt.Key.Key_Z, Qt.Key.Key_S, Qt.Key.Key_P, Qt.Key.Key_D, Qt.Key.Key_L, Qt.Key.Key_R):
        qtbot.keyClick(window.start.tiles[0], key, CTRL)
    assert window.start.isVisible()
    assert window.document.design == before
    assert window.document.view_state.deciding == ""
    assert not window.document.view_state.sheets
    assert list(kept.glob("*.boltwell")) == []
    qtbot.keyClick(window.start.tiles[0], Qt.Key.Key_Escape)
    assert possible(window) == offered
    qtbot.keyClick(window.face, Qt.Key.Key_Z, CTRL)
    assert window.document.design != before


def test_escape_leaves_the_start_and_not_the_sheets_behind_it(qtbot: QtBot, window: MainWindow) -> None:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.make_sheets()
    window.show_start()
    qtbot.keyClick(window.start.tiles[0], Qt.Key.Key_Escape)
    assert window.central.shows_drawing
    assert window.document.view_state.sheets
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert not window.document.view_state.sheets


def test_with_a_comparison_open_nothing_is_undone_unseen(qtbot: QtBot, window: MainWindow) -> None:
    window.document.commit("Millimetres", set_units(window.document.design, "mm"))
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.keyClick(window.face, Qt.Key.Key_R, CTRL)
    assert window.face_or_compare.compares
    qtbot.keyClick(window, Qt.Key.Key_Z, CTRL)
    qtbot.keyClick(window, Qt.Key.Key_P, CTRL)
    assert str(window.document.design.units) == "mm"
    assert not window.document.view_state.sheets
    assert {"Save", "Compare", "Will it hang low enough?"} <= possible(window)
    qtbot.keyClick(window, Qt.Key.Key_R, CTRL)
    assert window.central.shows_drawing
    qtbot.keyClick(window.face, Qt.Key.Key_Z, CTRL)
    assert window.document.design.units == "in"


def test_no_panel_gets_results_of_another_design_than_it_shows(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, opened: Callable[[Design], MainWindow], design: Design, fitting: Design
) -> None:
    """In a drag that pauses the ladder may be calculated while panels still wait."""
    monkeypatch.setattr("app.ui.throttle.TURN", 600_000)
    monkeypatch.setattr("app.ui.throttle.REST", 600_000)
    shows: dict[type, Design] = {}
    calls: list[tuple[type, Design, Design]] = []
    for kind in (Card, FindingsPanel, LadderStrip):

        def show_checked(self: QWidget, checked: Checked, view_state: ViewState, before=kind.show_checked) -> None:
            shows[type(self)] = checked.design
            before(self, checked, view_state)

        def show_rungs(self: QWidget, rungs: object, before=kind.show_rungs) -> None:
            calls.append((type(self), shows[type(self)], window.document.checked.design))
            before(self, rungs)

        monkeypatch.setattr(kind, "show_checked", show_checked)
        monkeypatch.setattr(kind, "show_rungs", show_rungs)
    window = opened(design)
    qtbot.waitUntil(lambda: bool(calls))
    calls.clear()
    window.document.preview(fitting)
    assert design in shows.values()  # they wait
    qtbot.waitUntil(lambda: len(calls) == 3)
    assert {kind for kind, _, _ in calls} == {Card, FindingsPanel, LadderStrip}
    assert all(seen == fitting == asked for _, seen, asked in calls)
    window.document.cancel()


def shows(fields: list[QLineEdit], grounds: list[QColor]) -> bool:
    """Return whether each field has its background."""
    return [field.grab().toImage().pixelColor(4, 4) for field in fields] == grounds


def test_the_closed_ladder_leaves_words_out_before_it_cuts_one(window: MainWindow) -> None:
    head, line = window.ladder.head, "Drop 8 in · 2nd hole from the top (one hole up) · AV plate 3/8 in above the bottom"
    assert head.text() == line
    wide = QFontMetrics(sized()).horizontalAdvance
    fewer = "Drop 8 in · 2nd hole from the top · AV plate 3/8 in above the bottom"
    assert [head.text_for(room) for room in (wide(line), wide(line) - 1, wide(fewer) - 1)] == [line, fewer, fewer[:-11]]
    assert head.text_for(60).endswith("…")
    assert line in head.accessibleName()


def test_the_panels_take_another_light(qtbot: QtBot, window: MainWindow) -> None:
    """The ground of a field is the card's at rest, and the field's own under the hand."""
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.document.set_view_state(ViewState(section=7))
    fields = [field for field in window.card.findChildren(QLineEdit) if field.isVisible()]
    assert len(fields) > 2
    fields[0].setFocus()
    for dark in (True, False, True):
        apply_theme(dark=dark)
        colours = palette(dark)
        wanted = [colours["field" if field.hasFocus() else "card"] for field in fields]
        qtbot.waitUntil(partial(shows, fields, wanted))
        assert fields[0].hasFocus()
    apply_theme(dark=False)


LOOKS = [(name, units, units == "mm") for name in design_names() for units in ("in", "mm")]


@pytest.mark.parametrize(("name", "units", "dark"), [*LOOKS, ("shallow-well-skiff", "in", True)])
def test_no_text_is_wider_than_its_place(qtbot: QtBot, window: MainWindow, name: str, units: str, dark: bool) -> None:
    apply_theme(dark=dark)
    window.document.new(set_units(from_text(design_text(name)), "in" if units == "in" else "mm"))
    opened_ladder(qtbot, window)
    for section in range(9):
        window.document.set_view_state(ViewState(section=section))
        qtbot.waitUntil(lambda: too_wide(window) == [])


def test_the_drawing_has_half_of_the_window_at_rest(qtbot: QtBot, window: MainWindow) -> None:
    assert share(window) >= 0.50
    opened_ladder(qtbot, window)
    come_to_rest()
    assert share(window) >= 0.40


def test_every_control_has_a_name_and_a_tab_place(window: MainWindow) -> None:
    window.document.set_view_state(ViewState(section=3))
    controls = [
        widget for widget in window.findChildren(QWidget)
        if isinstance(widget, QAbstractButton | QLineEdit | FaceCanvas) and widget.isVisible()
    ]  # fmt: skip
    assert len(controls) > 20
    for widget in controls:
        assert widget.accessibleName(), repr(widget)
        assert widget.focusPolicy() & Qt.FocusPolicy.TabFocus, widget.accessibleName()


def test_f6_goes_round(qtbot: QtBot, window: MainWindow) -> None:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.face.setFocus()
    seen = []
    for _ in range(6):
        qtbot.keyClick(window, Qt.Key.Key_F6)
        focus = window.focusWidget()
        assert focus is not None
        parts = (window.answer, window.card, window.face, window.cut, window.ladder, window.findings)
        seen.append(next(i for i, part in enumerate(parts) if part is focus or part.isAncestorOf(focus)))
    assert sorted(seen) == [0, 1, 2, 3, 4, 5]


@pytest.mark.parametrize("name", design_names())
def test_a_view_can_be_built_from_a_design_alone(qtbot: QtBot, name: str) -> None:
    apply_theme(dark=False)
    design: Design = from_text(design_text(name))
    for make in (FaceCanvas, CutView, AnswerLine, Card, FindingsPanel, LadderStrip, FootLine):
        view = make()
        qtbot.addWidget(view)
        view.show_checked(check(design), ViewState(section=7))
        assert not view.grab().isNull()


def test_clicking_a_dimension_goes_to_its_entry(qtbot: QtBot, window: MainWindow) -> None:
    from templates_out.drawing.marks import Text

    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    figure = next(m for m in window.face.marks() if isinstance(m, Text) and m.part.endswith(".drop"))
    at = figure.at[0], figure.at[1] + figure.size / 3
    qtbot.mouseClick(window.face, Qt.MouseButton.LeftButton, pos=window.face.place_of(at).toPoint())
    assert window.document.view_state.lit == "mounts.0.drop"
    assert window.document.view_state.section == 7


def test_looking_is_no_step(qtbot: QtBot, window: MainWindow) -> None:
    window.face.zoom(2.0)
    window.face.push(10.0, 5.0)
    window.cut.step()
    qtbot.mouseClick(window.card.heads[4], Qt.MouseButton.LeftButton)
    assert window.document.view_state.section == 5
    assert window.document.history.past == ()


def test_zoom_keeps_the_place_and_its_bounds(window: MainWindow) -> None:
    view = window.face.view
    assert view is not None
    about = (30.0, 40.0)
    before = view.to_boat(about)
    window.face.zoom(1.2, about)
    assert window.face.view is not None
    assert window.face.view.to_boat(about) == pytest.approx(before, abs=1e-9)
    for _ in range(60):
        window.face.zoom(1.2)
    assert window.face.view.scale == pytest.approx(8.0)
    for _ in range(80):
        window.face.zoom(1 / 1.2)
    assert window.face.view.scale == pytest.approx(1 / 20)


def test_a_design_that_says_nothing_at_all(window: MainWindow) -> None:
    from msgspec.structs import replace

    window.document.new(replace(window.document.design, mounts=(), well=None, inside_blocks=(), old_holes=(), readings={}))
    window.grab()
    assert window.answer.sentence.startswith("No motor")


def test_readings_not_taken_yet(window: MainWindow) -> None:
    from geometry.readings.measures import put_path

    design = window.document.design
    for key in ("transom.rake", "well.fillet_radius", "transom.thickness.top", "well.profile.1.1"):
        blank = put_path(design, key, None)
        window.document.new(blank)
        window.grab()
        assert window.answer.sentence.startswith("Don’t drill")
    with pytest.raises(OwnerError):
        put_path(design, "transom.rake", 80.0)
