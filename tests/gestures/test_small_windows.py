"""Small windows: one part at a time below 900 wide, the ladder over the face below 680 high."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QApplication, QScrollArea

from app.deciding.motor_height_panel import LowEnoughPanel
from app.document.view_state import ViewState
from app.entries.choice_lines import ActLine
from app.frame.columns import FOLDED, PARTS, columns_of
from app.ui.deciding_modes import FIT, LOW_ENOUGH, with_mode
from app.ui.typography import sized
from tests.gestures.conftest import come_to_rest
from tests.gestures.looking import run_out, too_wide

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

LEFT = Qt.MouseButton.LeftButton


def small(qtbot: QtBot, window: MainWindow, wide: int = 683, high: int = 384) -> None:
    window.hint.hide()
    window.resize(wide, high)
    qtbot.waitUntil(lambda: (window.width(), window.height()) == (wide, high))


def seen(window: MainWindow) -> set[str]:
    places = {"card": window.card, "face": window.face, "cut": window.cut, "findings": window.findings}
    return {name for name, place in places.items() if place.isVisible()}


def test_a_wide_window_shows_all(window: MainWindow) -> None:
    assert seen(window) == set(PARTS)
    assert not any(button.isVisible() for button in window.foot.parts.values())


def test_a_narrow_one_shows_the_part_that_is_chosen(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window)
    assert seen(window) == {"face"}
    assert window.answer.isVisible()
    for name in PARTS:
        qtbot.mouseClick(window.foot.parts[name], LEFT)
        assert seen(window) == {name}
        assert window.foot.parts[name].isChecked()
    window.resize(1366, 708)
    qtbot.waitUntil(lambda: seen(window) == set(PARTS))


def test_a_long_sentence_at_the_foot_ends_with_dots_before_the_units(qtbot: QtBot, window: MainWindow) -> None:
    """At 1024 px it ran into "snap 1/16 in". All of it is still there, for the pointer and a screen reader."""
    small(qtbot, window, 1024, 700)
    sentence = "Hold a straightedge square to the face, on the outside top edge. Measure from it down to the floor. " * 3
    window.foot.say(sentence)
    come_to_rest()
    said, state = window.foot._said, window.foot._state
    assert window.foot.said == sentence
    assert said.shown.endswith("…")
    assert QFontMetrics(said.font()).horizontalAdvance(said.shown) <= said.width()
    assert state.x() - (said.x() + said.width()) >= 12
    window.foot.say("Short.")
    assert said.shown == "Short."


def test_f6_goes_round_and_brings_each_part_to_sight(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window)
    window.answer.button.setFocus()
    came = []
    for _ in range(6):
        window.focus_cycle.next()
        came.append(next(iter(seen(window))))
    assert came == ["card", "face", "cut", "face", "findings", "findings"]
    assert window.answer.button.hasFocus()
    window.focus_cycle.previous()
    assert seen(window) == {"findings"}


def test_a_dimension_leads_to_the_card(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window)
    window.face.wanted.emit("mounts.0.drop")
    assert seen(window) == {"card"}
    assert window.document.view_state.lit == "mounts.0.drop"


def test_low_windows_open_the_ladder_over_the_face(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window, 1366, 560)
    before = window.face.height()
    qtbot.mouseClick(window.ladder.head, LEFT)
    qtbot.waitUntil(lambda: any(rung.isVisible() for rung in window.ladder.rungs))
    assert window.face.height() == before
    assert window.ladder.geometry().top() < window.face.geometry().bottom()
    qtbot.mouseClick(window.ladder.head, LEFT)
    assert window.ladder.geometry().top() > window.face.geometry().bottom()


def test_high_windows_open_it_below_the_face(qtbot: QtBot, window: MainWindow) -> None:
    before = window.face.height()
    qtbot.mouseClick(window.ladder.head, LEFT)
    qtbot.waitUntil(lambda: any(rung.isVisible() for rung in window.ladder.rungs))
    assert window.face.height() < before
    assert window.ladder.geometry().top() > window.face.geometry().bottom()


def test_the_cut_folds_where_the_margin_is_narrow(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window, 1100, 700)
    assert seen(window) == set(PARTS)
    assert window.cut.height() == FOLDED


@pytest.mark.parametrize("wide", [683, 1000, 1366])
def test_every_tool_has_its_place(qtbot: QtBot, window: MainWindow, wide: int) -> None:
    small(qtbot, window, wide, 500)
    head = window.face_head
    for name, button in head.tools.items():
        assert button.geometry().right() <= head.width(), name
        assert button.width() >= button.sizeHint().width(), name
        assert button.geometry().bottom() < head.height(), name


def test_the_columns_fill_the_width() -> None:
    for wide in (900, 1180, 1366, 1920, 3840):
        assert sum(columns_of(wide)) == wide


@pytest.mark.parametrize(("wide", "high"), [(683, 384), (899, 560), (1180, 640)])
def test_no_text_is_wider_than_its_place(qtbot: QtBot, window: MainWindow, wide: int, high: int) -> None:
    small(qtbot, window, wide, high)
    for part in PARTS:
        window.columns.show_part(part)
        come_to_rest()
        assert too_wide(window) == [], part


SCREENS = [(1024, 661), (910, 484), (683, 363)]  # 1024 x 700, and 1366 x 768 at 150 and 200 %, less a title bar


@pytest.mark.parametrize(("wide", "high"), SCREENS)
def test_nothing_runs_out_of_the_side_of_a_panel(qtbot: QtBot, window: MainWindow, wide: int, high: int) -> None:
    """Panels scroll up and down alone: what is wider than its panel can't be reached."""
    small(qtbot, window, wide, high)

    def looked_over(what: object) -> None:
        for part in PARTS if window.columns.narrow else ("",):
            if part:
                window.columns.show_part(part)
            come_to_rest()
            assert run_out(window) == [], (what, part)

    for section in range(9):
        window.document.set_view_state(ViewState(section=section))
        looked_over(section)
    for panel in (FIT, LOW_ENOUGH):
        window.document.set_view_state(with_mode(ViewState(), panel))
        looked_over(panel)
    window.document.set_view_state(ViewState())
    window.show_start()
    looked_over("start")
    window.show_board()
    window.make_sheets()
    looked_over("sheets")
    window.leave_sheets()


