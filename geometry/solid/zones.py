"""Where holes may be drilled: the region in which a bolt, or the bracket's whole pattern, clears all that is in its way.

A zone has two areas: what is at least held to, and what is advised. Every place within passes the checks of washer,
nut, socket, thread end, edges and old holes; of the pattern's zone, those of plates, neighbours, bearing and saddle too.
Straight edges are exact and arcs lie within 0.02 mm, on the safe side, for a bolt square to the inner face. For a leaning
one the zone is somewhat too small. So it is for a thread end that no socket hides, in a transom that tapers: it is
taken at its longest; and for the gap to another motor's bolts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING, Literal

import numpy as np
import shapely
from msgspec.structs import replace

from geometry.design.sense import CLOSE
from geometry.solid.bolts import Body, Bolt, bolts, plate_ring
from geometry.solid.clearances import axes_gap, within_plate
from geometry.solid.frames import exit_of, need, need_all
from geometry.solid.outline import inner_rim, outer_rim
from geometry.solid.planes import inside, sides
from geometry.solid.rows import mount_key
from geometry.solid.section import Line, Section
from geometry.solid.shapes import Disc
from geometry.solid.sums import (
    BIG,
    NOTHING,
    all_of,
    beside,
    clipped,
    disc_corners,
    edges_of,
    grown,
    kept_off,
    kept_out,
    round_of,
    swept,
    within_round,
)
from geometry.solid.well import space

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely.geometry.base import BaseGeometry

    from geometry.design.boat import OldHole
    from geometry.design.hardware import BackingPlate
    from geometry.design.whole import Design
    from geometry.solid.outline import Rim
    from geometry.solid.planes import Point
    from geometry.solid.sums import Corners
    from geometry.solid.well import Space

Ring = tuple["Point", ...]
Grade = Literal["least", "advised"]

NEAR = 4.0  # bolt diameters within which an old hole matters; the check's own figure
PLUG_WALL = (0.0, 6.35)  # [mm] of plug or wood left, least and advised; the check's own figure
BOLT_CHECKS = ("washer", "nut", "socket", "thread_end", "edge", "old_hole")
"""What a bolt's zone answers for."""
PATTERN_CHECKS = (*BOLT_CHECKS, "neighbour", "bearing", "saddle")
"""What the pattern's zone answers for: of bearing and saddle, that they are not fouled."""

_SPECK = 1e-4  # [mm2] less is no area
_UP = (6.0, 24.0, 96.0)  # [mm] of clearance: steps in which a leaning bolt's ends are told how far they lean over
_BOX: list[Point] = [(-BIG, -BIG), (BIG, -BIG), (BIG, BIG), (-BIG, BIG)]


@dataclass(frozen=True, slots=True)
class Patch:
    """One piece of an area: its outline, anticlockwise, and the holes in it."""

    outline: Ring
    holes: tuple[Ring, ...]

    def holds(self, at: Point) -> bool:
        """Tell whether a point lies in it."""
        return inside(at, self.outline) and not any(inside(at, hole) for hole in self.holes)


@dataclass(frozen=True, slots=True)
class Zone:
    """An area in patches, as far as the least limits go, and as far as the advised ones do."""

    least: tuple[Patch, ...]
    advised: tuple[Patch, ...]

    def holds(self, at: Point, grade: Grade = "least") -> bool:
        """Tell whether a point lies in it."""
        return any(patch.holds(at) for patch in self._patches(grade))

    def spans(self, across: float, grade: Grade = "least") -> tuple[tuple[float, float], ...]:
        """Return the stretches of it that lie straight above each other at ``across``, lowest first."""
        rings = [ring for patch in self._patches(grade) for ring in (patch.outline, *patch.holes)]
        met = sorted(
            a[1] + (b[1] - a[1]) * (across - a[0]) / (b[0] - a[0])
            for ring in rings
            for a, b in sides(ring)
            if (a[0] <= across) != (b[0] <= across)
        )
        return tuple(zip(met[::2], met[1::2], strict=True))

    def _patches(self, grade: Grade) -> tuple[Patch, ...]:
        return self.least if grade == "least" else self.advised


