"""The isometric picture: hidden lines against points looked at one by one, places by hand, and what each side shows."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.design_text import from_text
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from templates_out.drawing.marks import Line, Path, Text
from templates_out.isometric.bodies import Prism, Sheet, Trace, bodies
from templates_out.isometric.hidden_lines import SLACK, visible
from templates_out.isometric.isometric_marks import LEVEL, Turn, isometric_marks
from tests.designs import example_design

FROM_OUTSIDE, FROM_INSIDE = Turn(180.0, 20.0), Turn(0.0, 40.0)


def skiff(**values):
    return from_text(design_text("shallow-well-skiff")) if not values else with_mount(skiff(), 0, **values)


def drawn(design, turn, width=180.0, height=130.0):
    return isometric_marks(check(design), width, height, turn)


def parts(marks):
    return {mark.part for mark in marks if not isinstance(mark, Text)}


def middle(marks, part):
    points = [p for mark in marks if mark.part == part for p in ((mark.a, mark.b) if isinstance(mark, Line) else mark.points)]
    assert points, part
    return np.mean(points, axis=0)


coordinates = st.floats(-50.0, 50.0).map(lambda value: round(value, 3))
spots = st.tuples(coordinates, coordinates, coordinates)


def is_behind(spot, triangle, by):
    """Say whether a triangle is in front of a spot by more than ``by``: by its barycentric coordinates, None where close."""
    (ax, ay, az), (bx, by_, bz), (cx, cy, cz) = triangle
    den = (by_ - cy) * (ax - cx) + (cx - bx) * (ay - cy)
    if abs(den) < 1e-3:
        return None
    first = ((by_ - cy) * (spot[0] - cx) + (cx - bx) * (spot[1] - cy)) / den
    second = ((cy - ay) * (spot[0] - cx) + (ax - cx) * (spot[1] - cy)) / den
    shares = first, second, 1 - first - second
    depth = first * az + second * bz + shares[2] * cz - spot[2] - by
    if min(map(abs, shares)) < 1e-6 or abs(depth) < 1e-4:
        return None
    return min(shares) > 0 and depth > 0


@given(
    st.lists(st.tuples(spots, spots), min_size=1, max_size=4),
    st.lists(st.tuples(spots, spots, spots), min_size=1, max_size=5),
)
def test_a_point_of_a_line_is_drawn_just_where_no_surface_is_in_front_of_it(lines, triangles):
    """It catches a program that takes the wrong side of an edge or plane, or that joins two hidden pieces."""
    pieces = visible(np.array(lines), [np.array([triangle]) for triangle in triangles])
    for number, (a, b) in enumerate(lines):
        for share in np.linspace(0.013, 0.987, 17):
            spot = tuple(a[axis] + (b[axis] - a[axis]) * share for axis in range(3))
            behind = [is_behind(spot, triangle, SLACK) for triangle in triangles]
            shown = any(index == number and low <= share <= high for index, low, high in pieces)
            if None not in behind and math.dist(a, b) > 1.0:
                assert shown == (not any(behind))


def test_a_square_hides_the_middle_of_a_line_behind_it_and_nothing_before_it():
    square = np.array([[[-1.0, -1.0, 5.0], [1.0, -1.0, 5.0], [1.0, 1.0, 5.0], [-1.0, 1.0, 5.0]]])
    behind, before = [[-4.0, 0.0, 0.0], [4.0, 0.0, 0.0]], [[-4.0, 0.0, 9.0], [4.0, 0.0, 9.0]]
    pieces = visible(np.array([behind, before]), [square])
    assert pieces == [(0, 0.0, pytest.approx(0.375)), (0, pytest.approx(0.625), 1.0), (1, 0.0, 1.0)]


def test_the_usual_place_of_the_eye_shortens_all_three_axes_alike():
    """ISO 5456-3: in an isometric picture the three axes are shortened alike, to the root of 2/3, 120 degrees apart."""
    across = Turn().axes[:2]
    assert pytest.approx(35.2644, abs=1e-4) == LEVEL
    lengths = [math.hypot(*across[:, axis]) for axis in range(3)]
    assert lengths == pytest.approx([math.sqrt(2 / 3)] * 3, abs=1e-12)
    for axis, other in ((0, 1), (1, 2), (0, 2)):
        cosine = float(across[:, axis] @ across[:, other]) / (lengths[axis] * lengths[other])
        assert math.degrees(math.acos(abs(cosine))) == pytest.approx(60.0, abs=1e-9)  # as lines: 60 or 120


def test_starboard_is_at_the_right_from_astern_and_at_the_left_from_inside():
    """Which wrong program this catches: a mirrored picture, which would show the holes on the wrong side."""
    outside = drawn(skiff(), FROM_OUTSIDE)
    heads = [middle(outside, f"head of main motor / upper {side}")[0] for side in ("port", "starboard")]
    assert heads[0] < heads[1]
    inside = drawn(skiff(), FROM_INSIDE)
    nuts = [middle(inside, f"nut of main motor / upper {side}")[0] for side in ("port", "starboard")]
    assert nuts[0] > nuts[1]
    words = [mark.text for mark in inside if isinstance(mark, Text)]
    assert "\N{LEFTWARDS ARROW} starboard" in words
    assert "seen from inside" in words
    assert "seen from outside" in [mark.text for mark in outside if isinstance(mark, Text)]


def test_each_side_shows_its_own_hardware():
    """From astern the wood and the bracket hide the nuts. From inside they hide the heads. The floor hides the keel."""
    outside, inside = parts(drawn(skiff(), FROM_OUTSIDE)), parts(drawn(skiff(drop=184.15), FROM_INSIDE))
    assert "head of main motor / lower port" in outside
    assert not any(part.startswith(("nut", "washer")) for part in outside)
    assert "nut of main motor / lower port" in inside
    assert not any(part.startswith(("head", "outside washer")) for part in inside)


def test_a_washer_is_drawn_where_its_bolt_comes_out():
    """By hand: a hole square to a face that leans 15 degrees rises going in; from the datum, forward and up."""
    design = skiff()
    bolt = next(bolt for bolt in bolts(design) if bolt.name == "lower port")
    ring = next(body for body in bodies(design) if isinstance(body, Prism) and body.part == f"washer of {bolt.at}")
    rake, thick = math.radians(15.0), 38.1
    v = design.mounts[0].upper_at - design.mounts[0].drop
    by_hand = (-v * math.sin(rake) + thick * math.cos(rake), bolt.u, v * math.cos(rake) + thick * math.sin(rake))
    assert np.mean(ring.near, axis=0) == pytest.approx(by_hand, abs=1e-9)
    radius = bolt.hardware.washer.outer / 2
    assert max(math.dist(spot, by_hand) for spot in ring.near) == pytest.approx(radius, abs=1e-9)


def test_the_wells_front_leans_as_the_owner_says():
    """Positive: its top is further aft. By hand: x falls by the height over the floor times the lean's tangent."""
    design = skiff()
    leaning = replace(design, well=replace(design.well, front_lean=20.0, length=400.0))
    sheets = [body for body in bodies(leaning) if isinstance(body, Sheet)]
    fronts = {spot for sheet in sheets for spot in (sheet.ring[1], sheet.ring[2])}
    low = min(fronts, key=lambda spot: spot[2])
    high = [spot for spot in fronts if spot[2] > low[2] + 150.0]
    assert len(high) == 2
    for x, _, z in high:
        assert x == pytest.approx(low[0] - (z - low[2]) * math.tan(math.radians(20.0)), abs=1e-6)


