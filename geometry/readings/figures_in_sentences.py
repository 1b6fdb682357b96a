"""The figures of measures in sentences, each with its unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.units import force_units
from geometry.units.height_words import hole_words
from geometry.units.units import format_angle, format_length, format_mass, format_reading

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.readings.measures import Measure


def figure(design: Design, measure: Measure, value: float) -> str:
    """Return a value of a measure with its unit, for a sentence."""
    match measure.kind:
        case "angle":
            return format_angle(value)
        case "mass":
            return format_mass(value, design.units)
        case "count":
            return str(round(value))
        case "hole":
            return hole_words(round(value) - 1) if value >= 1 else str(round(value))  # a step too far
        case "torque" | "force" | "pressure" | "power" | "number" | "share" | "diameters":
            return force_units.written(measure.kind, value, design.units)
        case _:
            return format_length(value, design.units, denominator=64)


def round_figure(design: Design, measure: Measure, value: float) -> str:
    """Return the end of a range with its unit, a length to the nearest step of a tape."""
    return format_reading(value, design.units) if measure.kind == "length" else figure(design, measure, value)
