"""The face as values: the place of each part, and that no figure hides anything."""


import math

import pytest
from msgspec.structs import replace

from geometry.edits import additions
from geometry.edits.edits import set_units
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.solid.placed_bolts import bolts
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import Circle, Hatch, Line, Path, Pen, Text
from templates_out.drawing.transforms import text_box
from templates_out.views.dimensions import STROKE, Figure, Placed, Sheet, size_line
from templates_out.views.face import face_marks
from templates_out.views.face_clearance import _gap
from templates_out.views.face_figures import _offset
from templates_out.views.rulers import TOP_HEIGHT, ruler_marks
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.view_pens import SOCKET
from templates_out.views.viewport import fit, whole_rect, work_rect
from tests.designs import changed, example_design, sure
from tests.geometry.test_openings import NEXT_TO, beside_lower_starboard
from tests.templates_out.viewing import DEMONSTRATIONS, demonstration, of, overlaps, struck, texts, variants

WIDE, HIGH = 172.0, 148.0  # mm: the face at 1366 x 768
NAMES = ("upper port", "upper starboard", "lower port", "lower starboard")


def face(design, style="screen", **focus):
    view = fit(work_rect(design), WIDE, HIGH)
    return view, face_marks(check(design), view, ViewFocus(**focus), style)


def figures(marks):
    return {mark.part for mark in texts(marks) if mark.part.startswith(("measure:", "finding:"))}


def test_hole_circles_are_where_the_holes_go():
    """Upper pair 163.5125 either side and 50.8 down; lower pair 125.4125 either side, 50.8 + 165.1 = 215.9 down."""
    view, marks = face(example_design())
    for name, u, v in (
        ("upper port", -163.5125, -50.8), ("upper starboard", 163.5125, -50.8),
        ("lower port", -125.4125, -215.9), ("lower starboard", 125.4125, -215.9),
    ):  # fmt: skip
        hole, dot = of(marks, Circle, f"{name} hole:0")
        assert hole.radius == pytest.approx(13.5 / 2 * view.scale, abs=1e-6 * view.scale)
        for circle in (hole, dot):
            assert view.to_boat(circle.centre) == pytest.approx((u, v), abs=1e-6)


def test_washers_are_where_the_bolts_come_out():
    """Tilted up by 6° through 44 mm: 44·tan 6° = 4.6246 higher."""
    view, marks = face(changed(example_design(), mounts__0__lower_tilt=6.0))
    (washer,) = of(marks, Circle, "lower port washer:0")
    rise = view.to_boat(washer.centre)[1] - -215.9
    assert rise == pytest.approx(44 * math.tan(math.radians(6)), abs=1e-6)
    assert washer.radius / view.scale == pytest.approx(38.1 / 2, abs=1e-6)
    assert washer.pen.dash


def test_cross_reaches_1_6_washer_radii():
    view, marks = face(example_design())
    across, up = of(marks, Line, "lower port hole:0")
    assert math.dist(across.a, across.b) / view.scale == pytest.approx(1.6 * 38.1, abs=1e-6)
    assert math.dist(up.a, up.b) / view.scale == pytest.approx(1.6 * 38.1, abs=1e-6)


def test_the_well_s_floor_line_is_carried_square_through_the_wood():
    """Inside edge at -44·tan 14° = -10.970; floor 236.03 below it: v = -247.000, parallel faces."""
    view, marks = face(example_design())
    (floor,) = of(marks, Line, "profile edge 1")
    for at in (floor.a, floor.b):
        assert view.to_boat(at)[1] == pytest.approx(-44 * math.tan(math.radians(14)) - 236.03, abs=1e-6)
    assert floor.pen.dash


def test_where_the_flat_land_ends():
    """Falls 14 - 3 = 11°: corner 101°, land 12·cot 50.5° = 9.892 above the floor."""
    view, marks = face(example_design())
    (land,) = of(marks, Line, "flat land")
    above = view.to_boat(land.a)[1] - (-44 * math.tan(math.radians(14)) - 236.03)
    assert above == pytest.approx(12 / math.tan(math.radians((90 + 11) / 2)), abs=1e-6)


