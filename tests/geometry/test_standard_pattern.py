"""A bracket read one distance after the other that is the standard one: *Next* asks whether it is, before it reads on."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from geometry.asking.next_question import STANDARD, Asked, next_question
from geometry.design.patterns import kind_of
from geometry.edits.edits import enter
from geometry.edits.second_blind import disagrees, read_again
from geometry.edits.standard_pattern import is_like_standard, with_standard
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.readings.measures import measure
from tests.designs import sure

if TYPE_CHECKING:
    from geometry.design.design import Design

UPPER, PITCH, LOWER, SLOT = (
    f"mounts.0.bracket.{field}" for field in ("rows.half_spacing", "rows.pitch", "lower.half_spacing", "lower.slots.0.0")
)
READ = {UPPER: "6 7/16 in", PITCH: "3/4 in", LOWER: "4 29/32 in", SLOT: "8 1/16 in"}
"""A tape's figures of a standard bracket: 12 7/8, 3/4, 9 7/8 and 8 in, the last two a sixteenth off."""


def read(**other: str) -> Design:
    """Return the first starting shape with a bracket that was read by tape."""
    design = starts()[0].design
    for key, text in {**READ, **other}.items():
        design = enter(design, sure(measure(design, key)), text)
    return design


def test_figures_a_sixteenth_off_may_be_those_of_the_standard_pattern() -> None:
    design = read()
    assert kind_of(design.mounts[0].bracket) == "own"
    assert is_like_standard(design, 0)
    standard = with_standard(design, 0)
    assert kind_of(standard.mounts[0].bracket) == "standard"
    assert {standard.readings[key].state for key in READ} == {"confirmed"}
    assert not is_like_standard(standard, 0)


@pytest.mark.parametrize(("key", "text"), [
    (UPPER, "6 1/2 in"),  # 1.6 mm of a half spacing, whose spread is 0.4 mm
    (SLOT, "8 1/8 in"),  # 3.175 mm, whose spread is 0.8 mm
    (LOWER, "4 11/16 in"),  # to the edge of a hole
    (PITCH, "25/32 in"),  # 0.79 mm, four times over
])  # fmt: skip
def test_one_distance_that_a_tape_would_show_makes_another_bracket(key: str, text: str) -> None:
    assert not is_like_standard(read(**{key: text}), 0)


def test_a_guess_or_readings_that_disagree_make_no_standard_bracket() -> None:
    design = read(**{SLOT: "7 3/4 in"})
    design = read_again(design, sure(measure(design, SLOT)), "8 in")
    assert disagrees(design, SLOT)
    assert not is_like_standard(design, 0)
    assert is_like_standard(read_again(design, sure(measure(design, SLOT)), "8 1/16 in"), 0)
    start = starts()[0].design
    assert not is_like_standard(enter(start, sure(measure(start, LOWER)), READ[LOWER]), 0)


def test_next_asks_whether_it_is_standard_before_it_reads_on_and_once() -> None:
    checked = check(read())
    assert (asked := next_question(checked, Asked())).kind == "standard"
    assert asked.mount == 0
    passed = next_question(checked, Asked(passed=(f"{STANDARD}0",)))
    assert (passed.kind, passed.key) == ("again", LOWER)
    assert next_question(check(with_standard(checked.design, 0)), Asked()).kind == "reading"
