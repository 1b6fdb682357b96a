"""The circle in which a first pilot may come out, by hand on the example's lower holes.

The washer has 237.10839 - 215.9 - 19.05 = 2.15839 mm of room (`test_judge_inside`). The hole's place is unsure by
sqrt(0.3² + 0.5² + (44·tan 1°)²) = sqrt(0.09 + 0.25 + 0.58986) = 0.96429 mm. So the circle's radius is 1.19410 mm.
The largest circle is 1/8 in or 3 mm, the least 1/32 in or 1 mm: our assumption.
"""

from __future__ import annotations

import pytest

from geometry.drilling.pilot_circle import in_steps, pilot_circle
from geometry.judge.reporter import Reporter
from tests.designs import changed, example_design, roomy, sure

BY_HAND = 2.15839 - 0.96429


def circle(design, lower_by: float = 0.0) -> float | None:
    """Return the circle of the lower port hole, the well's floor moved down by so much [mm]."""
    profile = tuple((u, y if y == 0 else y - lower_by) for u, y in sure(design.well).profile)
    moved = changed(design, well__profile=profile)
    report = Reporter(moved)
    return pilot_circle(report, next(bolt for bolt in report.bolts if bolt.name == "lower port"))


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_circle_is_the_washer_s_room_less_the_hole_s_spread(units):
    assert circle(changed(example_design(), units=units)) == pytest.approx(BY_HAND, abs=1e-4)


@pytest.mark.parametrize(("units", "most"), [("in", 25.4 / 8), ("mm", 3.0)])
def test_more_room_makes_no_larger_circle(units, most):
    assert circle(changed(roomy(), units=units)) == most
    assert circle(changed(example_design(), units=units), lower_by=1.0) == pytest.approx(BY_HAND + 1.0, abs=1e-4)


@pytest.mark.parametrize(("units", "least"), [("in", 25.4 / 32), ("mm", 1.0)])
def test_no_circle_is_smaller_than_the_eye_can_judge(units, least):
    design = changed(example_design(), units=units)
    assert circle(design, lower_by=least - BY_HAND + 0.01) == pytest.approx(least + 0.01, abs=1e-4)
    assert circle(design, lower_by=least - BY_HAND - 0.01) is None


def test_where_a_washer_would_hit_there_is_no_circle():
    assert circle(example_design(), lower_by=-10.0) is None


@pytest.mark.parametrize(
    ("radius", "unit", "words"),
    [(BY_HAND, "in", 25.4 / 32), (BY_HAND, "mm", 1.0), (2.99, "mm", 2.5), (2.99, "in", 3 * 25.4 / 32),
     (3.0, "mm", 3.0), (25.4 / 8, "in", 25.4 / 8), (1.5, "mm", 1.5)],
)  # fmt: skip
def test_words_give_the_circle_rounded_down(radius, unit, words):
    assert in_steps(radius, unit) == pytest.approx(words, abs=1e-9)