def test_the_overlap_of_a_fouled_washer():
    """Drop 184.15: centre at v = -234.95, flat land ends at -237.108; what is below is a segment of the washer's disc.

    Height of the segment 19.05 - 2.158 = 16.892; its area R²·acos(d/R) - d·sqrt(R² - d²), d = 2.158.
    """
    view, marks = face(changed(example_design(), mounts__0__drop=184.15, mounts__0__row=1))
    rings = [mark for mark in of(marks, Path, "lower port washer:0") if mark.pen and mark.pen.role == "fouled"]
    assert len(rings) == 1
    assert rings[0].pen.weight == pytest.approx(0.58)
    ring = [view.to_boat(at) for at in rings[0].points]
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))) / 2
    floor = -44 * math.tan(math.radians(14)) - 236.03 + 12 / math.tan(math.radians(50.5))
    radius, away = 19.05, -234.95 - floor
    exact = radius**2 * math.acos(away / radius) - away * math.sqrt(radius**2 - away**2)
    assert area == pytest.approx(exact, rel=0.005)  # a disc of 72 corners is 0.13 % smaller
    assert max(v for _, v in ring) == pytest.approx(floor, abs=1e-6)
    (hatch,) = of(marks, Hatch, "lower port washer:0")
    assert hatch.kind == "cross"
    assert "finding:washer:main motor / lower port" in figures(marks)


def test_a_clear_boat_has_nothing_in_rust():
    _, marks = face(example_design())
    assert not [mark for mark in marks if getattr(getattr(mark, "pen", None), "role", "") == "fouled"]


@pytest.mark.parametrize("style", ["screen", "paper"])
@pytest.mark.parametrize("name", list(variants()))
def test_no_figure_hides_anything(name, style):
    design = variants()[name]
    _, marks = face(design, style)
    assert not overlaps(texts(marks))
    assert not struck(marks)
    assert len(figures(marks)) <= 7
    words = [text.text for text in texts(marks)]
    assert "seen from astern" in words
    assert ("PORT" in words) == (style == "paper")


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_a_demonstration_boat_shows_all_its_holes(name):
    design = demonstration(name)
    view, marks = face(design)
    for bolt in bolts(design):
        hole = of(marks, Circle, f"{bolt.name} hole:{bolt.mount_index}")[0]
        assert view.to_boat(hole.centre) == pytest.approx((bolt.u, bolt.v), abs=1e-6)
        assert 0 < hole.centre[0] < WIDE
        assert 0 < hole.centre[1] < HIGH
    assert any(part.endswith(".drop") for part in figures(marks))


def test_without_the_rake_the_outside_is_still_drawn():
    _, marks = face(changed(example_design(), transom__rake=None))
    assert of(marks, Circle, "upper port hole:0")
    assert of(marks, Path, "bracket:0")
    assert not of(marks, Line, "profile edge 1")


def test_without_the_drop_the_upper_pair_is_still_drawn():
    _, marks = face(changed(example_design(), mounts__0__drop=None))
    assert of(marks, Circle, "upper port hole:0")
    assert not of(marks, Circle, "lower port hole:0")
    assert "measure:mounts.0.drop" not in figures(marks)
    assert "measure:mounts.0.upper_at" in figures(marks)


def test_an_outline_with_an_unknown_corner_keeps_its_other_edges():
    _, marks = face(changed(example_design(), transom__outline__5__0=None))
    assert not of(marks, Path, "transom")
    assert len([mark for mark in marks if mark.part.startswith("outline edge")]) == 7


def test_each_nut_is_drawn_as_wide_as_it_is_across_its_corners():
    """A hexagon about the exit of each bolt, its corners as far from the axis as those of the nut that is checked."""
    design = example_design()
    view, marks = face(design)
    for bolt in bolts(design):
        nut = bolt.body("nut")
        (hexagon,) = of(marks, Path, f"{bolt.name} nut:0")
        assert len(hexagon.points) == 6
        for corner in hexagon.points:
            assert math.dist(view.to_boat(corner), (bolt.u, bolt.exit.v)) == pytest.approx(nut.shape.radius, abs=1e-6)


def test_the_chosen_bolt_alone_shows_its_socket():
    _, marks = face(example_design(), chosen="lower port hole:0")
    (socket,) = [mark for mark in marks if "socket" in mark.part]
    assert socket.part == "lower port socket:0"
    assert socket.radius / fit(work_rect(example_design()), WIDE, HIGH).scale == pytest.approx(13.0, abs=1e-6)  # 26 mm across
    assert (socket.pen, socket.fill) == (SOCKET, None)


