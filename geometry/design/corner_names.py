"""The name of a corner of the well by where it is: a number says nothing to a person with a tape."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design.validity import known

if TYPE_CHECKING:
    from geometry.design.validity import Points


def corner_name(profile: Points, index: int) -> str:
    """Return the name of a corner: "Deepest point of the floor", "Floor corner at port", else its number."""
    last = len(profile) - 1
    if index in (0, last):
        return f"Well's top at {'port' if index == 0 else 'starboard'}"
    depths = [-y for _, y in known(profile) or ()]
    if depths and depths[index] == max(depths) and depths.count(max(depths)) == 1:
        return "Deepest point of the floor"
    if index in (1, last - 1):
        return f"Floor corner at {'port' if index == 1 else 'starboard'}"
    return f"Well corner {index + 1}"