@dataclass(frozen=True, slots=True)
class Zones:
    """One motor's zones.

    Attributes:
        upper, lower: where a bolt of that pair may be centred on the outer face, in (u, v).
        pattern: where the whole pattern may hang, in (offset, upper_at), with its drop and row as they are.
    """

    upper: Zone
    lower: Zone
    pattern: Zone


def zones(design: Design, index: int = 0) -> Zones:
    """Return the zones of one motor; the pattern's own place, offset and upper depth, does not matter.

    Raises:
        Unmeasured: something that they rest on is not known.
        ValueError: the motor's bracket has no bolts.
    """
    case = _at_home(design, index)
    found = {grade: [_pair_area(case, pair, grade) for pair in (0, 1)] for grade in (0, 1)}
    hung = case.hung
    apart = min(
        (axes_gap(one, two, a, b) for one, two in combinations(hung, 2) for a in _bodies(one) for b in _bodies(two)
         if _may_touch(one, two, a, b)), default=math.inf,
    )  # fmt: skip
    patterns = [_pattern(case, index, found[grade], grade) if apart >= case.room(grade) - CLOSE else NOTHING
                for grade in (0, 1)]  # fmt: skip
    upper, lower = (_zone(*(found[grade][pair] for grade in (0, 1))) for pair in (0, 1))
    return Zones(upper, lower, _zone(*patterns))


def pair_zone(design: Design, index: int, pair: Literal["upper", "lower"]) -> Zone:
    """Return where a bolt of one pair may be centred on the outer face.

    Raises:
        Unmeasured, ValueError: see `zones`.
    """
    case = _at_home(design, index)
    return _zone(*(_pair_area(case, 0 if pair == "upper" else 1, grade) for grade in (0, 1)))


@dataclass(frozen=True)
class _Hung:
    """A motor's bolts, hung at the centre line just below the top, and those of other motors."""

    home: Design
    hung: tuple[Bolt, ...]
    others: tuple[Bolt, ...]

    def room(self, grade: int) -> float:
        """Clearance that is held to; grade 0: the least, 1: the advised."""
        return max(0.0, self.home.limits.clearance[grade])


def _at_home(design: Design, index: int) -> _Hung:
    mount = design.mounts[index]
    if mount.bracket.rows is None:
        raise ValueError(f"{mount.name} has no bolts")
    # What hangs there has a place whatever is not decided yet.
    mounts = (*design.mounts[:index], replace(mount, offset=0.0, upper_at=-1.0), *design.mounts[index + 1 :])
    home = replace(design, mounts=mounts)
    every = bolts(home)
    ours, theirs = ([bolt for bolt in every if (bolt.mount_index == index) is own] for own in (True, False))
    return _Hung(home, tuple(ours), tuple(theirs))


def _zone(least: BaseGeometry, advised: BaseGeometry) -> Zone:
    # For a leaning bolt either is somewhat too small: what passes the advised limits passes the least.
    return Zone(_patches(least.union(advised)), _patches(advised))


def _pair_area(case: _Hung, pair: int, grade: int) -> BaseGeometry:
    port, starboard = case.hung[2 * pair : 2 * pair + 2]
    area = _bolt_area(_Case(port, case, grade))
    return area if port.plate is starboard.plate else area.intersection(_bolt_area(_Case(starboard, case, grade)))


def _may_touch(one: Bolt, two: Bolt, first: Body, second: Body) -> bool:
    """Tell whether two bodies are near enough for their gap to matter at all."""
    leaning = abs(first.end * math.sin(one.exit.lean)) + abs(second.end * math.sin(two.exit.lean))
    centres = math.hypot(one.exit.u - two.exit.u, one.exit.w - two.exit.w)
    return centres < first.shape.radius + second.shape.radius + leaning + 2 * max(one.design.limits.clearance) + 1


def _patches(area: BaseGeometry) -> tuple[Patch, ...]:
    found = []
    for part in shapely.get_parts(area):
        if part.geom_type != "Polygon" or part.area < _SPECK:
            continue
        outline, *holes = (
            tuple((float(x), float(y)) for x, y in ring.coords[:-1])
            for ring in (part.normalize().exterior.reverse(), *part.interiors)
        )
        found.append(Patch(outline, tuple(holes)))
    return tuple(found)


