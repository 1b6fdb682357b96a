"""A kit made to measure for its place: a washer cut no deeper, a backing plate no larger, than needed there [mm]."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.decide.kit import CUT, PLATE, Kit, with_cut, with_plate
from geometry.design.patterns import MOST_RELIEF, backing_plate, plate_reach
from geometry.edits.edits import with_mount
from geometry.judge.drillable import room_aimed_at
from geometry.judge.inside_room import part_room
from geometry.judge.reporter import Reporter
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.solid.well import space
from geometry.solving.solved import solved

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.edits.choices import Pair


def made_to_measure(hung: Design, index: int, kit: Kit) -> Kit:
    """Return the kit of a motor's lower pair made to measure, where ``hung`` is the boat with the kit as it is.

    Raises:
        Unmeasured: the inside, or a size, is not known.
    """
    if kit.level == CUT:
        return _cut(hung, index, kit)
    return plate_to_measure(hung, index, kit) if kit.level == PLATE else kit


def plate_to_measure(hung: Design, index: int, kit: Kit, pair: Pair = "lower") -> Kit:
    """Relieve the backing plate until it clears the rounded corner, and notch it around an obstacle between the bolts.

    Where no relief is needed, it keeps its present one.

    Raises:
        Unmeasured: see `made_to_measure`.
    """
    boat = solved(hung)
    inside, room, held = space(boat), hung.limits.clearance[1], hung.mounts[index].bracket
    port, starboard = (bolt for bolt in bolts(boat) if bolt.mount_index == index and bolt.pair == pair)
    plate, outer = kit.hardware.backing_plate, kit.hardware.washer.outer
    if plate is None or outer is None:
        return kit
    edge = port.exit.w - plate_reach(outer, room)
    lands = [land for bolt in (port, starboard) if (land := inside.land_at(bolt.exit.u)) is not None]
    lack = max((land + room - edge for land in lands), default=0.0)
    between = [block for block in inside.blocks if all(port.exit.u < u < starboard.exit.u for u, _ in block.ring)]
    over = max((w + room - edge for block in between for _, w in block.ring), default=0.0)
    along, notch = (math.ceil(max(0.0, by) * 2) / 2 for by in (lack, over))
    along = min(along, MOST_RELIEF) or plate.relief[0] or 0.0
    shape = backing_plate(held, pair, outer, along=along, notch=notch, room=room)
    return with_plate(kit, shape, pair, hung.units)


def with_plate_to_measure(design: Design, index: int, pair: Pair) -> Design:
    """Return a boat with one pair's relieved backing plate made to measure; unchanged where a reading is missing."""
    mount = design.mounts[index]
    hardware = mount.upper_hardware if pair == "upper" else mount.lower_hardware
    if hardware is None or hardware.backing_plate is None or not hardware.backing_plate.relief[0]:
        return design
    try:
        kit = plate_to_measure(design, index, Kit(hardware, PLATE, "a relieved backing plate"), pair)
    except Unmeasured:
        return design
    return with_mount(design, index, **{f"{pair}_hardware": kit.hardware})


def _cut(hung: Design, index: int, kit: Kit) -> Kit:
    """Cut the washers no nearer to their centres than the wanted room needs."""
    washer, report = kit.hardware.washer, Reporter(solved(hung))
    pair = [bolt for bolt in report.bolts if bolt.mount_index == index and not bolt.upper]
    rooms = [room for bolt in pair if (room := part_room(report, bolt, "washer")) is not None]
    spare = min(rooms, default=0.0) - room_aimed_at(hung)
    cut = washer.flat_cut or 0.0
    if spare > 0 and washer.outer is not None:
        cut = max(cut, min(math.floor((cut + spare) * 2) / 2, washer.outer / 2 - 0.5))
    return with_cut(kit, cut, "lower", hung.units)
