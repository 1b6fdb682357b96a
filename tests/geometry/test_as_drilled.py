"""The holes as drilled: checked again, the bracket on them, and which hole to ease."""

import math

import pytest
from msgspec.structs import replace

from app.entries.typed_entries import typed
from geometry.design.drilled_hole import DrilledHole
from geometry.design.validity import NonsenseError
from geometry.design_text import fingerprint, from_text, to_text
from geometry.drilling.as_drilled import check_drilled, is_drilled, off_plan, on_holes, placed, worse_as_drilled
from geometry.drilling.as_drilled_words import bracket_words, moved, summary
from geometry.edits.edits import remove_mount, set_units
from geometry.judge.check import check
from geometry.readings.drilled_readings import HOLES, drilled_key, drilled_readings, with_drilled, without_drilled
from geometry.readings.measures import measure
from geometry.solid.faces import Unmeasured, profile_up
from geometry.solid.placed_bolts import bolts
from tests.designs import changed, clamp_on_mount, example_design, roomy, twin_design

NEAR = 1e-6


def drilled(design=None, **off):
    """Return a boat drilled as planned, but for some holes: lower_port=(across, up) off at both ends [mm]."""
    return both_ends(design, {name: (move, move) for name, move in off.items()})


def both_ends(design=None, off=None):
    """Return the same with other moves of outer and inner end."""
    design = with_drilled(example_design() if design is None else design, 0)
    plan = {bolt.name: bolt for bolt in bolts(design)}
    made = []
    for each in design.as_drilled:
        bolt = plan[each.hole]
        outer, inner = (off or {}).get(each.hole.replace(" ", "_"), ((0.0, 0.0), (0.0, 0.0)))
        up = profile_up(bolt.faces, design.well)
        made.append(replace(each, outer=(bolt.u + outer[0], bolt.v + outer[1]),
                            inner=(bolt.exit.u + inner[0], bolt.exit.w - up + inner[1])))  # fmt: skip
    return replace(design, as_drilled=tuple(made))


def values(checked):
    return {place: finding.value for place, finding in checked.by_place.items()}


def test_holes_drilled_as_planned_have_the_findings_of_the_plan():
    design = drilled()
    now, plan = values(check_drilled(design)), values(check(design))
    assert now.keys() == plan.keys()
    for place, value in plan.items():
        assert now[place] == (None if value is None else pytest.approx(value, abs=1e-6)), place


def test_the_plan_its_findings_and_its_printed_number_stay():
    design = drilled(lower_port=(3.0, -4.0))
    assert values(check(design)) == values(check(example_design()))
    assert fingerprint(design) == fingerprint(example_design())
    read = typed(design, drilled_key(0, "lower port", "outer.1"), "8 3/4")
    assert read.as_drilled[0].outer[1] == pytest.approx(-8.75 * 25.4)
    assert fingerprint(read) == fingerprint(example_design())
    assert from_text(to_text(read)) == read


def test_a_lower_exit_takes_its_washer_nearer_the_floor():
    """By hand: the worked example's floor is level along the face, and each mm lower is a mm less room. 2.16 is planned."""
    now, plan = check_drilled(drilled(lower_port=(0.0, -1.5))), check(example_design())
    place = "washer", "main motor / lower port"
    assert now.by_place[place].value == pytest.approx(plan.by_place[place].value - 1.5, abs=1e-6)
    other = "washer", "main motor / lower starboard"
    assert now.by_place[other].value == pytest.approx(plan.by_place[other].value, abs=1e-6)
    assert check_drilled(drilled(lower_port=(0.0, -3.0))).by_place[place].state == "fouled"