def test_the_lit_dimension_has_a_wash_and_the_others_fade():
    _, marks = face(example_design(), lit="well.floor_port")
    lit = [mark for mark in texts(marks) if mark.patch == "lit"]
    assert [mark.part for mark in lit] == ["measure:well.floor_port"]
    others = [mark for mark in texts(marks) if mark.part.startswith("measure:") and mark not in lit]
    assert others
    assert {mark.role for mark in others} == {"soft"}


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("old_holes.0.down", "10 in"), ("old_holes.0.across", "4 15/16 in"), ("old_holes.0.diameter", "1/2 in"),
        ("old_holes.0.plug_diameter", "1 in"), ("well.floor_width", "23 5/8 in"), ("well.top_width", "25 3/16 in"),
        ("mounts.0.bracket.rows.row0_depth", "2 in"), ("mounts.0.bracket.rows.pitch", "3/4 in"),
        ("mounts.0.bracket.lower.slots.0.0", "8 in"), ("mounts.0.bracket.lower.slots.0.1", "11 in"),
        ("mounts.0.lower_hardware.washer.outer", "1 1/2 in"), ("mounts.0.upper_hardware.hole", "17/32 in"),
    ],
)  # fmt: skip
def test_some_dimensions_show_only_when_lit(key, said):
    assert f"measure:{key}" not in figures(face(example_design())[1])
    _, marks = face(example_design(), lit=key)
    assert [(mark.text, mark.patch) for mark in of(marks, Text, f"measure:{key}")] == [(said, "lit")]
    assert not overlaps(texts(marks))
    assert not struck(marks)


@pytest.mark.parametrize(
    ("key", "start", "end"),
    [
        ("old_holes.0.down", (125.4, 0.0), (125.4, -254.0)), ("old_holes.0.across", (0.0, -254.0), (125.4, -254.0)),
        ("well.floor_width", (-300.0, None), (300.0, None)), ("well.top_width", (-320.0, None), (320.0, None)),
        ("mounts.0.bracket.rows.row0_depth", (None, 38.1), (None, -12.7)),  # the 3rd hole from the top is at -50.8
        ("mounts.0.bracket.rows.pitch", (None, -69.85), (None, -88.9)),
        ("mounts.0.bracket.lower.slots.0.0", (None, -12.7), (None, -215.9)),  # the slot is 203.2 to 279.4 below the 1st
        ("mounts.0.bracket.lower.slots.0.1", (None, -12.7), (None, -292.1)),
    ],
)  # fmt: skip
def test_the_line_of_a_lit_length_is_as_long_as_it_says(key, start, end):
    """The strokes at the ends of its line, on the boat, within 1e-6 mm; None: on any free place."""
    view, marks = face(example_design(), lit=key)
    strokes = [mark for mark in of(marks, Line, f"measure:{key}") if math.dist(mark.a, mark.b) == pytest.approx(STROKE)]
    ends = [view.to_boat(((mark.a[0] + mark.b[0]) / 2, (mark.a[1] + mark.b[1]) / 2)) for mark in strokes]
    assert len(ends) == 2
    for true in (start, end):
        assert any(all(t is None or a == pytest.approx(t, abs=1e-6) for a, t in zip(at, true, strict=True)) for at in ends)
    assert len({round(at[0], 6) for at in ends}) == 1 or len({round(at[1], 6) for at in ends}) == 1  # upright or level


def test_a_guess_says_about_and_is_soft():
    from geometry.design.design import Reading

    guess = Reading(text="9 7/8", value=250.0, from_="centre", how="tape", state="guess", spread=None, second=None)
    _, marks = face(changed(example_design(), readings={"well.floor_port": guess}))
    labels = of(marks, Text, "measure:well.floor_port")
    assert [mark.text for mark in labels] == ["about", "9 9/32 in"]
    assert {mark.role for mark in labels} == {"soft"}


def test_figures_speak_the_person_s_unit():
    _, inches = face(example_design())
    _, metric = face(changed(example_design(), units="mm"))
    _, paper = face(example_design(), "paper")
    drop = "measure:mounts.0.drop"
    assert [mark.text for marks in (inches, metric, paper) for mark in of(marks, Text, drop)] == [
        "6 1/2 in", "165.1 mm", "6-1/2 in"
    ]  # fmt: skip


