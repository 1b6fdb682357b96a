"""Inch hex and jam nuts against the published table.

Source: ASME B18.2.2, Nuts for General Applications: Machine Screw Nuts, Hex, Square, Hex Flange, and Coupling Nuts
(Inch Series). Read in secondary copies; largest jam nut heights from memory, basic heights read. Inches.
Tolerance: 1e-6 mm.
"""

import pytest

from geometry.tables.fasteners import bolt, nut

INCH = 25.4
HEX = {  # flats max, corners max, height max, height min
    "3/8-16": (0.562, 0.650, 0.337, 0.320),
    "7/16-14": (0.688, 0.794, 0.385, 0.365),
    "1/2-13": (0.750, 0.866, 0.448, 0.427),
    "1/2-20": (0.750, 0.866, 0.448, 0.427),
}
JAM_BASIC = {"3/8-16": 7 / 32, "7/16-14": 1 / 4, "1/2-13": 5 / 16, "1/2-20": 5 / 16}


@pytest.mark.parametrize("name", HEX)
def test_hex_nut_is_the_largest_published(name: str) -> None:
    flats, corners, height, _ = HEX[name]
    row = nut("ASME B18.2.2 hex", name)
    assert (row.flats, row.corners, row.height) == pytest.approx(
        (flats * INCH, corners * INCH, height * INCH), abs=1e-6
    )


@pytest.mark.parametrize("name", JAM_BASIC)
def test_jam_nut_is_a_little_over_its_basic_height(name: str) -> None:
    row = nut("ASME B18.2.2 hex jam", name)
    assert 0 < row.height / INCH - JAM_BASIC[name] < 0.012  # the plain nut's maximum is .009 to .011 over its basic
    assert (row.flats, row.corners) == (nut("ASME B18.2.2 hex", name).flats, nut("ASME B18.2.2 hex", name).corners)


def test_seven_sixteenths_takes_two_wrenches() -> None:
    """Nut 11/16 across flats, bolt head 5/8, lock nut 5/8."""
    assert nut("ASME B18.2.2 hex", "7/16-14").flats == pytest.approx(11 / 16 * INCH, abs=0.02)
    assert bolt("7/16-14").head_flats == pytest.approx(5 / 8 * INCH, abs=0.02)
    assert nut("ASME B18.16.6 NE", "7/16-14").flats == pytest.approx(5 / 8 * INCH, abs=0.06)
