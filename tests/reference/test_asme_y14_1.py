"""Inch papers. Source: ASME Y14.1, sizes A and B, read in secondary copies.

Legal and rolls: common practice, no source.
reportlab's page sizes (points of 1/72 in) are the second check. Tolerance: 1e-6 mm.
"""

import pytest
from reportlab.lib import pagesizes

from geometry.tables.papers import LONGEST_ROLL, paper

INCH = 25.4
TABLE = {"letter": (8.5, 11.0), "tabloid": (11.0, 17.0), "legal": (8.5, 14.0)}
POINTS = {"letter": pagesizes.LETTER, "tabloid": pagesizes.TABLOID, "legal": pagesizes.LEGAL}


@pytest.mark.parametrize("name", TABLE)
def test_sheet_as_published(name: str) -> None:
    row = paper(name)
    assert row.height is not None
    assert [row.width, row.height] == pytest.approx([side * INCH for side in TABLE[name]], abs=1e-6)
    assert [row.width, row.height] == pytest.approx(sorted(side / 72 * INCH for side in POINTS[name]), abs=1e-6)


@pytest.mark.parametrize(("name", "width"), [("roll24", 609.6), ("roll36", 914.4)])
def test_rolls_are_as_long_as_needed(name: str, width: float) -> None:
    row = paper(name)
    assert row.roll
    assert row.height is None
    assert row.width == pytest.approx(width, abs=1e-6)


def test_a_roll_ends_where_readers_do() -> None:
    """ISO 32000-1, annex C: 14,400 units of 1/72 in. Read in a secondary copy."""
    assert pytest.approx(14400 / 72 * INCH, abs=1e-6) == LONGEST_ROLL