def test_text_and_lines_do_not_grow_with_the_scale():
    design = example_design()
    checked = check(design)
    near = fit(work_rect(design), 2 * WIDE, 2 * HIGH)
    far = fit(work_rect(design), WIDE, HIGH)
    assert near.scale == pytest.approx(2 * far.scale)
    for view in (near, far):
        marks = face_marks(checked, view)
        assert {text.size for text in texts(marks) if text.part == "measure:mounts.0.drop"} == {3.4}
        assert of(marks, Path, "transom")[0].pen.weight == 0.5


def test_the_view_goes_there_and_back():
    view = fit((-100.0, -300.0, 200.0, 50.0), 120.0, 90.0, 5.0)
    assert view.to_boat(view.to_paper((12.5, -77.0))) == pytest.approx((12.5, -77.0), abs=1e-9)
    assert view.to_paper((50.0, -125.0)) == pytest.approx((60.0, 45.0), abs=1e-9)  # middle on middle
    zoomed = view.zoomed(3.0, (10.0, 20.0))
    assert zoomed.to_boat((10.0, 20.0)) == pytest.approx(view.to_boat((10.0, 20.0)), abs=1e-9)
    assert zoomed.scale == pytest.approx(3 * view.scale)
    moved = view.moved(4.0, -3.0)
    x, y = view.to_paper((0.0, 0.0))
    assert moved.to_paper((0.0, 0.0)) == pytest.approx((x + 4.0, y - 3.0), abs=1e-9)
    assert view.resized(60.0, 60.0).to_paper((50.0, -125.0)) == pytest.approx((30.0, 30.0), abs=1e-9)


def test_work_and_whole():
    """Bracket to ±190, well to ±320 wide and 247 down, bracket hook 38.1 above the datum, each with 60 mm of air."""
    left, bottom, right, top = work_rect(example_design())
    assert (left, right) == pytest.approx((-380.0, 380.0))
    assert top == pytest.approx(98.1)
    assert bottom == pytest.approx(38.1 - 350.0 - 60.0)
    assert whole_rect(example_design()) == pytest.approx((-760.0, -580.0, 760.0, 120.0))


def test_rulers_read_from_the_centreline_and_the_top_edge():
    view = fit(work_rect(example_design()), WIDE, HIGH)
    top = ruler_marks(view, "in", "top")
    zero = next(text for text in texts(top) if text.text == "0")
    assert zero.at[0] == pytest.approx(view.to_paper((0.0, 0.0))[0])
    two = [text.at[0] for text in texts(top) if text.text == "2"]
    assert sorted(two) == pytest.approx([view.to_paper((u, 0.0))[0] for u in (-50.8, 50.8)])
    assert {"PORT", "STARBOARD"} < {text.text for text in texts(top)}
    assert not overlaps(texts(top))
    assert all(0 <= y <= TOP_HEIGHT for mark in top if isinstance(mark, Line) for _, y in (mark.a, mark.b))
    down = ruler_marks(view, "mm", "left")
    assert next(text for text in texts(down) if text.text == "0")
    assert not overlaps(texts(down))
    for marks, axis, size in ((top, 0, view.width), (down, 1, view.height)):
        ticks = [mark.a[axis] for mark in marks if isinstance(mark, Line)]
        assert min(ticks) >= 0.0
        assert max(ticks) <= size
    ticks = sorted(mark.a[1] for mark in down if isinstance(mark, Line))
    assert ticks[0] < ticks[1] - ticks[0]  # they go on to both ends
    assert view.height - ticks[-1] < ticks[1] - ticks[0]


def test_a_figure_without_room_is_left_out():
    taken = Sheet(Ground(), (0.0, 0.0, 40.0, 40.0))
    figure = Figure("8 in", "measure:x", 3.4)
    first = size_line((5.0, 20.0), (35.0, 20.0), figure)
    once = taken.put([first])
    assert once.put([first]) == once
    assert once.put([first, replace(first, centre=(20.0, 30.0), lines=())]).placed[-1].centre == (20.0, 30.0)
    assert not taken.has_room(Placed(figure, (1.0, 1.0), ()))
    outside = Placed(figure, (1.0, 1.0), ())  # what is lit is seen even so, but on the sheet
    assert once.put([outside, first], always=True).placed[-1] == first
    assert once.put([outside], always=True) == once


def test_a_figure_of_two_lines_is_as_wide_as_the_longer_one():
    short, long, both = (Figure(text, "m", 3.4).width for text in ("8 in", "of 7 15/16 in", "8 in\nof 7 15/16 in"))
    assert short < long == both


