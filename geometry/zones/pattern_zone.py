"""The area where a motor's whole pattern may be: all its bolts, backing plates and its bracket, in (offset, upper_at)."""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import shapely

from geometry.design.validity import CLOSE
from geometry.judge.bracket import clears
from geometry.judge.check_kinds import IN_WELL
from geometry.solid.bracket_holes import mount_key
from geometry.solid.clearances import axes_gap
from geometry.solid.faces import need, need_all
from geometry.solid.openings import openings
from geometry.solid.outline import inner_rim, outer_rim
from geometry.solid.placed_bolts import Body, Bolt, plate_ring
from geometry.solid.section import Section
from geometry.solid.well import space
from geometry.zones.centred_motor import CentredMotor, bodies_of, exit_line, face_of, shifted
from geometry.zones.free_room import BOX
from geometry.zones.shape_sums import (
    BIG,
    NOTHING,
    circle_around,
    circle_within,
    clipped,
    edges_of,
    grown,
    hits_area,
    hits_edges,
    intersection_of,
    only_areas,
)
from geometry.zones.turning_room import turning_next_to

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from shapely.geometry.base import BaseGeometry

    from geometry.design.boat import OldHole
    from geometry.design.design import Design
    from geometry.design.hardware import BackingPlate
    from geometry.solid.planes import Point
    from geometry.zones.shape_sums import Corners

Ring = tuple["Point", ...]


def pattern_area(case: CentredMotor, pairs: list[BaseGeometry], grade: int) -> BaseGeometry:
    """Return where the whole pattern may be, in (offset, upper_at): where its bolts may be, and its own checks pass."""
    area: BaseGeometry = shapely.box(-BIG, -BIG, BIG, -CLOSE)
    for bolt, pair in zip(case.hung, (pairs[0], pairs[0], pairs[1], pairs[1]), strict=True):
        # The centred motor's upper pair is at -1.
        area = only_areas(area.intersection(shifted(pair, 1.0, -1.0 - bolt.v, -bolt.u)))
    for narrow in PATTERN_AREAS.values():
        area = area if area.is_empty else narrow(case, grade, area)
    return NOTHING if area.is_empty else area


def _gap_between_bolts(case: CentredMotor, grade: int, area: BaseGeometry) -> BaseGeometry:
    """Leave all of an area, or nothing: the gaps between the motor's own bolts are the same at every place."""
    apart = min(
        (axes_gap(bolt, other, a, b) for bolt, other in combinations(case.hung, 2) for a in bodies_of(bolt)
         for b in bodies_of(other) if _may_touch(bolt, other, a, b)), default=math.inf,
    )  # fmt: skip
    return area if apart >= case.room(grade) - CLOSE else NOTHING


def _may_touch(bolt: Bolt, other: Bolt, first: Body, second: Body) -> bool:
    """Return whether two bodies are near enough for their gap to matter."""
    leaning = abs(first.end * math.sin(bolt.exit.lean)) + abs(second.end * math.sin(other.exit.lean))
    centres = math.hypot(bolt.exit.u - other.exit.u, bolt.exit.w - other.exit.w)
    return centres < first.shape.radius + second.shape.radius + leaning + 2 * max(bolt.design.limits.clearance) + 1