@dataclass(frozen=True)
class _Case:
    """One bolt among the others, and which of each limit counts: 0 the least, 1 the advised."""

    bolt: Bolt
    among: _Hung
    grade: int

    @property
    def room(self) -> float:
        return self.among.room(self.grade)

    def to_face(self, area: BaseGeometry, cosine: float) -> BaseGeometry:
        """Bring an area from (u, w·cosine) on the inner face to where the bolt goes in, (u, v)."""
        rise, at = _exits(self.bolt)
        return _shifted(area, 1 / (rise * cosine), -at / rise)


def _exits(bolt: Bolt) -> tuple[float, float]:
    """Return rise and w0 of a bolt's exit: it leaves the inner face at w = rise·v + w0."""
    at = exit_of(bolt.faces, 0.0, 0.0, bolt.tilt).w
    return (at - exit_of(bolt.faces, 0.0, -100.0, bolt.tilt).w) / 100, at


def _shifted(area: BaseGeometry, scale: float, by: float, across: float = 0.0) -> BaseGeometry:
    return shapely.transform(area, lambda at: at * (1.0, scale) + (across, by))


def _bolt_area(case: _Case) -> BaseGeometry:
    """Return where one bolt may go in, on the outer face."""
    bolt, design = case.bolt, case.bolt.design
    inside_, inner, room = space(design), inner_rim(design.transom), case.room
    edge = design.limits.edge_diameters[case.grade] * bolt.thread.diameter
    area = _eroded(outer_rim(design.transom), edge)
    seat = (bolt.body("spacer") or _body(bolt, "washer")).shape
    stretches = [_Stretch(body.start, body.end, body.shape) for body in _bodies(bolt)]
    on_wood = bolt.plate is None
    reach = edge if not on_wood or seat.is_cut else max(edge, seat.radius + room)
    area = area.intersection(case.to_face(_eroded(inner, reach), 1.0))
    if bolt.plate is not None:
        joined = tuple(other for other in case.among.hung if other.name in bolt.plate.joins)
        if within_plate(joined, bolt.plate, bolt, seat) < room - CLOSE:
            return NOTHING
    elif seat.is_cut:
        area = area.difference(case.to_face(kept_off(inner.edges, disc_corners(seat, room)), 1.0))
    lean = bolt.exit.lean
    on_seat = [_Stretch(0.0, 0.0, seat)] if on_wood else []
    if abs(lean) < 1e-12:
        area = area.intersection(case.to_face(_free(inside_, 0.0, [*on_seat, *stretches], room), 1.0))
    elif not inside_.empty:
        if on_wood:
            area = area.intersection(case.to_face(_free(inside_, 0.0, on_seat, room), 1.0))
        cosine = math.cos(lean)
        within = _shifted(area, *_to_inner(bolt, cosine))
        for stretch in stretches:
            within = within if within.is_empty else _clear(inside_, lean, stretch, room, within)
        area = case.to_face(within, cosine)
    holes = [(number, hole) for number, hole in enumerate(design.old_holes) if not hole.reuse]
    taken = [area for number, hole in holes for area in _beside(case, hole, number)]
    taken += [_next_to(case, other) for other in case.among.others]
    return area.difference(shapely.union_all(taken)) if taken else area


def _to_inner(bolt: Bolt, cosine: float) -> tuple[float, float]:
    rise, at = _exits(bolt)
    return rise * cosine, at * cosine


def _body(bolt: Bolt, part: str) -> Body:
    body = bolt.body(part)
    if body is None:
        raise TypeError(f"a bolt has a {part}")
    return body


def _bodies(bolt: Bolt) -> list[Body]:
    """Return a bolt's bodies wherever it goes; the thread end at its longest, and only where no tool hides it."""
    found = [body for part in ("spacer", "washer", "nut", "socket") if (body := bolt.body(part)) is not None]
    if bolt.from_inside:
        return found
    start = bolt.nut_at + bolt.nut_height
    square = abs(bolt.faces.tan_taper) < 1e-12
    if square:
        end = None if bolt.length is None else start + bolt.length - bolt.grip - bolt.nut_height
    elif bolt.hardware.length is not None:
        bottom = min(v for _, v in outer_rim(bolt.design.transom).rings[0])
        thinnest = min(exit_of(bolt.faces, 0.0, v, bolt.tilt).along for v in (-1.0, bottom))
        end = start + bolt.hardware.length - (bolt.grip - bolt.exit.along + thinnest) - bolt.nut_height
    else:
        stock = bolt.thread.stock_lengths()
        end = start + 2 * bolt.thread.pitch + max(b - a for a, b in zip(stock, stock[1:], strict=False))
    if end is None or end <= start:
        return found
    tool = found[-1]
    hidden = tool.part == "socket" and tool.end >= end and tool.shape.radius >= bolt.thread.diameter / 2
    if not hidden or abs(bolt.exit.lean) > 1e-12:
        found.append(Body("thread_end", start, end, Disc(bolt.thread.diameter / 2)))
    return found


