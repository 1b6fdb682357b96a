"""The farthest point of an area from another shape, anywhere in the area."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SHARE = 0.01  # of a farthest point's distance: its precision where the point is no corner
_GRAIN = 1e-4  # [mm]
_HAIR = 1e-6  # [mm]


def farthest(area: BaseGeometry, other: BaseGeometry) -> float:
    """Return the greatest distance from a point of ``area`` to ``other`` [mm].

    Usually a corner is the farthest point. The distance is then exact: the other shape, grown by it, covers the area.
    Elsewhere the other shape grows until it covers the area. That is within a hundredth of the distance, and usually too
    much: where a gap closes, the library leaves specks that do not exist. An area without size is 0 away.
    """
    import shapely

    corners = shapely.get_coordinates(area)
    if len(corners) == 0 or area.area == 0.0:
        return 0.0
    low = float(shapely.distance(shapely.points(corners), other).max())
    if other.buffer(low * 1.0002 + _HAIR, quad_segs=64).covers(area):  # 0.02 %: chords of a round shape are so much short
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
