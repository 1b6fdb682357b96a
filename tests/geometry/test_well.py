"""The free space inside: sections, rounded corners and blocks, against heights calculated by hand (derived from geometry)."""

from __future__ import annotations

import gc
import math

import pytest
from msgspec.structs import replace

from geometry.design.boat import Block
from geometry.design.corner_names import corner_name
from geometry.design.design import Reading
from geometry.solid.clearances import body_clearance
from geometry.solid.discs import Disc
from geometry.solid.faces import Exit, Unmeasured
from geometry.solid.placed_bolts import Body
from geometry.solid.section import Section
from geometry.solid.well import space
from tests.designs import IN, changed, example_design

CLOSE = 1e-6  # [mm]
FLOOR = -200.0
GUESS = Reading(text="", value=None, from_="centre", how="tape", state="guess", spread=None, second=None)


def inside(corner: float, radius: float, *, profile=((-300, 0), (-300, FLOOR), (300, FLOOR), (300, 0)), blocks=(), guesses=()):
    """Return the space of a well whose floor makes ``corner`` degrees with the inner face, measured from the datum."""
    rake, rise = (corner - 90, 0.0) if corner >= 90 else (0.0, 90 - corner)
    return space(changed(
        example_design(), readings=dict.fromkeys(guesses, GUESS), transom__rake=rake, well__floor_rise=rise,
        well__fillet_radius=radius, well__well_from="datum", well__profile=profile, inside_blocks=blocks,
    ))  # fmt: skip


def height(within, n: float) -> float:
    """Return how high what is in the way is over the profile's floor line, in the middle of the floor [mm]."""
    return 100.0 - float(within.section(n).signed_distance((0.0, FLOOR + 100.0)))


def leaves(u: float, w: float, lean: float = 0.0) -> Exit:
    return Exit(u, w, w, 44.0, 44.0, math.radians(lean))


@pytest.mark.parametrize(
    ("corner", "radius", "n", "inches"),
    [(104, 0.5, 0.0, 0.3906), (104, 0.5, 0.125, 0.0599), (104, 0.5, 0.25, -0.0424), (104, 0.5, 0.379, -0.0945),
     (90, 0.5, 0.0, 0.5), (90, 0.5, 0.25, 0.0670), (97, 1.0, 0.0, 0.885), (102, 1.0, 0.0, 0.810), (104, 1.0, 0.0, 0.781)],
)  # fmt: skip
def test_heights_of_the_rounded_corner(corner, radius, n, inches):
    """L = r·cot(corner/2); over the rounded corner L - sqrt(r² - (r - n)²); from n = L·sin(corner) on n·cot(corner)."""
    assert height(inside(corner, radius * IN), n * IN) / IN == pytest.approx(inches, abs=0.0006)


@pytest.mark.parametrize("corner", [80, 90, 104])
def test_both_formulas_meet_where_the_rounded_corner_ends(corner):
    within = inside(corner, 12.7)
    end = within.edges[2].ends
    tangent = end / math.tan(math.radians(corner))
    for n in (end - 1e-7, end, end + 1e-7):
        assert height(within, n) == pytest.approx(tangent, abs=1e-5)
    assert end == pytest.approx(12.7 / math.tan(math.radians(corner / 2)) * math.sin(math.radians(corner)), abs=CLOSE)


@pytest.mark.parametrize(
    ("radius", "corner", "full", "cut", "socket", "on_plate"),
    [(0.25, 104, 1.070, 0.780, 0.624, 0.813), (0.50, 104, 1.266, 0.976, 0.705, 0.833), (0.75, 104, 1.461, 1.171, 0.816, 0.902),
     (1.00, 104, 1.656, 1.366, 0.942, 0.995), (0.50, 90, 1.375, 1.085, 0.814, 0.942), (0.75, 97, 1.539, 1.249, 0.894, 0.980),
     (0.50, 86, 1.411, 1.121, 0.850, 0.978)],
)  # fmt: skip
def test_the_height_that_a_hole_needs_above_the_virtual_corner(radius, corner, full, cut, socket, on_plate):
    """A hole that high leaves just 1/8 in: washer 1-1/2 whole, cut at 0.46, socket 1.04 from 1/8 out, washer on a 1/4 backing
    plate.

    Whole: L + 0.75 + 0.125. Cut: L + 0.46 + 0.125. Socket: highest of the rounded corner from 0.125 on, + 0.52 + 0.125.
    """
    within = inside(corner, radius * IN)
    bodies = {
        full: Body("washer", 0.0, 0.125 * IN, Disc(0.75 * IN)),
        cut: Body("washer", 0.0, 0.125 * IN, Disc(0.75 * IN, 0.46 * IN)),
        socket: Body("socket", 0.125 * IN, 2.0 * IN, Disc(0.52 * IN)),
        on_plate: Body("washer", 0.25 * IN, 0.375 * IN, Disc(0.75 * IN)),
    }
    for needed, body in bodies.items():
        room = body_clearance(within, leaves(0.0, FLOOR + needed * IN), body)
        assert room / IN == pytest.approx(0.125, abs=0.0011)


