"""Tab's rounds: through the parts on the face each time it comes in, and through tools and findings as the eye goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from app.tools.handles import grips
from app.tools.pointer_tool import neighbour
from tests.gestures.conftest import chosen

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

SHIFT, NONE = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.NoModifier


def walk(qtbot: QtBot, window: MainWindow, key: Qt.Key, keys: Qt.KeyboardModifier) -> list[str]:
    """Go on by Tab, or back, until it leaves the face; return the parts that were chosen on the way."""
    seen: list[str] = []
    while len(seen) < 100:
        qtbot.keyClick(window.face, key, keys)
        if not window.face.hasFocus():
            return seen
        seen.append(window.document.view_state.chosen)
    return seen


def test_tab_walks_through_all_parts_each_time_it_comes_round(qtbot: QtBot, window: MainWindow) -> None:
    """And backward, after any choice in between, by the last round or by hand."""
    every = [grip.part for grip in grips(window.document.design, 0)]
    window.face.setFocus(Qt.FocusReason.TabFocusReason)
    assert walk(qtbot, window, Qt.Key.Key_Tab, NONE) == every
    after = QApplication.focusWidget()
    assert after is not None
    qtbot.keyClick(after, Qt.Key.Key_Backtab, SHIFT)
    assert window.face.hasFocus()
    assert walk(qtbot, window, Qt.Key.Key_Backtab, SHIFT) == every[::-1]
    for left in (every[-1], every[3], every[0], ""):
        chosen(window, left)
        window.face.clearFocus()
        window.face.setFocus(Qt.FocusReason.TabFocusReason)
        assert walk(qtbot, window, Qt.Key.Key_Tab, NONE) == every


def test_a_round_goes_on_from_what_was_moved_or_clicked_in_it(qtbot: QtBot, window: MainWindow) -> None:
    chosen(window, "bracket:0")
    window.face.clearFocus()
    window.face.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(window.face, Qt.Key.Key_Right)
    qtbot.keyClick(window.face, Qt.Key.Key_Tab)
    assert window.document.view_state.chosen == neighbour(window.document.design, 0, "bracket:0", forward=True)


def test_a_tab_turned_round_at_once_goes_back_where_it_came_from(qtbot: QtBot, window: MainWindow) -> None:
    chosen(window, "bracket:0")
    for reason, back, keys in (
        (Qt.FocusReason.TabFocusReason, Qt.Key.Key_Backtab, SHIFT), (Qt.FocusReason.BacktabFocusReason, Qt.Key.Key_Tab, NONE)
    ):  # fmt: skip
        window.face.clearFocus()
        window.face.setFocus(reason)
        qtbot.keyClick(window.face, back, keys)
        assert not window.face.hasFocus()
        assert window.document.view_state.chosen == "bracket:0"


def test_tab_goes_by_the_eye_through_tools_and_findings(window: MainWindow) -> None:
    heads = [row.head for row in window.findings.rows]
    rounds: tuple[list[QWidget], ...] = (
        [*window.face_head.tools.values(), window.face_head.zone], [*heads, window.findings._fold],
    )  # fmt: skip
    for wanted in rounds:
        assert len(wanted) > 4
        chain: list[QWidget] = [wanted[0]]
        while (after := chain[-1].nextInFocusChain()) is not None and after is not wanted[0]:
            chain.append(after)
        assert [widget for widget in chain if widget in wanted] == wanted
