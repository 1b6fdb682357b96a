"""The areas inside the boat where round parts have a given clearance, along their whole axis: areas of shapely, in [mm].

In (u, w·cos(lean)) of the exit on the inner face. The parts of a leaning bolt rise from there with n·sin(lean).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely

from geometry.solid.section import Line, Section
from geometry.zones.shape_sums import (
    BIG,
    NOTHING,
    clipped,
    disc_corners,
    edges_of,
    grown,
    hits_area,
    hits_edges,
    intersection_of,
    near_edges,
    swept,
)

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from geometry.solid.discs import Disc
    from geometry.solid.planes import Point
    from geometry.solid.well import Space

SPECK = 1e-4  # [mm2] less does not count
_UP = (4.0, 12.0, 36.0, 108.0)  # [mm] of clearance: steps for the reach of a leaning bolt's ends
BOX: list[Point] = [(-BIG, -BIG), (BIG, -BIG), (BIG, BIG), (-BIG, BIG)]


@dataclass(frozen=True, slots=True)
class Stretch:
    """A disc that needs room from ``start`` to ``end``, along its axis or in front of the inner face [mm]."""

    start: float
    end: float
    shape: Disc


def clear_area(inside_: Space, lean: float, body: Stretch, room: float, within: BaseGeometry) -> BaseGeometry:
    """Return the part of ``within`` where a leaning body has the clearance ``room``, in (u, w·cos(lean)).

    Its ends reach over the further, the more room it has. So the check also looks (radius + clearance)·sin(lean) beyond
    them. Steps of clearance that are not too high for the place bound that from above.
    """
    sine, cosine = math.sin(lean), math.cos(lean)
    start, end, shape = max(0.0, body.start * cosine), body.end * cosine, body.shape

    def tested(clearance: float) -> BaseGeometry:
        wider = (shape.radius + clearance) * abs(sine)
        longer = Stretch(max(0.0, start - wider), end + wider, shape)
        return within.intersection(free_of(inside_, lean, [longer], room))

    def roomy(clearance: float) -> BaseGeometry:
        return free_of(inside_, lean, [Stretch(start, end, shape)], clearance)

    kept = tested(_most(inside_, within, start, lean))
    missing = within.difference(kept)
    if missing.area > SPECK:
        missing = missing.intersection(roomy(room))
    for step in _UP:
        if missing.area < SPECK:
            break
        gained = tested(room + step).difference(roomy(room + step - 2.0))
        kept, missing = kept.union(gained), missing.difference(gained)
    return kept


def free_of(inside_: Space, lean: float, stretches: list[Stretch], room: float) -> BaseGeometry:
    """Return where discs have the clearance ``room``, each along its whole stretch in front of the inner face.

    In (u, w·cos(lean)) of the exit. The discs' centres rise from there with n·sin(lean).
    """
    sine = 0.0 if abs(lean) < 1e-12 else math.sin(lean)
    if inside_.convex:
        free = _between_lines(inside_, lean, stretches, room)
    else:
        free = intersection_of(
            _eased(_slab(inside_, lean, low, high), shape, room, square=not sine)
            for start, end, shape in _outermost(inside_, stretches, sine)
            for low, high in _slabs(inside_, start, end, sine)
        )
    taken: list[BaseGeometry] = []
    for block in inside_.blocks:
        ring = [(u, w * math.cos(lean)) for u, w in block.ring]
        met = [stretch for stretch in stretches if block.out > stretch.start]
        if not sine:
            # It is straight: of the whole discs near it, only the widest counts.
            whole = [stretch for stretch in met if not stretch.shape.is_cut]
            widest = max(whole, key=lambda stretch: stretch.shape.radius, default=None)
            met = [stretch for stretch in met if stretch.shape.is_cut or stretch is widest]
        for start, end, shape in {(stretch.start, min(stretch.end, block.out), stretch.shape) for stretch in met}:
            solid = swept(ring, *sorted((-start * sine, -end * sine)))
            grows = hits_area(solid, disc_corners(shape, room)) if shape.is_cut else grown(solid, shape.radius + room)
            taken.append(grows)
    return free.difference(shapely.union_all(taken)) if taken else free


def _between_lines(inside_: Space, lean: float, stretches: list[Stretch], room: float) -> BaseGeometry:
    """Return the area far enough from every line of a convex well."""
    sine, cosine = math.sin(lean), math.cos(lean)
    ends = [(n, stretch.shape) for stretch in stretches for n in (stretch.start, stretch.end)]
    sections = [(n, shape, inside_.section(n, cosine).lines) for n, shape in dict.fromkeys(ends)]
    ring = BOX
    for number in range(len(inside_.edges)):
        # A foot is a convex function of n: it is highest at an end.
        foot = -math.inf
        for n, shape, lines in sections:
            line = lines[number]
            reach = shape.reach(-line.normal_u, -line.normal_w)
            foot = max(foot, line.foot - n * sine * line.normal_w + reach)
        ring = clipped(ring, line.normal_u, line.normal_w, foot + room) if ring else ring
    return shapely.Polygon(ring) if len(ring) > 2 else NOTHING


def _outermost(inside_: Space, stretches: list[Stretch], sine: float) -> list[tuple[float, float, Disc]]:
    """Return the stretches without those that a wider disc on a longer one makes needless.

    Above a falling floor a square stretch counts only where it starts.
    """
    falling = not sine and inside_.falls >= 0
    every = dict.fromkeys((part.start, part.start if falling else part.end, part.shape) for part in stretches)

    def hidden(stretch: tuple[float, float, Disc], by: tuple[float, float, Disc]) -> bool:
        over = by[0] <= stretch[0] and (falling or by[1] >= stretch[1])
        return stretch != by and over and not by[2].is_cut and by[2].radius >= stretch[2].radius

    kept: list[tuple[float, float, Disc]] = []
    for stretch in sorted(every, key=lambda stretch: -stretch[2].radius):
        if not any(hidden(stretch, by) for by in kept):
            kept.append(stretch)
    return kept


def _eased(free: BaseGeometry, shape: Disc, room: float, *, square: bool) -> BaseGeometry:
    """Return where a disc's centre may be in a free section. Where not ``square``, it is quicker, and a little too small."""
    if shape.is_cut:
        return free.difference(hits_edges(edges_of(free), disc_corners(shape, room)))
    if square:
        return free.difference(near_edges(edges_of(free), shape.radius + room))
    return grown(free, -shape.radius - room)


