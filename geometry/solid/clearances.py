"""The room of each part inside: its clearance to the well, the blocks, the wood's edges and other parts.

A body has radius R and ends square to its axis. Its clearance is the largest c for which the body with radius R + c stays
free of every obstacle. It is negative where R must shrink. With the axis square to the inner face, the sections give it
exactly. With a leaning axis the result is a bound, never too large.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.solid.faces import Exit, need
from geometry.solid.farthest_point import farthest
from geometry.solid.placed_bolts import Body, Bolt, plate_ring
from geometry.solid.planes import between, to_segment
from geometry.solid.room_along_axis import least_room, near_edges
from geometry.solid.well import floor_end

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.design.hardware import BackingPlate
    from geometry.solid.discs import Disc
    from geometry.solid.outline import Rim
    from geometry.solid.planes import Point
    from geometry.solid.well import Space

_PLATE = 0.004  # [mm]: by how much a backing plate's clearance may be less than the truth
_SURE = 1e-7  # [mm]: precision of a leaning body's clearance, from below

Place = tuple[float, bool]  # n in front of the inner face, and whether a block that ends there counts


def body_clearance(space: Space, exit_: Exit, body: Body) -> float | None:
    """Return the clearance of ``body`` on a bolt that leaves the inner face at ``exit_`` [mm].

    None where nothing limits it. Exact to 1e-6 mm for a square axis. The ends of a leaning body of radius R + c reach
    (R + c)·sin(lean) further out and in. Its clearance is the largest c with room in every section between. That is never
    more than the truth.
    """
    if space.empty:
        return None
    cosine, sine = math.cos(exit_.lean), math.sin(exit_.lean)
    start, end = max(0.0, body.start * cosine), body.end * cosine
    near = near_edges(space, exit_, body.shape, start, end)
    most = least_room(space, exit_, body.shape, start, end, near)
    if most == math.inf:
        return None
    if abs(sine) < 1e-12 or most <= -body.shape.radius:
        return most

    def room(clearance: float) -> float:
        over = max(0.0, body.shape.radius + clearance) * abs(sine)
        return least_room(space, exit_, body.shape, max(0.0, start - over), end + over, near)

    return _largest(room, most)


def _largest(room: Callable[[float], float], most: float) -> float:
    """Return the largest value up to ``most`` that has its room, to `_SURE` from below.

    A larger value has no more room. So the room of any value is on the other side of the result, or is the result.
    """
    tried, has = most, room(most)
    if has >= most:
        return most
    low, high = has, most
    following, turn = low, 0
    while high - low > _SURE:
        before, had, tried = tried, has, following
        has = room(tried)
        if has >= tried:
            low, high = max(low, tried), min(high, has)
        else:
            low, high = max(low, has), min(high, tried)
        turn += 1
        slope = (had - has) / (before - tried) if before != tried else 0.0
        following = min(high, max(low, tried + (has - tried) / (1.0 - min(0.0, slope))))
        if turn % 3 == 0 or following in (tried, before):
            following = (low + high) / 2
    return low


def seat_clearance(space: Space, rim: Rim, exit_: Exit, disc: Disc) -> float:
    """Return the clearance of the part on the wood to the edge of the flat land, with its true shape [mm].

    The land is the free section at the inner face within the transom's inner outline.
    """
    centre = exit_.u, exit_.w
    return min(space.section(0.0).room_of(disc, centre), rim_clearance(rim, centre, disc))


def rim_clearance(rim: Rim, centre: Point, disc: Disc) -> float:
    """Return a disc's clearance to the edges of a face [mm]; a cut disc is all the discs in it, see `Section.room_of`."""
    if not disc.is_cut:
        return rim.signed_distance(centre) - disc.radius
    room = min(disc.gap(centre, edge) for edge in rim.edges)
    return min(room, *(rim.signed_distance((centre[0] + u, centre[1] + w)) - radius for u, w, radius in disc.within))


def plate_clearance(space: Space, rim: Rim, joined: tuple[Bolt, ...], plate: BackingPlate) -> float:
    """Return the clearance of a backing plate with its true shape, its relieved edge included [mm]."""
    places = plate_places(space, joined, plate)
    room = min(space.section(n, before=before).room_of_ring(plate_ring(joined, plate, n)) for n, before in places)
    relieved = bool(plate.relief[0]) and bool(plate.relief[1])
    if not space.convex and (relieved or space.falls < 0.0):
        room = _least_between(space, joined, plate, sorted({n for n, _ in places}), room)
    return min(room, plate_over_rim(rim, joined, plate))


