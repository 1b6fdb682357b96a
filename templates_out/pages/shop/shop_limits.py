"""The words behind a part on the list of what to buy: in hand already, its tolerance, and the sizes that still clear."""

from __future__ import annotations

import math

from geometry.design.design import Design
from geometry.design.validity import CLOSE
from geometry.doubt.size_limits import SizeLimit
from geometry.readings.measures import measure
from geometry.readings.part_tolerances import Tolerance, tolerance
from geometry.tables.known import CHOICE
from geometry.units.units import Unit, format_length
from templates_out.drawing.sheet_figures import unbroken

_TOO = {"with its drive": "long", "long": "long", "thick": "thick"}
_STEPS: dict[Unit, tuple[float, ...]] = {"in": (25.4 / 16, 25.4 / 64), "mm": (1.0, 0.1)}
"""[mm] a limit is rounded to the first of these that does not pass the listed size."""


def size_words(design: Design, keys: list[str], limits: tuple[SizeLimit, ...], across: str = "across") -> str:
    """Return sentences about one size of parts that are bought alike; "" where there is nothing to say.

    Args:
        keys: of that size, of each pair that takes such a part. across: the word behind a figure.
    """
    states = {design.readings[key].state if key in design.readings else "" for key in keys}
    if states <= {"measured", "confirmed"}:
        return ". You have these."
    row, mine = measure(design, keys[0]), [limit for limit in limits if limit.key in keys]
    if row is None or "to buy" not in states:
        return ""
    listed = row.get(design) or 0.0
    sentences = [_limit(design.units, limit, listed, across) for limit in sorted(mine, key=_strictness)[:1]]
    if keys[0].endswith("_hardware.washer.outer"):
        allowed = tolerance(design, row)
        sentences.append(_wider(allowed, design.units))
        if any(limit.value < listed + allowed.most - CLOSE for limit in mine):
            sentences.append("Measure each of them.")
    return f". {' '.join(sentences)}" if sentences else ""


def thickness_words(design: Design, keys: list[str], limits: tuple[SizeLimit, ...]) -> str:
    """Return a sentence about how thick a part may be that is bought with its bolts; "" where nothing limits it.

    Args:
        keys: of that thickness, of each pair that takes such a part.
    """
    row, mine = measure(design, keys[0]), [limit for limit in limits if limit.key in keys]
    if row is None or not mine:
        return ""
    listed = row.get(design) or 0.0
    ends = [sorted((limit for limit in mine if limit.largest is largest), key=_strictness)[:1] for largest in (False, True)]
    least, most = ([_length(inward(limit, listed, design.units), design.units) for limit in end] for end in ends)
    if least and most:
        return f" {least[0]} to {most[0]} thick fits these bolts."
    return f" At most {most[0]} thick fits these bolts." if most else f" At least {least[0]} thick."


def _wider(allowed: Tolerance, unit: Unit) -> str:
    """Say how much wider than listed a washer may be, and who says so."""
    more = _length(allowed.most, unit)
    if allowed.source == CHOICE:
        return f"They may be {more} wider than listed: {CHOICE}."
    return f"The standard ({allowed.source}) allows {more} more."


def _strictness(limit: SizeLimit) -> float:
    return limit.value if limit.largest else -limit.value


def _limit(unit: Unit, limit: SizeLimit, listed: float, across: str) -> str:
    """Say a limit: "At most 1-9/16 in across still clears."."""
    said = _length(inward(limit, listed, unit), unit)
    if not limit.largest:
        narrow = "These are too narrow. " if limit.value > listed + CLOSE else ""
        return f"{narrow}At least {said} {across} is wide enough."
    if limit.check == "pressure":  # only a washer that bends presses harder where it is wider
        return f"At most {said} {across}: a wider one as thin as that bends."
    wide = f"These are too {_TOO.get(across, 'wide')}. " if limit.value < listed - CLOSE else ""
    return f"{wide}At most {said} {across} still clears."


def _length(mm: float, unit: Unit) -> str:
    return unbroken(format_length(mm, unit, style="paper", denominator=64))


def inward(limit: SizeLimit, listed: float, unit: Unit) -> float:
    """Return a limit rounded to the safe side [mm]: to the coarsest step that does not pass the listed size, else that size."""
    toward = math.floor if limit.largest else math.ceil
    slack = CLOSE if limit.largest else -CLOSE
    for step in _STEPS[unit]:
        rounded = toward((limit.value + slack) / step) * step
        if (limit.value - listed) * (rounded - listed) >= 0.0:
            return rounded
    return listed
