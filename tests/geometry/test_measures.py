"""The one table of all that is measured: what it gets, it sets, and it knows all that the checks ask for."""

import math
import re

import msgspec
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.design.hardware import HexSizes, Spacer
from geometry.design.motor import Tilt, TiltPoint
from geometry.design.validity import NonsenseError
from geometry.design_text import from_text, to_text
from geometry.edits.choices import choices
from geometry.edits.edits import enter
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.readings import boat_measures, motor_measures
from geometry.readings.measure import capital
from geometry.readings.measures import SECTIONS, at_path, measure, measures, state_of
from tests.designs import changed, clamp_on_mount, designs, example_design, numbers_of, sure

NEAR = 1e-9  # [mm, degrees]
INCH = 25.4
TILT = Tilt(tube=(90.0, 20.0), most=70.0, lock=35.0, points=(TiltPoint(radius=400.0, angle=20.0, half_width=60.0),))

BOATS = {name: from_text(design_text(name)) for name in design_names()}
OWN_SIZES = {
    f"mounts__0__{pair}_hardware__{field}": value
    for pair in ("upper", "lower")
    for field, value in {
        "nut_sizes": HexSizes(flats=19.0, corners=21.9, height=15.0),
        "head_sizes": HexSizes(flats=19.0, corners=21.9, height=8.0),
        "spacer": Spacer(outer=25.0, inner=13.5, length=6.0),
    }.items()
}
OTHERS = {
    "clamp-on": replace(example_design(), mounts=(clamp_on_mount(),)),
    "everything measured oneself": changed(BOATS["thrice-drilled-runabout"], **OWN_SIZES),
    "bolts from inside, no socket": changed(
        BOATS["thrice-drilled-runabout"],
        **OWN_SIZES,
        mounts__0__lower_hardware__inserted_from="inside",
        mounts__0__lower_hardware__socket=None,
    ),
}
ALL = {**BOATS, **OTHERS}
SINGLE = [(name, row.key) for name, boat in ALL.items() for row in measures(boat) if row.kind != "shape"]


def known(design, key):
    """Return a measure that is there."""
    row = measure(design, key)
    assert row is not None, key
    return row


def numbers(value):
    """Return every number of a design, in order, None among them."""
    if isinstance(value, dict):
        return [number for inner in value.values() for number in numbers(inner)]
    if isinstance(value, list | tuple):
        return [number for inner in value for number in numbers(inner)]
    return [value] if value is None or (isinstance(value, int | float) and not isinstance(value, bool)) else []


def is_same(design, other):
    """Return whether two designs are the same, their numbers within 1e-9."""
    pairs = list(zip(numbers(msgspec.to_builtins(design)), numbers(msgspec.to_builtins(other)), strict=True))
    return len(pairs) > 50 and all(a == b if None in (a, b) else abs(a - b) <= NEAR for a, b in pairs)


@pytest.mark.parametrize(("boat", "key"), SINGLE)
def test_setting_what_one_gets_changes_nothing(boat, key):
    design = ALL[boat]
    row = known(design, key)
    value = row.get(design)
    if value is None:
        assert state_of(design, row) == "not known"
        return
    assert math.isfinite(value)
    assert is_same(row.set(design, value), design)


@given(st.sampled_from(SINGLE), st.floats(-500, 500))
def test_one_gets_what_one_sets(which, value):
    boat, key = which
    design = ALL[boat]
    row = known(design, key)
    value = float(round(value)) if row.kind in ("count", "hole") else value
    try:
        changed_design = row.set(design, value)
    except NonsenseError:
        assume(False)
    assert row.get(changed_design) == pytest.approx(value, abs=NEAR)


@given(st.sampled_from(SINGLE), st.data())
def test_a_measure_leaves_every_other_one_alone(which, data):
    """But for those that are made to follow: the floor's depths when its width changes."""
    boat, key = which
    design = ALL[boat]
    row = known(design, key)
    value = row.get(design)
    assume(value is not None and key not in ("well.floor_width", "well.top_width"))
    step = data.draw(st.sampled_from((-1.0, 1.0)))
    try:
        after = row.set(design, value + step)
    except NonsenseError:
        assume(False)
    moved = [
        other.key
        for other in measures(design)
        if other.kind != "shape" and (other.get(design), other.get(after)) != (None, None)
        if other.get(after) != pytest.approx(other.get(design), abs=NEAR)
    ]
    follows = "bracket.lower.half_spacing" in key or key.endswith(".offset")  # the floor is read under the lower bolts
    assert [other for other in moved if not (follows and other.startswith("well.floor_"))] == [key]


