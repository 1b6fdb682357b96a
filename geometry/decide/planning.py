"""Before a motor is bought: which shaft length suits the transom, and how far a heavier motor lets the stern sink.

Lengths [mm], masses [kg]. Both need the first readings alone.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec.structs import replace

from geometry.decide.lowest import lowest_height
from geometry.design.validity import CLOSE
from geometry.judge.bracket import usual_plate_heights
from geometry.judge.loads import centre_aft
from geometry.judge.weight import motors_mass
from geometry.solid.bracket_holes import local_height, mount_key
from geometry.solid.faces import Unmeasured, need
from geometry.tables import trade

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.motor import Mount

Answer = Literal["suits", "too short", "too long", "measure first"]
_SHORTEST = 1.0  # [mm] a shaft length for a height that is wanted without it


class Room(msgspec.Struct, frozen=True):
    """Where a motor can hang.

    Attributes:
        height: of the transom over the hull's bottom at the motor's place, plumb. rake: of the face [degrees].
        least, most: how far the bracket hook can be above the top edge, along the face.
        by_well: whether the well sets the least.
        usual: the AV plate's usual heights over the hull's bottom.
    """

    height: float
    rake: float
    least: float
    most: float
    by_well: bool
    usual: tuple[float, float]


class Shaft(msgspec.Struct, frozen=True):
    """A shaft length on a boat.

    Attributes:
        nominal: as it is sold; None for a motor whose own shaft was measured. longest, shortest: from hook to AV plate.
        av_plate: lowest and highest AV plate over the hull's bottom, plumb, as low as the motor can hang.
        lift: least and most distance from the top edge up to the hook, along the face, for a usual height.
    """

    nominal: float | None
    shortest: float
    longest: float
    av_plate: tuple[float, float]
    lift: tuple[float, float]
    answer: Answer


def room_of(design: Design, index: int | None) -> Room:
    """Return where a motor can hang: the ``index``-th, or where there is none yet one with the standard pattern.

    Raises:
        Unmeasured: the transom's height or rake, or the motor's place across, is not known.
    """
    rake = need(design.transom.rake, "transom.rake")
    if index is None:
        height = need(design.transom.height, "transom.height")
        return Room(height, rake, 0.0, _highest(design, None), by_well=False, usual=usual_plate_heights(None))
    mount, height = design.mounts[index], local_height(design, index)
    least = _least(design, index, height, rake)
    most = max(least, _highest(design, mount))
    return Room(height, rake, least, most, by_well=least > CLOSE, usual=usual_plate_heights(mount.set_back))


def _highest(design: Design, mount: Mount | None) -> float:
    """Return how far above the top edge the hook can be, with the upper bolts in the last hole and near the top edge."""
    rows = trade.STANDARD_PATTERN if mount is None else mount.bracket.rows
    if rows is None:
        return 0.0  # a bracket that clamps on hangs on the top edge
    return max(0.0, rows.row0_depth + (rows.count - 1) * rows.pitch - design.limits.top_edge[0])


def _least(design: Design, index: int, height: float, rake: float) -> float:
    """Return how far above the top edge the hook has to be for the lower bolts to clear the well; 0 where not known."""
    mounts = tuple(
        replace(mount, leg=_SHORTEST) if number == index else mount for number, mount in enumerate(design.mounts)
    )  # fmt: skip
    try:
        lowest = lowest_height(replace(design, mounts=mounts), index, design.limits.clearance[1])
    except Unmeasured:
        return 0.0
    return 0.0 if lowest is None else max(0.0, (lowest - height + _SHORTEST) / math.cos(math.radians(rake)))


def shaft(room: Room, shortest: float, longest: float, nominal: float | None = None) -> Shaft:
    """Return how a shaft suits a boat, from the shortest to the longest that it may be. Limits allow 1e-6 mm."""
    upright = math.cos(math.radians(room.rake))
    low, high = room.usual
    at_least = room.height + room.least * upright
    lifts = [((low + leg - room.height) / upright, (high + leg - room.height) / upright) for leg in (shortest, longest)]
    short = [most < room.least - CLOSE for _, most in lifts]
    long = [least > room.most + CLOSE for least, _ in lifts]
    answer: Answer = "suits"
    if any(short) or any(long):
        answer = "too short" if all(short) else "too long" if all(long) else "measure first"
    lift = max(room.least, lifts[0][0]), min(room.most, lifts[-1][1])
    return Shaft(nominal, shortest, longest, (at_least - longest, at_least - shortest), lift, answer)


def shafts(design: Design, index: int | None) -> tuple[Shaft, ...]:
    """Return the motor's own shaft, where it is measured, and the usual ones.

    Raises:
        Unmeasured: see `room_of`.
    """
    room = room_of(design, index)
    own = None if index is None else design.mounts[index].leg
    usual = (shaft(room, nominal, nominal + trade.SHAFT_OVER, nominal) for nominal in trade.SHAFTS)
    return (*(() if own is None else (shaft(room, own, own),)), *usual)


def more_mass(design: Design) -> float:
    """Return how much heavier all motors together are than the old one [kg]; below 0 where they are lighter.

    Raises:
        Unmeasured: no motor hangs yet, or a mass is not known.
    """
    if not design.mounts:
        raise Unmeasured(mount_key(0, "mass"))
    return motors_mass(design) - need(design.boat.old_motor.mass, "boat.old_motor.mass")


def sinks(design: Design) -> tuple[float, float]:
    """Return about how far the heavier motor lets the stern sink [mm], as a box and as a wedge; below 0 it rises.

    A rule of thumb, our calculation. A box has its whole beam from stern to bow, a wedge has none at the bow. A boat at
    rest is between them. A mass in the middle of a box sinks it level. At the stern it sinks the stern four times as far.
    It sinks a wedge's stern six times as far. A balance point aft of the stern adds a little.

    Raises:
        Unmeasured: a mass, or the boat's length or beam, is not known.
    """
    more = more_mass(design)
    length = trade.IN_WATER * need(design.boat.length, "boat.length")
    beam = trade.IN_WATER * need(design.boat.beam, "boat.beam")
    old = design.boat.old_motor
    arm = design.assumptions.centre_aft if old.centre_aft is None else old.centre_aft
    aft = sum((mount.mass or 0.0) * centre_aft(design, mount).value for mount in design.mounts) - (old.mass or 0.0) * arm
    level = 1 / (trade.WATER * length * beam)
    return level * (4 * more + 6 * aft / length), level * (6 * more + 12 * aft / length)


def after(design: Design, above: float) -> float:
    """Return about how far a part that is ``above`` the water now will be above it with the new motor, at the lowest.

    Raises:
        Unmeasured: see `sinks`.
    """
    return above - max(sinks(design))
