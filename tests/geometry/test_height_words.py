"""The motor's height in words, and what a person may type for it."""

from __future__ import annotations

import pytest

from geometry.units.height_words import hole_words, ordinal, row_of, usable_holes


@pytest.mark.parametrize("row", [0, 1, 2, 3, 10, 11, 12, 19, 20, 21])
def test_a_height_reads_back_as_it_is_shown(row: int) -> None:
    assert row_of(hole_words(row)) == row
    assert row_of(str(row + 1)) == row


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ("1", 0), ("lowest", 0), (" First hole ", 0), ("2nd", 1), ("one hole up", 1), ("SECOND HOLE FROM THE TOP", 1),
        ("3rd from top", 2), ("three", 2), ("21st", 20), ("0", -1),
    ],
)  # fmt: skip
def test_a_height_may_be_typed_in_several_ways(text: str, row: int) -> None:
    assert row_of(text) == row


@pytest.mark.parametrize("text", ["", "-1", "2.5", "hole", "third-ish", "12345", "3rd hole from the top (one hole up)", "up"])
def test_anything_else_is_no_hole(text: str) -> None:
    assert row_of(text) is None


@pytest.mark.parametrize(
    ("left", "said"),
    [((), "none"), ((2,), "3rd"), ((0, 1), "1st, 2nd"), ((1, 2, 3, 4), "2nd to 5th"), ((0, 2, 3), "1st, 3rd, 4th")],
)
def test_the_holes_that_a_drop_still_allows(left: tuple[int, ...], said: str) -> None:
    assert usable_holes(left) == said


def test_ordinals():
    """Rows count from 0: the 11th to the 13th are no 1st, 2nd and 3rd."""
    wanted = {0: "1st", 1: "2nd", 2: "3rd", 3: "4th", 9: "10th", 10: "11th", 11: "12th", 12: "13th", 20: "21st", 110: "111th"}
    assert {row: ordinal(row) for row in wanted} == wanted
