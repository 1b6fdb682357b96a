"""Larger text: kept in the settings, up to 200 %, and every button still on the screen."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QFont, QFontMetrics

from app.card.section_head import SectionHead
from app.document.settings import settings
from app.entries.entry_text import Section
from app.entries.field import Field
from app.findings.finding_head import FindingHead
from app.ui import text_size, typography
from app.ui.basic_widgets import Button
from app.ui.text_size import SIZES, other_size, own_environment, scale_text
from app.window import program
from geometry.edits.edits import with_mount
from tests.gestures.test_start import menu_action
from tests.gestures.test_window import Answers, file_actions
from tests.gestures.test_window_on_screens import is_whole, started

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from PySide6.QtWidgets import QApplication

    from app.window.main_window import MainWindow
    from geometry.design.design import Design


class Later(Answers):
    """Answers, and keeps the questions."""

    def __init__(self, path: Path, answer: int) -> None:
        super().__init__(path, answer)
        self.questions: list[str] = []

    def choose(self, sentence: str, _answers: tuple[str, ...]) -> int:
        self.questions.append(sentence)
        return self.answer


def test_the_sizes_go_up_to_twice_and_back() -> None:
    assert [other_size(size, 1) for size in SIZES] == [125, 150, 175, 200, None]
    assert [other_size(size, -1) for size in SIZES] == [None, 100, 125, 150, 175]
    assert other_size(110, 1) == 125  # settings that were changed by hand
    assert other_size(110, -1) == 100


def test_the_menu_takes_another_size_and_keeps_it(window: MainWindow, kept: Path) -> None:
    answers = Later(kept / "x", answer=1)
    window.dialogs = answers  # type: ignore[assignment]
    assert not menu_action(window, "Smaller text").isEnabled()
    for size in (125, 150, 175, 200):
        menu_action(window, "Larger text").trigger()
        assert settings().text == size
        assert answers.questions[-1].startswith(f"Text is at {size} % once Boltwell starts again.")
    assert not menu_action(window, "Larger text").isEnabled()
    menu_action(window, "Smaller text").trigger()
    assert settings().text == 175
    assert window.isVisible()
    assert not window.starts_again


def test_to_start_again_asks_before_work_is_lost(window: MainWindow, kept: Path, design: Design) -> None:
    window.document.commit("Drop", with_mount(design, 0, drop=170.0))
    window.dialogs = Later(kept / "x", answer=0)  # type: ignore[assignment]
    stays = Later(kept / "x", answer=2)  # back to the drawing
    file_actions(window, stays)
    menu_action(window, "Larger text").trigger()
    assert len(stays.questions) == 1
    assert window.isVisible()
    assert not window.starts_again
    file_actions(window, Later(kept / "x", answer=1))  # don't save
    menu_action(window, "Larger text").trigger()
    assert not window.isVisible()
    assert window.starts_again


def test_the_new_process_begins_with_the_persons_own_scale(monkeypatch: pytest.MonkeyPatch) -> None:
    """A desktop's scale of 2 and text at 150 % are 3. The new process begins with 2, not with 3."""
    monkeypatch.setattr(text_size, "_given", [])
    monkeypatch.setenv("QT_SCALE_FACTOR", "2")
    scale_text(150)
    assert float(os.environ["QT_SCALE_FACTOR"]) == pytest.approx(3.0)
    assert own_environment()["QT_SCALE_FACTOR"] == "2"
    begun: list[tuple[list[str], dict[str, str]]] = []
    monkeypatch.setattr("subprocess.Popen", lambda words, env, **_more: begun.append((words, env)))
    program.start_again(None)
    assert begun[0][0][1:] == ["-m", "app"]
    assert begun[0][1]["QT_SCALE_FACTOR"] == "2"


@pytest.mark.parametrize(("size", "wide", "high"), [(150, 1366, 768), (200, 1920, 1080)])
def test_larger_text_leaves_every_button_on_the_screen(tmp_path: Path, size: int, wide: int, high: int) -> None:
    """The window's own scale is larger by the size, and the window is still whole on the screen."""
    report = started(tmp_path, [(0, 0, wide, high)], "1", text=size)
    assert is_whole(report), report
    assert report["cut off"] == []


@pytest.fixture
def larger_font(qapp: QApplication) -> Iterator[None]:
    """The system's font at 1.8 times its size."""
    usual = QFont(qapp.font())
    larger = QFont(usual)
    larger.setPointSizeF(1.8 * usual.pointSizeF())
    qapp.setFont(larger)
    typography._sized.cache_clear()
    yield
    qapp.setFont(usual)
    typography._sized.cache_clear()


@pytest.mark.usefixtures("larger_font")
def test_rows_and_buttons_follow_a_larger_system_font() -> None:
    """Each has room for its line of text, 4 px at least above and below it together."""
    line = QFontMetrics(typography.sized()).lineSpacing()
    head, button, field, section = FindingHead(), Button("Enter"), Field(), SectionHead(1)
    section.show_section(Section(1, "Transom", "", 0, 0), "inches", opened=False)
    field.show_value("3rd hole from the top", "3rd hole from the top", room="line")
    for high in (head.sizeHint().height(), button.height(), field.height(), section.height()):
        assert high >= line + 4
    assert field.width() >= QFontMetrics(field.font()).horizontalAdvance(field.text()) + 6


def test_rows_keep_their_height_at_a_usual_font(qapp: QApplication) -> None:
    assert [typography.row_high(usual) for usual in (25, 36)] == [25, 36]
