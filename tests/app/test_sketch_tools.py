"""The tools without a screen: places and keys in, a design out. Lengths to 1e-9 mm unless said otherwise."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from app.tools.corners import inserted, removed
from app.tools.drag import Drag
from app.tools.drawing_frames import inner_frame
from app.tools.handles import edge_grips, edges_under
from app.tools.point_tools import BracketTool, HoleTool, Tape
from app.tools.sketch import Sketch
from app.tools.tool import NAMES, Key, Outcome, Place
from app.tools.tool_box import taken
from assets import design_text
from geometry.design.design import Design
from geometry.design_text import from_text
from templates_out.drawing.marks import Text
from templates_out.views.viewport import fit, work_rect
from tests.designs import all_guesses

IN = 25.4
SIXTEENTH = IN / 16


def boat(name: str = "shallow-well-skiff") -> Design:
    return from_text(design_text(name))


def even() -> Design:
    """The same with a well alike on both sides: walls leaning 5/8 in, floor 9 11/16 in down."""
    design = boat()
    assert design.well is not None
    profile = ((-266.7, 0.0), (-250.825, -246.0625), (250.825, -246.0625), (266.7, 0.0))
    return replace(design, well=replace(design.well, profile=profile))


def typed(sketch: Sketch, text: str) -> Sketch:
    for letter in text:
        sketch = sketch.write(letter)
    return sketch


def enter(sketch: Sketch, design: Design, text: str = "") -> Sketch:
    after = typed(sketch, text).key(design, "enter")
    assert isinstance(after.tool, Sketch)
    return after.tool


def toward(sketch: Sketch, design: Design, u: float, v: float, *, straight: bool = False) -> Sketch:
    return sketch.move(design, Place((u, v), 6.0, straight=straight))


def clicked(sketch: Sketch, design: Design, *places: tuple[float, float]) -> Sketch:
    for at in places:
        next_tool = sketch.press(design, Place(at, 6.0)).tool
        assert isinstance(next_tool, Sketch)
        sketch = next_tool
    return sketch


def test_half_an_outline_by_lengths_gets_its_other_half() -> None:
    """Figures typed on the edges: 20 in across to port, 15 in down; closed by Enter with no figure."""
    design = boat()
    sketch = clicked(Sketch("outline"), design, (0.0, 0.0))
    sketch = enter(toward(sketch, design, -100.0, 0.0, straight=True), design, "20")
    sketch = enter(toward(sketch, design, -508.0, -90.0, straight=True), design, "15 in")
    sketch = enter(toward(sketch, design, -400.0, -400.0), design, "10")
    done = sketch.key(design, "enter")
    assert done.tool is None
    assert done.label == "Outline drawn"
    assert done.design is not None
    outline = done.design.transom.outline
    assert outline[0] == (0.0, 0.0)
    assert outline[1] == pytest.approx((-508.0, 0.0))
    assert outline[2] == pytest.approx((-508.0, -381.0))
    (au, av), (bu, bv) = outline[2], outline[3]
    assert math.hypot(bu - au, bv - av) == pytest.approx(254.0)
    assert len(outline) == 7
    assert outline[4:] == tuple((-u, v) for u, v in reversed(outline[1:4]))


def test_tab_turns_to_the_slope() -> None:
    design = boat()
    sketch = toward(clicked(Sketch("fitting"), design, (100.0, -100.0)), design, 150.0, -90.0)
    sketch = typed(sketch, "4")
    turned = sketch.key(design, "tab").tool
    assert isinstance(turned, Sketch)
    sketch = enter(turned, design, "30")
    assert sketch.corners[1] == pytest.approx((100.0 + 4 * IN * math.cos(math.pi / 6), -100.0 + 2 * IN), abs=SIXTEENTH)
    start = sketch.corners[0]
    assert math.dist(start, sketch.corners[1]) == pytest.approx(101.6)


def test_shift_keeps_level_plumb_and_45_degrees() -> None:
    design = boat()
    sketch = clicked(Sketch("fitting"), design, (101.6, -101.6))
    for at, word in (((180.0, -95.0), "level"), ((108.0, -20.0), "plumb"), ((160.0, -50.0), "at 45°")):
        moved = toward(sketch, design, *at, straight=True)
        assert moved.said == word
        assert moved.pointer is not None
        du, dv = moved.pointer[0] - 101.6, moved.pointer[1] + 101.6
        assert min(abs(du), abs(dv), abs(abs(du) - abs(dv))) == pytest.approx(0.0, abs=1e-9)


def test_backspace_takes_a_character_then_a_corner() -> None:
    design = boat()
    sketch = typed(toward(clicked(Sketch("outline"), design, (-300.0, 0.0)), design, -300.0, -90.0), "12")
    once = sketch.key(design, "back").tool
    assert isinstance(once, Sketch)
    assert once.length == "1"
    twice = once.key(design, "back").tool
    assert isinstance(twice, Sketch)
    assert (twice.length, len(twice.corners)) == ("", 1)
    thrice = twice.key(design, "back").tool
    assert isinstance(thrice, Sketch)
    assert thrice.corners == ()


def test_escape_drops_the_figure_then_the_edge_then_the_tool() -> None:
    design = boat()
    sketch = typed(toward(clicked(Sketch("outline"), design, (-300.0, 0.0)), design, -300.0, -90.0), "12")
    figure = sketch.key(design, "escape").tool
    assert isinstance(figure, Sketch)
    assert (figure.length, len(figure.corners)) == ("", 1)
    assert figure.pointer is not None
    edge = figure.key(design, "escape").tool
    assert isinstance(edge, Sketch)
    assert edge.pointer is None
    assert edge.key(design, "escape") == Outcome(None)


def test_a_crossing_corner_stops_at_the_last_place() -> None:
    design = boat()
    sketch = clicked(Sketch("fitting"), design, (0.0, -50.8), (101.6, -50.8), (101.6, -152.4))
    held = toward(sketch, design, 50.8, -101.6)
    crossing = toward(held, design, 50.8, 50.8)
    assert crossing.pointer == held.pointer
    assert crossing.said == "That edge would cross one drawn before. It stays where it was."
    clicked_there = clicked(crossing, design, (50.8, 50.8))
    assert clicked_there.corners == (*crossing.corners, held.pointer)


def test_why_a_shape_can_not_be_closed_is_said_in_a_persons_words() -> None:
    """Its last side would cross another: no key of a file, nothing of lists."""
    design = boat()
    crossed = clicked(Sketch("fitting"), design, (0.0, -50.8), (101.6, -50.8), (101.6, -152.4), (152.4, -152.4))
    closed = crossed.key(design, "enter").tool
    assert isinstance(closed, Sketch)
    assert closed.said == "The sides would meet or cross each other. Draw on, or delete the last corner."
    far = clicked(Sketch("fitting"), design, (0.0, -50.8), (190_000.0, -50.8), (0.0, -152.4)).key(design, "enter").tool
    assert isinstance(far, Sketch)
    assert far.said == "No boat reaches so far. Draw on, or delete the last corner."
    above = BracketTool(0).move(design, Place((0.0, 50.0), 6.0))
    assert above.said == "The upper holes are below the top edge. It stayed where it was."


def test_a_well_does_not_double_back() -> None:
    design = boat()
    sketch = clicked(Sketch("well"), design, (-300.0, -10.0), (-250.0, -250.0))
    held = toward(sketch, design, 100.0, -250.0)
    back = toward(held, design, -290.0, -200.0)
    assert back.pointer == held.pointer
    assert back.said == "That corner would cross the port wall. It stays where it was."


def test_half_a_well_is_read_from_the_inside_top_edge() -> None:
    """Corners are kept as a tape reads them, down along the inner face; the floor runs from port to starboard."""
    design = replace(boat(), well=None)
    frame = inner_frame(design)
    top, foot = frame.face((-304.8, 0.0)), frame.face((-279.4, -254.0))
    sketch = clicked(Sketch("well"), design, top, foot)
    done = sketch.key(design, "enter").design
    assert done is not None
    assert done.well is not None
    flat = [number for corner in done.well.profile for number in corner]
    assert flat == pytest.approx([-304.8, 0.0, -279.4, -254.0, 279.4, -254.0, 304.8, 0.0], abs=SIXTEENTH)
    assert (done.well.floor_rise, done.well.fillet_radius) == (None, None)


def test_holds_to_the_centreline_and_to_the_first_corner() -> None:
    design = boat()
    sketch = clicked(Sketch("block"), design, (-101.6, -101.6), (101.6, -101.6))
    moved = toward(sketch, design, 4.0, -200.0)
    assert moved.pointer is not None
    assert moved.pointer[0] == 0.0
    assert moved.said == "on the centreline"
    free = sketch.move(design, Place((4.0, -200.0), 6.0, free=True))
    assert free.pointer is not None
    assert free.pointer[0] == 4.0
    closing = toward(clicked(moved, design, (4.0, -200.0)), design, -99.0, -100.0)
    assert closing.said.startswith("on the first corner")
    done = closing.press(design, Place((-99.0, -100.0), 6.0))
    assert done.design is not None
    assert len(done.design.inside_blocks[-1].outline) == 3
    assert done.design.inside_blocks[-1].stands_out is None
    assert done.wanted == f"inside_blocks.{len(design.inside_blocks)}.stands_out"  # what is to be typed next


def test_on_a_small_drawing_a_shape_closes_where_the_eye_takes_it_to_be_closed() -> None:
    """Drawn small, 8 px are 20 mm of boat: nobody can click a first corner, or the centreline, within 6 mm of it."""
    design = boat()
    sketch = clicked(Sketch("fitting"), design, (-101.6, -101.6), (101.6, -101.6), (101.6, -254.0))
    far = Place((-90.0, -115.0), 2.0, near=20.0)
    assert sketch.move(design, Place(far.at, 2.0)).pointer != sketch.corners[0]
    assert sketch.move(design, far).pointer == sketch.corners[0]
    done = sketch.press(design, far).design
    assert done is not None
    assert len(done.outside_fittings) == len(design.outside_fittings) + 1
    assert sketch.move(design, Place((15.0, -300.0), 2.0, near=20.0)).said == "on the centreline"
    tape = Tape(0).move(design, Place((178.5, -50.8), 2.0, near=20.0))  # 15 mm off the upper starboard hole
    assert tape.end == pytest.approx((163.5125, -50.8), abs=1e-9)


def test_a_corner_just_set_has_no_length_yet() -> None:
    design = boat()
    view = fit(work_rect(design), 170.0, 140.0)
    sketch = clicked(Sketch("fitting"), design, (-101.6, -101.6), (101.6, -101.6))
    assert not [mark for mark in sketch.marks(design, view) if isinstance(mark, Text)]
    moved = toward(sketch, design, 101.6, -254.0)
    assert [mark.text for mark in moved.marks(design, view) if isinstance(mark, Text)] == ["6 in, 90°"]


def test_all_by_keyboard() -> None:
    """The first corner by arrows and Enter, then figures with an arrow for the way."""
    design = boat()
    tool: Sketch = Sketch("fitting", alike=False)
    first: tuple[Key, ...] = ("right", "enter")
    for key in first:
        next_tool = tool.key(design, key).tool
        assert isinstance(next_tool, Sketch)
        tool = next_tool
    assert tool.corners == ((SIXTEENTH, 0.0),)
    edges: tuple[tuple[str, Key], ...] = (("4", "right"), ("3", "down"), ("4", "left"))
    for text, way in edges:
        tool = typed(tool, text)
        next_tool = tool.key(design, way).tool
        assert isinstance(next_tool, Sketch)
        tool = enter(next_tool, design)
    done = tool.key(design, "enter").design
    assert done is not None
    assert done.outside_fittings[-1].outline[2] == pytest.approx((SIXTEENTH + 101.6, -76.2))


def test_what_is_no_length_is_said_and_kept() -> None:
    design = boat()
    sketch = toward(clicked(Sketch("outline"), design, (-300.0, 0.0)), design, -300.0, -90.0)
    after = enter(sketch, design, "1//4")
    assert after.length == "1//4"
    assert "does not read as a length" in after.said


def test_an_outline_off_the_centreline_is_refused_and_kept() -> None:
    design = boat()
    sketch = clicked(Sketch("outline", alike=False), design, (50.8, 0.0), (101.6, 0.0), (101.6, -101.6))
    after = sketch.key(design, "enter")
    assert after.design is None
    assert isinstance(after.tool, Sketch)
    assert "centreline" in after.tool.said
    assert len(after.tool.corners) == 3


def test_an_old_hole_is_a_guess_until_it_is_measured() -> None:
    design = boat()
    done = HoleTool().press(design, Place((-100.0, -150.0), 6.0))
    number = len(design.old_holes)
    assert done.design is not None
    assert done.wanted == f"old_holes.{number}.across"
    assert done.design.old_holes[number].at == pytest.approx((-100.0, -150.0), abs=SIXTEENTH / 2)
    assert done.design.readings[f"old_holes.{number}.diameter"].state == "guess"


def test_the_bracket_goes_where_it_is_clicked() -> None:
    design = boat()
    mount = design.mounts[0]
    done = BracketTool(0).press(design, Place((3.0, -101.6), 6.0))
    assert done.design is not None
    moved = done.design.mounts[0]
    assert (moved.offset, moved.upper_at) == pytest.approx((0.0, -101.6))
    assert (moved.drop, moved.row) == (mount.drop, mount.row)
    assert "on the card" in BracketTool(0).move(replace(design, mounts=()), Place((0.0, 0.0))).said


def test_the_tape_reads_between_holes_and_changes_nothing() -> None:
    """The upper pair's spacing is twice its half-spacing: 12 7/8 in."""
    design = boat()
    mount = design.mounts[0]
    assert mount.bracket.rows is not None
    half, depth = mount.bracket.rows.half_spacing, mount.upper_at or 0.0
    first = Tape(0).press(design, Place((-half + 2.0, depth), 6.0))
    assert isinstance(first.tool, Tape)
    second = first.tool.press(design, Place((half - 1.0, depth + 1.0), 6.0))
    assert isinstance(second.tool, Tape)
    assert second.design is None
    assert second.tool.start == pytest.approx((-half, depth))
    assert second.tool.end == pytest.approx((half, depth))
    assert second.tool.words(design, (half, depth)).startswith("12 7/8 in straight")


