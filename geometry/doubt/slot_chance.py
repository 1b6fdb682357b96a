"""The chance that the lower bolts go into the bracket's slot, by how exactly the bracket was read. Lengths [mm].

Errors of the new holes are not in it: whoever drills through the bracket has none, see `bracket_chance.py`.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.design.patterns import kind_of
from geometry.readings.measures import guess_of, measure
from geometry.readings.reading_spreads import spread_of
from geometry.solid.bracket_holes import mount_key, play, round_hole
from geometry.tables import fasteners

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.motor import Mount

CASTING = 0.2
"""[mm] by which the holes of a standard bracket are off from its pattern, one standard deviation: our assumption."""


class SlotChance(msgspec.Struct, frozen=True):
    """The chance that the lower bolts go into their slot.

    Attributes:
        chance: 0 to 1. spread: of the distance from the slot's end, one standard deviation [mm].
        shares: the variance that each reading gives, by its key; {} for a standard bracket.
    """

    chance: float
    spread: float
    shares: dict[str, float]


def slot_chance(design: Design, index: int) -> SlotChance | None:
    """Return the chance that the lower bolts of a motor go into their slot.

    None for a round hole, and where the place on the bracket is not known. A guess counts as exact here: whether one turns
    the finding is tried elsewhere. A bolt goes in past a slot's end by the play of its two holes.
    """
    mount = design.mounts[index]
    rows, lower = mount.bracket.rows, mount.bracket.lower
    if rows is None or lower is None or mount.row is None or mount.drop is None:
        return None
    depth = mount.row * rows.pitch + mount.drop
    if round_hole(lower, depth):
        return None
    number, (high, low) = max(enumerate(lower.slots), key=lambda slot: min(depth - slot[1][0], slot[1][1] - depth))
    end = 0 if depth - high <= low - depth else 1
    pitch = mount_key(index, "bracket.rows.pitch")
    if kind_of(mount.bracket) != "own":
        casting = CASTING * math.hypot(1, mount.row / max(1, rows.count - 1))
        shares, spreads = {}, (casting, casting)
    else:
        from_pitch = (mount.row * _spread(design, pitch)) ** 2
        from_ends = [_spread(design, mount_key(index, f"bracket.lower.slots.{number}.{at}")) ** 2 for at in (0, 1)]
        shares = {pitch: from_pitch, mount_key(index, f"bracket.lower.slots.{number}.{end}"): from_ends[end]}
        spreads = math.sqrt(from_pitch + from_ends[0]), math.sqrt(from_pitch + from_ends[1])
    more = play(mount, index) + _play_in_boat(mount)
    misses = [1 - _normal(room + more, spread) for room, spread in zip((depth - high, low - depth), spreads, strict=True)]
    chance = max(0.0, 1 - sum(misses))  # a bolt misses above the slot or below it
    return SlotChance(chance, spreads[end], {key: share for key, share in shares.items() if share > 0.0})


def _spread(design: Design, key: str) -> float:
    row = measure(design, key)
    return 0.0 if row is None or guess_of(design, row) else spread_of(design, row)


def _play_in_boat(mount: Mount) -> float:
    hardware = mount.lower_hardware
    if hardware is None or hardware.hole is None:
        return 0.0
    return max(0.0, (hardware.hole - fasteners.bolt(hardware.bolt).diameter) / 2)


def _normal(spare: float, spread: float) -> float:
    """Return the chance that an error of a normal distribution stays under ``spare``; allows 1e-6."""
    if spread <= 1e-9:
        return 1.0 if spare >= -1e-6 else 0.0
    return 0.5 * (1 + math.erf(spare / spread / math.sqrt(2)))
