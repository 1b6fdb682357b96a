"""Heads and threads of inch hex cap screws against the published table.

Source: ASME B18.2.1, Square, Hex, Heavy Hex, and Askew Head Bolts and Hex, Heavy Hex, Hex Flange, Lobed Head, and Lag
Screws (Inch Series), table for hex cap screws. Read in two secondary copies, which agree. Inches.
Tolerance: 1e-6 mm.
"""

import pytest

from geometry.tables.fasteners import bolt

INCH = 25.4
HEADS = {  # flats max, min; corners max, min; height max, min; thread length up to 6 in, beyond
    "3/8-16": (0.562, 0.551, 0.650, 0.628, 0.243, 0.226, 1.000, 1.250),
    "7/16-14": (0.625, 0.612, 0.722, 0.698, 0.291, 0.272, 1.125, 1.375),
    "1/2-13": (0.750, 0.736, 0.866, 0.840, 0.323, 0.302, 1.250, 1.500),
}


@pytest.mark.parametrize("name", HEADS)
def test_head_is_the_largest_published(name: str) -> None:
    flats, _, corners, _, height, _, _, _ = HEADS[name]
    row = bolt(name)
    assert (row.head_flats, row.head_corners, row.head_height) == pytest.approx(
        (flats * INCH, corners * INCH, height * INCH), abs=1e-6
    )


@pytest.mark.parametrize("name", HEADS)
def test_thread_length(name: str) -> None:
    short, long = HEADS[name][-2:]
    row = bolt(name)
    assert [row.thread_length(inches * INCH) / INCH for inches in (1, 6.0, 6.25, 8)] == pytest.approx(
        [short, short, long, long], abs=1e-9
    )


def test_half_inch_head_is_not_that_of_a_hex_bolt() -> None:
    """The hex bolt of the same standard has the same flats and a higher head: 11/32 in basic."""
    assert bolt("1/2-13").head_height / INCH < 11 / 32
    assert bolt("1/2-13").head_height / INCH > 5 / 16  # basic height of the cap screw


def test_fine_thread_has_the_same_head() -> None:
    coarse, fine = bolt("1/2-13"), bolt("1/2-20")
    assert (fine.head_flats, fine.head_corners, fine.head_height) == (
        coarse.head_flats,
        coarse.head_corners,
        coarse.head_height,
    )
    assert fine.thread_length(100) == coarse.thread_length(100)


def test_stock_lengths_go_by_quarters_from_one_to_six_inches() -> None:
    """Common practice, no source."""
    assert [length / INCH for length in bolt("1/2-13").stock_lengths()] == pytest.approx(
        [1 + n / 4 for n in range(21)], abs=1e-9
    )