@pytest.mark.parametrize(("wide", "high"), SCREENS)
def test_the_cut_always_names_its_side(qtbot: QtBot, window: MainWindow, wide: int, high: int) -> None:
    small(qtbot, window, wide, high)
    window.columns.show_part("cut")
    for _ in range(2):
        window.cut.step()
        come_to_rest()
        title = window.cut.head
        text = title.text_for(title.width() - 9)
        assert window.cut.canvas.side in text.lower()
        assert QFontMetrics(sized(strong=True)).horizontalAdvance(text) <= title.width() - 9


@pytest.mark.parametrize(("wide", "worded"), [(1366, True), (1280, False), (1024, False)])
def test_the_cuts_buttons_are_icons_where_the_title_needs_their_room(
    qtbot: QtBot, window: MainWindow, wide: int, worded: bool
) -> None:
    """Each keeps its name for a reader of the screen, and has it in its tool tip."""
    small(qtbot, window, wide, 700)
    come_to_rest()
    for _ in range(2):
        window.cut.step()
        come_to_rest()
        assert window.cut.head.width() >= window.cut.head.sizeHint().width()
        for button, name in ((window.cut.switch, "Square or level"), (window.cut.in_space, "Picture")):
            assert (button.width() >= button.least_with_word) == worded
            assert button.width() >= 24
            assert button.accessibleName() == name
            assert button.toolTip().startswith(f"{name}. ") != worded


def test_in_a_low_window_the_answer_scrolls_with_its_picture(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window, 683, 363)
    window.document.set_view_state(with_mode(ViewState(), LOW_ENOUGH))
    come_to_rest()
    panel = window.aside.panels.currentWidget()
    assert isinstance(panel, LowEnoughPanel)
    (area,) = panel.findChildren(QScrollArea)
    assert area.isAncestorOf(panel.picture)
    assert area.viewport().height() >= 190
    assert area.verticalScrollBar().maximum() > 0


def test_the_words_at_the_side_of_the_start_page_are_whole(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window, 683, 363)
    window.show_start()
    come_to_rest()
    lines = window.start.findChildren(ActLine)
    assert lines
    for line in lines:
        assert line.width() >= line.sizeHint().width(), line.text()
    window.show_board()


def test_the_words_of_an_open_ladder_keep_off_its_arrow(qtbot: QtBot, window: MainWindow) -> None:
    small(qtbot, window, 910, 484)
    qtbot.mouseClick(window.ladder.head, LEFT)
    come_to_rest()
    shown = [button for button in window.ladder.head.seats.values() if button.isVisible()]
    assert shown
    assert max(button.geometry().right() for button in shown) < window.ladder.head.width() - 42  # px: where the arrow begins


def test_a_panel_that_is_hidden_takes_no_room(qtbot: QtBot, window: MainWindow) -> None:
    """The widest of them has been open, and the columns are as they were before."""
    small(qtbot, window, 910, 484)
    come_to_rest()
    before = window.columns.sizes()
    window.document.set_view_state(with_mode(ViewState(), LOW_ENOUGH))
    come_to_rest()
    assert window.columns.sizes() != before
    window.document.set_view_state(ViewState())
    come_to_rest()
    assert window.columns.sizes() == before


@pytest.mark.parametrize("ask", ["open", "save"])
def test_the_file_dialog_is_whole_on_a_small_screen(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, ask: str
) -> None:
    """1366 x 768 at 200 %: its buttons were below the screen."""
    monkeypatch.setattr("app.ui.window_place._area", lambda _rect: (0, 0, 683, 384))
    sizes: list[QSize] = []

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        if dialog is not None:
            sizes.append(dialog.size())
            if dialog.height() <= 384 - 48 or len(sizes) > 100:
                dialog.close()
                return
        QTimer.singleShot(0, look)

    QTimer.singleShot(0, look)
    if ask == "open":
        assert window.dialogs.open_name(tmp_path, "Boats (*.boltwell)") is None
    else:
        assert window.dialogs.save_name("Save", tmp_path / "boat.boltwell", "Boats (*.boltwell)") is None
    assert sizes[-1].width() <= 683 - 16
    assert sizes[-1].height() <= 384 - 48
