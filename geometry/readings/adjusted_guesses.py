"""Guesses that adjust to a reading: they move as little as needed, and stay guesses.

So a true reading is never refused only because a neighbour still has a starting shape's value. Lengths [mm].
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import NonsenseError
from geometry.readings.measure import at_path, put_path

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design
    from geometry.design.validity import Number
    from geometry.readings.measure import Measure

    Give = Callable[[Design, float], Design]


def with_adjustment(measure: Measure, give: Give) -> Measure:
    """Return ``measure`` with guesses that adjust to its reading.

    Args:
        give: takes a design and the value that it refuses. It returns a design whose guesses have made room for it, or the
            same design where no guess is in the way.
    """
    return msgspec.structs.replace(measure, set=partial(_set, measure.set, give))


def _set(put: Callable[[Design, Number], Design], give: Give, design: Design, value: Number) -> Design:
    try:
        return put(design, value)
    except NonsenseError as sentence:
        if value is None:
            raise
        try:
            return put(give(design, value), value)
        except NonsenseError:
            raise sentence from None


def is_guess(design: Design, key: str) -> bool:
    """Return whether a measure's value is a guess."""
    reading = design.readings.get(key)
    return reading is not None and reading.state == "guess"


def nothing_measured(design: Design) -> bool:
    """Return whether all readings are guesses, as in a new boat."""
    return bool(design.readings) and all(reading.state == "guess" for reading in design.readings.values())


def still_guessed(design: Design, key: str, value: float) -> Design:
    """Return ``design`` with a guess's reading at ``value``: still a guess, and nobody typed it."""
    moved = msgspec.structs.replace(design.readings[key], text="", value=value)
    return msgspec.structs.replace(design, readings={**design.readings, key: moved})


def moved(design: Design, key: str, value: float, sign: float = 1.0) -> Design:
    """Return ``design`` with a guess at another value; unchanged where ``key`` is no guess or has no value.

    Args:
        key: also its path in the design. sign: -1 where the design counts it upward.
    """
    if not is_guess(design, key) or at_path(design, key) is None:
        return design
    return still_guessed(put_path(design, key, sign * value), key, value)


def in_order(low: Measure, high: Measure) -> tuple[Measure, Measure]:
    """Return two measures, the second never smaller than the first. The one that is a guess follows the other."""
    return (
        with_adjustment(low, lambda design, value: moved(design, high.key, value)),
        with_adjustment(high, lambda design, value: moved(design, low.key, value)),
    )