@given(st.sampled_from(("well.floor_port", "well.floor_starboard")), st.floats(210, 320), st.floats(-20, 20))
def test_the_floor_is_read_at_each_side_by_itself(key, depth, offset):
    """From 210 to 320 mm: with more or less at one side only, the floor would slope more than a floor can."""
    skiff = changed(BOATS["shallow-well-skiff"], mounts__0__offset=offset)
    other = "well.floor_starboard" if key == "well.floor_port" else "well.floor_port"
    kept = known(skiff, other).get(skiff)
    after = known(skiff, key).set(skiff, depth)
    assert known(after, key).get(after) == pytest.approx(depth, abs=NEAR)
    assert known(after, other).get(after) == pytest.approx(kept, abs=NEAR)
    assert (after.well.profile[0], after.well.profile[3]) == (skiff.well.profile[0], skiff.well.profile[3])


def test_the_floor_is_read_under_the_lower_bolts():
    """Corners 10-11/32 in deep at 9-7/8 in to port, 10-23/32 in at 9-7/8 in to starboard; bolts at 4-15/16 in.

    The bolts are half-way out, so half of 3/16 in from the middle's 10-17/32: 10-7/16 and 10-5/8 in.
    """
    skiff = BOATS["shallow-well-skiff"]
    assert known(skiff, "well.floor_port").get(skiff) == pytest.approx(10.4375 * INCH, abs=NEAR)
    assert known(skiff, "well.floor_starboard").get(skiff) == pytest.approx(10.625 * INCH, abs=NEAR)


@pytest.mark.parametrize("key", ["well.floor_port", "well.floor_starboard"])
def test_the_first_reading_of_a_floor_not_measured_yet_counts_for_both_sides(key):
    profile = ((-266.7, 0.0), (-250.0, None), (250.0, None), (266.7, 0.0))
    skiff = changed(BOATS["shallow-well-skiff"], well__profile=profile)
    assert known(skiff, key).get(skiff) is None
    after = known(skiff, key).set(skiff, 240.0)
    for side in ("port", "starboard"):
        assert known(after, f"well.floor_{side}").get(after) == pytest.approx(240.0, abs=NEAR)


def test_depths_are_positive_downward_and_across_is_positive_to_starboard():
    """As a person speaks: 10 in down is 10, though v is -254."""
    boat = BOATS["thrice-drilled-runabout"]
    assert known(boat, "old_holes.0.down").get(boat) == pytest.approx(10 * INCH, abs=NEAR)
    assert known(boat, "old_holes.0.across").get(boat) == pytest.approx(-4.9375 * INCH, abs=NEAR)
    assert known(boat, "mounts.0.upper_at").get(boat) == pytest.approx(2 * INCH, abs=NEAR)
    assert known(boat, "transom.thickness.low_at").get(boat) == pytest.approx(8 * INCH, abs=NEAR)
    moved = known(boat, "old_holes.0.down").set(boat, 300.0)
    assert moved.old_holes[0].at == (pytest.approx(-4.9375 * INCH, abs=NEAR), -300.0)


@pytest.mark.parametrize("boat", ALL)
def test_keys_are_unique_and_in_walking_order(boat):
    rows = measures(ALL[boat])
    keys = [row.key for row in rows]
    assert len(keys) == len(set(keys))
    sections = [row.section for row in rows]
    assert sections == sorted(sections)
    assert set(sections) <= set(range(1, len(SECTIONS) + 1))


@pytest.mark.parametrize("boat", ALL)
def test_every_measure_has_another_name_and_says_how_in_a_sentence_or_two(boat):
    rows = [row for row in measures(ALL[boat]) if len(ALL[boat].mounts) == 1 or not row.key.startswith("mounts.1")]
    assert len({row.name for row in rows}) == len(rows)
    for row in rows:
        assert row.name[0].isupper()
        assert row.how.endswith(".")
        assert len(re.findall(r"\. [A-Z]", row.how)) <= 1
        assert row.exact >= 0


@pytest.mark.parametrize("boat", ALL)
def test_every_reading_of_a_boat_says_what_its_measure_says(boat):
    design = ALL[boat]
    for key, reading in design.readings.items():
        row = known(design, key)
        assert row.get(design) == pytest.approx(reading.value, abs=1e-6)
        assert state_of(design, row) == reading.state


