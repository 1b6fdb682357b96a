"""The room of parts inside, each case against a length calculated by hand.

All on the example: land at w = -237.108 (virtual corner -247.000, rounded corner's reach 12·cot 50.5° = 9.892), lower holes at
-215.9, floor falling away by 11°.
"""

from __future__ import annotations

import math
import re
from itertools import combinations

import pytest
from msgspec.structs import replace

from geometry.design.boat import Block, Thickness
from geometry.design.design import Reading
from geometry.design.hardware import BackingPlate, Spacer, Washer
from geometry.design.motor import RoomAft
from geometry.judge import inside_room
from geometry.judge.check import check
from geometry.judge.reporter import Reporter
from geometry.solid.clearances import axes_gap
from tests.designs import changed, example_design, half_inch_hardware, sure, twin_design

CLOSE = 1e-3  # [mm]: what the hand's figures are rounded to
LAND = -247.00043 + 9.89204
LOWER = "main motor / lower port"


def plated(low: float, thickness: float, relief=(0.0, 0.0), **hardware):
    """Return the example, its drain tube gone, with a backing plate under both lower washers: 320 wide, from ``low`` to 25."""
    plate = BackingPlate(
        outline=((-160, low), (160, low), (160, 25), (-160, 25)), thickness=thickness, relief=relief,
        material="aluminium 5083", joins=("lower port", "lower starboard"),
    )  # fmt: skip
    return changed(
        example_design(), inside_blocks=(),
        mounts__0__lower_hardware=half_inch_hardware(backing_plate=plate, **hardware),
    )  # fmt: skip


def value(design, check_: str, at: str = LOWER) -> float:
    return sure(sure(check(design).of(check_, at)).value)


def test_the_land():
    assert 12 / math.tan(math.radians(50.5)) == pytest.approx(9.89204, abs=1e-5)
    assert -236.03 - 44 * math.tan(math.radians(14)) == pytest.approx(-247.00043, abs=1e-5)
    # washer 38.1: 237.10839 - 215.9 - 19.05
    assert value(example_design(), "washer") == pytest.approx(-215.9 - LAND - 19.05, abs=CLOSE)


@pytest.mark.parametrize(
    ("low", "relief", "room"),
    [
        (-15.0, (0.0, 0.0), -215.9 - 15 - LAND),  # 6.209 at the face; further out the rounded corner falls away
        (-30.0, (0.0, 0.0), -215.9 - 30 - LAND),  # -8.791
        # relieved by 15 through all its 6 mm: at the face its edge is at -230.9, and 6.209 over the land;
        # at n = 6 at -245.9, and the rounded corner at -247.00043 + 9.89204 - sqrt(144 - 36) - 6·cot 101° = -246.334...
        (-30.0, (15.0, 6.0), -245.9 - (-247.00043 + 9.89204 - math.sqrt(108) + 6 * math.tan(math.radians(11))
                                       - 6 * math.tan(math.radians(11)))),
    ],
)  # fmt: skip
def test_a_backing_plate_has_its_true_shape(low, relief, room):
    """e(6) = L - sqrt(2·12·6 - 36) - 6·cot 101°, and the floor has fallen 6·tan 11°: the two last terms cancel."""
    assert value(plated(low, 6.0, relief), "washer", "main motor / lower / plate") == pytest.approx(room, abs=CLOSE)


def test_a_relieved_plate_is_tightest_in_the_middle_of_nothing():
    """Its edge runs straight from (0, -230.9) to (6, -245.9), the rounded corner bulges away from it: the ends govern."""
    from geometry.solid.placed_bolts import bolts, plate_ring
    from geometry.solid.well import space

    design = plated(-30.0, 6.0, (15.0, 6.0))
    joined = bolts(design)[2:]
    rooms = [
        space(design).section(n / 100).room_of_ring(plate_ring(joined, sure(joined[0].plate), n / 100)) for n in range(601)
    ]
    assert min(rooms) == pytest.approx(value(design, "washer", "main motor / lower / plate"), abs=1e-9)


