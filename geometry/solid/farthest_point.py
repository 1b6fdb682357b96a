"""The farthest point of an area from another shape, anywhere in the area."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely import STRtree
    from shapely.geometry.base import BaseGeometry

    Array = NDArray[Any]

_CLOSE = 1e-6  # [mm]: precision of a distance to a point that is no corner
_FIRST = 8  # squares along the longer side of the area, to begin with
_MOST = 50_000  # squares at once: then the distance may be more than the true one


def farthest(area: BaseGeometry, other: BaseGeometry) -> float:
    """Return the greatest distance from a point of ``area`` to ``other`` [mm]: lines, or an area that does not overlap it.

    Usually a corner is the farthest point, and the distance is exact. Else it is within 1e-6 mm. Squares cover the area.
    A square that reaches no farther than the farthest point so far is left out. The others are quartered. An area without
    size is 0 away.
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
    edges = shapely.linestrings(np.concatenate([np.stack((line[:-1], line[1:]), axis=1) for line in lines]))
    tree = shapely.STRtree(np.asarray(edges))
    low, high = corners.min(axis=0), corners.max(axis=0)
    size = float((high - low).max()) / _FIRST
    counts = np.maximum(1, np.ceil((high - low) / size)).astype(int)
    steps = np.stack(np.meshgrid(np.arange(counts[0]), np.arange(counts[1])), axis=-1).reshape(-1, 2)
    centres = low + (steps + 0.5) * size
    quarters = np.array([(-1, -1), (-1, 1), (1, -1), (1, 1)]) / 4
    while True:
        bounds, spots = _reach(area, tree, centres, size)
        best = max(best, float(shapely.distance(spots, other).max(initial=0.0)))
        left = bounds > best + _CLOSE
        if not left.any():
            return best
        if size < _CLOSE or 4 * int(left.sum()) > _MOST:
            return float(bounds[left].max())
        centres = (centres[left][:, None, :] + quarters * size).reshape(-1, 2)
        size /= 2


def _reach(area: BaseGeometry, tree: STRtree, centres: Array, size: float) -> tuple[Array, Array]:
    """Return a distance that each square's part of the area does not exceed [mm], and points of the area that are far.

    The distance to one edge bulges nowhere inward. Neither does the mean of two. So both are greatest at a corner of the
    part. The one edge is nearest to the square's middle, the other to the corner that is farthest from the first. Where two
    edges are equally far along a line, their mean does not exceed the distance there.
    """
    import numpy as np
    import shapely

    squares = shapely.box(*(centres - size / 2).T, *(centres + size / 2).T)
    corners, of = shapely.get_coordinates(shapely.intersection(squares, area), return_index=True)
    marks, edges = _points(corners), tree.geometries
    near = np.asarray(tree.nearest(_points(centres)))
    apart = np.asarray(shapely.distance(marks, edges[near[of]]))
    bounds, means = np.zeros(len(centres)), np.zeros(len(centres))
    np.maximum.at(bounds, of, apart)
    peaks = np.flatnonzero(apart == bounds[of])
    second = near.copy()
    second[of[peaks]] = tree.nearest(marks[peaks])
    np.maximum.at(means, of, (apart + np.asarray(shapely.distance(marks, edges[second[of]]))) / 2)
    midway = _midway(centres[of[peaks]], corners[peaks], edges[near[of[peaks]]], edges[second[of[peaks]]])
    return np.minimum(bounds, means), np.concatenate((marks, midway[shapely.covers(area, midway)]))


def _midway(starts: Array, ends: Array, first: Array, second: Array) -> Array:
    """Return the points between starts and ends that are about as far from the one edge as from the other."""
    import numpy as np
    import shapely

    less, more = (np.asarray(shapely.distance(at, second) - shapely.distance(at, first)) for at in map(_points, (starts, ends)))
    turns = less - more
    shares = np.divide(less, turns, out=np.zeros_like(less), where=turns > 0.0)
    return _points(starts + shares.clip(0.0, 1.0)[:, None] * (ends - starts))


def _points(places: Array) -> Array:
    import numpy as np
    import shapely

    return np.asarray(shapely.points(places))
