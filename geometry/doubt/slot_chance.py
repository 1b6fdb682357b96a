"""The chance that a bracket goes on the bolts of its plan, by how exactly it was read. Lengths [mm].

A lower bolt has to be within its slot or its round hole. Both pairs have to be as far apart as the bracket's holes.
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
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.design.hardware import Hardware
    from geometry.design.motor import Lower

CASTING = 0.2
"""[mm] by which the holes of a standard bracket are off from its pattern, one standard deviation: our assumption."""
_PARTS = 40  # of a round hole's width, for its chance: it is then known to 1e-3
_FAR = 6.0  # spreads


class SlotChance(msgspec.Struct, frozen=True):
    """The chance that a bracket goes on the bolts of its plan.

    Attributes:
        chance: 0 to 1. spread: of the distance that is least likely to be within its limits, one standard deviation [mm].
        shares: the variance that each reading gives to that distance, by its key; {} for a standard bracket.
    """

    chance: float
    spread: float
    shares: dict[str, float]


def slot_chance(design: Design, index: int) -> SlotChance | None:
    """Return the chance that the bracket of a motor goes on the bolts of its plan.

    None where the place on the bracket is not known. A guess counts as exact here: whether one turns the finding is tried
    elsewhere. A bolt goes in past a slot's end by the play of its two holes, in a round hole to all sides.
    """
    mount = design.mounts[index]
    rows, lower = mount.bracket.rows, mount.bracket.lower
    if rows is None or lower is None or mount.row is None or mount.drop is None:
        return None
    depth = mount.row * rows.pitch + mount.drop
    upper_play = _play(rows.diameter, mount.upper_hardware) + _play_in_boat(mount.upper_hardware)
    lower_play = play(mount, index) + _play_in_boat(mount.lower_hardware)
    upper = _apart(design, index, "bracket.rows.half_spacing", upper_play)
    lower_pair = _apart(design, index, "bracket.lower.half_spacing", lower_play)
    if round_hole(lower, depth):
        number, (at, _) = _best(lower, depth)
        from_pitch, (from_hole, _) = _along(design, index, number)
        off, spread = depth - at, _root({**from_pitch, **from_hole})
        along = SlotChance(_between(upper_play + lower_play, off, spread), spread, _read({**from_pitch, **from_hole}))
        chance = _in_round_holes((upper_play, upper.spread), (lower_play, lower_pair.spread), off, spread)
    else:
        along = _in_slot(design, index, lower, depth, lower_play)
        chance = along.chance * upper.chance * lower_pair.chance
    worst = min((along, upper, lower_pair), key=lambda way: way.chance)
    return SlotChance(chance, worst.spread, worst.shares)


def slot_shares(design: Design, index: int) -> dict[str, float]:
    """Return the variance that each reading gives to the lower bolts' place along their slot, or in their round hole.

    It is {} for a standard bracket, and where the place is not known.
    """
    mount = design.mounts[index]
    rows, lower = mount.bracket.rows, mount.bracket.lower
    if rows is None or lower is None or mount.row is None or mount.drop is None:
        return {}
    depth = mount.row * rows.pitch + mount.drop
    number, (high, low) = _best(lower, depth)
    from_pitch, from_ends = _along(design, index, number)
    return _read({**from_pitch, **from_ends[_nearer_end(depth, high, low)]})


def _in_slot(design: Design, index: int, lower: Lower, depth: float, more: float) -> SlotChance:
    """Return the chance that a bolt is within the best slot, between its two ends, and ``more`` past each."""
    number, (high, low) = _best(lower, depth)
    end = _nearer_end(depth, high, low)
    from_pitch, from_ends = _along(design, index, number)
    spreads = [_root({**from_pitch, **each}) for each in from_ends]
    misses = [1 - _normal(room + more, spread) for room, spread in zip((depth - high, low - depth), spreads, strict=True)]
    return SlotChance(max(0.0, 1 - sum(misses)), spreads[end], _read({**from_pitch, **from_ends[end]}))


def _nearer_end(depth: float, high: float, low: float) -> int:
    """Return 0 where a bolt is nearer to its slot's upper end, else 1; both ends of a round hole are the same."""
    return 0 if depth - high <= low - depth else 1