def test_a_rising_floor_meets_the_far_end_of_a_long_socket():
    """Corner 86°: at 100 mm out the floor is 100·cot 86° = 6.9927 higher; a socket 30 up, R 13, has 10.0073."""
    room = body_clearance(inside(86, 0.0), leaves(0.0, FLOOR + 30), Body("socket", 3.0, 100.0, Disc(13.0)))
    assert room == pytest.approx(30 - 100 / math.tan(math.radians(86)) - 13, abs=CLOSE)
    assert room == pytest.approx(10.0073, abs=0.0001)


def test_walls_have_rounded_corners_too():
    """An upright wall recedes by nothing: its corner has 90°, so the land begins r = 12 off it: 300 - 200 - 12 - 19 = 69."""
    room = body_clearance(inside(104, 12.0), leaves(200.0, -100.0), Body("washer", 0.0, 3.0, Disc(19.0)))
    assert room == pytest.approx(69.0, abs=CLOSE)


def test_the_profile_runs_on_upward_from_its_ends():
    """No well is shallower than its walls: above its last corner the side goes on, parallel to w."""
    room = body_clearance(inside(90, 0.0), leaves(250.0, 500.0), Body("nut", 3.0, 10.0, Disc(10.0)))
    assert room == pytest.approx(40.0, abs=CLOSE)


def test_a_corner_that_points_into_the_well_is_met_at_its_point():
    """A step from -200 up to -160 at u = 0: from (-30, -130) its corner is hypot(30, 30) = 42.426 away; less R 12.4264 = 30."""
    step = ((-300, 0), (-300, -200), (0, -200), (0, -160), (300, -160), (300, 0))
    room = body_clearance(inside(90, 0.0, profile=step), leaves(-30.0, -130.0), Body("nut", 3.0, 10.0, Disc(12.4264)))
    assert room == pytest.approx(math.hypot(30, 30) - 12.4264, abs=CLOSE)


def test_the_strip_is_mitred_at_a_corner_that_points_into_the_well():
    """Both strips are r = 10 wide on the face: the mitre's point is at (-10, -150); from (-40, -110): hypot(30, 40) = 50."""
    step = ((-300, 0), (-300, -200), (0, -200), (0, -160), (300, -160), (300, 0))
    within = inside(90, 10.0, profile=step)
    assert within.section(0.0).signed_distance((-40.0, -110.0)) == pytest.approx(50.0, abs=CLOSE)


def block(*outline: tuple[float, float], out: float | None) -> Block:
    return Block(name="knee", outline=outline, stands_out=out)


SQUARE = ((20.0, -120.0), (60.0, -120.0), (60.0, -80.0), (20.0, -80.0))


@pytest.mark.parametrize(("out", "room"), [(2.999, 87.0), (3.0, 87.0), (3.001, 7.0), (50.0, 7.0), (None, 7.0)])
def test_a_block_counts_as_far_as_it_sticks_out(out, room):
    """A nut from 3 to 10 in front of the face, R 13, 20 mm from a knee and 100 from the floor: what ends at 3 is under it."""
    within = inside(90, 0.0, blocks=(block(*SQUARE, out=out),))
    nut = Body("nut", 3.0, 10.0, Disc(13.0))
    assert body_clearance(within, leaves(0.0, -100.0), nut) == pytest.approx(room, abs=CLOSE)


