"""Papers that a template can be printed on: ISO 216, ASME Y14.1 and rolls."""

from __future__ import annotations

import msgspec

from geometry.tables.known import PRACTICE, SECONDARY, inches, look_up

LONGEST_ROLL = inches(200)  # [mm] 14,400 units of 1/72 in: ISO 32000-1 annex C; read in a secondary copy


class Paper(msgspec.Struct, frozen=True):
    """A sheet, portrait, or a roll.

    Attributes:
        name: lower case.
        width: the shorter side, or the roll's width [mm].
        height: the longer side [mm]; None for a roll: as long as needed, at most ``LONGEST_ROLL``.
        roll: whether it comes off a roll.
        source: where the size is published, and how well it is known.
    """

    name: str
    width: float
    height: float | None
    roll: bool
    source: str


def _iso(name: str, width: float, height: float) -> Paper:
    return Paper(name, width, height, False, f"ISO 216; {SECONDARY}")


def _inch(name: str, width: float, height: float, source: str) -> Paper:
    return Paper(name, inches(width), inches(height), False, source)


_PAPERS = {
    paper.name: paper
    for paper in (
        _inch("letter", 8.5, 11.0, f"ASME Y14.1 size A; {SECONDARY}"),
        _inch("legal", 8.5, 14.0, PRACTICE),
        _inch("tabloid", 11.0, 17.0, f"ASME Y14.1 size B; {SECONDARY}"),
        _iso("a4", 210.0, 297.0),
        _iso("a3", 297.0, 420.0),
        _iso("a2", 420.0, 594.0),
        Paper("roll24", inches(24), None, True, PRACTICE),
        Paper("roll36", inches(36), None, True, PRACTICE),
    )
}


def paper(name: str) -> Paper:
    """Return the paper called ``name``, in any case.

    Raises:
        OwnerError: it is not in the table; the message names those that are.
    """
    return look_up(_PAPERS, name.lower(), "paper")


def paper_names() -> tuple[str, ...]:
    """Return the papers of the table, in its order."""
    return tuple(_PAPERS)
