"""Points on a face, and distances between them: to each other, to the centreline and to the top edge.

``u`` is to starboard from the centreline, ``v`` up from the top edge. Any unit of length, the same one for all.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import numpy as np

from geometry.errors import OwnerError

if TYPE_CHECKING:
    from geometry.survey.least_squares import Floats, Model

Point = tuple[float, float]
CENTRELINE, TOP_EDGE, DATUM = "centreline", "top edge", "datum"
LINES = (CENTRELINE, TOP_EDGE)
"""What a distance may go to instead of a point: it is the shortest one, square to the line."""


class Distance(msgspec.Struct, frozen=True):
    """One reading: between two points, or from a point to a line of `LINES`.

    Attributes:
        first, second: names of points; the second may be a line. length: as read. spread: one standard deviation of it.
    """

    first: str
    second: str
    length: float
    spread: float


class Network(msgspec.Struct, frozen=True):
    """Distances, and the places that are known.

    Attributes:
        fixed: places by name. loose: the names of the points that are asked for.
    """

    fixed: dict[str, Point]
    loose: tuple[str, ...]
    readings: tuple[Distance, ...]

    def model(self) -> Model:
        """Return the readings that places would have, with their derivatives, for `least_squares.fit`.

        The values are u and v of each point that is asked for, in their order.
        """
        index = {name: number for number, name in enumerate(self.loose)}
        count = len(self.readings)
        base = np.zeros((2, count, 2))
        slots = np.full((2, count), -1)
        mask = np.ones((count, 2))
        for row, reading in enumerate(self.readings):
            for end, name in enumerate((reading.first, reading.second)):
                if name in LINES:
                    mask[row] = (1.0, 0.0) if name == CENTRELINE else (0.0, 1.0)
                elif name in index:
                    slots[end, row] = index[name]
                else:
                    base[end, row] = self.fixed[name]
        rows = [np.flatnonzero(slots[end] >= 0) for end in (0, 1)]

        def calculated(values: Floats) -> tuple[Floats, Floats]:
            at = values.reshape(-1, 2)
            ends = base.copy()
            for end in (0, 1):
                ends[end, rows[end]] = at[slots[end, rows[end]]]
            apart = (ends[0] - ends[1]) * mask
            far = np.hypot(apart[:, 0], apart[:, 1])
            way = np.where(far[:, None] > 0.0, apart / np.where(far > 0.0, far, 1.0)[:, None], mask)
            slopes = np.zeros((count, len(values)))
            for end, sign in ((0, 1.0), (1, -1.0)):
                for axis in (0, 1):
                    slopes[rows[end], 2 * slots[end, rows[end]] + axis] += sign * way[rows[end], axis]
            return far, slopes

        return calculated


def network(fixed: dict[str, Point], readings: tuple[Distance, ...]) -> Network:
    """Return the network of some readings; each name that is neither fixed nor a line is asked for.

    Raises:
        OwnerError: a distance is not above 0, goes from a place to itself, or between two places that are fixed.
    """
    for number, reading in enumerate(readings, start=1):
        where = f"Distance {number}, from {reading.first} to {reading.second},"
        if not reading.length >= 0.0 or not np.isfinite(reading.length):
            raise OwnerError(f"{where} is below 0. Type it as the tape shows it.")
        if reading.first == reading.second:
            raise OwnerError(f"{where} goes from a place to itself. Choose another place.")
        if reading.first in LINES or all(name in fixed or name in LINES for name in (reading.first, reading.second)):
            raise OwnerError(f"{where} fixes no point. Choose a hole or a corner first, then where you measured to.")
    names = (name for reading in readings for name in (reading.first, reading.second))
    loose = tuple(dict.fromkeys(name for name in names if name not in fixed and name not in LINES))
    return Network(fixed, loose, readings)
