"""Clearance holes for metric bolts against the published table.

Source: ISO 273, Fasteners: clearance holes for bolts and screws; fine, medium and coarse series. Read in a
secondary copy. mm.
"""

import pytest

from geometry.tables.fasteners import clearance_holes

TABLE = {"M10x1.5": (10.5, 11.0, 12.0), "M12x1.75": (13.0, 13.5, 14.5)}


@pytest.mark.parametrize("name", TABLE)
def test_holes_as_published(name: str) -> None:
    row = clearance_holes(name)
    assert (row.close, row.normal, row.loose) == TABLE[name]


def test_m12_holes_are_not_rounded_to_whole_millimetres() -> None:
    """One data set lists 13, 14 and 15 for M12, which are not the holes of ISO 273."""
    row = clearance_holes("M12x1.75")
    assert row.normal != 14
    assert row.loose != 15
