"""Origins of values: what one press confirms or buys, what a list choice names, and what each does to spreads and gate."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from geometry.decide.cures import cure
from geometry.decide.fit import fits
from geometry.design_text import from_text, to_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.choices import choices
from geometry.edits.confirm_or_buy import bought, confirmed, counted_as, is_part, parts, pattern, with_new_parts_to_buy
from geometry.edits.starting_shapes import guess, starts
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.readings.measures import at_path, measure, measures, state_of
from geometry.readings.part_tolerances import UNLISTED, tolerance
from geometry.readings.reading_spreads import CALIPERS
from tests.designs import changed, clamp_on_mount, example_design, roomy, sure
from tests.geometry.test_spreads import LOWER, still

HARDWARE = "mounts.0.lower_hardware"
OUTER = f"{HARDWARE}.washer.outer"
START = starts()[0].design
DISTANCES = tuple(
    f"mounts.0.bracket.{field}" for field in ("rows.half_spacing", "rows.pitch", "lower.half_spacing", "lower.slots.0.0")
)


def states(design, prefix="", state=""):
    """Return the keys of the readings with a prefix and a state."""
    return {key for key, reading in design.readings.items() if key.startswith(prefix) and reading.state == state}


def choose(design, key, word):
    """Return the design with an answer of a list, by the first letters of its full words."""
    choice = next(choice for choice in choices(design, 0) if choice.key == key)
    return choice.put(next(at for at, option in enumerate(choice.options) if option.full.startswith(word)))


def guessed(design):
    """Return the design with every value a guess."""
    return guess(design, measures(design))


def test_one_press_confirms_the_distances_of_the_standard_pattern_and_nothing_else():
    """They are 12 7/8 in between the upper holes, 3/4 down to the next, 9 7/8 between the lower, 8 down (common practice)."""
    rows = pattern(START, 0)
    assert tuple(row.key for row in rows) == DISTANCES
    inches = [12.875 / 2, 0.75, 9.875 / 2, 8.0]
    assert [row.get(START) for row in rows] == pytest.approx([25.4 * each for each in inches], abs=1e-9)
    after = confirmed(START, rows)
    assert states(after, state="confirmed") == set(DISTANCES)
    assert states(after, state="guess") == states(START, state="guess") - set(DISTANCES)
    assert {after.readings[key].how for key in DISTANCES} == {"tape"}
    assert replace(after, readings=START.readings) == START  # no value changes


def test_a_bracket_with_other_distances_has_no_pattern_to_confirm():
    assert pattern(changed(START, mounts__0__bracket__lower__half_spacing=120.0), 0) == ()
    assert pattern(replace(example_design(), mounts=(clamp_on_mount(),)), 0) == ()


def test_a_reading_of_the_pattern_stays_measured():
    mine = counted_as(START, sure(measure(START, DISTANCES[0])), "measured")
    assert states(confirmed(mine, pattern(mine, 0)), "mounts.0.bracket", "measured") == {DISTANCES[0]}


@pytest.mark.parametrize(("make", "state"), [(confirmed, "confirmed"), (bought, "to buy")])
def test_the_parts_of_one_pair_are_confirmed_or_bought_together(make, state):
    """The other pair, the torque and all that is no part keep their origin."""
    rows = parts(START, 0, "lower")
    after = make(START, rows)
    sizes = {"washer.outer", "washer.inner", "washer.thickness", "outside_washer.outer", "outside_washer.inner",
             "outside_washer.thickness", "socket.outer", "socket.length"}  # fmt: skip
    assert states(after, state=state) == {f"{HARDWARE}.{size}" for size in sizes}
    assert f"{HARDWARE}.torque" in states(after, state="guess")
    assert make(after, rows) is after
    assert replace(after, readings=START.readings) == START


def test_parts_go_from_the_list_to_the_hand_and_back():
    rows = parts(START, 0, "lower")
    assert states(confirmed(bought(START, rows), rows), HARDWARE, "to buy") == set()
    assert states(bought(confirmed(START, rows), rows), HARDWARE, "confirmed") == set()


def test_only_parts_are_bought():
    keys = {row.key for row in measures(START) if is_part(row)}
    assert keys
    assert all("_hardware." in key for key in keys)
    assert not any(key.endswith((".hole", ".length.", ".torque", ".flat_cut", ".wedge")) for key in keys)


def test_a_list_choice_of_washers_names_only_its_washers():
    after = choose(START, f"{HARDWARE}.washer", "ASME B18.21.1 type A wide")
    assert states(after, state="to buy") == {f"{HARDWARE}.washer.{size}" for size in ("outer", "inner", "thickness")}
    assert states(after, state="guess") == states(START, state="guess") - states(after, state="to buy")


def test_the_same_washer_chosen_again_is_to_buy_and_a_measured_one_stays_measured():
    """A choice of the present answer changes no size."""
    again = choose(START, f"{HARDWARE}.washer", "fender 1-1/2")
    assert again.mounts == START.mounts
    assert OUTER in states(again, state="to buy")
    mine = counted_as(START, sure(measure(START, OUTER)), "measured")
    assert OUTER in states(choose(mine, f"{HARDWARE}.washer", "fender 1-1/2"), state="measured")


def test_a_choice_of_a_bolt_confirms_neither_washers_nor_socket():
    """Before, another thread made the sizes of its washers known, and left the old socket's reading on the new one."""
    measured = START
    for row in parts(START, 0, "lower"):
        measured = counted_as(measured, row, "measured")
    after = choose(measured, f"{HARDWARE}.bolt", "M12")
    for size in ("washer.outer", "washer.thickness", "outside_washer.outer", "socket.outer"):
        key = f"{HARDWARE}.{size}"
        reading = after.readings[key]
        assert (reading.state, reading.value) == ("guess", at_path(after, key)), key
    assert f"{HARDWARE}.torque" in states(after, state="guess")