def test_a_dimension_has_its_figure_in_a_gap_and_strokes_at_its_ends():
    placed = size_line((0.0, 0.0), (60.0, 0.0), Figure("8 in", "m", 3.4), pen=Pen("ink", 0.18))
    left, right, *strokes = placed.lines
    assert (left.a, right.b) == ((0.0, 0.0), (60.0, 0.0))
    assert left.b[0] < placed.box[0] < placed.box[2] < right.a[0]
    assert [math.dist(stroke.a, stroke.b) for stroke in strokes] == pytest.approx([2.5, 2.5])
    slopes = [(stroke.b[1] - stroke.a[1]) / (stroke.b[0] - stroke.a[0]) for stroke in strokes]
    assert slopes == pytest.approx([1.0, 1.0])


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_drop_is_read_at_the_bolts_next_to_it(units):
    """Its extension lines end short of the motor's middle: else a line without a figure would run from side to side.

    The smallest face shows each drop in millimetres, too. Twins 26 in apart need a wider one than a single motor.
    """
    small, twins = (starts()[0].design, (120.0, 100.0)), (demonstration("twin-motor-launch"), (150.0, 125.0))
    for start, smallest in (small, twins):
        design = set_units(start, units)
        for width, height in ((163.0, 136.0), smallest, (260.0, 160.0)):
            view = fit(work_rect(design), width, height)
            middle = view.to_paper((design.mounts[0].offset or 0.0, 0.0))[0]
            drops = of(face_marks(check(design), view), Line, "measure:mounts.0.drop")
            assert drops
            assert all((line.a[0] - middle) * (line.b[0] - middle) > 0 for line in drops), (start.name, width, height)


def test_the_offset_is_read_over_the_bracket_or_under_it():
    """A motor 160 mm to starboard: a level line from the centreline to its middle, 6 mm of paper off the bracket or more.

    Its extension line comes from the bracket's upper end or lower end, so that nothing crosses the bracket.
    """
    checked = check(changed(example_design(), mounts__0__offset=160.0))
    view = fit(work_rect(checked.design), WIDE, HIGH)
    sheet = Sheet(Ground(), (1.0, 1.0, view.width - 1.0, view.height - 1.0))
    # The example's bracket is 350 high. Its hook is 50.8 + 2·19.05 above the upper bolts, which are 50.8 below the datum.
    high, low = (view.to_paper((0.0, v))[1] for v in (38.1, 38.1 - 350.0))
    ends = [view.to_paper((u, 0.0))[0] for u in (0.0, 160.0)]
    over: set[float] = set()
    under: set[float] = set()
    for placed in _offset(Scene(checked, view, ViewFocus(), "screen"), sheet):
        first, second, *_, leader = placed.lines
        assert (first.a[0], second.b[0]) == pytest.approx(ends)
        assert first.a[1] == second.b[1]
        assert (leader.a[0], leader.b[0]) == pytest.approx((ends[1], ends[1]))
        height = first.a[1]
        above = height > high
        (over if above else under).add(round(height - high if above else low - height, 6))
        start, end = leader.a[1] - (high if above else low), leader.b[1] - height
        assert (start, end) == pytest.approx((1.0, 1.5) if above else (-1.0, -1.5))
    assert over == {6.0, 8.0, 13.0}
    assert under == {6.0, 11.0}


def test_no_edge_of_the_transom_strikes_a_motor_s_name_through():
    design = additions.add_kicker(additions.add_twin(demonstration("shallow-well-skiff"), 0), 0)
    view = fit(work_rect(design), WIDE, HIGH)
    marks = face_marks(check(design), view)
    edges = Ground().plus(mark for mark in marks if isinstance(mark, Line) and mark.part.startswith("outline edge"))
    names = [mark for mark in texts(marks) if mark.part.startswith("bracket:")]
    assert len(names) == 3
    for name in names:
        (left, bottom), (right, top) = map(min, zip(*text_box(name), strict=True)), map(max, zip(*text_box(name), strict=True))
        assert edges.is_free_box(left, bottom, right, top, gap=0.2), name.text


