"""Strength of stainless bolts by the inch marks.

Source: ASTM F593, Standard Specification for Stainless Steel Bolts, Hex Cap Screws, and Studs, least tensile and yield
strength. Read in a secondary copy. ksi; 1 ksi = 6.894757 N/mm2 (NIST SP 811, appendix B.9). Tolerance: 0.001 N/mm2.
"""

import pytest

from geometry.tables.fasteners import bolt, grade

KSI = 6.894757
TABLE = {  # tensile, yield
    "F593B": (75.0, 30.0),
    "F593C": (100.0, 65.0),
    "F593E": (65.0, 20.0),
    "F593F": (75.0, 30.0),
    "F593G": (100.0, 65.0),
    "F593H": (85.0, 45.0),
}


@pytest.mark.parametrize("mark", TABLE)
def test_mark_as_published(mark: str) -> None:
    tensile, at_yield = TABLE[mark]
    row = grade(mark)
    assert (row.tensile, row.yield_strength) == pytest.approx((tensile * KSI, at_yield * KSI), abs=0.001)


def test_a_half_inch_bolt_carries_what_is_listed_for_it() -> None:
    """A maker's inch table lists 14.2 kip (63.1 kN) for 1/2-13 cold worked 316. Read in a secondary copy."""
    assert bolt("1/2-13").stress_area * grade("F593G").tensile / 1000 == pytest.approx(63.1, abs=0.05)