def test_the_rounded_corner_is_open_at_the_top():
    """A closed line would cross the well from wall to wall."""
    corners = [body for body in bodies(skiff()) if isinstance(body, Trace) and body.part == "corner"]
    assert len(corners) == 2
    assert not any(corner.closed for corner in corners)


def test_what_is_fouled_is_named_crossed_and_heavier():
    marks = drawn(skiff(), FROM_INSIDE)
    assert [mark.text for mark in marks if isinstance(mark, Text) and mark.role == "fouled"] == ["Fouled: both lower bolts"]
    assert len([mark for mark in marks if mark.part == "fouled body"]) == 4
    fouled = next(mark for mark in marks if mark.part == "washer of main motor / lower port")
    plain = next(mark for mark in marks if mark.part == "washer of main motor / upper port")
    assert fouled.pen.weight > plain.pen.weight
    clear = drawn(skiff(drop=184.15), FROM_INSIDE)
    assert "fouled body" not in parts(clear)
    assert not any(isinstance(mark, Text) and mark.role == "fouled" for mark in clear)


@pytest.mark.parametrize("name", design_names())
@pytest.mark.parametrize("turn", [Turn(), Turn(200.0, 25.0), Turn(90.0, 0.0), Turn(0.0, 90.0), Turn(300.0, -60.0)])
@pytest.mark.parametrize(("width", "height"), [(75.0, 45.0), (180.0, 130.0)])
def test_every_boat_is_drawn_from_every_side_on_its_paper(name, turn, width, height):
    marks = drawn(from_text(design_text(name)), turn, width, height)
    points = [
        point for mark in marks if isinstance(mark, Line | Path)
        for point in ((mark.a, mark.b) if isinstance(mark, Line) else mark.points)
    ]  # fmt: skip
    assert len(points) > 40
    assert all(-2.0 <= x <= width + 2.0 and 0.0 <= y <= height + 2.0 for x, y in points)  # a cross may reach over by 2


