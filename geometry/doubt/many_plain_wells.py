"""The room of a part in many plain wells: no corner points into them, and no block is near the part.

Each edge of such a well is a line, and the room to each line has a short rule. Lengths [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from geometry.doubt.many_sections import reach

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.doubt.many_boats import Cylinder, ManyBoats, Place
    from geometry.doubt.many_sections import Floats

_SURE = 1e-7  # [mm]: precision of a leaning part's room, from below
_TURNS = 24  # tries for it, at most
_FAR = 1e5  # [mm]: as good as no obstacle


class _Seen(NamedTuple):
    """The edges as seen along an axis: the room to each is first + n·grows - strip(n)/stretch, less the part's reach."""

    first: Floats
    grows: Floats
    stretch: Floats
    sinks: Floats
    land: Floats
    ends: Floats
    reach: Floats

    def rows(self, kept: Floats) -> _Seen:
        """Return some of the edges."""
        return _Seen(*(part[kept] for part in self))


def plain_rooms(boats: ManyBoats, exit_: Place, body: Cylinder) -> Floats:
    """Return the room of a part to the lines of its well.

    It is that of `geometry.solid.clearances.body_clearance` where the result is above minus the radius of a whole part, or
    above 0 of a cut one.
    """
    well = boats.well
    radius = body.shape.radius
    cosine, sine = np.cos(exit_.lean), np.abs(np.sin(exit_.lean))
    start, end = np.maximum(0.0, body.start * cosine), body.end * cosine
    stretch = np.sqrt(well.nu**2 + (well.nw / cosine) ** 2)
    grows = (well.nw * np.tan(exit_.lean) + well.sinks) / stretch
    first = (well.nu * exit_.u + well.nw * exit_.w - well.foot) / stretch
    reaches = reach(body.shape, -well.nu / stretch, -well.nw / cosine / stretch) if body.shape.is_cut else radius + 0.0 * first
    seen = _Seen(first, grows, stretch, well.sinks, well.land, well.ends, reaches)
    least = _from_start(seen, well.radius, start, radius, sine)
    nearer = np.any(grows < 0.0, axis=1)
    if nearer.any():
        far = _past_end(seen.rows(nearer), well.radius, end, radius, sine)
        least = np.minimum(least, far)
    return least


def _room(seen: _Seen, corner: Floats, n: Floats) -> Floats:
    """Return the room to each edge at a distance in front of the inner face."""
    under = np.sqrt(np.maximum(0.0, (2 * corner - n) * n))
    strip = np.where(n < seen.ends, seen.land - under + n * seen.sinks, 0.0)
    room: Floats = seen.first + n * seen.grows - strip / seen.stretch - seen.reach
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


def _past_end(seen: _Seen, corner: Floats, end: Floats, radius: Floats, sine: Floats) -> Floats:
    """Return the largest room with which the part is free at its far end, of the edges that come nearer there."""

    def room(clearance: Floats) -> Floats:
        over = np.maximum(0.0, radius + clearance) * sine
        least: Floats = np.min(np.where(seen.grows < 0.0, _room(seen, corner, end + over), _FAR), axis=0)
        return least

    return largest(room, room(-radius), turns=_TURNS)


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
