"""Compare by looking: a rung, a fit, a cure or a step under pointer or focus is drawn as a ghost in face and cut together."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent, QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget

from app.canvas.ghost_overlay import cut_ghost, face_ghost, ghost_room
from app.document.view_state import ViewState, only_ghost_differs
from app.ui.deciding_modes import FIT, LOW_ENOUGH, with_mode
from geometry.edits.edits import hang, with_mount
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.solid.placed_bolts import bolts
from geometry.units.units import format_clearance
from templates_out.drawing.marks import Circle, Path, Text
from tests.designs import sure, twin_design
from tests.gestures.conftest import come_to_rest
from tests.gestures.test_card_choices import LOWER, pick

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.entries.step_arrows import StepArrows
    from app.ladder.ladder_board import RungButton
    from app.window.main_window import MainWindow
    from geometry.design.design import Design

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.MouseButton.NoButton


def least(design: Design, mount: int = 0) -> float:
    """Return the smallest clearance inside of a motor, from the whole check."""
    rooms = (f.value for f in check(design).findings if CHECK_KINDS[f.check].in_well and mount in f.mounts)
    return min(room for room in rooms if room is not None)


def words_of(window: MainWindow) -> tuple[list[str], list[str]]:
    """Return the words of the ghosts on the face and in the cut."""
    checked, view = window.document.checked, window.face.view
    assert view is not None
    face = window.face._ghost(checked, view)
    return [mark.text for mark in face if isinstance(mark, Text)], [
        mark.text for mark in window.cut.canvas.ghost() if isinstance(mark, Text)
    ]


def ghost_of(window: MainWindow) -> Design | None:
    return window.document.view_state.ghost


def point_at(widget: QWidget) -> None:
    at = QPointF(widget.rect().center())
    QApplication.sendEvent(widget, QEnterEvent(at, at, at))


def leave(widget: QWidget) -> None:
    QApplication.sendEvent(widget, QEvent(QEvent.Type.Leave))


def over(arrows: StepArrows, way: int) -> None:
    at = arrows.place_of(way)
    away = QPointF(arrows.mapToGlobal(at))
    QApplication.sendEvent(
        arrows, QMouseEvent(QEvent.Type.MouseMove, at, away, NONE, NONE, Qt.KeyboardModifier.NoModifier)
    )  # fmt: skip


def rung(qtbot: QtBot, window: MainWindow) -> RungButton:
    """Open the ladder, and return a rung with another drop."""
    qtbot.mouseClick(window.ladder.head, LEFT)
    qtbot.waitUntil(lambda: any(each.isVisible() for each in window.ladder.rungs))
    drop = window.document.design.mounts[0].drop
    return next(each for each in window.ladder.rungs if each.isEnabled() and each.place[0] != drop)


def test_a_rung_under_the_pointer_is_drawn_in_face_and_cut(qtbot: QtBot, window: MainWindow) -> None:
    place = rung(qtbot, window)
    before = window.document.design, window.document.checked, len(window.document.history.past)
    point_at(place)
    drop, row = place.place
    wanted = hang(window.document.design, 0, row, drop)
    assert ghost_of(window) == wanted
    room = format_clearance(least(wanted), "in")
    assert words_of(window) == ([f"clear {room}"], [f"clear {room}"])
    assert (window.document.design, window.document.checked, len(window.document.history.past)) == before
    leave(place)
    assert ghost_of(window) is None
    assert words_of(window) == ([], [])


def test_the_focus_on_a_rung_draws_it_too_and_a_press_takes_it(qtbot: QtBot, window: MainWindow) -> None:
    place = rung(qtbot, window)
    place.setFocus(Qt.FocusReason.TabFocusReason)
    ghost = window.document.view_state.ghost
    assert ghost is not None
    qtbot.keyClick(place, Qt.Key.Key_Space)
    assert window.document.design == ghost
    assert not window.document.view_state.ghost
    window.document.undo()
    assert window.document.view_state.ghost is None


def test_the_present_rung_has_no_ghost(qtbot: QtBot, window: MainWindow) -> None:
    rung(qtbot, window)
    point_at(next(each for each in window.ladder.rungs if each.present))
    assert window.document.view_state.ghost is None


def test_nothing_is_drawn_or_calculated_again_for_a_ghost(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only its own marks: not the sheet of face and cut, not the list, not the ladders."""
    place = rung(qtbot, window)
    come_to_rest()
    before = window.face.sheet_marks(), window.cut.canvas.sheet_marks()
    sent: list[object] = []
    window.ladder_worker.ready.connect(sent.append)
    monkeypatch.setattr(window.findings, "_show", lambda: sent.append("findings"))
    point_at(place)
    assert window.document.view_state.ghost is not None
    assert window.face.sheet_marks() is before[0]
    assert window.cut.canvas.sheet_marks() is before[1]
    leave(place)
    assert window.face.sheet_marks() is before[0]
    assert not sent


