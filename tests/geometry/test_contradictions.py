"""Two readings that say the same size: beyond three spreads they contradict each other. The expected sizes are by hand.

The boat: parallel faces 2 in apart, rake 14°, cut level, a level floor 9 in down, corner radius 1/2 in. Spreads: tape 0.8,
well 1.5 mm, angles 0.5°.
"""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.design.validity import SECOND, NonsenseError
from geometry.design_text import DesignError, from_text, to_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.additions import add_old_hole
from geometry.edits.edits import enter, enter_value, forget
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.judge.contradictions import contradictions
from geometry.judge.drillable import drillable
from geometry.judge.words import answer
from geometry.readings.measures import measure, measures
from tests.designs import changed, sure

IN = 25.4
START = starts()[0].design
OUTSIDE, CENTRE, WASHER, DIAGONAL = (f"well.second.{name}" for name in ("outside", "centre", "washer", "diagonal"))
HOLE, BRACKET = "old_holes.0.second.inside", "mounts.0.second.diagonal"
TEXTS = {
    "transom.rake": "14", "transom.thickness.top": "2", "transom.thickness.low": "2", "transom.thickness.low_at": "10",
    "well.floor_port": "9", "well.floor_starboard": "9", "well.floor_rise": "0", "well.fillet_radius": "1/2",
    "well.top_width": "21", "well.floor_width": "20", "old_holes.0.across": "4", "old_holes.0.down": "1 7/8",
    "old_holes.0.diameter": "1/2", "well.second.washer_across": "1 1/2",
    "mounts.0.bracket.rows.half_spacing": "6 7/16", "mounts.0.bracket.lower.half_spacing": "4 15/16",
    "mounts.0.bracket.lower.slots.0.0": "8",
}  # fmt: skip
TAN = math.tan(math.radians(14))


def with_reading(design, key: str, mm: float):
    return enter_value(design, sure(measure(design, key)), mm)


def boat(**texts: str):
    """Return the boat, its readings typed, some with other texts; keys' dots are written as two underscores."""
    design = changed(add_old_hole(START, (100.0, -50.0)), transom__top_cut="level")
    design = changed(design, readings={key: row for key, row in design.readings.items() if key != "transom.top_cut"})
    for key, text in {**TEXTS, **{key.replace("__", "."): text for key, text in texts.items()}}.items():
        design = enter(design, sure(measure(design, key)), text)
    return design


BY_HAND = {
    OUTSIDE: 9 + 2 * TAN,  # the step of a level cut: 2 in * tan 14°
    CENTRE: 9.0,
    WASHER: 9 - 0.5 / math.tan(math.radians(104 / 2)) - 0.75,  # the corner is 104°, the washer 1 1/2 in across
    DIAGONAL: math.hypot(20.5, 9),  # from 10 1/2 in at port to 10 in at starboard
    HOLE: 1.875 - 2 * TAN,  # trade.md 2.3 has 1.376 in, common practice
    BRACKET: math.hypot(6.4375 + 4.9375, 8),  # 13.9065 in, common practice
}  # fmt: skip
SPREADS = {
    OUTSIDE: math.hypot(1.5, 1.5, 0.8 * TAN, 50.8 / math.cos(math.radians(14)) ** 2 * math.radians(0.5)),
    CENTRE: math.hypot(1.5, 0.75, 0.75),  # at the centreline each side counts by half
    HOLE: math.hypot(1.5, 0.8, 0.8 * TAN, 50.8 / math.cos(math.radians(14)) ** 2 * math.radians(0.5)),
    BRACKET: math.hypot(0.8, *(0.4 * 11.375 / 13.9065 for _ in range(2)), 0.8 * 8 / 13.9065),  # half of a tape's error each
}  # fmt: skip
"""By hand: the root sum of squares of what one spread of each reading moves; the taper's share is 0 at the top edge."""


@pytest.mark.parametrize("key", BY_HAND)
def test_a_second_reading_that_agrees_says_nothing_and_one_far_off_contradicts(key):
    assert contradictions(with_reading(boat(), key, BY_HAND[key] * IN)) == ()
    for off in (-12.0, 12.0):
        clash, = contradictions(with_reading(boat(), key, BY_HAND[key] * IN + off))
        assert clash.key == key


@pytest.mark.parametrize("key", SPREADS)
@pytest.mark.parametrize("sign", [-1, 1])
def test_the_limit_is_three_spreads(key, sign):
    within, beyond = (BY_HAND[key] * IN + sign * 3 * SPREADS[key] * share for share in (0.999, 1.001))
    assert contradictions(with_reading(boat(), key, within)) == ()
    assert len(contradictions(with_reading(boat(), key, beyond))) == 1


def test_a_floor_that_slopes_is_between_its_sides_at_the_centreline():
    sloping = boat(well__floor_starboard="10")
    assert contradictions(with_reading(sloping, CENTRE, 9.5 * IN)) == ()
    assert contradictions(with_reading(sloping, CENTRE, 9.0 * IN))


