"""The farthest point of an area from another shape, anywhere in the area."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_CLOSE = 0.004  # [mm]: precision of a distance to a point that is no corner
_FIRST = 8  # squares along the longer side of the area, to begin with
_MOST = 50_000  # squares at once: then the distance may be more than the true one


def farthest(area: BaseGeometry, other: BaseGeometry) -> float:
    """Return the greatest distance from a point of ``area`` to ``other`` [mm]: lines, or an area that does not overlap it.

    Usually a corner is the farthest point, and the distance is exact. Else it is within 0.004 mm. Squares cover the area.
    The distance to one edge bulges nowhere inward: in a square it is greatest at a corner of what the square has of the
    area. A square that is no farther from its nearest edge than the farthest point so far is left out. The others are
    quartered. An area without size is 0 away.
    """
    import numpy as np
    import shapely

    corners = shapely.get_coordinates(area)
    if len(corners) == 0 or area.area == 0.0:
        return 0.0
    best = float(shapely.distance(shapely.points(corners), other).max())
    shapely.prepare(other)
    shapely.prepare(area)
    rims = shapely.get_parts(other.boundary if shapely.get_dimensions(other) == 2 else other)
    lines = [shapely.get_coordinates(rim) for rim in rims]
    edges = np.asarray(shapely.linestrings(np.concatenate([np.stack((line[:-1], line[1:]), axis=1) for line in lines])))
    tree = shapely.STRtree(edges)
    low, high = corners.min(axis=0), corners.max(axis=0)
    size = float((high - low).max()) / _FIRST
    counts = np.maximum(1, np.ceil((high - low) / size)).astype(int)
    steps = np.stack(np.meshgrid(np.arange(counts[0]), np.arange(counts[1])), axis=-1).reshape(-1, 2)
    centres = low + (steps + 0.5) * size
    quarters = np.array([(-1, -1), (-1, 1), (1, -1), (1, 1)]) / 4
    while True:
        squares = shapely.box(*(centres - size / 2).T, *(centres + size / 2).T)
        pieces = shapely.intersection(squares, area)
        points, of = shapely.get_coordinates(pieces, return_index=True)
        nearest = tree.nearest(shapely.points(centres))
        marks = shapely.points(points)
        best = max(best, float(shapely.distance(marks, other).max(initial=0.0)))
        bounds = np.zeros(len(centres))
        np.maximum.at(bounds, of, shapely.distance(marks, edges[nearest[of]]))
        left = bounds > best + _CLOSE
        if not left.any():
            return best
        if size < _CLOSE or 4 * int(left.sum()) > _MOST:
            return float(bounds[left].max())
        centres = (centres[left][:, None, :] + quarters * size).reshape(-1, 2)
        size /= 2