def plate_corners_room(space: Space, rim: Rim, joined: tuple[Bolt, ...], plate: BackingPlate) -> float:
    """Return the least room of a backing plate's corners [mm]: never less than the backing plate's, and far quicker."""
    rooms = [
        space.section(n, before=before).signed_distance(corner)
        for n, before in plate_places(space, joined, plate)
        for corner in plate_ring(joined, plate, n)
    ]  # fmt: skip
    return min(*rooms, *(rim.signed_distance(corner) for corner in plate_ring(joined, plate, 0.0)))


def _least_between(space: Space, joined: tuple[Bolt, ...], plate: BackingPlate, stops: list[float], room: float) -> float:
    """Return a backing plate's least room all the way between some distances in front of the inner face [mm].

    A stretch is halved until all that is in it, at once, leaves about as much room as its worst place. The result is
    less than the truth by `_PLATE` at most, and never more.
    """
    sure = room
    todo = list(pairwise(stops))
    while todo:
        low, high = todo.pop()
        least = space.envelope(low, high).room_of_ring(plate_ring(joined, plate, high))
        if least >= room - _PLATE or high - low < _SURE:
            sure = min(sure, least)
            continue
        middle = (low + high) / 2
        room = min(room, space.section(middle).room_of_ring(plate_ring(joined, plate, middle)))
        todo += [(low, middle), (middle, high)]
    return min(room, sure)


def plate_places(space: Space, joined: tuple[Bolt, ...], plate: BackingPlate) -> list[Place]:
    """Return the distances in front of the inner face at which a backing plate may come nearest to something [mm]."""
    thickness = need(plate.thickness, joined[0].plate_key("thickness"))
    through = need(plate.relief[1], joined[0].plate_key("relief.1"))
    ends = {0.0, thickness, min(through, thickness)}
    ends |= {edge.ends for edge in space.edges if edge.ends < thickness and not space.convex}
    return [(n, False) for n in sorted(ends)] + [(block.out, True) for block in space.blocks if block.out <= thickness]


def plate_over_rim(rim: Rim, joined: tuple[Bolt, ...], plate: BackingPlate) -> float:
    """Return how far a backing plate stays inside the edge of the wood [mm], negative where it goes beyond."""
    corners = plate_ring(joined, plate, 0.0)
    over = min(rim.signed_distance(corner) for corner in corners)
    if over < 0:
        return over
    apart = min(between((corners[i - 1], corners[i]), edge) for i in range(len(corners)) for edge in rim.edges)
    return apart if apart > 0 else -_off_the_wood(rim, corners)


def _off_the_wood(rim: Rim, corners: tuple[Point, ...]) -> float:
    """Return how far a ring on the wood at all its corners goes beyond the wood's edge between them [mm]."""
    import shapely

    rings = [shapely.Polygon(ring) for ring in rim.rings]
    wood = shapely.intersection_all(rings) if rim.every else shapely.union_all(rings)
    return farthest(shapely.Polygon(corners).difference(wood), wood)


def within_plate(joined: tuple[Bolt, ...], plate: BackingPlate, bolt: Bolt, disc: Disc) -> float:
    """Return how far a washer stays inside the outline of the backing plate under it [mm]."""
    from geometry.solid.outline import Rim

    ring = plate_ring(joined, plate, need(plate.thickness, bolt.plate_key("thickness")))
    edges = tuple((ring[i - 1], ring[i]) for i in range(len(ring)))
    return rim_clearance(Rim(edges, (ring,), every=True), (bolt.exit.u, bolt.exit.w), disc)


def axes_gap(bolt: Bolt, other: Bolt, body: Body, other_body: Body) -> float:
    """Return a gap between bodies of two bolts, never too large; exact for parallel axes side by side [mm]."""
    return _apart(_axis(bolt, body), _axis(other, other_body)) - body.shape.radius - other_body.shape.radius


Solid3 = tuple[float, float, float]


def _axis(bolt: Bolt, body: Body) -> tuple[Solid3, Solid3]:
    """Return the ends of a body's axis in (u, w, n)."""
    sine, cosine = math.sin(bolt.exit.lean), math.cos(bolt.exit.lean)
    return (
        (bolt.exit.u, bolt.exit.w + body.start * sine, body.start * cosine),
        (bolt.exit.u, bolt.exit.w + body.end * sine, body.end * cosine),
    )


