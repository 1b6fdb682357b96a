"""The place of the transom's inner face behind the outer one, for the rules of a design and for the solid faces.

Lengths [mm]; frames as in `geometry.solid.faces`. None where a reading is not known.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.design.boat import Transom
    from geometry.design.validity import Number


def cut_angle(transom: Transom) -> Number:
    """Return the top cut's angle from square to the face [degrees]; a level cut follows the rake."""
    cut = transom.top_cut
    return transom.rake if cut == "level" else 0.0 if cut == "square" else None if cut is None else float(cut)


def top_on_inner(v: float, top: float, taper: float, cut: float) -> float:
    """Return the w at which a top cut that starts at ``v`` on the outer face meets the inner face [mm].

    Args:
        v: [mm]. top: thickness at v = 0 [mm]. taper, cut: tangents of the faces' angle and of the cut's.
    """
    s = (top - v * taper) / (1 - taper * cut)
    return (v - s * cut) * math.hypot(1.0, taper)
