"""The one gate: whether holes may be drilled, and why not."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.design.design import Reading
from geometry.design.validity import NonsenseError
from geometry.design_text import from_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import SURE, FirstPilot, drillable, stops_the_paper
from geometry.readings.measures import measure, measures
from geometry.readings.pilots import with_pilot
from geometry.solving.next_pilot import next_pilot
from tests.designs import changed, clamp_on_mount, example_design, roomy, sure, twin_design

LOWER = "main motor / lower port"
LAUNCH = {"feed", "tilt_room", "lock_room", "saddle", "height", "power", "reading", "joint", "washer_stiff", "weight"}
"""Checks that are said before the launch and keep nobody from drilling."""


def answered(design):
    return drillable(with_spreads(check(design)))


def guessed(design, *keys):
    readings = dict(design.readings)
    for key in keys:
        readings[key] = Reading(text="", value=None, from_="centre", how="tape", state="guess", spread=None, second=None)
    return replace(design, readings=readings)


def test_every_check_either_stops_the_paper_or_is_said_before_the_launch():
    assert {kind.key for kind in CHECK_KINDS.values() if kind.stops == "never"} == LAUNCH
    assert {kind.key for kind in CHECK_KINDS.values() if kind.stops == "over its limit"} == {
        "clamp",
        "pressure",
        "left_pilot",
    }


def test_a_measured_boat_with_room_may_be_drilled():
    answer = answered(roomy())
    assert (answer.answer, answer.reasons, answer.why_not) == ("yes", (), "")


def test_without_chances_no_boat_may_be_drilled():
    answer = drillable(check(roomy()))
    assert answer.answer == "no"
    assert [reason.kind for reason in answer.reasons] == ["not calculated"]


def test_the_demonstration_may_never_be_drilled():
    answer = answered(roomy(demonstration=True))
    assert answer.answer == "no"
    assert answer.why_not == "This is a demonstration boat, not yours."


NOT_KNOWN = {  # each was printed without the band before, though the window said "Don't drill yet"
    "row": "mounts__0__row",
    "lower pad": "mounts__0__bracket__lower__pad_thickness",
    "old hole's place": "old_holes__0__at",
    "bracket's corner": "mounts__0__bracket__outline",
    "well's length": "well__length",
}


@pytest.mark.parametrize("name", NOT_KNOWN)
def test_what_is_not_known_stops_the_paper(name):
    value = {
        "old_holes__0__at": (None, -254.0),
        "mounts__0__bracket__outline": ((None, 0), (190, 0), (150, -350), (-150, -350)),
    }
    path = NOT_KNOWN[name]
    answer = answered(roomy(**{path: value.get(path)}))
    assert answer.answer == "no"
    assert {reason.kind for reason in answer.reasons} == {"unknown"}


def test_little_chance_of_room_lets_one_pilot_be_drilled_and_says_what_to_do():
    """The worked example's lower washers clear by 2.2 mm with a spread of 2.2: a chance of about 0.83."""
    checked = with_spreads(check(example_design()))
    chance = checked.of("washer", LOWER).chance
    assert 0.7 < chance < SURE
    answer = drillable(checked)
    assert answer.answer == "pilot only"
    assert answer.pilot == FirstPilot(0, "lower port", "washer mark")
    assert (answer.reasons[0].kind, answer.reasons[0].key) == ("pilot", answer.pilot.key)
    assert answer.why_not == (
        "Drill one pilot only, at the lower port hole. Measure from it to the washer’s mark, inside. Type that in, then print "
        "again."
    )
    first = answer.reasons[1]
    assert (first.kind, first.key) == ("doubt", "well.floor_port")
    assert first.text.endswith("Measure floor depth at port again, or add 1/8 in of room.")
    assert "in only 83 of 100 cases" in first.text


def floor_up(by):
    """Return the roomy boat with its floor up, and its answer."""
    design = roomy()
    profile = tuple((u, y if y == 0 else (y or 0.0) + by) for u, y in sure(design.well).profile)
    return changed(design, well__profile=profile)


def read(design, hole, off=0.0, to="washer mark"):
    """Return a design with a pilot that was drilled and read, ``off`` mm more than it should be."""
    expected = next_pilot(design, 0, hole, to).expected
    return with_pilot(design, 0, hole, to=to, value=expected + off)


