"""The cut as values: heights by hand calculation, the rounded corner as a circle, and that no figure hides anything."""

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.design.hardware import BackingPlate
from geometry.edits.edits import drill_tilts, set_units
from geometry.judge.check import check
from geometry.solid.faces import faces, profile_up
from geometry.solid.placed_bolts import bolts
from geometry.solid.planes import to_segment
from templates_out.drawing.marks import Circle, Hatch, Line, Path, Point, Text
from templates_out.drawing.transforms import text_box
from templates_out.views import view_pens as pens
from templates_out.views.cut import cut_marks, cut_rect, plane_of
from templates_out.views.cut_bolts import _plate_ring
from templates_out.views.cut_ghost import exits_moved, ghost_marks
from templates_out.views.detail import RADIUS, Ring, cut_with_detail, detail_box, detail_centre, detail_marks, detail_scale
from templates_out.views.dimensions import STROKE
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import fit
from tests.designs import changed, example_design, sure
from tests.templates_out.viewing import of, overlaps, plated, struck, texts, variants

WIDE, HIGH = 110.0, 90.0  # mm: the cut at 1366 x 768
RAKE = math.radians(14.0)


def cut(design, side="starboard", style="screen", **focus):
    view = fit(cut_rect(design, side), WIDE, HIGH)
    return view, cut_marks(check(design), view, side, 0, ViewFocus(**focus), style)


def level(v, s):
    """(x, z) of (v, s): x = -v·sin ρ + s·cos ρ, z = v·cos ρ + s·sin ρ."""
    return -v * math.sin(RAKE) + s * math.cos(RAKE), v * math.cos(RAKE) + s * math.sin(RAKE)


def test_the_floor_is_where_it_was_measured():
    """Inside edge: s = 44, v = -44·tan 14° = -10.970. Floor's corner 236.03 below it on the inner face: v = -247.000.

    Along the floor, which rises 3° going forward, to its end 420 mm off: x + 420·cos 3°, z + 420·sin 3°.
    """
    view, marks = cut(example_design())
    (floor,) = of(marks, Path, "well floor")
    corner = level(-44 * math.tan(RAKE) - 236.03, 44.0)
    end = corner[0] + 420 * math.cos(math.radians(3)), corner[1] + 420 * math.sin(math.radians(3))
    assert view.to_boat(floor.points[-1]) == pytest.approx(end, abs=1e-6)
    x, z = view.to_boat(floor.points[-2])
    assert z == pytest.approx(corner[1] + (x - corner[0]) * math.tan(math.radians(3)), abs=1e-6)


def test_the_rounded_corner_is_a_true_arc():
    """It touches the inner face 9.892 above the corner, so its centre is 12 in front of that place."""
    view, marks = cut(example_design())
    (floor,) = of(marks, Path, "well floor")
    land = -44 * math.tan(RAKE) - 236.03 + 12 / math.tan(math.radians(50.5))
    assert view.to_boat(floor.points[0]) == pytest.approx(level(land, 44.0), abs=1e-6)
    centre = level(land, 44.0 + 12.0)
    arc = [view.to_boat(at) for at in floor.points[:-1]]
    assert len(arc) > 20
    assert [math.dist(centre, at) for at in arc] == pytest.approx([12.0] * len(arc), abs=1e-6)


def test_the_transom_leans_and_is_as_thick_as_measured():
    view, marks = cut(example_design())
    foot, outer, inner = [view.to_boat(at) for at in of(marks, Path, "transom")[-1].points]
    assert outer == pytest.approx((0.0, 0.0), abs=1e-6)
    assert inner[1] == pytest.approx(0.0, abs=1e-6)  # cut level
    assert inner[0] * math.cos(RAKE) == pytest.approx(44.0, abs=1e-6)
    assert math.degrees(math.atan2(foot[0], -foot[1])) == pytest.approx(14.0, abs=1e-6)


