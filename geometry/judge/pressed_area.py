"""The area of core that a bolt's inside washer presses: through the skin, and through a backing plate.

Skin and backing plate spread the load at the design's spread angle, a backing plate no further than a skin of its
thickness. That is our assumption, and rather too little than too much. Lengths [mm], areas [mm2].
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from geometry.design.validity import area
from geometry.judge.washer_stiff import inside_across
from geometry.solid.faces import need
from geometry.solid.placed_bolts import Bolt, plate_ring
from geometry.solid.planes import inside, sides, to_segment

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.design.design import Design
    from geometry.solid.planes import Point, Segment

_RAYS = 180  # around the circle: its chords are 2 parts in 10,000 short of it
_HAIR = 1e-9  # added to both ends of a stop, so that no ray slips out at a corner


def pressed_area(outer: float, hole: float, spread: float, flat: float | None = None) -> float:
    """Return the area of core that a washer presses [mm2]; for a whole washer π/4 ((outer + 2 spread)² - hole²).

    A cut washer spreads in the same way: A + P spread + π spread² (Steiner), with its area A and its rim P.

    Args:
        outer: across the washer. hole: across the hole. spread: how far skin and backing plate spread the load beyond the rim.
        flat: from the washer's centre to its flat cut; None: it is whole.
    """
    radius = outer / 2
    half = 0.0 if flat is None or flat >= radius else math.acos(flat / radius)
    washer = radius**2 * (math.pi - half + math.sin(half) * math.cos(half))
    rim = 2 * radius * (math.pi - half + math.sin(half))
    return _spread(washer, rim, spread) - math.pi / 4 * hole**2


def spread_for_each(design: Design) -> float:
    """Return how far each millimetre of skin or backing plate spreads the load [mm]: the tangent of the spread angle.

    To 1e-12, so that 45 degrees give 1 exactly.
    """
    return round(math.tan(math.radians(design.assumptions.spread_angle)), 12)


def _spread(size: float, rim: float, by: float) -> float:
    return size + rim * by + math.pi * by**2


def area_of(bolt: Bolt, *, whole: bool = False) -> float:
    """Return the area of core under a bolt's inside washer [mm2], 0 where its backing plate is off the face there.

    A spacer replaces the washer. A backing plate spreads the load as far as it touches the face. The skin under it spreads
    it no further than halfway to the next bolt of that backing plate. In the corner of a notch both edges spread the load:
    (1 - π/4) times the square of the skin's spread may count twice there.

    Args:
        whole: leave out the washer's flat cut, as for the pressure's value.

    Raises:
        Unmeasured: a size is not known.
    """
    outer, flat = _seat(bolt)
    reach, flat = spread_for_each(bolt.design), None if whole else flat
    skin = reach * need(bolt.design.transom.skin_inside, "transom.skin_inside")
    thick = reach * bolt.plate_thickness
    stops: list[_Stop] = []
    if bolt.plate is not None:
        at = bolt.exit.u, bolt.exit.w
        joined = tuple(Bolt(bolt.design, bolt.mount_index, bolt.mount, name) for name in bolt.plate.joins)
        ring = plate_ring(joined, bolt.plate, 0.0)
        if not inside(at, ring):
            return 0.0
        others = [(other.exit.u, other.exit.w) for other in joined if other.name != bolt.name]
        edges = [side for side in sides(ring) if math.dist(*side) > 0.0]
        halfway = (_halfway(at, other, skin) for other in others)
        stops = [_stop(at, end) for end in (*edges, *halfway) if to_segment(at, end) < outer / 2 + thick]
    if not stops:
        return pressed_area(outer, bolt.hole, thick + skin, flat)
    touched = _touched(outer / 2, flat, thick, stops)
    rim = sum(math.dist(corner, following) for corner, following in pairwise((*touched, touched[0])))
    return max(0.0, _spread(area(touched), rim, skin) - math.pi / 4 * bolt.hole**2)


def _seat(bolt: Bolt) -> tuple[float, float | None]:
    """Return the size across of the part on skin or backing plate, and from its centre to its flat cut, None without one.

    Of a washer that bends, only its middle counts.
    """
    washer, spacer = bolt.hardware.washer, bolt.hardware.spacer
    if spacer is not None:
        return need(spacer.outer, bolt.hardware_key("spacer.outer")), None
    outer = need(washer.outer, bolt.hardware_key("washer.outer"))
    thickness = need(washer.thickness, bolt.hardware_key("washer.thickness"))
    return inside_across(bolt, outer, thickness), washer.flat_cut


def _halfway(at: Point, other: Point, skin: float) -> Segment:
    """Return the line between two bolts, short of the middle by the spread of the skin."""
    apart = math.dist(at, other)
    du, dw = (other[0] - at[0]) / apart, (other[1] - at[1]) / apart
    by = max(0.0, apart / 2 - skin)
    u, w = at[0] + by * du, at[1] + by * dw
    return (u + dw * apart, w - du * apart), (u - dw * apart, w + du * apart)


class _Stop(NamedTuple):
    """An end of a backing plate's spread, seen from the hole.

    It is a line square to (nu, nw), ``off`` away, from ``first`` to ``last``.
    """

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
    """Return the ring around a hole in which a backing plate presses the face: each ray from its centre up to its stop.

    Args:
        radius, flat: of the part on the backing plate, see `pressed_area`. thick: the backing plate's spread. stops: its ends.
    """
    chord = 0.0 if flat is None or flat >= radius else math.sqrt(radius**2 - flat**2)
    ring: list[Point] = []
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
        ring.append((u, w))
    return ring


def _angles(reach: float, stops: Sequence[_Stop]) -> list[float]:
    """Return the rays' angles: evenly all around, at the ends of each stop, and where a circle meets it."""
    angles = [(number + 0.5) * math.tau / _RAYS for number in range(_RAYS)]
    for stop in stops:
        middle = math.atan2(stop.nw, stop.nu)
        open_ = math.acos(stop.off / reach) if stop.off < reach else 0.0
        turns = (math.atan2(stop.first, stop.off), math.atan2(stop.last, stop.off), -open_, open_)
        angles += [(middle + turn) % math.tau for turn in turns]
    return sorted(angles)
