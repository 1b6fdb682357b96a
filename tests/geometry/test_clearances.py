"""Clearances where several things meet: leaning bolts, ends of blocks, mitres, cut washers in corners, neighbours."""

from __future__ import annotations

import math
import random

import pytest
import shapely
from msgspec.structs import replace

from geometry.design.boat import Block
from geometry.design.design import Reading
from geometry.design.patterns import backing_plate
from geometry.judge.check import check
from geometry.solid.clearances import axes_gap, body_clearance, rim_clearance, seat_clearance
from geometry.solid.discs import Disc
from geometry.solid.faces import Exit
from geometry.solid.nearest_obstacle import _rooms, nearest_to_ring
from geometry.solid.outline import inner_rim
from geometry.solid.placed_bolts import Body, Bolt, bolts
from geometry.solid.well import space
from tests.designs import changed, clamp_on_mount, example_design, random_design, sure

CLOSE = 1e-6  # [mm]
NUT = Body("nut", 3.0, 20.0, Disc(10.0))
STEP = ((-300, 0), (-300, -200), (0, -200), (0, -160), (300, -160), (300, 0))


def inside(radius: float = 0.0, profile=((-300, 0), (-300, -200), (300, -200), (300, 0)), blocks=(), rise=0.0):
    """Return a well square to its transom, which is plumb: sections are the profile less the rounded corner."""
    return space(changed(
        example_design(), transom__rake=0.0, well__floor_rise=rise, well__fillet_radius=radius, well__well_from="datum",
        well__profile=profile, inside_blocks=blocks,
    ))  # fmt: skip


def leaves(u: float, w: float, lean: float = 0.0) -> Exit:
    return Exit(u, w, w, 44.0, 44.0, math.radians(lean))


@pytest.mark.parametrize(
    ("u", "w", "apart"),
    [(-40.0, -110.0, 50.0), (-5.0, -110.0, 40.0), (-30.0, -152.0, 20.0), (40.0, -110.0, 40.0), (-60.0, -170.0, 20.0)],
)
def test_both_strips_run_on_to_the_mitre(u, w, apart):
    """Corner radius 10 on the face: the step's corner (0, -160) is drawn out to (-10, -150), its sides to u = -10 and w =
    -150."""
    assert inside(10.0, STEP).section(0.0).signed_distance((u, w)) == pytest.approx(apart, abs=CLOSE)


@pytest.mark.parametrize(("u", "w", "deep"), [(-5.0, -170.0, 5.0), (-4.0, -152.0, 2.0), (50.0, -180.0, 30.0)])
def test_how_deep_a_point_is_in_a_strip_or_in_the_floor(u, w, deep):
    assert inside(10.0, STEP).section(0.0).signed_distance((u, w)) == pytest.approx(-deep, abs=CLOSE)


def test_a_rounded_corner_narrows_away_further_out():
    """Radius 10, 90°: at n = 4 the strip is 10 - sqrt(2·10·4 - 16) = 2 wide, from n = 10 on nothing is left of it."""
    within = inside(10.0)
    for n, strip in ((0.0, 10.0), (4.0, 2.0), (10.0, 0.0), (50.0, 0.0)):
        assert within.section(n).signed_distance((0.0, -150.0)) == pytest.approx(50.0 - strip, abs=CLOSE)


def lip(out: float | None) -> Block:
    return Block(name="lip", outline=((-290, -70), (290, -70), (290, -60), (-290, -60)), stands_out=out)


@pytest.mark.parametrize(("out", "n"), [(12.0, 12.0), (8.5, 8.5)])
def test_an_axis_that_climbs_towards_a_lip_is_nearest_where_the_lip_ends(out, n):
    """Exit 30 below the lip, climbing 10°: square to the axis' plane 30·cos 10° - n·sin 10° apart, at its last n."""
    room = body_clearance(inside(blocks=(lip(out),)), leaves(0.0, -100.0, 10.0), NUT)
    turn = math.radians(10)
    assert room == pytest.approx(30 * math.cos(turn) - n * math.sin(turn) - 10, abs=CLOSE)


def largest(apart: float, turn: float) -> float:
    """Return the clearance c of a nut from 3 to 20, R 10, whose axis comes nearer to something level by sin(turn) a mm.

    Grown by c it reaches (10 + c)·sin(turn) past 20·cos(turn): c = apart·cos - (20·cos + (10 + c)·sin)·sin - 10.
    """
    sin, cos = math.sin(turn), math.cos(turn)
    return (apart * cos - 20 * cos * sin - 10 * sin * sin - 10) / (1 + sin * sin)


@pytest.mark.parametrize("lean", [2.0, 10.0, 14.0])
def test_a_lip_without_end_is_nearest_at_the_bodys_far_end(lean):
    room = body_clearance(inside(blocks=(lip(None),)), leaves(0.0, -100.0, lean), NUT)
    assert room == pytest.approx(largest(30.0, math.radians(lean)), abs=CLOSE)