def _clear_of_plates(case: CentredMotor, grade: int, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where the backing plates have room inside."""
    for bolt in case.hung:
        plate = bolt.hardware.backing_plate
        if plate is not None and bolt.port:
            joined = tuple(other for other in case.hung if other.name in plate.joins)
            area = area.intersection(_plate_area(case.home, joined, plate, case.room(grade)))
    return area


def _plates_off_openings(case: CentredMotor, grade: int, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where the backing plates stay off the openings on the inner face."""
    for bolt in case.hung:
        plate = bolt.hardware.backing_plate
        if plate is None or not bolt.port:
            continue
        joined = tuple(other for other in case.hung if other.name in plate.joins)
        u0, w0, rise = _middle(joined)
        pieces = [_roomy(piece, case.room(grade)) for piece in _convex(_about(plate_ring(joined, plate, 0.0), (u0, w0)))]
        for opening in openings(case.home):
            u, v = opening.at
            over = circle_around((u, bolt.faces.square_across(v)), opening.diameter / 2)
            taken = shapely.union_all([hits_area(over, piece) for piece in pieces])
            area = area.difference(shifted(taken, 1 / rise, -1.0 - w0 / rise, -u0))
    return area


def _on_the_face(case: CentredMotor, _grade: int, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where the bracket is on the face, off fittings, and its hook is above the top."""
    return area.difference(_off_hook(case.home, case.index))


def _with_room_to_turn(case: CentredMotor, grade: int, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where the motor's own bolts leave each ring spanner room to turn."""
    for bolt in case.hung:
        if not area.is_empty:  # the centred motor's upper pair is at -1
            turned = turning_next_to(bolt, case.others, case.hung, grade, shifted(area, 1.0, 1.0 + bolt.v, bolt.u))
            area = shifted(turned, 1.0, -1.0 - bolt.v, -bolt.u)
    return area


def _onto_old_holes(case: CentredMotor, _grade: int, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where each old hole that is to be used again is used."""
    for number, hole in enumerate(case.home.old_holes):
        if hole.is_reused:
            area = area.intersection(_onto(hole, number, case.hung, case.others))
    return area


PATTERN_AREAS: dict[tuple[str, ...], Callable[[CentredMotor, int, BaseGeometry], BaseGeometry]] = {
    ("neighbour",): _gap_between_bolts, IN_WELL: _clear_of_plates, ("bearing", "saddle"): _on_the_face,
    ("over_opening",): _plates_off_openings,
    ("old_hole",): _onto_old_holes, ("spanner",): _with_room_to_turn,
}  # fmt: skip
"""What leaves the part of an area where a whole pattern passes some checks, by the checks' keys; in the fastest order."""


def _plate_area(home: Design, joined: tuple[Bolt, ...], plate: BackingPlate, room: float) -> BaseGeometry:
    """Return where a backing plate lets the pattern be."""
    inside_, rim = space(home), inner_rim(home.transom)
    u0, w0, rise = _middle(joined)
    key = joined[0].plate_key
    thickness, through = need(plate.thickness, key("thickness")), need(plate.relief[1], key("relief.1"))

    def corners(n: float) -> Ring:
        return _about(plate_ring(joined, plate, n), (u0, w0))

    area = intersection_of(shifted(face_of(rim), 1.0, -w, -u) for u, w in corners(0.0))
    flat = [_roomy(piece, room) for piece in _convex(corners(0.0))]
    area = area.difference(shapely.union_all([hits_edges(rim.edges, piece) for piece in flat]))
    places = {0.0, min(through, thickness), thickness}
    if not inside_.convex:
        places |= {edge.ends for edge in inside_.edges if edge.ends < thickness}
    for n in sorted(places):
        section, ring = inside_.section(n), corners(n)
        if inside_.convex:
            left = BOX
            for line in section.lines:
                reach = max(-line.normal_u * u - line.normal_w * w for u, w in ring)
                left = clipped(left, line.normal_u, line.normal_w, line.foot + reach + room) if left else left
            area = area.intersection(shapely.Polygon(left)) if len(left) > 2 else NOTHING
        else:
            bare = Section(section.lines, section.corners, False, ())._free
            area = area.intersection(shifted(bare, 1.0, -ring[0][1], -ring[0][0]))
            off = [hits_edges(edges_of(bare), _roomy(piece, room)) for piece in _convex(ring)]
            area = area.difference(shapely.union_all(off))
    for block in inside_.blocks:
        # The whole outline of a backing plate stays off a block, even off a flat one.
        off = [hits_area(shapely.Polygon(block.ring), piece) for piece in flat]
        area = area.difference(shapely.union_all(off))
    return shifted(area, 1 / rise, -1.0 - w0 / rise, -u0)


def _middle(joined: tuple[Bolt, ...]) -> tuple[float, float, float]:
    """Return the middle (u, w) of bolts on the inner face, and how far it moves for each mm on the outer face."""
    count = len(joined)
    return (
        sum(bolt.exit.u for bolt in joined) / count, sum(bolt.exit.w for bolt in joined) / count,
        sum(exit_line(bolt)[0] for bolt in joined) / count,
    )  # fmt: skip


def _about(ring: Ring, middle: Point) -> Ring:
    """Return a ring as seen from a point."""
    return tuple((u - middle[0], w - middle[1]) for u, w in ring)


def _roomy(ring: Ring, room: float) -> Corners:
    """Return the corners of a convex polygon around a convex ring, with ``room`` all around it."""
    around: Corners = shapely.get_coordinates(grown(shapely.MultiPoint(ring).convex_hull, room))
    return around[:-1]


def _convex(ring: Ring) -> list[Ring]:
    """Return a ring in convex pieces: itself where it is convex, else triangles."""
    shape = shapely.Polygon(ring)
    if abs(shape.convex_hull.area - shape.area) < CLOSE:
        return [ring]
    pieces = shapely.get_parts(shapely.constrained_delaunay_triangles(shape))
    return [tuple((float(x), float(y)) for x, y in piece.exterior.coords[:-1]) for piece in pieces]


def _off_hook(home: Design, index: int) -> BaseGeometry:
    """Return where the bracket does not let the pattern be: off the face, over a fitting, or hook too low."""
    mount = home.mounts[index]
    row = need(None if mount.row is None else float(mount.row), mount_key(index, "row"))
    if mount.bracket.rows is None:
        raise TypeError("a bracket without bolts has no rows")
    fittings = tuple(
        tuple(need_all(fitting.outline, f"outside_fittings.{number}.outline"))
        for number, fitting in enumerate(home.outside_fittings) if not clears(fitting, mount)
    )
    bracket = tuple(need_all(mount.bracket.outline, mount_key(index, "bracket.outline")))
    taken = blocked_by_bracket(outer_rim(home.transom).rings[0], fittings, bracket)
    return shifted(taken, 1.0, -(mount.bracket.rows.row0_depth + row * mount.bracket.rows.pitch))


@lru_cache(maxsize=16)
def blocked_by_bracket(outline: Ring, fittings: tuple[Ring, ...], bracket: Ring) -> BaseGeometry:
    """Return where a bracket hook may not be, in (offset, height of the hook above the datum)."""
    face = shapely.Polygon(outline)
    edges = [(a, b) for a, b in zip(outline, outline[1:] + outline[:1], strict=True) if abs(a[0] - b[0]) > CLOSE]
    above, below = (
        shapely.union_all([shapely.Polygon((a, b, (b[0], end), (a[0], end))) for a, b in edges]) for end in (BIG, -BIG)
    )
    off = shapely.Polygon(BOX).difference(face).difference(above.difference(below))
    taken = [_against(off, bracket)]
    taken += [_against(shapely.Polygon(fitting), bracket) for fitting in fittings]
    # The hook: lower than the top anywhere under the bracket.
    left, right = min(u for u, _ in bracket), max(u for u, _ in bracket)
    for a, b in zip(outline, outline[1:] + outline[:1], strict=True):
        spots = [(u - by, v) for u, v in (a, b) for by in (left, right)]
        low, high = min(u for u, _ in spots), max(u for u, _ in spots)
        taken.append(shapely.MultiPoint([*spots, (low, -BIG), (high, -BIG)]).convex_hull)
    return shapely.union_all(taken)


def _against(area: BaseGeometry, bracket: Ring) -> BaseGeometry:
    """Return where a bracket's origin may not be, if the bracket must stay out of an area."""
    return shapely.union_all([hits_area(area, np.array(piece)) for piece in _convex(bracket)])


def _onto(hole: OldHole, number: int, hung: tuple[Bolt, ...], others: Sequence[Bolt]) -> BaseGeometry:
    """Return where the pattern may be so that one of its holes uses an old one, on both faces."""
    u, v = need(hole.at[0], f"old_holes.{number}.across"), need(hole.at[1], f"old_holes.{number}.down")
    everywhere: BaseGeometry = shapely.Polygon(BOX)
    pieces = []
    for bolt in (*hung, *others):
        within = (bolt.hole - need(hole.diameter, f"old_holes.{number}.diameter")) / 2 + CLOSE
        inner = u, bolt.faces.square_across(v)
        if bolt in others:
            if max(math.hypot(bolt.u - u, bolt.v - v), math.hypot(bolt.exit.u - u, bolt.exit.w - inner[1])) <= within:
                return everywhere
            continue
        rise, at = exit_line(bolt)
        both = circle_within((u, v), within).intersection(shifted(circle_within(inner, within), 1 / rise, -at / rise))
        pieces.append(shifted(both, 1.0, -1.0 - bolt.v, -bolt.u))
    return shapely.union_all(pieces)
