"""The picture of a reading: the tool is where it is to be laid, its figure is on the paper, and every reading has one."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from app.card.one_press_group import parts_listed
from assets import design_names
from geometry.edits.edits import set_units
from geometry.edits.starting_shapes import blank, starts
from geometry.readings.measures import measures, put_path
from templates_out.drawing.labels import apart, thing
from templates_out.drawing.marks import Arc, Circle, Line, Path, Text
from templates_out.drawing.transforms import text_box
from templates_out.pictures import tools_in_use as tools
from templates_out.pictures.group_pictures import list_picture, pattern_picture
from templates_out.pictures.reading_picture import reading_picture
from templates_out.pictures.usual_sizes import sketched
from tests.designs import changed, example_design, sure
from tests.templates_out.viewing import demonstration, overlaps

WIDE, HIGH = 71.0, 31.0  # mm of paper, as on the card


@pytest.mark.parametrize("key", ["well.floor_port", "well.floor_starboard"])
def test_the_tape_goes_from_the_inside_top_edge_to_the_floor(key: str) -> None:
    """Without a rounded corner the floor's line begins where the tape ends."""
    design = put_path(starts()[0].design, "well.fillet_radius", 0.0)
    marks = reading_picture(design, key, WIDE, HIGH)
    blade = next(mark for mark in marks if isinstance(mark, Line) and mark.part == tools.PART)
    section = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "transom" and not mark.closed)
    floor = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "well floor")
    assert math.dist(blade.a, section.points[-1]) < 1e-6
    assert math.dist(blade.b, floor.points[0]) < 1e-6


def test_a_deeper_floor_moves_the_picture() -> None:
    """The share of the tape in the picture is that of the depth in the boat: the thickness is the same in both."""
    lengths = []
    for depth in (-200.0, -260.0):
        design = starts()[0].design
        for corner in (1, 2):
            design = put_path(design, f"well.profile.{corner}.1", depth)
        marks = reading_picture(design, "well.floor_port", WIDE, HIGH)
        blade = next(mark for mark in marks if isinstance(mark, Line) and mark.part == tools.PART)
        section = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "transom" and not mark.closed)
        _, outer, inner = section.points
        lengths.append(math.dist(blade.a, blade.b) / math.dist(outer, inner))
    assert lengths[1] / lengths[0] == pytest.approx(260 / 200, rel=1e-6)


def test_two_distances_of_the_bracket_have_the_tape_between_their_places() -> None:
    """The pitch is 3/4 in and the slot's highest place 8 in below the top hole: 32 to 3, by the same scale of the bracket."""
    design, lengths = starts()[0].design, []
    for what in ("rows.pitch", "lower.slots.0.0"):
        marks = reading_picture(design, f"mounts.0.bracket.{what}", WIDE, HIGH)
        blade = next(mark for mark in marks if isinstance(mark, Line) and mark.part == tools.PART)
        lengths.append(math.dist(blade.a, blade.b))
    assert lengths[1] / lengths[0] == pytest.approx(8 / 0.75, rel=1e-6)


@pytest.mark.parametrize("name", ["blank", *(f"start {at}" for at in range(len(starts()))), *design_names()])
def test_every_reading_has_a_picture_with_its_figure_on_the_paper(name: str) -> None:
    if name == "blank":
        design = set_units(blank(), "mm")
    elif name.startswith("start "):
        design = starts("mm" if name.endswith("1") else "in")[int(name[-1])].design
    else:
        design = demonstration(name)
    for row in measures(design):
        marks = reading_picture(design, row.key, WIDE, HIGH, figure="12 15/16 in")
        assert marks, row.key
        for mark in marks:
            if isinstance(mark, Text) and mark.part == "figure":
                assert 0 < mark.at[0] < WIDE, row.key
                assert 0 < mark.at[1] < HIGH, row.key


def test_the_pattern_has_its_three_distances() -> None:
    marks = pattern_picture(starts()[0].design, 0, WIDE, HIGH)
    assert {mark.text for mark in marks if isinstance(mark, Text)} == {"12 7/8", "9 7/8", "8"}
    assert sum(isinstance(mark, Circle) and mark.pen == tools.BODY for mark in marks) == 4
    assert pattern_picture(starts("mm")[0].design, 0, WIDE, HIGH)


def test_the_parts_are_listed_once_where_both_pairs_are_alike() -> None:
    design = starts()[0].design
    lines = parts_listed(design, 0)
    assert [name for name, _ in lines] == ["inside washers", "outside washers", "socket"]
    assert lines[0][1] == "1 1/2 in across, 5/64 in thick"
    other = parts_listed(put_path(design, "mounts.0.upper_hardware.washer.outer", 50.8), 0)
    assert ("upper inside washers", "2 in across, 5/64 in thick") in other
    assert len(other) == 2 * len(lines)
    texts = [mark for mark in list_picture(other, WIDE, HIGH) if isinstance(mark, Text)]
    assert min(mark.at[1] for mark in texts) > 0
    assert max(mark.at[1] for mark in texts) < HIGH