def test_parts_to_buy_stay_to_buy_with_another_bolt_and_the_same_size_keeps_its_reading():
    buying = bought(START, parts(START, 0, "lower"))
    assert states(choose(buying, f"{HARDWARE}.bolt", "M12"), HARDWARE, "guess") == {f"{HARDWARE}.torque"}
    mine = counted_as(START, sure(measure(START, OUTER)), "measured")
    assert OUTER in states(choose(mine, f"{HARDWARE}.bolt", "1/2-20"), state="measured")


def test_own_sizes_of_a_nut_are_guesses_until_they_are_typed():
    after = choose(START, f"{HARDWARE}.nut", "Own sizes")
    assert {f"{HARDWARE}.nut_sizes.flats", f"{HARDWARE}.nut_sizes.height"} <= states(after, state="guess")


@pytest.mark.parametrize(
    ("name", "most"),
    [
        ("ASME B18.21.1 type A wide", 0.762),  # 0.030 in over, ASME B18.21.1-2009 table 1a in a handbook's copy
        ("ASME B18.21.1 type B wide", UNLISTED), ("fender 2 in", UNLISTED), ("ISO", None),
    ],
)  # fmt: skip
def test_the_spread_of_a_part_to_buy_is_half_of_its_tolerance(name, most):
    """Room falls by half of what a washer grows across: a quarter of the tolerance, within 1e-6 mm."""
    if most is None:
        design, most = choose(choose(still(example_design()), f"{HARDWARE}.bolt", "M12"), f"{HARDWARE}.washer", name), UNLISTED
    else:
        design = choose(still(example_design()), f"{HARDWARE}.washer", name)
    design = replace(design, readings={OUTER: design.readings[OUTER]})
    finding = with_spreads(check(design)).of("washer", LOWER)
    assert finding.spread == pytest.approx(most / 4, abs=1e-6)


def test_a_thickness_to_buy_spreads_over_what_the_standard_lists():
    """Type A wide for 1/2 in: 0.132 to 0.086 in thick, so 0.046 in (ASME B18.21.1-2009 table 1a)."""
    design = choose(example_design(), f"{HARDWARE}.washer", "ASME B18.21.1 type A wide")
    row = sure(measure(design, f"{HARDWARE}.washer.thickness"))
    assert tolerance(design, row).most == pytest.approx(0.046 * 25.4, abs=1e-6)


