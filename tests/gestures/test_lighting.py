"""Lights both ways between an entry and its dimension; depths carried over the top cut; words where little is known."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt, QVariantAnimation

from app.canvas.face_words import BEGIN, blank_words, corner_numbers
from app.document.view_state import ViewState
from app.ui.palette import palette
from assets import design_text
from geometry.design_text import from_text
from geometry.edits.starting_shapes import blank, starts
from geometry.readings.measures import measure, put_path
from geometry.units.units import format_length
from templates_out.drawing.marks import Mark, Path, Text
from tests.designs import sure
from tests.gestures.conftest import come_to_rest, place
from tests.gestures.test_typing import open_entry, typed
from tests.templates_out.viewing import overlaps

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from geometry.design.design import Design
    from geometry.units.units import Unit

LEFT, IN = Qt.MouseButton.LeftButton, 25.4


def figure(marks: tuple[Mark, ...], key: str) -> Text | None:
    return next((mark for mark in marks if isinstance(mark, Text) and mark.part == f"measure:{key}"), None)


@pytest.mark.parametrize("key", ["well.floor_port", "mounts.0.drop", "mounts.0.upper_at"])
def test_an_entry_lights_its_dimension_and_the_others_fade(qtbot: QtBot, window: MainWindow, key: str) -> None:
    open_entry(window, key)
    qtbot.waitUntil(lambda: window.document.view_state.lit == key)
    lit = figure(window.face.marks(), key)
    assert lit is not None
    assert lit.patch == "lit"
    others = [mark for mark in window.face.marks() if isinstance(mark, Text) and mark.part.startswith("measure:")
              and mark.part != f"measure:{key}" and mark.role != "fouled"]  # fmt: skip
    assert others
    assert {mark.role for mark in others} == {"soft"}
    in_cut = figure(window.cut.canvas.marks(), key)
    assert in_cut is None or in_cut.patch == "lit"


@pytest.mark.parametrize("view", ["face", "cut"])
def test_each_dimension_that_is_clicked_opens_its_entry(qtbot: QtBot, window: MainWindow, view: str) -> None:
    drawing = window.face if view == "face" else window.cut.canvas
    keys = [mark.part.removeprefix("measure:") for mark in drawing.marks() if mark.part.startswith("measure:")]
    assert {"mounts.0.upper_at", "mounts.0.drop"} <= set(keys)
    for key in dict.fromkeys(keys):
        section = sure(measure(window.document.design, key)).section
        window.document.set_view_state(replace(window.document.view_state, section=section % 8 + 1, lit=""))
        lit = figure(drawing.marks(), key)
        assert lit is not None
        at = drawing.place_of((lit.at[0], lit.at[1] + lit.size / 3)).toPoint()
        qtbot.mouseClick(drawing, LEFT, pos=at)
        entry = window.card.entry(key)
        assert entry is not None
        qtbot.waitUntil(entry.field.hasFocus)
        assert entry.field.selectedText() == entry.field.text()
        assert window.document.view_state.section == section


def test_an_entry_without_a_dimension_lights_its_part(window: MainWindow) -> None:
    """A socket is lit in the cut. A washer's size is a figure on the face, so there its figure is lit and no part."""
    open_entry(window, "mounts.0.lower_hardware.socket.length")
    lit = {mark.part for mark in window.cut.canvas.lit() if isinstance(mark, Path)}
    assert lit == {"lower port socket:0"}
    assert not window.face.bare
    open_entry(window, "mounts.0.lower_hardware.washer.outer")
    assert figure(window.face.marks(), "mounts.0.lower_hardware.washer.outer") is not None
    assert window.face.lit_parts() == ()
    assert {mark.part for mark in window.cut.canvas.lit() if isinstance(mark, Path)} == {"lower port washer:0"}
    open_entry(window, "boat.length")
    assert not window.cut.canvas.lit()
    assert not window.face.lit_parts()


def test_a_boat_with_nothing_measured_is_drawn_in_pencil(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], design: Design
) -> None:
    """The top edge and the cut are soft until the first reading, and again after undo."""
    window = opened(starts()[0].design)

    def darkest() -> int:
        """Return the lightness of the transom's top edge on the face, at its darkest, where no bolt is."""
        image = window.face.grab().toImage()
        return min(image.pixelColor(place(window, -30.0, 0.0) + QPoint(0, by)).lightness() for by in range(-3, 4))

    soft, ink = (palette(dark=False)[role] for role in ("soft", "ink"))
    between = (soft.lightness() + ink.lightness()) / 2
    assert darkest() > between
    assert window.cut.canvas.colours["ink"] == soft
    typed(qtbot, window, "transom.rake", "15")
    assert darkest() < between
    assert window.cut.canvas.colours["ink"] == ink
    window.document.undo()
    assert darkest() > between


def is_pushed(window: MainWindow) -> bool:
    """Return whether the face is still on its way to a dimension."""
    moving = window.face.findChildren(QVariantAnimation)
    return any(animation.state() == QVariantAnimation.State.Running for animation in moving)


def test_the_view_moves_only_to_a_dimension_out_of_sight(qtbot: QtBot, window: MainWindow) -> None:
    window.face.zoom(4.0, (10.0, 130.0))
    before = window.face.view
    assert figure(window.face.marks(), "mounts.0.drop") is None
    open_entry(window, "mounts.0.drop")
    qtbot.waitUntil(lambda: figure(window.face.marks(), "mounts.0.drop") is not None)
    assert window.face.view != before
    qtbot.waitUntil(lambda: not is_pushed(window))
    seen = window.face.view
    open_entry(window, "well.fillet_radius")  # which has no dimension on the face
    open_entry(window, "mounts.0.drop")
    come_to_rest()
    qtbot.waitUntil(lambda: not is_pushed(window))
    assert window.face.view == seen
    assert window.document.history.past == ()