def test_a_block_that_ends_within_a_body_counts_up_to_its_end():
    within = inside(90, 0.0, blocks=(block(*SQUARE, out=10.0),))
    nut = Body("nut", 3.0, 10.0, Disc(13.0))
    assert body_clearance(within, leaves(0.0, -100.0), nut) == pytest.approx(7.0, abs=CLOSE)


def test_inside_a_block_the_clearance_is_how_far_out_the_axis_would_have_to_go():
    """In the middle of a 40 mm knee: 20 mm to its side, and R 13 more."""
    within = inside(90, 0.0, blocks=(block(*SQUARE, out=None),))
    assert body_clearance(within, leaves(40.0, -100.0), Body("nut", 3.0, 10.0, Disc(13.0))) == pytest.approx(-33.0, abs=CLOSE)


def test_below_the_floor_it_is_negative_all_the_way_down():
    within = inside(90, 0.0)
    for down in (0.0, 1.0, 30.0, 150.0):
        room = body_clearance(within, leaves(0.0, FLOOR - down), Body("nut", 3.0, 10.0, Disc(13.0)))
        assert room == pytest.approx(-down - 13.0, abs=CLOSE)


@pytest.mark.parametrize("floor", [((140, -240),), ((0, -240), (0, -200), (140, -200))])
def test_a_rounded_corner_too_large_for_its_well_leaves_nothing_free(floor):
    """Radius 290, a guess, in a well 300 wide: fouled, by a length that still means something (less than radius and well)."""
    within = inside(90, 290.0, profile=((-150, 0), (-140, -240), *floor, (150, 0)), guesses=("well.fillet_radius",))
    for n in (0.0, 20.0):
        assert -700 < within.section(n).signed_distance((0.0, -100.0)) < 0


def test_without_a_well_only_blocks_limit_anything():
    design = replace(example_design(), well=None, inside_blocks=())
    assert body_clearance(space(design), leaves(0.0, -900.0), Body("nut", 3.0, 10.0, Disc(13.0))) is None
    lip = replace(design, inside_blocks=(block((-500, -30), (500, -30), (500, 0), (-500, 0), out=40.0),))
    # A lip from the inside top edge (at -10.970432) down 30: its underside is at w = -40.970432.
    room = body_clearance(space(lip), leaves(0.0, -70.970432), Body("nut", 3.0, 10.0, Disc(13.0)))
    assert room == pytest.approx(17.0, abs=CLOSE)
    assert body_clearance(space(lip), leaves(0.0, -70.0), Body("socket", 45.0, 90.0, Disc(13.0))) is None


@pytest.mark.parametrize(
    ("gone", "key"),
    [("well__floor_rise", "well.floor_rise"), ("well__fillet_radius", "well.fillet_radius"), ("transom__rake", "transom.rake"),
     ("well__profile__1__1", "well.profile"), ("inside_blocks__0__outline__2__0", "inside_blocks.0.outline"),
     ("transom__top_cut", "transom.top_cut")],
)  # fmt: skip
def test_what_is_not_measured_is_named(gone, key):
    with pytest.raises(Unmeasured) as missing:
        space(changed(example_design(), **{gone: None}))
    assert missing.value.key == key


@pytest.mark.parametrize(("depths", "name"), [
    ((-200.0, -230.0, -210.0), "Deepest point of the floor"), ((-230.0, -200.0, -210.0), "Well corner 3"),
    ((-230.0, -230.0, -230.0), "Well corner 3"),
])  # fmt: skip
def test_a_middle_corner_is_the_deepest_point_only_where_it_is(depths, name):
    """A well of five corners: its tops, two floor corners and one between them."""
    port, middle, starboard = depths
    profile = ((-320.0, 0.0), (-300.0, port), (0.0, middle), (300.0, starboard), (320.0, 0.0))
    assert corner_name(profile, 2) == name
    assert [corner_name(profile, index) for index in (0, 4)] == ["Well's top at port", "Well's top at starboard"]


def test_sections_of_many_distances_are_not_all_kept():
    """A day of drags asks each well for some thousand distances. All of them would take hundreds of MB."""
    wells = [space(changed(example_design(), well__floor_rise=rise)) for rise in (5.0, 6.0, 7.0)]
    for well in wells:
        for number in range(1500):
            well.section(number / 100)
    gc.collect()
    assert sum(isinstance(each, Section) for each in gc.get_objects()) < 2500
    assert wells[0].section(0.25) == wells[0].section(0.25)
