"""How far an area reaches away from something: the farthest of its points, wherever it lies in the area."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SHARE = 0.01  # of a farthest point's distance, to which it is found where it is no corner
_GRAIN = 1e-4  # [mm]
_HAIR = 1e-6  # [mm]


def farthest(area: BaseGeometry, other: BaseGeometry) -> float:
    """Return the greatest distance from a point of ``area`` to ``other`` [mm].

    As a rule a corner lies farthest, and then it is exact: the other grown by so much covers the area. Where it does
    not, the other is grown until it does. That is good to a hundredth of the distance, and as a rule too much: where
    what it grows into closes, the library leaves specks that are none. An area of no size is 0 away.
    """
    import shapely

    corners = shapely.get_coordinates(area)
    if len(corners) == 0 or area.area == 0.0:
        return 0.0
    low = float(shapely.distance(shapely.points(corners), other).max())
    if other.buffer(low * 1.0002 + _HAIR, quad_segs=64).covers(area):  # 0.02 %: what the rounds lack at their chords
        return low
    left, bottom, right, top = area.bounds
    high = low + math.hypot(right - left, top - bottom)
    while high - low > _GRAIN:
        middle = (low + high) / 2
        if other.buffer(middle, quad_segs=64).covers(area):
            high = middle
        else:
            low = middle
    return high