@lru_cache(maxsize=64)
def _eroded(rim: Rim, reach: float) -> BaseGeometry:
    """Return the part of a face that lies at least ``reach`` from all its edges."""
    return _face(rim).difference(grown(shapely.line_merge(shapely.MultiLineString(rim.edges)), reach))


def _face(rim: Rim) -> BaseGeometry:
    """Return a face as an area."""
    rings = [shapely.Polygon(ring) for ring in rim.rings]
    return all_of(rings) if rim.every else shapely.union_all(rings)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A disc that has to clear from ``start`` to ``end``, counted along its axis or in front of the inner face [mm]."""

    start: float
    end: float
    shape: Disc


def _clear(inside_: Space, lean: float, body: _Stretch, room: float, within: BaseGeometry) -> BaseGeometry:
    """Return where in ``within`` a leaning body clears by ``room``, in (u, w·cos(lean)).

    Its ends lean over the further the more room it has; so the check looks beyond them by
    (radius + clearance)·sin(lean). Steps of clearance that are not too high for the place bound that from above.
    """
    sine, cosine = math.sin(lean), math.cos(lean)
    start, end, shape = max(0.0, body.start * cosine), body.end * cosine, body.shape

    def tested(clearance: float) -> BaseGeometry:
        wider = (shape.radius + clearance) * abs(sine)
        longer = _Stretch(max(0.0, start - wider), end + wider, shape)
        return within.intersection(_free(inside_, lean, [longer], room))

    def roomy(clearance: float) -> BaseGeometry:
        return _free(inside_, lean, [_Stretch(start, end, shape)], clearance)

    kept = tested(_most(inside_, within, start, lean))
    missing = within.difference(kept)
    if missing.area > _SPECK:
        missing = missing.intersection(roomy(room))
    for step in _UP:
        if missing.area < _SPECK:
            break
        gained = tested(room + step).difference(roomy(room + step - 2.0))
        kept, missing = kept.union(gained), missing.difference(gained)
    return kept


def _most(inside_: Space, within: BaseGeometry, n: float, lean: float) -> float:
    """Return a clearance that no place in ``within`` can have: all the way to something that stands at ``n``."""
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


def _free(inside_: Space, lean: float, stretches: list[_Stretch], room: float) -> BaseGeometry:
    """Return where discs clear by ``room``, each all the way along its stretch in front of the inner face.

    In (u, w·cos(lean)) of the exit; the discs' centres rise from there with n·sin(lean).
    """
    sine = 0.0 if abs(lean) < 1e-12 else math.sin(lean)
    if inside_.convex:
        free = _between_lines(inside_, lean, stretches, room)
    else:
        free = all_of(
            _eased(_slab(inside_, lean, low, high), shape, room, square=not sine)
            for start, end, shape in _outermost(inside_, stretches, sine)
            for low, high in _slabs(inside_, start, end, sine)
        )
    taken: list[BaseGeometry] = []
    for block in inside_.blocks:
        ring = [(u, w * math.cos(lean)) for u, w in block.ring]
        met = [stretch for stretch in stretches if block.out > stretch.start]
        if not sine:
            # It stands straight out: of the whole discs that come to it the widest says it all.
            widest = max((one for one in met if not one.shape.is_cut), key=lambda one: one.shape.radius, default=None)
            met = [one for one in met if one.shape.is_cut or one is widest]
        for start, end, shape in {(one.start, min(one.end, block.out), one.shape) for one in met}:
            solid = swept(ring, *sorted((-start * sine, -end * sine)))
            grows = kept_out(solid, disc_corners(shape, room)) if shape.is_cut else grown(solid, shape.radius + room)
            taken.append(grows)
    return free.difference(shapely.union_all(taken)) if taken else free


def _between_lines(inside_: Space, lean: float, stretches: list[_Stretch], room: float) -> BaseGeometry:
    """Return what lies far enough from every line of a convex well."""
    sine, cosine = math.sin(lean), math.cos(lean)
    ends = [(n, one.shape) for one in stretches for n in (one.start, one.end)]
    found = [(n, shape, inside_.section(n, cosine).lines) for n, shape in dict.fromkeys(ends)]
    ring = _BOX
    for number in range(len(inside_.edges)):
        # A foot is a convex function of n: it is highest at an end.
        foot = -math.inf
        for n, shape, lines in found:
            line = lines[number]
            reach = shape.reach(-line.normal_u, -line.normal_w)
            foot = max(foot, line.foot - n * sine * line.normal_w + reach)
        ring = clipped(ring, line.normal_u, line.normal_w, foot + room) if ring else ring
    return shapely.Polygon(ring) if len(ring) > 2 else NOTHING


def _outermost(inside_: Space, stretches: list[_Stretch], sine: float) -> list[tuple[float, float, Disc]]:
    """Return the stretches that no wider disc on a longer one makes needless.

    Above a falling floor a square one counts where it starts only.
    """
    falling = not sine and inside_.falls >= 0
    found = list(dict.fromkeys((one.start, one.start if falling else one.end, one.shape) for one in stretches))

    def hidden(one: tuple[float, float, Disc], by: tuple[float, float, Disc]) -> bool:
        over = by[0] <= one[0] and (falling or by[1] >= one[1])
        return one != by and over and not by[2].is_cut and by[2].radius >= one[2].radius

    kept: list[tuple[float, float, Disc]] = []
    for one in sorted(found, key=lambda one: -one[2].radius):
        if not any(hidden(one, by) for by in kept):
            kept.append(one)
    return kept


def _eased(free: BaseGeometry, shape: Disc, room: float, *, square: bool) -> BaseGeometry:
    """Return where a disc's centre may lie in a free section; quickly, and with less than is free, where not ``square``."""
    if shape.is_cut:
        return free.difference(kept_off(edges_of(free), disc_corners(shape, room)))
    if square:
        return free.difference(beside(edges_of(free), shape.radius + room))
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
    """Return what is free all the way from ``low`` to ``high``, relative to the axis; blocks left out."""
    sine, cosine = math.sin(lean), math.cos(lean)
    ends = [(n, inside_.section(n, cosine)) for n in (low, high)]
    n_top, top = max(ends, key=lambda one: one[1].corners[0][1] - one[0] * sine)
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


