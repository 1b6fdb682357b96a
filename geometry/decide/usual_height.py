"""The AV plate's usual height, as a search sees it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.bracket import usual_plate_heights
from geometry.solid.bracket_holes import (
    plate_height,
)
from geometry.solid.faces import Unmeasured
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:

    from geometry.design.design import Design
    from geometry.design.motor import Mount

_SUCKS_AIR = 2 * MM_PER_INCH  # [mm] over the bottom; an AV plate above it usually sucks air, common practice


def too_high(height: float, mount: Mount) -> bool:
    """Return whether an AV plate is so far above the hull's bottom that it usually sucks air: 2 in, common practice.

    A motor set back far has a usual range that reaches higher.
    """
    return height > max(_SUCKS_AIR, usual_plate_heights(mount.set_back)[1]) + CLOSE


def off_usual(height: float, usual: tuple[float, float]) -> float:
    """Return how far an AV plate is from its usual heights [mm]."""
    return max(usual[0] - height, height - usual[1], 0.0)


def off_usual_of(design: Design, index: int, row: int) -> float:
    """Return how far an upper hole would put the AV plate from the usual range [mm]; 0 where a reading is missing."""
    try:
        height = plate_height(design, index, row)
    except Unmeasured:
        return 0.0
    return off_usual(height, usual_plate_heights(design.mounts[index].set_back))
