"""Torque on the nuts: what clamps, what the nut itself takes to turn, and in which passes and order.

Forces [N], torques [N m], diameters [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.solid.frames import need
from geometry.tables.running import LOCKING, Running, running

if TYPE_CHECKING:
    from geometry.design.hardware import BoltName
    from geometry.solid.bolts import Bolt

CROSS: tuple[BoltName, ...] = ("upper port", "lower starboard", "upper starboard", "lower port")
"""The order in which four nuts are turned, corner to corner: common practice, no source."""

SHARES = (0.5, 1.0)
"""Of the clamping torque, pass by pass, after all are snug: common practice, no source."""


def torque_for(clamp: float, friction: float, diameter: float) -> float:
    """Return the torque [N m] that pulls a bolt with ``clamp`` [N]: T = K F d.

    Source: the law of Shigley, Mechanical Engineering Design, chapter 8; ``friction`` is the nut factor K.
    """
    return friction * clamp * diameter / 1000


def clamp_of(torque: float, friction: float, diameter: float) -> float:
    """Return the force [N] with which ``torque`` [N m] pulls a bolt, running torque left out: F = T / (K d)."""
    return torque / (friction * diameter / 1000)


class Turning(msgspec.Struct, frozen=True):
    """How one bolt's nut is tightened.

    A running torque that is given is part of the design's torque, as the wrench reads it; one that is not given counts as
    0 there, and is added as it is read.

    Attributes:
        clamps: torque that clamps, running torque left out [N m].
        passes: torque that clamps, pass by pass [N m].
        running: what the nut itself takes to turn [N m]; None where a lock nut's is neither given nor listed.
        known: "given" by the design, "listed" as the greatest of a new nut, "none" for a nut that does not lock, or
            "not known".
        source: of what is listed.
    """

    clamps: float
    passes: tuple[float, ...]
    running: float | None
    known: Literal["given", "listed", "none", "not known"]
    source: str = ""

    @property
    def most(self) -> float | None:
        """What the wrench reads at the most in the last pass [N m]; None where the running torque is not known."""
        return None if self.running is None else self.clamps + self.running


def turning(bolt: Bolt) -> Turning:
    """Return how ``bolt``'s nut is tightened.

    Raises:
        Unmeasured: its torque is not known.
    """
    hardware = bolt.hardware
    clamps = clamping(bolt)
    passes = tuple(share * clamps for share in SHARES)
    if hardware.running_torque is not None:
        return Turning(clamps, passes, hardware.running_torque, "given")
    if hardware.nut not in LOCKING:
        return Turning(clamps, passes, 0.0, "none")
    listed: Running | None = running(hardware.nut, hardware.bolt)
    if listed is None:
        return Turning(clamps, passes, None, "not known")
    return Turning(clamps, passes, listed.most, "listed", listed.source)


def clamping(bolt: Bolt) -> float:
    """Return the part of a bolt's torque that clamps [N m]: without what its nut takes to turn, as far as that is given.

    Raises:
        Unmeasured: its torque is not known.
    """
    torque = need(bolt.hardware.torque, bolt.hardware_key("torque"))
    return max(0.0, torque - (bolt.hardware.running_torque or 0.0))


def frictions(bolt: Bolt) -> tuple[float, float]:
    """Return the lowest and the highest nut factor of a bolt.

    Raises:
        Unmeasured: one is not known.
    """
    low, high = bolt.hardware.friction
    return need(low, bolt.hardware_key("friction.0")), need(high, bolt.hardware_key("friction.1"))


def clamps(bolt: Bolt) -> tuple[float, float]:
    """Return the least and the greatest force [N] that the bolt's torque can give, by its range of friction.

    Raises:
        Unmeasured: torque or friction is not known.
    """
    torque, (low, high) = clamping(bolt), frictions(bolt)
    size = bolt.thread.diameter
    return clamp_of(torque, high, size), clamp_of(torque, low, size)