@pytest.mark.parametrize(("state", "spread"), [("confirmed", 0.8), ("measured", CALIPERS), ("to buy", UNLISTED / 2)])
def test_each_origin_has_its_own_spread(state, spread):
    """A socket, which no standard lists: confirmed as with a tape (0.8 mm), measured with calipers, else to buy."""
    design = changed(still(example_design()), spreads__tape=0.8)
    key = f"{HARDWARE}.socket.outer"
    counted = replace(design, readings={key: counted_as(design, sure(measure(design, key)), state).readings[key]})
    others = replace(design, readings={})
    now, without = (with_spreads(check(each)).of("socket", LOWER).spread for each in (counted, others))
    assert now**2 - without**2 == pytest.approx((spread / 2) ** 2, abs=1e-6)


def test_only_a_guess_stops_the_paper():
    """The worked example with room to spare: a guess of the washer that can turn the answer stops it, nothing else does."""
    narrow = roomy(mounts__0__lower_hardware__washer__outer=92.0)
    row = sure(measure(narrow, OUTER))
    wide = replace(row, usual=1.0)
    answers = {}
    for state in ("guess", "to buy", "confirmed", "measured"):
        checked = with_spreads(check(counted_as(narrow, wide, state)))
        answers[state] = OUTER in {key for finding in checked.findings for key in finding.guesses}
    assert answers == {"guess": True, "to buy": False, "confirmed": False, "measured": False}


def test_a_part_to_buy_is_never_asked_to_be_measured_again():
    """Only the washers' chances are in the way, and both are 0.7 or more: one pilot may be drilled."""
    design = bought(example_design(), parts(example_design(), 0, "lower"))
    checked = with_spreads(check(design))
    assert not any(key.startswith(HARDWARE) for finding in checked.findings for key in finding.moved_by)
    answer = drillable(checked)
    assert answer.answer == "pilot only"
    assert not any(reason.key.startswith(HARDWARE) for reason in answer.reasons)


def test_parts_that_a_proposal_changes_are_to_buy_from_any_state():
    """Other washers have no reading of the old ones. Parts that stay keep theirs."""
    mine = counted_as(START, sure(measure(START, OUTER)), "measured")
    wide = changed(mine, mounts__0__lower_hardware__washer__outer=50.8)
    after = with_new_parts_to_buy(mine, wide)
    assert (after.readings[OUTER].state, after.readings[OUTER].value) == ("to buy", 50.8)
    assert after.readings[f"{HARDWARE}.washer.inner"] == mine.readings[f"{HARDWARE}.washer.inner"]
    assert with_new_parts_to_buy(mine, changed(mine, mounts__0__drop=190.0)).readings == mine.readings
    plated = choose(mine, f"{HARDWARE}.plate", "A backing plate under")
    fresh = with_new_parts_to_buy(mine, replace(plated, readings=mine.readings))
    assert {f"{HARDWARE}.backing_plate.outline", f"{HARDWARE}.backing_plate.thickness"} <= states(fresh, state="to buy")


def test_a_fit_and_a_cure_with_other_parts_leave_no_reading_of_the_old_ones():
    """Where plain washers don't fit, other parts are proposed: no reading has a value that the boat no longer has."""
    hot = changed(START, mounts__0__lower_hardware__torque=60.0)
    checked = check(hot)
    cured = [cure(checked, finding) for finding in checked.findings]
    tried = [fit.design for fit in fits(START, 0)] + [each.design for each in cured if each is not None]
    other = [design for design in tried if design.mounts[0].lower_hardware != START.mounts[0].lower_hardware]
    assert other
    for design in other:
        for row in measures(design):
            reading = design.readings.get(row.key)
            if is_part(row) and reading is not None and row.kind != "shape":
                assert reading.value == pytest.approx(row.get(design), abs=1e-9), row.key


def test_origins_survive_the_file():
    design = confirmed(bought(START, parts(START, 0, "lower")), pattern(START, 0))
    assert from_text(to_text(design)) == design
    assert state_of(design, sure(measure(design, OUTER))) == "to buy"


def test_a_choice_has_no_other_origin():
    drop = sure(measure(START, "mounts.0.drop"))
    assert counted_as(START, drop, "guess") is START
