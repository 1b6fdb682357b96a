"""Heads and spacers of the owner's own sizes, and what a backing plate is made of. Each returns new hardware [mm]."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.design.hardware import HexSizes, Spacer
from geometry.tables import fasteners

if TYPE_CHECKING:
    from geometry.design.hardware import Hardware

PLATE_MATERIALS = ("aluminium 5083", "A4 stainless", "glass laminate")
"""What backing plates are made of: common practice, no source."""
_SPACER_LENGTH = 12.0  # a usual spacer: our assumption


def with_head(fitted: Hardware, *, own: bool) -> Hardware:
    """Return hardware with heads of own sizes, to begin with those listed, or with the listed head."""
    if own == (fitted.head_sizes is not None):
        return fitted
    listed = fitted.head_hexagon
    return replace(fitted, head_sizes=HexSizes(flats=listed.flats, corners=None, height=listed.height) if own else None)


def with_spacer(fitted: Hardware, *, there: bool) -> Hardware:
    """Return hardware with a sleeve under each inside washer, as wide as the nut, or without it."""
    if there == (fitted.spacer is not None):
        return fitted
    across = fitted.inside_hexagon.flats or 1.5 * fasteners.bolt(fitted.bolt).diameter
    spacer = Spacer(outer=max(across, (fitted.washer.inner or 0.0) + 4.0), inner=fitted.washer.inner, length=_SPACER_LENGTH)
    return replace(fitted, spacer=spacer if there else None, length=None)


def with_plate_of(fitted: Hardware, material: str) -> Hardware:
    """Return hardware with its backing plate of another material; unchanged without one."""
    plate = fitted.backing_plate
    return fitted if plate is None else replace(fitted, backing_plate=replace(plate, material=material))
