"""The bracket's upper holes: how high each puts the motor, and which holes a drop allows.

In the code, `row` 0 is the 1st hole from the top. All lengths [mm]; a height is plumb.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE, LEAST
from geometry.solid.faces import need, need_all
from geometry.solid.outline import top_under, tops_near
from geometry.tables import fasteners

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.motor import Lower, Mount, Rows
    from geometry.solid.planes import Point


def mount_key(index: int, field: str) -> str:
    """Return the measure's key of a value of a mount."""
    return f"mounts.{index}.{field}"


def hook_above_datum(mount: Mount, index: int, row: int | None = None) -> float:
    """Return the height of the bracket hook above the datum, along the face [mm]; 0 for a clamp-on bracket.

    Raises:
        Unmeasured: row or upper depth is not known.
    """
    rows = mount.bracket.rows
    if rows is None:
        return 0.0
    hole = mount.row if row is None else row
    k = need(None if hole is None else float(hole), mount_key(index, "row"))
    return need(mount.upper_at, mount_key(index, "upper_at")) + rows.row0_depth + k * rows.pitch


def bracket_ring(mount: Mount, index: int, row: int | None = None) -> tuple[Point, ...]:
    """Return the bracket's outline on the boat, in (u, v) [mm].

    Raises:
        Unmeasured: its place, or a corner, is not known.
    """
    up = hook_above_datum(mount, index, row)
    offset = need(mount.offset, mount_key(index, "offset"))
    corners = need_all(mount.bracket.outline, mount_key(index, "bracket.outline"))
    return tuple((x + offset, y + up) for x, y in corners)


def hook_gap(design: Design, index: int, row: int | None = None) -> float:
    """Return the gap between the bracket hook and the highest part of the transom's top under it [mm].

    Raises:
        Unmeasured: its place, or the outline, is not known.
    """
    mount = design.mounts[index]
    ring = bracket_ring(mount, index, row)
    top = top_under(design.transom, min(u for u, _ in ring), max(u for u, _ in ring))
    return hook_above_datum(mount, index, row) - max(top, -1e6)


def local_height(design: Design, index: int) -> float:
    """Return the transom's height above the hull's bottom at the mount's place across, plumb [mm]."""
    offset = need(design.mounts[index].offset, mount_key(index, "offset"))
    deadrise = math.radians(need(design.transom.deadrise, "transom.deadrise")) if offset else 0.0
    return need(design.transom.height, "transom.height") - abs(offset) * math.tan(deadrise)


def plate_height(design: Design, index: int, row: int | None = None) -> float:
    """Return the AV plate's height above the hull's bottom, plumb, negative below it [mm]."""
    mount = design.mounts[index]
    rake = math.radians(need(design.transom.rake, "transom.rake"))
    lift = hook_above_datum(mount, index, row) * math.cos(rake)
    return local_height(design, index) + lift - need(mount.leg, mount_key(index, "leg"))


def slot_place(lower: Lower, depth: float) -> float:
    """Return how far a bolt ``depth`` below `row` 0 is from the end of the best slot [mm]; negative: it misses."""
    return max(min(depth - high, low - depth) for high, low in lower.slots)


def round_hole(lower: Lower, depth: float) -> bool:
    """Return whether the best place for a bolt ``depth`` below `row` 0 is a round hole."""
    high, low = max(lower.slots, key=lambda slot: min(depth - slot[0], slot[1] - depth))
    return low - high <= CLOSE


def play(mount: Mount, index: int) -> float:
    """Return how far off a lower bolt may be in its hole [mm]; 0 where the hole is not measured."""
    lower, hardware = mount.bracket.lower, mount.lower_hardware
    if lower is None or hardware is None or lower.diameter is None:
        return 0.0
    return max(0.0, (lower.diameter - fasteners.bolt(hardware.bolt).diameter) / 2)


def row_usable(design: Design, index: int, row: int, drop: float) -> bool:
    """Return whether an upper hole is usable at a drop: hook not below the top, lower bolts within a slot.

    The play of a round hole counts, that of a slot does not.

    Raises:
        Unmeasured: upper depth, offset or an outline is not known.
    """
    mount = design.mounts[index]
    rows, lower = _bolted(mount)
    if hook_gap(design, index, row) < -CLOSE:
        return False
    return reaches(mount, index, lower, row * rows.pitch + drop)


def reaches(mount: Mount, index: int, lower: Lower, depth: float) -> bool:
    """Return whether a lower bolt ``depth`` below `row` 0 meets a slot, or a round hole within its play."""
    miss = slot_place(lower, depth)
    return miss >= -CLOSE or (round_hole(lower, depth) and miss >= -play(mount, index) - CLOSE)


def rows_left(design: Design, index: int, drop: float) -> tuple[int, ...]:
    """Return the usable upper holes at a drop, as rows from 0.

    Raises:
        Unmeasured: see `row_usable`.
    """
    rows, _ = _bolted(design.mounts[index])
    return tuple(row for row in range(rows.count) if row_usable(design, index, row, drop))


def _bolted(mount: Mount) -> tuple[Rows, Lower]:
    rows, lower = mount.bracket.rows, mount.bracket.lower
    if rows is None or lower is None:
        raise TypeError("a clamp-on bracket has no rows")
    return rows, lower


def highest_upper(design: Design, index: int, offset: float, depth: float) -> float:
    """Return the highest place of a motor's upper pair at which both holes are ``depth`` below the top edge [mm].

    On the face, at an ``offset`` from the centreline; inf where no top edge is above them.

    Raises:
        Unmeasured: a corner of the outline is not known.
    """
    mount = design.mounts[index]
    rows, _ = _bolted(mount)
    if mount.upper_hardware is None:
        raise TypeError("a bracket with bolts has hardware")
    diameter = fasteners.bolt(mount.upper_hardware.bolt).diameter
    spans = [
        span for side in (-1, 1) for span in tops_near(design.transom, offset + side * rows.half_spacing, diameter)
    ]  # fmt: skip
    place = max((high for _, high in spans), default=math.inf)
    for low, high in sorted(spans, key=lambda span: -span[1]):  # from the top down, past every edge that is too near
        if low - depth < place <= high:
            place = low - depth
    return place


def standard_drop(lower: Lower) -> float:
    """Return the smallest depth of a slot below `row` 0 [mm]: the drop that keeps every upper hole usable."""
    return min(high for high, _ in lower.slots)


def ladder_drops(mount: Mount, index: int) -> tuple[float, ...]:
    """Return the ladder's drops, deepest first: the standard one, each pitch less with a usable hole, and the present one."""
    rows, lower = _bolted(mount)
    standard, drops = standard_drop(lower), list[float]()
    for steps in range(rows.count):
        drop = round(standard - steps * rows.pitch, 9)
        if drop < LEAST or not any(reaches(mount, index, lower, k * rows.pitch + drop) for k in range(rows.count)):
            break
        drops.append(drop)
    if mount.drop is not None:
        # The present drop replaces a rung that is almost equal.
        drops = [drop for drop in drops if abs(mount.drop - drop) > CLOSE] + [mount.drop]
    return tuple(sorted(drops, reverse=True))
