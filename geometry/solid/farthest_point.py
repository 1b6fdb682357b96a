"""The farthest point of an area from another shape, anywhere in the area."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_CLOSE = 0.004  # [mm]: precision of a distance to a point that is no corner
_FIRST = 8  # squares along the longer side of the area, to begin with
_MOST = 200_000  # squares at once: then the distance may be more than the true one


def farthest(area: BaseGeometry, other: BaseGeometry) -> float:
    """Return the greatest distance from a point of ``area`` to ``other`` [mm].

    Usually a corner is the farthest point, and the distance is exact. Else it is within 0.004 mm. Squares cover the area.
    A square whose points can be no farther than the farthest so far is left out, the others are
    quartered: a distance changes no faster than the place. An area without size is 0 away.
    """
    import numpy as np
    import shapely

    corners = shapely.get_coordinates(area)
    if len(corners) == 0 or area.area == 0.0:
        return 0.0
    best = float(shapely.distance(shapely.points(corners), other).max())
    shapely.prepare(other)
    low, high = corners.min(axis=0), corners.max(axis=0)
    size = float((high - low).max()) / _FIRST
    counts = np.maximum(1, np.ceil((high - low) / size)).astype(int)
    steps = np.stack(np.meshgrid(np.arange(counts[0]), np.arange(counts[1])), axis=-1).reshape(-1, 2)
    centres = low + (steps + 0.5) * size
    quarters = np.array([(-1, -1), (-1, 1), (1, -1), (1, 1)]) / 4
    while True:
        reach = size / 2**0.5
        points = shapely.points(centres)
        off = shapely.distance(points, area)
        apart = shapely.distance(points, other)
        best = max(best, float(apart[off == 0.0].max(initial=0.0)))
        # Nothing of the area in a square is farther than its middle by more than the middle's distance to the corner.
        left = (off <= reach) & (apart + reach > best + _CLOSE)
        if not left.any():
            return best
        if reach < _CLOSE or 4 * int(left.sum()) > _MOST:
            return float((apart[left] + reach).max())
        centres = (centres[left][:, None, :] + quarters * size).reshape(-1, 2)
        size /= 2
