"""A bracket's corners on the face: dragged like an outline's, both sides alike, and reached by the keyboard."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt

from app.tools.handles import Grip, grips
from assets import design_text
from geometry.design_text import from_text
from geometry.edits.edits import set_units
from geometry.solid.bracket_holes import bracket_ring
from templates_out.drawing.marks import Path
from tests.gestures.conftest import guess_all, pixel, place

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

LEFT, SHIFT = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ShiftModifier
STEP = 25.4 / 16  # mm: the snap in inches
WAIST, TWIN = 2, 5  # the corners below the bracket's wide top, at starboard and at port


def corner(window: MainWindow, number: int, mount: int = 0) -> Grip:
    return next(grip for grip in grips(window.document.design, mount) if grip.part == f"bracket:{mount} corner {number}")


def ring(window: MainWindow, mount: int = 0) -> tuple[tuple[float, float], ...]:
    """Return the bracket's corners in its own frame: from its centre, and up from the bracket hook."""
    return tuple((x or 0.0, y or 0.0) for x, y in window.document.design.mounts[mount].bracket.outline)


def take(qtbot: QtBot, window: MainWindow, grip: Grip, by: QPoint) -> None:
    """Press a corner and take it some way, without letting go."""
    start = place(window, *grip.at)
    qtbot.mouseMove(window.face, start)
    qtbot.mousePress(window.face, LEFT, pos=start)
    for part in (3, 2, 1):
        qtbot.mouseMove(window.face, QPoint(start.x() + by.x() // part, start.y() + by.y() // part))


def drag(qtbot: QtBot, window: MainWindow, grip: Grip, by: QPoint) -> None:
    take(qtbot, window, grip, by)
    qtbot.mouseRelease(window.face, LEFT, pos=place(window, *grip.at) + by)


def others(window: MainWindow) -> list[tuple[float, float]]:
    return [at for number, at in enumerate(ring(window)) if number not in (WAIST, TWIN)]


def test_a_corner_takes_its_twin_along_in_one_step(qtbot: QtBot, window: MainWindow) -> None:
    guess_all(window)
    before, rest, mount = ring(window), others(window), window.document.design.mounts[0]
    drag(qtbot, window, corner(window, WAIST), QPoint(round(25.4 / pixel(window)), round(12.7 / pixel(window))))
    x, y = ring(window)[WAIST]
    assert x == pytest.approx(before[WAIST][0] + 25.4, abs=STEP + pixel(window))
    assert y == pytest.approx(before[WAIST][1] - 12.7, abs=STEP + pixel(window))
    assert (x / STEP, y / STEP) == pytest.approx((round(x / STEP), round(y / STEP)), abs=1e-9)  # what a tape reads
    assert ring(window)[TWIN] == (-x, y)
    assert others(window) == rest
    after = window.document.design.mounts[0]
    assert replace(after, bracket=mount.bracket) == mount  # nothing else of the motor has moved
    assert len(window.document.history.past) == 1
    assert window.document.undo_label == "Bracket corner 2 moved on both sides"
    assert window.document.view_state.chosen == f"bracket:0 corner {WAIST}"
    window.document.undo()
    assert ring(window) == before


def test_the_port_corner_takes_the_other_along_too(qtbot: QtBot, window: MainWindow) -> None:
    guess_all(window)
    drag(qtbot, window, corner(window, TWIN), QPoint(-round(25.4 / pixel(window)), 0))
    x, y = ring(window)[TWIN]
    assert x == pytest.approx(-190.5 - 25.4, abs=STEP + pixel(window))
    assert ring(window)[WAIST] == (-x, y)


def test_one_side_alone_where_the_sides_need_not_be_alike(qtbot: QtBot, window: MainWindow) -> None:
    """The switch for the outline's corners. It is visible as soon as a corner is chosen."""
    guess_all(window)
    qtbot.mouseClick(window.face, LEFT, pos=place(window, *corner(window, WAIST).at))
    assert window.face_head.alike.isVisible()
    assert window.face_head.alike.isChecked()
    qtbot.mouseClick(window.face_head.alike, LEFT)
    drag(qtbot, window, corner(window, WAIST), QPoint(round(25.4 / pixel(window)), 0))
    assert ring(window)[WAIST][0] > 190.5 + 20.0
    assert ring(window)[TWIN] == (-190.5, -120.65)
    assert window.document.undo_label == "Bracket corner 2 at starboard moved"
    qtbot.keyPress(window.face, Qt.Key.Key_Left)
    qtbot.keyRelease(window.face, Qt.Key.Key_Left)
    assert ring(window)[TWIN] == (-190.5, -120.65)  # the arrows heed it as well


def test_where_two_sides_differ_a_corner_moves_alone(qtbot: QtBot, window: MainWindow) -> None:
    own = window.document.design.mounts[0]
    skew = replace(own.bracket, outline=((-200.0, 0.0), *own.bracket.outline[1:]))
    window.document.new(replace(window.document.design, mounts=(replace(own, bracket=skew),)))
    guess_all(window)
    drag(qtbot, window, corner(window, WAIST), QPoint(round(25.4 / pixel(window)), 0))
    assert ring(window)[WAIST][0] > 190.5 + 20.0
    assert ring(window)[TWIN] == (-190.5, -120.65)
    assert window.document.undo_label == "Bracket corner 3 moved"  # as the card counts them then: all, from port


def test_the_text_at_the_pointer_says_what_moves(qtbot: QtBot, window: MainWindow) -> None:
    guess_all(window)
    grip = corner(window, WAIST)
    window.document.commit("Millimetres", set_units(window.document.design, "mm"))
    take(qtbot, window, grip, QPoint(round(20.0 / pixel(window)), 0))
    x, y = (window.document.checked.design.mounts[0].bracket.outline[WAIST])
    figure = window.face.figure.split(" · ")[0]
    assert figure == f"Bracket corner 2 on both sides: {x:.0f} mm across, {-(y or 0.0):.1f} mm down"
    assert window.foot.said == figure
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert ring(window)[WAIST] == (190.5, -120.65)
    qtbot.mouseRelease(window.face, LEFT)
    assert len(window.document.history.past) == 1  # the unit


def test_a_corner_that_would_cross_stays(qtbot: QtBot, window: MainWindow) -> None:
    guess_all(window)
    take(qtbot, window, corner(window, WAIST), QPoint(0, -round(160.0 / pixel(window))))
    assert "That corner would cross another edge. It stays where it was." in window.face.figure
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    qtbot.mouseRelease(window.face, LEFT)
    assert window.document.history.past == ()


def test_arrows_step_a_chosen_corner_and_hold_is_one_step(qtbot: QtBot, window: MainWindow) -> None:
    guess_all(window)
    window.document.set_view_state(replace(window.document.view_state, chosen=f"bracket:0 corner {WAIST}"))
    window.face.setFocus()
    for _ in range(2):
        qtbot.keyPress(window.face, Qt.Key.Key_Right)
    qtbot.keyRelease(window.face, Qt.Key.Key_Right)
    assert ring(window)[WAIST][0] == pytest.approx(190.5 + 2 * STEP, abs=1e-9)
    assert ring(window)[TWIN][0] == pytest.approx(-190.5 - 2 * STEP, abs=1e-9)
    qtbot.keyPress(window.face, Qt.Key.Key_Down, SHIFT)
    qtbot.keyRelease(window.face, Qt.Key.Key_Down, SHIFT)
    assert ring(window)[WAIST][1] == pytest.approx(-120.65 - 10 * STEP, abs=STEP / 2 + 1e-9)  # to the tape's next mark
    assert len(window.document.history.past) == 2


@pytest.mark.parametrize("number", [WAIST, TWIN])
def test_tab_comes_to_the_corners_and_enter_to_their_entry(qtbot: QtBot, window: MainWindow, number: int) -> None:
    """Both sides have one entry, that at starboard, as long as they are alike."""
    window.document.set_view_state(replace(window.document.view_state, chosen="bracket:0"))
    window.face.setFocus()
    seen: list[str] = []
    for _ in range(6):
        qtbot.keyClick(window.face, Qt.Key.Key_Tab)
        seen.append(window.document.view_state.chosen)
    assert seen == [f"bracket:0 corner {index}" for index in range(6)]
    while window.document.view_state.chosen != f"bracket:0 corner {number}":
        qtbot.keyClick(window.face, Qt.Key.Key_Backtab, SHIFT)
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    entry = window.card.entry(f"mounts.0.bracket.outline.{WAIST}.0")
    assert entry is not None
    assert entry.field.hasFocus()


def test_bracket_hook_and_holes_still_move_the_whole_bracket(qtbot: QtBot, window: MainWindow) -> None:
    """A changed corner is the bracket's own: it goes with it."""
    guess_all(window)
    drag(qtbot, window, corner(window, WAIST), QPoint(round(25.4 / pixel(window)), 0))
    own, mount = ring(window), window.document.design.mounts[0]
    before = bracket_ring(mount, 0)
    hook = next(grip for grip in grips(window.document.design, 0) if grip.kind == "saddle")
    rows = mount.bracket.rows
    assert rows is not None
    drag(qtbot, window, hook, QPoint(0, -round(rows.pitch / pixel(window))))
    risen = bracket_ring(window.document.design.mounts[0], 0)
    assert [v - was for (_, v), (_, was) in zip(risen, before, strict=True)] == pytest.approx([rows.pitch] * 6, abs=1e-9)
    hole = next(grip for grip in grips(window.document.design, 0) if grip.kind == "upper")
    drag(qtbot, window, hole, QPoint(round(50.0 / pixel(window)), 0))
    offset = window.document.design.mounts[0].offset
    aside = bracket_ring(window.document.design.mounts[0], 0)
    assert offset == pytest.approx(50.0, abs=STEP + pixel(window))
    assert [u - was for (u, _), (was, _) in zip(aside, risen, strict=True)] == pytest.approx([offset] * 6, abs=1e-9)
    assert ring(window) == own


def test_the_chosen_bracket_shows_its_handles_and_only_that_in_hand(qtbot: QtBot, window: MainWindow) -> None:
    window.document.new(from_text(design_text("twin-motor-launch")))
    guess_all(window)

    def squares() -> set[str]:
        return {mark.part for mark in window.face.marks() if isinstance(mark, Path) and " corner " in mark.part}

    assert not squares()
    second = window.document.design.mounts[1]
    qtbot.mouseClick(window.face, LEFT, pos=place(window, second.offset or 0.0, (second.upper_at or 0.0) - 60.0))
    assert window.document.view_state.chosen == "bracket:1"
    assert squares() == {f"bracket:1 corner {number}" for number in range(6)}
    drag(qtbot, window, corner(window, WAIST, mount=1), QPoint(0, round(10.0 / pixel(window))))
    assert ring(window, 1)[WAIST][1] == pytest.approx(-130.65, abs=STEP + pixel(window))
    assert ring(window, 0)[WAIST] == (190.5, -120.65)