def test_bolts_and_what_sits_on_them():
    """A square bolt at v = -215.9: washer from s = 44 to 47, nut's far end 15.469 further; washer 38.1 across."""
    view, marks = cut(example_design())
    (washer,) = of(marks, Path, "lower starboard washer:0")
    corners = [view.to_boat(at) for at in washer.points]
    assert corners[0] == pytest.approx(level(-215.9 + 19.05, 44.0), abs=1e-6)
    assert corners[2] == pytest.approx(level(-215.9 - 19.05, 47.0), abs=1e-6)
    nut = [view.to_boat(at) for at in of(marks, Path, "lower starboard nut:0")[0].points]
    assert math.dist(nut[0], nut[1]) == pytest.approx(0.609 * 25.4, abs=1e-6)  # ASME B18.16.6 NE, from memory
    (bolt,) = of(marks, Path, "lower starboard bolt:0")
    assert math.dist(*[view.to_boat(at) for at in bolt.points[:2]]) == pytest.approx(44.0, abs=1e-6)


def test_a_cut_washer_reaches_down_to_its_cut():
    view, marks = cut(changed(example_design(), mounts__0__lower_hardware__washer__flat_cut=15.0))
    corners = [view.to_boat(at) for at in of(marks, Path, "lower starboard washer:0")[0].points]
    assert corners[2] == pytest.approx(level(-215.9 - 15.0, 47.0), abs=1e-6)


def test_a_tilted_bolt_rises():
    view, marks = cut(changed(example_design(), mounts__0__lower_tilt=6.0))
    (axis,) = of(marks, Line, "lower starboard axis:0")
    (xa, za), (xb, zb) = view.to_boat(axis.a), view.to_boat(axis.b)
    assert math.degrees(math.atan2(zb - za, xb - xa)) == pytest.approx(14.0 + 6.0, abs=1e-6)


def test_taper_leans_the_inner_face():
    design = changed(example_design(), transom__thickness__low=60.0)
    view, marks = cut(design)
    (edge,) = [line for line in of(marks, Line, "inner face") if not line.pen.dash]
    (xa, za), (xb, zb) = view.to_boat(edge.a), view.to_boat(edge.b)
    taper = math.degrees(math.atan(16 / 250))
    assert math.degrees(math.atan2(xb - xa, za - zb)) == pytest.approx(14.0 + taper, abs=1e-6)


def test_a_block_reaches_out_where_the_plane_meets_it():
    """The drain tube, ±20 wide, is not met at 125.4; one that reaches there is, 30 mm proud."""
    _, marks = cut(example_design())
    assert not [mark for mark in marks if mark.part.startswith("block")]
    wide = changed(example_design(), inside_blocks__0__outline=((-20, -236), (140, -236), (140, -204), (-20, -204)))
    view, marks = cut(wide)
    ring = [view.to_boat(at) for at in of(marks, Path, "block 0")[-1].points]
    assert math.dist(ring[0], ring[1]) == pytest.approx(30.0, abs=1e-6)
    assert math.dist(ring[1], ring[2]) == pytest.approx(32.0, abs=1e-6)


def test_the_layers_are_hatched_each_in_its_way():
    _, marks = cut(example_design())
    assert {mark.kind for mark in of(marks, Hatch, "core")} == {"plywood"}
    assert {mark.angle for mark in of(marks, Hatch, "core")} == {104.0}  # along the face
    assert len(of(marks, Hatch, "skin")) == 2
    foam = changed(example_design(), transom__core="foam")
    assert {mark.kind for mark in of(cut(foam)[1], Hatch, "core")} == {"foam"}


def test_the_overlap_is_below_the_floor():
    """Drop 203.2: the washer's foot is at w = -273.05 and the land at -237.108: 35.942 of it is lost."""
    view, marks = cut(changed(example_design(), mounts__0__drop=203.2, mounts__0__row=1))
    heavy = [mark for mark in of(marks, Path, "lower starboard washer:0") if mark.pen and mark.pen.role == "fouled"]
    (ring,) = [[view.to_boat(at) for at in mark.points] for mark in heavy]
    along = [-x * math.sin(RAKE) + z * math.cos(RAKE) for x, z in ring]  # v
    assert max(along) - min(along) == pytest.approx(35.942, abs=1e-3)
    assert [mark.kind for mark in of(marks, Hatch, "lower starboard washer:0")] == ["cross"]


