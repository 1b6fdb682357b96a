"""The findings: cures as buttons with their ghosts, chances once they are calculated, and names that are never cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent, QFontMetrics
from PySide6.QtWidgets import QApplication

from app.document.view_state import ViewState
from app.ui import timeslice
from app.ui.basic_widgets import unbroken
from assets import design_names, design_text
from geometry.decide.cures import cure
from geometry.design_text import from_text
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from geometry.judge.findings import WORSE
from tests.gestures.conftest import come_to_rest

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.findings.finding_head import FindingHead
    from app.window.main_window import MainWindow
    from geometry.design.design import Design
    from geometry.judge.findings import Checked

LEFT = Qt.MouseButton.LeftButton


def ghost_drop(window: MainWindow) -> float | None:
    ghost = window.document.view_state.ghost
    return None if ghost is None else ghost.mounts[0].drop


def line(window: MainWindow, name: str) -> FindingHead:
    return next(row.head for row in window.findings.rows if row.head.line.name == name)


def opened(qtbot: QtBot, window: MainWindow, name: str) -> None:
    """Open a line; a press on the open one would close it."""
    head = line(window, name)
    if window.findings._opened() != head.line:
        qtbot.mouseClick(head, LEFT)


@pytest.mark.parametrize("name", design_names())
def test_a_cure_betters_its_finding_and_worsens_none(name: str) -> None:
    design = from_text(design_text(name))
    for mounts in (design, with_mount(design, 0, drop=184.15)):
        checked = check(mounts)
        before = {(finding.check, finding.at): WORSE.index(finding.state) for finding in checked.findings}
        for finding in checked.findings:
            first_cure = cure(checked, finding)
            if first_cure is None:
                continue
            after = check(first_cure.design)
            now = after.of(finding.check, finding.at)
            assert now is None or WORSE.index(now.state) < WORSE.index(finding.state)
            clear = WORSE.index("clear")
            assert all(WORSE.index(finding_after.state) <= max(before.get((finding_after.check, finding_after.at), 0), clear)
                       for finding_after in after.findings if finding_after is not now)  # fmt: skip


def test_the_slot_wants_a_sixteenth_more(fitting: Design) -> None:
    """At 7 1/4 in, 2nd hole from the top, the bolts are at the slot's end. 0.8 mm are advised, a sixteenth has 1.6."""
    checked = check(fitting)
    first_cure = cure(checked, next(finding for finding in checked.findings if finding.check == "row"))
    assert first_cure is not None
    assert first_cure.button == "Drop to 7 5/16 in"
    assert first_cure.design.mounts[0].drop == pytest.approx(7.3125 * 25.4, abs=1e-9)


def test_a_cures_button_shows_its_ghost_and_does_it_in_one_step(
    qtbot: QtBot, window: MainWindow, fitting: Design
) -> None:
    window.document.commit("Drop to 7 1/4 in", fitting)
    opened(qtbot, window, "Lower bolts in the slot")
    qtbot.waitUntil(lambda: window.findings.button is not None)
    button = window.findings.button
    assert button is not None
    assert button.text() == "Drop to 7 5/16 in"
    QApplication.sendEvent(button, QEnterEvent(QPointF(5, 5), QPointF(5, 5), QPointF(5, 5)))
    assert ghost_drop(window) == pytest.approx(7.3125 * 25.4, abs=1e-9)
    assert window.document.design == fitting
    QApplication.sendEvent(button, QEvent(QEvent.Type.Leave))
    assert ghost_drop(window) is None
    button.setFocus(Qt.FocusReason.TabFocusReason)
    assert ghost_drop(window) is not None
    qtbot.keyClick(button, Qt.Key.Key_Space)
    assert window.document.design.mounts[0].drop == pytest.approx(7.3125 * 25.4, abs=1e-9)
    assert window.document.undo_label == "Drop to 7 5/16 in"
    assert ghost_drop(window) is None
    assert len(window.document.history.past) == 2


def test_what_the_slip_offers_has_no_second_button(qtbot: QtBot, at_a_move: MainWindow) -> None:
    """The next step raises the lower bolts, which cures its washers too; the edge of the upper holes has a separate cure."""
    window = at_a_move
    qtbot.waitUntil(lambda: bool(window.findings._sought))
    assert window.findings._opened().name == "Lower port washer"
    assert window.findings.button is None
    qtbot.waitUntil(lambda: any(row.head.line.name.startswith("Both upper holes") for row in window.findings.rows))  # fmt: skip
    opened(qtbot, window, "Both upper holes, inside edge")
    assert window.findings.button is not None


def test_never_more_than_one_button(qtbot: QtBot, at_a_move: MainWindow) -> None:
    window = at_a_move
    for row in window.findings.rows:
        qtbot.mouseClick(row.head, LEFT)
        assert sum(any_row.button is not None for any_row in window.findings.rows) <= 1


