"""How far a second reading is from what it should be, and how far it may be: three spreads of all that is behind both."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import CLOSE, NonsenseError
from geometry.readings.measures import measure, put_path
from geometry.readings.reading_spreads import hole_spread, wide_spread_of
from geometry.solid.faces import Unmeasured, exit_of, faces
from geometry.solving.comparisons import CUT

if TYPE_CHECKING:
    from geometry.design.design import Design, Pilot
    from geometry.readings.measures import Measure
    from geometry.solving.comparisons import Comparison

SPREADS = 3.0
"""Two readings that are further apart than so many spreads contradict each other: our assumption."""
_SHARE = 1e-3  # of a spread: the step of a derivative


class Compared(msgspec.Struct, frozen=True):
    """A second reading next to what it should be.

    Attributes:
        read, expected: both [mm]. shares: by how much one spread of each reading moves the expected size, by key.
        spread: of the difference of both. most: the most by which both may differ.
    """

    read: float
    expected: float
    shares: dict[str, float]
    spread: float
    most: float

    @property
    def agrees(self) -> bool:
        """Whether both agree. Allows 1e-6."""
        return abs(self.read - self.expected) <= self.most + CLOSE


def compared(design: Design, comparison: Comparison) -> Compared | None:
    """Return a second reading next to what it should be; None where a reading is not known."""
    row = measure(design, comparison.key)
    read = None if row is None else row.get(design)
    if row is None or read is None:
        return None
    try:
        expected = comparison.expect(design)
        off = 0.0 if comparison.pilot is None else pilot_spread(design, design.pilots[comparison.pilot])
    except Unmeasured:
        return None
    shares = {key: _share(design, comparison, key, expected) for key in comparison.rests}
    spread = math.hypot(wide_spread_of(design, row), off, *shares.values())
    return Compared(read, expected, shares, spread, min(SPREADS * spread, comparison.most))


def pilot_spread(design: Design, pilot: Pilot) -> float:
    """Return how far a pilot may have come out from its place, one standard deviation [mm].

    Raises:
        Unmeasured: the thickness there is not known.
    """
    return hole_spread(design.spreads, exit_of(faces(design.transom), *pilot.at, pilot.tilt).along)


def share_of_cut(design: Design, comparison: Comparison) -> float:
    """Return half of what a guess of the top cut by a word can be off: square or level."""
    reading = design.readings.get(CUT)
    if not isinstance(design.transom.top_cut, str) or reading is None or reading.state != "guess":
        return 0.0
    try:
        square, level = (comparison.expect(put_path(design, CUT, word)) for word in ("square", "level"))
    except (NonsenseError, Unmeasured):  # without a rake nobody knows a level cut
        return math.inf
    return (level - square) / 2


def _share(design: Design, comparison: Comparison, key: str, expected: float) -> float:
    """Return by how much one spread of a reading moves the expected size."""
    row = measure(design, key)
    if row is None:
        return 0.0
    if key == CUT and isinstance(design.transom.top_cut, str):
        return share_of_cut(design, comparison)
    if row.kind == "shape":  # drawn as a whole, and off as a whole
        return wide_spread_of(design, row)
    value, spread = row.get(design), wide_spread_of(design, row)
    if value is None or spread == 0:
        return 0.0
    for step in (_SHARE * spread, -_SHARE * spread):  # a size at the end of what is possible moves one way only
        moved = _expected(comparison, row, design, value + step)
        if moved is not None:
            return (moved - expected) / step * spread
    return 0.0


def _expected(comparison: Comparison, row: Measure, design: Design, value: float) -> float | None:
    try:
        return comparison.expect(row.set(design, value))
    except (NonsenseError, Unmeasured):
        return None
