"""Power, weight and persons of a small outboard boat, against the regulation's text and a published worked example.

Sources: 33 CFR 183.53(a), the table and the rounding read in the 2001 text, the three formulas in secondary copies;
183.35 in a secondary copy; 183.41 read. The 19.5 ft x 84 in boat is a published example (newboatbuilders.com, the page on
horsepower). The other boats are calculated from the rule. Weights: a table of ABYC S-30's kind, read in a secondary copy.
Tolerance: 1e-9 hp and lb.
"""

from __future__ import annotations

import pytest

from geometry.tables.capacity import RIGGED, most_power, persons, persons_weight, rigged, weight_capacity


def test_the_published_example():
    """19.5 ft x 7 ft, remote steering, 20 in transom: factor 136.5, 2 x 136.5 - 90 = 183, raised to 185 hp."""
    rule = most_power(19.5 * 7, remote_and_tall=True, flat=False)
    assert (rule.factor, rule.calculated, rule.most, rule.undefined) == (136.5, 183.0, 185, "")


@pytest.mark.parametrize(
    ("length", "width", "tall", "flat", "calculated", "most"),
    [
        (10, 3.5, False, False, 3, 3), (12, 3.5, False, False, 7.5, 7.5), (12, 46 / 12, False, False, 15, 15),
        (12, 46 / 12, False, True, 10, 10), (13, 4, False, True, 10, 10), (14, 5, False, True, 20, 20),
        (14, 5, False, False, 31, 35), (15, 5.5, True, False, 75, 75), (16, 6.5, True, False, 118, 120),
        (16, 6.5, False, False, 58.2, 60), (16, 6.5, False, True, 37, 40), (17.25, 20 / 3, True, False, 140, 140),
        (16, 5.5, False, False, 45.4, 50), (16, 5.5, True, False, 86, 90), (17.5, 6.5, True, False, 137.5, 140),
    ],
)  # fmt: skip
def test_boats_calculated_from_the_rule(length, width, tall, flat, calculated, most):
    """Feet; 12 ft x 46 in is factor 46, 15 hp by the table: a published page prints 10 for it and contradicts the rule."""
    rule = most_power(length * width, remote_and_tall=tall, flat=flat)
    assert rule.calculated == pytest.approx(calculated, abs=1e-9)
    assert rule.most == pytest.approx(most, abs=1e-9)
    assert rule.undefined == ""


@pytest.mark.parametrize(
    ("factor", "most"),
    [(35, 3), (35.4, 3), (35.6, 5), (39, 5), (40, 7.5), (42, 7.5), (43, 10), (45, 10), (46, 15), (52, 15), (52.4, 15)],
)
def test_the_table_goes_by_the_nearest_integer(factor, most):
    assert most_power(factor, remote_and_tall=True, flat=False).most == most


def test_just_above_the_table_the_formulas_begin():
    """52.6: 0.8 x 52.6 - 25 = 17.08, raised to 20; flat 0.5 x 52.6 - 15 = 11.3, raised to 15; 2 x 52.6 - 90 = 15.2, 20."""
    assert most_power(52.6, remote_and_tall=False, flat=False).most == 20
    assert most_power(52.6, remote_and_tall=False, flat=True).most == 15
    assert most_power(52.6, remote_and_tall=True, flat=True).most == 20


@pytest.mark.parametrize(
    ("factor", "flat", "lesser", "word"),
    [(52.5, False, 15, "52 or 53"), (52.3, True, 10, "between 52 and 52.5"), (28, True, 3, "below 3 hp"),
     (39.5, False, 5, "39 or 40")],
)  # fmt: skip
def test_what_the_text_leaves_open_is_said(factor, flat, lesser, word):
    rule = most_power(factor, remote_and_tall=False, flat=flat)
    assert word in rule.undefined
    assert rule.most == lesser


def test_a_step_less_for_a_flat_bottom_reaches_52():
    """'Factor 52 or less': 52 itself takes the step; without a flat bottom 52.3 is rounded to 52 and is plain."""
    assert most_power(52, remote_and_tall=False, flat=True).undefined == ""
    assert most_power(52.3, remote_and_tall=False, flat=False).undefined == ""


def test_weight_and_persons():
    """Invented boat: (2600 - 600)/5 = 400 lb; 9.9 hp counts 105 + 5 + 20 + 50 = 180; 220 lb; 252/141 = 1.79: two."""
    row = rigged(9.9)
    assert row is not None
    capacity = weight_capacity(2600, 600)
    assert capacity == 400
    left = persons_weight(capacity, row.dry + row.accessories)
    assert left == 220
    assert persons(left) == 2
    assert persons_weight(400, 180, tilt=120) == pytest.approx(200)  # 120/0.6, the lesser
    assert persons_weight(800, 180, tilt=120) == 620  # 550 lb and more: no tilt test
    assert [persons(weight) for weight in (38.4, 38.5, 179.4, 179.5)] == [0, 1, 1, 2]  # (38.5 + 32)/141 = 0.5


def test_the_table_of_weights_adds_up():
    """The printed totals: 32, 44, 94, 185, 234, 350, 459, 628, 649, 723, 762, 863, 914, 1117 lb."""
    printed = [32, 44, 94, 185, 234, 350, 459, 628, 649, 723, 762, 863, 914, 1117]
    assert [row.total for row in RIGGED] == printed
    assert rigged(351) is None
    assert [sure.dry for hp in (40, 64.95, 90) if (sure := rigged(hp))] == [286, 439, 439]