def test_a_hole_that_leans_has_its_bolt_and_its_seat_lean():
    """By hand: an exit 1.5 mm lower through 44 mm leans 1.953 degrees. Across counts in the bodies, as wide as they reach."""
    down = both_ends(off={"lower_port": ((0.0, 0.0), (0.0, -1.5))})
    bolt = next(each for each in bolts(placed(down)) if each.name == "lower port")
    assert bolt.tilt == pytest.approx(-math.degrees(math.atan(1.5 / 44)), abs=1e-9)
    assert check_drilled(down).by_place["seat", "main motor / lower port"].value == pytest.approx(1.9525, abs=1e-3)
    across = both_ends(off={"lower_port": ((0.0, 0.0), (2.0, 0.0))})
    bolt = next(each for each in bolts(placed(across)) if each.name == "lower port")
    plan = next(each for each in bolts(across) if each.name == "lower port")
    socket, straight = bolt.body("socket"), plan.body("socket")
    assert bolt.sway == pytest.approx(2.0 / 44)
    assert socket.shape.radius == pytest.approx(straight.shape.radius + straight.end * 2.0 / 44)


def test_an_end_that_was_not_read_follows_the_plan_from_the_other():
    design = drilled(lower_port=(2.0, -1.0))
    outer = replace(design, as_drilled=tuple(replace(each, inner=(None, None)) for each in design.as_drilled))
    inner = replace(design, as_drilled=tuple(replace(each, outer=(None, None)) for each in design.as_drilled))
    whole = {bolt.name: bolt.exit for bolt in bolts(placed(design))}
    for part in (outer, inner):
        for bolt in bolts(placed(part)):
            assert (bolt.exit.u, bolt.exit.w) == pytest.approx((whole[bolt.name].u, whole[bolt.name].w), abs=1e-6)
    assert [each.lean for each in off_plan(outer, 0)] == [None] * 4
    assert all(each.inner is None for each in off_plan(outer, 0))


def test_off_the_plan_is_what_it_was_moved_by():
    design = both_ends(off={"lower_port": ((1.0, -2.0), (3.0, -5.0))})
    off = {each.name: each for each in off_plan(design, 0)}
    assert off["lower port"].outer == pytest.approx((1.0, -2.0), abs=NEAR)
    assert off["lower port"].inner == pytest.approx((3.0, -5.0), abs=NEAR)
    assert off["lower port"].most == pytest.approx(math.hypot(3.0, 5.0), abs=NEAR)
    assert off["lower port"].lean == pytest.approx(math.degrees(math.hypot(math.atan(3 / 44), math.atan(2 / 44))), abs=1e-3)
    assert off["upper port"].most == pytest.approx(0.0, abs=NEAR)


def test_a_bracket_goes_on_holes_as_planned_and_all_moved_alike():
    """By hand: 13.5 mm holes in both and a 12.7 mm bolt leave 0.8 mm to each side; all moved alike changes nothing."""
    assert on_holes(drilled(), 0).excess == pytest.approx(-0.8, abs=2e-3)  # slid down off the slot's end: as much all round
    alike = {f"{pair}_{side}": (5.0, -3.0) for pair, side in HOLES}
    assert on_holes(drilled(**alike), 0).excess == pytest.approx(on_holes(drilled(), 0).excess, abs=1e-4)


def test_the_hole_to_ease_is_the_one_that_is_off_and_it_is_eased_back():
    """By hand: the upper starboard hole 2 mm too far out. Two bolts share it: 1 mm each, and 0.8 mm is there. 0.4 is filed."""
    held = on_holes(drilled(upper_starboard=(2.0, 0.0)), 0)
    assert held.excess == pytest.approx(0.2, abs=2e-3)
    best = held.easings[0]  # the upper port one would need more: the lower bolts keep the bracket from moving across
    assert (best.name, best.kind) == ("upper starboard", "ease")
    assert best.by == pytest.approx(0.4, abs=5e-3)
    assert (best.across, best.up) == pytest.approx((-1.0, 0.0), abs=0.02)
    assert held.chance < 0.5


