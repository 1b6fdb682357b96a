"""All measures of a design, in the order in which a person with a tape walks round the boat.

Card, dimensions, readings, spreads, help and advice look them up here by key. `measure.py` says what a measure is, and has
its units.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from geometry.readings import assumption_measures, boat_measures, motor_measures
from geometry.readings.boat_measures import floor_place
from geometry.readings.drilled_readings import drilled_readings
from geometry.readings.measure import Measure, at_path, put_path, without_reading
from geometry.readings.second_readings import second_readings

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.design.design import Design, Origin

__all__ = [
    "SECTIONS",
    "Measure",
    "at_path",
    "floor_place",
    "guess_of",
    "has_corner_measures",
    "lacking",
    "measure",
    "measures",
    "name_of",
    "put_path",
    "state_of",
    "without_reading",
]  # fmt: skip

SECTIONS = (
    "Transom", "Inside top edge", "Well", "Old holes", "Motor and bracket", "Upper holes", "Drop and height", "Hardware",
    "Assumptions",
)  # fmt: skip
"""The card's sections, numbered from 1."""
GROUPS: tuple[Callable[[Design], Iterable[Measure]], ...] = (
    boat_measures.of_transom, boat_measures.of_well, boat_measures.of_papers, boat_measures.of_old_holes,
    motor_measures.of_mounts, assumption_measures.of_assumptions, second_readings, drilled_readings,
)  # fmt: skip
"""Each gives the measures of one part of a design, in walking order."""
_PROFILE = ("well.floor_port", "well.floor_starboard", "well.floor_width", "well.top_width")


def measures(design: Design) -> tuple[Measure, ...]:
    """Return everything that can be measured on this design, in walking order."""
    kept: tuple[Measure, ...] | None = design.__dict__.get("measures")  # several views ask, at every move of a hand
    if kept is None:
        kept = design.__dict__["measures"] = _all(design)
    return kept


def _all(design: Design) -> tuple[Measure, ...]:
    made = [measure for group in GROUPS for measure in group(design)]
    return tuple(sorted(made, key=lambda measure: measure.section))


def measure(design: Design, key: str) -> Measure | None:
    """Return one measure by its key."""
    return next((each for each in measures(design) if each.key == key), None)


def name_of(design: Design, key: str) -> str:
    """Return the name of a measure for the middle of a sentence; of a shape, the first corner that is `lacking`."""
    named = measure(design, lacking(design, key))
    if named is not None:
        return named.name[0].lower() + named.name[1:]
    return key.rsplit(".", 1)[-1].replace("_", " ")


def has_corner_measures(key: str) -> bool:
    """Return whether a shape's corners are measures too, or floor and widths in their place."""
    return key == "well.profile" or key.endswith(".bracket.outline")


def lacking(design: Design, key: str) -> str:
    """Return the key of the measure to take for a key. Of a shape that has numbers, it is the first that is not known."""
    if not has_corner_measures(key):
        return key
    parts = (f"{key}.", *_PROFILE) if key == "well.profile" else (f"{key}.",)
    return next((each.key for each in measures(design) if each.key.startswith(parts) and each.get(design) is None), key)


def guess_of(design: Design, measure: Measure) -> str:
    """Return the key of the guess that a measure's value is, or is a part of; "" where it is none."""
    own = design.readings.get(measure.key)
    if own is not None:
        return measure.key if own.state == "guess" else ""
    shape = "well.profile" if measure.key in _PROFILE else measure.key.rsplit(".", 2)[0]
    whole = design.readings.get(shape)
    return shape if whole is not None and whole.state == "guess" and has_corner_measures(shape) else ""


def state_of(design: Design, measure: Measure) -> Origin | Literal["not known"]:
    """Return the origin of a measure's value. A value without a reading counts as measured."""
    reading = design.readings.get(measure.key)
    if measure.kind != "shape" and measure.get(design) is None:
        return "not known"
    return reading.state if reading is not None else "measured"
