"""One table of all that is measured, in the order in which a person with a tape goes round the boat.

Card, dimensions, readings, spreads, help and advice look things up here by key. What a measure is, and in which units it
speaks: `measuring`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from geometry.design import boat_measures, motor_measures
from geometry.design.boat_measures import floor_place
from geometry.design.measure import Measure, at_path, put_path, without_reading

if TYPE_CHECKING:
    from geometry.design.design import Design, Origin

__all__ = [
    "SECTIONS", "Measure", "at_path", "floor_place", "guess_of", "lacking", "measure", "measures", "name_of", "put_path",
    "state_of", "told_by_numbers", "without_reading",
]  # fmt: skip

SECTIONS = (
    "Transom", "Inside top edge", "Well", "Old holes", "Motor and bracket", "Upper holes", "Drop and height", "Hardware",
)  # fmt: skip
"""The card's sections, numbered from 1."""
_PROFILE = ("well.floor_port", "well.floor_starboard", "well.floor_width", "well.top_width")


def measures(design: Design) -> tuple[Measure, ...]:
    """Return everything that can be measured on this design, in walking order."""
    kept: tuple[Measure, ...] | None = design.__dict__.get("measures")  # several views ask, at every move of a hand
    if kept is None:
        kept = design.__dict__["measures"] = _all(design)
    return kept


def _all(design: Design) -> tuple[Measure, ...]:
    found = [*boat_measures.of_transom(design), *boat_measures.of_well(design), *boat_measures.of_papers()]
    for index in range(len(design.old_holes)):
        found += boat_measures.of_old_hole(design, index)
    for index in range(len(design.mounts)):
        found += motor_measures.of_mount(design, index)
    return tuple(sorted(found, key=lambda measure: measure.section))


def measure(design: Design, key: str) -> Measure | None:
    """Return one measure by its key."""
    return next((found for found in measures(design) if found.key == key), None)


def name_of(design: Design, key: str) -> str:
    """Return what a person calls the thing behind a key, for a sentence: what is `lacking` there, if anything is."""
    found = measure(design, lacking(design, key))
    if found is not None:
        return found.name[0].lower() + found.name[1:]
    return key.rsplit(".", 1)[-1].replace("_", " ")


def told_by_numbers(key: str) -> bool:
    """Return whether a shape's corners are measures too, or floor and widths in their place."""
    return key == "well.profile" or key.endswith(".bracket.outline")


def lacking(design: Design, key: str) -> str:
    """Return what to measure where a key is asked for: of a shape that is told by numbers the first that is not known."""
    if not told_by_numbers(key):
        return key
    told = (f"{key}.", *_PROFILE) if key == "well.profile" else (f"{key}.",)
    return next((one.key for one in measures(design) if one.key.startswith(told) and one.get(design) is None), key)


def guess_of(design: Design, measure: Measure) -> str:
    """Return the key of the guess that a measure's value is, or is a part of; "" where it is none."""
    own = design.readings.get(measure.key)
    if own is not None:
        return measure.key if own.state == "guess" else ""
    shape = "well.profile" if measure.key in _PROFILE else measure.key.rsplit(".", 2)[0]
    whole = design.readings.get(shape)
    return shape if whole is not None and whole.state == "guess" and told_by_numbers(shape) else ""


def state_of(design: Design, found: Measure) -> Origin | Literal["not known"]:
    """Return where a measure's value comes from; a value without a reading counts as measured."""
    reading = design.readings.get(found.key)
    if found.kind != "shape" and found.get(design) is None:
        return "not known"
    return reading.state if reading is not None else "measured"
