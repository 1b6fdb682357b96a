"""The accepted value nearest to a refused one, found by trying."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import NonsenseError

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.validity import Number

_LIKELY = (1.0, 10.0, 100.0, 1000.0, 0.1)  # in any unit: to start from where there is no value yet
_HALVINGS = 60
_NEAR = 1e-9  # of the refused value, and 1e-9 at least: far below any reading


class Reach(msgspec.Struct, frozen=True):
    """The last accepted value on the way to a refused one, and why the next is refused: see `NonsenseError.why`."""

    last: float
    why: str


def refused(put: Callable[[float], object], value: float) -> NonsenseError | None:
    """Return why ``put`` refuses a value, None where it accepts it."""
    try:
        put(value)
    except NonsenseError as sentence:
        return sentence
    return None


def reach(put: Callable[[float], object], present: Number, beyond: float) -> Reach | None:
    """Return how far one can go from the present value towards ``beyond``, which ``put`` refuses, to 1e-9 of it.

    None where ``put`` accepts neither the present value nor a likely one: another value must be put right first.
    """
    tried = _LIKELY if present is None else (present, *_LIKELY)
    good = next((value for value in tried if refused(put, value) is None), None)
    sentence = refused(put, beyond)
    if good is None or sentence is None:
        return None
    near = _NEAR * max(1.0, abs(beyond))
    for _ in range(_HALVINGS):
        if abs(beyond - good) <= near:
            break
        middle = (good + beyond) / 2
        refusal = refused(put, middle)
        if refusal is None:
            good = middle
        else:
            beyond, sentence = middle, refusal
    return Reach(good, sentence.why)