def test_a_forgotten_step_is_found():
    """The depth inside, typed again as the depth from outside, is half an inch off: the worst slip by hand."""
    clash, = contradictions(with_reading(boat(), OUTSIDE, 9 * IN))
    assert clash.text == (
        "Floor depth at port, from outside is 9 in. By floor depth at port and the readings with it, it is 9 1/2 in. "
        "They are 1/2 in apart, and such readings agree within 1/4 in (our assumption: three spreads)."
    )
    assert clash.settle.startswith("Read both depths at port again.")


def test_a_guess_has_a_wide_spread_and_contradicts_nothing():
    """A floor's guess is good for 6 to 14 in."""
    read = with_reading(boat(), OUTSIDE, 11 * IN)
    guess = replace(read.readings["well.floor_port"], state="guess")
    assert contradictions(read)
    assert contradictions(changed(read, readings={**read.readings, "well.floor_port": guess})) == ()


def test_a_cut_that_is_a_guess_may_be_square_or_level():
    guess = START.readings["transom.rake"]
    reading = changed(boat(), readings={**boat().readings, "transom.top_cut": guess})
    assert contradictions(with_reading(reading, OUTSIDE, 9 * IN)) == ()


def test_a_guess_of_the_cut_without_a_rake_contradicts_nothing():
    guess = START.readings["transom.rake"]
    square = changed(boat(), transom__rake=None, transom__top_cut="square")
    square = changed(square, readings={**square.readings, "transom.top_cut": guess})
    assert contradictions(with_reading(square, OUTSIDE, 11 * IN)) == ()


def test_a_floor_without_width_is_compared_with_nothing():
    """While a depth is a guess, both floor corners may be one above the other."""
    guess = START.readings["well.floor_port"]
    guessed = changed(boat(), readings={**boat().readings, "well.floor_port": guess})
    steep = changed(guessed, well__profile=((-300.0, 0.0), (0.0, -200.0), (0.0, -230.0), (300.0, 0.0)))
    for key in (CENTRE, WASHER):
        assert contradictions(with_reading(steep, key, 700.0)) == ()


def test_what_rests_on_either_is_not_checked_and_the_rest_goes_on():
    plain, clashing = boat(), with_reading(boat(), BRACKET, 13 * IN)
    before, after = check(plain), check(clashing)
    clash, = contradictions(clashing)
    for finding in after.findings:
        then = before.of(finding.check, finding.at)
        if then is None:
            assert (finding.check, finding.state) == ("reading", "unknown")
        elif then.state != "note" and any(key.startswith(then.rests) for key in clash.keys):
            assert (finding.state, finding.value) == ("unknown", None)
            assert "contradict each other" in finding.text
        else:
            assert finding == then
    assert {finding.check for finding in after.findings if finding.state == "unknown"} >= {"washer", "reading", "nut"}
    assert answer(after).sentence == "Don't drill yet: two readings contradict each other."
    assert drillable(with_spreads(after)).answer == "no"


def test_the_contradiction_comes_before_what_rests_on_it():
    checked = check(with_reading(boat(), BRACKET, 13 * IN))
    unknown = [finding for finding in checked.findings if finding.state == "unknown"]
    assert [finding.check for finding in unknown].index("reading") == 0


def test_settled_everything_is_as_before():
    design = with_reading(boat(), BRACKET, 13 * IN)
    settled = forget(design, sure(measure(design, BRACKET)))
    assert settled == boat()
    clashing = check(design)
    assert check(settled, clashing).findings == check(boat()).findings
    moved = changed(design, mounts__0__drop=190.0)
    assert check(moved, clashing).findings == check(moved).findings


def test_second_readings_that_agree_change_no_value_and_no_state_becomes_worse():
    """The boat is solved with them: the sizes stay, and every spread stays or gets smaller."""
    plain = with_spreads(check(boat()))
    read = boat()
    for key, inches in BY_HAND.items():
        read = with_reading(read, key, inches * IN)
    after = with_spreads(check(read))
    assert after.by_place.keys() == plain.by_place.keys()
    for place, finding in plain.by_place.items():
        now = after.by_place[place]
        assert now.state == finding.state
        assert now.value == pytest.approx(finding.value, abs=1e-5)
        assert (now.spread or 0.0) <= (finding.spread or 0.0) + 1e-3


def test_a_second_reading_is_kept_in_the_file_and_an_impossible_one_is_refused():
    design = with_reading(boat(), OUTSIDE, 240.0)
    assert from_text(to_text(design)) == design
    row = sure(measure(design, OUTSIDE))
    for value in (0.0, -5.0, 7000.0):
        with pytest.raises(NonsenseError):
            enter_value(design, row, value)
    with pytest.raises(DesignError, match=r"well\.second\.outside is -240; it has to be above 0"):
        from_text(to_text(design).replace('"value": 240.0', '"value": -240.0'))


def test_each_second_reading_is_compared_with_others():
    """Far off, every one of the table contradicts, but for the washer's own width."""
    for row in measures(boat()):
        if SECOND in row.key and not row.key.endswith("across"):
            assert contradictions(with_reading(boat(), row.key, 900.0)), row.key