@pytest.mark.parametrize("wide", [58.0, 66.0, WIDE])
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_names_and_sizes_of_parts_keep_off_each_other_in_a_narrow_panel(unit, wide) -> None:
    """At 1024 px the panel's picture is 66 mm wide; it was too narrow for a washer in millimetres."""
    lines = parts_listed(starts(unit)[0].design, 0)
    texts = [mark for mark in list_picture(lines, wide, 20.0) if isinstance(mark, Text)]
    assert {mark.text for mark in texts} >= {size for _, size in lines}
    assert not overlaps(texts)
    for corners in map(text_box, texts):
        assert all(0 <= x <= wide and 0 <= y <= 20 for x, y in corners)


def test_a_size_is_at_the_right_of_its_name_where_there_is_room_and_below_it_in_a_narrow_panel() -> None:
    lines = (("inside washers", "1 1/2 in across, 5/64 in thick"), ("socket", "1 in"))
    for wide, stacked in ((90.0, False), (36.0, True)):
        at = {mark.text: mark.at for mark in list_picture(lines, wide, 24.0) if isinstance(mark, Text)}
        for name, size in lines:
            (x, y), (right, below) = at[name.capitalize()], at[size]
            assert (below < y, right < x + 5.0) == ((True, True) if stacked else (False, False))
            assert stacked or below == y


@pytest.mark.parametrize("key", [
    "well.second.outside", "well.second.centre", "well.second.washer_port", "well.second.washer",
    "well.second.washer_across", "mounts.0.second.pilot_lower_port", "mounts.0.second.pilot_lower_starboard",
])
def test_second_ways_and_pilots_have_their_tools_and_a_figure(key):
    """A straightedge, a washer where it rocks, a rule from the pilot: the tool is drawn, and the figure that is typed."""
    marks = reading_picture(example_design(), key, 90.0, 60.0, figure="3 1/8 in")
    assert [mark for mark in marks if mark.part == "tool"]
    assert "3 1/8 in" in [mark.text for mark in marks if isinstance(mark, Text)]


def test_the_tape_along_the_floor_is_3_mm_above_it():
    """From the transom to the well's front. The scale is that of the level top, 3 % longer than the thickness: within 5 %."""
    design = put_path(starts()[0].design, "well.fillet_radius", 0.0)
    marks = reading_picture(design, "well.length", WIDE, HIGH)
    blade = max((mark for mark in marks if isinstance(mark, Line) and mark.part == tools.PART and mark.pen == tools.BLADE),
                key=lambda mark: math.dist(mark.a, mark.b))  # fmt: skip
    section = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "transom" and not mark.closed)
    floor = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "well floor")
    _, outer, inner = section.points
    scale = math.dist(outer, inner) / sure(design.transom.thickness.top)
    assert math.dist(blade.a, floor.points[0]) == pytest.approx(3.0 * scale, rel=0.05)
    assert blade.a[1] > floor.points[0][1]
    assert math.dist(blade.a, blade.b) > 0.9 * sure(sure(design.well).length) * scale


def test_a_washer_that_rocks_is_drawn_on_the_flat_land_and_the_rule_ends_at_its_middle():
    """On paper the rule is as long as the distance. The hole, 44 mm through the wood, is next to it in the same scale.

    The hole comes out 215.9 mm down, or 205.9. The flat land is at 237.108 (247.000 less 12 cot 50.5°), the washer's middle
    19.05 above it. So the rule is 2.158 mm long, or 12.158, within 0.09.
    """
    for drop, length in ((165.1, 2.158), (155.1, 12.158)):
        marks = reading_picture(changed(example_design(), mounts__0__drop=drop), "mounts.0.second.pilot_lower_port", 90.0, 60.0)
        rule = max((m for m in marks if isinstance(m, Line) and m.part == "tool" and m.pen.weight == 1.0),
                   key=lambda m: math.dist(m.a, m.b))  # fmt: skip
        hole = next(m for m in marks if isinstance(m, Line) and m.part == "tool" and m.pen == tools.BODY)
        assert math.dist(rule.a, rule.b) / math.dist(hole.a, hole.b) == pytest.approx(length / 44.0, abs=0.002)


@pytest.mark.parametrize("scale", [60.0, 240.0])
def test_a_pilot_is_drawn_as_wide_all_the_way(scale: float) -> None:
    """Its two sides run side by side through the wood: nobody shall see a hole that widens."""
    marks = reading_picture(example_design(), "mounts.0.second.pilot_lower_port", 1.5 * scale, scale)
    first, other = (mark for mark in marks if isinstance(mark, Line) and mark.part == tools.PART and mark.pen == tools.BODY)
    ways = [(mark.b[0] - mark.a[0], mark.b[1] - mark.a[1]) for mark in (first, other)]
    assert ways[0] == pytest.approx(ways[1], abs=1e-6)
    assert math.dist(first.a, other.a) >= 0.6