def test_a_fouled_backing_plate_is_marked_where_it_is_below_the_floor():
    """Its foot is the lowest place; the overlap ends at the floor's line, and above it the backing plate is as it was."""
    view, marks = cut(plated())
    plate, *lost = of(marks, Path, "lower starboard plate:0")
    wash, edge = lost
    assert (wash.fill, edge.pen and edge.pen.role) == ("fouled wash", "fouled")
    assert wash.points == edge.points
    heights = [view.to_boat(at)[1] for at in plate.points]
    taken = [view.to_boat(at)[1] for at in wash.points]
    assert min(taken) == pytest.approx(min(heights), abs=1e-6)
    assert max(taken) < (min(heights) + max(heights)) / 2
    (floor,) = of(marks, Path, "well floor")
    on_floor = [at for at in wash.points if min(_away(at, side) for side in pairwise(floor.points)) < 1e-6]
    assert len(on_floor) >= 2
    assert [mark.kind for mark in of(marks, Hatch, "lower starboard plate:0")] == ["pairs", "cross"]


def _away(at: Point, side: tuple[Point, Point]) -> float:
    """Return how much longer the way over a place is than a side is: 0 where it is on it."""
    return math.dist(side[0], at) + math.dist(at, side[1]) - math.dist(*side)


@pytest.mark.parametrize("side", ["port", "starboard"])
@pytest.mark.parametrize("design", [plated(), plated(12.0)], ids=["plate", "relieved"])
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_details_figure_is_next_to_a_backing_plate_and_its_washer(design, side, unit):
    """Where it finds no place in the ring, what is shown there is moved to make room."""
    design = set_units(design, unit)
    view = fit(cut_rect(design, side), WIDE, HIGH)
    marks = detail_marks(check(design), view, side)
    assert len([text for text in texts(marks) if text.bold]) == 1
    assert not struck(tuple(mark for mark in marks if not isinstance(mark, Circle)))  # it is in one
    small, large = (next(mark for mark in of(marks, Circle, part) if mark.pen) for part in ("detail place", "detail"))
    times = large.radius / small.radius
    gap = [mark for mark in marks if isinstance(mark, Line) and mark.part.startswith("finding:")]
    seen = [((x - large.centre[0]) / times + small.centre[0], (y - large.centre[1]) / times + small.centre[1])
            for x, y in (gap[0].a, gap[0].b)]  # fmt: skip
    assert all(math.dist(small.centre, at) < small.radius for at in seen)  # the small ring is where the large one looks


@pytest.mark.parametrize("side", ["port", "starboard"])
@pytest.mark.parametrize("name", list(variants()))
def test_no_figure_hides_anything(name, side):
    design = variants()[name]
    view = fit(cut_rect(design, side), WIDE, HIGH)
    checked = check(design)
    marks = cut_with_detail(checked, view, side)
    assert not overlaps(texts(marks))
    leader = [replace(mark, pen=pens.SEEN) for mark in of(marks, Line, "detail place")]
    assert not struck((*leader, *(text for text in texts(marks) if text.part != "detail")))
    marks = cut_marks(checked, view, side)
    assert not overlaps(texts(marks))
    assert not struck(marks)
    assert {"aft", "forward"} <= {text.text for text in texts(marks)}


def test_words_where_something_is_not_there():
    said = [text.text for text in texts(cut(changed(example_design(), well=None, inside_blocks=()))[1])]
    assert {"No well:", "the inside is free."} <= set(said)
    said = [text.text for text in texts(cut(changed(example_design(), mounts=()))[1])]
    assert {"Hang a motor:", "choose its bracket on the card."} <= set(said)


def test_without_the_rake_nothing_is_drawn_but_words():
    _, marks = cut(changed(example_design(), transom__rake=None))
    said = {text.text for text in texts(marks)}
    assert said == {"aft", "forward", "seen from starboard", "No cut yet:", "rake is not measured."}
    assert len(texts(marks)) == len(marks)


