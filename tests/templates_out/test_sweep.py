"""The sweep of tilt and lock in cut and face: drawn from the checks' own geometry, only while it is asked for."""

from __future__ import annotations

import math

import pytest

from app.findings.findings_text import finding_lines
from geometry.judge.check import check
from geometry.solid.tilt_sweep import front_of, room_ahead, sweep_of
from geometry.solid.well import space
from templates_out.drawing.marks import Arc, Circle, Line, Path, Text
from templates_out.drawing.transforms import text_box
from templates_out.views.cut import cut_marks, cut_rect
from templates_out.views.face import face_marks
from templates_out.views.motor_sweep import sweep_rect
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import fit, union
from tests.designs import changed, sure
from tests.reference.test_swing_tilt_and_lock import demonstration, moving

PART = "sweep:0"
VIEW = fit((-700.0, -400.0, 800.0, 700.0), 180.0, 130.0)


def box_of(text):
    corners = text_box(text)
    return [ends(at[axis] for at in corners) for ends in (min, max) for axis in (0, 1)]


def boat(most=90.0):
    """The demonstration skiff with a place 560 mm over its tilt tube, in the middle: calculated by hand in the reference."""
    return moving(demonstration(), 25.4, (70.0, 30.0), most, 0.0, (560.0, 0.0, 0.0))


def marks_of(design, focus, make=cut_marks):
    side = ("port", 0) if make is cut_marks else ()
    marks = make(check(design), VIEW, *side, focus)
    return [mark for mark in marks if mark.part == PART]


def test_the_sweep_of_the_demonstration_skiff_by_hand():
    """Its tube is at x = -80.3099, z = 29.2613. The place goes from plumb above it to 560 forward of it."""
    marks = marks_of(boat(), ViewFocus(0, PART))
    tube = VIEW.to_paper((-80.3099, 29.2613))
    arcs = [mark for mark in marks if isinstance(mark, Arc)]
    assert arcs
    for arc in arcs:
        assert arc.centre == pytest.approx(tube, abs=1e-3)
        assert arc.radius == pytest.approx(560.0 * VIEW.scale, abs=1e-6)
        assert (arc.start, arc.end) == pytest.approx((0.0, 90.0), abs=1e-9)
    ends = {tuple(round(value, 3) for value in end) for mark in marks if isinstance(mark, Line) for end in (mark.a, mark.b)}
    assert ends == {tuple(round(value, 3) for value in VIEW.to_paper(at)) for at in ((-80.3099, 589.2613), (479.6901, 29.2613))}
    circle = next(mark for mark in marks if isinstance(mark, Circle))
    assert circle.centre == pytest.approx(tube, abs=1e-3)
    lip = next(mark for mark in marks if isinstance(mark, Path))
    assert VIEW.to_boat(lip.points[1])[1] == pytest.approx(25.4, abs=1e-6)
    words = {mark.text for mark in marks if isinstance(mark, Text)}
    assert words == {"tilt tube", "motor down", "full tilt", "lip"}


def test_the_gap_in_the_picture_is_the_checks():
    """The nearest drawn place to the drawn front is as far from it as the finding says, to 0.05 mm on the boat."""
    for most in (60.0, 75.0, 90.0):
        design = boat(most)
        marks = marks_of(design, ViewFocus(0, PART))
        lip = VIEW.to_boat(next(mark for mark in marks if isinstance(mark, Path)).points[1])
        arc = next(mark for mark in marks if isinstance(mark, Arc))
        turns = (math.radians(arc.start + (arc.end - arc.start) * k / 4000) for k in range(4001))
        (x, y), far = arc.centre, arc.radius
        drawn = [VIEW.to_boat((x + far * math.cos(turn), y + far * math.sin(turn))) for turn in turns]
        value = sure(sure(check(design).of("tilt_room", design.mounts[0].name)).value)
        assert min(math.dist(lip, at) for at in drawn) == pytest.approx(value, abs=0.05)
        front = sure(front_of(design, space(design), 0))
        assert room_ahead(sweep_of(design, 0, 0), front) == pytest.approx(value, abs=1e-9)


def test_the_face_shows_how_far_it_reaches_at_full_lock():
    """150 forward and 140 to each side, at 35°: 200.7178 aside, by hand in the reference."""
    design = moving(demonstration(), 25.4, (70.0, 30.0), 10.0, 35.0, (45000**0.5, 45.0, 140.0))
    marks = marks_of(design, ViewFocus(0, PART), face_marks)
    ring = next(mark for mark in marks if isinstance(mark, Path)).points
    across = {round(VIEW.to_boat(point)[0], 3) for point in ring}
    assert across == {-200.718, 200.718}
    (said,) = (mark for mark in marks if isinstance(mark, Text))
    assert said.text == "full lock, any tilt"
    # It is next to the ring: above or below one of its level edges, or at a side, and not across it.
    left, bottom, right, top = box_of(said)
    (west, foot), (east, _), (_, head), _ = ring
    gaps = (bottom - foot, foot - top, bottom - head, head - top, left - west, west - right, left - east, east - right)
    assert any(0.5 < gap < said.size for gap in gaps)
    assert not any(bottom < level < top and left < east and west < right for level in (foot, head))
    assert not any(left < side < right and bottom < head and foot < top for side in (west, east))


