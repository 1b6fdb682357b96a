"""Strength of stainless bolts by property class.

Source: ISO 3506-1, Mechanical properties of corrosion-resistant stainless steel fasteners, part 1, least tensile
strength and 0.2 % proof stress. Read in a secondary copy. N/mm2; exact.
"""

import pytest

from geometry.tables.fasteners import grade

TABLE = {"50": (500.0, 210.0), "70": (700.0, 450.0), "80": (800.0, 600.0)}


@pytest.mark.parametrize("steel", ["A2", "A4"])
@pytest.mark.parametrize("number", TABLE)
def test_class_as_published(steel: str, number: str) -> None:
    row = grade(f"{steel}-{number}")
    assert (row.tensile, row.yield_strength) == TABLE[number]
    assert row.tensile == 10 * int(number)  # the class is a tenth of the tensile strength
    assert row.proof is None
