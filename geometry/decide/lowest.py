"""Can this motor sit low enough on this boat? Answered before anything is drawn.

The lower bolts can lie no deeper than where their washers, nuts, sockets and ends still clear; the bracket's highest
slot then hangs the motor no lower than that. The upper holes do not matter for it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.judge.inside import PARTS, part_room, plate_room
from geometry.judge.report import Reporter
from geometry.solid.frames import Unmeasured, need, need_all
from geometry.solid.rows import local_height, mount_key, standard_drop

if TYPE_CHECKING:
    from geometry.design.whole import Design
    from geometry.solid.bolts import Bolt

_STEP = 5.0  # [mm] at most, so that no stock length of a bolt is stepped over
_EXACT = 1e-7  # [mm]


class Lowest(msgspec.Struct, frozen=True):
    """Lowest possible plate height above the hull's bottom, plumb [mm]; None where it can't be told or none passes."""

    advised: float | None
    least: float | None


def lowest_plate(design: Design, index: int) -> Lowest:
    """Return how low the motor's plate could be, with the advised clearance and with the least."""
    least, advised = design.limits.clearance
    return Lowest(_lowest(design, index, advised), _lowest(design, index, least))


def _lowest(design: Design, index: int, wanted: float) -> float | None:
    mount = design.mounts[index]
    if mount.bracket.rows is None or mount.bracket.lower is None:
        return None
    try:
        depth = greatest_depth(design, index, wanted)
        if depth is None:
            return None
        rake = math.radians(need(design.transom.rake, "transom.rake"))
        lift = max(0.0, mount.bracket.rows.row0_depth + standard_drop(mount.bracket.lower) - depth) * math.cos(rake)
        return local_height(design, index) + lift - need(mount.leg, mount_key(index, "leg"))
    except Unmeasured:
        return None


def greatest_depth(design: Design, index: int, wanted: float) -> float | None:
    """Return the greatest depth below the datum at which both lower bolts' parts clear by ``wanted`` [mm].

    Down to the outline's lowest point; None where no depth passes. Exact to 1e-6 mm: from below, each step is no
    longer than what is lacking, since a clearance changes no faster than the place.

    Raises:
        Unmeasured: a body, or the inside, is not known.
    """
    mount = design.mounts[index]
    # Only the depth of the lower pair matters here; upper holes just below the datum leave it free to go anywhere.
    upper = -1e-3
    probe = replace(mount, upper_at=upper, drop=1.0, row=0)
    bottom = -min(v for _, v in need_all(design.transom.outline, "transom.outline"))
    depth = bottom
    while depth > 0:
        mounts = (*design.mounts[:index], replace(probe, drop=depth + upper), *design.mounts[index + 1 :])
        report = Reporter(replace(design, mounts=mounts))
        pair = [bolt for bolt in report.bolts if bolt.mount_index == index and not bolt.upper]
        lack = wanted - min(_room(report, bolt) for bolt in pair)
        if lack <= _EXACT:
            return depth
        depth -= min(_STEP, max(lack * _slowest(pair[0]), _EXACT))
    return None


def _room(report: Reporter, bolt: Bolt) -> float:
    found = [part_room(report, bolt, part) for part in PARTS]
    if bolt.plate is not None and all(name.startswith("lower") for name in bolt.plate.joins):
        found.append(plate_room(report, bolt))
    return min((room for room in found if room is not None), default=math.inf)


def _slowest(bolt: Bolt) -> float:
    """Return a factor on the depth that keeps the exit from moving further than what is lacking."""
    rise = math.tan(math.radians(bolt.tilt))
    return min(1.0, (1 + bolt.faces.tan_taper * rise) * bolt.faces.cos_taper)