def test_without_a_rake_there_is_no_picture_and_without_a_floor_the_rest_is_drawn():
    design = skiff()
    with pytest.raises(Unmeasured) as missing:
        drawn(replace(design, transom=replace(design.transom, rake=None)), FROM_INSIDE)
    assert missing.value.key == "transom.rake"
    bare = drawn(replace(design, well=replace(design.well, floor_rise=None)), FROM_INSIDE)
    assert "well" not in parts(bare)
    assert "washer of main motor / lower port" in parts(bare)


def test_the_eye_goes_round_and_does_not_go_over_the_top():
    assert Turn(350.0, 80.0).by(20.0, 20.0) == Turn(10.0, 90.0)
    assert Turn(10.0, -80.0).by(-20.0, -20.0) == Turn(350.0, -90.0)


def test_the_transom_s_outer_face_goes_through_the_datum_and_leans_by_the_rake():
    """(u, v) is at x = -v·sin 14° ahead, z = v·cos 14° up; the inner rim is 44 mm square to it."""
    design = example_design()
    transom = next(piece for piece in bodies(design) if isinstance(piece, Prism) and piece.part == "transom")
    sine, cosine = math.sin(math.radians(14.0)), math.cos(math.radians(14.0))
    wanted = [(-v * sine, u, v * cosine) for u, v in design.transom.outline]
    assert sorted(transom.near) == [pytest.approx(spot, abs=1e-9) for spot in sorted(wanted)]
    assert {round(x * cosine + z * sine, 6) for x, _, z in transom.far} == {44.0}


def test_a_bracket_is_drawn_larger_where_a_well_is_shown_than_where_the_whole_transom_is():
    """The transom is more than twice as wide as the well. Where there is a well, it does not count for the scale."""
    wide = []
    for design in (example_design(), replace(example_design(), well=None, inside_blocks=())):
        marks = [mark for mark in drawn(design, Turn()) if isinstance(mark, Line) and mark.part.startswith("bracket")]
        xs = [x for mark in marks for x in (mark.a[0], mark.b[0])]
        wide.append(max(xs) - min(xs))
    assert wide[0] > 1.2 * wide[1], wide


def test_the_brackets_holes_are_as_far_apart_as_the_bracket_has_them():
    """By hand, for an offset of 40 mm: upper holes 163.5125 to either side of it, lower slots 125.4125."""
    traces = [body for body in bodies(skiff(offset=40.0)) if isinstance(body, Trace) and body.part == "bracket:0"]
    middles = {round((min(spot[1] for spot in trace.spots) + max(spot[1] for spot in trace.spots)) / 2, 6) for trace in traces}
    assert sorted(middles) == pytest.approx([40.0 - 163.5125, 40.0 - 125.4125, 40.0 + 125.4125, 40.0 + 163.5125], abs=1e-5)
