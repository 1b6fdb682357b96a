"""A survey's distances as lines of text: "from; to; distance", one a line, and a fourth word for the inside."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from geometry.design.checking_readings import SurveyDistance
from geometry.errors import OwnerError
from geometry.survey.network import CENTRELINE, TOP_EDGE
from geometry.survey.of_design import DATUM_WORDS, ends_of
from geometry.units.units import parse_length

if TYPE_CHECKING:
    from geometry.design.checking_readings import Face
    from geometry.design.design import Design

_SAME = {
    "centerline": CENTRELINE, "centre line": CENTRELINE, "center line": CENTRELINE, "top": TOP_EDGE, "edge": TOP_EDGE,
    "datum": DATUM_WORDS, "middle": DATUM_WORDS,
}  # fmt: skip
_PARTS = 3


def distances_in(text: str, design: Design) -> tuple[SurveyDistance, ...]:
    """Return the distances in lines of text; empty lines, and lines that begin with #, are left out.

    Raises:
        OwnerError: names the line that can't be read, and shows what one looks like.
    """
    made = []
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        parts = [part.strip() for part in re.split(r"[;\t]" if re.search(r"[;\t]", line) else ",", line)]
        where = [part.lower() for part in parts[_PARTS:]]
        face: Face = "inside" if where == ["inside"] else "outside"
        if len(parts) < _PARTS or not all(parts[:_PARTS]) or where not in ([], ["inside"], ["outside"]):
            raise OwnerError(f"Line {number} is not a distance. Write it like this: old lower port; centreline; 4 7/8 in")
        try:
            made.append(distance(design, face, parts[0], parts[1], parts[2]))
        except OwnerError as error:
            raise OwnerError(f"Line {number}: {error}") from error
    if not made:
        raise OwnerError("There is no distance in the list. Write one a line: old lower port; centreline; 4 7/8 in")
    return tuple(made)


def distance(design: Design, face: Face, first: str, second: str, length: str) -> SurveyDistance:
    """Return one distance as it was typed: names in any case, the length in the boat's unit, or with another one named.

    Raises:
        OwnerError: the length can't be read or is not possible, or it goes from a place to itself.
    """
    ends = {name.lower(): name for name in ends_of(design, face)} | _SAME
    from_, to = (ends.get(" ".join(name.lower().split()), name.strip()) for name in (first, second))
    if not from_ or not to:
        raise OwnerError("A distance goes from one place to another. Name both.")
    if from_ == to:
        raise OwnerError(f"The distance goes from {from_} to itself. Choose another place.")
    return SurveyDistance(face=face, from_=from_, to=to, length=parse_length(length, design.units), spread=None)


def own_marks(design: Design) -> tuple[str, ...]:
    """Return the names in a design's survey that are no hole, corner or line of the boat: marks of the owner's."""
    if design.survey is None:
        return ()
    names = (
        name for each in design.survey.distances for name in (each.from_, each.to) if name not in ends_of(design, each.face)
    )
    return tuple(dict.fromkeys(names))
