"""The lengths of bolt that fit, in words: for the card and for the list of what to buy."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

from geometry.readings.measures import name_of
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.solving.solved import solved
from geometry.tables.known import MM_PER_INCH
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.solid.placed_bolts import Bolt
    from geometry.units.units import Unit


def window_words(window: tuple[float, float], unit: Unit, *, style: Literal["screen", "paper"] = "screen") -> str:
    """Return the lengths that fit, from and to, rounded inward to 1/16 in or 1 mm; finer where nothing else is left."""
    low, high = window
    for step in (MM_PER_INCH / 16, MM_PER_INCH / 64) if unit == "in" else (1.0, 0.1):
        least, most = math.ceil(low / step - 1e-6) * step, math.floor(high / step + 1e-6) * step
        if least <= most:
            break
    first, last = (format_length(mm, unit, style=style, denominator=64) for mm in (least, most))
    return first if first == last else f"{first} to {last}"


def lengths_that_fit(design: Design, mount: int, pair: str) -> str:
    """Say which lengths fit one pair of bolts, and which of them are stock lengths, in the boat's unit."""
    both = [bolt for bolt in bolts(solved(design)) if bolt.mount_index == mount and bolt.upper == (pair == "upper")]
    try:
        windows = [bolt.window for bolt in both]
    except Unmeasured as missing:
        return f"Lengths that fit: not calculated. Measure the {name_of(design, missing.key)} first."
    low, high = max(window[0] for window in windows), min(window[1] for window in windows)
    if low > high:
        each = " ".join(f"{bolt.name.capitalize()}: {window_words(bolt.window, design.units)}." for bolt in both)
        return f"The two bolts need different lengths. {each}"
    fits = f"Any length from {window_words((low, high), design.units)} fits."
    stock = _stock(both)
    if not stock:
        return f"{fits} No stock length is between. Have them made, or change the washers."
    named = [format_length(mm, design.units, denominator=64) for mm in stock]
    return f"{fits} Stock: {' or '.join(named)}."


def _stock(both: list[Bolt]) -> list[float]:
    """Return the stock lengths that fit every bolt of a pair, shortest first [mm]."""
    return [mm for mm in both[0].fitting_lengths if all(mm in bolt.fitting_lengths for bolt in both)]
