"""Torque on the nuts: the wrench's reading, the lock nut's drag, and the clamp from the rest.

A torque has one meaning everywhere: the wrench's reading at the last pass, the lock nut's drag included.
Forces [N], torques [N m], diameters [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.solid.faces import need
from geometry.tables import fasteners

if TYPE_CHECKING:
    from geometry.design.hardware import BoltName
    from geometry.solid.placed_bolts import Bolt

CROSS: tuple[BoltName, ...] = ("upper port", "lower starboard", "upper starboard", "lower port")
"""The order of the four nuts, corner to corner: common practice, no source."""

SHARES = (0.5, 1.0)
"""The share of the wrench torque in each pass, after all nuts are snug: common practice, no source."""


def torque_for(clamp: float, friction: float, diameter: float) -> float:
    """Return the torque [N m] that pulls a bolt with ``clamp`` [N]: T = K F d.

    Source: Shigley, Mechanical Engineering Design, chapter 8. ``friction`` is the nut factor K.
    """
    return friction * clamp * diameter / 1000


def clamp_of(torque: float, friction: float, diameter: float) -> float:
    """Return the force [N] with which ``torque`` [N m] pulls a bolt, without drag: F = T / (K d)."""
    return torque / (friction * diameter / 1000)


class Drag(msgspec.Struct, frozen=True):
    """The part of a wrench torque that only turns a lock nut on its thread, and clamps nothing [N m].

    Attributes:
        least, most: both the reading where it was measured. ``most`` is None for a nut without a published drag.
        known: how it is known.
        source: of a published drag.
    """

    least: float
    most: float | None
    known: Literal["measured", "published", "no lock nut", "not published"]
    source: str = ""


def drag(bolt: Bolt) -> Drag:
    """Return the drag of ``bolt``'s nut: as measured, else from none to the highest that is published for a new nut."""
    hardware = bolt.hardware
    if hardware.running_torque is not None:
        return Drag(hardware.running_torque, hardware.running_torque, "measured")
    nut = fasteners.nut(hardware.nut, hardware.bolt)
    if not nut.locks:
        return Drag(0.0, 0.0, "no lock nut")
    return Drag(0.0, None, "not published") if nut.drag is None else Drag(0.0, nut.drag, "published", nut.drag_source)


def wrench_torque(bolt: Bolt) -> float:
    """Return the wrench's reading at the last pass, the lock nut's drag included [N m].

    Raises:
        Unmeasured: it is not known.
    """
    return need(bolt.hardware.torque, bolt.hardware_key("torque"))


def frictions(bolt: Bolt) -> tuple[float, float]:
    """Return the lowest and the highest nut factor of a bolt.

    Raises:
        Unmeasured: one is not known.
    """
    low, high = bolt.hardware.friction
    return need(low, bolt.hardware_key("friction.0")), need(high, bolt.hardware_key("friction.1"))


def clamps(bolt: Bolt) -> tuple[float, float]:
    """Return the least and the greatest force [N] that the bolt's wrench torque can give.

    The greatest has the least drag and the lowest friction. It decides about crushing and stretching. The least has the most
    drag and the highest friction, and is never below 0. It is 0 where no drag is published for the nut.

    Raises:
        Unmeasured: torque or friction is not known.
    """
    torque, (low, high), taken = wrench_torque(bolt), frictions(bolt), drag(bolt)
    size, most = bolt.thread.diameter, torque if taken.most is None else taken.most
    return clamp_of(max(0.0, torque - most), high, size), clamp_of(max(0.0, torque - taken.least), low, size)


def counted_drag(bolt: Bolt, least: float, most: float) -> float:
    """Return the drag to count where a joint has to stay shut [N m].

    It is the measured one, else the design's drag share of the highest published one.
    """
    return least + bolt.design.assumptions.drag_share * (most - least)


def joint_clamp(bolt: Bolt) -> float:
    """Return the clamp [N] that a joint can count on to stay shut: highest friction, and the drag to count.

    Raises:
        Unmeasured: torque or friction is not known, or the drag of a nut without a published one.
    """
    taken, (_, high) = drag(bolt), frictions(bolt)
    most = need(taken.most, bolt.hardware_key("running_torque"))
    return clamp_of(max(0.0, wrench_torque(bolt) - counted_drag(bolt, taken.least, most)), high, bolt.thread.diameter)