@pytest.mark.parametrize("lean", [2.0, 5.0, 14.0])
def test_an_axis_that_sinks_towards_the_floor(lean):
    """A level floor 40 under the exit."""
    room = body_clearance(inside(), leaves(0.0, -160.0, -lean), NUT)
    assert room == pytest.approx(largest(40.0, math.radians(lean)), abs=CLOSE)


@pytest.mark.parametrize("lean", [-12.0, -1.0, 1e-9, 1.0, 12.0])
def test_a_lean_never_adds_what_the_end_of_the_range_does_not_have(lean):
    """The bound against 2000 sections over its whole range; none has less, to 1e-6 mm."""
    within = inside(14.0, STEP, (lip(9.0),))
    at, turn = leaves(-20.0, -120.0, lean), math.radians(lean)
    room = sure(body_clearance(within, at, NUT))
    widest = (10 + max(0.0, room)) * abs(math.sin(turn))
    start, end = max(0.0, 3 * math.cos(turn) - widest), 20 * math.cos(turn) + widest
    for i in range(2001):
        n = start + (end - start) * i / 2000
        section = within.section(n, math.cos(turn))
        assert section.signed_distance((at.u, at.w * math.cos(turn) + n * math.sin(turn))) - 10 >= room - CLOSE


CUT = Disc(20.0, 12.0)  # the ends of its cut are at (±16, -12)


@pytest.mark.parametrize(
    ("u", "w", "room"),
    [
        (0.0, -170.0, 18.0),  # level floor: 30 - 12
        (-270.0, -100.0, 10.0),  # the wall at port: whole on that side
        (-270.0, -170.0, 10.0),  # in the corner, both: 10 and 18
        (0.0, -190.0, -2.0),  # its cut 2 below the floor
        (0.0, -205.0, -17.0),  # its centre below the floor
        (-290.0, -190.0, -10.0),  # the wall fouls more: 10 against 2
    ],
)
def test_a_cut_washer_in_a_well(u, w, room):
    assert body_clearance(inside(), leaves(u, w), Body("washer", 0.0, 3.0, CUT)) == pytest.approx(room, abs=CLOSE)


def test_a_cut_washer_over_a_step():
    """Centre (-12, -140), step's corner (0, -160): under the cut's plane by 8, 4 inside its end: 8 off the cut itself."""
    assert body_clearance(inside(0.0, STEP), leaves(-12.0, -140.0), Body("washer", 0.0, 3.0, CUT)) == pytest.approx(
        8.0, abs=CLOSE
    )


def test_a_seat_is_checked_against_land_and_wood():
    design = example_design()
    rim = inner_rim(design.transom)
    high = leaves(0.0, -25.0)
    assert seat_clearance(space(design), rim, high, Disc(10.0)) == pytest.approx(25 - 10.970432 - 10, abs=CLOSE)
    assert rim_clearance(rim, (0.0, -25.0), Disc(10.0, 4.0)) == pytest.approx(25 - 10.970432 - 10, abs=CLOSE)  # cut below
    assert rim_clearance(rim, (0.0, -5.0), Disc(10.0)) == pytest.approx(5 - 10.970432 - 10, abs=CLOSE)


def test_gaps_between_two_bolts():
    """Side by side: centres apart less the radii. One behind the other along the axis: never more than the truth."""
    port, starboard = bolts(example_design())[2:]
    washers = (sure(bolt.body("washer")) for bolt in (port, starboard))
    assert axes_gap(port, starboard, *washers) == pytest.approx(250.825 - 38.1, abs=CLOSE)
    nut, washer = sure(port.body("nut")), sure(starboard.body("washer"))
    assert axes_gap(port, starboard, washer, nut) == pytest.approx(250.825 - 19.05 - nut.shape.radius, abs=CLOSE)
    far = replace_end(sure(starboard.body("socket")), 100.0, 120.0)
    truth = math.hypot(250.825 - 19.05 - 13, 97.0)
    assert 0 < axes_gap(port, starboard, washer, far) <= truth


def replace_end(body: Body, start: float, end: float) -> Body:
    return Body(body.part, start, end, body.shape)


def test_gaps_between_bolts_that_lean_to_each_other():
    """Both exits 165.1 and 38.1 apart, the upper pair sinking 10°, the lower rising 10°: the sockets' ends come nearest."""
    design = changed(example_design(), mounts__0__upper_tilt=-10.0, mounts__0__lower_tilt=10.0)
    upper, lower = bolts(design)[0], bolts(design)[2]
    sockets = sure(upper.body("socket")), sure(lower.body("socket"))
    rise = 44 * math.tan(math.radians(10)) + 68 * math.sin(math.radians(10))
    centres = math.hypot(38.1, 165.1 - 2 * rise)
    assert axes_gap(upper, lower, *sockets) == pytest.approx(centres - 26, abs=CLOSE)


