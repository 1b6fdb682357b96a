"""The limits, spreads and assumptions of a design: the checks count with them, and the usual ones come back."""

import math

import pytest
from msgspec.structs import replace

from geometry.design.motor import RoomAft
from geometry.design.validity import NonsenseError
from geometry.design_text import fingerprint
from geometry.doubt.spreads import with_spreads
from geometry.edits.edits import enter, forget, set_units
from geometry.edits.starting_shapes import blank
from geometry.judge.check import check
from geometry.judge.joint_opening import clamp_left
from geometry.judge.loads import bolt_loads, ratios_to_old_motor
from geometry.judge.pressed_area import area_of
from geometry.judge.strength import post, torque_at_most
from geometry.judge.torque import drag, joint_clamp
from geometry.judge.wood_around_holes import filling
from geometry.readings import assumption_measures
from geometry.readings.assumption_measures import OWNER, changed, is_usual, rows, source_of, usual, whole, with_usual
from geometry.readings.measures import at_path, measure, put_path
from geometry.solid.placed_bolts import bolts
from geometry.tables.known import CHOICE, PRACTICE
from tests.designs import changed as with_values
from tests.designs import clamp_on_mount, example_design, sure, twin_design
from tests.geometry.test_judge_tilt_and_lock import tilt, upright

KEYS = [row.key for row in rows()]
NEAR = 1e-9


def assumed(**values):
    """Return the worked example with other assumptions."""
    design = example_design()
    return replace(design, assumptions=replace(design.assumptions, **values))


def off(key):
    """Return a step to another value that the limit's other end allows: a seat's limits are better when less."""
    return -0.1 if key.startswith("limits.seat") else 0.07


def test_a_new_boat_counts_with_these():
    """Typed again. Ours but for what is marked as common practice."""
    assert {key: usual(blank("in"), key) for key in KEYS} == pytest.approx({
        "assumptions.thrust_share": 0.55, "assumptions.reverse_share": 0.4, "assumptions.settling": 0.3,
        "assumptions.drag_share": 0.5, "assumptions.shaft_depth": 152.4, "assumptions.centre_aft": 304.8,
        "assumptions.reverse_edge": 12.7, "assumptions.epoxy": 55.0, "assumptions.spread_angle": 45.0,
        "assumptions.nut_bearing": 0.96, "assumptions.washer_spread": 5.0,
        "assumptions.wide_swing": 60.0, "assumptions.motor_centres": 660.4, "assumptions.large_centres": 723.9,
        "limits.clearance.0": 0.0, "limits.clearance.1": 3.175, "limits.edge_diameters.0": 1.5,
        "limits.edge_diameters.1": 4.0, "limits.wood_between_diameters.0": 0.5, "limits.wood_between_diameters.1": 1.0,
        "limits.seat_angle.0": 2.86, "limits.seat_angle.1": 1.0, "limits.slot_end.0": 0.0, "limits.slot_end.1": 0.8,
        "limits.top_edge.0": 44.45, "limits.top_edge.1": 50.8, "limits.socket_room.0": 0.0, "limits.socket_room.1": 25.4,
        "limits.feed.0": 0.0, "limits.feed.1": 12.7, "limits.outer_washer.0": 1.5, "limits.outer_washer.1": 1.85,
        "limits.motors.0": 0.0, "limits.motors.1": 25.0, "limits.tilt_room.0": 0.0, "limits.tilt_room.1": 25.0,
        "limits.lock_room.0": 0.0, "limits.lock_room.1": 25.0, "limits.plug_wall.0": 0.0, "limits.plug_wall.1": 6.35,
        "limits.washer_stiff.0": 0.4, "limits.washer_stiff.1": 0.6,
        "limits.clamp.0": 1.0, "limits.clamp.1": 0.75, "limits.pressure.0": 1.67, "limits.pressure.1": 1.0,
        "limits.joint.0": 1.0, "limits.joint.1": 0.75,
        "spreads.tape": 0.8, "spreads.well": 1.5, "spreads.rake": 0.5, "spreads.print": 0.3, "spreads.mark": 0.5,
        "spreads.drill_angle": 1.0, "spreads.washer": 0.75, "spreads.freehand": 1.143, "spreads.punched": 0.762,
        "spreads.block": 0.381, "spreads.jig": 0.127,
    }, abs=NEAR)  # fmt: skip
    practice = {"reverse_share", "settling", "shaft_depth", "centre_aft", "motor_centres", "large_centres"}
    sources = {key.removeprefix("assumptions."): source_of(blank(), key) for key in KEYS if key.startswith("assumptions.")}
    assert sources == {name: PRACTICE if name in practice else CHOICE for name in sources}


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("key", KEYS)
def test_a_new_boat_has_the_usual_values_in_its_unit(key, unit):
    assert at_path(blank(unit), key) == pytest.approx(usual(blank(unit), key), abs=NEAR)
    assert is_usual(blank(unit), key)
    assert is_usual(set_units(blank(unit), "mm" if unit == "in" else "in"), key)  # shown in the other unit, nobody changed it