def test_a_washer_on_a_backing_plate_is_the_smaller_of_its_room_and_its_distance_inside_the_backing_plate():
    """Top of the backing plate 25 over the hole: 25 - 19.05 = 5.95; the rounded corner at 6 in front leaves 31.2 - 19.05
    more."""
    assert value(plated(-30.0, 6.0), "washer") == pytest.approx(5.95, abs=CLOSE)


def test_a_thick_backing_plate_lets_the_washer_stand_over_the_rounded_corner():
    """Lower by 12.7: the hole at -228.6. 12 mm out the rounded corner has ended (at L·sin 101° = 9.710).

    Floor there: -247.00043 - 12·tan 11°.

    Washer: 247.00043 + 2.33257 - 228.6 - 19.05 = 1.683; without the backing plate -10.541.
    """
    low = changed(plated(-8.0, 12.0), mounts__0__drop=177.8, mounts__0__lower_hardware__backing_plate__outline=(
        (-160, -8), (160, -8), (160, 60), (-160, 60)))  # fmt: skip
    # the washer reaches 19.05 below its centre, the backing plate only 8: inside the backing plate it has -11.05
    assert value(low, "washer") == pytest.approx(8 - 19.05, abs=CLOSE)
    # with a backing plate relieved from 22 below, its own lower edge at n = 12 is at -250.6: fouled
    wide = changed(low, mounts__0__lower_hardware__backing_plate__outline=((-160, -20), (160, -20), (160, 60), (-160, 60)),
                   mounts__0__lower_hardware__backing_plate__relief=(12.5, 12.0))  # fmt: skip
    assert value(wide, "washer") == pytest.approx(20 - 19.05, abs=CLOSE)
    at_face, at_end = -228.6 - 20 + 12.5 - LAND, -248.6 + 247.00043 + 12 * math.tan(math.radians(11))
    assert value(wide, "washer", "main motor / lower / plate") == pytest.approx(min(at_face, at_end), abs=CLOSE)


def test_the_backing_plate_is_about_the_midpoint_of_its_bolts():
    """Offset by 40: 160 + 40 to starboard; the wall's foot is at 300, its corner radius 11.9 on: both backing plates clear
    alike."""
    design = changed(plated(-15.0, 6.0), mounts__0__offset=40.0)
    assert value(design, "washer", "main motor / lower / plate") == pytest.approx(6.209, abs=CLOSE)
    far = changed(plated(-15.0, 6.0), mounts__0__offset=130.0)  # its corner at 290, the wall at 300.06, less the rounded corner
    assert value(far, "washer", "main motor / lower / plate") < 0


NEAR_TUBE = Block(
    name="drain tube", outline=((-20.0, -236.0), (20.0, -236.0), (20.0, -204.0), (-20.0, -204.0)), stands_out=40.0
)
RAISE = "Make the backing plate smaller, relieve its lower back edge, or raise the bolts."


@pytest.mark.parametrize(
    ("changes", "state", "against", "hit", "cure"),
    [
        ({}, "clear", "corner radius", "clears the well floor's rounded corner by", None),  # by 6.209
        ({"mounts__0__drop": 180.0}, "fouled", "corner radius", "overlaps the well floor's rounded corner by", RAISE),
        # its corner at 290, the wall's foot at 300.06 less the rounded corner: no height helps
        ({"mounts__0__offset": 130.0}, "fouled", "corner radius", "overlaps the starboard wall's rounded corner by",
         "Make the backing plate smaller."),
        ({"inside_blocks": (NEAR_TUBE,)}, "fouled", "drain tube", "overlaps the drain tube by",
         "Make the backing plate smaller."),
        ({"well__fillet_radius": 0.0}, "clear", "well floor", "clears the well floor by", None),
    ],
)  # fmt: skip
def test_a_backing_plate_says_what_it_hits(changes, state, against, hit, cure):
    """The backing plate reaches from 160 mm to port to 160 mm to starboard, and 15 mm below the lower bolts."""
    finding = sure(check(changed(plated(-15.0, 6.0), **changes)).of("washer", "main motor / lower / plate"))
    assert (finding.state, finding.against, finding.remedy) == (state, against, cure)
    assert finding.text.startswith(f"The lower backing plate {hit} ")


