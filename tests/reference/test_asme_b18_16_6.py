"""Inch nylon-insert lock nuts against the published table.

Source: ASME B18.16.6, Prevailing-Torque Locknuts (Inch Series), type NE. Read in two secondary copies. Inches.
Only flats are listed, so corners are those of the hexagon. Tolerance: 1e-6 mm.
"""

import math

import pytest

from geometry.tables.fasteners import nut

INCH = 25.4
NE = {  # flats max, height max
    "3/8-16": (0.564, 0.468),
    "7/16-14": (0.627, 0.468),
    "1/2-13": (0.752, 0.609),
}


@pytest.mark.parametrize("name", NE)
def test_lock_nut_is_the_largest_published(name: str) -> None:
    flats, height = NE[name]
    row = nut("ASME B18.16.6 NE", name)
    assert (row.flats, row.height) == pytest.approx((flats * INCH, height * INCH), abs=1e-6)
    assert row.corners == pytest.approx(flats * INCH / math.cos(math.radians(30)), abs=1e-6)


def test_half_inch_lock_nut_is_taller_than_the_plain_one() -> None:
    """.609 against .448 in (ASME B18.2.2): a bolt calculated for the plain nut comes out short."""
    taller = nut("ASME B18.16.6 NE", "1/2-13").height - nut("ASME B18.2.2 hex", "1/2-13").height
    assert taller == pytest.approx(0.161 * INCH, abs=1e-6)
