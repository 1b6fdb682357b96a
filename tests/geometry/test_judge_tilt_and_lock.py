"""The room to tilt and turn a motor: by hand on an upright transom, and against fine turns in space anywhere else."""

from __future__ import annotations

import math
import random

import pytest
from msgspec.structs import replace

from app.entries.typed_entries import typed
from geometry.design.motor import NO_TILT, Tilt, TiltPoint
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.words import answer, findings_rows
from geometry.readings.measures import measure
from geometry.solid.bracket_holes import hook_above_datum
from geometry.solid.faces import faces
from geometry.solid.tilt_sweep import front_of, most_turned, reach_aside, room_ahead, sides_of, sweep_of, tube_at
from geometry.solid.well import space
from tests.designs import changed, clamp_on_mount, example_design, roomy, sure, twin_design

MOTOR = "main motor"


def tilt(*points, tube=(60.0, 40.0), most=65.0, lock=0.0):
    """Return a tilt with points of a radius, an angle and a half width."""
    made = tuple(TiltPoint(radius=radius, angle=angle, half_width=half) for radius, angle, half in points)
    return Tilt(tube=tube, most=most, lock=lock, points=made)


def upright(given, **values):
    """Return a boat whose transom is plumb and 44 thick. The hook is 38.1 above the datum, the well's front at 344."""
    profile = ((-320, 0), (-300, -261), (300, -261), (320, 0))
    fields = {"transom__rake": 0.0, "transom__top_cut": "square", "well__profile": profile, "well__floor_rise": 0.0,
              "well__length": 300.0, "well__front_lean": 0.0, "well__front_height": 30.0, "mounts__0__tilt": given}  # fmt: skip
    return changed(roomy(units="mm"), **(fields | values))


def value(design, check_name="tilt_room", at=MOTOR):
    return sure(sure(check(design).of(check_name, at)).value)


@pytest.mark.parametrize(
    ("radius", "most", "room"),
    [
        # The tube is at (-60, 78.1). Straight up, 200 above it: from the lip at (344, 30) 404 aft and 248.1 up.
        (200.0, 1e-3, math.hypot(404.0, 248.1) - 0.003),  # a thousandth of a degree brings it 0.003 nearer
        (420.0, 90.0, 48.1),  # 420 forward: 16 past the front, so its height over the lip counts
        (380.0, 90.0, math.hypot(24.0, 48.1)),  # 24 aft of the front
        # At 98.188° it is as deep behind the front as below the lip: sin + cos = 355.9/420, and 420·sin 98.188° - 404 = 11.7184
        (420.0, 100.0, -11.7184),
        (420.0, 98.0, -10.3527),  # stopped before: 420·cos 8° - 404 = 11.91 behind, 420·sin 8° - 48.1 = 10.35 below
        (390.0, 120.0, 404 - 390 + (math.hypot(404.0, 48.1) - 404.0)),  # toward the lip: 406.8533 - 390
    ],
)
def test_a_place_straight_up_by_hand(radius, most, room):
    assert value(upright(tilt((radius, 0.0, 0.0), most=most))) == pytest.approx(room, abs=0.001)


def test_the_tube_rises_with_the_bracket():
    """One hole up is 19.05 more: on a plumb transom the height over the lip grows by as much. A set-back moves it aft."""
    design = upright(tilt((420.0, 0.0, 0.0), most=90.0))
    assert value(changed(design, mounts__0__row=3)) == pytest.approx(48.1 + 19.05, abs=1e-6)
    aft = changed(design, mounts__0__set_back=10.0)
    assert tube_at(aft, 0) == pytest.approx((-70.0, 78.1), abs=1e-6)
    leaning = changed(design, transom__rake=14.0, mounts__0__row=3)
    raised = tube_at(leaning, 0), tube_at(changed(leaning, mounts__0__row=2), 0)
    # Common practice: on a rake of 14° one hole is 0.73 in up and 0.18 in aft.
    assert raised[0][1] - raised[1][1] == pytest.approx(0.73 * 25.4, abs=0.1)
    assert raised[1][0] - raised[0][0] == pytest.approx(0.18 * 25.4, abs=0.1)


