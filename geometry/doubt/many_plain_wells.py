"""The room of a part in many wells that are plain where the part is: no block and no corner that points in is near it.

Each edge of such a well is a line, and the room to each line has a short rule. Lengths [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from geometry.doubt.many_sections import reach

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.doubt.many_boats import Cylinder, ManyBoats, Place
    from geometry.doubt.many_sections import Flags, Floats

_SURE = 1e-7  # [mm]: precision of a leaning part's room, from below
_TURNS = 24  # tries for it, at most
_FAR = 1e5  # [mm]: as good as no obstacle


class _Seen(NamedTuple):
    """The edges as seen along an axis: the room to each is first + n·grows - strip(n)/stretch."""

    first: Floats
    grows: Floats
    stretch: Floats
    sinks: Floats
    land: Floats
    ends: Floats

    def rows(self, kept: Floats) -> _Seen:
        """Return some of the edges."""
        return _Seen(*(part[kept] for part in self))


class Run(NamedTuple):
    """The edges around a part's axis up to the next corner to each side that points in, as the axis goes straight up.

    Attributes:
        hidden: which edges are beyond it; None where none is. clear: how far from the axis these edges are, at least.
    """

    hidden: Flags | None
    clear: Floats


def convex_run(boats: ManyBoats, exit_: Place) -> Run:
    """Return the edges that are as in a plain well, next to a bolt.

    The edge next to a corner that points in hides the strip of its neighbour there. Any other strip is no wider than the
    widest land. Two such corners to one side make mitres that may be longer, so nothing is then clear.
    """
    well = boats.well
    if well.convex.all():
        return Run(None, np.full(boats.count, np.inf))
    count = len(well.corners.u)
    numbers = np.arange(count)[:, None]
    left, right = well.inward & (well.corners.u <= exit_.u), well.inward & (well.corners.u > exit_.u)
    last, first = np.where(left, numbers, -1).max(axis=0), np.where(right, numbers, count).min(axis=0)
    apart = np.where(well.inward, np.abs(well.corners.u - exit_.u), np.inf).min(axis=0) - well.land.max(axis=0)
    simple = (np.count_nonzero(left, axis=0) <= 1) & (np.count_nonzero(right, axis=0) <= 1) & well.open_up
    edges = np.arange(count + 1)[:, None]
    return Run((edges <= last) | (edges > first), np.where(well.convex, np.inf, np.where(simple, apart, -np.inf)))


def plain_rooms(boats: ManyBoats, exit_: Place, body: Cylinder, run: Run) -> Floats:
    """Return the room of a part to the lines of its well, as far as they are in its run.

    It is that of `geometry.solid.clearances.body_clearance` where the result is above minus the radius of a whole part, or
    above 0 of a cut one.
    """
    radius, sine = body.shape.radius, np.abs(np.sin(exit_.lean))
    cosine = np.cos(exit_.lean)
    start, end = np.maximum(0.0, body.start * cosine), body.end * cosine
    seen, corner = _seen(boats, exit_, cosine, run), boats.well.radius
    if body.shape.is_cut:
        normal_w = boats.well.nw / cosine / seen.stretch
        seen = seen._replace(first=seen.first - reach(body.shape, -boats.well.nu / seen.stretch, -normal_w))
    else:
        seen = seen._replace(first=seen.first - radius)
    least = _from_start(seen, corner, start, radius, sine)
    nearer = np.any(seen.grows < 0.0, axis=1)
    if nearer.any():
        least = _past_end(seen.rows(nearer), corner, end, radius, sine, least)
    return least


def below_one_line(boats: ManyBoats, exit_: Place, body: Cylinder, deep: Flags, run: Run) -> Flags:
    """Return in which boats a whole part's middle is beyond one line only, and the nearest free place is straight across it.

    There `plain_rooms` is exact too, where no edge comes nearer further out.
    """
    alone = np.zeros(boats.count, dtype=bool)
    if body.shape.is_cut or not deep.any():
        return alone
    cosine = np.cos(exit_.lean)
    seen = _seen(boats, exit_, cosine, run)
    if np.any(seen.grows < 0.0):
        return alone
    some = _Seen(*(part[:, deep] for part in seen))
    over = _room(some, boats.well.radius[deep], np.maximum(0.0, body.start * cosine)[deep])
    nu, nw = boats.well.nu[:, deep] / some.stretch, boats.well.nw[:, deep] / cosine[deep] / some.stretch
    at = np.argmin(over, axis=0)[None]
    least, nu_at, nw_at = (np.take_along_axis(part, at, axis=0) for part in (over, nu, nw))
    alone[deep] = np.all(over - least * (nu * nu_at + nw * nw_at) >= -_SURE, axis=0)
    return alone


def _seen(boats: ManyBoats, exit_: Place, cosine: Floats, run: Run) -> _Seen:
    """Return the edges as seen along an axis; all parts of a bolt ask for the same."""
    kept = boats.seen.get(id(exit_))
    if not isinstance(kept, _Seen):
        well = boats.well
        stretch = np.sqrt(well.nu**2 + (well.nw / cosine) ** 2)
        grows = (well.nw * np.tan(exit_.lean) + well.sinks) / stretch
        first = (well.nu * exit_.u + well.nw * exit_.w - well.foot) / stretch
        if run.hidden is not None:
            first, grows = np.where(run.hidden, _FAR, first), np.where(run.hidden, 0.0, grows)
        kept = boats.seen[id(exit_)] = _Seen(first, grows, stretch, well.sinks, well.land, well.ends)
    return kept


def _room(seen: _Seen, corner: Floats, n: Floats) -> Floats:
    """Return the room to each edge at a distance in front of the inner face."""
    under = np.sqrt(np.maximum(0.0, (2 * corner - n) * n))
    strip = np.where(n < seen.ends, seen.land - under + n * seen.sinks, 0.0)
    room: Floats = seen.first + n * seen.grows - strip / seen.stretch
    return room


def _from_start(seen: _Seen, corner: Floats, start: Floats, radius: Floats, sine: Floats) -> Floats:
    """Return the largest room with which the part, that much wider, is free at its near end.

    A wider leaning part begins nearer to the face, down to the face itself.
    """
    rooms = _room(seen, corner, start)
    high: Floats = np.min(rooms, axis=0)
    leans = (sine >= 1e-12) & (high > -radius) & (start > 0.0)
    if not leans.any():
        return high
    lowest = np.minimum(rooms, _room(seen, corner, np.maximum(0.0, start - sine * np.maximum(0.0, radius + high))))
    seen = seen.rows(np.any(lowest <= high, axis=1))

    def room(clearance: Floats) -> Floats:
        over = np.where(leans, np.maximum(0.0, radius + clearance) * sine, 0.0)
        least: Floats = np.min(_room(seen, corner, np.maximum(0.0, start - over)), axis=0)
        return least

    return largest(room, high, turns=_TURNS)


def _past_end(seen: _Seen, corner: Floats, end: Floats, radius: Floats, sine: Floats, most: Floats) -> Floats:
    """Return the largest room up to ``most`` with which the part is free at its far end, by the edges that come nearer."""

    def room(clearance: Floats) -> Floats:
        over = np.maximum(0.0, radius + clearance) * sine
        least: Floats = np.min(np.where(seen.grows < 0.0, _room(seen, corner, end + over), _FAR), axis=0)
        return least

    return largest(room, most, turns=_TURNS)


def largest(room: Callable[[Floats], Floats], high: Floats, *, turns: int) -> Floats:
    """Return the largest value up to ``high`` that has its room, from below: exact to `_SURE`, or less than that.

    A larger value has no more room, so the room of any value is on the other side of the result.
    """
    tried, has = high, np.minimum(high, room(high))
    low = before = had = has
    for turn in range(turns):
        if np.max(high - low) <= _SURE:
            break
        if turn == 0:
            following = low
        elif turn % 4 == 3:
            following = (low + high) / 2
        else:
            lacks, lacked = tried - has, before - had
            span = np.where(lacks == lacked, 1.0, lacks - lacked)
            following = np.clip(tried - lacks * (tried - before) / span, low, high)
        before, had, tried, has = tried, has, following, room(following)
        fits = has >= tried
        low = np.where(fits, np.maximum(low, tried), np.maximum(low, has))
        high = np.where(fits, np.minimum(high, np.maximum(low, has)), np.minimum(high, tried))
    return low