@pytest.mark.parametrize("cut", ["square", "level", 20.0, -5.0])
def test_a_square_has_one_arm_down_the_outer_face_and_one_forward_over_the_edge(cut: str | float) -> None:
    marks = reading_picture(changed(example_design(), transom__top_cut=cut), "transom.top_cut", WIDE, HIGH)
    down, over = (mark.points for mark in marks if isinstance(mark, Path) and mark.part == tools.PART)
    (x, y), (foot_x, foot_y) = down[:2]
    assert foot_y < y - 2.0
    (a, b) = over[:2]
    assert b[0] > a[0] + 2.0
    between = (foot_x - x) * (b[0] - a[0]) + (foot_y - y) * (b[1] - a[1])
    assert between == pytest.approx(0.0, abs=1e-6)
    outer = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "transom" and not mark.closed).points[:2]
    for at in ((x, y), (foot_x, foot_y)):
        (ax, ay), (bx, by) = outer
        off = ((bx - ax) * (at[1] - ay) - (by - ay) * (at[0] - ax)) / math.dist(*outer)
        assert off == pytest.approx(0.0, abs=1e-6)


def test_calipers_have_a_jaw_at_each_end_of_the_size_and_a_beam_across():
    """10 mm apart, the beam 7 mm up: each jaw goes from 2.4 mm past its end to the beam, which goes past both."""
    jaws = [(mark.a, mark.b) for mark in tools.calipers((0.0, 0.0), (10.0, 0.0), (0.0, 2.0), 7.0)]
    assert jaws == [((0.0, -2.4), (0.0, 7.0)), ((10.0, -2.4), (10.0, 7.0)), ((-0.5, 7.0), (14.0, 7.0))]
    upright = [(mark.a, mark.b) for mark in tools.calipers((0.0, 0.0), (0.0, 10.0), (2.0, 0.0), 7.0)]
    assert upright == [((-2.4, 0.0), (7.0, 0.0)), ((-2.4, 10.0), (7.0, 10.0)), ((7.0, -0.5), (7.0, 14.0))]


@pytest.mark.parametrize("name", design_names())
def test_a_picture_puts_usual_sizes_only_where_nothing_is_known(name: str) -> None:
    design = demonstration(name)
    moved = tuple(replace(mount, offset=17.0 + number) for number, mount in enumerate(design.mounts))
    moved_design = replace(design, mounts=moved)
    assert sketched(moved_design) == moved_design


@pytest.mark.parametrize(("first", "second", "low", "high"), [
    (30.0, 100.0, 30.0, 100.0), (100.0, 30.0, 30.0, 100.0), (350.0, 20.0, 350.0, 380.0), (20.0, 350.0, -10.0, 20.0),
])  # fmt: skip
def test_the_arc_of_an_angle_goes_the_short_way_round(first: float, second: float, low: float, high: float) -> None:
    (arc,) = tools.angle((1.0, 2.0), 5.0, first, second)
    assert isinstance(arc, Arc)
    assert (arc.centre, arc.radius) == ((1.0, 2.0), 5.0)
    assert (arc.start, arc.end) == pytest.approx((low, high))


@pytest.mark.parametrize("name", ["example", "twin-motor-launch"])
@pytest.mark.parametrize("size", [(37.0, 26.0), (WIDE, HIGH)], ids=["on paper", "in the window"])
def test_no_heavy_line_crosses_the_figure_that_is_not_typed_yet(name: str, size: tuple[float, float]) -> None:
    """A tape at a picture's edge has its figure at the other side; while it is typed, the figure doesn't jump."""
    design = example_design() if name == "example" else demonstration(name)
    for row in measures(design):
        marks = reading_picture(design, row.key, *size)
        lines = [mark for mark in marks if isinstance(mark, Line) and mark.pen.weight >= 0.35]
        for text in (mark for mark in marks if isinstance(mark, Text) and mark.text == "?"):
            box = thing("text", text_box(text))
            assert all(apart(box, thing("line", (line.a, line.b))) > 0.0 for line in lines), row.key
            (typed,) = (mark for mark in reading_picture(design, row.key, *size, figure="8") if mark.part == "figure")
            assert isinstance(typed, Text)
            assert math.dist(typed.at, text.at) < 1.0, row.key


@pytest.mark.parametrize("hooked", [True, False])
@pytest.mark.parametrize(("a", "b"), [((10.0, 50.0), (60.0, 50.0)), ((50.0, 10.0), (50.0, 45.0)), ((5.0, 7.0), (35.0, 47.0))])
def test_a_tape_and_its_hook_are_within_5_mm_of_the_way_that_it_measures(a, b, hooked) -> None:
    """Blade, ticks, ends and hook; the hook is at the first end."""
    for mark in tools.tape(a, b, 0.5, "in", hooked=hooked):
        assert isinstance(mark, Line)
        for end in (mark.a, mark.b):
            along = ((end[0] - a[0]) * (b[0] - a[0]) + (end[1] - a[1]) * (b[1] - a[1])) / math.dist(a, b)
            aside = abs((end[0] - a[0]) * (b[1] - a[1]) - (end[1] - a[1]) * (b[0] - a[0])) / math.dist(a, b)
            assert aside < 5.0
            assert -1e-6 <= along <= math.dist(a, b) + 1e-6