def test_lock_brings_the_side_of_the_cowl_forward_by_hand():
    """Plumb over the tube, 100 to each side, locked by 30°: its side is 100·sin 30° = 50 forward. Tilted by 90° it is
    50 lower than the middle, and the height over the lip falls to nothing less 1.9.
    """
    design = upright(tilt((420.0, 0.0, 100.0), most=90.0, lock=30.0))
    assert value(design) == pytest.approx(-1.9, abs=0.001)
    assert value(changed(design, mounts__0__tilt=tilt((420.0, 0.0, 100.0), most=90.0))) == pytest.approx(48.1, abs=0.001)


def test_the_sides_by_hand():
    """300 forward of the tube and 50 to each side, locked by 30°: 300·sin 30° + 50·cos 30° = 193.3013 aside; well 320."""
    radius, angle = math.hypot(300.0, 300.0), 45.0
    design = upright(tilt((radius, angle, 50.0), most=10.0, lock=30.0))
    assert value(design, "lock_room") == pytest.approx(320.0 - 193.3013, abs=0.001)
    moved = changed(design, mounts__0__offset=20.0)
    finding = sure(check(moved).of("lock_room", MOTOR))
    assert finding.value == pytest.approx(300.0 - 193.3013, abs=0.001)
    assert finding.against == "well's starboard side"


def test_a_place_deep_in_the_well_meets_its_sides_where_it_is():
    """Tilted by 90° a place 200 forward of the tube is 200 below it: 121.9 below the datum. The side leans 20 in 261."""
    design = upright(tilt((200.0, 90.0, 40.0), most=90.0), well__fillet_radius=0.0)
    assert value(design, "lock_room") == pytest.approx(320.0 - 20.0 * 121.9 / 261.0 - 40.0, abs=0.001)


@pytest.mark.parametrize(("ahead", "narrower"), [(400.0, 0.0), (100.0, 12.0)])
def test_the_rounded_corner_takes_room_where_the_sweep_comes_near_the_inner_face(ahead, narrower):
    """The sides are upright at the sweep, and their corner with the inner face has a radius of 12.

    A place 400 forward of the tube stays ahead of the corner while it tilts by 5°. One 100 forward comes from behind the
    inner face: there the corner takes all of its radius.
    """
    box = ((-300, 0), (-300, -261), (300, -261), (300, 0))
    design = upright(tilt((ahead, 90.0, 40.0), most=5.0), well__profile=box)
    assert value(design, "lock_room") == pytest.approx(300.0 - narrower - 40.0, abs=1e-6)


@pytest.mark.parametrize("seed", range(30))
def test_the_room_ahead_is_that_of_fine_turns_in_space(seed):
    """Each place is turned about the plumb axis, then about the tube, by rotations in space."""
    rng = random.Random(seed)
    given = tilt((rng.uniform(80, 500), rng.uniform(-60, 100), rng.uniform(0, 250)), most=rng.uniform(5, 120),
                 lock=rng.uniform(0, 60), tube=(rng.uniform(0, 120), rng.uniform(-50, 120)))  # fmt: skip
    design = changed(
        roomy(), mounts__0__tilt=given, transom__rake=rng.uniform(0, 20), well__length=rng.uniform(150, 500),
        well__front_lean=rng.uniform(-15, 25), well__front_height=rng.uniform(-100, 150), well__floor_rise=rng.uniform(-3, 6),
    )  # fmt: skip
    front = sure(front_of(design, space(design), 0))
    point, tube = given.points[0], tube_at(design, 0)
    x0, z0 = (sure(point.radius) * f(math.radians(sure(point.angle))) for f in (math.sin, math.cos))
    lock, most, half = math.radians(sure(given.lock)), math.radians(sure(given.most)), sure(point.half_width)
    least, aside = math.inf, 0.0
    for i in range(25):
        turn = lock * (i / 12 - 1)
        for across in (-half, -half / 3, half / 3, half):
            x, y = x0 * math.cos(turn) - across * math.sin(turn), x0 * math.sin(turn) + across * math.cos(turn)
            aside = max(aside, abs(y))
            for k in range(121):
                by = most * k / 120
                at = tube[0] + x * math.cos(by) + z0 * math.sin(by), tube[1] - x * math.sin(by) + z0 * math.cos(by)
                least = min(least, by_lines(front, at))
    got = room_ahead(sweep_of(design, 0, 0), front)
    assert least - 8.0 <= got <= least + 1e-9
    assert aside - 1e-9 <= reach_aside(design, 0, 0) <= aside + 5.0