@pytest.mark.parametrize("lit", ["mounts.0.tilt.most", "mounts.0.tilt.points.0.radius", "well.front_height"])
def test_an_entry_of_the_tilt_shows_it_too(lit):
    assert marks_of(boat(), ViewFocus(0, "", lit))


@pytest.mark.parametrize("room", [(-140.0, -60.0, 500.0, 640.0), (-90.0, -60.0, 482.0, 640.0), (-110.0, -30.0, 600.0, 640.0)])
@pytest.mark.parametrize("wide", [60.0, 90.0, 130.0])
def test_no_edge_of_the_sheet_cuts_a_word(room, wide):
    """Before the tilt the motor is plumb over its tube, at x = -80; then 560 forward of it. Both may be at an edge."""
    view = fit(room, wide, 130.0)
    texts = [mark for mark in cut_marks(check(boat()), view, "port", 0, ViewFocus(0, PART))
             if mark.part == PART and isinstance(mark, Text) and mark.text != "lip"]  # fmt: skip
    assert {"motor down", "full tilt", "tilt tube"} <= {text.text for text in texts}
    for text in texts:
        (left, _), _, (right, _), _ = text_box(text)
        assert 0.0 <= left <= right <= wide, text.text


def overlap(first, second):
    return all(first[axis] < second[axis + 2] and second[axis] < first[axis + 2] for axis in (0, 1))


@pytest.mark.parametrize("size", [(84.0, 45.0), (105.0, 90.0), (115.0, 140.0)])
@pytest.mark.parametrize("places", [1, 2, 3])
def test_no_word_covers_another_word_the_detail_or_the_sheets_edge(size, places):
    """Up to three places of the motor, in cut and face: each word is said once, and the cut has all in a large view."""
    given = ((430.0, -10.0, 180.0), (620.0, 25.0, 210.0), (320.0, 60.0, 150.0))[:places]
    design = moving(demonstration(), 25.4, (60.0, 40.0), 68.0, 35.0, *given)
    focus, taken = ViewFocus(0, PART), (size[0] - 40.0, size[1] - 44.0, size[0], size[1])
    rect = union(sure(sweep_rect(design, focus)), cut_rect(design, "port"))
    cut = cut_marks(check(design), fit(rect, *size), "port", 0, focus, keep_free=taken)
    face = face_marks(check(design), fit((-330.0, -330.0, 330.0, 200.0), *size), focus)
    for marks, corner in ((cut, taken), (face, None)):
        words = [mark for mark in marks if isinstance(mark, Text) and mark.part == PART]
        assert len({word.text for word in words}) == len(words)
        others = [box_of(mark) for mark in marks if isinstance(mark, Text)] + ([] if corner is None else [corner])
        for word in words:
            box = box_of(word)
            assert min(box) >= 0.0
            assert box[2] <= size[0]
            assert box[3] <= size[1]
            assert sum(overlap(box, other) for other in others) == 1, word.text  # itself
    if size[1] > 100.0:
        said = {mark.text for mark in cut if isinstance(mark, Text) and mark.part == PART}
        numbers = {f"place {number}" for number in range(2, places + 1)}
        assert said | {"lip"} == {"tilt tube", "motor down", "full tilt", "lip", *numbers}  # the lip may be off the sheet


def test_nothing_is_drawn_unasked_or_unmeasured():
    for make in (cut_marks, face_marks):
        assert not marks_of(boat(), ViewFocus(0), make)
        assert not marks_of(boat(), ViewFocus(0, "", "transom.rake"), make)
        assert not marks_of(changed(boat(), mounts__0__tilt__most=None), ViewFocus(0, PART), make)
        assert not marks_of(boat(), ViewFocus(1, PART), make)


def test_its_findings_line_lights_it_and_the_cut_makes_room_for_it():
    lines = finding_lines(check(boat(120.0)))
    assert [line.part for line in lines if sure(line.first).check == "tilt_room"] == [PART]
    left, low, right, high = sure(sweep_rect(boat(), ViewFocus(0, PART)))
    assert left < -80.3 < 479.7 < right
    assert low < 29.3 < 589.3 < high
    assert sweep_rect(boat(), ViewFocus(0)) is None