def test_nothing_limits_a_body_beyond_every_block():
    without = replace(example_design(), well=None)  # only the drain tube, 30 long, is left
    assert body_clearance(space(without), leaves(0.0, -300.0), Body("socket", 31.0, 90.0, Disc(13.0))) is None


@pytest.mark.parametrize("seed", range(40))
def test_how_deep_a_point_is_agrees_with_a_library_of_areas(seed):
    """Wells with corners that point in, leaning bolts, blocks: to 1e-6 mm, and two hairs of 1e-8 that the areas are wider."""
    rng = random.Random(seed)
    design = random_design(rng)
    while space(design).empty or space(design).convex:
        design = random_design(rng)
    for _ in range(12):
        n, cosine = rng.choice((0.0, rng.uniform(0, 60))), rng.choice((1.0, math.cos(rng.uniform(0, 0.25))))
        section = space(design).section(n, cosine)
        at = rng.uniform(-450, 450), rng.uniform(-420, 30)
        if not section.is_free(at):
            by_areas = -float(section._free.distance(shapely.Point(at)))
            assert section.signed_distance(at) == pytest.approx(by_areas, abs=CLOSE)


def test_a_backing_plate_in_a_well_where_nothing_is_free_is_fouled_by_a_length():
    """A radius of 290, still a guess, in a well 400 wide: the check failed with "buffer distance must be finite"."""
    plate = backing_plate(example_design().mounts[0].bracket, "lower", 38.1)
    guess = Reading(text="", value=None, from_="centre", how="tape", state="guess", spread=None, second=None)
    design = changed(
        example_design(), readings={"well.fillet_radius": guess}, well__fillet_radius=290.0, inside_blocks=(),
        well__profile=((-200, 0), (-190, -236.03), (190, -236.03), (200, 0)), mounts__0__lower_hardware__backing_plate=plate,
    )  # fmt: skip
    assert space(design).section(0.0)._free.is_empty
    washers = [finding for finding in check(design).findings if finding.check == "washer"]
    rooms = [finding.value for finding in washers if finding.at.endswith("/ plate")]
    assert len(rooms) == 1
    assert -700 < rooms[0] < 0


@pytest.mark.parametrize("seed", [10, 16, 28, 36, 42, 48])
def test_a_fouled_uneven_well_needs_no_overlay_of_areas(seed, monkeypatch):
    """These six took 500 overlays in one check, and the spreads over a hundred checks: a minute where a second is enough."""
    overlays = []
    union = shapely.union_all

    def counted(*areas, **ways):
        overlays.append(1)
        return union(*areas, **ways)

    monkeypatch.setattr(shapely, "union_all", counted)
    design = random_design(random.Random(seed))
    assert not space(design).convex
    assert check(design).verdict == "fouled"
    assert len(overlays) <= 30  # for the bearing, and for a backing plate that is followed through its thickness


def test_a_bracket_that_clamps_on_has_no_hardware_and_no_holes():
    """A fault of the program shows itself where it is, not somewhere later."""
    design = replace(example_design(), mounts=(clamp_on_mount(),))
    bolt = Bolt(design, 0, design.mounts[0], "upper port")
    with pytest.raises(TypeError, match="no hardware"):
        _ = bolt.hardware
    with pytest.raises(TypeError, match="no holes"):
        _ = bolt.u


def test_in_a_well_with_a_step_a_ring_has_room_to_the_rounded_corner():
    """Three corners of a small triangle over the raised floor at -160: 60, 70 and 70 over it, less the corner radius of 12."""
    section = inside(12.0, STEP).section(0.0, 1.0)
    room, _ = sure(nearest_to_ring(section, (), ((100.0, -100.0), (110.0, -90.0), (90.0, -90.0))))
    assert not section.convex
    assert room == pytest.approx(60.0 - 12.0, abs=CLOSE)


@pytest.mark.parametrize(("radius", "room"), [(0.0, 48.0), (10.0, 38.0), (50.0, -2.0)])
def test_in_a_well_with_a_step_the_floor_leaves_a_disc_its_height_less_the_rounded_corner(radius, room):
    """60 over the raised floor, less the corner radius of 12 and its own radius: by each edge alone as by all of them."""
    section, at = inside(12.0, STEP).section(0.0, 1.0), (100.0, -100.0)
    assert min(each for each, _ in _rooms(section, (), Disc(radius), at)) == pytest.approx(room, abs=CLOSE)
    assert section.room_of(Disc(radius), at) == pytest.approx(room, abs=CLOSE)
