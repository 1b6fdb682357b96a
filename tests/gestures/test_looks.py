"""Every state of the window in both lights and both units, at 100, 150 and 200 % of the screen, and in grey."""

from __future__ import annotations

import os
import subprocess
import sys
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, get_args

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QRectF
from PySide6.QtGui import QAction, QImage, QPainter
from PySide6.QtWidgets import QApplication, QMessageBox

from app.ui.error_messages import _box
from app.ui.palette import palette
from app.ui.state_marks import paint_state
from app.ui.theme import apply_theme
from geometry.edits.edits import with_mount
from geometry.judge.findings import STATE_WORDS, State
from geometry.readings.measures import measures
from templates_out.drawing.marks import Circle, Line, Pen, Text
from tests.gestures.looking import complaints, overlaps, states, typewritten

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(("factor", "wide", "high"), [("1", 1366, 708), ("1.5", 1280, 660), ("2", 1920, 1020)])
def test_nothing_to_complain_of(factor: str, wide: int, high: int) -> None:
    """Screens of 1366 x 768, of 1920 x 1080 at 150 % and of 3840 x 2160 at 200 %."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.gestures.looking", str(wide), str(high)], cwd=ROOT, capture_output=True, text=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "QT_SCALE_FACTOR": factor}, check=False, timeout=3600,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == [f"looked at {2 * len(states())} at {factor}"]


def test_what_is_looked_for_is_found() -> None:
    words, heavy = Text((10.0, 10.0), "8 in", 3.4, part="one"), Pen("ink", 0.5)
    next_to = Text((30.0, 10.0), "2 in", 3.4, part="two")
    assert not list(overlaps((words, next_to, Line((0.0, 0.0), (40.0, 0.0), heavy))))
    assert len(list(overlaps((words, Text((12.0, 11.0), "2 in", 3.4, part="two"))))) == 1
    assert len(list(overlaps((words, Line((0.0, 11.0), (40.0, 11.0), heavy))))) == 1
    assert len(list(overlaps((words, Circle((12.0, 11.0), 1.0, heavy))))) == 1


def test_a_complaint_is_made_of_what_is_cut_off(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.waitUntil(lambda: complaints(window) == [])
    window.card.setFixedWidth(90)
    qtbot.waitUntil(lambda: complaints(window) != [])


def test_no_typewriter_in_what_is_lit_done_asked_or_refused(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each entry as it is lit, and its step in the menus; a question; a fault's box; a text that an entry does not take."""
    for design in states().values():
        window.document.new(design)
        for measure in measures(design):
            window.document.set_view_state(replace(window.document.view_state, lit=measure.key))
            assert not measure.key or window.foot.said.startswith(f"{measure.name.replace(chr(39), '’')}: ")
            assert typewritten(window) == []
    window.document.commit("Boat's length to 15 ft", with_mount(window.document.design, 0, offset=1.0))
    assert [action.text() for action in window.findChildren(QAction) if "length to 15" in action.text()]
    assert typewritten(window) == []
    asked: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: asked.append(box.text()))
    window.dialogs.show_message("/dev/full can't be written.")
    window.dialogs.choose("Save the changes to the launch's file?", ("Save", "Back"))
    monkeypatch.setattr(QApplication, "platformName", lambda: "xcb")
    _box("That can't be.", "")
    assert asked == ["/dev/full can’t be written.", "Save the changes to the launch’s file?", "That can’t be."]


def in_grey(state: State, dark: bool) -> QImage:
    """Return a state's mark at four times its size, without its colour."""
    made = QImage(64, 64, QImage.Format.Format_RGB32)
    colours = palette(dark)
    made.fill(colours["card"])
    painter = QPainter(made)
    paint_state(painter, QRectF(0, 0, 64, 64), state, colours)
    painter.end()
    return made.convertToFormat(QImage.Format.Format_Grayscale8)


@pytest.mark.parametrize("dark", [False, True])
def test_the_states_differ_in_grey(qtbot: QtBot, dark: bool) -> None:
    """Of any two marks at least 2 % of the pixels differ by 60 of 255 or more: a thin ring's width, and our assumption."""
    pictures = {state: bytes(in_grey(state, dark).constBits()) for state in get_args(State)}
    for first, second in combinations(pictures, 2):
        differ = sum(abs(a - b) >= 60 for a, b in zip(pictures[first], pictures[second], strict=True))
        assert differ >= 0.02 * 64 * 64, (first, second, differ)
    assert len(set(STATE_WORDS.values())) == len(STATE_WORDS)  # and each has its word next to it


@pytest.mark.parametrize("dark", [False, True])
def test_new_and_fouled_differ_without_colour(qtbot: QtBot, window: MainWindow, dark: bool) -> None:
    """On the face itself: a fouled washer has cross hatch and a bold figure with a minus sign, a new one neither."""
    apply_theme(dark=dark)
    marks = window.face.marks()
    hatched = {mark.part for mark in marks if type(mark).__name__ == "Hatch" and mark.kind == "cross"}
    assert hatched
    assert all("lower" in part for part in hatched)
    figures = [mark for mark in marks if isinstance(mark, Text) and mark.part.startswith("finding:washer")]
    assert [(mark.bold, mark.text[0]) for mark in figures] == [(True, "−")]
    window.document.new(states()["clear"])
    assert not [mark for mark in window.face.marks() if type(mark).__name__ == "Hatch" and mark.kind == "cross"]