def test_under_a_chance_of_70_percent_not_even_a_pilot_is_drilled():
    """With 1 mm of room and a spread of 2.2 the chance is 0.67; with 1.5 mm it is 0.75."""
    for room, expected in ((1.0, "no"), (1.5, "pilot only")):
        present = sure(check(roomy()).of("washer", LOWER)).value
        checked = with_spreads(check(floor_up(present - room)))
        chance = sure(checked.of("washer", LOWER)).chance
        assert (chance >= 0.7) == (expected == "pilot only")
        assert drillable(checked).answer == expected


def test_the_first_pilot_is_at_the_hole_with_the_lowest_chance_then_at_the_other_and_then_all_are_drilled():
    present = sure(check(roomy()).of("washer", LOWER)).value
    design = floor_up(present - 3.3)
    starboard = measure(design, "well.floor_starboard")
    assert starboard is not None
    design = starboard.set(design, starboard.get(design) - 0.6)  # a shallower floor at starboard
    asked = []
    for _ in range(3):
        answer = answered(design)
        if answer.pilot is None:
            break
        asked.append(answer.pilot.hole)
        design = read(design, answer.pilot.hole)
    assert asked == ["lower starboard", "lower port"]
    assert answered(design).answer == "yes"


def test_a_pilot_that_finds_less_room_than_the_readings_leaves_no_second_pilot_to_ask():
    present = sure(check(roomy()).of("washer", LOWER)).value
    design = floor_up(present - 2.5)
    for hole in ("lower port", "lower starboard"):
        design = read(design, hole, -1.8)
    answer = answered(design)
    assert answer.answer == "no"
    assert {reason.kind for reason in answer.reasons} == {"doubt"}


def test_a_demonstration_or_a_guess_asks_for_no_pilot():
    assert answered(example_design()).answer == "pilot only"
    assert answered(changed(example_design(), demonstration=True)).pilot is None
    assert answered(guessed(example_design(), "well.floor_port")).answer == "no"


def test_the_distance_is_measured_to_what_is_in_the_way():
    """In a narrow well the sides are in the way: a washer mark below would say nothing."""
    design = roomy()
    narrow = tuple((u * 0.62, y) for u, y in sure(design.well).profile)
    near_wall = answered(changed(design, well__profile=narrow))
    assert (near_wall.answer, sure(near_wall.pilot).to) == ("pilot only", "wall")


def test_the_room_that_is_asked_for_is_enough():
    """Which wrong program this catches: one that names too little room, so that the owner is refused again."""
    deeper = example_design()
    profile = tuple((u, y if y == 0 else y - 25.4 / 8) for u, y in sure(deeper.well).profile)
    answer = answered(changed(deeper, well__profile=profile))
    assert not [reason for reason in answer.reasons if reason.kind == "doubt" and reason.finding.check == "washer"]


def test_a_guess_that_can_turn_nothing_stops_nothing():
    free = ("transom.height", "transom.skin_outside", "mounts.0.leg", "mounts.0.bracket.room_aft.upper", "transom.deadrise")
    assert answered(guessed(roomy(), *free)).answer == "yes"


@pytest.mark.parametrize("key", ["well.floor_port", "well.fillet_radius"])
def test_a_guess_that_can_turn_a_washer_stops_the_paper(key):
    answer = answered(guessed(roomy(), key))
    assert answer.answer == "no"
    assert [(reason.kind, reason.key) for reason in answer.reasons] == [("guess", key)]
    assert answer.why_not.endswith("is only a guess, and the answer rests on it. Measure it.")
    assert answer.why_not[0].isupper()


def test_a_guessed_shape_counts_as_all_its_numbers():
    answer = answered(guessed(roomy(), "well.profile"))
    assert ("guess", "well.profile") in [(reason.kind, reason.key) for reason in answer.reasons]


