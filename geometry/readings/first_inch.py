"""A tape that is an inch wrong everywhere: read from its first inch, or with a bent or broken hook. Lengths [mm].

Most other witnesses are read with the same tape, so a size that is known beforehand shows it: the standard pattern. Of
another bracket the diagonal does, as two sides that are an inch too long do not make it an inch longer.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.validity import SECOND
from geometry.readings.figures_in_sentences import figure
from geometry.readings.measures import Measure, guess_of, measure
from geometry.tables.known import inches
from geometry.tables.trade import STANDARD_PATTERN

if TYPE_CHECKING:
    from geometry.design.design import Design

_INCH = inches(1)
_TAPE = 3.0  # [mm] by which a distance may be off from that: nearly four usual errors of a tape, our assumption
_UPPER = ".bracket.rows.half_spacing"
_DISTANCES = (
    (_UPPER, STANDARD_PATTERN.upper_half_spacing, 2),
    (".bracket.lower.half_spacing", STANDARD_PATTERN.lower_half_spacing, 2),
    (".bracket.lower.slots.0.0", STANDARD_PATTERN.slot[0], 1),
)
"""The three distances of the standard pattern: the end of the key, the value, and how many of it a tape reads at once."""
_ASKED = "Does the tape begin at its first inch, or is its hook bent? Then all its lengths are wrong."


def distances_of(mount: int) -> tuple[str, ...]:
    """Return the keys of the three distances of a motor's bracket."""
    return tuple(f"mounts.{mount}{end}" for end, _, _ in _DISTANCES)


def first_inch(design: Design, read: Measure) -> tuple[str, float] | None:
    """Return what is said of a bracket's three distances where the tape may be an inch wrong.

    Each is an inch more than in the standard pattern, or each an inch less. Or the bracket is another one, and its diagonal
    agrees with them only if all were read an inch too long, or too short.

    Args:
        read: said of the upper holes' half spacing only; None for every other measure.

    Returns:
        The sentences, and another value of theirs [mm]; None where the distances say nothing of the tape.
    """
    values = _values(design, read.key.removesuffix(_UPPER)) if read.key.endswith(_UPPER) else None
    if values is None:
        return None
    inch, slot = figure(design, read, _INCH), values[-1]
    off = [times * (value - standard) for value, (_, standard, times) in zip(values, _DISTANCES, strict=True)]
    sign = 1.0 if off[0] > 0 else -1.0
    if all(abs(sign * each - _INCH) <= _TAPE for each in off):
        long = "more" if sign > 0 else "less"
        return (
            f"Upper holes, lower slots and the way between them are each about {inch} {long} than in the standard pattern "
            f"(common practice). {_ASKED}", slot,
        )  # fmt: skip
    diagonal = design.readings.get(f"{read.key.removesuffix(_UPPER)}{SECOND}diagonal")
    if diagonal is None or diagonal.value is None or abs(_apart(values, diagonal.value, 0.0)) <= _TAPE:
        return None
    sign = 1.0 if _apart(values, diagonal.value, 0.0) < 0 else -1.0
    if abs(_apart(values, diagonal.value, sign * _INCH)) > _TAPE:
        return None
    long = "long" if sign > 0 else "short"
    return (
        f"The bracket’s diagonal does not agree with its other three distances. It would if all four were read {inch} too "
        f"{long}. {_ASKED}", diagonal.value,
    )  # fmt: skip


def _values(design: Design, start: str) -> tuple[float, ...] | None:
    """Return the three distances of a bracket as they were read; None where one was not."""
    made = []
    for end, _, _ in _DISTANCES:
        row = measure(design, start + end)
        reading = None if row is None else design.readings.get(row.key)
        value = None if row is None or guess_of(design, row) else row.get(design)
        if value is None or reading is None or reading.state != "measured":
            return None
        made.append(value)
    return tuple(made)


def _apart(values: tuple[float, ...], diagonal: float, long: float) -> float:
    """Return by how much a diagonal is longer than its distances make it, if a tape reads all of them too long by ``long``."""
    upper, lower, slot = values
    return diagonal - long - math.hypot(upper + lower - long, slot - long)
