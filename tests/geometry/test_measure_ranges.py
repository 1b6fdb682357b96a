"""The ranges of every measure: beyond the possible one a value is refused, and every row of the table is a measure's.

The likely ranges of rake, thickness, floor and radius are common practice, no source.
"""

from __future__ import annotations

from random import Random

import pytest

from assets import design_names, design_text
from geometry.design.hardware import HexSizes
from geometry.design.validity import TOO_MUCH
from geometry.design_text import from_text
from geometry.edits.additions import add_old_hole, hang_motor
from geometry.edits.edits import enter_value
from geometry.edits.starting_shapes import starts
from geometry.readings.drilled_readings import with_drilled
from geometry.readings.measure_ranges import PATTERNS, Range, pattern_of, ranges_of
from geometry.readings.measures import measure, measures
from geometry.readings.nearest_accepted import refused
from tests.designs import all_guesses, changed, random_design, sure, twin_design

IN = 25.4
SHAPES = [start.design for start in starts()]
HEAD = HexSizes(flats=19.0, corners=22.0, height=8.0)
BOATS = [
    *SHAPES, with_drilled(twin_design(), 0), twin_design(), changed(twin_design(), mounts__0__lower_hardware__head_sizes=HEAD),
    add_old_hole(hang_motor(SHAPES[0], "clamp-on"), (100.0, -200.0)),
    *(from_text(design_text(name)) for name in design_names()), *(random_design(Random(seed)) for seed in range(60)),
]  # fmt: skip
ROWS = {pattern_of(row.key): (row.key, design) for design in BOATS for row in measures(design) if row.kind != "shape"}
"""One measure and its boat for each row of the table."""
SHARED = (".bracket.outline.", "well.floor_width", "well.top_width", "nut_sizes.flats")
"""Values with which another one moves, and may be out of its own range: corners, and a nut's corners with its flats."""
OUT_OF_RANGE = (TOO_MUCH, "no boat reaches so far", "between", "above 0", "below 0")


def why_not(pattern: str, value: float) -> str:
    """Return why an entry refuses a value on a boat of guesses; "" where it takes it."""
    key, boat = ROWS[pattern]
    design = all_guesses(boat)
    sentence = refused(lambda it: enter_value(design, sure(measure(design, key)), it), value)
    return "" if sentence is None else sentence.why or str(sentence)


def test_every_measure_has_its_ranges_and_every_row_is_a_measures():
    assert set(ROWS) == set(PATTERNS)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_beyond_the_possible_range_a_value_is_refused(pattern):
    """By a thousandth of the range; within it a value is never refused as out of range."""
    possible = PATTERNS[pattern].possible
    step = 1.0 if pattern.endswith((".count", ".row")) else (possible.high - possible.low) / 1000
    assert why_not(pattern, possible.high + step)
    assert why_not(pattern, possible.low - step)
    for within in () if any(part in pattern for part in SHARED) else (possible.high - step, possible.low + step):
        assert not any(words in why_not(pattern, within) for words in OUT_OF_RANGE), within


@pytest.mark.parametrize("pattern", PATTERNS)
def test_likely_values_are_possible_and_have_a_source(pattern):
    ranges = PATTERNS[pattern]
    likely, possible = ranges.likely, ranges.possible
    assert possible.whose
    if likely is not None:
        assert possible.low <= likely.low + 1e-3 < likely.high <= possible.high
        assert likely.whose in ("common practice", "our assumption")


@pytest.mark.parametrize(("key", "low", "high"), [
    ("transom.rake", 5, 20), ("transom.thickness.top", 1.25 * IN, 2.5 * IN), ("transom.thickness.low", 1.25 * IN, 2.5 * IN),
    ("well.fillet_radius", 0, 1.5 * IN), ("well.floor_port", 6 * IN, 14 * IN), ("well.floor_starboard", 6 * IN, 14 * IN),
])  # fmt: skip
def test_the_likely_ranges_that_are_common_practice(key, low, high):
    likely = sure(ranges_of(key).likely)
    assert (likely.low, likely.high) == pytest.approx((low, high))
    assert likely.whose == "common practice"


def test_a_guess_without_a_margin_may_be_anywhere_in_its_likely_range():
    rake, low = (sure(measure(SHAPES[0], key)) for key in ("transom.rake", "transom.thickness.low"))
    assert rake.about(14.0) == (5.0, 20.0)
    assert rake.about(25.0) == (5.0, 25.0)
    assert low.about(44.0) == (38.0, 50.0)


@pytest.mark.parametrize(
    ("value", "holds"),
    [(2.0, True), (2.0 - 0.9e-6, True), (2.0 - 1.1e-6, False), (5.0, True), (5.0 + 0.9e-6, True), (5.0 + 1.1e-6, False)],
)
def test_a_range_has_both_its_ends_and_allows_a_millionth(value, holds):
    assert Range(2.0, 5.0).holds(value) is holds


def test_what_is_likely_is_possible():
    """Each likely range is narrower than the possible one and ends within it: unlikely values beyond it can be entered."""
    likely = [(pattern, ranges.possible, ranges.likely) for pattern, ranges in PATTERNS.items() if ranges.likely is not None]
    assert len(likely) > 50
    for pattern, possible, usual in likely:
        assert max(possible.low, usual.low) < usual.high <= possible.high, pattern
        assert usual.high - usual.low < possible.high - possible.low, pattern
