"""The manual in the window: F1 opens the page for what has the focus, Escape goes back to the work as it was left."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction, QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QWidget

from app.document.view_state import ViewState
from app.entries.field import Field
from app.frame.first_hint import LINES
from app.help.manual_pages import KEYS, page_of, slug
from app.help.manual_places import place_for
from app.ui.deciding_modes import COMPARE, FIT, LOW_ENOUGH, toggle
from app.ui.theme import apply_theme

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.help.manual_window import Manual
    from app.window.main_window import MainWindow

ROOT = Path(__file__).resolve().parents[2]
F1, ESCAPE = Qt.Key.Key_F1, Qt.Key.Key_Escape


def focused() -> QWidget:
    """Return what has the focus."""
    widget = QApplication.focusWidget()
    assert widget is not None
    return widget


def asked(qtbot: QtBot, window: MainWindow) -> Manual:
    """Press F1 on what has the focus."""
    qtbot.keyClick(focused(), F1)
    qtbot.waitUntil(window.manual.isVisible)
    qtbot.waitUntil(window.manual.reader.hasFocus)
    return window.manual


def read(qtbot: QtBot, window: MainWindow, place: str) -> Manual:
    """Open the manual at a place, and wait until it has the focus."""
    window.manual.show_at(place)
    qtbot.waitUntil(window.manual.reader.hasFocus)
    return window.manual


def come_back(qtbot: QtBot, window: MainWindow) -> None:
    """Press Escape in the manual."""
    qtbot.keyClick(window.manual.reader, ESCAPE)
    assert not window.manual.isVisible()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)


def at_entry(window: MainWindow, key: str) -> None:
    window.card.go_to(key)
    assert window.card.entry(key) is not None


def test_nothing_of_it_is_there_before_it_is_asked_for(window: MainWindow, kept: Path) -> None:
    assert "manual" not in vars(window)
    loaded = (
        "import sys; from app.ui.theme import start; held = start(); from app.document.examples import demonstration; "
        "from app.document.document import Document; from app.window.main_window import MainWindow; "
        "window = MainWindow(Document(demonstration())); "
        "window.show(); held.processEvents(); print([name for name in sys.modules if name.startswith('app.help.')])"
    )
    made = subprocess.run([sys.executable, "-c", loaded], capture_output=True, check=True, text=True, cwd=ROOT)
    assert made.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("key", "place"),
    [
        ("transom.rake", "measuring#rake"),
        ("well.floor_port", "measuring#floor-depth-at-port-and-starboard"),
        ("well.fillet_radius", "measuring#corner-radius"),
        ("mounts.0.drop", "placing#holes-and-drop"),
        ("mounts.0.lower_hardware.washer.outer", "hardware#washers"),
    ],
)
def test_f1_in_an_entry(qtbot: QtBot, window: MainWindow, key: str, place: str) -> None:
    at_entry(window, key)
    manual = asked(qtbot, window)
    assert manual.place == place
    assert manual.reader.anchor in manual.reader.places
    seen = manual.reader.cursorForPosition(QPoint(60, 22))  # it is at the top of the visible part
    assert slug(seen.block().text()).startswith(manual.reader.anchor)


def test_f1_on_the_face_with_a_tool_and_without(qtbot: QtBot, window: MainWindow) -> None:
    window.face.setFocus()
    assert asked(qtbot, window).place == "placing#what-a-drag-moves"
    come_back(qtbot, window)
    window.document.set_view_state(replace(window.document.view_state, tool="old hole"))
    window.face.setFocus()
    assert asked(qtbot, window).place == "sketching#old-hole"


def test_f1_on_a_finding(qtbot: QtBot, window: MainWindow) -> None:
    window.findings.take_focus()
    assert asked(qtbot, window).place == "findings#washer-nut-socket-thread-end"


@pytest.mark.parametrize(
    ("part", "page"), [("ladder", "placing"), ("cut", "placing"), ("answer", "findings"), ("sheets", "sheets")]
)
def test_f1_on_each_part(qtbot: QtBot, window: MainWindow, part: str, page: str) -> None:
    if part == "sheets":
        window.sheets.mode.enter()
        window.sheets.card.take_focus()
    elif part == "answer":
        window.answer.button.setFocus()
    else:
        getattr(window, part).take_focus()
    assert page_of(asked(qtbot, window).place) == page


def test_escape_gives_the_focus_back_and_a_half_typed_reading_stays(qtbot: QtBot, window: MainWindow) -> None:
    at_entry(window, "transom.rake")
    field = focused()
    qtbot.keyClicks(field, "13")
    asked(qtbot, window)
    come_back(qtbot, window)
    qtbot.waitUntil(lambda: QApplication.focusWidget() is field)
    assert isinstance(field, Field)
    assert field.text() == "13"
    assert window.document.history.past == ()  # nothing was committed by looking something up
    qtbot.keyClick(field, Qt.Key.Key_Escape)  # else it is taken, and asked about, as the window closes


def test_every_place_that_can_have_the_focus_leads_to_a_page(qtbot: QtBot, window: MainWindow) -> None:
    manual = window.manual
    known = {place for page in manual.pages for place in page.places}
    seen = set()
    for section in range(9):
        window.document.set_view_state(ViewState(section=section))
        for widget in window.findChildren(QWidget):
            if widget.focusPolicy() != Qt.FocusPolicy.NoFocus and widget.isVisibleTo(window):
                place = place_for(widget, window.document)
                seen.add(place)
                assert place in known, (widget, place)
    window.show_start()
    for tile in window.start.tiles:
        assert place_for(tile, window.document) in known
    assert len(seen) > 30  # each reading has its place, or one that it shares with few


@pytest.mark.parametrize(
    ("door", "place"),
    [(LOW_ENOUGH, "placing#will-it-hang-low-enough"), (FIT, "placing#find-a-fit"), (COMPARE, "placing#compare")],
)
def test_what_helps_to_decide_has_its_place(window: MainWindow, door: str, place: str) -> None:
    toggle(window.document, door)
    stops = [widget for widget in window.findChildren(QWidget) if widget.focusPolicy() != Qt.FocusPolicy.NoFocus]
    places = {place_for(stop, window.document) for stop in stops if stop.isVisible()}
    assert place in places


def test_links_lead_on_and_alt_left_back(qtbot: QtBot, window: MainWindow) -> None:
    manual = read(qtbot, window, "job")
    manual.reader.link_followed.emit("words#drop")
    assert manual.place == "words#drop"
    assert manual.reader.anchor == "drop"
    qtbot.keyClick(manual.reader, Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    assert manual.place == "job"


def test_page_down_goes_on(qtbot: QtBot, window: MainWindow) -> None:
    read(qtbot, window, "measuring")
    bar = window.manual.reader.verticalScrollBar()
    qtbot.keyClick(window.manual.reader, Qt.Key.Key_PageDown)
    assert bar.value() > 0
    qtbot.keyClick(window.manual.reader, Qt.Key.Key_PageUp)
    assert bar.value() == 0


def test_a_word_is_found_and_shown(qtbot: QtBot, window: MainWindow) -> None:
    manual = read(qtbot, window, "job")
    qtbot.keyClick(manual.reader, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(manual.sought.hasFocus)
    assert window.document.view_state.deciding == ""  # the same keys look for a fit in the other window
    qtbot.keyClicks(manual.sought, "diagonal")
    assert manual.lines
    assert any(page_of(line.place) == "sheets" for line in manual.lines)
    qtbot.keyClick(manual.sought, Qt.Key.Key_Return)
    assert "diagonal" in manual.reader.textCursor().selectedText().lower()
    qtbot.keyClick(manual.reader, ESCAPE)
    assert manual.sought.text() == ""
    assert manual.isVisible()


def test_contents_by_keys(qtbot: QtBot, window: MainWindow) -> None:
    manual = read(qtbot, window, "job")
    manual.lines[0].setFocus()
    qtbot.keyClick(manual.lines[0], Qt.Key.Key_Down)
    qtbot.keyClick(focused(), Qt.Key.Key_Return)
    assert manual.place == manual.lines[1].place or manual.place.startswith("job#")


def test_help_keys_lists_the_shortcuts(qtbot: QtBot, window: MainWindow) -> None:
    next(action for action in window.findChildren(QAction) if action.text() == "&Keys").trigger()
    assert window.manual.place == KEYS
    assert "Ctrl+S" in window.manual.reader.toPlainText()


@pytest.mark.parametrize("size", [(1010, 680), (683, 384), (420, 600)])
@pytest.mark.parametrize("dark", [False, True])
def test_no_line_of_it_is_wider_than_its_place(qtbot: QtBot, window: MainWindow, size: tuple[int, int], dark: bool) -> None:
    apply_theme(dark=dark)
    manual = window.manual
    manual.resize(*size)
    manual.show_at("job")
    manual.resize(*size)
    for page in manual.pages:
        manual.open(page.name)
        assert manual.reader.document().size().width() <= manual.reader.viewport().width() + 1, page.name
        for line in manual.lines:
            if isinstance(line, QAbstractButton) and line.isVisible() and not line.toolTip():
                assert QFontMetrics(line.font()).horizontalAdvance(line.text()) <= line.width() - 40


def test_the_hint_is_three_lines(qtbot: QtBot, window: MainWindow) -> None:
    window.hint.show()
    qtbot.waitUntil(lambda: window.hint.width() > 600)
    lines = [label for label in window.hint.findChildren(QLabel) if label.text() in LINES]
    assert len(lines) == 3
    for label in lines:
        assert QFontMetrics(label.font()).horizontalAdvance(label.text()) <= label.width()


def test_the_hint_is_hidden_with_the_sheets_and_comes_back(window: MainWindow) -> None:
    window.hint.show()
    window.sheets.mode.enter()
    assert window.hint.isHidden()
    window.sheets.mode.leave()
    assert not window.hint.isHidden()
    window.hint.button.click()
    window.sheets.mode.enter()
    window.sheets.mode.leave()
    assert window.hint.isHidden()