def test_a_backing_plate_that_reaches_over_the_top_hits_the_edge_of_the_wood():
    high = changed(plated(-15.0, 6.0), mounts__0__lower_hardware__backing_plate__outline=(
        (-160, -15), (160, -15), (160, 260), (-160, 260)))  # fmt: skip
    finding = sure(check(high).of("washer", "main motor / lower / plate"))
    assert (finding.state, finding.against) == ("fouled", "inside edge of the transom")
    assert finding.text.startswith("The lower backing plate overlaps the inside edge of the transom by ")


def test_a_spacer_is_on_the_wood_and_carries_the_washer_out():
    """A 24 mm sleeve 20 long: 237.109 - 215.9 - 12 = 9.209 on the land; the washer 20 out over the bare floor has much more."""
    spacer = Spacer(outer=24.0, inner=13.5, length=20.0)
    design = changed(example_design(), mounts__0__lower_hardware__spacer=spacer)
    assert value(design, "washer") == pytest.approx(-215.9 - LAND - 12, abs=CLOSE)
    assert value(design, "nut") == pytest.approx(
        -215.9 + 247.00043 + 23 * math.tan(math.radians(11)) - 0.752 * 25.4 / math.sqrt(3), abs=CLOSE
    )


def test_a_flat_cut_washer_is_nearer():
    """Cut at 12.7: 237.109 - 215.9 - 12.7 = 8.509 on the land."""
    design = changed(example_design(), mounts__0__lower_hardware__washer__flat_cut=12.7)
    assert value(design, "washer") == pytest.approx(-215.9 - LAND - 12.7, abs=CLOSE)


@pytest.mark.parametrize("drop", [184.15, 203.2])
def test_the_overlap_of_a_flat_cut_washer_below_the_land_is_that_of_its_farthest_point(drop):
    """Cut at 12.7: 237.109 - 234.95 - 12.7 = -10.541, and 237.109 - 254 - 12.7 = -29.591 with the hole in the floor."""
    design = changed(example_design(), mounts__0__lower_hardware__washer__flat_cut=12.7, mounts__0__drop=drop)
    assert value(design, "washer") == pytest.approx(-50.8 - drop - LAND - 12.7, abs=CLOSE)


def test_a_bolt_put_in_from_inside_has_its_head_there():
    """Head of the 1/2 in cap screw: 0.323 high, 0.866 across corners; nut and thread end are outside."""
    design = changed(example_design(), mounts__0__lower_hardware__inserted_from="inside")
    checked = check(design)
    # from 3 mm out: e(3) = 9.89204 - sqrt(72 - 9) - 3·cot 101°; the floor has fallen as much as the last term
    fillet = -247.00043 + 9.89204 - math.sqrt(63)
    assert checked.of("nut", LOWER).value == pytest.approx(-215.9 - fillet - 0.433 * 25.4, abs=CLOSE)
    assert "head" in checked.of("nut", LOWER).text
    assert checked.of("thread_end", LOWER) is None
    assert checked.of("length", LOWER).value == pytest.approx(82.55 - 61.8 - 15.4686, abs=CLOSE)


def test_the_thread_end_begins_at_the_nuts_top():
    """82.55 - 61.8 - 15.4686 = 5.2814 long, R 6.35, from 18.4686 out: there the floor is at -247.00043 - 18.4686·tan 11°."""
    room = -215.9 + 247.00043 + 18.4686 * math.tan(math.radians(11)) - 6.35
    assert value(example_design(), "thread_end") == pytest.approx(room, abs=CLOSE)


def test_a_bolt_that_ends_within_its_nut_has_no_thread_end():
    checked = check(changed(example_design(), mounts__0__lower_hardware__length=76.2))
    assert checked.of("thread_end", LOWER) is None
    assert checked.of("length", LOWER).value == pytest.approx(76.2 - 61.8 - 15.4686, abs=CLOSE)
    assert checked.of("length", LOWER).state == "fouled"


