"""How far all readings together move the floor from where its depths were read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.solid.faces import Unmeasured, profile_up
from geometry.solid.placed_bolts import bolts
from geometry.solid.well import space
from geometry.solving.solved import solved

if TYPE_CHECKING:
    from geometry.design.design import Design

WORTH_SAYING = 0.5
"""[mm] a floor that moves by no more than this is drawn without a word: our assumption, a line is no finer."""


def floor_moved(design: Design) -> float | None:
    """Return how much higher than read the floor is under the bolt where it moves most [mm]; negative where it is lower.

    Counted from where the well is measured. None where it moves by no more than `WORTH_SAYING`, or is not known.
    """
    boat = solved(design)
    if boat is design or design.well is None:
        return None
    try:
        raised = [deep - now for deep, now in zip(_depths(design), _depths(boat), strict=True)]
    except Unmeasured:
        return None
    most = max(raised, key=abs, default=0.0)
    return most if abs(most) > WORTH_SAYING else None


def _depths(design: Design) -> list[float]:
    """Return the floor's depth under each bolt that has a floor under it."""
    inside, deep = space(design), []
    for bolt in bolts(design):
        floor = inside.floor_at(bolt.exit.u)
        if floor is not None and design.well is not None:
            deep.append(profile_up(bolt.faces, design.well) - floor)
    return deep
