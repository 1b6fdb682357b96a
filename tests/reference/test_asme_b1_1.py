"""Stress areas and pitches of inch threads.

Source: ASME B1.1, Unified Inch Screw Threads: the table of tensile stress areas, to four places, and the formula
A = 0.7854 (D - 0.9743/n)^2. Both read in secondary copies. Square inches.
Tolerance: half of the table's last place; 1e-6 in2 against the formula worked out by hand.
"""

import pytest

from geometry.tables.fasteners import bolt

INCH = 25.4
TABLE = {"3/8-16": 0.0775, "7/16-14": 0.1063, "1/2-13": 0.1419}
BY_HAND = {"3/8-16": 0.077490, "7/16-14": 0.106308, "1/2-13": 0.141899, "1/2-20": 0.159953}
PITCH = {"3/8-16": 0.0625, "7/16-14": 0.0714286, "1/2-13": 0.0769231, "1/2-20": 0.05}


@pytest.mark.parametrize("name", TABLE)
def test_stress_area_as_published(name: str) -> None:
    assert bolt(name).stress_area / INCH**2 == pytest.approx(TABLE[name], abs=0.00005)


def test_fine_half_inch_stress_area_as_published() -> None:
    """.1599 in that table, which cuts .159953 instead of rounding it: one unit of the last place."""
    assert bolt("1/2-20").stress_area / INCH**2 == pytest.approx(0.1599, abs=0.0001)


@pytest.mark.parametrize("name", BY_HAND)
def test_stress_area_by_the_formula(name: str) -> None:
    assert bolt(name).stress_area / INCH**2 == pytest.approx(BY_HAND[name], abs=1e-6)


@pytest.mark.parametrize("name", PITCH)
def test_pitch_is_one_over_the_threads_per_inch(name: str) -> None:
    assert bolt(name).pitch / INCH == pytest.approx(PITCH[name], abs=1e-7)