@pytest.mark.parametrize(
    ("length", "length_state", "shank_state"),
    [(82.55, "clear", "clear"), (79.5, "tight", "clear"), (92.5, "clear", "tight"), (93.6, "clear", "fouled")],
)
def test_threads_showing_and_thread_left(length, length_state, shank_state):
    """Grip 61.8, nut 15.4686, pitch 1.9538, thread 31.75: showing 2.2314 at 79.5; left 1.05 at 92.5, -0.05 at 93.6."""
    checked = check(changed(example_design(), mounts__0__lower_hardware__length=length))
    assert checked.of("length", LOWER).value == pytest.approx(length - 77.2686, abs=CLOSE)
    assert checked.of("shank", LOWER).value == pytest.approx(93.55 - length, abs=CLOSE)
    assert (checked.of("length", LOWER).state, checked.of("shank", LOWER).state) == (length_state, shank_state)


def test_grip_counts_everything_between_head_and_nut():
    """2.8 outside washer + 12 pad + 44 transom + 6 backing plate + 10 spacer + 3 washer = 77.8."""
    from geometry.solid.placed_bolts import bolts

    design = plated(-15.0, 6.0, spacer=Spacer(outer=24.0, inner=13.5, length=10.0))
    assert bolts(design)[2].grip == pytest.approx(77.8, abs=1e-9)
    assert bolts(design)[0].grip == pytest.approx(61.8, abs=1e-9)
    tilted = changed(design, mounts__0__lower_tilt=10.0)
    assert bolts(tilted)[2].grip == pytest.approx(33.8 + 44 / math.cos(math.radians(10)), abs=1e-9)


@pytest.mark.parametrize(("low", "lower"), [(15.0, "fouled"), (15.5, "clear")])
def test_where_the_readings_leave_no_wood_no_length_is_called_clear(low, lower):
    """20 thick, 15 at 50 down: 20 - 0.1 * 215.9 = -1.59 at the lower pair, 14.92 at the upper; with 15.5 it is 0.57."""
    design = changed(example_design(), transom__thickness=Thickness(top=20.0, low=low, low_at=-50.0))
    checked = check(design)
    assert checked.of("length", LOWER).state == lower
    assert ("no thickness at the" in checked.of("length", LOWER).text) == (lower == "fouled")
    if lower == "fouled":
        remedy = checked.of("length", LOWER).remedy
        assert remedy == "Measure the lower thickness again, and how far down it was taken."
    assert checked.of("length", "main motor / upper port").state == "clear"


def test_a_bolt_for_which_no_stock_length_fits():
    """Beyond 6 in (152.4) nothing is sold: with a 90 mm spacer the grip alone is 151.8."""
    design = changed(example_design(), mounts__0__lower_hardware__spacer=Spacer(outer=24.0, inner=13.5, length=90.0))
    checked = check(design)
    for name in ("length", "shank"):
        finding = checked.of(name, LOWER)
        assert (finding.state, finding.value) == ("fouled", None)


def test_room_for_the_socket_up_to_the_wells_front():
    """420 along a floor that rises 3°, front plumb; the axis climbs 14° from a hole 31.1 above the floor.

    Foot of the floor to its end: 420·cos 3° = 419.424 forward. The exit is 31.1 higher along the face, 31.1·sin 14° = 7.524
    aft: (419.424 + 7.524)/cos 14° = 440.019 along the axis, less 3 + 65.
    """
    forward = 420 * math.cos(math.radians(3)) + (247.00043 - 215.9) * math.sin(math.radians(14))
    assert value(example_design(), "socket_room") == pytest.approx(forward / math.cos(math.radians(14)) - 68, abs=CLOSE)


def test_room_for_the_socket_up_to_a_leaning_front():
    """A front that leans aft by 14°, square to the axis: the foot's distance along the axis, 420·cos 11° = 412.283."""
    design = changed(example_design(), well__front_lean=14.0)
    along = 420 * math.cos(math.radians(11))
    assert value(design, "socket_room") == pytest.approx(along - 68, abs=CLOSE)


