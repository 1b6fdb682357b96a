"""The room of each part inside: its clearance to the well, the blocks, the wood's edges and other parts.

A body has radius R and ends square to its axis. Its clearance is the largest c for which the body with radius R + c stays
free of every obstacle. It is negative where R must shrink. With the axis square to the inner face, the sections give it
exactly. With a leaning axis the result is a bound, never too large.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.solid.faces import Exit, need
from geometry.solid.placed_bolts import Body, Bolt, plate_ring
from geometry.solid.planes import between, to_segment
from geometry.solid.section import meet

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.design.hardware import BackingPlate
    from geometry.solid.discs import Disc
    from geometry.solid.outline import Rim
    from geometry.solid.planes import Point
    from geometry.solid.well import Space

_GOLDEN = (math.sqrt(5) - 1) / 2
_NEAR = 1e-4  # [mm]: precision of the place nearest to a corner; its distance is then known far better
_NEAREST = 1e-7  # [mm]: precision of the place of least room
_SAMPLES = 9  # number of places to try where the space is not convex

Place = tuple[float, bool]  # n in front of the inner face, and whether a block that ends there counts


def body_clearance(space: Space, exit_: Exit, body: Body) -> float | None:
    """Return the clearance of ``body`` on a bolt that leaves the inner face at ``exit_`` [mm].

    None where nothing limits it. Exact to 1e-6 mm for a square axis; for a leaning one never more than the truth.
    """
    if space.empty:
        return None
    cosine, sine = math.cos(exit_.lean), math.sin(exit_.lean)
    start, end = max(0.0, body.start * cosine), body.end * cosine

    def room(place: Place) -> float:
        n, before = place
        centre = exit_.u, exit_.w * cosine + n * sine
        return space.section(n, cosine, before=before).room_of(body.shape, centre)

    least = _lowest(space, start, end, exit_, cosine, room)
    if least == math.inf:
        return None
    if abs(sine) < 1e-12:
        return least
    wider = (body.shape.radius + max(0.0, least)) * abs(sine)
    return min(least, _lowest(space, max(0.0, start - wider), end + wider, exit_, cosine, room))


def seat_clearance(space: Space, rim: Rim, exit_: Exit, disc: Disc) -> float:
    """Return the clearance of the part on the wood to the edge of the flat land, with its true shape [mm].

    The land is the free section at the inner face within the transom's inner outline.
    """
    centre = exit_.u, exit_.w
    return min(space.section(0.0).room_of(disc, centre), rim_clearance(rim, centre, disc))


def rim_clearance(rim: Rim, centre: Point, disc: Disc) -> float:
    """Return a disc's clearance to the edges of a face [mm]."""
    apart = rim.signed_distance(centre)
    if apart < 0 or not disc.is_cut:
        return apart - disc.radius
    return min(disc.gap(centre, edge) for edge in rim.edges)


def plate_clearance(space: Space, rim: Rim, joined: tuple[Bolt, ...], plate: BackingPlate) -> float:
    """Return the clearance of a backing plate with its true shape, its relieved edge included [mm]."""
    places = plate_places(space, joined, plate)
    room = min(space.section(n, before=before).room_of_ring(plate_ring(joined, plate, n)) for n, before in places)
    return min(room, plate_over_rim(rim, joined, plate))


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
    return min(between((corners[i - 1], corners[i]), edge) for i in range(len(corners)) for edge in rim.edges)


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


def _lowest(
    space: Space, start: float, end: float, exit_: Exit, cosine: float, room: Callable[[Place], float]
) -> float:
    """Return the least room between two distances in front of the inner face [mm].

    The room in a convex well is a concave function of n, so both ends suffice. A block makes a step at its end. The places
    nearest to corners are tried too, where a corner points into the well or a leaning axis passes a block.
    """
    places: list[Place] = [(start, False), (end, False)]
    places += [(b.out, before) for b in space.blocks if start < b.out <= end for before in (True, False)]
    leaning = cosine < 1.0
    if not space.convex or (leaning and space.blocks):
        places += [(n, False) for n in _between(space, start, end, exit_, cosine)]
        return _refined(places, start, end, room)
    return min(room(place) for place in places)


def _between(space: Space, start: float, end: float, exit_: Exit, cosine: float) -> Iterable[float]:
    """Yield the distances between the ends at which the room may be least."""
    stops = sorted({start, end, *(edge.ends for edge in space.edges if start < edge.ends < end)})
    yield from stops
    slope = math.tan(exit_.lean)
    if cosine < 1.0:
        for block in space.blocks:
            for _, w in block.ring:
                n = (w - exit_.w) / slope
                if start < n < end:
                    yield n
    for index in range(len(space.edges) - 1):
        if space.edges[index].normal_u * space.edges[index + 1].normal_w - (
            space.edges[index].normal_w * space.edges[index + 1].normal_u
        ) >= -1e-12:
            continue

        def far(n: float, at: int = index) -> float:
            corner = meet(space.line(at, n, cosine), space.line(at + 1, n, cosine))
            if corner is None:
                return math.inf
            return math.hypot(corner[0] - exit_.u, corner[1] - exit_.w * cosine - n * math.sin(exit_.lean))

        for low, high in zip(stops, stops[1:], strict=False):
            yield _least_at(far, low, high, _NEAR)


def _refined(places: list[Place], start: float, end: float, room: Callable[[Place], float]) -> float:
    """Return the least room over the places and around the lowest of them."""
    step = (end - start) / (_SAMPLES + 1)
    places = places + [(start + step * i, False) for i in range(1, _SAMPLES + 1)]
    at = sorted({n for n, _ in places})
    best, lowest = min((room(place), place[0]) for place in places)
    index = at.index(lowest)
    low, high = at[max(0, index - 1)], at[min(len(at) - 1, index + 1)]
    return min(best, room((_least_at(lambda n: room((n, False)), low, high, _NEAREST), False)))


def _least_at(f: Callable[[float], float], low: float, high: float, close: float) -> float:
    """Return where ``f`` is least between two places, to ``close``. It must fall and then rise (golden section)."""
    a, b = low, high
    c, d = b - _GOLDEN * (b - a), a + _GOLDEN * (b - a)
    fc, fd = f(c), f(d)
    while b - a > close:
        if fc < fd:
            b, d, fd = d, c, fc
            c = b - _GOLDEN * (b - a)
            fc = f(c)
        else:
            a, c, fc = c, d, fd
            d = a + _GOLDEN * (b - a)
            fd = f(d)
    return (a + b) / 2


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
    floor = space.floor_at(exit_.u)
    if floor is None:
        floor = min(edge.b[1] for edge in space.edges[:-1])
    rise = face.rake + face.taper - math.atan(space.falls)
    x0, z0 = face.level_point(*face.face_point(floor, 0.0))
    foot_x, foot_z = x0 + length * math.cos(rise), z0 + length * math.sin(rise)
    start_x, start_z = face.level_point(exit_.v, exit_.s)
    climb = math.radians(bolt.tilt) + face.rake
    lean = math.radians(front_lean)
    # Square to the front, pointing forward; the front runs up along (-sin lean, cos lean).
    square = math.cos(lean), math.sin(lean)
    closing = math.cos(climb) * square[0] + math.sin(climb) * square[1]
    apart = (foot_x - start_x) * square[0] + (foot_z - start_z) * square[1]
    return apart / closing if closing > 1e-9 else None