def test_an_edge_slides_along_its_neighbours_and_takes_its_twin_along() -> None:
    design = all_guesses(even())
    assert design.well is not None
    wall = next(grip for grip in edge_grips(design) if grip.part == "profile edge 0")
    drag = Drag(design, wall, wall.at).to((wall.at[0] - 25.4, wall.at[1]), hold=0.0)
    assert drag.last is not None
    assert drag.last.design.well is not None
    before, after = design.well.profile, drag.last.design.well.profile
    assert after[1][1] == pytest.approx(before[1][1])  # the floor stays as deep
    assert (after[1][0] or 0.0) < (before[1][0] or 0.0)
    assert after[2][0] == pytest.approx(-(after[1][0] or 0.0))
    alone = Drag(design, wall, wall.at, alike=False).to((wall.at[0] - 25.4, wall.at[1]), hold=0.0)
    assert alone.last is not None
    assert alone.last.design.well is not None
    assert alone.last.design.well.profile[2] == before[2]


def test_the_datum_keeps_its_edge() -> None:
    design = all_guesses(boat())
    top = next(
        grip for grip in edge_grips(design)
        if grip.kind == "outline edge" and abs(grip.at[1]) < 1e-6 and abs(grip.at[0]) < 1e-6
    )  # fmt: skip
    drag = Drag(design, top, top.at).to((0.0, 50.0), hold=0.0)
    assert drag.last is not None
    assert drag.last.design == design
    assert drag.last.said == "All measurements start from the top edge at the centreline. It stays where it was."


