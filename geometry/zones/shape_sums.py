"""Sums of shapes (Minkowski): the places where a shape's centre may not be, if the shape must stay off an obstacle.

Straight edges are exact. A polygon that replaces a circle is drawn around it, at most `GRAIN` larger, so that the free
area is never too large. Shapes of the shapely library, coordinates [mm].
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely

from geometry.solid.planes import sides

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from geometry.solid.discs import Disc
    from geometry.solid.planes import Point, Segment

    Corners = NDArray[np.float64]

GRAIN = 0.015  # [mm] a polygon may be so much larger than its circle
BIG = 1e4  # [mm] beyond any boat

NOTHING: BaseGeometry = shapely.Polygon()


def only_areas(shape: BaseGeometry) -> BaseGeometry:
    """Return a shape without its bare lines and points, as two areas that touch may leave; a library fails on them."""
    if shape.geom_type != "GeometryCollection":
        return shape
    return shapely.union_all([part for part in shapely.get_parts(shape) if part.geom_type == "Polygon"])


def grown(area: BaseGeometry, radius: float) -> BaseGeometry:
    """Return ``area`` with all points within ``radius`` of it. A negative radius removes as much."""
    if radius == 0.0 or area.is_empty:
        return area
    wide, quarter = _arcs(radius)
    return area.buffer(wide, quad_segs=quarter)


def near_edges(edges: Sequence[Segment], radius: float) -> BaseGeometry:
    """Return all points within ``radius`` of some edges, each by itself.

    A buffer around a whole line smooths small jogs away, up to a hundredth of the radius. Around one edge it is exact.
    """
    wide, quarter = _arcs(radius)
    return shapely.union_all(shapely.buffer(shapely.linestrings(np.asarray(edges)), wide, quad_segs=quarter))


def _arcs(radius: float) -> tuple[float, int]:
    """Return the radius and the steps in a quarter turn for a polygon around a circle."""
    # Where arcs are short, a step may be half as long again as asked for: allow for that.
    half = math.acos(1 / (1 + GRAIN / abs(radius)))
    quarter = max(2, math.ceil(math.pi / 4 * 1.5 / half))
    return radius / math.cos(1.5 * math.pi / 4 / quarter), quarter


def circle_around(centre: Point, radius: float) -> BaseGeometry:
    """Return a polygon around a circle."""
    return grown(shapely.Point(centre), radius)


def circle_within(centre: Point, radius: float) -> BaseGeometry:
    """Return a polygon within a circle, nothing where there is none."""
    if radius <= 0:
        return NOTHING
    quarter = max(2, math.ceil(math.pi / 4 / math.acos(max(0.0, 1 - GRAIN / radius))))
    return shapely.Point(centre).buffer(radius, quad_segs=quarter)


def disc_corners(disc: Disc, room: float) -> Corners:
    """Return the corners of a convex polygon around a disc, cut or not, with ``room`` all around it."""
    if not disc.is_cut:
        around: Corners = shapely.get_coordinates(circle_around((0.0, 0.0), disc.radius + room))
        return around[:-1]
    half = math.acos(1 / (1 + GRAIN / disc.radius))
    start = math.atan2(-disc.cut, disc.half_chord)
    turn = math.pi - 2 * start
    steps = math.ceil(turn / (2 * half))
    half = turn / steps / 2
    at = start + half * (2 * np.arange(steps) + 1)
    arc = np.column_stack((np.cos(at), np.sin(at))) * (disc.radius / math.cos(half))
    ends = np.array(disc.ends((0.0, 0.0)))
    corners: Corners = np.vstack((arc, ends))
    if room <= 0:
        return corners
    around = shapely.get_coordinates(grown(shapely.MultiPoint(corners).convex_hull, room))
    return around[:-1]


def hits_edges(edges: Sequence[Segment], shape: Corners) -> BaseGeometry:
    """Return where a convex shape's origin may not be, if the shape must stay off some edges."""
    return shapely.union_all(sums(edges, shape)) if edges else NOTHING


def sums(edges: Sequence[Segment], shape: Corners) -> NDArray[np.object_]:
    """Return for each edge where a convex shape's origin may not be, if the shape must stay off that edge."""
    around = shapely.get_coordinates(shapely.MultiPoint(-shape).convex_hull.normalize().reverse())[:-1]
    ends = np.asarray(edges, dtype=float)  # (edge, end, coordinate)
    along = ends[:, 1] - ends[:, 0]
    # The turned shape goes along the edge. Its front half, from its right side anticlockwise to its left one, stops at the end.
    left = along[:, :1] * around[:, 1] - along[:, 1:] * around[:, 0]
    first, count = left.argmin(axis=1), len(around)
    front = (left.argmax(axis=1) - first) % count
    step = np.arange(count + 2)
    in_front = step <= front[:, None]
    corner = (first[:, None] + step - ~in_front) % count
    rings = around[corner] + np.where(in_front[:, :, None], ends[:, None, 1], ends[:, None, 0])
    each: NDArray[np.object_] = shapely.polygons(rings)
    return each


def hits_area(area: BaseGeometry, shape: Corners) -> BaseGeometry:
    """Return where a convex shape's origin may not be, if the shape must stay out of an area."""
    if area.is_empty:
        return NOTHING
    inside = shapely.transform(area, lambda at: at - shape[0])
    return hits_edges(edges_of(area), shape).union(inside)


def edges_of(area: BaseGeometry) -> list[Segment]:
    """Return every side of an area."""
    edges: list[Segment] = []
    for part in shapely.get_parts(area):
        if part.geom_type == "Polygon":
            for ring in (part.exterior, *part.interiors):
                corners = [(float(x), float(y)) for x, y in ring.coords]
                edges += zip(corners, corners[1:], strict=False)
    return edges


def swept(ring: Sequence[Point], low: float, high: float) -> BaseGeometry:
    """Return the area that a ring sweeps when its second coordinate grows by ``low`` up to ``high``."""
    bottom, top = ([(x, y + by) for x, y in ring] for by in (low, high))
    if high - low < 1e-12:
        return shapely.Polygon(bottom)
    walls = [
        shapely.MultiPoint(((a[0], a[1] + low), (b[0], b[1] + low), (a[0], a[1] + high), (b[0], b[1] + high))).convex_hull
        for a, b in sides(tuple(ring))
    ]
    return shapely.union_all([shapely.Polygon(bottom), shapely.Polygon(top), *walls])


def clipped(ring: list[Point], normal_u: float, normal_w: float, foot: float) -> list[Point]:
    """Return the part of a convex ring where normal · point is at least ``foot``."""
    kept: list[Point] = []
    for a, b in zip(ring[-1:] + ring[:-1], ring, strict=True):
        over_a = normal_u * a[0] + normal_w * a[1] - foot
        over_b = normal_u * b[0] + normal_w * b[1] - foot
        if over_a * over_b < 0:
            share = over_a / (over_a - over_b)
            kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        if over_b >= 0:
            kept.append(b)
    return kept


def intersection_of(areas: Iterable[BaseGeometry]) -> BaseGeometry:
    """Return the common area of all areas."""
    common: BaseGeometry | None = None
    for area in areas:
        common = area if common is None else common.intersection(area)
    return NOTHING if common is None else common
