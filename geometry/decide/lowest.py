"""The lowest possible AV plate: can this motor sit low enough on this boat? It is answered before anything is drawn.

The lower bolts can be no deeper than their washers, nuts, sockets and ends have room, and their ring spanners turn where no
socket is chosen. The upper bolts are in no spanner's way here. The bracket's highest slot then sets the motor's height. Any
of the bracket's holes may have the upper bolts, as long as one keeps them far enough below the transom's top edge.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.validity import CLOSE
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.inside_room import part_room, plate_room
from geometry.judge.reporter import Reporter
from geometry.judge.room_to_work import is_turned_by_spanner, swing_limits
from geometry.solid.bracket_holes import highest_upper, local_height, mount_key, standard_drop
from geometry.solid.faces import Unmeasured, need, need_all
from geometry.solid.spanner_swing import handle_of, swing
from geometry.solving.solved import solved

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.solid.placed_bolts import Bolt

_STEP = 5.0  # [mm] at most for a thread's end in a transom that tapers, so that no stock length is missed
_LASTING = tuple(part for part in IN_WELL if part != "thread_end")
_EXACT = 1e-7  # [mm]
_TURNED = 1e-5  # [mm] the shortest step where a ring spanner lacks room to turn


class Lowest(msgspec.Struct, frozen=True):
    """Lowest possible AV plate height above the hull's bottom, plumb [mm]; None where not known, or no depth passes."""

    advised: float | None
    least: float | None


Fitted = Callable[["Design"], "Design"]
"""Makes the lower hardware of a design to measure, such as a backing plate for the exits of its bolts."""


def lowest_plate(design: Design, index: int) -> Lowest:
    """Return the lowest heights of the motor's AV plate, with the advised clearance and with the least."""
    least, advised = design.limits.clearance
    return Lowest(_if_known(design, index, advised), _if_known(design, index, least))


def _if_known(design: Design, index: int, wanted: float) -> float | None:
    try:
        return lowest_height(design, index, wanted)
    except Unmeasured:
        return None


def lowest_height(design: Design, index: int, wanted: float, fitted: Fitted | None = None) -> float | None:
    """Return the lowest possible AV plate height with a clearance [mm].

    None where no depth passes, where no hole of the bracket then keeps the least below the top edge, or without bolts.

    Raises:
        Unmeasured: a body, the inside or a height is not known.
    """
    design = solved(design)
    mount = design.mounts[index]
    if mount.bracket.rows is None or mount.bracket.lower is None:
        return None
    depth = greatest_depth(design, index, wanted, fitted)
    if depth is None:
        return None
    rake = math.radians(need(design.transom.rake, "transom.rake"))
    bare = local_height(design, index) - need(mount.leg, mount_key(index, "leg"))
    rows, standard = mount.bracket.rows, standard_drop(mount.bracket.lower)
    lift = max(0.0, rows.row0_depth + standard - depth)
    # The last of the bracket's holes above the lower bolts: the deepest place for the upper holes, the motor as high.
    last = min(rows.count, math.ceil(standard / rows.pitch - CLOSE)) - 1
    place = lift - rows.row0_depth - last * rows.pitch
    offset = need(mount.offset, mount_key(index, "offset"))
    if place > highest_upper(design, index, offset, design.limits.top_edge[0]) + CLOSE:
        return None
    return bare + lift * math.cos(rake)


def greatest_depth(design: Design, index: int, wanted: float, fitted: Fitted | None = None) -> float | None:
    """Return the greatest depth below the datum at which the parts of both lower bolts have the clearance ``wanted`` [mm].

    Down to the outline's lowest point; None where no depth passes. Exact to 1e-6 mm. It starts from below. No step is
    longer than the missing clearance, since a clearance changes no faster than the place. Where a ring spanner has to turn,
    it has its least swing at this depth, or its advised one for the advised clearance: to 1e-5 mm, never too deep.

    Raises:
        Unmeasured: a body, or the inside, is not known.
    """
    design = solved(design)
    mount = design.mounts[index]
    # Only the depth of the lower pair matters here. Upper holes just below the datum leave it free to go anywhere.
    upper = -1e-3
    probe = replace(mount, upper_at=upper, drop=1.0, row=0)
    bottom = -min(v for _, v in need_all(design.transom.outline, "transom.outline"))
    depth = bottom
    while depth > 0:
        mounts = (*design.mounts[:index], replace(probe, drop=depth + upper), *design.mounts[index + 1 :])
        hung = replace(design, mounts=mounts)
        report = Reporter(fitted(hung) if fitted else hung)
        pair = [bolt for bolt in report.bolts if bolt.mount_index == index and not bolt.upper]
        lack = wanted - _room(report, pair, wanted)
        # Where a taper thickens the grip, another stock length is chosen, and the thread's end jumps: no step over that.
        end = wanted - min(_rooms(report, pair, ("thread_end",)), default=math.inf)
        step = min(end, math.inf if pair[0].faces.tan_taper == 0.0 else _STEP)
        if max(lack, end) <= _EXACT:
            lack = max(_lacking_swing(report, bolt, wanted) for bolt in pair)
            if lack == 0.0:
                return depth
        depth -= max(max(lack, step) * _slowest(pair[0]), _EXACT)
    return None


def _rooms(report: Reporter, pair: list[Bolt], parts: tuple[str, ...]) -> list[float]:
    return [room for bolt in pair for part in parts if (room := part_room(report, bolt, part)) is not None]


def _room(report: Reporter, pair: list[Bolt], wanted: float) -> float:
    """Return the least room of all parts but the thread ends, and of the backing plate once the others have enough."""
    room = min(_rooms(report, pair, _LASTING), default=math.inf)
    if room < wanted - _EXACT:
        return room
    plated = {bolt.plate: bolt for bolt in pair if bolt.plate and all(name.startswith("lower") for name in bolt.plate.joins)}
    under = (plate_room(report, bolt) for bolt in plated.values())
    return min([room, *(clearance for clearance in under if clearance is not None)])


def _lacking_swing(report: Reporter, bolt: Bolt, wanted: float) -> float:
    """Return a distance within which the ring spanner of a lower bolt nowhere turns far enough; 0 where it does [mm]."""
    if not is_turned_by_spanner(bolt):
        return 0.0
    handle = handle_of(bolt)
    if handle is None:
        raise TypeError(f"the {bolt.name} bolt has no ring spanner")
    others = [other for other in report.bolts if other.mount_index != bolt.mount_index or not other.upper]
    least, advised = report.design.limits.clearance
    needed = swing_limits(bolt)[wanted >= advised - CLOSE and advised > least] - CLOSE
    if swing(report.space, bolt, others, handle).degrees >= needed:
        return 0.0
    step = _TURNED
    while 2 * step < handle.half and swing(report.space, bolt, others, handle, 2 * step).degrees < needed:
        step *= 2
    return step


def _slowest(bolt: Bolt) -> float:
    """Return a factor on the depth that keeps the exit from moving further than the missing clearance."""
    rise = math.tan(math.radians(bolt.tilt))
    return min(1.0, (1 + bolt.faces.tan_taper * rise) * bolt.faces.cos_taper)