def test_an_old_hole_guessed_beyond_reach_counts_where_it_may_come_near():
    """At 51.5 mm an old hole is out of the check's reach of four diameters; 6 mm nearer it still leaves wood enough."""
    base = roomy(old_holes=())
    hole = replace(example_design().old_holes[0], state="open", plug_diameter=None)
    far = replace(base, old_holes=(replace(hole, at=(-125.4125 + 51.5, -50.8 - 165.1)),))
    assert answered(guessed(far, "old_holes.0.across")).answer == "yes"
    near = replace(base, old_holes=(replace(hole, at=(-125.4125 + 24.0, -50.8 - 165.1)),))
    assert answered(near).answer == "yes"
    assert ("guess", "old_holes.0.across") in [(r.kind, r.key) for r in answered(guessed(near, "old_holes.0.across")).reasons]


def test_power_over_the_capacity_plate_is_said_before_the_launch_and_stops_no_paper():
    design = roomy(boat__plate__power_kw=20.0)
    checked = with_spreads(check(design))
    assert checked.verdict == "fouled"
    assert drillable(checked).answer == "yes"


def test_too_much_torque_stops_the_paper_and_an_unknown_core_does_not():
    assert answered(roomy(mounts__0__lower_hardware__torque=120.0)).answer == "no"
    assert answered(roomy(transom__core="unknown")).answer == "yes"


def test_a_motor_that_clamps_on_may_be_hung_and_none_may_not():
    assert answered(roomy(mounts=(clamp_on_mount(),))).answer == "yes"
    assert [reason.kind for reason in answered(roomy(mounts=())).reasons] == ["no motor"]


def test_four_guesses_at_most_matter_on_a_starting_shape_without_a_well_or_with_a_deep_one():
    for start in starts():
        if start.title in ("No well", "Deep well"):
            answer = answered(start.design)
            keys = {reason.key for reason in answer.reasons if reason.kind == "guess"}
            assert len(start.design.readings) > 40
            inside = {"well.floor_port", "well.floor_starboard", "transom.top_cut", "well.fillet_radius"}
            assert keys - {f"mounts.0.bracket.{pair}.half_spacing" for pair in ("rows", "lower")} <= inside


@pytest.mark.parametrize("pair", ["rows", "lower"])
def test_a_guessed_pattern_stops_the_paper_though_no_part_inside_minds_it(pair):
    """Holes 3 mm further apart than the bracket's have the same room inside, and the bracket does not go on."""
    key = f"mounts.0.bracket.{pair}.half_spacing"
    assert [(r.kind, r.key) for r in answered(guessed(roomy(), key)).reasons] == [("guess", key)]


BASES = {"roomy": roomy(), "example": example_design(), "twins": twin_design()} | {
    name: replace(from_text(design_text(name)), demonstration=False) for name in design_names()
}


@given(st.sampled_from(sorted(BASES)), st.floats(-25.0, 25.0), st.integers(0, 4), st.data())
@settings(max_examples=25)
def test_the_answer_is_no_where_what_stops_the_paper_is_bad_or_in_doubt(name, raised, row, data):
    """Boats hung anywhere with readings taken away: nothing slips through, and no reason is made up."""
    design = BASES[name]
    mount = design.mounts[0]
    if mount.drop is not None and mount.bracket.rows is not None and row < mount.bracket.rows.count:
        design = changed(design, mounts__0__drop=mount.drop + raised, mounts__0__row=row)
    known = [row for row in measures(design) if row.kind != "shape" and not row.free and row.get(design) is not None]
    for taken in data.draw(st.lists(st.sampled_from(known), max_size=2, unique_by=lambda item: item.key)):
        try:
            design = taken.set(design, None)
        except NonsenseError:
            continue
    checked = with_spreads(check(design))
    answer = drillable(checked)
    bad = [finding for finding in checked.findings if stops_the_paper(finding)]
    doubted = [
        f for f in checked.findings
        if f.check in ("washer", "nut", "socket", "thread_end", "neighbour", "old_hole")
        and f.state != "note" and f.chance is not None and f.chance < 0.975
    ]  # fmt: skip
    assert (answer.answer == "yes") == (not answer.reasons)
    guesses = any(reason.kind == "guess" for reason in answer.reasons)
    if bad or (guesses and doubted):
        assert answer.answer == "no"
    elif doubted:
        assert answer.answer == ("pilot only" if all((f.chance or 0.0) >= 0.7 for f in doubted) else "no")
    elif not any(finding.guesses for finding in checked.findings):
        assert answer.answer == "yes"
    assert {reason.kind for reason in answer.reasons} <= {"fouled", "unknown", "guess", "pilot", "doubt"}