def _beside(case: _Case, hole: OldHole, number: int) -> list[BaseGeometry]:
    """Return where on the outer face a bolt may not go in beside an old hole that it does not use."""
    bolt = case.bolt
    u, v = need(hole.at[0], f"old_holes.{number}.across"), need(hole.at[1], f"old_holes.{number}.down")
    near = NEAR * bolt.thread.diameter - CLOSE
    alike = bolt.tilt == 0 and bolt.faces.tan_taper == 0  # the same on both faces

    def both(radius: float, core: float = 0.0) -> list[BaseGeometry]:
        """Rounds, or rings, about the old hole on both faces."""
        spots = [(u, v)] if alike else [(u, v), (u, bolt.faces.carried(v))]
        rings = [round_of(at, radius).difference(within_round(at, core)) for at in spots]
        return rings if alike else [rings[0], case.to_face(rings[1], 1.0)]

    if hole.state != "plugged":
        least = bolt.design.limits.wood_between_diameters[case.grade] * bolt.thread.diameter
        return both(min(near, least + (bolt.hole + need(hole.diameter, f"old_holes.{number}.diameter")) / 2))
    plug = need(hole.plug_diameter, f"old_holes.{number}.plug_diameter") / 2
    wall, new = PLUG_WALL[case.grade], bolt.hole / 2
    rings = both(plug + new + wall, plug - new - wall)
    if plug + new + wall <= near:
        return rings
    return [shapely.union_all(rings).intersection(shapely.union_all(both(near)))]


