"""The holes as drilled in the cut, and in the list of findings."""

from __future__ import annotations

import math

import pytest

from app.findings.glance_lines import glance_lines, group_title
from geometry.doubt.spreads import with_spreads
from geometry.drilling.as_drilled import placed
from geometry.judge.check import check
from geometry.readings.drilled_readings import with_drilled
from geometry.solid.placed_bolts import bolts
from templates_out.drawing.marks import Circle, Line, Path
from templates_out.views.cut import cut_marks, cut_rect, plane_of
from templates_out.views.face import face_marks
from templates_out.views.viewport import fit, work_rect
from tests.designs import roomy
from tests.geometry.test_as_drilled import both_ends, drilled


def drawn(design, side="port"):
    view = fit(cut_rect(design, side), 110.0, 90.0)
    return view, [mark for mark in cut_marks(check(design), view, side) if mark.part.startswith("drilled ")]


def test_nothing_is_drawn_before_anything_was_read():
    assert drawn(roomy())[1] == []
    assert drawn(with_drilled(roomy(), 0))[1] == []


def test_axis_and_washer_are_where_the_hole_came_out():
    """Drilled as planned outside, 4 mm lower inside: the axis leans by atan(4 / 44), and the washer is 4 mm lower; 1e-6 mm."""
    design = both_ends(roomy(), {"lower_port": ((0.0, 0.0), (0.0, -4.0))})
    view, marks = drawn(design)
    low = [mark for mark in marks if mark.part == "drilled lower port"]
    axis = next(mark for mark in low if isinstance(mark, Line) and mark.pen.dash)
    plane, plan = plane_of(design, "port", 0), next(bolt for bolt in bolts(design) if bolt.name == "lower port")
    there = next(bolt for bolt in bolts(placed(design)) if bolt.name == "lower port")
    (xa, za), (xb, zb) = view.to_boat(axis.a), view.to_boat(axis.b)
    lean = math.degrees(math.atan2(zb - za, xb - xa)) - math.degrees(plane.faces.rake)
    assert lean == pytest.approx(-math.degrees(math.atan(4 / 44)), abs=1e-6)
    outer, exit_ = plane.outside(plan.v, 0.0), plane.inside(plan.exit.w - 4.0, 0.0)
    for x, z in (outer, exit_):  # both ends of the hole are on its axis
        assert abs((x - xa) * (zb - za) - (z - za) * (xb - xa)) / math.dist((xa, za), (xb, zb)) < 1e-6
    washer = next(mark for mark in low if isinstance(mark, Path))
    corners = [view.to_boat(at) for at in washer.points]
    middle = [sum(at[axis] for at in corners) / 4 for axis in (0, 1)]
    half = there.body("washer").end / 2
    along = ((xb - xa) / math.dist((xa, za), (xb, zb)), (zb - za) / math.dist((xa, za), (xb, zb)))
    assert middle == pytest.approx([exit_[0] + half * along[0], exit_[1] + half * along[1]], abs=1e-6)


def test_only_this_side_is_in_the_cut():
    parts = {mark.part for mark in drawn(drilled(roomy()), "starboard")[1]}
    assert parts == {"drilled upper starboard", "drilled lower starboard"}


def test_the_list_has_a_line_for_what_is_worse_and_none_while_a_hand_drags():
    design = drilled(roomy(), lower_port=(0.0, -30.0))
    assert not [line for line in glance_lines(check(design)) if line.group == "drilled"]
    lines = [line for line in glance_lines(with_spreads(check(design))) if line.group == "drilled"]
    washer = next(line for line in lines if line.first.check == "washer")
    assert (washer.state, washer.word, washer.lit) == ("fouled", "fouled", "lower port washer:0")
    assert washer.part == "Lower port washer"
    assert "It is clear in the plan." in washer.whole
    assert washer.short[0].startswith("In section 7 of the card")
    assert group_title((washer,)) == "As drilled, worse than planned"
    keys = [line.key for line in glance_lines(with_spreads(check(design)))]
    assert len(set(keys)) == len(keys)
    whole = glance_lines(with_spreads(check(drilled(roomy()))))
    assert not [line for line in whole if line.group == "drilled"]


def test_the_walls_of_a_hole_go_through_the_wood():
    """From the outer face to the inner one, half a hole of 13.5 to each side of the axis; within 1e-6 mm."""
    design = both_ends(roomy(), {"lower_port": ((0.0, 0.0), (0.0, 0.0))})
    view, marks = drawn(design)
    plane, plan = plane_of(design, "port", 0), next(bolt for bolt in bolts(design) if bolt.name == "lower port")
    walls = [mark for mark in marks if isinstance(mark, Line) and mark.part == "drilled lower port" and not mark.pen.dash]
    assert len(walls) == 2
    for at, middle in (("a", plane.outside(plan.v, 0.0)), ("b", plane.inside(plan.exit.w, 0.0))):
        first, second = (view.to_boat(getattr(wall, at)) for wall in walls)
        assert math.dist(first, second) == pytest.approx(13.5, abs=1e-6)
        assert [(first[0] + second[0]) / 2, (first[1] + second[1]) / 2] == pytest.approx(list(middle), abs=1e-6)


def test_the_face_has_the_hole_where_it_was_drilled_in_the_outer_face():
    """4 mm lower and 3 to starboard there, and as planned inside."""
    design = both_ends(roomy(), {"lower_port": ((3.0, -4.0), (0.0, 0.0))})
    view = fit(work_rect(design), 110.0, 90.0)
    marks = [mark for mark in face_marks(check(design), view) if mark.part == "drilled lower port"]
    (hole,) = (mark for mark in marks if isinstance(mark, Circle))
    plan = next(bolt for bolt in bolts(design) if bolt.name == "lower port")
    assert view.to_boat(hole.centre) == pytest.approx((plan.u + 3.0, plan.v - 4.0), abs=1e-6)
    cross = [mark for mark in marks if isinstance(mark, Line)]
    assert len(cross) == 2
    for line in cross:
        assert ((line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2) == pytest.approx(hole.centre)
