"""Places of holes, worked out again from a design's plain numbers: no code is shared with the program's geometry."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tests.designs import sure

if TYPE_CHECKING:
    from geometry.design.design import Design


@dataclass(frozen=True)
class Place:
    """A hole: its motor, its name, and where it goes in and comes out.

    Attributes:
        u, v: on the outer face, to starboard and up [mm]. deep: below the inside top edge along the inner face [mm].
        hole: its diameter [mm].
    """

    motor: str
    name: str
    u: float
    v: float
    deep: float
    hole: float


def thickness(design: Design, v: float) -> float:
    """Return the thickness square to the outer face at a height [mm]."""
    thick = design.transom.thickness
    top, low, at = sure(thick.top), sure(thick.low), sure(thick.low_at)
    return top + (low - top) * v / at


def walked(design: Design, v: float, rise: float) -> tuple[float, float]:
    """Return where a line from the outer face at ``v``, rising by ``rise`` for each millimetre inward, meets the inner face."""
    s = thickness(design, v)
    for _ in range(60):
        s = thickness(design, v + s * rise)
    return v + s * rise, s


def inside_edge(design: Design) -> tuple[float, float]:
    """Return the inside top edge: its height on the outer face's scale, and how far in it is [mm]."""
    rake, cut = sure(design.transom.rake), design.transom.top_cut
    fall = rake if cut == "level" else 0.0 if cut == "square" else float(sure(cut))
    return walked(design, 0.0, -math.tan(math.radians(fall)))


def below_edge(design: Design, at: tuple[float, float]) -> float:
    """Return how far a place on the inner face is below the inside top edge, along that face [mm]."""
    edge = inside_edge(design)
    return math.copysign(math.dist(at, edge), edge[0] - at[0])


def behind(design: Design, deep: float) -> float:
    """Return the height on the outer face straight in front of a place ``deep`` below the inside top edge [mm]."""
    thick = design.transom.thickness
    slope = (sure(thick.low) - sure(thick.top)) / -sure(thick.low_at)
    return inside_edge(design)[0] - deep / math.hypot(1.0, slope)


def places(design: Design) -> list[Place]:
    """Return every hole of the design's bolted motors; port is where u is less."""
    holes = []
    for mount in design.mounts:
        rows, lower = sure(mount.bracket.rows), sure(mount.bracket.lower)
        top, offset = sure(mount.upper_at), sure(mount.offset)
        pairs = (
            ("upper", sure(rows.half_spacing), top, mount.upper_tilt, mount.upper_hardware),
            ("lower", sure(lower.half_spacing), top - sure(mount.drop), mount.lower_tilt, mount.lower_hardware),
        )
        for pair, half, v, tilt, hardware in pairs:
            out = walked(design, v, math.tan(math.radians(sure(tilt))))
            for side, u in (("port", offset - half), ("starboard", offset + half)):
                hole = sure(sure(hardware).hole)
                holes.append(Place(mount.name, f"{pair} {side}", u, v, below_edge(design, out), hole))
    return holes