def _next_to(case: _Case, other: Bolt) -> BaseGeometry:
    """Return where on the outer face a bolt's parts might come too near to those of another motor's bolt."""
    bolt = case.bolt
    mine, theirs = (_bodies(one) for one in (bolt, other))
    radius = max(body.shape.radius for body in mine) + max(body.shape.radius for body in theirs) + case.room
    at, cosine = (other.exit.u, other.exit.w), math.cos(bolt.exit.lean)
    if abs(bolt.exit.lean - other.exit.lean) < 1e-12:
        return case.to_face(round_of((at[0], at[1] * cosine), radius), cosine)
    # Seen along the inner face's normal: their axis is a stretch of w, and so is ours.
    up = [0.0, max(body.end for body in theirs) * math.sin(other.exit.lean)]
    ours = [0.0, max(body.end for body in mine) * math.sin(bolt.exit.lean)]
    ends = (at[0], at[1] + min(up) - max(ours)), (at[0], at[1] + max(up) - min(ours))
    return case.to_face(grown(shapely.LineString(ends), radius), 1.0)


def _pattern(case: _Hung, index: int, pairs: list[BaseGeometry], grade: int) -> BaseGeometry:
    """Return where the whole pattern may hang, in (offset, upper_at)."""
    home, hung, room = case.home, case.hung, case.room(grade)
    area: BaseGeometry = shapely.box(-BIG, -BIG, BIG, -CLOSE)
    for bolt, pair in zip(hung, (pairs[0], pairs[0], pairs[1], pairs[1]), strict=True):
        # At home the upper pair lies at -1.
        area = area.intersection(_shifted(pair, 1.0, -1.0 - bolt.v, -bolt.u))
    for bolt in hung:
        plate = bolt.hardware.backing_plate
        if plate is not None and bolt.port:
            joined = tuple(other for other in hung if other.name in plate.joins)
            area = area.intersection(_plate_area(home, joined, plate, room))
    if area.is_empty:
        return NOTHING
    area = area.difference(_off_saddle(home, index))
    for number, hole in enumerate(home.old_holes):
        if hole.reuse:
            area = area.intersection(_onto(hole, number, hung, case.others))
    return area


def _plate_area(home: Design, joined: tuple[Bolt, ...], plate: BackingPlate, room: float) -> BaseGeometry:
    """Return where the pattern may hang as far as a backing plate goes; one that is not convex counts as if it were."""
    inside_, rim = space(home), inner_rim(home.transom)
    u0, w0 = (sum(getattr(bolt.exit, at) for bolt in joined) / len(joined) for at in ("u", "w"))
    key = joined[0].plate_key
    thickness, through = need(plate.thickness, key("thickness")), need(plate.relief[1], key("relief"))

    def corners(n: float) -> Ring:
        return tuple((u - u0, w - w0) for u, w in plate_ring(joined, plate, n))

    flat = _roomy(corners(0.0), room)
    area = all_of(_shifted(_face(rim), 1.0, -w, -u) for u, w in corners(0.0)).difference(kept_off(rim.edges, flat))
    places = {0.0, min(through, thickness), thickness}
    if not inside_.convex:
        places |= {edge.ends for edge in inside_.edges if edge.ends < thickness}
    for n in sorted(places):
        section, ring = inside_.section(n), corners(n)
        if inside_.convex:
            left = _BOX
            for line in section.lines:
                reach = max(-line.normal_u * u - line.normal_w * w for u, w in ring)
                left = clipped(left, line.normal_u, line.normal_w, line.foot + reach + room) if left else left
            area = area.intersection(shapely.Polygon(left)) if len(left) > 2 else NOTHING
        else:
            bare = Section(section.lines, section.corners, False, ())._free
            area = area.intersection(_shifted(bare, 1.0, -ring[0][1], -ring[0][0]))
            area = area.difference(kept_off(edges_of(bare), _roomy(ring, room)))
    for block in inside_.blocks:
        # A plate keeps off a block by its whole outline, be the block as flat as it may.
        area = area.difference(kept_out(shapely.Polygon(block.ring), flat))
    rise = sum(_exits(bolt)[0] for bolt in joined) / len(joined)
    return _shifted(area, 1 / rise, -1.0 - w0 / rise, -u0)