@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_depth_from_the_inside_edge_is_carried_over_the_top_cut(qtbot: QtBot, window: MainWindow, units: str) -> None:
    """By hand: a level top on a face that leans 14 degrees, 1 3/4 in thick, steps down by 1 3/4 tan 14 = 0.436 in."""
    design = put_path(starts()[1].design, "units", units)
    from geometry.edits.additions import add_well

    window.file_actions.begin("A well", add_well(design))
    typed(qtbot, window, "well.floor_port", "9 in")
    step = 1.75 * IN * math.tan(math.radians(14.0))
    unit: Unit = "in" if units == "in" else "mm"
    floor = open_entry(window, "well.floor_port")
    description = floor.field.accessibleDescription()
    away, down = format_length(step, unit), format_length(9 * IN + step, unit)
    assert f"The inside edge is {away} lower. So this is {down} below the outside edge." in description
    window.document.commit("From outside", put_path(window.document.design, "well.well_from", "datum"))
    assert "That edge" not in floor.field.accessibleDescription()
    well = window.document.design.well
    assert well is not None
    assert well.profile[1][1] == pytest.approx(-9 * IN, abs=1e-9)  # kept as measured
    window.document.undo()


def test_correcting_the_lean_moves_what_was_measured_inside(qtbot: QtBot, window: MainWindow) -> None:
    """The floor is kept as read inside; on the face it comes out lower by 1 1/2 in (tan 20 - tan 15). To 1e-6 mm."""
    from app.tools.handles import profile_place

    before = profile_place(window.document.design, 1)
    depth = window.document.design.well
    typed(qtbot, window, "transom.rake", "20")
    thick = window.document.design.transom.thickness.top
    assert thick is not None
    moved = profile_place(window.document.design, 1)[1] - before[1]
    assert moved == pytest.approx(-thick * (math.tan(math.radians(20)) - math.tan(math.radians(15))), abs=1e-6)
    assert window.document.design.well == depth


def test_a_blank_sheet_says_how_to_begin_and_takes_the_first_corner(qtbot: QtBot, window: MainWindow) -> None:
    window.file_actions.begin("Blank sheet", blank())
    assert window.document.view_state.tool == "outline"
    assert blank_words(window.document.design) == BEGIN
    for u, v in ((-200.0, 0.0), (-180.0, -250.0)):
        qtbot.mouseMove(window.face, place(window, u, v))
        qtbot.mouseClick(window.face, LEFT, pos=place(window, u, v))
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    assert len(window.document.design.transom.outline) == 4
    assert blank_words(window.document.design) == ""
    assert window.document.view_state.tool == ""
    assert window.findings._empty.text().startswith("Nothing to check yet. Next: ")
    window.document.undo()


def test_a_blank_sheet_takes_the_first_corner_once_its_tool_was_put_down(qtbot: QtBot, window: MainWindow) -> None:
    window.file_actions.begin("Blank sheet", blank())
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert window.document.view_state.tool == ""
    qtbot.mouseClick(window.face, LEFT, pos=place(window, -200.0, 0.0))
    assert window.document.view_state.tool == "outline"
    assert window.face.tools.busy
    window.document.undo()


def test_a_wells_corners_are_numbered_while_the_card_lists_them(window: MainWindow) -> None:
    design = from_text(design_text("twin-motor-launch"))
    view = window.face.view
    assert design.well is not None
    assert view is not None
    numbers = corner_numbers(design, ViewState(section=3), view)
    assert [mark.text for mark in numbers if isinstance(mark, Text)] == [str(n + 1) for n in range(len(design.well.profile))]
    assert corner_numbers(design, ViewState(section=4), view) == ()
    four = replace(design, well=replace(design.well, profile=design.well.profile[:4]))
    assert corner_numbers(four, ViewState(section=3), view) == ()


def test_a_corners_number_keeps_off_the_figures(window: MainWindow) -> None:
    """A figure is where the work boat's first corner has its number: the number is then at another side of the corner."""
    view, state = sure(window.face.view), ViewState(section=5)
    design = from_text(design_text("tapered-work-boat"))
    usual = corner_numbers(design, state, view)
    assert [mark.text for mark in usual] == ["1", "2", "3"]
    figure_there = Text(usual[0].at, "50 mm", 3.4, anchor="middle")
    numbers = corner_numbers(design, state, view, (figure_there,))
    assert overlaps([figure_there, *usual])
    assert not overlaps([figure_there, *numbers])
    assert numbers[1:] == usual[1:]
    assert math.dist(numbers[0].at, usual[0].at) < 10.0


@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_drag_snaps_to_what_a_tape_reads(qtbot: QtBot, window: MainWindow, units: str) -> None:
    """A sixteenth of an inch, or a millimetre: the drop, the depth below the top, the distance from the centreline."""
    from geometry.edits.edits import set_units, with_mount

    odd = with_mount(window.document.design, 0, offset=11.3, upper_at=-53.7)
    window.document.new(set_units(odd, "in" if units == "in" else "mm"))
    step = IN / 16 if units == "in" else 1.0
    start = place(window, 71.0, -130.0)
    qtbot.mousePress(window.face, LEFT, pos=start)
    for by in (8, 23):
        qtbot.mouseMove(window.face, QPoint(start.x() + by, start.y() + by))
    qtbot.mouseRelease(window.face, LEFT, pos=QPoint(start.x() + 23, start.y() + 23))
    mount = window.document.design.mounts[0]
    for value in (mount.offset, mount.upper_at):
        assert value is not None
        assert value / step == pytest.approx(round(value / step), abs=1e-9)
    assert mount.offset != 11.3
    assert mount.upper_at != -53.7
