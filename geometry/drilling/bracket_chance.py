"""The chance that a bracket will go on, before a hole is drilled: by the way of drilling and by the size of the holes.

Each hole's place is off by its way's spread, across and up. Many sets of holes are drawn, always the same ones. On each the
bracket is put in its best place. How the holes lean is left out: it moves a bolt less than the place does. Lengths [mm].
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import msgspec
import numpy as np

from geometry.design.validity import CLOSE
from geometry.drilling.bracket_fit import Holes, best_place
from geometry.judge.drillable import SURE
from geometry.solid.bracket_holes import mount_key
from geometry.solid.faces import need
from geometry.tables import fasteners

if TYPE_CHECKING:
    from geometry.design.design import Design, Spreads
    from geometry.design.motor import Mount
    from geometry.drilling.bracket_fit import Numbers

SETS = 2000
"""Sets of holes that are drawn: a chance of 50 % is off by 1.1 % in one of three cases, one of 97.5 % by 0.35 %."""
_EXACT = 1e-3  # [mm] of an excess: a thousandth of a play
_GRAIN = 0.05  # [mm] how far a bolt slides is rounded down to this, so that a drag rarely needs new sets
_SAME = 0.1  # [mm] a listed size that is so near the planned one is left out
_FAR_ENOUGH = 25.0  # [mm] a longer slide changes nothing


class Way(msgspec.Struct, frozen=True):
    """A way of drilling.

    Attributes:
        name: in a list. upper, lower: the fields of the spreads that the pairs' holes are off by. jig: whether the lower
            holes are drilled through the bracket, which hangs on the upper bolts then.
    """

    name: str
    upper: str
    lower: str
    jig: bool = False


WAYS = (
    Way("freehand", "freehand", "freehand"),
    Way("paper and punch", "punched", "punched"),
    Way("guide block", "block", "block"),
    Way("lower holes through the bracket", "block", "jig", jig=True),
)
"""From the least exact to the most exact."""


class Chances(msgspec.Struct, frozen=True):
    """The chances of one motor.

    Attributes:
        sizes: the holes' diameters in the boat, smallest first [mm].
        shares: for each of `WAYS` the chance with each size, 0 to 1.
    """

    sizes: tuple[float, ...]
    shares: tuple[tuple[float, ...], ...]


class Advice(msgspec.Struct, frozen=True):
    """A way and a size to choose, with the chance that the bracket then goes on. The size is a diameter [mm]."""

    way: Way
    size: float
    chance: float


def chances(design: Design, index: int) -> Chances | None:
    """Return the chances that the bracket of a motor goes on; None for a motor without bolts.

    Raises:
        Unmeasured: a hole of the bracket, or the motor's place on it, is not known.
    """
    mount = design.mounts[index]
    if mount.bracket.rows is None or mount.upper_hardware is None or mount.lower_hardware is None:
        return None
    holes, planned = pattern(mount, index)
    sizes = _sizes(mount)
    shares = tuple(_shares(holes, planned, _spread(design.spreads, way), way.jig, sizes) for way in WAYS)
    return Chances(tuple(diameter for diameter, _ in sizes), shares)


def advice(table: Chances, planned: float | None) -> Advice | None:
    """Return what to choose; None where no way and no size is likely to fit.

    The planned size where some way makes it `SURE`, else the smallest other size; with the plainest such way. Freehand is
    never advised.
    """
    for size in sorted(table.sizes, key=lambda size: (planned is None or abs(size - planned) > CLOSE, size)):
        for way, shares in zip(WAYS[1:], table.shares[1:], strict=True):
            chance = shares[table.sizes.index(size)]
            if chance >= SURE:
                return Advice(way, size, chance)
    return None


def _spread(spreads: Spreads, way: Way) -> tuple[float, float]:
    upper: float = getattr(spreads, way.upper)
    lower: float = getattr(spreads, way.lower)
    return upper, lower


Pattern = tuple[tuple[tuple[float, float, float, float, float], ...], tuple[float, ...]]


def pattern(mount: Mount, index: int) -> Pattern:
    """Return the bracket's holes with a bolt as wide as the holes of the boat, and where the boat's lower holes are planned.

    A hole is (u, v, up, down, play), v from the upper holes up. A slot's ends are round, about a bolt's highest and lowest
    place.
    """
    rows, lower = mount.bracket.rows, mount.bracket.lower
    if rows is None or lower is None or mount.upper_hardware is None or mount.lower_hardware is None:
        raise TypeError("a bracket without bolts has no holes")
    row = need(None if mount.row is None else float(mount.row), mount_key(index, "row"))
    drop = need(mount.drop, mount_key(index, "drop"))
    depth = row * rows.pitch + drop
    high, low = max(lower.slots, key=lambda slot: min(depth - slot[0], slot[1] - depth))
    place = min(max(depth, high), low)
    made = []
    for half, v, up, down, diameter, bolt, field in (
        (rows.half_spacing, 0.0, 0.0, 0.0, rows.diameter, mount.upper_hardware.bolt, "bracket.rows.diameter"),
        (lower.half_spacing, depth - drop - place, place - high, low - place, lower.diameter, mount.lower_hardware.bolt,
         "bracket.lower.diameter"),
    ):  # fmt: skip
        play = (need(diameter, mount_key(index, field)) - fasteners.bolt(bolt).diameter) / 2
        made += [(side * half, v, _slide(up), _slide(down), play) for side in (-1, 1)]
    return tuple(made), (0.0, 0.0, -drop, -drop)


def _slide(most: float) -> float:
    return min(_FAR_ENOUGH, int((most + CLOSE) / _GRAIN) * _GRAIN)


def _sizes(mount: Mount) -> tuple[tuple[float, tuple[float, float]], ...]:
    """Return the sizes to choose from, each with the play that it gives an upper and a lower bolt.

    They are as wide as the bolt, close and normal for it, and the present ones. Pairs with different bolts differ by the
    same steps; the size that is named is then the lower pair's.
    """
    upper, lower = mount.upper_hardware, mount.lower_hardware
    if upper is None or lower is None:
        raise TypeError("a bracket without bolts has no holes")
    bolts = fasteners.bolt(upper.bolt).diameter, fasteners.bolt(lower.bolt).diameter
    listed = [fasteners.clearance_holes(each.bolt) for each in (upper, lower)]
    steps = [bolts, (listed[0].close, listed[1].close), (listed[0].normal, listed[1].normal)]
    now = upper.hole, lower.hole
    if now[0] is not None and now[1] is not None:
        steps = [step for step in steps if abs(step[1] - now[1]) > _SAME] + [(now[0], now[1])]
    sizes = {round(size[1], 6): (size[0] - bolts[0]) / 2 for size in steps}
    return tuple((size, (play, (size - bolts[1]) / 2)) for size, play in sorted(sizes.items()))


@lru_cache(maxsize=256)
def _shares(
    holes: tuple[tuple[float, ...], ...], planned: tuple[float, ...], spreads: tuple[float, float], jig: bool,
    sizes: tuple[tuple[float, tuple[float, float]], ...],
) -> tuple[float, ...]:  # fmt: skip
    """Return the share of the sets that the bracket goes on, for each size of the boat's holes."""
    table = np.array(holes)
    places, plan = table[:, :2], np.column_stack((table[:, 0], planned))
    errors = np.random.default_rng(0).standard_normal((SETS, len(holes), 2))
    errors *= np.array((spreads[0], spreads[0], spreads[1], spreads[1]))[:, None]
    boat = _through(places, plan, errors) if jig else plan + errors
    shares: list[float] = []
    kept: dict[float, Numbers] = {}
    for _, (upper, lower) in sizes:
        apart = round(lower - upper, 9)  # sets of holes that all widen by the same need no new places of the bracket
        if apart not in kept:
            plays = table[:, 4] + np.array((0.0, 0.0, apart, apart))
            kept[apart] = best_place(Holes(places, table[:, 2], table[:, 3], plays), boat, _EXACT).excess
        shares.append(float((kept[apart] <= upper + CLOSE).mean()))
    return tuple(shares)


def _through(places: Numbers, plan: Numbers, errors: Numbers) -> Numbers:
    """Return the holes of a boat whose lower ones are drilled through the bracket, while it hangs on its upper bolts."""
    upper = plan[:2] + errors[:, :2]
    middle, along = upper.mean(axis=1), upper[:, 1] - upper[:, 0]
    along /= np.hypot(along[:, 0], along[:, 1])[:, None]
    own = plan[2:] - places[:2].mean(axis=0)
    across = own[:, 0][None, :, None] * along[:, None, :]
    up = own[:, 1][None, :, None] * np.stack((-along[:, 1], along[:, 0]), axis=-1)[:, None, :]
    lower = middle[:, None] + across + up + errors[:, 2:]
    return np.concatenate((upper, lower), axis=1)