def test_room_for_the_socket_up_to_a_rising_floor():
    """Floor 24° up, the axis 14°: closing at tan 10°, from 31.10043 over it: 31.10043/tan 10° = 176.379, less 68."""
    design = changed(example_design(), well__floor_rise=24.0)
    assert value(design, "socket_room") == pytest.approx(31.10043 / math.tan(math.radians(10)) - 68, abs=CLOSE)


def test_room_for_a_ring_spanner_where_there_is_no_socket():
    design = changed(example_design(), mounts__0__lower_hardware__socket=None)
    assert value(design, "socket_room") == pytest.approx(value(example_design(), "socket_room") + 65 - 13.9, abs=CLOSE)
    bare = changed(design, mounts__0__lower_hardware__spanner=None)
    assert check(bare).of("socket_room", LOWER) is None


def test_a_leaning_bolt_runs_into_a_block():
    """Tilted 10° up: a lip across, its underside 20 over the exit, is met 20/sin 10° = 115.175 along, less 68.

    Exit: v = -215.9 + 44·tan 10° = -208.142; the lip's underside at y = -188.142 + 10.970 from the inside edge.
    """
    under = -215.9 + 44 * math.tan(math.radians(10)) + 20 + 44 * math.tan(math.radians(14))
    lip = Block(name="lip", outline=((-310, under), (310, under), (310, under + 10), (-310, under + 10)), stands_out=None)
    design = changed(example_design(), mounts__0__lower_tilt=10.0, inside_blocks=(lip,))
    assert value(design, "socket_room") == pytest.approx(20 / math.sin(math.radians(10)) - 68, abs=CLOSE)


@pytest.mark.parametrize(
    ("room", "state"), [(120.0, "clear"), (115.0, "tight"), (103.7, "fouled"), (None, "note")]
)
def test_feeding_from_outside(room, state):
    """82.55 + head 0.323 in = 8.2042 + 13 = 103.7542: from that on to 12 more it is tight."""
    finding = check(changed(example_design(), mounts__0__bracket__room_aft=RoomAft(upper=None, lower=room))).of("feed", LOWER)
    assert finding.state == state
    if room is not None:
        assert finding.value == pytest.approx(room - 82.55 - 0.323 * 25.4 - 13, abs=CLOSE)


def test_feeding_from_inside_and_before_the_motor_hangs():
    inside = changed(example_design(), mounts__0__lower_hardware__inserted_from="inside")
    assert value(inside, "feed") == pytest.approx(440.019 - 82.55 - 8.2042 - 13, abs=0.002)
    before = check(changed(example_design(), mounts__0__lower_hardware__inserted_from="before hanging")).of("feed", LOWER)
    assert (before.state, before.value) == ("note", None)


def test_neighbours_of_one_motor():
    """Upper and lower washers: centres hypot(163.5125 - 125.4125, 165.1) = 169.439 apart, less two radii of 19.05."""
    gaps = [finding for finding in check(example_design()).findings if finding.check == "neighbour"]
    assert [finding.value for finding in gaps] == pytest.approx([math.hypot(38.1, 165.1) - 38.1], abs=CLOSE)


@pytest.mark.parametrize(("apart", "state"), [(370.0, "clear"), (366.0, "tight"), (365.0, "fouled"), (327.0, "fouled")])
def test_neighbours_of_twins(apart, state):
    """The inner upper holes stand apart - 327.025: washers of 38.1 touch at 365.125."""
    design = twin_design()
    mounts = tuple(replace(mount, offset=side * apart / 2) for mount, side in zip(design.mounts, (-1, 1), strict=True))
    gaps = [finding for finding in check(replace(design, mounts=mounts)).findings if finding.check == "neighbour"]
    assert [finding.value for finding in gaps] == pytest.approx([abs(apart - 327.025) - 38.1], abs=CLOSE)
    assert gaps[0].state == state
    assert gaps[0].mounts == (0, 1)