def test_the_clearance_of_a_file_of_number_1_counts_as_usual():
    assert example_design().limits.clearance == (0.0, 2.0)
    assert changed(example_design()) == ()


def test_the_section_has_every_limit_spread_and_assumption():
    design = blank()
    listed = {key.split(".")[0] + "." + key.split(".")[1] for key in KEYS}
    groups = {f"{group}.{name}" for group in ("limits", "spreads", "assumptions")
              for name in getattr(design, group).__struct_fields__}  # fmt: skip
    assert listed == groups


@pytest.mark.parametrize("key", KEYS)
def test_an_emptied_entry_has_its_usual_value_back(key):
    design = blank()
    row = sure(measure(design, key))
    other = row.set(design, usual(design, key) + off(key))
    assert not is_usual(other, key)
    assert forget(other, row) == design


@pytest.mark.parametrize("key", KEYS)
def test_a_changed_value_goes_back_alone(key):
    design = put_path(put_path(blank(), "assumptions.epoxy", 70.0), "spreads.mark", 0.9)
    row = sure(measure(design, key))
    other = row.set(design, usual(design, key) + off(key)) if whole(key) not in changed(design) else design
    assert whole(key) in changed(other)
    assert source_of(other, key) == OWNER
    back = with_usual(other, (whole(key),))
    assert changed(back) == tuple(key_ for key_ in ("assumptions.epoxy", "spreads.mark") if key_ != key)
    assert with_usual(other, changed(other)) == blank()


def test_a_limit_that_is_far_off_goes_back_with_both_its_ends():
    """One end alone would be refused: a limit of 5 degrees, 4 advised, against the usual 2.86 and 1."""
    design = put_path(blank(), "limits.seat_angle", (5.0, 4.0))
    assert changed(design) == ("limits.seat_angle",)
    assert with_usual(design, changed(design)) == blank()


@pytest.mark.parametrize(
    ("key", "value"),
    [("limits.clearance.1", -1.0), ("limits.clearance.0", 4.0), ("limits.top_edge.0", 60.0), ("limits.seat_angle.1", 3.0),
     ("limits.edge_diameters.1", 1.0)],
)
def test_a_limit_stricter_than_what_is_advised_is_refused(key, value):
    """It would turn the limit around: less would be better, and a washer over the edge would be clear."""
    with pytest.raises(NonsenseError):
        sure(measure(blank(), key)).set(blank(), value)


@pytest.mark.parametrize(("key", "value"), [("thrust_share", 1.01), ("thrust_share", 0.0), ("settling", 0.95),
                                            ("epoxy", 0.5), ("spread_angle", 80.0), ("shaft_depth", -1.0)])  # fmt: skip
def test_an_assumption_beyond_its_range_is_refused(key, value):
    with pytest.raises(NonsenseError, match=key):
        assumed(**{key: value})


