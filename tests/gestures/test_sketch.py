"""Sketching on the face with mouse and keyboard: one step for each shape, checked in the document."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt

from app.tools.handles import edge_grips
from app.tools.sketch import Sketch
from geometry.readings.measures import put_path
from tests.designs import all_guesses
from tests.gestures.conftest import guess_all, pixel, place

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.tools.tool import Name
    from app.window.main_window import MainWindow

LEFT = Qt.MouseButton.LeftButton
SNAP = 25.4 / 16


def click(qtbot: QtBot, window: MainWindow, u: float, v: float) -> None:
    at = place(window, u, v)
    qtbot.mouseMove(window.face, at)
    qtbot.mouseClick(window.face, LEFT, pos=at)


def take(qtbot: QtBot, window: MainWindow, tool: Name) -> None:
    qtbot.mouseClick(window.face_head.tools[tool], LEFT)
    assert window.document.view_state.tool == tool


def test_a_fitting_by_clicks_and_a_typed_length_is_one_step(qtbot: QtBot, window: MainWindow) -> None:
    before = len(window.document.design.outside_fittings)
    take(qtbot, window, "fitting")
    click(qtbot, window, -100.0, -60.0)
    qtbot.mouseMove(window.face, place(window, -40.0, -60.0))
    qtbot.keyClicks(window.face, "3 1/2")
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    for way, text in ((Qt.Key.Key_Down, "2"), (Qt.Key.Key_Left, "3 1/2")):
        qtbot.keyClicks(window.face, text)
        qtbot.keyClick(window.face, way)
        qtbot.keyClick(window.face, Qt.Key.Key_Return)
    steps = len(window.document.history.past)
    assert steps == 0
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    fitting = window.document.design.outside_fittings[before]
    (ax, ay), (bx, by), (cx, cy), (dx, _) = fitting.outline
    assert ax == pytest.approx(-100.0, abs=SNAP + pixel(window))
    assert ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5 == pytest.approx(88.9, abs=1e-9)
    assert (cx - bx, cy - by) == pytest.approx((0.0, -50.8), abs=1e-9)
    assert dx - cx == pytest.approx(-88.9, abs=1e-9)
    assert len(window.document.history.past) == 1
    assert window.document.undo_label == "Fitting added"
    assert (window.document.view_state.tool, window.document.view_state.chosen) == ("", f"fitting {before}")
    window.document.undo()
    assert len(window.document.design.outside_fittings) == before


def test_an_old_hole_opens_its_entry(qtbot: QtBot, window: MainWindow) -> None:
    number = len(window.document.design.old_holes)
    take(qtbot, window, "old hole")
    click(qtbot, window, 60.0, -40.0)
    assert window.document.design.old_holes[number].at[0] == pytest.approx(60.0, abs=SNAP + pixel(window))
    assert window.document.view_state.lit == f"old_holes.{number}.across"
    assert len(window.document.history.past) == 1


def test_half_a_well_is_drawn_and_mirrored(qtbot: QtBot, window: MainWindow) -> None:
    window.document.commit("No well", replace(window.document.design, well=None))
    take(qtbot, window, "well")
    click(qtbot, window, -220.0, -30.0)
    click(qtbot, window, -200.0, -210.0)
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    well = window.document.design.well
    assert well is not None
    assert len(well.profile) == 4
    assert well.profile[3] == (-(well.profile[0][0] or 0.0), well.profile[0][1])
    assert window.document.undo_label == "Well drawn"


def test_both_sides_alike_can_be_let_go(qtbot: QtBot, window: MainWindow) -> None:
    take(qtbot, window, "outline")
    assert window.face_head.alike.isVisible()
    qtbot.mouseClick(window.face_head.alike, LEFT)
    assert window.document.view_state.alike is False
    for u, v in ((-200.0, 0.0), (200.0, 0.0), (150.0, -250.0)):
        click(qtbot, window, u, v)
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    assert len(window.document.design.transom.outline) == 3


def tool_in_hand(window: MainWindow) -> Sketch:
    sketch = window.face.tools.tool
    assert isinstance(sketch, Sketch)
    return sketch


def test_the_switch_of_both_sides_shows_how_the_shape_in_hand_is(qtbot: QtBot, window: MainWindow) -> None:
    """The skiff's outline is alike on both sides, its well's floor leans; a shape that is not there yet begins alike."""
    alike = window.face_head.alike
    assert not alike.isVisible()
    switched: dict[Name, bool] = {"outline": True, "well": False}
    for tool, on in switched.items():
        take(qtbot, window, tool)
        assert alike.isVisible()
        assert alike.isChecked() is on
        assert tool_in_hand(window).alike is on
    qtbot.mouseClick(alike, LEFT)  # it can be set for all that is drawn from now on
    assert alike.isChecked()
    assert tool_in_hand(window).alike
    window.document.set_view_state(replace(window.document.view_state, tool="", alike=None))
    window.document.commit("No well", replace(window.document.design, well=None))
    take(qtbot, window, "well")
    assert alike.isChecked()
    window.document.undo()
    assert not alike.isChecked()
    assert not tool_in_hand(window).alike


def test_escape_leaves_nothing(qtbot: QtBot, window: MainWindow) -> None:
    design = window.document.design
    take(qtbot, window, "block")
    click(qtbot, window, -100.0, -60.0)
    qtbot.mouseMove(window.face, place(window, -40.0, -60.0))
    qtbot.keyClicks(window.face, "4")
    for _ in range(3):
        qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert window.document.view_state.tool == ""
    assert window.document.design == design
    assert window.document.history.past == ()


def test_a_wrong_corner_says_why_in_the_foot_line(qtbot: QtBot, window: MainWindow) -> None:
    take(qtbot, window, "fitting")
    for u, v in ((-60.0, -60.0), (60.0, -60.0), (60.0, -160.0), (20.0, -120.0)):
        click(qtbot, window, u, v)
    qtbot.mouseMove(window.face, place(window, 20.0, -20.0))
    assert "would cross one drawn before" in window.foot.said
    assert window.document.history.past == ()


def test_the_tape_makes_no_step(qtbot: QtBot, window: MainWindow) -> None:
    take(qtbot, window, "measure")
    click(qtbot, window, 20.0, -60.0)
    click(qtbot, window, 120.0, -60.0)
    assert "straight" in window.foot.said
    assert window.document.history.past == ()


def test_the_bracket_goes_where_it_is_clicked(qtbot: QtBot, window: MainWindow) -> None:
    take(qtbot, window, "bracket")
    click(qtbot, window, 2.0, -90.0)
    mount = window.document.design.mounts[0]
    assert mount.offset == 0.0
    assert mount.upper_at == pytest.approx(-90.0, abs=SNAP + pixel(window))
    assert window.document.view_state.tool == ""


def test_an_edge_is_dragged(qtbot: QtBot, window: MainWindow) -> None:
    guess_all(window)
    well = window.document.design.well
    assert well is not None
    floor = next(grip for grip in edge_grips(window.document.design) if grip.part == "profile edge 1")
    start = place(window, floor.at[0] + 60.0, floor.at[1])
    end = QPoint(start.x(), start.y() + round(25.4 / pixel(window)))
    qtbot.mousePress(window.face, LEFT, pos=start)
    qtbot.mouseMove(window.face, QPoint(start.x(), start.y() + 10))
    qtbot.mouseMove(window.face, end)
    qtbot.mouseRelease(window.face, LEFT, pos=end)
    after = window.document.design.well
    assert after is not None
    assert after.profile[1][1] == pytest.approx((well.profile[1][1] or 0.0) - 25.4, abs=SNAP + 2 * pixel(window))
    assert len(window.document.history.past) == 1
    assert window.document.view_state.chosen == "profile edge 1"


def test_double_click_puts_a_corner_in_and_delete_takes_it_out(qtbot: QtBot, window: MainWindow) -> None:
    guess_all(window)
    well = window.document.design.well
    assert well is not None
    floor = next(grip for grip in edge_grips(window.document.design) if grip.part == "profile edge 1")
    at = place(window, floor.at[0] - 60.0, floor.at[1])
    qtbot.mouseDClick(window.face, LEFT, pos=at)
    qtbot.mouseRelease(window.face, LEFT, pos=at)
    with_corner = window.document.design.well
    assert with_corner is not None
    assert len(with_corner.profile) == len(well.profile) + 1
    assert window.document.view_state.chosen == "profile corner 2"
    qtbot.keyClick(window.face, Qt.Key.Key_Delete)
    assert window.document.design.well == well
    assert [step.label for step in window.document.history.past[1:]] == ["Corner added"]


def test_delete_takes_an_old_hole_off_with_its_readings(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.design
    take(qtbot, window, "old hole")
    click(qtbot, window, 60.0, -40.0)
    assert window.document.view_state.chosen == "old hole 0"
    window.face.setFocus()
    qtbot.keyClick(window.face, Qt.Key.Key_Delete)
    assert window.document.design == before
    assert window.document.undo_label == "Old hole 1 removed"


@pytest.mark.parametrize(
    ("path", "corners", "part", "why"),
    [
        ("well.profile", ((-200.0, -240.0), (200.0, -240.0)), "profile corner 0", "A well has two corners or more"),
        (
            "transom.outline", ((-600.0, 0.0), (600.0, 0.0), (0.0, -600.0)), "outline corner 2",
            "An outline has three corners or more",
        ),
    ],
)  # fmt: skip
def test_why_a_corner_stays_is_said_in_a_persons_words(
    qtbot: QtBot, window: MainWindow, path: str, corners: tuple[tuple[float, float], ...], part: str, why: str
) -> None:
    window.document.new(all_guesses(put_path(window.document.design, path, corners)))
    window.document.set_view_state(replace(window.document.view_state, chosen=part, alike=False))
    window.face.setFocus()
    qtbot.keyClick(window.face, Qt.Key.Key_Delete)
    assert window.document.history.past == ()
    assert window.foot.said == f"{why}. It stays as it was."
