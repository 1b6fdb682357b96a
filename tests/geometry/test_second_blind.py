"""The same reading taken once more: two that agree are averaged, of two that don't a third one decides."""

from __future__ import annotations

import math
from typing import Any

import pytest

from geometry.edits.edits import enter
from geometry.edits.second_blind import disagrees, read_again
from geometry.edits.starting_shapes import starts
from geometry.readings.measures import measure, state_of
from geometry.readings.reading_spreads import spread_of
from tests.designs import IN, sure

FLOOR = "well.floor_port"


def read(*texts: str) -> Any:
    """Return value and spread after the first reading and more, and whether the last two disagree."""
    design = starts()[0].design
    design = enter(design, sure(measure(design, FLOOR)), texts[0])
    for text in texts[1:]:
        design = read_again(design, sure(measure(design, FLOOR)), text)
    row = sure(measure(design, FLOOR))
    assert state_of(design, row) == "measured"
    return sure(row.get(design)) / IN, spread_of(design, row), disagrees(design, FLOOR)


@pytest.mark.parametrize(
    ("texts", "value"),
    [(("9",), 9.0), (("9", "9 1/8"), 9.0625), (("9", "9 1/8", "9 1/16"), 9.0625), (("9", "9 1/8", "9", "9"), 9.03125)],
)
def test_readings_that_agree_are_averaged_and_their_spread_falls(texts: tuple[str, ...], value: float) -> None:
    """By hand: the mean of n readings, each with 1.5 mm of spread, has 1.5/√n."""
    assert read(*texts) == (pytest.approx(value, abs=1e-9), pytest.approx(1.5 / math.sqrt(len(texts)), abs=1e-9), False)


def test_a_reading_that_disagrees_is_no_mean_and_a_third_one_decides() -> None:
    """An inch is 12 spreads of the difference, which has 1.5 √2 = 2.1 mm."""
    assert read("9", "10") == (pytest.approx(10.0), 1.5, True)
    assert read("9", "10", "9 1/16") == (pytest.approx(9.03125), pytest.approx(1.5 / math.sqrt(2)), False)
    assert read("9", "10", "10") == (pytest.approx(10.0), pytest.approx(1.5 / math.sqrt(2)), False)
    assert read("10", "9", "11") == (pytest.approx(11.0), 1.5, True)  # three that all differ


def test_a_new_reading_on_the_card_begins_again() -> None:
    """The spread of an average is not that of one reading."""
    design = starts()[0].design
    row = sure(measure(design, FLOOR))
    averaged = read_again(enter(design, row, "9"), row, "9 1/8")
    assert spread_of(enter(averaged, row, "9 1/4"), row) == 1.5


def test_a_guess_that_is_read_again_is_simply_measured() -> None:
    design = starts()[0].design
    row = sure(measure(design, FLOOR))
    once = read_again(design, row, "9")
    assert (once.readings[FLOOR].state, once.readings[FLOOR].second, spread_of(once, row)) == ("measured", None, 1.5)


@pytest.mark.parametrize(
    ("text", "disagree"), [("234.6 mm", False), ("235.3 mm", True), ("222.6 mm", False), ("221.9 mm", True)]
)
def test_two_readings_disagree_from_three_spreads_of_their_difference_on(text: str, disagree: bool) -> None:
    """9 in is 228.6. Three times 1.5 √2 are 6.36 mm: 6.0 agree, 6.7 do not."""
    assert read("9", text)[2] is disagree