def test_a_share_is_typed_in_percent():
    design = example_design()
    row = sure(measure(design, "assumptions.reverse_share"))
    for text in ("35", "35 %", "35%"):
        assert enter(design, row, text).assumptions.reverse_share == pytest.approx(0.35, abs=NEAR)
    assert enter(design, row, "35").readings == design.readings  # a decision has no reading


def test_the_printed_number_changes_with_an_assumption():
    assert fingerprint(assumed(settling=0.25)) != fingerprint(example_design()) == fingerprint(assumed(settling=0.3))


# Each value by hand. The example: 29.8 kW, 98 kg, shaft 508 mm, hook 38.1 mm up, bracket 350 mm deep.


def test_the_thrust_goes_with_its_share_to_two_thirds():
    """T = (2 ρ A (η P)²)^(1/3): at 0.6 for 0.55 it is (0.6/0.55)^(2/3) of it."""
    before, after = (bolt_loads(design, 0).thrust for design in (example_design(), assumed(thrust_share=0.6)))
    assert after.value / before.value == pytest.approx((0.6 / 0.55) ** (2 / 3), rel=1e-9)
    assert "55 % of its power used, our assumption" in before.source
    assert "60 % of its power used, set by the owner" in after.source


def test_the_reverse_thrust_its_edge_and_the_shaft_pull_the_lower_pair():
    """2 F l = R (a) - W e: with the lever l from the edge to the lower pair, and the arm a from the edge to the shaft."""
    for values in ({}, {"reverse_share": 0.5}, {"reverse_edge": 25.4}, {"shaft_depth": 200.0}, {"centre_aft": 250.0}):
        design = assumed(**values)
        loads, now = bolt_loads(design, 0), design.assumptions
        lever = 50.8 + 165.1 - now.reverse_edge
        arm = 508.0 + now.shaft_depth - 38.1 - now.reverse_edge
        pull = now.reverse_share * loads.thrust.value * arm - 98 * 9.80665 * now.centre_aft
        assert loads.lower == pytest.approx(pull / lever / 2, abs=1e-6), values


def test_the_old_motors_balance_point_is_the_usual_one_too():
    design = with_values(assumed(centre_aft=250.0), boat__old_motor__mass=98.0, mounts__0__centre_aft=500.0)
    assert ratios_to_old_motor(design).moment == pytest.approx(2.0, abs=NEAR)


def test_settling_and_the_drag_that_counts_lessen_the_clamp():
    """47.5 N m, drag 0 to 23.05 N m, friction 0.18, 12.7 mm."""
    for settling, share in ((0.3, 0.5), (0.2, 0.5), (0.3, 1.0), (0.3, 0.0)):
        bolt = bolts(assumed(settling=settling, drag_share=share))[2]
        clamp = (47.5 - share * sure(drag(bolt).most)) / (0.18 * 0.0127)
        assert joint_clamp(bolt) == pytest.approx(clamp, rel=1e-9)
        assert clamp_left(bolt) == pytest.approx((1 - settling) * clamp, rel=1e-9)


def test_a_measured_drag_comes_before_the_drag_share():
    measured = with_values(assumed(drag_share=1.0), mounts__0__lower_hardware__running_torque=5.0)
    assert joint_clamp(bolts(measured)[2]) == pytest.approx((47.5 - 5.0) / (0.18 * 0.0127), rel=1e-9)


def test_the_epoxys_strength_carries_a_filled_hole():
    assert post(bolts(assumed(epoxy=40.0))[2]) == pytest.approx(40 / 55 * post(bolts(example_design())[2]), rel=1e-9)


def test_the_spread_angle_widens_what_the_washer_presses():
    """4 mm of skin at 30°: 2.309 mm more radius. The 38.1 mm washer is 3 mm thick, 0.63 of an eighth: it does not bend."""
    radius = 38.1 / 2 + 4.0 * math.tan(math.radians(30))
    pressed = area_of(bolts(assumed(spread_angle=30.0))[2])
    assert pressed == pytest.approx(math.pi * radius**2 - math.pi / 4 * 13.5**2, rel=1e-9)
    flat = check(assumed(spread_angle=0.0)).of("pressure", "main motor / lower port")
    assert sure(flat.value) > sure(check(example_design()).of("pressure", "main motor / lower port").value)


