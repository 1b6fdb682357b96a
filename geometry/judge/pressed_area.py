"""How much core a bolt's inside washer presses: through the skin, and through a backing plate where there is one.

Skin and plate spread the load at 45 degrees, a plate no further than a skin of its thickness, our assumption: rather too
little than too much. Lengths [mm], areas [mm2].
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from geometry.design.validity import area
from geometry.solid.faces import need
from geometry.solid.placed_bolts import Bolt, plate_ring
from geometry.solid.planes import inside, sides, to_segment

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.solid.planes import Point, Segment

_RAYS = 180  # of a round: its chords are 2 parts in 10,000 short of it
_HAIR = 1e-9  # by which a stop is longer at either end, so that no ray slips out at a corner


def pressed_area(outer: float, hole: float, spread: float, flat: float | None = None) -> float:
    """Return the area of core that a washer presses [mm2]; for a whole one π/4 ((outer + 2 spread)² - hole²).

    What is cut flat spreads alike: A + P spread + π spread² (Steiner), its area A and its rim P.

    Args:
        outer: across the washer. hole: across the hole. spread: thickness of skin, and of a plate, under the washer.
        flat: from the washer's centre to its flat cut; None: it is whole.
    """
    radius = outer / 2
    half = 0.0 if flat is None or flat >= radius else math.acos(flat / radius)
    washer = radius**2 * (math.pi - half + math.sin(half) * math.cos(half))
    rim = 2 * radius * (math.pi - half + math.sin(half))
    return _spread(washer, rim, spread) - math.pi / 4 * hole**2


def _spread(size: float, rim: float, by: float) -> float:
    return size + rim * by + math.pi * by**2


def area_of(bolt: Bolt, *, whole: bool = False) -> float:
    """Return the area of core under a bolt's inside washer [mm2], 0 where its plate does not touch the face there.

    A spacer between takes the washer's place. A plate spreads the load as far as it touches the face, and the skin under
    it no further than halfway to the next bolt that goes through it; in a notch's corner, where what both edges spread
    overlaps, (1 - π/4) skin² may count twice.

    Args:
        whole: as if the washer had no flat cut: so the pressure's value is held against its limit.

    Raises:
        Unmeasured: a size is not known.
    """
    outer, flat = _seat(bolt)
    skin, flat = need(bolt.design.transom.skin_inside, "transom.skin_inside"), None if whole else flat
    thick = bolt.plate_thickness
    stops: list[_Stop] = []
    if bolt.plate is not None:
        at = bolt.exit.u, bolt.exit.w
        joined = tuple(Bolt(bolt.design, bolt.mount_index, bolt.mount, name) for name in bolt.plate.joins)
        ring = plate_ring(joined, bolt.plate, 0.0)
        if not inside(at, ring):
            return 0.0
        others = [(one.exit.u, one.exit.w) for one in joined if one.name != bolt.name]
        edges = [side for side in sides(ring) if math.dist(*side) > 0.0]
        halfway = (_halfway(at, other, skin) for other in others)
        stops = [_stop(at, end) for end in (*edges, *halfway) if to_segment(at, end) < outer / 2 + thick]
    if not stops:
        return pressed_area(outer, bolt.hole, thick + skin, flat)
    touched = _touched(outer / 2, flat, thick, stops)
    rim = sum(math.dist(one, two) for one, two in pairwise((*touched, touched[0])))
    return max(0.0, _spread(area(touched), rim, skin) - math.pi / 4 * bolt.hole**2)


def _seat(bolt: Bolt) -> tuple[float, float | None]:
    """Return what sits on skin or plate: its size across, and how far from its centre it is cut flat, None for nowhere."""
    washer, spacer = bolt.hardware.washer, bolt.hardware.spacer
    if spacer is not None:
        return need(spacer.outer, bolt.hardware_key("spacer.outer")), None
    return need(washer.outer, bolt.hardware_key("washer.outer")), washer.flat_cut


def _halfway(at: Point, other: Point, skin: float) -> Segment:
    """Return the line between two bolts, short of the middle by what the skin spreads."""
    apart = math.dist(at, other)
    du, dw = (other[0] - at[0]) / apart, (other[1] - at[1]) / apart
    by = max(0.0, apart / 2 - skin)
    u, w = at[0] + by * du, at[1] + by * dw
    return (u + dw * apart, w - du * apart), (u - dw * apart, w + du * apart)


class _Stop(NamedTuple):
    """Where a plate's spread ends, seen from the hole: a line square to (nu, nw), ``off`` away, from ``first`` to ``last``."""

    nu: float
    nw: float
    off: float
    first: float
    last: float


def _stop(at: Point, side: Segment) -> _Stop:
    (au, aw), (bu, bw) = ((u - at[0], w - at[1]) for u, w in side)
    size = math.dist(*side)
    nu, nw = (bw - aw) / size, (au - bu) / size
    off = au * nu + aw * nw
    if off < 0:
        nu, nw, off = -nu, -nw, -off
    first, last = sorted((aw * nu - au * nw, bw * nu - bu * nw))
    return _Stop(nu, nw, off, first - _HAIR, last + _HAIR)


def _touched(radius: float, flat: float | None, thick: float, stops: Sequence[_Stop]) -> list[Point]:
    """Return the ring about a hole within which a plate presses the face: as far as each ray from its centre comes.

    Args:
        radius, flat: of what sits on the plate, see `pressed_area`. thick: the plate. stops: what ends its spread.
    """
    chord = 0.0 if flat is None or flat >= radius else math.sqrt(radius**2 - flat**2)
    found: list[Point] = []
    for angle in _angles(radius + thick, stops):
        du, dw = math.cos(angle), math.sin(angle)
        u, w = radius * du, radius * dw
        if flat is not None and w < -flat:
            u, w = math.copysign(chord, du), -flat
        u, w = u + thick * du, w + thick * dw
        for nu, nw, off, first, last in stops:
            over = u * nu + w * nw
            if over > off and first <= (w * nu - u * nw) * off / over <= last:
                u, w = u * off / over, w * off / over
        found.append((u, w))
    return found


def _angles(reach: float, stops: Sequence[_Stop]) -> list[float]:
    """Return the rays' angles: evenly all round, to the ends of each stop, and to where a circle meets it."""
    found = [(number + 0.5) * math.tau / _RAYS for number in range(_RAYS)]
    for stop in stops:
        middle = math.atan2(stop.nw, stop.nu)
        open_ = math.acos(stop.off / reach) if stop.off < reach else 0.0
        turns = (math.atan2(stop.first, stop.off), math.atan2(stop.last, stop.off), -open_, open_)
        found += [(middle + turn) % math.tau for turn in turns]
    return sorted(found)
