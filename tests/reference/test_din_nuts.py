"""Metric nuts of the withdrawn but still sold DIN series.

Sources: DIN 985 (prevailing torque type hexagon thin nuts with non-metallic insert) and DIN 934 (hexagon nuts). Read in
secondary copies. mm; the largest listed.
"""

import pytest

from geometry.tables.fasteners import nut

TABLES = {  # flats, height max, corners min
    ("DIN 985", "M10x1.5"): (17.0, 10.0, 18.90),
    ("DIN 985", "M12x1.75"): (19.0, 12.0, 21.10),
    ("DIN 934", "M10x1.5"): (17.0, 8.0, 18.90),
    ("DIN 934", "M12x1.75"): (19.0, 10.0, 21.10),
}


@pytest.mark.parametrize("key", TABLES)
def test_nut_is_the_largest_published(key: tuple[str, str]) -> None:
    flats, height, least_corners = TABLES[key]
    row = nut(*key)
    assert (row.flats, row.height) == (flats, height)
    assert least_corners < row.corners < flats * 1.1548


@pytest.mark.parametrize("thread", ["M10x1.5", "M12x1.75"])
def test_din_flats_are_a_millimetre_wider_than_iso(thread: str) -> None:
    assert nut("DIN 985", thread).flats - nut("ISO 7040", thread).flats == 1.0
    assert nut("DIN 934", thread).flats - nut("ISO 4032", thread).flats == 1.0
