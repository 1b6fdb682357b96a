"""Gives each bolt of a design its present length: a bolt that is bought does not change with a reading."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts

if TYPE_CHECKING:
    from geometry.design.design import Design


def with_lengths_kept(design: Design) -> Design:
    """Give each pair its present bolt length: a bolt that is bought does not change with a reading."""
    mounts = list(design.mounts)
    for bolt in bolts(design):
        try:
            length = bolt.length
        except Unmeasured:
            continue
        if length is not None and bolt.hardware.length is None and bolt.port:
            field = f"{bolt.pair}_hardware"
            kept = replace(bolt.hardware, length=length)
            mounts[bolt.mount_index] = replace(mounts[bolt.mount_index], **{field: kept})
    return replace(design, mounts=tuple(mounts))
