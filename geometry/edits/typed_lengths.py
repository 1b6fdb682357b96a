"""The measured part of a drawn shape: the typed lengths. Every other distance is placed by eye, and is a guess.

A typed edge ties a corner to the one before: a level edge across, a plumb one down, and one with a typed slope both ways.
A corner that is tied to the centreline or to the top edge has a measured distance from it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec.structs import replace

from geometry.design.validity import CLOSE

if TYPE_CHECKING:
    Point = tuple[float, float]

Entered = Literal["clicked", "length", "length and slope"]
"""How a corner was set: by a click, or by the typed length of the edge before it, with its slope or without."""


class Tie(msgspec.Struct, frozen=True):
    """The ties of a corner.

    Attributes:
        across, down: corners with the same number are apart by typed lengths alone; 0: tied to the centreline, to the top edge.
        typed: whether an edge at the corner has a typed length.
    """

    across: int
    down: int
    typed: bool


def typed_of_well(corners: tuple[Point, ...], entered: tuple[Entered, ...]) -> set[str]:
    """Return the keys of a drawn well's measures that follow from typed lengths.

    A floor that is drawn level was not read at both sides: only the depth of a typed wall counts.

    Args:
        corners: as drawn, from either side [mm]. entered: how the first of them were set; the rest are mirrored.
    """
    ties = list(_ties(corners[: len(entered)], entered, whole=False))
    ties += [Tie(-number, -number, typed=False) for number in range(1, len(corners) - len(ties) + 1)]
    if corners[0][0] > corners[-1][0]:
        corners, ties = corners[::-1], ties[::-1]
    across = {i for i, tie in enumerate(ties) if tie.typed and tie.across == 0}
    down = {i for i, tie in enumerate(ties) if tie.typed and tie.down == 0}
    if len(corners) != 4:
        return {f"well.profile.{i}.0" for i in across} | {f"well.profile.{i}.1" for i in down}
    typed = set[str]()
    if abs(corners[1][1] - corners[2][1]) < CLOSE:  # else the depth under a bolt is between two corners
        typed |= {key for i, key in ((1, "well.floor_port"), (2, "well.floor_starboard")) if i in down}
    for key, left, right in (("well.floor_width", 1, 2), ("well.top_width", 0, 3)):
        typed |= {key} if ties[left].across == ties[right].across else set()
    return typed


def typed_outline(corners: tuple[Point, ...], entered: tuple[Entered, ...]) -> bool:
    """Return whether typed lengths alone give a drawn outline, from the centreline on; ``corners`` and ``entered`` as above."""
    ties = _ties(corners[: len(entered)], entered, whole=True)
    return len(ties) > 1 and all(tie.typed and tie.across == 0 and tie.down == ties[0].down for tie in ties)


def _ties(corners: tuple[Point, ...], entered: tuple[Entered, ...], *, whole: bool) -> tuple[Tie, ...]:
    """Return the ties of corners; ``whole``: a typed level or plumb edge ties both ways."""
    ties: tuple[Tie, ...] = ()
    for number, (u, y) in enumerate(corners, start=1):
        way = entered[number - 1]
        across = down = number
        if ties and way != "clicked":
            ties = (*ties[:-1], replace(ties[-1], typed=True))
            before, (x, z) = ties[-1], corners[number - 2]
            level, plumb = abs(y - z) < CLOSE, abs(u - x) < CLOSE
            both = way == "length and slope" or (whole and (level or plumb))
            across = before.across if level or both else across
            down = before.down if plumb or both else down
        ties = (*ties, Tie(across, down, way != "clicked"))
        if abs(u) < CLOSE:
            ties = tuple(replace(tie, across=0) if tie.across == across else tie for tie in ties)
        if abs(y) < CLOSE:
            ties = tuple(replace(tie, down=0) if tie.down == down else tie for tie in ties)
    return ties
