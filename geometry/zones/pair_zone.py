"""The drillable zones: the areas where a bolt, or the bracket's whole pattern, is clear of every obstacle.

A zone has two areas: within the least limits, and within the advised ones. Every place in it passes the checks whose record
names a zone (`geometry.judge.check_kinds`). A pilot that stays open has no advised limit: only where a hole overlaps it is
outside. The pattern's checks count in the pattern's zone alone. For a bolt square to the
inner face, straight edges are exact and arcs are within 0.02 mm, on the safe side. For a leaning bolt the zone is a little
too small. So it is for a thread end without a socket in a transom that tapers, taken at its longest. The gap to another
motor's bolts also makes it a little too small. A place where a socket has no
room, but a ring spanner can turn the nut, is outside. Whether a ring spanner can turn is not asked.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

import shapely

from geometry.design.validity import CLOSE
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.left_pilots import inner_shift
from geometry.judge.wood_around_holes import NEAR
from geometry.readings.pilots import least_apart, may_move
from geometry.solid.clearances import within_plate
from geometry.solid.faces import need
from geometry.solid.openings import openings
from geometry.solid.outline import TOP_REACH, inner_rim, outer_rim
from geometry.solid.placed_bolts import Body, Bolt
from geometry.solid.planes import inside
from geometry.solid.well import space
from geometry.zones.centred_motor import CentredMotor, bodies_of, centred, eroded, exit_line, near_top, shifted
from geometry.zones.free_room import BOX, SPECK, Stretch, clear_area, free_of
from geometry.zones.pattern_zone import pattern_area
from geometry.zones.shape_sums import (
    NOTHING,
    circle_around,
    circle_within,
    disc_corners,
    grown,
    hits_area,
    hits_edges,
    only_areas,
)
from geometry.zones.turning_room import turning_area

if TYPE_CHECKING:
    from collections.abc import Callable

    from shapely.geometry.base import BaseGeometry

    from geometry.design.boat import OldHole
    from geometry.design.design import Design, Pilot
    from geometry.solid.openings import Opening
    from geometry.solid.planes import Point

Ring = tuple["Point", ...]
Grade = Literal["least", "advised"]


@dataclass(frozen=True, slots=True)
class Patch:
    """One piece of an area: its outline, anticlockwise, and the holes in it."""

    outline: Ring
    holes: tuple[Ring, ...]

    def holds(self, at: Point) -> bool:
        """Return whether a point is in it."""
        return inside(at, self.outline) and not any(inside(at, hole) for hole in self.holes)


@dataclass(frozen=True, slots=True)
class Zone:
    """An area in patches, one within the least limits and one within the advised ones."""

    least: tuple[Patch, ...]
    advised: tuple[Patch, ...]

    def holds(self, at: Point, grade: Grade = "least") -> bool:
        """Return whether a point is in it."""
        return any(patch.holds(at) for patch in self._patches(grade))

    def spans(self, across: float, grade: Grade = "least") -> tuple[tuple[float, float], ...]:
        """Return its stretches along the upright line at ``across``, lowest first."""
        met = list[float]()
        for patch in self._patches(grade):
            for ring in (patch.outline, *patch.holes):
                before = ring[-1]
                for at in ring:  # a search asks for hundreds of stretches
                    if (before[0] <= across) != (at[0] <= across):
                        met.append(before[1] + (at[1] - before[1]) * (across - before[0]) / (at[0] - before[0]))
                    before = at
        met.sort()
        return tuple(zip(met[::2], met[1::2], strict=True))

    def _patches(self, grade: Grade) -> tuple[Patch, ...]:
        return self.least if grade == "least" else self.advised


@dataclass(frozen=True, slots=True)
class Zones:
    """One motor's zones.

    Attributes:
        upper, lower: where a bolt of that pair may be centred on the outer face, in (u, v).
        pattern: where the whole pattern may be, in (offset, upper_at), with its drop and row as they are.
    """

    upper: Zone
    lower: Zone
    pattern: Zone


def zones(design: Design, index: int = 0) -> Zones:
    """Return the zones of one motor. The pattern's present place, offset and upper depth, does not matter.

    Raises:
        Unmeasured: a reading behind them is not known.
        ValueError: the motor's bracket has no bolts.
    """
    case = centred(design, index)
    home = case.home
    rests = (home.transom, home.well, home.inside_blocks, home.outside_fittings, home.old_holes, home.mounts, home.limits)
    return _zones(_Request((*rests, case.pilots, index), case))


@dataclass(frozen=True)
class _Request:
    """A request for zones. The same one again, as while a bracket is dragged, costs no calculation."""

    rests: tuple[object, ...]
    case: CentredMotor = field(compare=False)


@lru_cache(maxsize=8)
def _zones(request: _Request) -> Zones:
    case = request.case
    areas = {grade: [_pair_area(case, pair, grade) for pair in (0, 1)] for grade in (0, 1)}
    patterns = [pattern_area(case, areas[grade], grade) for grade in (0, 1)]
    upper, lower = (zone_of(*(areas[grade][pair] for grade in (0, 1))) for pair in (0, 1))
    return Zones(upper, lower, zone_of(*patterns))


def pair_zone(design: Design, index: int, pair: Literal["upper", "lower"]) -> Zone:
    """Return where a bolt of one pair may be centred on the outer face.

    Raises:
        Unmeasured, ValueError: see `zones`.
    """
    return zone_of(pair_area(design, index, pair, "least"), pair_area(design, index, pair, "advised"))


def pair_area(design: Design, index: int, pair: Literal["upper", "lower"], grade: Grade) -> BaseGeometry:
    """Return where a bolt of one pair may be centred on the outer face, by the limits of one grade alone.

    Raises:
        Unmeasured, ValueError: see `zones`.
    """
    return _pair_area(centred(design, index), ("upper", "lower").index(pair), ("least", "advised").index(grade))


def zone_of(least: BaseGeometry, advised: BaseGeometry) -> Zone:
    """Return a zone from its areas.

    For a leaning bolt both are a little too small: a place within the advised limits passes the least.
    """
    return Zone(_patches(least.union(advised)), _patches(advised))


def _pair_area(case: CentredMotor, pair: int, grade: int) -> BaseGeometry:
    port, starboard = case.hung[2 * pair : 2 * pair + 2]
    area = _bolt_area(_Case(port, case, grade))
    if port.plate is not starboard.plate:
        area = area.intersection(_bolt_area(_Case(starboard, case, grade)))
    return only_areas(area)


def _patches(area: BaseGeometry) -> tuple[Patch, ...]:
    patches = []
    for part in shapely.get_parts(area):
        if part.geom_type != "Polygon" or part.area < SPECK:
            continue
        outline, *holes = (
            tuple((float(x), float(y)) for x, y in ring.coords[:-1])
            for ring in (part.normalize().exterior.reverse(), *part.interiors)
        )
        patches.append(Patch(outline, tuple(holes)))
    return tuple(patches)


@dataclass(frozen=True)
class _Case:
    """One bolt among the others, and the grade of its limits: 0 the least, 1 the advised."""

    bolt: Bolt
    among: CentredMotor
    grade: int

    @property
    def room(self) -> float:
        return self.among.room(self.grade)

    @property
    def edge(self) -> float:
        return self.bolt.design.limits.edge_diameters[self.grade] * self.bolt.thread.diameter

    def to_face(self, area: BaseGeometry, cosine: float) -> BaseGeometry:
        """Carry an area from (u, w·cosine) on the inner face to the outer face, (u, v)."""
        rise, at = exit_line(self.bolt)
        return shifted(area, 1 / (rise * cosine), -at / rise)


def _bolt_area(case: _Case) -> BaseGeometry:
    """Return where one bolt may go in, on the outer face: the place passes every check that asks of a bolt."""
    area: BaseGeometry = shapely.Polygon(BOX)
    for narrow in BOLT_AREAS.values():
        area = area if area.is_empty else narrow(case, area)
    return area


def _off_edges(case: _Case, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where a hole is far enough from the edges of both faces."""
    transom, edge = case.bolt.design.transom, case.edge
    return area.intersection(eroded(outer_rim(transom), edge)).intersection(case.to_face(eroded(inner_rim(transom), edge), 1.0))