def test_a_leaning_neighbour_comes_nearer_further_in():
    """Upper pair tilted down, lower pair up: never more than at the exits."""
    level = check(example_design()).of("neighbour", "main motor / upper port and lower port").value
    leaning = changed(example_design(), mounts__0__lower_tilt=8.0, mounts__0__upper_tilt=-8.0)
    gaps = [finding for finding in check(leaning).findings if finding.check == "neighbour"]
    assert gaps[0].value < level - 10


def knee(left: float, out: float | None) -> Block:
    return Block(name="knee", outline=((left, -230), (left + 30, -230), (left + 30, -150), (left, -150)), stands_out=out)


def test_a_backing_plate_and_a_block():
    """The backing plate ends at 160; a knee from 170 on is 10 away, one from 150 on is 10 under it."""
    near = changed(plated(-10.0, 6.0), inside_blocks=(knee(170.0, 50.0),))
    gaps = [finding for finding in check(near).findings if finding.check == "neighbour"]
    assert [finding.value for finding in gaps] == pytest.approx([10.0], abs=CLOSE)
    under = changed(plated(-10.0, 6.0), inside_blocks=(knee(150.0, 50.0),))
    gaps = [finding for finding in check(under).findings if finding.check == "neighbour"]
    assert [finding.value for finding in gaps] == pytest.approx([-10.0], abs=CLOSE)
    assert gaps[0].state == "fouled"
    assert gaps[0].text == "Inside, the lower backing plate and knee overlap by 7/16 in."  # 10 mm, up
    assert [finding.text for finding in check(near).findings if finding.check == "neighbour"] == [
        "Inside, the lower backing plate and knee are 3/8 in apart."]  # fmt: skip


def test_a_backing_plate_and_what_else_it_may_meet_are_named():
    """A backing plate under the lower pair that reaches up to the upper washers; two backing plates, one under each pair,
    that overlap."""
    tall = plated(-10.0, 6.0)
    ring = ((-160.0, -10.0), (160.0, -10.0), (160.0, 160.0), (-160.0, 160.0))
    tall = changed(tall, inside_blocks=(), mounts__0__lower_hardware__backing_plate__outline=ring)
    (gap,) = [finding for finding in check(tall).findings if finding.check == "neighbour"]
    assert re.match("Inside, the lower backing plate and the upper (port|starboard) bolt overlap by ", gap.text)
    other = replace(sure(tall.mounts[0].lower_hardware.backing_plate), joins=("upper port", "upper starboard"), outline=(
        (-190.0, -40.0), (190.0, -40.0), (190.0, 30.0), (-190.0, 30.0)))  # fmt: skip
    (gap,) = [finding for finding in check(changed(tall, mounts__0__upper_hardware__backing_plate=other)).findings
                if finding.check == "neighbour"]  # fmt: skip
    assert gap.text.startswith("Inside, the upper backing plate and the lower backing plate overlap by ")


def test_a_gap_rests_on_the_blocks_where_a_backing_plate_may_meet_them():
    """A guessed block marks it, one with a corner that is not known makes it unknown; what a backing plate never meets does
    not."""
    key = "inside_blocks.0.outline"
    guessed = {key: Reading(text="", value=None, from_="centre", how="tape", state="guess", spread=None, second=None)}
    with_plate, without = plated(-10.0, 6.0), example_design()

    def gap(design):
        (of_gap,) = [finding for finding in check(design).findings if finding.check == "neighbour"]
        return of_gap

    with_plate = changed(with_plate, inside_blocks=(knee(170.0, 50.0),))
    assert gap(replace(with_plate, readings=guessed)).guesses == (key,)
    assert gap(replace(without, readings=guessed)).guesses == ()
    lacking = (replace(knee(170.0, 50.0), outline=((None, -230.0), (200.0, -230.0), (200.0, -150.0))),)
    assert (gap(replace(with_plate, inside_blocks=lacking)).state, gap(replace(with_plate, inside_blocks=lacking)).missing) == (
        "unknown", key)  # fmt: skip
    assert gap(replace(without, inside_blocks=lacking)).state == "clear"
    assert gap(changed(with_plate, well__fillet_radius=None)).value == pytest.approx(10.0, abs=CLOSE)  # no part of it