def test_without_the_corner_radius_the_bolts_are_still_drawn():
    _, marks = cut(changed(example_design(), well__fillet_radius=None))
    assert of(marks, Path, "lower starboard washer:0")
    assert not of(marks, Path, "well floor")


def test_what_is_lit_is_shown():
    for key, said in (
        ("transom.thickness.top", "1 23/32 in"), ("well.fillet_radius", "R 15/32 in"), ("well.floor_rise", "3°"),
        ("well.floor_starboard", "9 9/32 in"), ("mounts.0.drop", "6 1/2 in"), ("mounts.0.upper_at", "2 in"),
        ("transom.rake", "14°"), ("transom.thickness.low", "1 23/32 in"), ("well.length", "16 17/32 in"),
    ):  # fmt: skip
        _, marks = cut(example_design(), lit=key)
        (figure,) = [text for text in texts(marks) if text.patch == "lit"]
        assert (figure.part, figure.text) == (f"measure:{key}", said)


@pytest.mark.parametrize(
    ("key", "long"),
    [("transom.thickness.top", 44.0), ("mounts.0.drop", 165.1), ("mounts.0.upper_at", 50.8), ("well.floor_starboard", 236.03),
     ("well.length", 420.0)],
)
def test_the_line_of_a_lit_length_is_as_long_as_it_says(key, long):
    """From stroke to stroke, within 1e-6 mm."""
    view, marks = cut(example_design(), lit=key)
    strokes = [mark for mark in of(marks, Line, f"measure:{key}") if math.dist(mark.a, mark.b) == pytest.approx(STROKE)]
    first, second = (view.to_boat(((mark.a[0] + mark.b[0]) / 2, (mark.a[1] + mark.b[1]) / 2)) for mark in strokes)
    assert math.dist(first, second) == pytest.approx(long, abs=1e-6)


def test_the_floors_rise_is_on_a_level_line_that_begins_on_the_floor():
    """22 mm of paper to the right of a place on the floor, level. Its figure is above it, about its middle."""
    _, marks = cut(example_design(), lit="well.floor_rise")
    (line,) = of(marks, Line, "measure:well.floor_rise")
    assert line.b == pytest.approx((line.a[0] + 22.0, line.a[1]))
    floor = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "well floor" and not mark.closed)
    gaps = [abs((b[0] - a[0]) * (line.a[1] - a[1]) - (b[1] - a[1]) * (line.a[0] - a[0])) / math.dist(a, b)
            for a, b in zip(floor.points, floor.points[1:], strict=False) if math.dist(a, b) > 1e-9]  # fmt: skip
    assert min(gaps) < 1e-6
    (figure,) = (mark for mark in texts(marks) if mark.part == "measure:well.floor_rise")
    assert figure.at[1] > line.a[1]
    assert abs(figure.at[0] - (line.a[0] + line.b[0]) / 2) < 2.0


def test_the_plane_follows_the_bolt_that_is_looked_at():
    assert plane_of(example_design(), "port", 0).u == pytest.approx(-125.4125)
    assert plane_of(example_design(), "port", 0, upper=True).u == pytest.approx(-163.5125)
    assert plane_of(changed(example_design(), mounts=()), "starboard", 0).u == pytest.approx(125.4125)


@pytest.mark.parametrize(
    ("gap", "times"),
    [(0.5, 16), (1.4, 16), (1.5, 8), (2.97, 8), (3.0, 4), (5.9, 4), (6.0, 2), (11.9, 2), (22.7, 2), (22.8, None), (40.0, None)],
)
def test_the_detail_takes_the_largest_scale_that_fits(gap, times):
    """Within 6.35 to 23.8 mm: 1.4·16 = 22.4, 1.5·16 = 24.0 is too wide, 2.97·8 = 23.76; 22.8·2 is wider than a ring of 45.5."""
    assert detail_scale(gap) == times


