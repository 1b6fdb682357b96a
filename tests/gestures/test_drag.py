"""Dragging on the face: each drag is one step, snapped to what a tape reads, and Escape leaves nothing behind."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from geometry.edits.edits import set_units, with_mount
from tests.gestures.conftest import guess_all, pixel, place

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

SNAP = 25.4 / 16  # mm, the window's step in inches
LEFT = Qt.MouseButton.LeftButton


def drag(qtbot: QtBot, window: MainWindow, start: QPoint, by: QPoint, keys: Qt.KeyboardModifier | None = None) -> None:
    """Press, move in three steps, let go."""
    held = keys or Qt.KeyboardModifier.NoModifier
    qtbot.mouseMove(window.face, start)
    qtbot.mousePress(window.face, LEFT, held, start)
    for part in (3, 2, 1):
        qtbot.mouseMove(window.face, QPoint(start.x() + by.x() // part, start.y() + by.y() // part))
    qtbot.mouseRelease(window.face, LEFT, held, QPoint(start.x() + by.x(), start.y() + by.y()))


def test_lower_pair_changes_the_drop(qtbot: QtBot, window: MainWindow) -> None:
    mount = window.document.design.mounts[0]
    lower = mount.bracket.lower
    assert lower is not None
    assert mount.drop == 203.2
    start = place(window, lower.half_spacing, (mount.upper_at or 0.0) - 203.2)
    drag(qtbot, window, start, QPoint(0, -round(28.575 / pixel(window))))
    changed = window.document.design.mounts[0]
    assert changed.drop == pytest.approx(174.625, abs=SNAP)  # a pixel is about 1 mm here
    assert changed.drop is not None
    assert changed.drop / SNAP == pytest.approx(round(changed.drop / SNAP), abs=1e-9)  # on a sixteenth
    assert (changed.upper_at, changed.offset, changed.row) == (mount.upper_at, mount.offset, mount.row)
    assert len(window.document.history.past) == 1
    assert window.document.undo_label.startswith("Drop to 6 7/8 in")
    window.document.undo()
    assert window.document.design.mounts[0] == mount


def test_bracket_moves_the_whole_pattern(qtbot: QtBot, window: MainWindow) -> None:
    mount = window.document.design.mounts[0]
    start = place(window, 60.0, (mount.upper_at or 0.0) - 80.0)
    drag(qtbot, window, start, QPoint(round(50.8 / pixel(window)), round(25.4 / pixel(window))))
    changed = window.document.design.mounts[0]
    assert changed.offset == pytest.approx(50.8, abs=SNAP)
    assert changed.upper_at == pytest.approx((mount.upper_at or 0.0) - 25.4, abs=SNAP)
    assert (changed.drop, changed.row) == (mount.drop, mount.row)
    assert len(window.document.history.past) == 1
    assert window.document.view_state.chosen == "bracket:0"


def test_upper_pair_leaves_the_lower_pair_on_the_boat(qtbot: QtBot, window: MainWindow) -> None:
    mount = window.document.design.mounts[0]
    rows = mount.bracket.rows
    assert rows is not None
    assert mount.upper_at is not None
    assert mount.drop is not None
    drag(qtbot, window, place(window, -rows.half_spacing, mount.upper_at), QPoint(0, round(12.7 / pixel(window))))
    changed = window.document.design.mounts[0]
    assert changed.upper_at == pytest.approx(mount.upper_at - 12.7, abs=SNAP)
    assert changed.upper_at is not None
    assert changed.drop is not None
    assert changed.upper_at - changed.drop == pytest.approx(mount.upper_at - mount.drop, abs=1e-9)
    assert len(window.document.history.past) == 1


def test_the_bracket_hook_moves_by_holes_and_the_bolts_stay(qtbot: QtBot, window: MainWindow) -> None:
    mount = window.document.design.mounts[0]
    rows = mount.bracket.rows
    assert rows is not None
    assert mount.row is not None
    hook = (mount.upper_at or 0.0) + rows.row0_depth + mount.row * rows.pitch
    drag(qtbot, window, place(window, 0.0, hook), QPoint(0, -round(rows.pitch / pixel(window))))
    changed = window.document.design.mounts[0]
    assert changed.row == mount.row + 1
    assert (changed.upper_at, changed.drop, changed.offset) == (mount.upper_at, mount.drop, mount.offset)


def test_well_corner_is_one_step(qtbot: QtBot, window: MainWindow) -> None:
    from app.tools.handles import profile_place

    guess_all(window)
    well = window.document.design.well
    assert well is not None
    corner = well.profile[1]
    assert corner[0] is not None
    drag(qtbot, window, place(window, *profile_place(window.document.design, 1)), QPoint(round(25.4 / pixel(window)), 0))
    changed = window.document.design.well
    assert changed is not None
    assert changed.profile[1][0] == pytest.approx(corner[0] + 25.4, abs=SNAP)
    assert changed.profile[1][1] == pytest.approx(corner[1], abs=1e-9)
    assert len(window.document.history.past) == 1


def test_outline_corner_takes_its_twin_along(qtbot: QtBot, window: MainWindow) -> None:
    guess_all(window)
    window.face.show_whole()
    outline = window.document.design.transom.outline
    index = max(range(len(outline)), key=lambda i: (outline[i][0] or 0.0) - 0.01 * abs(outline[i][1] or 0.0))
    u, v = outline[index]
    assert u is not None
    assert v is not None
    drag(qtbot, window, place(window, u, v), QPoint(-round(50.0 / pixel(window)), 0))
    changed = window.document.design.transom.outline
    assert changed[index][0] == pytest.approx(u - 50.0, abs=pixel(window) + SNAP)
    twin = next(corner for corner in changed if corner[0] == -(changed[index][0] or 0.0))
    assert twin[1] == pytest.approx(v, abs=0.5)
    assert len(window.document.history.past) == 1


def test_escape_in_a_drag_leaves_nothing(qtbot: QtBot, window: MainWindow) -> None:
    design = window.document.design
    start = place(window, 60.0, -130.0)
    qtbot.mousePress(window.face, LEFT, pos=start)
    qtbot.mouseMove(window.face, QPoint(start.x() + 60, start.y() + 30))
    assert window.document.checked.design != design
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    qtbot.mouseRelease(window.face, LEFT, pos=QPoint(start.x() + 60, start.y() + 30))
    assert window.document.checked.design == design
    assert window.document.design == design
    assert window.document.history.past == ()


@pytest.mark.parametrize("between", ["undo", "unit", "sheets"])
def test_a_drag_ends_at_another_change(qtbot: QtBot, window: MainWindow, between: str) -> None:
    document, start = window.document, place(window, 60.0, -130.0)
    document.commit("Drop to 7 in", with_mount(document.design, 0, drop=177.8))
    steps = document.history.steps
    qtbot.mousePress(window.face, LEFT, pos=start)
    qtbot.mouseMove(window.face, QPoint(start.x() + 60, start.y() + 30))
    assert document.checked.design != document.design
    if between == "undo":
        document.undo()
    elif between == "unit":
        document.commit("Millimetres", set_units(document.design, "mm"))
    else:
        window.sheets.mode.enter()
    assert document.checked.design == document.design
    qtbot.mouseMove(window.face, QPoint(start.x() + 90, start.y() + 40))
    qtbot.mouseRelease(window.face, LEFT, pos=QPoint(start.x() + 90, start.y() + 40))
    assert document.checked.design == document.design
    assert document.history.steps[: len(steps)] == steps
    assert len(document.history.steps) == len(steps) + (between == "unit")


def test_a_click_chooses_and_is_no_step(qtbot: QtBot, window: MainWindow) -> None:
    mount = window.document.design.mounts[0]
    rows = mount.bracket.rows
    assert rows is not None
    qtbot.mouseClick(window.face, LEFT, pos=place(window, rows.half_spacing, mount.upper_at or 0.0))
    assert window.document.view_state.chosen == "upper starboard hole:0"
    assert window.document.history.past == ()


def test_held_arrow_is_one_step(qtbot: QtBot, window: MainWindow) -> None:
    mount = window.document.design.mounts[0]
    qtbot.mouseClick(window.face, LEFT, pos=place(window, 60.0, (mount.upper_at or 0.0) - 80.0))
    for _ in range(3):
        qtbot.keyPress(window.face, Qt.Key.Key_Down)
    assert window.document.history.past == ()
    qtbot.keyRelease(window.face, Qt.Key.Key_Down)
    assert window.document.design.mounts[0].upper_at == pytest.approx((mount.upper_at or 0.0) - 3 * SNAP, abs=1e-9)
    assert len(window.document.history.past) == 1


def test_a_corner_that_would_cross_stays(qtbot: QtBot, window: MainWindow) -> None:
    from app.tools.handles import profile_place

    guess_all(window)
    start = place(window, *profile_place(window.document.design, 1))
    end = place(window, *profile_place(window.document.design, 2))
    drag(qtbot, window, start, QPoint(end.x() - start.x() + 60, 0))
    well = window.document.design.well
    assert well is not None
    (left, _), (right, _) = well.profile[1], well.profile[2]
    assert left is not None
    assert right is not None
    assert left < right


def test_two_motors_each_by_its_own(qtbot: QtBot, window: MainWindow) -> None:
    from assets import design_text
    from geometry.design_text import from_text

    window.document.new(from_text(design_text("twin-motor-launch")))
    window.face.refit()
    first, second = window.document.design.mounts
    start = place(window, second.offset or 0.0, (second.upper_at or 0.0) - 60.0)
    drag(qtbot, window, start, QPoint(0, round(25.4 / pixel(window))))
    assert window.document.design.mounts[0] == first
    moved = window.document.design.mounts[1].upper_at
    assert moved == pytest.approx((second.upper_at or 0.0) - 25.4, abs=SNAP + pixel(window))
    assert window.document.view_state.mount == 1


@pytest.fixture
def drilled(window: MainWindow) -> MainWindow:
    """A boat with old holes, whole in sight."""
    from assets import design_text
    from geometry.design_text import from_text

    window.document.new(from_text(design_text("thrice-drilled-runabout")))
    window.face.show_whole()
    return window


def hole_at(window: MainWindow, name: str) -> tuple[int, float, float]:
    """Return an old hole's number and its place."""
    index, hole = next((i, old_hole) for i, old_hole in enumerate(window.document.design.old_holes) if old_hole.name == name)
    assert hole.at[0] is not None
    assert hole.at[1] is not None
    return index, hole.at[0], hole.at[1]