def _roomy(ring: Ring, room: float) -> Corners:
    """Return the corners of a convex polygon round a ring, with ``room`` all about it."""
    around: Corners = shapely.get_coordinates(grown(shapely.MultiPoint(ring).convex_hull, room))
    return around[:-1]


def _off_saddle(home: Design, index: int) -> BaseGeometry:
    """Return where the pattern may not hang for its bracket's sake: off the face, over a fitting, saddle too low."""
    mount = home.mounts[index]
    row = need(None if mount.row is None else float(mount.row), mount_key(index, "row"))
    if mount.bracket.rows is None:
        raise TypeError("a bracket without bolts has no rows")
    fittings = tuple(
        tuple(need_all(fitting.outline, f"outside_fittings.{number}.outline"))
        for number, fitting in enumerate(home.outside_fittings)
    )
    bracket = tuple(need_all(mount.bracket.outline, mount_key(index, "bracket.outline")))
    taken = _taken_by_bracket(outer_rim(home.transom).rings[0], fittings, bracket)
    return _shifted(taken, 1.0, -(mount.bracket.rows.row0_depth + row * mount.bracket.rows.pitch))


@lru_cache(maxsize=16)
def _taken_by_bracket(outline: Ring, fittings: tuple[Ring, ...], bracket: Ring) -> BaseGeometry:
    """Return where a bracket's saddle may not be, in (offset, height of the saddle above the datum)."""
    face = shapely.Polygon(outline)
    edges = [(a, b) for a, b in zip(outline, outline[1:] + outline[:1], strict=True) if abs(a[0] - b[0]) > CLOSE]
    above, below = (
        shapely.union_all([shapely.Polygon((a, b, (b[0], end), (a[0], end))) for a, b in edges]) for end in (BIG, -BIG)
    )
    off = shapely.Polygon(_BOX).difference(face).difference(above.difference(below))
    taken = [_against(off, bracket)]
    taken += [_against(shapely.Polygon(fitting), bracket) for fitting in fittings]
    # Saddle: lower than the top anywhere under the bracket.
    left, right = min(u for u, _ in bracket), max(u for u, _ in bracket)
    for a, b in zip(outline, outline[1:] + outline[:1], strict=True):
        spots = [(u - by, v) for u, v in (a, b) for by in (left, right)]
        low, high = min(u for u, _ in spots), max(u for u, _ in spots)
        taken.append(shapely.MultiPoint([*spots, (low, -BIG), (high, -BIG)]).convex_hull)
    return shapely.union_all(taken)


def _against(area: BaseGeometry, bracket: Ring) -> BaseGeometry:
    """Return where a bracket's origin may not lie, if the bracket is to stay out of an area."""
    shape = np.array(bracket)
    hull = shapely.MultiPoint(shape).convex_hull
    if abs(hull.area - shapely.Polygon(bracket).area) < CLOSE:
        return kept_out(area, shape)
    pieces = shapely.get_parts(shapely.constrained_delaunay_triangles(shapely.Polygon(bracket)))
    return shapely.union_all([kept_out(area, shapely.get_coordinates(piece)[:-1]) for piece in pieces])


def _onto(hole: OldHole, number: int, hung: tuple[Bolt, ...], others: Sequence[Bolt]) -> BaseGeometry:
    """Return where the pattern may hang so that one of its holes uses an old one, on both faces."""
    u, v = need(hole.at[0], f"old_holes.{number}.across"), need(hole.at[1], f"old_holes.{number}.down")
    everywhere: BaseGeometry = shapely.Polygon(_BOX)
    pieces = []
    for bolt in (*hung, *others):
        within = (bolt.hole - need(hole.diameter, f"old_holes.{number}.diameter")) / 2 + CLOSE
        inner = u, bolt.faces.carried(v)
        if bolt in others:
            if max(math.hypot(bolt.u - u, bolt.v - v), math.hypot(bolt.exit.u - u, bolt.exit.w - inner[1])) <= within:
                return everywhere
            continue
        rise, at = _exits(bolt)
        both = within_round((u, v), within).intersection(_shifted(within_round(inner, within), 1 / rise, -at / rise))
        pieces.append(_shifted(both, 1.0, -1.0 - bolt.v, -bolt.u))
    return shapely.union_all(pieces)