def _in_round_holes(upper: tuple[float, float], lower: tuple[float, float], off: float, spread: float) -> float:
    """Return the chance that all four bolts go into round holes.

    An error across leaves a pair less of its play up and down. Both pairs share an error along the face.

    Args:
        upper, lower: of each pair its play, and the spread of its half spacing.
        off: of the lower bolts along the face, as read. spread: of that.
    """
    return sum(
        share_of_upper * share_of_lower * _between(left + left_below, off, spread)
        for share_of_upper, left in _left(*upper) for share_of_lower, left_below in _left(*lower)
    )  # fmt: skip


def _left(more: float, spread: float) -> Iterator[tuple[float, float]]:
    """Yield the play up and down that each error across leaves, with the chance of that error. A larger one leaves none."""
    reach = min(more, _FAR * spread)
    if reach <= 0.0:
        yield (1.0, more) if spread <= 0.0 else (0.0, 0.0)
        return
    for part in range(_PARTS):
        ends = [reach * (2 * (part + end) / _PARTS - 1) for end in (0.0, 0.5, 1.0)]
        yield _normal(ends[2], spread) - _normal(ends[0], spread), math.sqrt(max(0.0, more * more - ends[1] * ends[1]))


def _between(room: float, off: float, spread: float) -> float:
    """Return the chance that a distance, ``off`` as read, is within ``room`` to either side."""
    return max(0.0, _normal(room - off, spread) + _normal(room + off, spread) - 1)


def _apart(design: Design, index: int, field: str, more: float) -> SlotChance:
    """Return the chance that both bolts of a pair go in across, where their half spacing was read; else 1.

    An owner who reads just the numbers of a usual pattern has that pattern: it fits by its plays.
    """
    key = mount_key(index, field)
    spread = _across(design, key) if kind_of(design.mounts[index].bracket) == "own" else 0.0
    return SlotChance(_between(more, 0.0, spread) if spread else 1.0, spread, _read({key: spread**2}))


def _across(design: Design, key: str) -> float:
    """Return the spread of a half spacing that the owner read; 0 where it was not read."""
    reading = design.readings.get(key)
    return _spread(design, key) if reading is not None and reading.state == "measured" else 0.0


def _best(lower: Lower, depth: float) -> tuple[int, tuple[float, float]]:
    return max(enumerate(lower.slots), key=lambda slot: min(depth - slot[1][0], slot[1][1] - depth))


Shares = dict[str, float]


def _along(design: Design, index: int, number: int) -> tuple[Shares, tuple[Shares, Shares]]:
    """Return the variance along a slot: by the pitch, and by the reading of its upper and of its lower end.

    The key "" is for the casting of a standard bracket.
    """
    mount, rows = design.mounts[index], design.mounts[index].bracket.rows
    row, gaps = mount.row or 0, 1 if rows is None else max(1, rows.count - 1)
    if kind_of(mount.bracket) != "own":
        casting = {"": (CASTING * math.hypot(1, row / gaps)) ** 2}
        return {}, (casting, casting)
    pitch = mount_key(index, "bracket.rows.pitch")
    keys = (mount_key(index, f"bracket.lower.slots.{number}.{at}") for at in (0, 1))
    upper, lower = ({key: _spread(design, key) ** 2} for key in keys)
    return {pitch: (row * _spread(design, pitch)) ** 2}, (upper, lower)


def _root(shares: Shares) -> float:
    return math.sqrt(sum(shares.values()))


def _read(shares: Shares) -> Shares:
    return {key: share for key, share in shares.items() if key and share > 0.0}


def _spread(design: Design, key: str) -> float:
    row = measure(design, key)
    return 0.0 if row is None or guess_of(design, row) else spread_of(design, row)


def _play_in_boat(hardware: Hardware | None) -> float:
    return 0.0 if hardware is None else _play(hardware.hole, hardware)


def _play(hole: float | None, hardware: Hardware | None) -> float:
    """Return how far off a bolt may be in a hole [mm]; 0 where the hole is not known."""
    if hardware is None or hole is None:
        return 0.0
    return max(0.0, (hole - fasteners.bolt(hardware.bolt).diameter) / 2)


def _normal(spare: float, spread: float) -> float:
    """Return the chance that an error of a normal distribution stays under ``spare``; allows 1e-6."""
    if spread <= 1e-9:
        return 1.0 if spare >= -1e-6 else 0.0
    return 0.5 * (1 + math.erf(spare / spread / math.sqrt(2)))