def test_a_corner_comes_and_goes_with_its_twin() -> None:
    design = all_guesses(even())
    edge = next(grip for grip in edge_grips(design) if grip.part == "profile edge 0")
    step = inserted(design, edge, edge.at, alike=None)
    assert step is not None
    assert step.design.well is not None
    assert design.well is not None
    assert len(step.design.well.profile) == len(design.well.profile) + 2
    corner = replace(edge, kind="profile", index=1)
    back = removed(step.design, corner, alike=None)
    assert back is not None
    assert back.design == design


def test_every_edge_is_under_its_middle() -> None:
    design = boat()
    view = fit(work_rect(design), 170.0, 140.0)
    for grip in edge_grips(design):
        assert grip in edges_under(design, view, view.to_paper(grip.at))


@pytest.mark.parametrize("name", NAMES)
def test_each_tool_says_what_to_do_and_puts_itself_down(name: str) -> None:
    tool = taken(name, 0, "", alike=True)
    assert tool is not None
    assert not tool.busy
    assert tool.move(boat(), Place((20.0, -90.0), 6.0)).said
    assert tool.key(boat(), "escape").tool is None


@given(st.lists(st.tuples(st.floats(-600, 600), st.floats(-600, 100)), min_size=3, max_size=9))
def test_no_row_of_clicks_makes_an_impossible_fitting(places: list[tuple[float, float]]) -> None:
    """After any clicks, closing gives a shape that the design takes, or a sentence and the sketch as it was."""
    design, tool = boat(), Sketch("fitting", alike=False)
    for at in places:
        after = tool.press(design, Place(at, 6.0))
        if after.tool is None:
            assert after.design is not None
            return
        assert isinstance(after.tool, Sketch)
        tool = after.tool
    done = tool.key(design, "enter")
    assert (done.design is None) == (done.tool is not None)


