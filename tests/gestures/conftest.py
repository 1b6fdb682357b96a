"""A window on the worked example, and the places on it by what they are on the boat."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication

from app.document.document import Document
from app.ui.theme import apply_theme
from app.window.main_window import MainWindow
from assets import design_text
from geometry.asking.question_order import SECOND_WAYS
from geometry.design_text import from_text
from geometry.edits.edits import with_mount
from tests.designs import all_guesses, all_measured

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from geometry.design.design import Design

@pytest.fixture(autouse=True)
def _swept(swept: None) -> None:
    """Every test here is swept."""


@pytest.fixture
def design() -> Design:
    """The demonstration boat: fouled at a drop of 8 in, in the 2nd hole from the top."""
    return from_text(design_text("shallow-well-skiff"))


@pytest.fixture
def fitting(design: Design) -> Design:
    """The same with a drop of 7 1/4 in: plain washers fit."""
    return with_mount(design, 0, drop=184.15)


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A data folder of the test's own."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path


@pytest.fixture
def opened(qtbot: QtBot, kept: Path) -> Callable[[Design], MainWindow]:
    """Return what opens a window of 1366 x 708 on a design, light."""

    def leave(window: MainWindow) -> None:
        """Leave nothing to be asked for at the end of a test: no text half typed, no change that is not saved."""
        window.card.settle()
        window.document.save(kept / "done.boltwell", over=True)

    def make(design: Design) -> MainWindow:
        made = MainWindow(Document(design))
        apply_theme(dark=False)
        qtbot.addWidget(made, before_close_func=leave)
        made.resize(1366, 708)
        made.show()
        qtbot.waitExposed(made)
        return made

    return make


@pytest.fixture
def window(opened: Callable[[Design], MainWindow], design: Design) -> MainWindow:
    """A window on the demonstration boat."""
    return opened(design)


@pytest.fixture
def at_a_move(qtbot: QtBot, opened: Callable[[Design], MainWindow], design: Design) -> MainWindow:
    """A window on the demonstration boat with all measured: nothing is left to ask for, so the next step is a move."""
    window = opened(all_measured(design))
    pass_second_ways(window)
    qtbot.waitUntil(window.card.next_step.button.isVisible)
    return window


def pass_second_ways(window: MainWindow) -> None:
    """Leave the second ways to the five readings, as Can't reach it does."""
    window.document.set_view_state(replace(window.document.view_state, passed=SECOND_WAYS))


def guess_all(window: MainWindow) -> None:
    """Open the boat with all that is measured counted as a guess: only a guess can be dragged."""
    window.document.new(all_guesses(window.document.design))


def place(window: MainWindow, u: float, v: float) -> QPoint:
    """Return the place on the face of (u, v) [boat mm], in the canvas's pixels."""
    view = window.face.view
    assert view is not None
    return window.face.place_of(view.to_paper((u, v))).toPoint()


def come_to_rest() -> None:
    """Let Qt do all that has been asked for: layouts, paints, timers that are due. It does not wait for later events."""
    for _ in range(10):  # one asks for the next: a text for its layout, that for its scroll area's
        QApplication.processEvents()


def pixel(window: MainWindow) -> float:
    """Return how many boat mm a pixel is."""
    view = window.face.view
    assert view is not None
    return 25.4 / 96 / view.scale


def chosen(window: MainWindow, part: str) -> None:
    """Choose a part as the view state has it, the hand on the face."""
    window.document.set_view_state(replace(window.document.view_state, chosen=part))
    window.face.setFocus()