def test_a_block_below_a_relieved_plate_is_checked_against_its_full_outline():
    """Relieved by 15 the backing plate begins at -230.9 on the face, at -245.9 through it: a lump that ends at -250 is 4.1
    below."""
    lump = Block(name="lump", outline=((-20, -270), (20, -270), (20, -239.02957), (-20, -239.02957)), stands_out=60.0)
    design = changed(plated(-30.0, 6.0, (15.0, 6.0)), inside_blocks=(lump,))
    gaps = [finding for finding in check(design).findings if finding.check == "neighbour"]
    assert [finding.value for finding in gaps] == pytest.approx([4.1], abs=CLOSE)


def test_a_washer_off_the_wood_is_fouled_by_the_edge():
    """Upper holes 25 down: 14.03 below the inside edge, the washer reaches 19.05 up: -5.020."""
    design = changed(example_design(), mounts__0__upper_at=-25.0)
    room = 25 - 44 * math.tan(math.radians(14)) - 19.05
    assert value(design, "washer", "main motor / upper port") == pytest.approx(room, abs=CLOSE)


def test_a_washer_that_only_the_wood_limits():
    design = replace(example_design(), well=None, inside_blocks=())
    checked = check(design)
    assert checked.of("washer", "main motor / upper port").value == pytest.approx(50.8 - 10.97043 - 19.05, abs=CLOSE)
    assert checked.of("nut", LOWER) is None
    assert checked.of("socket", LOWER) is None


def test_sizes_of_ones_own_nut():
    """19 over flats, no corners given: 19·2/sqrt(3) = 21.939 across; from 3 out, as the head above."""
    from geometry.design.hardware import HexSizes

    own = HexSizes(flats=19.0, corners=None, height=12.0)
    design = changed(example_design(), mounts__0__lower_hardware__nut_sizes=own)
    fillet = -247.00043 + 9.89204 - math.sqrt(63)
    assert value(design, "nut") == pytest.approx(-215.9 - fillet - 19 / math.sqrt(3), abs=CLOSE)


def test_a_thin_washer():
    thin = Washer(outer=38.1, inner=13.5, thickness=1.0, flat_cut=None)
    design = changed(example_design(), mounts__0__lower_hardware__washer=thin)
    fillet = -247.00043 + 9.89204 - math.sqrt(24 - 1)  # the nut begins 1 mm out
    assert value(design, "nut") == pytest.approx(-215.9 - fillet - 0.752 * 25.4 / math.sqrt(3), abs=CLOSE)


@pytest.mark.parametrize(("top", "deep"), [(-204.0, 20.0), (-10.0, 20.0)])
def test_a_backing_plate_that_bridges_a_block_is_fouled_by_how_deep_it_is_in_it(top, deep):
    """Every corner of the overlap is on the block's edge, yet its middle is half the block's width inside: 40/2 = 20 mm.

    The backing plate reaches from 160 mm to port to 160 mm to starboard, 18 mm below and 30 mm above the lower bolts' exits.
    These are 204.93 mm below the inside top edge. Its lower edge is at -222.9, so it covers the tube's top at -204 by 18.9
    mm. The deepest point there is the backing plate's lower edge on the centreline, 18.9 mm under the top and 20 mm from the
    sides.
    """
    design = example_design()
    plate = BackingPlate(
        outline=((-160.0, -18.0), (160.0, -18.0), (160.0, 30.0), (-160.0, 30.0)), thickness=6.35, relief=(0.0, 0.0),
        material="aluminium", joins=("lower port", "lower starboard"),
    )  # fmt: skip
    mount = design.mounts[0]
    mount = replace(mount, lower_hardware=replace(sure(mount.lower_hardware), backing_plate=plate))
    tube = replace(design.inside_blocks[0], outline=((-20.0, -236.03), (20.0, -236.03), (20.0, top), (-20.0, top)))
    checked = check(replace(design, mounts=(mount,), inside_blocks=(tube,)))
    expected = min(deep, 222.93 + top) if top < -200 else deep
    result = checked.of("washer", "main motor / lower / plate")
    assert result is not None
    assert result.state == "fouled"
    assert result.value == pytest.approx(-expected, abs=0.02)
    neighbour = next(finding for finding in checked.findings if finding.check == "neighbour")
    assert neighbour.state == "fouled"


