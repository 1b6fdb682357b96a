"""Heads, threads and lengths of metric hex head bolts against the published table.

Source: ISO 4014, Hexagon head bolts, product grades A and B. Read in three secondary copies, which agree; the tolerance
of the head's height and the list of lengths (ISO 888) are from memory. mm.
"""

import pytest

from geometry.tables.fasteners import bolt

HEADS = {"M10x1.5": (6.4, 16.0, 17.77), "M12x1.75": (7.5, 18.0, 20.03)}  # height nominal, flats, corners min
THREADS = {"M10x1.5": (26.0, 32.0, 45.0), "M12x1.75": (30.0, 36.0, 49.0)}  # up to 125, up to 200, beyond


@pytest.mark.parametrize("name", HEADS)
def test_head_as_published(name: str) -> None:
    height, flats, least_corners = HEADS[name]
    row = bolt(name)
    assert row.head_flats == flats
    assert row.head_height - height == pytest.approx(0.29, abs=1e-9)  # js15 of product grade B: the largest
    assert least_corners < row.head_corners < flats * 1.1548  # a hexagon's corners are at 2/sqrt(3) of its flats


@pytest.mark.parametrize("name", THREADS)
def test_thread_length_as_published(name: str) -> None:
    short, middle, long = THREADS[name]
    lengths = (50, 125, 125.1, 200, 200.1, 240)
    assert [bolt(name).thread_length(length) for length in lengths] == [short, short, middle, middle, long, long]


def test_flats_are_not_those_of_din_931() -> None:
    """DIN 931 and 933 have 17 and 19 mm across flats: another wrench, another socket."""
    assert bolt("M10x1.5").head_flats != 17
    assert bolt("M12x1.75").head_flats != 19


def test_lengths_of_iso_888() -> None:
    by_fives = [20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70]
    by_tens = [80, 90, 100, 110, 120, 130, 140, 150, 160]
    assert list(bolt("M12x1.75").stock_lengths()) == [*by_fives, *by_tens, 180, 200]
