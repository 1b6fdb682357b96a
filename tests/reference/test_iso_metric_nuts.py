"""Metric nuts against the published tables.

Sources: ISO 4032 (hexagon regular nuts), ISO 4035 (hexagon thin nuts, chamfered), ISO 7040 (prevailing torque type
hexagon regular nuts with non-metallic insert). Read in two or three secondary copies; the thickness of the M10 thin nut
from memory. mm; the largest listed. Only flats and the least across corners are listed, so corners are the hexagon's.
"""

import math

import pytest

from geometry.tables.fasteners import bolt, nut

TABLES = {  # flats, height max
    ("ISO 4032", "M10x1.5"): (16.0, 8.4),
    ("ISO 4032", "M12x1.75"): (18.0, 10.8),
    ("ISO 4035", "M10x1.5"): (16.0, 5.0),
    ("ISO 4035", "M12x1.75"): (18.0, 6.0),
    ("ISO 7040", "M10x1.5"): (16.0, 11.9),
    ("ISO 7040", "M12x1.75"): (18.0, 14.9),
}


@pytest.mark.parametrize("key", TABLES)
def test_nut_is_the_largest_published(key: tuple[str, str]) -> None:
    flats, height = TABLES[key]
    row = nut(*key)
    assert (row.flats, row.height) == (flats, height)
    assert row.corners == pytest.approx(flats / math.cos(math.radians(30)), abs=1e-6)


@pytest.mark.parametrize("key", TABLES)
def test_iso_nuts_take_the_wrench_of_the_iso_bolt(key: tuple[str, str]) -> None:
    """One data set lists the ISO 4035 nuts with the 17 and 19 mm of DIN: ISO has 16 and 18."""
    assert nut(*key).flats == bolt(key[1]).head_flats


def test_m12_lock_nut_has_the_height_of_its_standard() -> None:
    """ISO 7040 is 14.9 high and DIN 985 12.0; a shop page gives 12.0 for ISO 7040."""
    assert nut("ISO 7040", "M12x1.75").height - nut("DIN 985", "M12x1.75").height == pytest.approx(2.9, abs=1e-9)