def test_a_hole_that_is_far_off_is_plugged_and_drilled_again():
    """By hand: 4 mm too far out asks for 2.4 mm of filing. 13.5 mm and that is far over 14.3 mm, the bolt's normal hole."""
    far = {each.name: each for each in on_holes(drilled(upper_starboard=(4.0, 0.0)), 0).easings}
    assert far["upper starboard"].by == pytest.approx(2.4, abs=0.02)
    assert far["upper starboard"].kind == "plug"


def test_an_eased_hole_lets_the_bracket_go_on():
    design = drilled(upper_starboard=(2.0, 0.0))
    wider = tuple(replace(each, diameter=13.5 + 0.82) if each.hole == "upper starboard" else each for each in design.as_drilled)
    assert on_holes(replace(design, as_drilled=wider), 0).excess <= 0.0


def test_a_lean_takes_play():
    """By hand: half of a 12 mm bracket, 2 in 44 across: 0.273 mm of the 0.8 are gone, and the place is as much off."""
    straight, leaning = on_holes(drilled(), 0), on_holes(both_ends(off={"upper_port": ((0.0, 0.0), (2.0, 0.0))}), 0)
    assert straight.excess + 0.1 < leaning.excess < straight.excess + 0.3


def test_without_an_outer_end_the_bracket_is_not_judged():
    design = drilled()
    lacking = tuple(
        replace(each, outer=(each.outer[0], None)) if each.hole == "lower port" else each for each in design.as_drilled
    )
    with pytest.raises(Unmeasured) as missing:
        on_holes(replace(design, as_drilled=lacking), 0)
    assert missing.value.key == drilled_key(0, "lower port", "outer.1")


def test_the_card_has_the_readings_once_they_are_to_be_entered():
    assert drilled_readings(example_design()) == []
    design = with_drilled(example_design(), 0)
    assert len(drilled_readings(design)) == 32
    row = measure(design, drilled_key(0, "lower port", "outer.1"))
    entered = row.set(design, 215.0)
    assert row.get(entered) == 215.0
    assert entered.as_drilled[0].outer == (None, -215.0)
    assert without_drilled(entered, 0) == example_design()


def test_as_drilled_of_a_boat_with_a_wider_hole_counts_it():
    wider = changed(drilled(), as_drilled__0__diameter=15.0)
    assert next(bolt.hole for bolt in bolts(placed(wider)) if bolt.name == "lower port") == 15.0


def test_a_motor_that_is_removed_takes_its_holes_along_and_another_keeps_them():
    twins = with_drilled(with_drilled(twin_design(), 0), 1)
    assert {each.mount for each in remove_mount(twins, 0).as_drilled} == {0}
    assert len(remove_mount(twins, 0).as_drilled) == 4


def test_a_motor_that_clamps_on_has_no_holes_as_drilled():
    clamped = replace(drilled(), mounts=(clamp_on_mount(),))
    assert not is_drilled(clamped, 0)
    assert check_drilled(clamped).findings == check(clamped).findings


def test_a_hole_of_no_motor_and_a_hole_twice_are_refused():
    design = drilled()
    with pytest.raises(NonsenseError, match="as_drilled names a motor that is not there"):
        replace(design, as_drilled=(replace(design.as_drilled[0], mount=1),))
    with pytest.raises(NonsenseError, match="one hole twice"):
        replace(design, as_drilled=(design.as_drilled[0], design.as_drilled[0]))


@pytest.mark.parametrize(("end", "unit", "words"), [
    ((1.6, -3.2), "in", "1/16 in to starboard, 1/8 in down"), ((-3.0, 2.0), "mm", "3 mm to port, 2 mm up"),
    ((0.3, -0.3), "in", "as planned"), ((0.0, -1.6), "in", "1/16 in down"), (None, "mm", "not read"),
])  # fmt: skip
def test_an_end_that_is_off_its_plan_is_said_by_sides(end, unit, words):
    """u grows to starboard, v upward. Less than 1/64 in or 0.5 mm is as planned."""
    assert moved(end, unit) == words