@pytest.mark.parametrize("boat", ALL)
def test_a_number_not_measured_is_asked_for_by_a_key_and_a_name_that_the_measures_know(boat):
    """Blank each number in turn: what the checks then lack is one of the measures, and its name is in the sentence."""
    asked = set()
    for path in numbers_of(ALL[boat]):
        design = changed(ALL[boat], **{path.replace(".", "__"): None})
        listed = {row.key: row for row in measures(design)}
        for finding in check(design).findings:
            if finding.state == "unknown" and finding.missing is not None:
                assert finding.missing in listed, path
                assert listed[finding.missing].name.lower() in finding.text.lower(), path
                asked.add(finding.missing)
    assert len(asked) > (20 if ALL[boat].mounts[0].bracket.rows else 3)


@pytest.mark.parametrize("boat", ALL)
def test_a_number_not_measured_is_not_known_to_its_measure(boat):
    design = ALL[boat]
    plain = [row for row in measures(design) if row.kind != "shape" and row.key in numbers_of(design)]
    assert len(plain) > 8
    for measured in plain:
        bare = changed(design, **{measured.key.replace(".", "__"): None})
        assert at_path(bare, measured.key) is None
        assert state_of(bare, measured) == "not known"


@given(designs())
def test_measures_of_any_design_get_finite_numbers(design):
    for row in measures(design):
        value = row.get(design)
        assert value is None or math.isfinite(value)


OUTLINE = "mounts.0.bracket.outline"


def corners_of(design, index=0):
    """Return each corner of a bracket as its measures show it, by their names: (across, down)."""
    rows = {row.name: row.get(design) for row in measures(design) if row.key.startswith(f"mounts.{index}.bracket.outline.")}
    return {int(name.split()[2].rstrip(",")): (rows.get(f"{name[:-6]}, across"), rows[name]) for name in rows if "down" in name}


def test_a_bracket_alike_at_both_sides_shows_its_starboard_corners():
    """Six corners: 190 mm from its centre at the hook and 120 below it, 150 at 350. A clamp-on one: 130 at 0 and at 260."""
    assert corners_of(example_design()) == {1: (190, 0), 2: (190, 120), 3: (150, 350)}
    assert corners_of(OTHERS["clamp-on"]) == {1: (130, 0), 2: (130, 260)}


def test_a_corner_that_is_set_moves_its_twin():
    design = example_design()
    after = known(design, f"{OUTLINE}.3.0").set(design, 140.0)
    after = known(after, f"{OUTLINE}.3.1").set(after, 365.0)
    assert after.mounts[0].bracket.outline == (
        (-190, 0), (190, 0), (190, -120), (140, -365), (-140, -365), (-190, -120)
    )  # fmt: skip


def test_a_bracket_that_differs_at_its_sides_shows_each_corner():
    ring = ((-190.0, 0.0), (170.0, 0.0), (170.0, -300.0), (-190.0, -300.0))
    design = changed(example_design(), mounts__0__bracket__outline=ring)
    assert corners_of(design) == {1: (-190, 0), 2: (170, 0), 3: (170, 300), 4: (-190, 300)}
    after = known(design, f"{OUTLINE}.0.0").set(design, -180.0)
    assert after.mounts[0].bracket.outline == ((-180.0, 0.0), *ring[1:])


def test_a_corner_on_the_centreline_has_its_depth_alone():
    ring = ((-150.0, 0.0), (150.0, 0.0), (0.0, -300.0))
    design = changed(example_design(), mounts__0__bracket__outline=ring)
    assert corners_of(design) == {1: (150, 0), 2: (None, 300)}
    after = known(design, f"{OUTLINE}.2.1").set(design, 310.0)
    assert after.mounts[0].bracket.outline == (*ring[:2], (0.0, -310.0))


@pytest.mark.parametrize(
    ("corner", "value", "refusal"),
    [("3.1", 0.0, "crosses itself"), ("1.1", 130.0, "crosses itself"), ("2.0", 0.0, "above 0"), ("2.0", -190.0, "above 0"),
     ("1.1", 1016.0, "inside out")],
)
def test_a_bracket_that_makes_no_sense_is_refused(corner, value, refusal):
    """Its foot drawn up to the hook; its top corner below the next. A corner on its centre or beyond it. 40 in down,
    where its top edge is below its foot and no two sides cross."""
    design = example_design()
    with pytest.raises(NonsenseError, match=refusal):
        known(design, f"{OUTLINE}.{corner}").set(design, value)