@pytest.mark.parametrize("way", [1, -1])
def test_an_arrow_of_drop_shows_its_step_and_takes_it(qtbot: QtBot, window: MainWindow, way: int) -> None:
    window.document.set_view_state(ViewState(section=7))
    come_to_rest()
    entry = window.card.entry("mounts.0.drop")
    assert entry is not None
    arrows = entry.arrows
    assert arrows is not None
    over(arrows, way)
    ghost = window.document.view_state.ghost
    assert ghost is not None
    assert ghost.mounts[0].drop == pytest.approx(203.2 + way * 1.5875, abs=1e-9)
    face, cut = words_of(window)
    assert face == cut == [f"fouled {format_clearance(least(ghost), 'in').removeprefix('−')}"]
    leave(arrows)
    assert window.document.view_state.ghost is None
    qtbot.mouseClick(arrows, LEFT, pos=arrows.place_of(way).toPoint())
    assert window.document.design == ghost
    assert len(window.document.history.past) == 1


def test_an_arrow_of_the_height_shows_the_next_hole(qtbot: QtBot, window: MainWindow) -> None:
    window.document.set_view_state(ViewState(section=7))
    come_to_rest()
    entry = window.card.entry("mounts.0.row")
    assert entry is not None
    assert entry.arrows is not None
    over(entry.arrows, 1)
    ghost = window.document.view_state.ghost
    assert ghost is not None
    row = window.document.design.mounts[0].row
    assert row is not None
    assert ghost.mounts[0].row == row + 1


def test_only_drop_and_height_have_arrows(window: MainWindow) -> None:
    for section in range(1, 9):
        window.document.set_view_state(ViewState(section=section))
        come_to_rest()
        with_arrows = {key for key, part in window.card._visible().items() if getattr(part, "arrows", None) is not None}
        assert with_arrows == ({"mounts.0.drop", "mounts.0.row"} if section == 7 else set())


def test_up_and_down_in_drop_step_with_everything_live(qtbot: QtBot, window: MainWindow) -> None:
    """Each press of the key is checked and shown in face, cut and answer before it is let go."""
    window.activateWindow()
    window.document.set_view_state(ViewState(section=7))
    come_to_rest()
    entry = window.card.entry("mounts.0.drop")
    assert entry is not None
    entry.field.setFocus()
    for count in (1, 2, 3):
        qtbot.keyPress(entry.field, Qt.Key.Key_Down)
        stepped = window.document.checked.design
        assert stepped.mounts[0].drop == pytest.approx(203.2 - count * 1.5875, abs=1e-9)
        for view in (window.face, window.cut.canvas):
            assert view.checked is window.document.checked
    qtbot.keyRelease(entry.field, Qt.Key.Key_Down)
    assert window.document.design == stepped
    assert len(window.document.history.past) == 1


def test_a_fit_is_drawn_in_the_cut_that_stays_in_sight(qtbot: QtBot, window: MainWindow) -> None:
    window.document.set_view_state(with_mode(ViewState(), FIT))
    panel = window.aside.panels.currentWidget()
    qtbot.waitUntil(lambda: bool(panel.fits) and not panel.busy)
    assert window.cut.canvas.isVisible()
    assert window.cut.canvas.height() > 150
    assert not window.findings.isVisible()
    panel.rows[0].head.setFocus(Qt.FocusReason.TabFocusReason)
    assert window.document.view_state.ghost == panel.fits[0].design
    assert any(isinstance(mark, Path) for mark in window.cut.canvas.ghost())
    assert len(words_of(window)[1]) == 1


def test_the_cut_stays_in_sight_in_the_height_picture(window: MainWindow) -> None:
    cut = window.cut.height()
    window.document.set_view_state(with_mode(ViewState(), LOW_ENOUGH))
    come_to_rest()
    assert window.cut.canvas.isVisible()
    assert 150 < window.cut.height() < cut
    window.document.set_view_state(with_mode(ViewState(), ""))
    come_to_rest()
    assert window.cut.height() == cut


