"""What a hand may move without a figure typed: a guess. What was measured stays where it is until a new reading is typed.

A thing (a shape, an old hole) is named by the beginnings of its measures' keys, such as ("old_holes.0.across", ...).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.design.measure import reading_of
from geometry.design.measures import at_path, measures, state_of, told_by_numbers
from geometry.design.starts import as_text, guess
from geometry.design.validity import CLOSE
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.design.measures import Measure
    from geometry.design.validity import Number

WELL_LINE = ("well.profile", "well.floor_port", "well.floor_starboard", "well.floor_width", "well.top_width")


class MeasuredError(OwnerError):
    """A hand pulls at something that was measured.

    Attributes:
        key: of the measure.
    """

    def __init__(self, key: str, sentence: str = "That was measured. Type a new reading on the card.") -> None:
        super().__init__(sentence)
        self.key = key


def measures_of(design: Design, thing: tuple[str, ...]) -> Iterator[Measure]:
    """Return what is measured of a thing; decisions are not, nor is a shape whose corners are measures themselves."""
    if thing:
        for one in measures(design):
            if one.key.startswith(thing) and not one.free and not (one.kind == "shape" and told_by_numbers(one.key)):
                yield one


def held(design: Design, thing: tuple[str, ...], first: str = "") -> str:
    """Return the key of a measure that holds a thing in its place, "" where all of it is a guess or not known.

    Args:
        first: the key to name, if that one holds it.
    """
    keys = [one.key for one in measures_of(design, thing) if is_held(design, one)]
    return first if first in keys else next(iter(keys), "")


def fixed(design: Design, thing: tuple[str, ...], first: str = "") -> str:
    """Return the key of a measure that holds a thing of which nothing at all is a guess, else ""; ``first`` as in `held`."""
    return held(design, thing, first) if all(is_held(design, one) for one in measures_of(design, thing)) else ""


def is_held(design: Design, one: Measure) -> bool:
    """Return whether a measure has a value that no hand may change: no guess, and no decision, as a torque is too."""
    return not one.free and one.kind != "torque" and state_of(design, one) not in ("guess", "not known")


def moved(before: Design, after: Design, thing: tuple[str, ...], first: str = "") -> Design:
    """Return ``after``, the design in which a hand has moved a thing; a guess that it changed stays one, and says its value.

    Args:
        first: the key of the measure to name if it is among several; it also speaks for a corner that has none of its own.

    Raises:
        MeasuredError: something measured would change, by more than 1e-6 mm.
    """
    other = [one for one in measures_of(before, thing) if _differs(before, after, one)]
    stuck = [one.key for one in other if is_held(before, one)]
    if not other and after != before and thing and held(before, thing, first) == first:
        stuck = [first]
    if any(stuck):
        raise MeasuredError(first if first in stuck else stuck[0])
    return refreshed(after, tuple(one.key for one in other))


def refreshed(design: Design, keys: tuple[str, ...]) -> Design:
    """Return ``design`` with the readings of some measures saying what they are now; each keeps its state."""
    kept = [one for one in measures(design) if one.key in keys and one.key in design.readings and one.kind != "shape"]
    readings = dict(design.readings)
    for one in kept:
        readings[one.key] = replace(readings[one.key], text=as_text(design, one) or "", value=one.get(design), from_="centre")
    return replace(design, readings=readings) if kept else design


def with_typed_length(before: Design, after: Design, thing: tuple[str, ...], size: float, text: str) -> Design:
    """Return ``after``, the design in which an edge of a thing got the typed length ``size`` [mm].

    A distance that now is just that long was measured by it. What else it changed keeps its state.

    Raises:
        MeasuredError: another distance that was measured would change.
    """
    readings, others = dict(after.readings), []
    for one in measures_of(before, thing):
        if one.kind == "shape" or not _differs(before, after, one):
            continue
        value = one.get(after)
        if value is not None and not _apart(abs(value), size):
            readings[one.key] = reading_of(after, one, text if value > 0 else f"-{text}", value, "measured")
        elif is_held(before, one):
            raise MeasuredError(one.key)
        else:
            others.append(one.key)
    return refreshed(replace(after, readings=readings), tuple(others))


def as_guess(design: Design, thing: tuple[str, ...]) -> Design:
    """Return ``design`` with a thing counted as a guess, its place unchanged: then a hand can move it."""
    return guess(design, (one for one in measures_of(design, thing) if is_held(design, one)))


def _differs(before: Design, after: Design, one: Measure) -> bool:
    if one.kind == "shape":
        pairs = zip(_numbers(before, one.key), _numbers(after, one.key), strict=False)
        return any(_apart(a, b) for a, b in pairs) or len(_numbers(before, one.key)) != len(_numbers(after, one.key))
    return _apart(one.get(before), one.get(after))


def _numbers(design: Design, key: str) -> tuple[Number, ...]:
    return tuple(value for corner in at_path(design, key) or () for value in corner)


def _apart(one: Number, two: Number) -> bool:
    return one is not two and (one is None or two is None or abs(one - two) > CLOSE)