def _slabs(inside_: Space, start: float, end: float, sine: float) -> list[tuple[float, float]]:
    """Return the stretches in which all edges' feet rise or fall together, finer ones for a leaning axis."""
    turns = {edge.radius for edge in inside_.edges[:1]}
    if sine:
        turns |= {max(edge.ends for edge in inside_.edges)}
        turns |= {start + (end - start) * share for share in (0.3,)}
    stops = sorted({start, end, *(n for n in turns if start < n < end)})
    return list(zip(stops, stops[1:], strict=False)) or [(start, start)]


def _slab(inside_: Space, lean: float, low: float, high: float) -> BaseGeometry:
    """Return the area that is free all the way from ``low`` to ``high``, relative to the axis, without blocks."""
    sine, cosine = math.sin(lean), math.cos(lean)
    ends = [(n, inside_.section(n, cosine)) for n in (low, high)]
    n_top, top = max(ends, key=lambda end: end[1].corners[0][1] - end[0] * sine)
    corners = tuple((u, w - n_top * sine) for u, w in top.corners)
    # An edge's first corner, but for the first edge, which runs down to the first corner.
    starts = (corners[0], *corners)
    lines = []
    for number, at in zip(range(len(inside_.edges)), starts, strict=True):
        line = top.lines[number]
        foot = max(section.lines[number].foot - n * sine * line.normal_w for n, section in ends)
        strip = foot - line.normal_u * at[0] - line.normal_w * at[1]
        lines.append(Line(line.normal_u, line.normal_w, foot, max(0.0, strip)))
    return Section(tuple(lines), corners, False, ())._free


def _most(inside_: Space, within: BaseGeometry, n: float, lean: float) -> float:
    """Return a clearance that no place in ``within`` can exceed: the distance to the obstacle at ``n``."""
    sine, cosine = math.sin(lean), math.cos(lean)
    if inside_.edges:
        u, w = inside_.edges[1].a
        spot = u, (w - n * inside_.falls) * cosine - n * sine
    else:
        standing = [block for block in inside_.blocks if block.out > n]
        if not standing:
            return 0.0
        u, w = standing[0].ring[0]
        spot = u, w * cosine - n * sine
    return max(math.hypot(u - spot[0], w - spot[1]) for u, w in shapely.get_coordinates(within))
