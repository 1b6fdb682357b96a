"""A guess gives way: what a reading disagrees with moves as little as is needed, where it is a guess, and stays a guess.

So an honest reading is never refused because a neighbour still has a starting shape's value. Lengths [mm].
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import msgspec

from geometry.design.measure import at_path, put_path
from geometry.design.validity import NonsenseError

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design
    from geometry.design.measure import Measure
    from geometry.design.validity import Number

    Give = Callable[[Design, float], Design]


def with_adjustment(measure: Measure, give: Give) -> Measure:
    """Return ``measure`` with guesses that give way to its reading.

    Args:
        give: a design and the value that it does not take to a design whose guesses have made room for it; it hands back
            the same design where no guess is in the way.
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


def still_guessed(design: Design, key: str, value: float) -> Design:
    """Return ``design`` with the reading of a guess that has moved to ``value``: still a guess, and nobody typed it."""
    moved = msgspec.structs.replace(design.readings[key], text="", value=value)
    return msgspec.structs.replace(design, readings={**design.readings, key: moved})


def moved(design: Design, key: str, value: float, sign: float = 1.0) -> Design:
    """Return ``design`` with a guess at another value; as it is where ``key`` is no guess or has no value.

    Args:
        key: also its path in the design. sign: -1 where the design holds it upward.
    """
    if not is_guess(design, key) or at_path(design, key) is None:
        return design
    return still_guessed(put_path(design, key, sign * value), key, value)


def in_order(low: Measure, high: Measure) -> tuple[Measure, Measure]:
    """Return two measures of which the second is no smaller than the first: the one that is a guess follows the other."""
    return (
        with_adjustment(low, lambda design, value: moved(design, high.key, value)),
        with_adjustment(high, lambda design, value: moved(design, low.key, value)),
    )