def own(design, hole="lower_port", **sizes):
    """Return a design with one hole's own washer, flat cut or socket [mm]."""
    name = hole.replace("_", " ")
    holes = (replace(each, **sizes) if each.hole == name else each for each in design.as_drilled)
    return replace(design, as_drilled=tuple(holes))


def room(design, part="washer", hole="lower port"):
    return check_drilled(design).by_place[part, f"main motor / {hole}"].value


def test_a_hole_can_have_its_own_washer_and_only_that_hole():
    """By hand: a washer 6 mm narrower has 3 mm more room below it. A cut at 14 mm leaves 38.1 / 2 - 14 mm more."""
    low = drilled(lower_port=(0.0, -3.0))
    assert room(own(low, washer=38.1 - 6.0)) == pytest.approx(room(low) + 3.0, abs=1e-6)
    assert room(own(low, flat_cut=14.0)) == pytest.approx(room(low) + 38.1 / 2 - 14.0, abs=1e-6)
    assert room(own(low, washer=32.1), hole="lower starboard") == pytest.approx(room(low, hole="lower starboard"), abs=1e-6)
    assert room(own(low, socket=22.0), "socket") == pytest.approx(room(low, "socket") + 2.0, abs=1e-6)
    assert check(own(low, washer=32.1)).findings == check(low).findings


def test_the_findings_that_are_worse_than_in_the_plan():
    assert worse_as_drilled(check(example_design())) is None
    assert not worse_as_drilled(check(drilled())).findings
    low = drilled(lower_port=(0.0, -3.0))
    plan = check(low)
    worse = worse_as_drilled(plan)
    places = {(finding.check, finding.at) for finding in worse.findings}
    assert ("washer", "main motor / lower port") in places
    assert all("port" in at and "starboard" not in at for _, at in places)
    assert ("washer", "main motor / lower port") not in {
        (finding.check, finding.at) for finding in worse_as_drilled(check(own(low, washer=32.1))).findings
    }


def test_the_words_name_what_a_hole_has_of_its_own():
    design = own(drilled(), washer=31.75, flat_cut=12.7)
    assert "Lower port, its own: washer 1 1/4 in across, flat cut at 1/2 in." in summary(design, 0)
    assert from_text(to_text(design)) == design


@pytest.mark.parametrize(("end", "axis", "name"), [
    ("outer", 0, "outer_across"), ("outer", 1, "outer_up"), ("inner", 0, "inner_across"), ("inner", 1, "inner_up"),
])  # fmt: skip
def test_an_end_far_off_every_boat_is_refused_by_its_name(end, axis, name):
    far = (1e6, 0.0) if axis == 0 else (0.0, 1e6)
    outer, inner = (far if end == each else (0.0, 0.0) for each in ("outer", "inner"))
    with pytest.raises(NonsenseError, match=f"^{name} is 1e"):
        DrilledHole(
            mount=0, pair="lower", side="port", outer=outer, inner=inner, diameter=None, washer=None, flat_cut=None,
            socket=None, how="tape",
        )  # fmt: skip


def test_a_bracket_that_goes_on_has_so_much_to_spare_and_easing_is_said_where_it_does_not():
    """A bolt of 12.7 in two holes of 13.5 leaves 0.4 and 0.4: 0.8 mm are 1/32 in. A hole 5 mm off takes more."""
    (goes_on,) = bracket_words(drilled(roomy()), 0)
    assert goes_on.startswith("The bracket goes on these holes, with 1/32 in to spare.")
    assert bracket_words(set_units(drilled(roomy()), "mm"), 0)[0].startswith(
        "The bracket goes on these holes, with 0.8 mm to spare."
    )
    assert bracket_words(drilled(roomy(), lower_port=(5.0, 0.0)), 0)[0].startswith("The bracket does not go on these holes.")
