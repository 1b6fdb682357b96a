"""The same reading taken once more without a look at the first one: two that agree are averaged, and their spread falls."""

from __future__ import annotations

import math

from msgspec.structs import replace

from geometry.design.design import Design
from geometry.design.validity import CLOSE
from geometry.edits.edits import enter_value, parse_entry
from geometry.readings.measures import Measure, guess_of, measure
from geometry.readings.reading_spreads import spread_of
from geometry.readings.unlikely import confirm_unlikely

AGREE = 3.0
"""Two readings of the same size that are further apart than so many spreads of their difference disagree: our assumption."""


def read_again(design: Design, row: Measure, text: str) -> Design:
    """Return ``design`` with one more reading of a measure, as typed. A guess is simply measured.

    A reading that agrees with those before is averaged with them. One that does not stays alone, with the one before as
    `Reading.second`: a third one then decides, see `disagrees`.

    Raises:
        OwnerError: the text does not read as a value. NonsenseError: the value is impossible there.
    """
    before, old = design.readings.get(row.key), row.get(design)
    value = parse_entry(design, row, text)
    if before is None or old is None or guess_of(design, row) or row.free:
        return enter_value(design, row, value, text)
    usual, spread = _usual(design, row), spread_of(design, row)
    rivals = [(old, spread)]
    if before.second is not None and disagrees(design, row.key):
        rivals.append((before.second, usual))
    apart, there, its = min((abs(value - rival) / math.hypot(usual, its), rival, its) for rival, its in rivals)
    if apart > AGREE:
        return _with(enter_value(_alone(design, row.key), row, value, text), row.key, second=old)
    weight = (usual / its) ** 2 if its > 0 else 1.0  # how many readings are behind it
    mean = (weight * there + value) / (weight + 1)
    averaged = enter_value(_alone(design, row.key), row, mean)
    return confirm_unlikely(_with(averaged, row.key, second=value, spread=usual / math.sqrt(weight + 1)), row.key)


def disagrees(design: Design, key: str) -> bool:
    """Return whether two blind readings of a measure are too far apart: a third one is needed."""
    row, reading = measure(design, key), design.readings.get(key)
    if row is None or reading is None or reading.second is None:
        return False
    value = row.get(design)
    return value is not None and abs(value - reading.second) > AGREE * math.sqrt(2) * _usual(design, row) + CLOSE


def _usual(design: Design, row: Measure) -> float:
    """Return the spread of one reading."""
    return spread_of(_alone(design, row.key), row)


def _alone(design: Design, key: str) -> Design:
    """Return ``design`` with the usual spread for a reading, as after one reading."""
    reading = design.readings[key]
    return design if reading.second is None else _with(design, key, spread=None, second=None)


def _with(design: Design, key: str, **changed: float | None) -> Design:
    return replace(design, readings={**design.readings, key: replace(design.readings[key], **changed)})