def test_a_dragged_old_hole_shows_the_wood_left(qtbot: QtBot, drilled: MainWindow) -> None:
    """By hand: from centre to centre, less both radii, on the worse face; here both faces are parallel to 1 mm."""
    from geometry.solid.placed_bolts import bolts

    guess_all(drilled)
    index, u, v = hole_at(drilled, "cable hole")
    start = place(drilled, u, v)
    qtbot.mousePress(drilled.face, LEFT, pos=start)
    for far in (10, 20, 40):
        qtbot.mouseMove(drilled.face, QPoint(start.x(), start.y() + far))
    moved = drilled.document.checked.design.old_holes[index]
    apart = [
        ((bolt.u - (moved.at[0] or 0.0)) ** 2 + (bolt.v - (moved.at[1] or 0.0)) ** 2) ** 0.5 - bolt.hole / 2
        for bolt in bolts(drilled.document.checked.design)
    ]
    wood = min(apart) - (moved.plug_diameter or moved.diameter or 0.0) / 2
    phrase = next(word for word in drilled.face._figure.split(" · ") if "of wood left" in word)
    from geometry.units.units import parse_length

    assert parse_length(phrase.removesuffix(" of wood left"), "in") == pytest.approx(wood, abs=25.4 / 16 + 1.0)
    qtbot.mouseRelease(drilled.face, LEFT, pos=QPoint(start.x(), start.y() + 40))
    assert len(drilled.document.history.past) == 1
    assert drilled.face._figure == ""


