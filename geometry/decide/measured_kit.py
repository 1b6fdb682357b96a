"""A kit made to measure for where it hangs: a washer cut no deeper, a plate no larger, than the place asks for [mm]."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.decide.kit import CUT, MOST_RELIEF, PLATE, Kit, plate_reach, relieved_plate, with_cut, with_plate
from geometry.judge.inside import part_room
from geometry.judge.report import Reporter
from geometry.solid.bolts import bolts
from geometry.solid.well import space

if TYPE_CHECKING:
    from geometry.design.whole import Design


def made_to_measure(hung: Design, index: int, kit: Kit) -> Kit:
    """Return the kit of a motor's lower pair made to measure, where ``hung`` is the boat with the kit as it is.

    Raises:
        Unmeasured: the inside, or a size, is not known.
    """
    if kit.level == CUT:
        return _cut(hung, index, kit)
    return plate_to_measure(hung, index, kit) if kit.level == PLATE else kit


def plate_to_measure(hung: Design, index: int, kit: Kit) -> Kit:
    """Relieve the plate so far that it clears the fillet, and notch it where something stands between the bolts.

    Raises:
        Unmeasured: see `made_to_measure`.
    """
    inside, room, lower = space(hung), hung.limits.clearance[1], hung.mounts[index].bracket.lower
    pair = [bolt for bolt in bolts(hung) if bolt.mount_index == index and not bolt.upper]
    plate, outer = kit.hardware.backing_plate, kit.hardware.washer.outer
    if plate is None or outer is None or lower is None:
        return kit
    edge = pair[0].exit.w - plate_reach(outer, room)
    lands = [land for bolt in pair if (land := inside.land_at(bolt.exit.u)) is not None]
    lack = max((land + room - edge for land in lands), default=0.0)
    between = [block for block in inside.blocks if all(pair[0].exit.u < u < pair[1].exit.u for u, _ in block.ring)]
    over = max((w + room - edge for block in between for _, w in block.ring), default=0.0)
    along, notch = (math.ceil(max(0.0, by) * 2) / 2 for by in (lack, over))
    shape = relieved_plate(outer, lower.half_spacing, min(along, MOST_RELIEF), plate.joins, notch, room)
    return with_plate(kit, shape, "lower", hung.units)


def _cut(hung: Design, index: int, kit: Kit) -> Kit:
    """Cut the washers no nearer to their centres than the advised clearance asks for."""
    washer, report = kit.hardware.washer, Reporter(hung)
    pair = [bolt for bolt in report.bolts if bolt.mount_index == index and not bolt.upper]
    found = [room for bolt in pair if (room := part_room(report, bolt, "washer")) is not None]
    spare = min(found, default=0.0) - hung.limits.clearance[1]
    cut = washer.flat_cut or 0.0
    if spare > 0 and washer.outer is not None:
        cut = max(cut, min(math.floor((cut + spare) * 2) / 2, washer.outer / 2 - 0.5))
    return with_cut(kit, cut, "lower", hung.units)
