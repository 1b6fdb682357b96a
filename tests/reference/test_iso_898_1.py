"""Stress areas of metric threads.

Source: ISO 898-1, Mechanical properties of fasteners made of carbon steel and alloy steel, part 1.
It has nominal stress areas to three figures, and the formula A = 0.7854 (d - 0.9382 P)^2. Read in secondary copies. mm2.
Coarse pitches: ISO 261 and ISO 262, read in secondary copies. Tolerance: half of the table's last place.
"""

import pytest

from geometry.tables.fasteners import bolt

TABLE = {"M10x1.5": (1.5, 58.0, 57.990), "M12x1.75": (1.75, 84.3, 84.267)}  # pitch; table; formula by hand


@pytest.mark.parametrize("name", TABLE)
def test_stress_area_and_pitch_as_published(name: str) -> None:
    pitch, table, by_hand = TABLE[name]
    row = bolt(name)
    assert row.pitch == pitch
    assert row.stress_area == pytest.approx(table, abs=0.05)
    assert row.stress_area == pytest.approx(by_hand, abs=0.001)