def test_a_guessed_corner_becomes_measured_and_holds_what_was_typed():
    design = starts()[0].design
    keys = [row.key for row in measures(design) if row.key.startswith(OUTLINE) and row.kind != "shape"]
    assert [design.readings[key].state for key in keys] == ["guess"] * 6
    assert OUTLINE not in design.readings  # its corners say it
    bearing = check(design).of("bearing", "main motor")
    assert set(keys) <= set(bearing.guesses)
    for key, text in zip(keys, ("7 1/2", "0", "7 1/2", "5", "6", "13 1/2"), strict=True):
        design = enter(design, known(design, key), text)
    assert corners_of(design)[3] == (pytest.approx(6 * INCH, abs=NEAR), pytest.approx(13.5 * INCH, abs=NEAR))
    assert {design.readings[key].state for key in keys} == {"measured"}
    assert not set(keys) & set(check(design).of("bearing", "main motor").guesses)
    assert from_text(to_text(design)) == design


@pytest.mark.parametrize(
    ("key", "usual"),
    [
        ("transom.rake", "level"), ("transom.deadrise", "level"), ("well.floor_rise", "level"), ("well.front_lean", "level"),
        ("transom.height", "plumb bob"), ("well.fillet_radius", "washer"), ("well.floor_port", "tape"),
        ("transom.skin_inside", "rule"), ("mounts.0.lower_hardware.washer.outer", "calliper"),
        ("mounts.0.bracket.lower.diameter", "calliper"), ("mounts.0.bracket.outline.2.0", "tape"),
        ("old_holes.0.across", "tape"), ("old_holes.0.diameter", "calliper"),
    ],
)  # fmt: skip
def test_a_first_reading_is_taken_in_the_usual_way(key, usual):
    design = replace(example_design(), readings={})
    row = sure(measure(design, key))
    assert row.way == usual
    again = enter(design, row, f"{sure(row.get(design)):.3f} mm" if row.kind == "length" else "5")
    assert again.readings[key].how == usual


@pytest.mark.parametrize("how", ["tape", "rule", "level", "plumb bob", "calliper", "washer", "pilot", "photo"])
def test_retyping_a_reading_keeps_what_it_was_read_with(how):
    """Retyping the rake turned "level" into "tape" on the shop sheet."""
    design = from_text(design_text("shallow-well-skiff"))
    assert design.readings["transom.rake"].how == "level"
    for key, text in (("transom.rake", "13"), ("well.floor_port", "9 1/2"), ("well.fillet_radius", "5/8")):
        kept = replace(design.readings[key], how=how)
        before = replace(design, readings={**design.readings, key: kept})
        after = enter(before, sure(measure(before, key)), text).readings[key]
        assert (after.how, after.text, after.state) == (how, text, "measured")


def test_the_cut_in_degrees_is_a_guess_read_by_a_level():
    design = replace(example_design(), readings={})
    cut = next(choice for choice in choices(design, 0) if choice.key == "choice.top_cut")
    reading = cut.put(2).readings["transom.top_cut"]
    assert (reading.how, reading.state, reading.value, reading.text) == ("level", "guess", 14.0, "14")


def test_a_name_gets_a_capital_letter_and_no_other_change():
    assert [capital(name) for name in ("", "aV plate", "Rake", "set-back")] == ["", "AV plate", "Rake", "Set-back"]


def rows_of(design):
    """Return all that a person reads of each measure, with its value."""
    rows = measures(msgspec.structs.replace(design))
    return [(row.key, row.section, row.name, row.how, row.free, row.empty, row.item, row.get(design)) for row in rows]


SHARED = (
    boat_measures._of_transom, boat_measures._around, boat_measures._of_well, boat_measures._of_old_hole,
    motor_measures._of_form,
)  # fmt: skip


@given(designs(), designs())
def test_a_boat_has_the_same_measures_after_another_boat(boat, other):
    tilting = changed(other, transom__top_cut=3.0)
    tilting = replace(tilting, mounts=(replace(other.mounts[0], name="tilting", tilt=TILT), boat.mounts[0]))
    wanted = []
    for design in (boat, other, tilting):
        for shared in SHARED:
            shared.cache_clear()
        wanted.append(rows_of(design))
    assert [rows_of(design) for design in (boat, other, tilting, boat)] == [*wanted, wanted[0]]


def test_a_motor_that_moves_keeps_its_measures():
    design = example_design()
    moved = changed(design, mounts__0__drop=170.0, mounts__0__offset=5.0, mounts__0__upper_at=-52.0)
    assert all(after is before for after, before in zip(measures(moved), measures(design), strict=True))
