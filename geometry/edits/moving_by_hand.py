"""Moving shapes by hand: a guess can be moved, a measured value stays until a new reading is typed.

A shape or an old hole is named by the prefixes of its measures' keys, such as ("old_holes.0.across", ...).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.design.validity import CLOSE
from geometry.edits.starting_shapes import as_text, guess
from geometry.errors import OwnerError
from geometry.readings.measure import reading_of
from geometry.readings.measures import at_path, has_corner_measures, measures, state_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.design.validity import Number
    from geometry.readings.measures import Measure

WELL_LINE = ("well.profile", "well.floor_port", "well.floor_starboard", "well.floor_width", "well.top_width")


class MeasuredError(OwnerError):
    """A hand pulls at a measured value.

    Attributes:
        key: of the measure.
    """

    def __init__(self, key: str, sentence: str = "That was measured. Type a new reading on the card.") -> None:
        super().__init__(sentence)
        self.key = key


def measures_of(design: Design, prefixes: tuple[str, ...]) -> Iterator[Measure]:
    """Yield the measures of a shape. Decisions are left out, and so is an outline whose corners are measures."""
    if prefixes:
        for measure in measures(design):
            whole_shape = measure.kind == "shape" and has_corner_measures(measure.key)
            if measure.key.startswith(prefixes) and not measure.free and not whole_shape:
                yield measure


def fixed_key(design: Design, prefixes: tuple[str, ...], first: str = "") -> str:
    """Return the key of a measure that fixes a shape, "" where all of it is a guess or not known.

    Args:
        first: the key to name first, if that measure is fixed.
    """
    keys = [measure.key for measure in measures_of(design, prefixes) if is_fixed(design, measure)]
    return first if first in keys else next(iter(keys), "")


def wholly_fixed_key(design: Design, prefixes: tuple[str, ...], first: str = "") -> str:
    """Return the key of a measure that fixes a shape without any guess in it, else ""; ``first`` as in `fixed_key`."""
    every = all(is_fixed(design, measure) for measure in measures_of(design, prefixes))
    return fixed_key(design, prefixes, first) if every else ""


def is_fixed(design: Design, measure: Measure) -> bool:
    """Return whether no hand may change a measure: it has a value that is no guess and no decision. A torque is a decision."""
    return not measure.free and measure.kind != "torque" and state_of(design, measure) not in ("guess", "not known")


def moved(before: Design, after: Design, prefixes: tuple[str, ...], first: str = "") -> Design:
    """Return ``after``, the design in which a hand moved a shape. Changed guesses stay guesses, with their new values.

    Args:
        first: the key of the measure to name if it is among several; also for a corner without a key.

    Raises:
        MeasuredError: a measured value would change, by more than 1e-6 mm.
    """
    other = [measure for measure in measures_of(before, prefixes) if _differs(before, after, measure)]
    stuck = [measure.key for measure in other if is_fixed(before, measure)]
    if not other and after != before and prefixes and fixed_key(before, prefixes, first) == first:
        stuck = [first]
    if any(stuck):
        raise MeasuredError(first if first in stuck else stuck[0])
    return refreshed(after, tuple(measure.key for measure in other))


def refreshed(design: Design, keys: tuple[str, ...]) -> Design:
    """Return ``design`` with the present values in the readings of some measures. Each keeps its state."""
    keys = tuple(key for key in keys if key in design.readings)
    read = [measure for measure in measures(design) if measure.key in keys] if keys else []
    kept = [measure for measure in read if measure.kind != "shape"]
    readings = dict(design.readings)
    for measure in kept:
        text, value = as_text(design, measure) or "", measure.get(design)
        readings[measure.key] = replace(readings[measure.key], text=text, value=value, from_="centre")
    return replace(design, readings=readings) if kept else design


def with_typed_length(before: Design, after: Design, prefixes: tuple[str, ...], size: float, text: str) -> Design:
    """Return ``after``, the design in which an edge of a shape has the typed length ``size`` [mm].

    A distance of just that length counts as measured. Other changed distances keep their state.

    Raises:
        MeasuredError: another measured distance would change.
    """
    readings, others = dict(after.readings), []
    for measure in measures_of(before, prefixes):
        if measure.kind == "shape" or not _differs(before, after, measure):
            continue
        value = measure.get(after)
        if value is not None and not _apart(abs(value), size):
            readings[measure.key] = reading_of(after, measure, text if value > 0 else f"-{text}", value, "measured")
        elif is_fixed(before, measure):
            raise MeasuredError(measure.key)
        else:
            others.append(measure.key)
    return refreshed(replace(after, readings=readings), tuple(others))


def as_guess(design: Design, prefixes: tuple[str, ...]) -> Design:
    """Return ``design`` with a shape counted as a guess, in its place. A hand can then move it."""
    return guess(design, (measure for measure in measures_of(design, prefixes) if is_fixed(design, measure)))


def _differs(before: Design, after: Design, measure: Measure) -> bool:
    if measure.kind == "shape":
        pairs = zip(_numbers(before, measure.key), _numbers(after, measure.key), strict=False)
        return any(_apart(a, b) for a, b in pairs) or len(_numbers(before, measure.key)) != len(_numbers(after, measure.key))
    return _apart(measure.get(before), measure.get(after))


def _numbers(design: Design, key: str) -> tuple[Number, ...]:
    return tuple(value for corner in at_path(design, key) or () for value in corner)


def _apart(first: Number, second: Number) -> bool:
    return first is not second and (first is None or second is None or abs(first - second) > CLOSE)