def _below_top(case: _Case, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where a hole is far enough below the top edge."""
    design = case.bolt.design
    reach = TOP_REACH * case.bolt.thread.diameter
    return area.difference(near_top(design.transom.outline, reach, design.limits.top_edge[case.grade]))


def _clear_inside(case: _Case, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where washer, nut, socket and thread end have room inside.

    A place where the socket is fouled, but a ring spanner reaches, passes the checks. It is left out here, on the safe side.
    In all such places the socket's axis is nearer to an obstacle than the socket's radius and the room that is asked for.
    """
    bolt, design, room = case.bolt, case.bolt.design, case.room
    inside_, inner = space(design), inner_rim(design.transom)
    seat = (bolt.body("spacer") or _body(bolt, "washer")).shape
    stretches = [Stretch(body.start, body.end, body.shape) for body in bodies_of(bolt)]
    on_wood = bolt.plate is None
    if bolt.plate is not None:
        joined = tuple(other for other in case.among.hung if other.name in bolt.plate.joins)
        if within_plate(joined, bolt.plate, bolt, seat) < room - CLOSE:
            return NOTHING
    elif seat.is_cut:
        area = area.difference(case.to_face(hits_edges(inner.edges, disc_corners(seat, room)), 1.0))
    else:
        area = area.intersection(case.to_face(eroded(inner, max(case.edge, seat.radius + room)), 1.0))
    lean = bolt.exit.lean
    on_seat = [Stretch(0.0, 0.0, seat)] if on_wood else []
    if abs(lean) < 1e-12:
        return area.intersection(case.to_face(free_of(inside_, 0.0, [*on_seat, *stretches], room), 1.0))
    if inside_.empty:
        return area
    if on_wood:
        area = area.intersection(case.to_face(free_of(inside_, 0.0, on_seat, room), 1.0))
    cosine = math.cos(lean)
    within = shifted(area, *_to_inner(bolt, cosine))
    for stretch in stretches:
        within = within if within.is_empty else clear_area(inside_, lean, stretch, room, within)
    return case.to_face(within, cosine)


def _off_old_holes(case: _Case, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area that is far enough from the old holes that the bolt does not use, and from openings."""
    design = case.bolt.design
    holes = [(number, hole) for number, hole in enumerate(design.old_holes) if not hole.is_reused and hole.drill is None]
    taken = [part for number, hole in holes for part in _old_hole_areas(case, hole, number)]
    taken += [part for opening in openings(design) for part in _opening_areas(case, opening)]
    return area.difference(shapely.union_all(taken)) if taken else area


def _seats_off_openings(case: _Case, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where washer or spacer stay off the openings on the inner face."""
    bolt, design = case.bolt, case.bolt.design
    if bolt.plate is not None:
        return area
    seat = (bolt.body("spacer") or _body(bolt, "washer")).shape
    taken = []
    for opening in openings(design):
        u, v = opening.at
        over = circle_around((u, bolt.faces.square_across(v)), opening.diameter / 2)
        taken.append(case.to_face(hits_area(over, disc_corners(seat, case.room)), 1.0))
    return area.difference(shapely.union_all(taken)) if taken else area


def _off_pilots(case: _Case, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where a hole takes an open pilot away, or does not overlap it. That is no question of grade."""
    taken = [_next_to_pilot(case.bolt, pilot) for pilot in case.among.pilots]
    return area.difference(shapely.union_all(taken)) if taken else area


def _next_to_pilot(bolt: Bolt, pilot: Pilot) -> BaseGeometry:
    """Return where on the outer face a hole overlaps a pilot somewhere in the wood, and does not take it away all through."""
    ends = pilot.at, (pilot.at[0], pilot.at[1] - inner_shift(bolt, pilot))
    over = shapely.union_all([circle_around(end, least_apart(bolt.hole)) for end in ends]).convex_hull
    through: BaseGeometry = circle_within(ends[0], may_move(bolt.hole))
    return over.difference(through.intersection(circle_within(ends[1], may_move(bolt.hole))))


def _off_other_motors(case: _Case, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area that is far enough from the bolts of other motors."""
    taken = [_next_to(case, other) for other in case.among.others]
    return area.difference(shapely.union_all(taken)) if taken else area


def _with_room_to_turn(case: _Case, area: BaseGeometry) -> BaseGeometry:
    """Leave the part of an area where a ring spanner turns the nut far enough."""
    return turning_area(case.bolt, case.among.others, case.grade, area)


BOLT_AREAS: dict[tuple[str, ...], Callable[[_Case, BaseGeometry], BaseGeometry]] = {
    ("edge",): _off_edges, ("top_edge",): _below_top, IN_WELL: _clear_inside, ("old_hole",): _off_old_holes,
    ("over_opening",): _seats_off_openings, ("left_pilot",): _off_pilots,
    ("neighbour",): _off_other_motors, ("spanner",): _with_room_to_turn,
}  # fmt: skip
"""What leaves the part of an area where a bolt passes some checks, by the checks' keys; in the order that is fastest."""


def _to_inner(bolt: Bolt, cosine: float) -> tuple[float, float]:
    rise, at = exit_line(bolt)
    return rise * cosine, at * cosine


def _body(bolt: Bolt, part: str) -> Body:
    body = bolt.body(part)
    if body is None:
        raise TypeError(f"a bolt has a {part}")
    return body


def _old_hole_areas(case: _Case, hole: OldHole, number: int) -> list[BaseGeometry]:
    """Return where a bolt may not be on the outer face, because of an old hole that it does not use."""
    bolt = case.bolt
    at = need(hole.at[0], f"old_holes.{number}.across"), need(hole.at[1], f"old_holes.{number}.down")
    near = NEAR * bolt.thread.diameter - CLOSE
    if hole.state != "plugged":
        beyond = (bolt.hole + need(hole.diameter, f"old_holes.{number}.diameter")) / 2
        return _around(case, at, min(near, _least_wood(case) + beyond))
    plug = need(hole.plug_diameter, f"old_holes.{number}.plug_diameter") / 2
    wall, new = bolt.design.limits.plug_wall[case.grade], bolt.hole / 2
    rings = _around(case, at, plug + new + wall, plug - new - wall)
    if plug + new + wall <= near:
        return rings
    return [shapely.union_all(rings).intersection(shapely.union_all(_around(case, at, near)))]


def _opening_areas(case: _Case, opening: Opening) -> list[BaseGeometry]:
    """Return where a bolt may not be on the outer face, because of a hole for a cable or a hose."""
    near = NEAR * case.bolt.thread.diameter - CLOSE  # of wood between: further off no check looks
    return _around(case, opening.at, min(near, _least_wood(case)) + (case.bolt.hole + opening.diameter) / 2)


def _least_wood(case: _Case) -> float:
    """Return the wood that has to be between two open holes [mm]."""
    return case.bolt.design.limits.wood_between_diameters[case.grade] * case.bolt.thread.diameter


def _around(case: _Case, at: Point, radius: float, core: float = 0.0) -> list[BaseGeometry]:
    """Return discs, or rings, about a hole square to the outer face: about its two ends, for a bolt on the outer face."""
    bolt, (u, v) = case.bolt, at
    alike = bolt.tilt == 0 and bolt.faces.tan_taper == 0  # the same on both faces
    spots = [at] if alike else [at, (u, bolt.faces.square_across(v))]
    rings = [circle_around(spot, radius).difference(circle_within(spot, core)) for spot in spots]
    return rings if alike else [rings[0], case.to_face(rings[1], 1.0)]


def _next_to(case: _Case, other: Bolt) -> BaseGeometry:
    """Return where a bolt's parts might be too near to those of another motor's bolt, on the outer face."""
    bolt = case.bolt
    mine, theirs = (bodies_of(each) for each in (bolt, other))
    radius = max(body.shape.radius for body in mine) + max(body.shape.radius for body in theirs) + case.room
    at, cosine = (other.exit.u, other.exit.w), math.cos(bolt.exit.lean)
    if abs(bolt.exit.lean - other.exit.lean) < 1e-12:
        return case.to_face(circle_around((at[0], at[1] * cosine), radius), cosine)
    # Seen along the inner face's normal, both axes are stretches of w.
    up = [0.0, max(body.end for body in theirs) * math.sin(other.exit.lean)]
    ours = [0.0, max(body.end for body in mine) * math.sin(bolt.exit.lean)]
    ends = (at[0], at[1] + min(up) - max(ours)), (at[0], at[1] + max(up) - min(ours))
    return case.to_face(grown(shapely.LineString(ends), radius), 1.0)
