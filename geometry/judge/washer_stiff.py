"""Check of the washers' stiffness: a thin, wide washer bends, and spreads the nut's pull over its middle only [mm]."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.reporter import Outcome, Reporter
from geometry.solid.faces import need
from geometry.tables.known import inches
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.hardware import Washer
    from geometry.solid.placed_bolts import Bolt
    from geometry.units.units import Unit

_EIGHTH = 8.0


def washers_stiff(report: Reporter) -> None:
    """Report for each bolt whether its inside and its outer washer are thick enough for their width."""
    for bolt in report.bolts:
        _washer_stiff(report, bolt, bolt.hardware.washer, "washer", "inside washer")
        _washer_stiff(report, bolt, bolt.hardware.outside_washer, "outside_washer", "outer washer")


def stiffness(outer: float, thickness: float) -> float:
    """Return 8·thickness/outer: 1 for a washer that is an eighth of its width thick."""
    return _EIGHTH * thickness / outer


def stiff_across(outer: float, thickness: float, flats: float, design: Design) -> float:
    """Return the width of washer that spreads a nut's pull [mm]: all of it, unless it bends.

    Args:
        flats: of the nut or head on it. design: has the least stiffness of a washer that does not bend, and how far the
            pull spreads in one that does.
    """
    if stiffness(outer, thickness) >= design.limits.washer_stiff[0] - CLOSE:
        return outer
    return min(outer, design.assumptions.nut_bearing * flats + design.assumptions.washer_spread * thickness)


def inside_across(bolt: Bolt, outer: float, thickness: float) -> float:
    """Return the same of a washer inside, under the bolt's nut or head.

    Raises:
        Unmeasured: the nut's or head's flats are not known.
    """
    field = "head_sizes" if bolt.from_inside else "nut_sizes"
    flats = need(bolt.hardware.inside_hexagon.flats, bolt.hardware_key(f"{field}.flats"))
    return stiff_across(outer, thickness, flats, bolt.design)


def _thick(mm: float, unit: Unit) -> str:
    """Say a thickness, rounded up to 1/32 in or 0.5 mm."""
    step = inches(1 / 32) if unit == "in" else 0.5
    return format_length(math.ceil(mm / step - CLOSE) * step, unit)


def _washer_stiff(report: Reporter, bolt: Bolt, washer: Washer, field: str, name: str) -> None:
    keys = tuple(bolt.hardware_key(f"{field}.{size}") for size in ("outer", "thickness"))
    limits = report.design.limits.washer_stiff

    def look() -> Outcome:
        outer, thickness = need(washer.outer, keys[0]), need(washer.thickness, keys[1])
        value, unit = stiffness(outer, thickness), report.design.units
        text = f"The {bolt.name} {name} is {report.size(outer)} across and {format_length(thickness, unit)} thick"
        if value >= limits[1] - CLOSE:
            return Outcome(value, f"{text}.")
        least, advised = (_thick(limit * outer / _EIGHTH, unit) for limit in limits)
        if value >= limits[0] - CLOSE:
            return Outcome(value, f"{text}; {advised} is advised.", "Use a thicker washer.")
        text = f"{text}. It bends, and spreads the pull over its middle only."
        return Outcome(value, text, f"Use a washer at least {least} thick; {advised} is advised.")

    report.add("washer_stiff", f"{bolt.at} / {name}", limits, "ratio", keys, (bolt.mount_index,), look)
