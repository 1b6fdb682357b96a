"""Metric flat washers against the published tables.

Sources: ISO 7089 (normal series, grade A), ISO 7093-1 (large series, grade A), ISO 7091 (normal series, grade C) and
ISO 7094 (extra large series, grade C). Read in two or three secondary copies. The nominal thickness of ISO 7094 is
from memory and not tested here. mm.
"""

import pytest

from geometry.tables.fasteners import FlatWasher, washers

TABLES = {  # bore, outside, thickness max
    ("M10x1.5", "ISO 7089"): (10.5, 20.0, 2.2),
    ("M12x1.75", "ISO 7089"): (13.0, 24.0, 2.7),
    ("M10x1.5", "ISO 7093-1 large"): (10.5, 30.0, 2.7),
    ("M12x1.75", "ISO 7093-1 large"): (13.0, 37.0, 3.3),
    ("M10x1.5", "ISO 7091"): (11.0, 20.0, 2.3),
    ("M12x1.75", "ISO 7091"): (13.5, 24.0, 2.8),
    ("M10x1.5", "ISO 7094 extra large"): (11.0, 34.0, 3.6),
    ("M12x1.75", "ISO 7094 extra large"): (13.5, 44.0, 4.6),
}
NOMINAL_THICKNESS = {
    ("M10x1.5", "ISO 7089"): 2.0,
    ("M12x1.75", "ISO 7089"): 2.5,
    ("M10x1.5", "ISO 7093-1 large"): 2.5,
    ("M12x1.75", "ISO 7093-1 large"): 3.0,
    ("M10x1.5", "ISO 7091"): 2.0,
    ("M12x1.75", "ISO 7091"): 2.5,
}


def named(bolt_name: str, name: str) -> FlatWasher:
    (listed,) = [row for row in washers(bolt_name) if row.name == name]
    return listed


@pytest.mark.parametrize("key", TABLES)
def test_washer_as_published(key: tuple[str, str]) -> None:
    row = named(*key)
    assert (row.inner, row.outer, row.thickness) == TABLES[key]


@pytest.mark.parametrize("key", NOMINAL_THICKNESS)
def test_nominal_thickness_as_published(key: tuple[str, str]) -> None:
    assert named(*key).nominal_thickness == NOMINAL_THICKNESS[key]


def test_m10_hole_lets_the_bolt_through() -> None:
    """One data set lists a hole of 10 for M10: ISO 7089 has 10.5."""
    assert all(row.inner >= 10.5 for row in washers("M10x1.5"))
