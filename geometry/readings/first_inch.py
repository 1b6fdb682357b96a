"""A tape that is an inch wrong everywhere: read from its first inch, or with a bent or broken hook. Lengths [mm].

Every other witness is read with the same tape, so only a size that is known beforehand shows it: the standard pattern.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

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


def first_inch(design: Design, read: Measure) -> tuple[str, float] | None:
    """Return what is said of a bracket's three distances where each is an inch more, or each an inch less, than the standard.

    Args:
        read: said of the upper holes' half spacing only; None for every other measure.

    Returns:
        The sentences, and the highest place of the slot [mm]; None where the distances say nothing of the tape.
    """
    if not read.key.endswith(_UPPER):
        return None
    off, last = [], 0.0
    for end, standard, times in _DISTANCES:
        row = measure(design, read.key.removesuffix(_UPPER) + end)
        reading = None if row is None else design.readings.get(row.key)
        value = None if row is None or guess_of(design, row) else row.get(design)
        if value is None or reading is None or reading.state != "measured":
            return None
        off.append(times * (value - standard))
        last = value
    sign = 1.0 if off[0] > 0 else -1.0
    if any(abs(sign * each - _INCH) > _TAPE for each in off):
        return None
    long, inch = "more" if sign > 0 else "less", figure(design, read, _INCH)
    return (
        f"Upper holes, lower slots and the way between them are each about {inch} {long} than in the standard pattern "
        "(common practice). Does the tape begin at its first inch, or is its hook bent? Then all its lengths are wrong.", last,
    )  # fmt: skip
