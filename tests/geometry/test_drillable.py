"""The one gate: whether holes may be drilled, and why not."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.design.design import Reading
from geometry.design.design_text import from_text
from geometry.design.measures import measures
from geometry.design.starts import starts
from geometry.design.validity import NonsenseError
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import SURE, drillable, stops_the_paper
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
    assert {kind.key for kind in CHECK_KINDS.values() if kind.stops == "over its limit"} == {"clamp", "pressure"}


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


def test_little_chance_of_room_stops_the_paper_and_says_what_to_do():
    """The worked example's lower washers clear by 2.2 mm with a spread of 2.2: a chance of about 0.83."""
    checked = with_spreads(check(example_design()))
    chance = checked.of("washer", LOWER).chance
    assert 0.7 < chance < SURE
    answer = drillable(checked)
    assert answer.answer == "no"
    first = answer.reasons[0]
    assert (first.kind, first.key) == ("doubt", "well.floor_port")
    assert first.text.endswith("Measure floor depth at port again, or add 1/8 in of room.")
    assert "in only 83 of 100 cases" in first.text


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
    for measure in data.draw(st.lists(st.sampled_from(known), max_size=2, unique_by=lambda item: item.key)):
        try:
            design = measure.set(design, None)
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
    if bad or doubted:
        assert answer.answer == "no"
    elif not any(finding.guesses for finding in checked.findings):
        assert answer.answer == "yes"
    assert {reason.kind for reason in answer.reasons} <= {"fouled", "unknown", "guess", "doubt"}