@pytest.mark.parametrize("radius", [RADIUS, 15.0])
def test_the_place_of_a_detail_is_its_ring_and_its_name_below(radius):
    """1 mm around the ring, and 6 mm more below it. The ring is 3 mm from the cut's right and upper side."""
    view = fit(cut_rect(example_design(), "starboard"), WIDE, HIGH)
    x, y = detail_centre(view, radius)
    assert (x, y) == (WIDE - 3.0 - radius, HIGH - 3.0 - radius)
    assert detail_box((x, y), radius) == pytest.approx((x - radius - 1, y - radius - 7, x + radius + 1, y + radius + 1))
    marks = detail_marks(check(example_design()), view, "starboard", radius=radius)
    left, low, right, high = detail_box((x, y), radius)
    (ring,) = (mark for mark in of(marks, Circle, "detail") if mark.pen)
    assert ring.radius == radius
    for text in of(marks, Text, "detail"):
        assert all(at <= right and low <= up <= high for at, up in text_box(text)), text.text
        if radius == RADIUS:  # the name is wider than a small ring: it reaches further aft
            assert all(left <= at for at, _ in text_box(text)), text.text


@pytest.mark.parametrize("name", ["example", "standard drop", "shallow-well-skiff", "cap-lip-launch"])
def test_the_detail_stays_in_its_ring(name):
    design = variants()[name]
    view = fit(cut_rect(design, "starboard"), WIDE, HIGH)
    marks = detail_marks(check(design), view, "starboard")
    centre = detail_centre(view)
    ring = [mark for mark in of(marks, Circle, "detail") if mark.pen]
    assert [(mark.centre, mark.radius) for mark in ring] == [(centre, RADIUS)]
    outside = {"detail", "detail place"}
    for mark in marks:
        if mark.part in outside:
            continue
        points: tuple[Point, ...]
        match mark:
            case Line():
                points = (mark.a, mark.b)
            case Path():
                points = mark.points
            case Hatch():
                points = mark.outline
            case _:
                points = (mark.at,)
        assert all(math.dist(centre, at) <= RADIUS + 0.01 for at in points)
    (small,), (tether,) = of(marks, Circle, "detail place"), of(marks, Line, "detail place")
    assert math.dist(tether.a, small.centre) == pytest.approx(small.radius, abs=1e-6)
    assert math.dist(tether.b, centre) == pytest.approx(RADIUS, abs=1e-6)
    assert math.dist(small.centre, centre) == pytest.approx(small.radius + math.dist(tether.a, tether.b) + RADIUS, abs=1e-6)
    assert any(text.text.startswith("Detail, ") and text.text.endswith(" times the size") for text in texts(marks))
    assert len([text for text in texts(marks) if text.bold]) == 1


@given(*[st.floats(-60, 60)] * 4, st.floats(5, 60), st.integers(3, 7))
def test_what_the_ring_keeps_of_a_shape_is_what_is_in_its_circle(x, y, across, up, size, count):
    """Areas against a library's: the circle and a polygon of some corners in it, whole, cut or outside. Within 0.5 mm²."""
    turns = [2 * math.pi * number / count for number in range(count)]
    shape = tuple((x + size * math.cos(turn), y + size * math.sin(turn)) for turn in turns)
    ring = Ring((across, up), 20.0)
    kept = [mark.points for mark in ring.clip([Path(shape, True, None, "new wash")]) if isinstance(mark, Path)]
    wanted = shapely.Polygon(shape).intersection(shapely.Point(across, up).buffer(20.0, quad_segs=64)).area
    assert sum(shapely.Polygon(piece).area for piece in kept) == pytest.approx(wanted, abs=0.5)


def test_the_drop_s_extension_lines_are_square_to_the_outer_face():
    """Each begins straight aft of its bolt, and ends at the dimension."""
    design = example_design()
    view, marks = cut(design)
    plane = plane_of(design, "starboard", 0)
    lines = of(marks, Line, "measure:mounts.0.drop")
    for v in (-50.8, -50.8 - 165.1):
        face, far = (view.to_paper(plane.outside(v, s)) for s in (0.0, -400.0))
        on_it = [line for line in lines if max(to_segment(at, (face, far)) for at in (line.a, line.b)) < 1e-6]
        assert on_it
        assert max(math.dist(line.a, line.b) for line in on_it) > 1.0


