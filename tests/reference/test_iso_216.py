"""Metric papers. Source: ISO 216, trimmed sizes of the A series, read in secondary copies. mm.

The series' own rule is the second check: the sides are as 1 to sqrt(2), and each size is the larger one halved.
reportlab's page sizes (points of 1/72 in) are the third. Tolerances: none; 0.5 % (whole millimetres); 0.01 mm.
"""

import math

import pytest
from reportlab.lib import pagesizes

from geometry.tables.papers import paper

TABLE = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "a2": (420.0, 594.0)}
POINTS = {"a4": pagesizes.A4, "a3": pagesizes.A3, "a2": pagesizes.A2}


@pytest.mark.parametrize("name", TABLE)
def test_sheet_as_published(name: str) -> None:
    row = paper(name)
    assert (row.width, row.height) == TABLE[name]
    assert row.height is not None
    assert row.height / row.width == pytest.approx(math.sqrt(2), rel=0.005)
    assert [row.width, row.height] == pytest.approx([points / 72 * 25.4 for points in POINTS[name]], abs=0.01)


def test_each_sheet_is_half_of_the_next() -> None:
    assert paper("a3").width == paper("a4").height
    assert paper("a2").width == paper("a3").height
