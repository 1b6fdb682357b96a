"""A hole as it was drilled: where it is on both faces [mm]. It never changes the plan."""

from __future__ import annotations

from typing import Literal

import msgspec

from geometry.design.validity import FACE, SMALL, Number, Pair, above_zero, at_most

Tool = Literal["tape", "rule", "calliper", "photo"]
TOOLS: tuple[Tool, ...] = ("tape", "rule", "calliper", "photo")


class DrilledHole(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A hole as it was drilled. A value is None where nobody read it.

    Attributes:
        mount: the motor, counted from 0. pair, side: its hole.
        outer: the middle of its outer end, (u, v) on the outer face.
        inner: the middle of its inner end, (u, y) on the inner face, y up from where the well is measured.
        diameter: as drilled; None: as planned. how: the tool that read it.
        washer, flat_cut, socket: this hole's own inside washer, its cut, and its own socket across; None: as planned.
    """

    mount: int
    pair: Literal["upper", "lower"]
    side: Literal["port", "starboard"]
    outer: Pair
    inner: Pair
    diameter: Number
    washer: Number
    flat_cut: Number
    socket: Number
    how: Tool

    def __post_init__(self) -> None:
        at_most(FACE, outer_across=self.outer[0], outer_up=self.outer[1], inner_across=self.inner[0], inner_up=self.inner[1])
        above_zero(SMALL, diameter=self.diameter, washer=self.washer, flat_cut=self.flat_cut, socket=self.socket)

    @property
    def hole(self) -> str:
        """The name of its hole: "lower port"."""
        return f"{self.pair} {self.side}"

    @property
    def is_empty(self) -> bool:
        """Whether nothing of it was read."""
        return all(value is None for value in (*self.outer, *self.inner, *self.sizes))

    @property
    def sizes(self) -> tuple[Number, ...]:
        """Its own sizes."""
        return self.diameter, self.washer, self.flat_cut, self.socket