def by_lines(front, at):
    """Return the distance from the front, or the depth behind it, from its two lines alone."""
    past = (at[0] - front.lip[0]) * front.square[0] + (at[1] - front.lip[1]) * front.square[1]
    below = front.lip[1] - at[1]
    if past >= 0 and below >= 0:
        return -min(past, below)
    along = (at[0] - front.lip[0]) * front.square[1] - (at[1] - front.lip[1]) * front.square[0]  # down the front
    if along >= 0 and past < 0:
        return -past
    if at[0] >= front.lip[0]:
        return -below
    return math.dist(at, front.lip)


def test_the_most_of_a_turn():
    for along, across, lock in ((100.0, 50.0, 60.0), (100.0, 50.0, 10.0), (-100.0, 50.0, 40.0), (0.0, 0.0, 30.0)):
        tried = [along * math.cos(math.radians(lock * k / 5000)) + across * math.sin(math.radians(lock * k / 5000))
                 for k in range(5001)]  # fmt: skip
        assert most_turned(along, across, math.radians(lock)) == pytest.approx(max(tried), abs=1e-4)


def test_the_sides_follow_a_knee_in_the_well():
    knee = ((-320, 0), (-320, -60), (-260, -100), (-250, -261), (300, -261), (320, 0))
    design = upright(tilt((200.0, 90.0, 40.0), most=90.0), well__profile=knee, well__fillet_radius=0.0)
    port, starboard = sides_of(design, space(design), [sweep_of(design, 0, 0)])
    assert (port, starboard) == pytest.approx((-260.0 + 10.0 * 21.9 / 161.0, 320.0 - 20.0 * 121.9 / 261.0), abs=1e-6)


def test_two_motors_turned_toward_each_other():
    """700 apart, each 200·sin 30° + 100·cos 30° = 186.6025 aside: 326.7949 between them."""
    given = tilt((math.hypot(200.0, 200.0), 45.0, 100.0), lock=30.0)
    design = changed(twin_design(), mounts__0__tilt=given, mounts__1__tilt=given)
    at = "port motor and starboard motor / sweeps"
    assert value(design, "lock_room", at) == pytest.approx(326.7949, abs=0.001)
    nearer = changed(design, mounts__0__offset=-180.0, mounts__1__offset=180.0)
    finding = sure(check(nearer).of("lock_room", at))
    assert finding.value == pytest.approx(-13.2051, abs=0.001)
    assert finding.state == "fouled"
    rows = [row.title for row in findings_rows(check(nearer)) if row.first is finding or row.first.at == at]
    assert rows == ["Room between turned motors"]
    assert sure(check(changed(design, mounts__1__tilt=NO_TILT)).of("lock_room", at)).text == (
        "The room between the turned port motor and starboard motor is not checked: cowl point 1, radius is not measured."
    )


@pytest.mark.parametrize("path", [
    "mounts.0.tilt.tube.0", "mounts.0.tilt.tube.1", "mounts.0.tilt.most", "mounts.0.tilt.lock", "mounts.0.tilt.points.0.radius",
    "mounts.0.tilt.points.0.angle", "mounts.0.tilt.points.0.half_width", "well.front_height", "well.length", "transom.rake",
])  # fmt: skip
def test_a_missing_value_is_a_note_that_names_the_reading(path):
    design = upright(tilt((420.0, 0.0, 50.0), lock=20.0))
    row = sure(measure(design, path))
    finding = sure(check(row.set(design, None)).of("tilt_room", MOTOR))
    assert (finding.state, finding.value) == ("note", None)
    name = f"{row.name[0].lower()}{row.name[1:]}"
    assert finding.text == f"The room to tilt the main motor is not checked: {name} is not measured."


