"""Clearance holes for inch bolts against the published table.

Source: ASME B18.2.8, Clearance Holes for Bolts, Screws, and Studs, read in a secondary data set. The limits of the
loose fit and the metric drills for 1/2 in: Machinery's Handbook, 31st edition, pages 1741 and 1743. Inches.
Tolerance: 1e-6 mm against the fractions; half of the last place against the handbook's three; 0.05 mm for its drills.
"""

import pytest

from geometry.tables.fasteners import clearance_holes

INCH = 25.4
TABLE = {  # close, normal, loose
    "3/8-16": (25 / 64, 13 / 32, 27 / 64),
    "7/16-14": (29 / 64, 15 / 32, 31 / 64),
    "1/2-13": (17 / 32, 9 / 16, 39 / 64),
    "1/2-20": (17 / 32, 9 / 16, 39 / 64),
}
LOOSE_LIMITS = {"3/8-16": (0.422, 0.438), "7/16-14": (0.484, 0.500), "1/2-13": (0.609, 0.625)}
METRIC_DRILLS_FOR_HALF = (13.5, 14.25, 15.5)  # mm


@pytest.mark.parametrize("name", TABLE)
def test_holes_as_published(name: str) -> None:
    row = clearance_holes(name)
    assert [row.close, row.normal, row.loose] == pytest.approx([size * INCH for size in TABLE[name]], abs=1e-6)


@pytest.mark.parametrize("name", LOOSE_LIMITS)
def test_loose_hole_is_the_lower_limit_of_the_handbook(name: str) -> None:
    low, high = LOOSE_LIMITS[name]
    loose = clearance_holes(name).loose / INCH
    assert loose == pytest.approx(low, abs=0.0005)
    assert loose < high


def test_metric_drills_of_the_handbook_make_the_half_inch_holes() -> None:
    row = clearance_holes("1/2-13")
    assert (row.close, row.normal, row.loose) == pytest.approx(METRIC_DRILLS_FOR_HALF, abs=0.05)