def test_an_upper_hole_holds_to_an_old_one_both_ways_and_alt_lets_go(qtbot: QtBot, drilled: MainWindow) -> None:
    from geometry.edits.edits import with_mount

    _, u, v = hole_at(drilled, "old upper port")
    drilled.document.new(with_mount(drilled.document.design, 0, upper_at=v - 30.0))
    mount = drilled.document.design.mounts[0]
    assert mount.upper_at is not None
    assert mount.bracket.rows is not None
    start = place(drilled, (mount.offset or 0.0) - mount.bracket.rows.half_spacing, mount.upper_at)
    near = place(drilled, u + 2.0, v - 2.0)
    drag(qtbot, drilled, start, near - start)
    after = drilled.document.design.mounts[0]
    assert after.upper_at == pytest.approx(v, abs=1e-9)
    assert (after.offset or 0.0) - mount.bracket.rows.half_spacing == pytest.approx(u, abs=1e-9)
    drilled.document.undo()
    alt = Qt.KeyboardModifier.AltModifier
    qtbot.mousePress(drilled.face, LEFT, alt, start)
    free = QMouseEvent(
        QEvent.Type.MouseMove, QPointF(near), drilled.face.mapToGlobal(QPointF(near)), Qt.MouseButton.NoButton, LEFT, alt
    )
    QApplication.sendEvent(drilled.face, free)
    assert drilled.document.checked.design.mounts[0].upper_at != pytest.approx(v, abs=1e-6)
    qtbot.keyClick(drilled.face, Qt.Key.Key_Escape)
    qtbot.mouseRelease(drilled.face, LEFT, alt, start)


def test_the_bracket_holds_to_the_centreline(qtbot: QtBot, window: MainWindow) -> None:
    from geometry.edits.edits import with_mount

    window.document.new(with_mount(window.document.design, 0, offset=30.0))
    mount = window.document.design.mounts[0]
    start = place(window, 90.0, (mount.upper_at or 0.0) - 80.0)
    qtbot.mousePress(window.face, LEFT, pos=start)
    for far in (10, 20, round(28.0 / pixel(window))):
        qtbot.mouseMove(window.face, QPoint(start.x() - far, start.y()))
    assert "on the centreline" in window.face._figure
    qtbot.mouseRelease(window.face, LEFT, pos=QPoint(start.x() - round(28.0 / pixel(window)), start.y()))
    assert window.document.design.mounts[0].offset == 0.0
    assert window.document.undo_label == "Bracket to the centreline"


def test_an_impossible_corner_is_named_at_the_pointer(qtbot: QtBot, window: MainWindow) -> None:
    from app.tools.handles import profile_place

    guess_all(window)
    start = place(window, *profile_place(window.document.design, 1))
    end = place(window, *profile_place(window.document.design, 2))
    qtbot.mousePress(window.face, LEFT, pos=start)
    for at in (QPoint(start.x() + 30, start.y()), QPoint(end.x() + 60, start.y())):
        qtbot.mouseMove(window.face, at)
    assert "It stays where it was." in window.face._figure
    assert "It stays where it was." in window.foot.said
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    qtbot.mouseRelease(window.face, LEFT, pos=start)
    assert window.document.history.past == ()