def counted(work, calls: list[str]):
    """Return a function that does the same, and adds its name to ``calls``."""

    def work_counted(*args):
        calls.append(work.__name__)
        return work(*args)

    return work_counted


def crowd(number: int, step: float, *, plates: bool):
    """Return a boat with so many motors, ``step`` mm apart: bolts of some of them lean, and some have backing plates."""
    design = plated(-10.0, 6.0)
    first = design.mounts[0]
    bare = replace(sure(first.lower_hardware), backing_plate=None)
    motors = tuple(
        replace(first, name=f"motor {at}", offset=step * (at - (number - 1) / 2), lower_tilt=at % 3 - 1.0,
                upper_tilt=at % 2 * 2.0, lower_hardware=first.lower_hardware if plates and at % 2 else bare)
        for at in range(number)
    )  # fmt: skip
    return replace(design, mounts=motors)


@pytest.mark.parametrize("step", [0.0, 31.0, 140.0, 400.0])
def test_the_smallest_gap_of_many_bolts_is_that_of_every_two_parts(step):
    """Also of bolts that lean differently: no pair that is left out is nearer."""
    design = crowd(6, step, plates=False)
    report = Reporter(design)
    parts = ("washer", "nut", "thread_end", "socket")
    bodies = [[body for body in map(bolt.body, parts) if body is not None] for bolt in report.bolts]
    least = min(
        axes_gap(a, b, body, other)
        for (a, of_a), (b, of_b) in combinations(zip(report.bolts, bodies, strict=True), 2) for body in of_a for other in of_b
    )  # fmt: skip
    (gap,) = [finding for finding in check(design).findings if finding.check == "neighbour"]
    assert gap.value == pytest.approx(least, abs=1e-9)


@pytest.mark.parametrize("step", [31.0, 140.0, 400.0])
def test_few_gaps_of_backing_plates_are_calculated(step, monkeypatch):
    """Boxes sort the others out, and leave no smaller gap out: 8 motors, 4 backing plates, 4 blocks, 32 bolts."""
    design = replace(crowd(8, step, plates=True), inside_blocks=tuple(knee(-400 + 200.0 * at, 50.0) for at in range(4)))
    every = list(inside_room._plate_neighbours(Reporter(design)))
    assert len(every) == 4 * 4 + 4 * 30 + 6
    for neighbour in every:
        assert neighbour.gap() >= neighbour.least - CLOSE
    least = min(neighbour.gap() for neighbour in every)
    calculated: list[str] = []
    for name in ("_between_rings", "_to_washer"):
        monkeypatch.setattr(inside_room, name, counted(getattr(inside_room, name), calculated))
    assert sure(inside_room._plate_gap(Reporter(design)))[0] == pytest.approx(least, abs=1e-9)
    assert len(calculated) < 0.2 * len(every)


def test_a_whole_washer_over_the_floor_is_raised_or_cut_on_its_lower_side():
    """203.2 mm of drop: the lower bolts go up, or the washer loses its lower side. A cut washer is not cut again."""
    fouled = changed(example_design(), mounts__0__drop=203.2, mounts__0__row=1)
    whole = check(fouled).of("washer", LOWER).remedy
    assert whole.endswith(" Or cut the washers flat on the lower side, or measure the floor again.")
    cut = check(changed(fouled, mounts__0__lower_hardware__washer__flat_cut=14.0)).of("washer", LOWER).remedy
    assert cut.endswith(". Or measure the floor again.")
    assert whole.startswith("Raise the lower bolts ")
    assert cut.startswith("Raise the lower bolts ")