def _apart(a: tuple[Solid3, Solid3], b: tuple[Solid3, Solid3]) -> float:
    """Return the distance between two segments in space [mm]."""
    d1 = [q - p for p, q in zip(*a, strict=True)]
    d2 = [q - p for p, q in zip(*b, strict=True)]
    r = [p - q for p, q in zip(a[0], b[0], strict=True)]
    aa, bb, ab = _dot(d1, d1), _dot(d2, d2), _dot(d1, d2)
    ar, br = _dot(d1, r), _dot(d2, r)
    den = aa * bb - ab * ab
    s = min(1.0, max(0.0, (ab * br - ar * bb) / den)) if den > 1e-12 * aa * bb else 0.0
    best = math.inf
    # The nearest pair has one point at an end or both inside: try the free place and each end in turn.
    for first in (s, 0.0, 1.0):
        t = min(1.0, max(0.0, (ab * first + br) / bb)) if bb > 0 else 0.0
        s2 = min(1.0, max(0.0, (ab * t - ar) / aa)) if aa > 0 else 0.0
        gap = [r[i] + s2 * d1[i] - t * d2[i] for i in range(3)]
        best = min(best, math.sqrt(_dot(gap, gap)))
    return best


def _dot(a: list[float], b: list[float]) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def room_along(bolt: Bolt, space: Space, length: float | None, front_lean: float | None) -> float | None:
    """Return the free room along a bolt's axis, from the inner face to front, block or profile [mm]; None: no end.

    Args:
        length: of the well along its floor, None without a well [mm]. front_lean: of its front [degrees].
    """
    exit_ = bolt.exit
    sine, cosine = math.sin(exit_.lean), math.cos(exit_.lean)
    ends: list[float] = []
    for edge in space.edges:
        over = edge.normal_u * exit_.u + edge.normal_w * exit_.w - edge.foot
        closes = edge.normal_w * sine + edge.sinks * cosine
        if over <= 0:
            # Only the edges that the axis meets within their length count. Below the floor there is no room at all.
            if space.convex:
                ends.append(0.0)
        elif closes < 0:
            x = over / -closes
            if space.convex or _meets(edge.a, edge.b, exit_, space.falls, x, sine, cosine):
                ends.append(x)
    if not space.convex and not space.section(0.0).is_free((exit_.u, exit_.w)):
        ends.append(0.0)
    for block in space.blocks:
        ends.extend(_into_block(block.ring, block.out, exit_, sine, cosine))
    if length is not None and space.edges:
        front = _to_front(bolt, space, length, front_lean or 0.0)
        if front is not None:
            ends.append(front)
    return min(ends, default=None)


def _meets(a: Point, b: Point, exit_: Exit, falls: float, x: float, sine: float, cosine: float) -> bool:
    """Return whether the axis meets a profile edge within its length."""
    at = exit_.u, exit_.w + x * sine + x * cosine * falls
    return to_segment(at, (a, b)) < 1e-6 * max(1.0, abs(x))


def _into_block(ring: tuple[Point, ...], out: float, exit_: Exit, sine: float, cosine: float) -> Iterable[float]:
    """Yield the distances along the axis at which it enters a block."""
    from geometry.solid.planes import inside

    if inside((exit_.u, exit_.w), ring):
        yield 0.0
        return
    if abs(sine) < 1e-12:
        return
    for i in range(len(ring)):
        (ua, wa), (ub, wb) = ring[i - 1], ring[i]
        if min(ua, ub) <= exit_.u <= max(ua, ub) and ua != ub:
            w = wa + (wb - wa) * (exit_.u - ua) / (ub - ua)
            x = (w - exit_.w) / sine
            if x > 0 and x * cosine < out:
                yield x


def _to_front(bolt: Bolt, space: Space, length: float, front_lean: float) -> float | None:
    """Return the distance along the axis to the well's front, None where the two never meet [mm]."""
    face, exit_ = bolt.faces, bolt.exit
    foot_x, foot_z = floor_end(face, space, exit_.u, length)
    start_x, start_z = face.level_point(exit_.v, exit_.s)
    climb = math.radians(bolt.tilt) + face.rake
    lean = math.radians(front_lean)
    # Square to the front, pointing forward; the front runs up along (-sin lean, cos lean).
    square = math.cos(lean), math.sin(lean)
    closing = math.cos(climb) * square[0] + math.sin(climb) * square[1]
    apart = (foot_x - start_x) * square[0] + (foot_z - start_z) * square[1]
    return apart / closing if closing > 1e-9 else None