def test_a_narrow_window_keeps_the_panel_while_the_cut_is_looked_at(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(683, 384)
    qtbot.waitUntil(lambda: window.columns.narrow)
    window.document.set_view_state(with_mode(ViewState(), FIT))
    come_to_rest()
    panel = window.aside.panels.currentWidget()
    assert panel.isVisible()
    window.foot.part.emit("cut")
    assert window.cut.isVisible()
    assert not panel.isVisible()
    window.foot.part.emit("findings")
    assert panel.isVisible()
    window.foot.part.emit("findings")
    assert window.findings.isVisible()


def test_the_figure_is_that_of_the_motor_that_moves() -> None:
    twins = twin_design()
    checked = check(twins)
    moved = with_mount(twins, 1, drop=170.0)
    for mount in (0, 1):
        room = least(moved, mount)
        figure = format_clearance(room, "in").removeprefix("−")
        assert ghost_room(checked, moved, mount) == f"{'fouled' if room < 0 else 'clear'} {figure}"
    assert ghost_room(checked, moved, 0) != ghost_room(checked, moved, 1)


def test_a_ghost_draws_only_the_bolts_that_move(window: MainWindow) -> None:
    checked, view = window.document.checked, window.face.view
    assert view is not None
    moved = with_mount(window.document.design, 0, drop=184.15)
    face = face_ghost(checked, moved, view, 0)
    lower = [bolt for bolt in bolts(moved) if not bolt.upper]
    holes = sorted({mark.centre for mark in face if isinstance(mark, Circle)})
    wanted = sorted(view.to_paper((bolt.u, bolt.v)) for bolt in lower)
    assert [at for hole in holes for at in hole] == pytest.approx([at for hole in wanted for at in hole])
    cut_view = window.cut.canvas.view
    assert cut_view is not None
    parts = [mark for mark in cut_ghost(checked, moved, cut_view, "port", 0, None) if isinstance(mark, Path)]
    assert len(parts) == 2, "washer and nut of the lower bolt alone"


def test_a_ghost_is_all_that_two_view_states_differ_in(design: Design) -> None:
    state = ViewState(section=3, lit="transom.rake")
    assert only_ghost_differs(state, replace(state, ghost=design))
    assert not only_ghost_differs(state, state)
    assert not only_ghost_differs(state, replace(state, ghost=design, section=4))


def test_it_keeps_off_the_detail(opened: Callable[[Design], MainWindow], design: Design) -> None:
    window = opened(design)
    come_to_rest()
    cut = window.cut.canvas
    ring, view = cut.ring.place(), cut.view
    assert ring is not None
    assert view is not None
    for drop in (150.0, 170.0, 190.0, 210.0):
        moved = with_mount(design, 0, drop=drop)
        (figure,) = [m for m in cut_ghost(window.document.checked, moved, view, "port", 0, ring) if isinstance(m, Text)]
        assert not (ring[0] < figure.at[0] < ring[2] and ring[1] < figure.at[1] < ring[3])
        assert 0 < figure.at[0] < view.width


def test_an_answer_in_a_list_is_drawn_as_a_ghost(qtbot: QtBot, window: MainWindow) -> None:
    """A washer cut flat under the pointer, and by the arrow keys; the present answer and a closed list have none."""
    choice = pick(window, f"{LOWER}.flat")
    before, past = window.document.design, len(window.document.history.past)
    qtbot.mouseClick(choice.button, LEFT)
    whole, flat = choice.menu.actions()
    qtbot.mouseMove(choice.menu, choice.menu.actionGeometry(flat).center())
    qtbot.waitUntil(lambda: ghost_of(window) is not None)
    cut = sure(ghost_of(window)).mounts[0].lower_hardware.washer.flat_cut
    assert cut is not None
    assert all(words_of(window))
    qtbot.mouseMove(choice.menu, choice.menu.actionGeometry(whole).center())
    qtbot.waitUntil(lambda: ghost_of(window) is None)
    qtbot.keyClick(choice.menu, Qt.Key.Key_Down)
    assert sure(ghost_of(window)).mounts[0].lower_hardware.washer.flat_cut == cut
    qtbot.keyClick(choice.menu, Qt.Key.Key_Escape)
    assert ghost_of(window) is None
    assert (window.document.design, len(window.document.history.past)) == (before, past)
