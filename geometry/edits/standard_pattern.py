"""A bracket whose distances were read, and are those of the standard pattern as far as a tape shows. Lengths [mm]."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.design.patterns import kind_of
from geometry.edits.confirm_or_buy import confirmed, pattern, pattern_distances
from geometry.edits.second_blind import disagrees
from geometry.readings.measure_ranges import EIGHTH
from geometry.readings.measures import measure
from geometry.readings.reading_spreads import spread_of
from geometry.readings.second_readings import bracket_diagonal

if TYPE_CHECKING:
    from geometry.design.design import Design

_LIKE = 3.0  # spreads of a reading: a larger error is rare, and then the readings stay as they are


def is_like_standard(design: Design, mount: int) -> bool:
    """Return whether each distance of a motor's own bracket was read, and is the standard one within a tape's error."""
    if kind_of(design.mounts[mount].bracket) != "own":
        return False
    for key, usual in pattern_distances(mount).items():
        row, reading = measure(design, key), design.readings.get(key)
        value = None if row is None else row.get(design)
        if row is None or value is None or reading is None or reading.state != "measured" or disagrees(design, key):
            return False
        if abs(value - usual) > min(EIGHTH, _LIKE * spread_of(design, row)):
            return False
    return kind_of(with_standard(design, mount).mounts[mount].bracket) != "own"


def with_standard(design: Design, mount: int) -> Design:
    """Return ``design`` with the standard pattern for a motor's bracket, confirmed in place of its readings.

    Raises:
        NonsenseError: it is impossible together with other readings.
    """
    distances = pattern_distances(mount)
    dropped = (*distances, bracket_diagonal(mount))
    bare = replace(design, readings={key: reading for key, reading in design.readings.items() if key not in dropped})
    for key, value in distances.items():
        row = measure(bare, key)
        bare = bare if row is None else row.set(bare, value)
    return confirmed(bare, pattern(bare, mount))
