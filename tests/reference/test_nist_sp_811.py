"""Units against their published values.

Source: NIST SP 811, Guide for the Use of the International System of Units, appendix B.9; from memory.
The inch is 25.4 mm exactly since the agreement of 1959.
"""

import pytest

from geometry.tables.known import MM_PER_INCH, MPA_PER_KSI
from geometry.units.units import parse_length


def test_the_inch_and_the_foot_are_exact() -> None:
    assert MM_PER_INCH == 25.4
    assert parse_length("1 in", "mm") == 25.4
    assert parse_length("1 ft", "mm") == 304.8
    assert parse_length("254 mm", "in") == 10 * parse_length("1", "in")


def test_a_thousand_pounds_on_a_square_inch() -> None:
    """By hand: 0.45359237 kg x 9.80665 m/s2 / (0.0254 m)^2 = 6894.757 Pa."""
    assert pytest.approx(0.45359237 * 9.80665 / 0.0254**2 / 1e6 * 1000, abs=1e-6) == MPA_PER_KSI
