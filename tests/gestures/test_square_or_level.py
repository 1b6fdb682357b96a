"""Square or level in the cut; the ghost of a cure on the face; what undo changed is lit for a second."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent
from PySide6.QtWidgets import QApplication

from app.document.changed_parts import changed_parts
from geometry.edits.edits import with_mount
from geometry.solid.faces import faces
from geometry.solid.square_or_level import level_tilt, other_way
from templates_out.views.cut_ghost import exits_moved

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from geometry.design.design import Design

LEFT = Qt.MouseButton.LeftButton


def ghost_drop(window: MainWindow) -> float | None:
    ghost = window.document.view_state.ghost
    return None if ghost is None else ghost.mounts[0].drop


def test_level_is_as_far_from_square_as_the_transom_leans(design: Design) -> None:
    """A hole square to a face that leans 15 degrees runs 15 degrees off level; to 1e-9 degrees."""
    rake = design.transom.rake
    assert rake is not None
    assert level_tilt(faces(design.transom)) == pytest.approx(-rake, abs=1e-9)


def test_the_exits_move_by_thickness_times_the_tangent(design: Design) -> None:
    """By hand: 1 1/2 in of wood at 15 degrees: 38.1 tan 15 = 10.209 mm lower; the faces are parallel here. To 1e-6 mm."""
    way, other = other_way(design, 0)
    assert way == "level"
    thickness = design.transom.thickness.top
    assert thickness is not None
    by = exits_moved(design, other, "starboard", 0)
    assert by == pytest.approx([-thickness * math.tan(math.radians(15.0))] * 2, abs=1e-6)
    back, square = other_way(other, 0)
    assert back == "square"
    assert square.mounts[0].lower_tilt == 0.0


def test_looking_at_the_other_way_changes_nothing(qtbot: QtBot, window: MainWindow) -> None:
    design = window.document.design
    qtbot.mouseClick(window.cut.switch, LEFT)
    assert window.document.view_state.other_way
    assert window.cut.bar.isVisible()
    assert window.cut.bar.sentence == (
        "Level, 15° off square: the upper bolt comes out 3/8 in lower, the lower 3/8 in lower."
    )
    assert [mark for mark in window.cut.canvas.marks() if mark.part == "ghost"]
    assert window.document.design == design
    assert window.document.history.past == ()
    qtbot.mouseClick(window.cut.switch, LEFT)
    assert not window.cut.bar.isVisible()
    assert not [mark for mark in window.cut.canvas.marks() if mark.part == "ghost"]


def test_drill_this_way_sets_both_tilts_in_one_step(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.mouseClick(window.cut.switch, LEFT)
    qtbot.mouseClick(window.cut.bar.drill, LEFT)
    mount = window.document.design.mounts[0]
    assert (mount.upper_tilt, mount.lower_tilt) == (-15.0, -15.0)
    assert len(window.document.history.past) == 1
    assert window.document.undo_label == "Drill level"
    assert window.cut.bar.sentence.startswith("Square to the face")
    window.document.undo()
    assert window.document.design.mounts[0].lower_tilt == 0.0


def test_what_is_not_measured_is_said(window: MainWindow) -> None:
    unknown = replace(window.document.design, transom=replace(window.document.design.transom, rake=None))
    window.document.commit("No lean", unknown)
    window.document.set_view_state(replace(window.document.view_state, other_way=True))
    assert "Measure the transom" in window.cut.bar.sentence
    assert not window.cut.bar.drill.isVisible()


def test_a_cure_shows_where_the_holes_would_go(qtbot: QtBot, at_a_move: MainWindow) -> None:
    window, button = at_a_move, at_a_move.card.next_step.button
    design = window.document.design
    QApplication.sendEvent(button, QEnterEvent(QPointF(5, 5), QPointF(5, 5), QPointF(5, 5)))
    assert ghost_drop(window) == pytest.approx(7.3125 * 25.4)
    assert window.document.design == design
    QApplication.sendEvent(button, QEvent(QEvent.Type.Leave))
    assert ghost_drop(window) is None
    button.setFocus(Qt.FocusReason.TabFocusReason)
    assert ghost_drop(window) == pytest.approx(7.3125 * 25.4)
    qtbot.mouseClick(button, LEFT)
    assert window.document.design.mounts[0].drop == pytest.approx(7.3125 * 25.4)
    assert ghost_drop(window) is None


def test_undo_lights_what_it_changed_for_a_second(window: MainWindow) -> None:
    window.document.commit("Drop to 7 in", with_mount(window.document.design, 0, drop=177.8))
    window.document.undo()
    assert "lower port hole:0" in window.document.view_state.flash
    assert "upper port hole:0" not in window.document.view_state.flash
    timer = window.undo_highlight.timer
    assert timer.isActive()
    assert timer.isSingleShot()
    assert timer.interval() == 1000  # ms; the test does not wait for it: a busy machine's clock decides nothing
    timer.timeout.emit()
    assert window.document.view_state.flash == ()


def test_changed_parts_name_what_differs(design: Design) -> None:
    assert changed_parts(design, design) == ()
    assert changed_parts(design, replace(design, well=None)) == ("profile edge", "profile corner", "flat land")
    assert changed_parts(design, with_mount(design, 0, row=2)) == ("bracket:0",)
    assert changed_parts(replace(design, mounts=()), design)
