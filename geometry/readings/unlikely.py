"""Readings that are unlikely: accepted, and asked about until their owner reads them again or confirms them.

`measure_ranges.py` has the ranges. Guesses, sizes to buy and choices are no readings. A value that was confirmed is asked
about again once it changes, or one that it was compared with. Lengths [mm]; comparisons allow 1e-6.
"""

from __future__ import annotations

import math
from functools import cache
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import CLOSE
from geometry.readings.figures_in_sentences import figure, round_figure
from geometry.readings.first_inch import first_inch
from geometry.readings.measure_ranges import EIGHTH, ROUNDED
from geometry.readings.measures import guess_of, measure, measures, name_of
from geometry.readings.other_unit import meant_in_other_unit

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.readings.measure_ranges import Differs, Range
    from geometry.readings.measures import Measure

    Doubt = tuple[str, float | None]

READ = ("measured", "confirmed")
"""The origins of a value that was read on the boat."""
_SEVERAL = ("mounts", "old_holes", "inside_blocks", "outside_fittings")
_PART_OF_PAIR = 3  # steps of the key of one pair's hardware: "mounts.0.upper_hardware"


class Unlikely(msgspec.Struct, frozen=True):
    """One unlikely reading.

    Attributes:
        measure: what was read. text: why it is unlikely, in a few sentences. values: its value, then the others.
        tape: whether it puts every reading of the tape in doubt.
    """

    measure: Measure
    text: str
    values: tuple[float, ...]
    tape: bool = False


def unlikely(design: Design) -> tuple[Unlikely, ...]:
    """Return the unlikely readings that their owner has not confirmed, in walking order."""
    kept: tuple[Unlikely, ...] | None = design.__dict__.get("unlikely")  # card, findings and their cures ask
    if kept is None:
        every = tuple(_all(design))
        kept = design.__dict__["unlikely"] = tuple(each for each in every if not _is_confirmed(design, each))
    return kept


def unlikely_reading(design: Design, key: str) -> Unlikely | None:
    """Return the unlikely reading of one measure, None where it is likely or confirmed."""
    return next((each for each in unlikely(design) if each.measure.key == key), None)


def confirm_unlikely(design: Design, key: str) -> Design:
    """Return ``design`` with an unlikely reading confirmed; unchanged where there is none."""
    doubtful = unlikely_reading(design, key)
    if doubtful is None:
        return design
    return msgspec.structs.replace(design, sure_of={**design.sure_of, key: doubtful.values})


def is_read(design: Design, measure: Measure) -> bool:
    """Return whether a known value was read on the boat."""
    if measure.free or measure.kind == "shape":
        return False
    reading = design.readings.get(measure.key)
    return not guess_of(design, measure) if reading is None else reading.state in READ


def _is_confirmed(design: Design, doubtful: Unlikely) -> bool:
    sure = design.sure_of.get(doubtful.measure.key, ())
    pairs = zip(sure, doubtful.values, strict=False)
    return len(sure) == len(doubtful.values) and all(abs(now - then) <= CLOSE for then, now in pairs)


def _all(design: Design) -> Iterator[Unlikely]:
    before: dict[str, tuple[Measure, float]] = {}
    for each in measures(design):
        value = each.get(design) if is_read(design, each) else None
        if value is None:
            continue
        ranges = each.ranges
        doubts: list[Doubt] = []
        if ranges.likely is not None and not ranges.likely.holds(value):
            doubts += _out_of_range(design, each, value, ranges.likely)
        if ranges.standard is not None and ROUNDED + CLOSE < abs(value - ranges.standard) < EIGHTH - CLOSE:
            doubts.append(_near_standard(design, each, value, ranges.standard))
        if ranges.differs is not None:
            doubts += _too_far(design, each, value, ranges.differs)
        if each.kind == "length":
            group = _group(each.key)
            last, there = before.get(group, (each, math.inf))
            if abs(value - there) <= CLOSE and value != 0 and not ranges.like_before:
                doubts.append(_equal(design, each, value, last, there))
            before[group] = each, value
        tape = first_inch(design, each)
        doubts += [] if tape is None else [tape]
        if doubts:
            others = tuple(other for _, other in doubts if other is not None)
            yield Unlikely(each, " ".join(text for text, _ in doubts), (value, *others), tape is not None)


@cache
def _group(key: str) -> str:
    """Return the entries that a measure is among: those of one motor, one pair of bolts, one old hole, or of the boat."""
    steps = key.split(".")
    if steps[0] not in _SEVERAL:
        return steps[0]
    return ".".join(steps[:_PART_OF_PAIR] if "_hardware" in key else steps[:2])


def _out_of_range(design: Design, each: Measure, value: float, likely: Range) -> Iterator[Doubt]:
    """Say that a value is out of its likely range. 0 in an entry that takes it says that there is none."""
    if value == 0 and each.ranges.possible.low == 0:
        return
    reading = design.readings.get(each.key)
    meant = meant_in_other_unit(each, value, "" if reading is None else reading.text, design.units)
    low, high = (round_figure(design, each, end) for end in (likely.low, likely.high))
    asked = f" Did you mean {meant}?" if meant else ""
    yield f"{each.name} is {figure(design, each, value)}.{asked} Most are {low} to {high} ({likely.whose}).", None


def _near_standard(design: Design, each: Measure, value: float, standard: float) -> Doubt:
    """Say that a value is nearly that of the standard pattern, but not quite."""
    read, usual = figure(design, each, value), figure(design, each, standard)
    asked = "Was it measured from a hole's edge?"
    return f"{each.name} is {read}, and the standard pattern has {usual} (common practice). {asked}", None


def _too_far(design: Design, each: Measure, value: float, differs: Differs) -> Iterator[Doubt]:
    """Say that a value differs more than usual from another one that was read."""
    other = measure(design, differs.key)
    if other is None or not is_read(design, other):
        return
    there = other.get(design)
    if there is None or abs(value - there) <= differs.most + CLOSE:
        return
    here, away = figure(design, each, value), figure(design, other, there)
    most = round_figure(design, each, differs.most)
    text = f"{each.name} is {here}, and {name_of(design, other.key)} is {away}."
    yield f"{text} Most differ by {most} or less ({differs.whose}).", there


def _equal(design: Design, each: Measure, value: float, last: Measure, there: float) -> Doubt:
    """Say that a length equals the one before it on the card, where the two seldom do."""
    both = f"{each.name} and {name_of(design, last.key)} are both {figure(design, each, value)}."
    return f"{both} Is each in its own entry?", there