def test_what_was_typed_while_sketching_is_measured_and_what_was_clicked_is_a_guess() -> None:
    """Port wall 9 in down, typed; the floor and the other wall by clicks. Rubbed out and clicked, the wall is a guess too."""
    design = boat()
    frame = inner_frame(design)
    top, low, over, up = (frame.face(at) for at in ((-254.0, 0.0), (-254.0, -60.0), (254.0, -228.6), (260.35, 0.0)))
    sketch = clicked(Sketch("well", alike=False), design, top)
    sketch = enter(toward(sketch, design, *low, straight=True), design, "9")
    assert sketch.corners[1] == pytest.approx((-254.0, -228.6))
    done = clicked(sketch, design, over, up).key(design, "enter").design
    assert done is not None
    states = {key: done.readings[f"well.{key}"].state for key in ("floor_port", "floor_starboard", "floor_width", "top_width")}
    assert states.pop("floor_port") == "measured"
    assert set(states.values()) == {"guess"}
    rubbed = sketch.key(design, "back").tool
    assert isinstance(rubbed, Sketch)
    again = clicked(rubbed, design, frame.face((-254.0, -228.6)), over, up).key(design, "enter").design
    assert again is not None
    assert again.well == done.well
    assert again.readings["well.floor_port"].state == "guess"
