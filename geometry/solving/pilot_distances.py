"""Where a washer rocks, and how far a pilot is from it, from the floor, a side, an old hole or a part inside [mm]."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.solid.faces import Unmeasured, exit_of, faces, need
from geometry.solid.planes import sides, to_segment
from geometry.solid.well import space

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.design.design import Design, Pilot
    from geometry.solid.planes import Point
    from geometry.solid.well import Space

_FLOOR = 2  # the floor among the edges of a well of four corners
_UPRIGHT = 1e-9  # an edge whose normal has so little of w carries no washer


def washer_mark(inside: Space, floor: float, across: float) -> float:
    """Return the w of a washer's middle where it rocks on the rounded corner above the floor.

    Args:
        floor: w of the floor, without its rounded corner, below the washer. across: the washer.
    """
    edge = inside.edges[_FLOOR]
    return floor + (edge.land + across / 2) / edge.normal_w


def washer_mark_at(inside: Space, u: float, across: float) -> float:
    """Return the w of a washer's middle where it rocks, slid down at ``u``.

    In a convex well every edge counts; elsewhere those below the washer's middle.

    Raises:
        Unmeasured: there is no floor there.
    """
    held = [
        (edge.foot + edge.land + across / 2 - edge.normal_u * u) / edge.normal_w
        for edge in inside.edges[1:-1]
        if edge.normal_w > _UPRIGHT and (inside.convex or edge.a[0] <= u <= edge.b[0])
    ]
    if not held:
        raise Unmeasured("well.profile")
    return max(held)


def pilot_distance(index: int, design: Design) -> float:
    """Return the distance from a pilot's middle on the inner face to what its reading goes to.

    Raises:
        Unmeasured: a reading behind it is missing, or there is nothing to measure to.
    """
    pilot = design.pilots[index]
    face = faces(design.transom)
    exit_ = exit_of(face, *pilot.at, pilot.tilt)
    at = exit_.u, exit_.w
    match pilot.to:
        case "washer mark":
            return at[1] - washer_mark_at(space(design), at[0], need(pilot.washer, _washer_key(pilot)))
        case "floor":
            return at[1] - need(space(design).floor_at(at[0]), "well.profile")
        case "wall":
            return _to_wall(space(design), at, port=pilot.side == "port")
        case "old hole":
            return _least((math.dist(at, hole) for hole in _old_exits(design)), "old_holes.0.across")
        case "block":
            edges = (side for block in space(design).blocks for side in sides(block.ring))
            return _least((to_segment(at, edge) for edge in edges), "inside_blocks.0.outline")


def _least(apart: Iterable[float], key: str) -> float:
    least = min(apart, default=None)
    return need(least, key)


def _washer_key(pilot: Pilot) -> str:
    return f"mounts.{pilot.mount}.{pilot.pair}_hardware.washer.outer"


def _to_wall(inside: Space, at: Point, *, port: bool) -> float:
    """Return the level distance from a place to the well's side, as it is without its rounded corner."""
    crossed = []
    for edge in inside.edges:
        (ua, wa), (ub, wb) = edge.a, edge.b
        end = edge in (inside.edges[0], inside.edges[-1])
        if abs(wb - wa) > _UPRIGHT and (min(wa, wb) <= at[1] <= max(wa, wb) or (end and at[1] >= min(wa, wb))):
            crossed.append(ua + (ub - ua) * (at[1] - wa) / (wb - wa))
    away = [at[0] - u if port else u - at[0] for u in crossed]
    ahead = [apart for apart in away if apart >= 0]
    if not ahead:
        raise Unmeasured("well.profile")
    return min(ahead)


def _old_exits(design: Design) -> list[Point]:
    """Return the middles of the old holes on the inner face, of those that are known."""
    face = faces(design.transom)
    exits = (exit_of(face, u, v, 0.0) for hole in design.old_holes for u, v in [hole.at] if u is not None and v is not None)
    return [(exit_.u, exit_.w) for exit_ in exits]
