"""A pilot that is still to be drilled: what the distance from it should be, and how far off it may be [mm]."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.readings.pilots import pilot_key, with_pilot
from geometry.solving.compared import compared
from geometry.solving.comparisons import comparisons
from geometry.solving.pilot_distances import pilot_distance
from geometry.solving.solved import solved

if TYPE_CHECKING:
    from geometry.design.design import Design, PilotEnd
    from geometry.design.validity import Number


class NextPilot(msgspec.Struct, frozen=True):
    """The distance that a pilot should have.

    Attributes:
        expected: the distance by all readings so far. most: how far off it may be. washer: across the one for its mark.
    """

    expected: float
    most: float
    washer: Number


def next_pilot(design: Design, mount: int, hole: str, to: PilotEnd) -> NextPilot:
    """Return what is expected of a pilot at a hole.

    Raises:
        Unmeasured: a reading behind it is missing. NonsenseError: the hole has no place.
    """
    drilled = with_pilot(solved(design), mount, hole, to=to)
    expected = pilot_distance(len(drilled.pilots) - 1, drilled)
    read = with_pilot(design, mount, hole, to=to, value=expected)
    comparison = next(each for each in comparisons(read) if each.key == pilot_key(mount, hole))
    seen = compared(read, comparison)
    return NextPilot(expected, comparison.most if seen is None else seen.most, drilled.pilots[-1].washer)
