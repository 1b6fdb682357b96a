"""The next question where readings make a finding that no place of the holes helps."""

from __future__ import annotations

import math
import re
from functools import partial

import pytest

from geometry.asking.drop_steps import _readings_left
from geometry.asking.helping_guesses import helping_guess
from geometry.asking.next_question import Asked, _lacking, _of_readings, next_question
from geometry.asking.question_order import OLD_HOLES, questions, second_ways
from geometry.asking.question_words import how_to_read
from geometry.decide.ladder import rungs
from geometry.design.design import Design
from geometry.doubt.spreads import with_spreads
from geometry.edits.confirm_or_buy import confirmed, pattern
from geometry.edits.edits import enter_value
from geometry.edits.reading_order import FIRST, deciding_readings
from geometry.edits.starting_shapes import guess, starts
from geometry.judge.check import check
from geometry.judge.contradictions import contradictions
from geometry.readings.measures import measure, measures, without_reading
from geometry.readings.reading_spreads import spread_of
from geometry.readings.second_readings import OUTSIDE, WASHER, WASHER_ACROSS
from geometry.solving.comparisons import comparisons
from geometry.units.units import format_length
from tests.designs import IN, all_guesses, all_measured, changed, example_design, roomy, sure


def test_a_guessed_thickness_that_seems_to_lean_sends_nobody_to_look_for_a_fit() -> None:
    """The straightedge says 8 mm more than the guessed thickness gives. So solved, the washers seem to be 5.6 degrees off.

    The lowest step is still found, and the thickness is then asked for.
    """
    design = starts()[0].design
    for key, value in ((FIRST[0], 9.5 * IN), (FIRST[1], 9.5 * IN), (FIRST[2], 0.5 * IN), (FIRST[4], 14.0)):
        design = enter_value(design, sure(measure(design, key)), value)
    design = without_reading(design, FIRST[3])  # cut level, as typed
    design = enter_value(design, sure(measure(design, OUTSIDE)), 9.5 * IN + 11.08 + 8.0)
    known = [row for row in measures(design) if row.key in design.readings and row.key.startswith("mounts.")]
    design, passed = confirmed(design, known), (OLD_HOLES, WASHER, WASHER_ACROSS)
    checked = with_spreads(check(design))
    assert next(each.state for each in checked.findings if each.check == "seat") == "fouled"
    move = next_question(checked, Asked(0, tuple(rungs(design, 0)), (), passed))
    assert move.kind == "move"
    there = sure(move.step).best.design
    then = next_question(with_spreads(check(there)), Asked(0, tuple(rungs(there, 0)), (), passed))
    assert (then.kind, then.key) == ("reading", "transom.thickness.top")


def test_a_floor_is_read_from_the_edge_that_its_well_is_measured_from() -> None:
    """Which wrong program this catches: one that sends the tape to the outside edge, 10.97 mm higher on the example."""
    inside, outside = example_design(), changed(example_design(), well__well_from="datum")
    for key, side in ((FIRST[0], "port"), (FIRST[1], "starboard")):
        assert re.fullmatch(
            rf"Hook the tape on the inside top edge, [\d /]+ in to {side} of the centreline\. "
            r"Read down along the inside face to the floor\.", how_to_read(inside, sure(measure(inside, key))),
        )  # fmt: skip
        assert "on the outside top edge" in how_to_read(outside, sure(measure(outside, key)))


def test_one_more_reading_leaves_its_share_of_a_variance() -> None:
    """The mean of n readings has 1/n of the variance of one. Two more are allowed, so 1/3 is left of a first reading."""
    design = all_measured(starts()[0].design)
    left = partial(_readings_left, design, FIRST[0])
    assert left((), ()) == pytest.approx((1 / 2, 1 / 3))
    assert left((FIRST[0],), ()) == pytest.approx((2 / 3, 2 / 3))
    assert left((FIRST[0],) * 2, ()) is None
    assert left((), (FIRST[0],)) is None
    guessed = all_guesses(design)
    row = sure(measure(guessed, FIRST[0]))
    low, high = row.about(sure(row.get(guessed)))
    measured = (spread_of(guessed, row) / ((high - low) / 2)) ** 2
    assert _readings_left(guessed, FIRST[0], (), ()) == pytest.approx((measured, measured / 3))


def test_a_depth_read_from_the_outside_edge_is_not_asked_for_from_there_again() -> None:
    inside = starts()[0].design
    assert OUTSIDE in second_ways(inside)
    assert OUTSIDE not in second_ways(changed(inside, well__well_from="datum"))


def test_a_second_way_is_worth_it_where_the_first_was_read() -> None:
    """A washer that rocks shows a slip at starboard's depth or at the radius, a straightedge one at port's depth."""
    read = all_measured(starts()[0].design)
    for key, outside, washer in zip(FIRST, (False, True, True, True), (True, False, False, True), strict=False):
        design = guess(read, [sure(measure(read, key))])
        assert (_of_readings(design, OUTSIDE), _of_readings(design, WASHER)) == (outside, washer), key


@pytest.mark.parametrize(("times", "kind"), [(0, "reading"), (1, "reading"), (2, "look"), (3, "look")])
def test_a_reading_that_lacks_is_asked_for_twice_and_then_its_finding_is_shown(times: int, kind: str) -> None:
    """The thickness at the top is not known: without it nothing inside can be checked."""
    design, key = changed(example_design(), transom__thickness__top=None), "transom.thickness.top"
    move = sure(_lacking(check(design), Asked(again=(key,) * times)))
    assert (move.kind, move.key if kind == "reading" else sure(move.finding).missing) == (kind, key)