def test_the_names_of_motors_that_overlap_are_a_line_apart() -> None:
    """Which wrong program this catches: one that writes "port motor" and "starboard motor" over each other."""
    twins = demonstration("twin-motor-launch")
    near = tuple(replace(mount, offset=offset) for mount, offset in zip(twins.mounts, (-100.0, 100.0), strict=True))
    design = replace(twins, mounts=near)
    marks = face_marks(check(design), fit(whole_rect(design), 140.0, 120.0))
    names = [mark for mark in marks if isinstance(mark, Text) and mark.text in ("port motor", "starboard motor")]
    assert len(names) == 2
    assert abs(names[0].at[1] - names[1].at[1]) >= 1.3 * names[0].size


def test_an_extension_line_starts_on_the_dimension_s_side_of_its_hole():
    """No level line of a hole's depth or drop runs through the hole that it comes from."""
    view, marks = face(example_design())
    lines = [mark for key in ("upper_at", "drop") for mark in of(marks, Line, f"measure:mounts.0.{key}")]
    holes = [(u, v) for v, half in ((-50.8, 163.5125), (-215.9, 125.4125)) for u in (-half, half)]
    level = [(view.to_boat(mark.a), view.to_boat(mark.b)) for mark in lines if abs(mark.a[1] - mark.b[1]) < 1e-9]
    assert len(level) >= 2
    for a, b in level:
        near = [u for u, v in holes if abs(v - a[1]) < 1e-6]
        assert not [u for u in near if min(a[0], b[0]) - 1e-6 <= u <= max(a[0], b[0]) + 1e-6]


def test_what_goes_under_the_lines_is_over_the_wood_and_under_everything_else():
    """The zone's wash hides no hole, no washer and no bracket, and the wood does not hide it."""
    design = example_design()
    wash = Path(((10.0, 10.0), (20.0, 10.0), (20.0, 20.0)), True, None, "new wash", "zone")
    marks = face_marks(check(design), fit(work_rect(design), WIDE, HIGH), under=(wash,))
    at = marks.index(wash)
    grounds = [number for number, mark in enumerate(marks) if isinstance(mark, Path) and mark.fill in ("wood", "well")]
    lines = [number for number, mark in enumerate(marks) if mark.part.startswith(("lower port", "bracket", "centreline"))]
    assert max(grounds) < at < min(lines)


def test_a_washer_over_an_opening_is_hatched_where_they_overlap():
    """Circles of 25.4 and 19.05 mm, 40 apart, share 20.95 to 25.4 mm to starboard of the tube's middle; within 0.3 mm."""
    design = beside_lower_starboard(40.0)
    view, marks = face(design)
    pieces = [mark for mark in marks if isinstance(mark, Hatch) and "lower starboard" in mark.part]
    assert len(pieces) == 1
    tube = (design.outside_fittings[0].outline[0][0] or 0.0) + NEXT_TO
    across = [(x - view.to_paper((tube, 0.0))[0]) / view.scale for x, _ in pieces[0].outline]
    assert (min(across), max(across)) == pytest.approx((40.0 - 19.05, 25.4), abs=0.3)
    assert not [mark for mark in face(beside_lower_starboard(44.5))[1] if isinstance(mark, Hatch) and "lower" in mark.part]


def test_the_clearance_of_a_washer_is_next_to_its_gap():
    """The worked example's washer clears the land by 2.16 mm: its line is upright, as high as the gap, level with it.

    Every place to choose from is to the side of the washer, and its figure no further from its line than it is wide.
    """
    design = example_design()
    view = fit(work_rect(design), WIDE, HIGH)
    scene = Scene(check(design), view, ViewFocus(), "screen")
    bolt = next(bolt for bolt in bolts(design) if bolt.name == "lower port")
    figure = Figure("1/16 in", "gap", 3.0, False, "ink", True, False, "well")
    value = sure(sure(scene.checked.of("washer", bolt.at)).value)
    places = list(_gap(scene, bolt, value, figure))
    assert len(places) == 8
    foot = scene.at(bolt.exit.u, (bolt.exit.w - bolt.washer_disc.radius) * bolt.faces.cos_taper)
    for placed in places:
        uprights = [line for line in placed.lines if abs(line.a[0] - line.b[0]) < 1e-9 and abs(line.a[1] - line.b[1]) > 1e-9]
        assert uprights
        across = uprights[0].a[0]
        assert abs(across - foot[0]) > bolt.washer_disc.radius * view.scale
        assert abs(placed.centre[0] - across) < figure.width + 3.0
        assert foot[1] - value * view.scale - 6.0 < placed.centre[1] < foot[1] + 6.0