def test_what_is_in_doubt_says_so_and_what_to_measure(qtbot: QtBot, window: MainWindow) -> None:
    """A washer that clears by 0.5 mm with a floor read to 1.5 mm is within its limit about six times in ten."""
    design, low, high = window.document.design, 150.0, 203.2
    for _ in range(40):
        drop = (low + high) / 2
        washer = check(with_mount(design, 0, drop=drop)).of("washer", "main motor / lower port")
        assert washer is not None
        low, high = (drop, high) if (washer.value or 0.0) > 0.5 else (low, drop)
    window.document.commit("Drop", with_mount(design, 0, drop=low))
    qtbot.waitUntil(lambda: any(finding_line.doubt for finding_line in window.findings._lines))
    in_doubt = (finding_line for finding_line in window.findings._lines if finding_line.doubt)
    washer_line = next(finding_line for finding_line in in_doubt if finding_line.name.endswith("port washer"))
    assert washer_line.group == "measure"
    assert washer_line.short[0] == "First measure corner radius.", "a guess was not measured before"
    head = line(window, washer_line.name)
    assert "measure first" in head.accessibleName()


def test_an_open_finding_says_what_would_turn_it(qtbot: QtBot, window: MainWindow) -> None:
    """Only once the chances are known; another design has another sentence, or none yet."""
    qtbot.waitUntil(lambda: window.findings._flip.startswith("If "), timeout=20_000)
    row = next(row for row in window.findings.rows if row.text)
    assert row.more is not None
    assert unbroken(window.findings._flip) not in row.text
    qtbot.mouseClick(row.more, LEFT)
    assert unbroken(window.findings._flip) in row.text
    window.document.commit("Drop", with_mount(window.document.design, 0, drop=150.0))
    assert not window.findings._flip


def test_the_cut_shows_doubt_only_once_it_is_known(qtbot: QtBot, window: MainWindow) -> None:
    def doubts() -> int:
        return sum(getattr(mark, "part", "") == "doubt" for mark in window.cut.canvas.sheet_marks())

    qtbot.waitUntil(lambda: doubts() > 0, timeout=20_000)
    window.document.preview(with_mount(window.document.design, 0, drop=160.0))
    assert doubts() == 0
    window.document.cancel()
    assert doubts() > 0, "the design is the one from before, whose chances are known"


def test_the_places_in_the_cut_come_with_the_chances(qtbot: QtBot, window: MainWindow) -> None:
    """They are found in slices before the chances are shown: the cut would stop the window for 50 ms."""
    chances = timeslice.DoubtWorker()
    with qtbot.waitSignal(chances.ready, timeout=20_000) as ready:
        chances.show_checked(check(window.document.design), ViewState())
    assert ready.args
    assert ready.args[0].sure
    assert "place_spreads" in ready.args[0].__dict__


def test_a_hand_that_rests_in_a_drag_sees_no_doubt(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """While a button is held no chance is calculated, however long it rests; after its release it is."""
    held = [True]
    monkeypatch.setattr(timeslice, "button_is_held", lambda: held[0])
    worker = timeslice.DoubtWorker()
    came: list[Checked] = []
    worker.ready.connect(came.append)
    checked = check(from_text(design_text("tapered-work-boat")))
    worker.show_checked(checked, ViewState())
    qtbot.wait(3 * timeslice.DOUBT_REST)
    assert not came
    assert not worker._slicer._timer.isActive()
    held[0] = False
    qtbot.waitUntil(lambda: bool(came), timeout=30_000)
    assert came[0].design is checked.design
    assert came[0].sure


@pytest.mark.parametrize(("name", "size"), [("thrice-drilled-runabout", (1366, 708)), ("shallow-well-skiff", (1024, 640))])
def test_a_name_too_long_for_its_place_takes_more_lines_and_never_meets_its_figure(
    qtbot: QtBot, window: MainWindow, name: str, size: tuple[int, int]
) -> None:
    """On a small screen a long name leaves what it hits no room: that is below it."""
    window.resize(*size)
    window.document.new(from_text(design_text(name)))
    window.findings._turn()
    come_to_rest()
    for row in window.findings.rows:
        head = row.head
        part, second, figure = head.places(head.width())
        assert part.bottom() <= head.height() + 1
        assert second.bottom() <= head.height() + 1
        assert not part.intersects(figure)
        assert second.isEmpty() or not second.intersects(part.adjusted(0, 0, 0, -6))
        assert second.isEmpty() or not second.intersects(figure.adjusted(0, 0, 0, -6))
        wide = QFontMetrics(head._part_font()).horizontalAdvance
        assert all(wide(word) <= part.width() + 2 for word in head.text().split()), head.text()
