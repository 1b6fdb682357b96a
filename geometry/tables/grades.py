"""Strength grades of stainless bolts, by the mark on the head.

A bolt without a mark may be annealed stainless, which yields at ordinary torques.
"""

from __future__ import annotations

import msgspec

from geometry.tables.known import MEMORY, MPA_PER_KSI, SECONDARY, look_up


class Grade(msgspec.Struct, frozen=True):
    """A strength grade.

    Attributes:
        name: as marked: "A4-70", "F593G".
        kind: the family of metal.
        yield_strength: least yield strength (0.2 % proof) [N/mm2].
        tensile: least tensile strength [N/mm2].
        proof: proof stress of the bolt [N/mm2], None where none is published.
        source: where the strengths are published, and how well they are known.
    """

    name: str
    kind: str
    yield_strength: float
    tensile: float
    proof: float | None
    source: str


# property class -> 0.2 % proof, tensile [N/mm2]; ISO 3506-1, read in a secondary copy
_CLASSES = {"50": (210.0, 500.0), "70": (450.0, 700.0), "80": (600.0, 800.0)}
# mark -> yield, tensile [ksi], what the mark means; ASTM F593. Group 2 (E to H) and 65/100 and 30/75 of group 1 were
# read in a secondary copy; that group 1 has the same steps elsewhere is from memory
_F593 = {
    "F593A": (20.0, 65.0, "group 1, headed and rolled from annealed stock", MEMORY),
    "F593B": (30.0, 75.0, "group 1, annealed", SECONDARY),
    "F593C": (65.0, 100.0, "group 1, cold worked, 1/4 to 5/8 in", SECONDARY),
    "F593D": (45.0, 85.0, "group 1, cold worked, 3/4 to 1-1/2 in", MEMORY),
    "F593E": (20.0, 65.0, "group 2, headed and rolled from annealed stock", SECONDARY),
    "F593F": (30.0, 75.0, "group 2, annealed", SECONDARY),
    "F593G": (65.0, 100.0, "group 2, cold worked, 1/4 to 5/8 in", SECONDARY),
    "F593H": (45.0, 85.0, "group 2, cold worked, 3/4 to 1-1/2 in", SECONDARY),
}

_GRADES = {
    **{
        f"{steel}-{number}": Grade(
            f"{steel}-{number}", "stainless", at_yield, tensile, None, f"ISO 3506-1; {SECONDARY}"
        )
        for steel in ("A2", "A4")
        for number, (at_yield, tensile) in _CLASSES.items()
    },
    **{
        mark: Grade(
            mark, "stainless", at_yield * MPA_PER_KSI, tensile * MPA_PER_KSI, None, f"ASTM F593, {meaning}; {known}"
        )
        for mark, (at_yield, tensile, meaning, known) in _F593.items()
    },
}


def grade(name: str) -> Grade:
    """Return the grade called ``name``.

    Raises:
        OwnerError: it is not in the table; the message names those that are.
    """
    return look_up(_GRADES, name, "grade")


def grade_names() -> tuple[str, ...]:
    """Return the grades of the table, in its order."""
    return tuple(_GRADES)