def test_the_well_is_washed_from_its_floor_to_the_top():
    """A place 50 mm in front of the inner face and 100 mm down is in it, one 20 mm under its floor is not."""
    design = example_design()
    view, marks = cut(design)
    plane = plane_of(design, "starboard", 0)
    rings = [mark for mark in of(marks, Path, "well") if mark.fill == "well"]
    shape = shapely.union_all([shapely.Polygon(mark.points) for mark in rings])
    for w, inside in ((-100.0, True), (-230.0, True), (-270.0, False)):
        assert shape.contains(shapely.Point(view.to_paper(plane.inside(w, 50.0)))) == inside


def test_the_floor_s_depth_has_an_extension_line_at_each_end():
    """One is level with the inside top edge, one with the floor, both along the floor's normal from the inner face."""
    design = example_design()
    view, marks = cut(design)
    plane = plane_of(design, "starboard", 0)
    top, floor = profile_up(faces(design.transom), sure(design.well)), -247.0
    lines = of(marks, Line, "measure:well.floor_starboard")
    for w in (top, floor):
        start, away = (view.to_paper(plane.inside(w, n)) for n in (0.0, 14.0 / view.scale))
        assert any(to_segment(start, (line.a, line.b)) < 1.5 and to_segment(away, (line.a, line.b)) < 0.3 for line in lines)


@pytest.mark.parametrize("name", ["example", "standard drop", "plated"])
def test_figures_are_painted_over_what_is_filled(name):
    """A figure's light patch hides the lines under it. Which wrong program this catches: one that hatches over its figures."""
    marks = cut(variants()[name])[1]
    filled = [index for index, mark in enumerate(marks) if isinstance(mark, Hatch) or getattr(mark, "fill", None)]
    assert max(filled) < min(index for index, mark in enumerate(marks) if isinstance(mark, Text) and mark.part)


def test_an_overlap_wider_than_the_ring_has_no_detail():
    """51 mm, drawn at half size and twice that in the ring: neither edge would be in its 45.5 mm."""
    design = changed(example_design(), well__fillet_radius=0.0, mounts__0__drop=228.6)
    view = fit(cut_rect(design, "port"), 2 * WIDE, 2 * HIGH)
    checked = check(design)
    values = (f.value for f in checked.findings if f.check == "washer" and f.at.endswith("lower port"))
    worst = min(value for value in values if value is not None)
    assert 2 * abs(worst) * view.scale > 2 * RADIUS
    assert detail_marks(checked, view, "port") == ()


def test_the_detail_shows_the_figure_of_the_finding():
    design = changed(example_design(), mounts__0__drop=184.15, mounts__0__row=1)
    view = fit(cut_rect(design, "port"), WIDE, HIGH)
    marks = detail_marks(check(design), view, "port")
    (figure,) = [text for text in texts(marks) if text.bold]
    assert figure.text == "−11/16 in"  # -16.892 mm is 10.64 sixteenths: rounded to the worse
    assert figure.part == "finding:washer:main motor / lower port"


@pytest.mark.parametrize(("tilt", "words"), [(-14.0, "7/16 in lower"), (14.0, "7/16 in higher")])
def test_the_other_way_to_drill_says_how_far_each_exit_moves(tilt, words):
    """Through 44 mm a hole that falls 14° ends 44·tan 14° = 10.970 lower, which is 7/16 in (11.1) to the nearest 1/16."""
    design = example_design()
    other = drill_tilts(design, 0, tilt, tilt)
    moved = math.copysign(44 * math.tan(RAKE), tilt)
    assert exits_moved(design, other, "starboard", 0) == pytest.approx((moved, moved), abs=1e-9)
    view = fit(cut_rect(design, "starboard"), WIDE, HIGH)
    ghost = ghost_marks(check(design), view, "starboard", 0, other)
    assert [mark.text for mark in ghost if isinstance(mark, Text)] == [words, words]
    upper = next(mark for mark in ghost if isinstance(mark, Line))  # the hole's upper side, 6.75 from its axis
    up = 6.75 * math.cos(math.radians(tilt)), -6.75 * math.sin(math.radians(tilt))
    assert view.to_boat(upper.a) == pytest.approx(level(-50.8 + up[0], up[1]), abs=1e-6)
    assert view.to_boat(upper.b) == pytest.approx(level(-50.8 + moved + up[0], 44.0 + up[1]), abs=1e-6)
    nothing = ghost_marks(check(design), view, "starboard", 0, other, (0.0, 0.0, WIDE, HIGH))
    assert [mark for mark in nothing if isinstance(mark, Text)] == []
    assert [mark for mark in nothing if not isinstance(mark, Text)] == [mark for mark in ghost if not isinstance(mark, Text)]


