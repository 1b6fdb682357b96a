"""Holes drilled square to the face, or level as the boat floats."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

from geometry.edits.edits import drill_tilts
from geometry.solid.faces import Faces, faces

if TYPE_CHECKING:
    from geometry.design.design import Design

Way = Literal["square", "level"]
_SQUARE = 0.05  # degrees: nobody can drill closer to square


def level_tilt(face: Faces) -> float:
    """Return the tilt from square of a level hole [degrees]. Its inner end is lower where the top leans aft."""
    origin, up, forward = face.level_point(0.0, 0.0), face.level_point(1.0, 0.0), face.level_point(0.0, 1.0)
    return math.degrees(math.atan2(-(forward[1] - origin[1]), up[1] - origin[1]))


def other_way(design: Design, index: int) -> tuple[Way, Design]:
    """Return the other way to drill one motor's holes, and the design with it: level for square ones, else square.

    Raises:
        Unmeasured: the transom's lean or a reading behind it is not known. NonsenseError: level is too far from square.
    """
    mount = design.mounts[index]
    if max(abs(mount.upper_tilt or 0.0), abs(mount.lower_tilt or 0.0)) > _SQUARE:
        return "square", drill_tilts(design, index, 0.0, 0.0)
    tilt = round(level_tilt(faces(design.transom)), 1)
    return "level", drill_tilts(design, index, tilt, tilt)
