"""Torque on the nuts: what the wrench reads, what a lock nut's drag takes of it, and with what the rest clamps.

A torque has one meaning everywhere: what the wrench reads at the last pass, the lock nut's drag included.
Forces [N], torques [N m], diameters [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.solid.faces import need
from geometry.tables.running import LOCKING, running

if TYPE_CHECKING:
    from geometry.design.hardware import BoltName
    from geometry.solid.placed_bolts import Bolt

CROSS: tuple[BoltName, ...] = ("upper port", "lower starboard", "upper starboard", "lower port")
"""The order in which four nuts are turned, corner to corner: common practice, no source."""

SHARES = (0.5, 1.0)
"""Of the wrench torque, pass by pass, after all are snug: common practice, no source."""


def torque_for(clamp: float, friction: float, diameter: float) -> float:
    """Return the torque [N m] that pulls a bolt with ``clamp`` [N]: T = K F d.

    Source: the law of Shigley, Mechanical Engineering Design, chapter 8; ``friction`` is the nut factor K.
    """
    return friction * clamp * diameter / 1000


def clamp_of(torque: float, friction: float, diameter: float) -> float:
    """Return the force [N] with which ``torque`` [N m] pulls a bolt, drag left out: F = T / (K d)."""
    return torque / (friction * diameter / 1000)


class Drag(msgspec.Struct, frozen=True):
    """The part of a wrench torque that only turns a lock nut on its thread, and clamps nothing [N m].

    Attributes:
        least, most: both the reading where it was measured; most is None for a lock nut whose drag nobody publishes.
        known: how it is known.
        source: of a published one.
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
    if hardware.nut not in LOCKING:
        return Drag(0.0, 0.0, "no lock nut")
    listed = running(hardware.nut, hardware.bolt)
    return Drag(0.0, None, "not published") if listed is None else Drag(0.0, listed.most, "published", listed.source)


def wrench_torque(bolt: Bolt) -> float:
    """Return what the wrench reads at the last pass, the lock nut's drag included [N m].

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

    The greatest has the least drag and the lowest friction: crushing and stretching are judged by it. The least has the most
    drag and the highest friction, never below 0; it is 0 where nobody publishes the nut's drag.

    Raises:
        Unmeasured: torque or friction is not known.
    """
    torque, (low, high), taken = wrench_torque(bolt), frictions(bolt), drag(bolt)
    size, most = bolt.thread.diameter, torque if taken.most is None else taken.most
    return clamp_of(max(0.0, torque - most), high, size), clamp_of(max(0.0, torque - taken.least), low, size)


def joint_clamp(bolt: Bolt) -> float:
    """Return the clamp [N] to count on where a joint may open: highest friction, and the measured drag.

    Where the drag was not measured, half of the highest published counts: our assumption.

    Raises:
        Unmeasured: torque or friction is not known, or the drag, where nobody publishes it.
    """
    taken, (_, high) = drag(bolt), frictions(bolt)
    most = need(taken.most, bolt.hardware_key("running_torque"))
    return clamp_of(max(0.0, wrench_torque(bolt) - (taken.least + most) / 2), high, bolt.thread.diameter)
