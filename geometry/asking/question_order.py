"""The questions of a boat in their order, from the first reading to the sheets.

First come the readings that decide the lower holes: five, where the well has one flat floor. In trials of many boats they
decided nearly as well as all others together. Then come the brackets' patterns, the parts, old holes and obstacles, and the
second ways to the same readings. The others depend on the answers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.design.patterns import kind_of
from geometry.edits.confirm_or_buy import is_part, parts, pattern
from geometry.edits.reading_order import deciding_readings
from geometry.readings.first_inch import distances_of
from geometry.readings.measures import guess_of, measure, measures, state_of
from geometry.readings.second_readings import OUTLINE, OUTSIDE, WASHER, WASHER_ACROSS, bracket_diagonal

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.readings.measures import Measure

OLD_HOLES = "old_holes"
"""The question for old holes and for things that stand in the well. It has no value of its own."""
SECOND_WAYS = (OUTSIDE, WASHER_ACROSS, WASHER, OUTLINE)
"""Other ways to readings of the five: what contradicts them shows a slip that a reading alone does not."""
LAST = ("transom.thickness.top", "transom.thickness.low", "transom.skin_outside", "transom.skin_inside")
"""What decides bolts and torque, not holes: asked for after the holes, before the sheets."""


class Asking(msgspec.Struct, frozen=True):
    """One question: its name, and the keys of the measures that it asks for at once.

    Attributes:
        name: the key of a reading, or "pattern.0", "parts.0" for the motor of that number, or `OLD_HOLES`.
    """

    name: str
    keys: tuple[str, ...]


def questions(design: Design) -> tuple[Asking, ...]:
    """Return all questions of a boat in their order, as if nothing were known yet: a measuring sheet has the same.

    The questions that depend on the answers come at the end, in walking order.
    """
    early = list(_early(design))
    asked = {key for asking in early for key in asking.keys}
    late = [key for key in LAST if measure(design, key) is not None and key not in asked]
    asked |= {*late}
    rest = [row.key for row in measures(design) if _is_read(row) and row.key not in asked]
    return (*early, *(Asking(key, (key,)) for key in (*late, *rest)))


def _early(design: Design) -> Iterator[Asking]:
    """Yield the questions of every boat whose motor is bolted on, those first that decide most."""
    yield from (Asking(key, (key, *_place_of(key))) for key in deciding_readings(design))
    bolted = [index for index, mount in enumerate(design.mounts) if mount.bracket.rows is not None]
    for index in bolted:
        yield from _group(f"pattern.{index}", pattern(design, index))
        yield from (Asking(key, (key,)) for key in bracket_ways(design) if key == bracket_diagonal(index))
    for index in bolted:
        yield from _group(f"parts.{index}", (*parts(design, index, "lower"), *parts(design, index, "upper")))
    yield Asking(OLD_HOLES, ())
    if bolted:
        yield from (Asking(key, (key,)) for key in second_ways(design))


def _place_of(key: str) -> tuple[str, ...]:
    """Return the key of how far across a corner is whose depth is read: it is written down with it."""
    return (f"{key.removesuffix('1')}0",) if key.startswith("well.profile.") else ()


def _group(name: str, rows: tuple[Measure, ...]) -> Iterator[Asking]:
    if rows:
        yield Asking(name, tuple(row.key for row in rows))


def second_ways(design: Design) -> tuple[str, ...]:
    """Return the second ways that a boat has.

    A depth read from the outside edge has none from there. An outline has one where its corners were read on the boat.
    """
    outline = design.readings.get("transom.outline")
    read = outline is not None and outline.state == "measured"
    outside = design.well is not None and design.well.well_from == "inside top edge"
    left_out = {key for key, there in ((OUTSIDE, outside), (OUTLINE, read)) if not there}
    return tuple(key for key in SECOND_WAYS if measure(design, key) is not None and key not in left_out)


def bracket_ways(design: Design) -> tuple[str, ...]:
    """Return the diagonal of each bracket whose own distances were read: nothing else shows a slip of them, or a wrong tape.

    A standard bracket has none, as its owner compares its distances with numbers that are known.
    """
    read = (
        index for index, mount in enumerate(design.mounts)
        if kind_of(mount.bracket) == "own" and all(_is_measured(design, key) for key in distances_of(index))
    )  # fmt: skip
    return tuple(bracket_diagonal(index) for index in read)


def _is_measured(design: Design, key: str) -> bool:
    reading = design.readings.get(key)
    return reading is not None and reading.state == "measured"


def _is_read(row: Measure) -> bool:
    """Return whether a measure is a reading, or a shape, that a sheet asks for by itself."""
    return not row.free and not row.second and not is_part(row)


def is_guess(design: Design, key: str) -> bool:
    """Return whether a measure's value is a guess, by itself or as part of a guessed shape."""
    row = measure(design, key)
    return row is not None and bool(guess_of(design, row))


def is_open(design: Design, key: str) -> bool:
    """Return whether a measure still has no value that its owner read: it is a guess or not known."""
    row = measure(design, key)
    if row is None:
        return False
    if key == "transom.top_cut" and isinstance(design.transom.top_cut, str):
        return bool(guess_of(design, row))
    return bool(guess_of(design, row)) or state_of(design, row) == "not known"