def test_a_reading_passed_by_is_asked_for_again_after_all_the_others():
    """A boat without a motor that lacks four readings: each comes once, and then the one that was passed by first."""
    design = changed(example_design(), mounts=(), transom__rake=None, transom__deadrise=None, transom__height=None)
    checked, passed = check(changed(design, transom__skin_inside=None)), list[str]()
    while (key := next_question(checked, Asked(0, None, (), tuple(passed))).key) not in passed:
        passed.append(sure(key))
    assert {"transom.rake", "transom.deadrise", "transom.height", "transom.skin_inside"} <= set(passed)
    assert key == passed[0]


DIAGONAL = "mounts.0.second.diagonal"
OWN = (("rows.half_spacing", 160.0), ("lower.half_spacing", 130.0), ("lower.slots.0.0", 190.0))


def asked_early(design: Design, *passed: str) -> str:
    """Return what is asked for before any chance is known."""
    return next_question(check(design), Asked(passed=passed)).key


def test_the_diagonal_of_a_bracket_that_is_not_standard_is_asked_for_after_its_distances() -> None:
    design = starts()[0].design
    for key, value in zip(FIRST, (240.0, 240.0, 12.0, 0.0, 14.0), strict=True):
        design = without_reading(design, key) if key == FIRST[3] else enter_value(design, sure(measure(design, key)), value)
    standard = confirmed(design, pattern(design, 0))
    assert asked_early(standard) == asked_early(standard, DIAGONAL) != DIAGONAL  # no question more
    for end, value in OWN:
        assert asked_early(design) != DIAGONAL
        design = enter_value(design, sure(measure(design, f"mounts.0.bracket.{end}")), value)
    assert asked_early(design) == DIAGONAL
    assert asked_early(design, DIAGONAL) == asked_early(standard)  # the parts
    read = enter_value(design, sure(measure(design, DIAGONAL)), math.hypot(290.0, 190.0))
    assert asked_early(read) == asked_early(standard)
    assert [asking.name for asking in questions(design) if asking.name == DIAGONAL] == [DIAGONAL]


def helped(floor: float) -> tuple[Design, str | None]:
    """Return a boat whose floor is so deep [in], all of the five read, and the guess to measure where nothing fits."""
    design = all_guesses(starts()[0].design)
    for key, value in zip(FIRST, (floor * IN, floor * IN, 20.0, 0.0, 11.0), strict=True):
        design = without_reading(design, key) if key == FIRST[3] else enter_value(design, sure(measure(design, key)), value)
    return design, helping_guess(design, 0, tuple(rungs(design, 0)), ())


def test_where_nothing_fits_only_guesses_that_may_make_room_are_asked_for() -> None:
    """At 5 in no guess helps: it once asked for height, deadrise, skins and torque, nine answers for nothing."""
    assert helped(5.0)[1] is None
    design, key = helped(8.0)
    asked, passed = [], list[str]()
    while key is not None:
        asked.append(key)
        passed.append(key)
        key = helping_guess(design, 0, tuple(rungs(design, 0)), passed)
    assert asked
    idle = ("height", "deadrise", "skin", "torque", "length", "front_lean", "leg")
    assert [each for each in asked if any(word in each for word in idle)] == []


def test_a_contradiction_is_settled_by_readings_that_weigh_in_it() -> None:
    """At a square cut the rake hardly moves where a washer rocks: to read it twice more settles nothing."""
    design = all_measured(changed(starts()[0].design, transom__top_cut="square"))
    design = enter_value(design, sure(measure(design, WASHER_ACROSS)), 38.1)
    taken = enter_value(design, sure(measure(design, WASHER)), 200.0)
    expected = next(each.expect(taken) for each in comparisons(taken) if each.key == WASHER)
    clash = next(iter(contradictions(enter_value(design, sure(measure(design, WASHER)), expected - 12.0))))
    assert clash.again[:2] == (FIRST[1], WASHER)
    assert FIRST[2] in clash.again
    assert "transom.rake" in clash.keys
    assert "transom.rake" not in clash.again
    assert WASHER_ACROSS not in clash.again


def test_a_floor_with_a_corner_of_unknown_place_asks_for_all_its_depths():
    """Which pieces are under the washers is not known then."""
    profile = ((-300, 0), (-290, -240), (None, -236), (290, -240), (300, 0))
    asked = [key for key in deciding_readings(changed(roomy(), well__profile=profile)) if key.startswith("well.profile")]
    assert asked == ["well.profile.1.1", "well.profile.2.1", "well.profile.3.1"]


@pytest.mark.parametrize(("side", "off"), [("port", 125.4125 - 40.0), ("starboard", 125.4125 + 40.0)])
def test_the_floor_is_read_under_the_lower_bolts_wherever_the_motor_hangs(side, off):
    """By hand, 40 mm to starboard: the lower bolts are 85.4125 mm to port and 165.4125 mm to starboard."""
    design = changed(roomy(), mounts__0__offset=40.0)
    text = how_to_read(design, sure(measure(design, f"well.floor_{side}")))
    assert f"{format_length(off, 'in')} to {side} of the centreline" in text