def test_without_a_thickness_no_other_way_is_drawn():
    design = changed(example_design(), transom__thickness__top=None)
    view = fit(cut_rect(example_design(), "starboard"), WIDE, HIGH)
    assert ghost_marks(check(design), view, "starboard", 0, design) == ()


def test_each_skin_is_drawn_as_thick_as_it_is():
    """6 mm outside and 3 mm inside of 44 mm: along the level top they end at 6, 41 and 44 over cos 14°, within 1e-5 mm."""
    view, marks = cut(changed(example_design(), transom__skin_outside=6.0, transom__skin_inside=3.0))

    def along_the_top(hatch):
        at = [view.to_boat(point) for point in hatch.outline]
        return sorted(x for x, z in at if abs(z) < 1e-5)

    outer, inner = sorted(map(along_the_top, of(marks, Hatch, "skin")))
    (core,) = map(along_the_top, of(marks, Hatch, "core"))
    level_at = [s / math.cos(RAKE) for s in (0.0, 6.0, 41.0, 44.0)]
    assert [*outer, *inner] == pytest.approx(level_at, abs=1e-5)
    assert core == pytest.approx(level_at[1:3], abs=1e-5)


def test_the_higher_part_beyond_is_as_high_as_it_is():
    """The bulwark is 60 over the datum, at port; a transom with a level top has nothing beyond."""
    view, marks = cut(example_design())
    (beyond,) = of(marks, Path, "transom beyond")
    for at, true in zip(beyond.points, (level(0, 0), level(60, 0), level(60, 44), level(0, 44)), strict=True):
        assert view.to_boat(at) == pytest.approx(true, abs=1e-5)
    flat = changed(example_design(), transom__outline=((-700, 0), (700, 0), (620, -420), (0, -520), (-620, -420)))
    assert not of(cut(flat)[1], Path, "transom beyond")


@pytest.mark.parametrize(("half", "drawn"), [(160.0, True), (100.0, False)])
def test_a_backing_plate_that_ends_before_a_bolt_is_not_in_that_bolts_plane(half, drawn):
    """The lower bolts are 125.4 mm to each side: one that reaches 100 mm is not cut by their planes."""
    ring = ((-half, -30.0), (half, -30.0), (half, 30.0), (-half, 30.0))
    backing = BackingPlate(outline=ring, thickness=6.0, relief=(0.0, 0.0), material="aluminium 5083",
                           joins=("lower port", "lower starboard"))  # fmt: skip
    joined = tuple(bolts(changed(example_design(), mounts__0__lower_hardware__backing_plate=backing)))
    for bolt in joined[2:]:
        assert len(_plate_ring(bolt, joined)) == (4 if drawn else 0)


def test_a_bolts_axis_goes_from_40_outside_the_wood_to_6_beyond_its_socket():
    view, marks = cut(example_design(), "port")
    bolt = next(bolt for bolt in bolts(example_design()) if bolt.name == "lower port")
    (axis,) = of(marks, Line, "lower port axis:0")
    plane = plane_of(example_design(), "port", 0)
    outer, exit_ = plane.outside(bolt.v, 0.0), plane.inside(bolt.exit.w, 0.0)
    assert math.dist(view.to_boat(axis.a), outer) == pytest.approx(40.0, abs=1e-6)
    assert math.dist(view.to_boat(axis.a), exit_) == pytest.approx(84.0, abs=1e-6)
    assert math.dist(view.to_boat(axis.b), exit_) == pytest.approx(sure(bolt.body("socket")).end + 6.0, abs=1e-6)