def test_a_fouled_tilt_is_for_the_launch_and_stops_no_hole():
    design = upright(tilt((420.0, 0.0, 0.0), most=100.0))
    checked = with_spreads(check(design))
    finding = sure(checked.of("tilt_room", MOTOR))
    assert (finding.state, finding.least, finding.advised) == ("fouled", 0.0, 25.0)
    assert finding.text.startswith("The tilted main motor overlaps the front of the well by 12 mm.")
    assert sure(finding.spread) > 0.5
    assert drillable(checked).answer == drillable(with_spreads(check(upright(NO_TILT)))).answer
    assert answer(checked).sentence.endswith(" Before you launch: room to tilt the motor.")


def test_the_states_by_the_limits():
    given = tilt((420.0, 0.0, 0.0), most=90.0)
    boats = [upright(given, well__front_height=78.1 - room) for room in (-0.01, 0.0, 24.99, 25.0)]
    assert [sure(check(boat).of("tilt_room", MOTOR)).state for boat in boats] == ["fouled", "tight", "tight", "clear"]


def test_without_a_well_there_is_nothing_to_hit_and_a_clamp_on_motor_is_checked_too():
    assert check(changed(upright(tilt((420.0, 0.0, 0.0))), well=None)).of("tilt_room", MOTOR) is None
    small = clamp_on_mount(tilt=tilt((420.0, 0.0, 0.0), most=90.0))
    design = replace(upright(NO_TILT), mounts=(small,))
    assert hook_above_datum(small, 0) == 0.0
    assert value(design, at="small motor") == pytest.approx(10.0, abs=1e-6)  # 40 above the datum, the lip 30


def test_a_point_is_typed_on_the_card_and_forgotten():
    design = example_design()
    for key, text in (("radius", "16 in"), ("angle", "10"), ("half_width", "7 in")):
        design = typed(design, f"mounts.0.tilt.points.0.{key}", text)
    (point,) = design.mounts[0].tilt.points
    assert (point.radius, point.angle, point.half_width) == pytest.approx((406.4, 10.0, 177.8))
    assert measure(design, "mounts.0.tilt.points.1.radius") is not None
    for key in ("radius", "angle", "half_width"):
        design = typed(design, f"mounts.0.tilt.points.0.{key}", "")
    assert design.mounts[0].tilt == NO_TILT


@pytest.mark.parametrize(("rake", "thick"), [(0.0, 44.0), (14.0, 44.0), (14.0, 60.0), (20.0, 30.0)])
def test_the_sides_are_those_at_the_height_of_the_lowest_place_of_the_motor(rake, thick):
    """Level floor: where the port wall is as high as that place. The wall goes inward by 80 from its top to the floor."""
    knee = ((-330, 0), (-320, -20), (-240, -250), (300, -261), (320, 0))
    design = upright(
        tilt((200.0, 90.0, 40.0), most=90.0), well__profile=knee, well__fillet_radius=0.0, transom__rake=rake,
        transom__thickness__top=thick, transom__thickness__low=thick,
    )  # fmt: skip
    within, sweep, face = space(design), sweep_of(design, 0, 0), faces(design.transom)
    lowest = sweep.lowest((0.0, 1.0))
    heights = [face.level_point(*face.face_point(w, 0.0))[1] for w in (0.0, -200.0)]
    w = (lowest - heights[0]) / (heights[1] - heights[0]) * -200.0
    (edge,) = [each for each in within.edges if {each.a[0], each.b[0]} == {-320.0, -240.0}]
    (ua, wa), (ub, wb) = edge.a, edge.b
    assert min(wa, wb) < w < max(wa, wb)
    port, _ = sides_of(design, within, [sweep])
    assert port == pytest.approx(ua + (w - wa) / (wb - wa) * (ub - ua), abs=1e-6)