def test_the_pull_on_the_bolts_follows_from_the_thrust_share():
    before, after = (check(design).of("joint", "main motor") for design in (example_design(), assumed(thrust_share=0.8)))
    assert sure(after.value) > 1.1 * sure(before.value)
    assert after.text != before.text


def test_a_wider_spread_makes_a_washer_less_sure():
    before, after = (with_spreads(check(put_path(example_design(), "spreads.well", spread))) for spread in (1.5, 4.0))
    place = "washer", "main motor / lower port"
    assert sure(after.of(*place).spread) > 1.5 * sure(before.of(*place).spread)


def test_a_clamp_on_motor_has_the_section_too():
    design = replace(example_design(), mounts=(clamp_on_mount(),))
    assert [row.key for row in assumption_measures.of_assumptions(design)] == KEYS


OTHER_LIMITS = {
    "socket_room": (5.0, 300.0), "feed": (2.0, 300.0), "outer_washer": (1.2, 6.0), "motors": (3.0, 300.0),
    "washer_stiff": (0.1, 3.0), "clamp": (2.0, 0.01), "pressure": (3.0, 0.01), "joint": (2.0, 0.01),
}  # fmt: skip


@pytest.mark.parametrize("name", OTHER_LIMITS)
def test_a_check_has_the_limits_of_the_design(name):
    """The advised end is so strict that each of the check's values is tight; the other end lets it pass."""
    room = {f"mounts__{index}__bracket__room_aft": RoomAft(upper=250.0, lower=250.0) for index in (0, 1)}
    places = {"mounts__0__offset": -300.0, "mounts__1__offset": 300.0, "well__length": 250.0}
    design = with_values(twin_design(), **room, **places)
    before = [f for f in check(design).findings if f.check == name and f.value is not None and f.least is not None]
    after = [f for f in check(replace(design, limits=replace(design.limits, **{name: OTHER_LIMITS[name]}))).findings
             if f.check == name and f.value is not None and f.least is not None]  # fmt: skip
    assert before
    assert len(before) == len(after)
    assert {(f.least, f.advised) for f in after} == {OTHER_LIMITS[name]}
    assert {f.state for f in after} == {"tight"}
    assert {(f.least, f.advised) for f in before} == {getattr(example_design().limits, name)}


def test_torques_follow_the_limits_of_clamp_and_pressure():
    """Torque less drag goes with the share of the proof load, and with the pressure on the core."""
    bolt = bolts(example_design())[0]
    looser = bolts(put_path(put_path(example_design(), "limits.clamp", (1.2, 0.75)), "limits.pressure", (3.34, 1.0)))[0]
    for name, times in (("clamp", 1.2), ("pressure", 2.0)):
        assert torque_at_most(looser, name) == pytest.approx(times * torque_at_most(bolt, name), rel=1e-6), name


def test_a_washer_bends_below_its_limit():
    """3 mm thick and 38.1 wide: a stiffness of 0.63. With a limit of 0.65 only its middle counts."""
    bolt, bent = (bolts(put_path(example_design(), "limits.washer_stiff", limits))[0] for limits in ((0.4, 0.6), (0.65, 0.7)))
    assert area_of(bent) < area_of(bolt) - 100.0


def test_the_middles_of_motors_and_the_swing_that_is_advised():
    twins = twin_design()  # 700 mm apart
    assert not [f for f in check(twins).findings if f.at.endswith("centrelines")]
    for name in ("motor_centres", "large_centres"):
        powered = with_values(twins, mounts__0__power_kw=120.0 if name == "large_centres" else 20.0, mounts__1__power_kw=20.0)
        wider = replace(powered, assumptions=replace(powered.assumptions, motor_centres=660.4, large_centres=660.4))
        assert not [f for f in check(wider).findings if f.at.endswith("centrelines")]
        wider = replace(wider, assumptions=replace(wider.assumptions, **{name: 750.0}))
        assert [f.state for f in check(wider).findings if f.at.endswith("centrelines")] == ["note"]
    spanner = {"mounts__0__lower_hardware__socket": None, "mounts__0__lower_hardware__spanner__length": 150.0,
               "mounts__0__lower_hardware__spanner__handle": 16.0}  # fmt: skip
    turned = with_values(assumed(wide_swing=75.0), **spanner)
    assert {f.advised for f in check(turned).findings if f.check == "spanner"} == {75.0}


def test_how_wide_a_bent_washer_presses():
    """A washer of 38.1 x 0.5 bends. Its nut is 19.1008 across: with 0.9 of it and 8 thicknesses 21.19 presses, by hand."""
    thin = {"mounts__0__lower_hardware__washer__thickness": 0.5}
    design = with_values(assumed(nut_bearing=0.9, washer_spread=8.0), **thin)
    across = 0.9 * 19.1008 + 8 * 0.5 + 2 * 4.0  # 4 mm of skin at 45 degrees
    assert area_of(bolts(design)[2]) == pytest.approx(math.pi / 4 * (across**2 - 13.5**2), rel=1e-6)
    for name, value in (("nut_bearing", 0.9), ("washer_spread", 8.0)):
        usual_, other = (with_values(base, **thin) for base in (example_design(), assumed(**{name: value})))
        before, after = (check(each).of("pressure", "main motor / lower port") for each in (usual_, other))
        assert after.value != pytest.approx(before.value, rel=1e-3), name


@pytest.mark.parametrize(("name", "point", "value"), [
    ("tilt_room", (380.0, 0.0, 0.0), math.hypot(24.0, 48.1)),  # 24 from the front, 48.1 over its lip
    ("lock_room", (200.0, 90.0, 240.0), 320.0 - 20.0 * 121.9 / 261.0 - 240.0),  # 121.9 down, where the side has come in
])  # fmt: skip
def test_room_to_tilt_and_turn_has_the_limits_of_the_design(name, point, value):
    design = upright(tilt(point, most=90.0), well__fillet_radius=0.0)
    for limits, state in (((0.0, 25.0), "clear"), ((0.0, 100.0), "tight"), ((90.0, 100.0), "fouled")):
        finding = check(put_path(design, f"limits.{name}", limits)).of(name, "main motor")
        assert finding.value == pytest.approx(value, abs=0.001)
        assert (finding.least, finding.advised, finding.state) == (*limits, state)


def test_the_wall_of_a_plug_has_the_limits_of_the_design():
    """The example's plug of 25.4 is 38.1 above the lower starboard bolt, whose hole is 13.5: 38.1 - 12.7 - 6.75 = 18.65."""
    place = "old_hole", "main motor / lower starboard / old lower starboard"
    for limits, state in (((0.0, 6.35), "clear"), ((0.0, 20.0), "tight"), ((19.0, 20.0), "fouled")):
        finding = check(put_path(example_design(), "limits.plug_wall", limits)).of(*place)
        assert finding.value == pytest.approx(18.65, abs=0.05)
        assert (finding.least, finding.advised, finding.state) == (*limits, state)


def test_a_thicker_wall_makes_a_plug_wider():
    """The hole, 13.5, with 6.35 at each side takes a plug of 26.2, next size 1 1/8 in; with 8 it takes 29.5, 1 1/4 in."""
    design = example_design()
    bolt = next(bolt for bolt in bolts(design) if bolt.name == "lower starboard")
    hole = replace(design.old_holes[0], at=(bolt.u, bolt.v), diameter=12.7, state="open", plug_diameter=None)
    for wall, inches_ in ((6.35, 1.125), (8.0, 1.25)):
        filled = filling(hole, 0, put_path(design, "limits.plug_wall", (0.0, wall)), bolt)
        assert sure(filled).bore == pytest.approx(inches_ * 25.4)
