"""Placements side by side, as words: one column for each, the same rows in each."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from app.deciding.fit_text import governing, plate_words
from app.ui.apostrophes import curly
from geometry.judge.findings import STATE_WORDS
from geometry.readings.measures import name_of
from geometry.tables.known import N_PER_LBF, credit
from geometry.units.height_words import hole_words, up_words, usable_holes
from geometry.units.units import format_length, format_mass

if TYPE_CHECKING:
    from geometry.decide.compare import Side
    from geometry.judge.findings import State
    from geometry.units.units import Unit

ROWS = ("Answer", "Smallest clearance", "Motor’s height", "Usable holes", "AV plate", "Pull on each upper bolt",
        "Pull on each lower bolt", "Special parts", "Old holes met")  # fmt: skip


class Column(msgspec.Struct, frozen=True):
    """One placement: its title, its state, and a text for each of `ROWS`."""

    title: str
    state: State
    cells: tuple[str, ...]


def column(side: Side) -> Column:
    """Return what one placement's column says."""
    design, mount = side.checked.design, side.placement.mount
    unit = design.units
    drop = "Drop not known" if mount.drop is None else f"Drop {format_length(mount.drop, unit)}"
    row = "no height chosen" if mount.row is None else up_words(mount.row)
    upper, lower = _loads(side)
    return Column(
        f"{drop}, {row}",
        side.state,
        (
            STATE_WORDS[side.state],
            governing(design, side.nearest),
            "not known" if mount.row is None else hole_words(mount.row),
            "not known" if side.rows_left is None else usable_holes(side.rows_left),
            plate_words(side.plate_height, unit),
            upper,
            lower,
            ", ".join(side.special) or "none",
            ", ".join(f"{name} ({'used' if state == 'note' else STATE_WORDS[state]})" for name, state in side.met) or "none",
        ),
    )


def _loads(side: Side) -> tuple[str, str]:
    """Return what pulls each bolt of the upper and of the lower pair."""
    design = side.checked.design
    if side.loads is None:
        lacks = "" if side.lacks is None else f". Type the {name_of(design, side.lacks)}"
        return (curly(f"not known{lacks}"),) * 2
    return force_words(side.loads.upper, design.units), force_words(side.loads.lower, design.units)


def load_sources(side: Side) -> str:
    """Say what the pulls of one placement are calculated with, and where each value is from; "" while they are not known."""
    loads, design, mount = side.loads, side.checked.design, side.placement.mount
    if loads is None or mount.mass is None:
        return ""
    unit = design.units
    parts = (
        f"Weight {format_mass(mount.mass, unit)}: {_origin_of_weight(side)}.",
        f"Thrust {force_words(loads.thrust.value, unit)}: {credit(loads.thrust.source)}.",
        f"Balance point {format_length(loads.centre_aft.value, unit)} aft of the transom: {credit(loads.centre_aft.source)}.",
        f"Shock {loads.shock.value:g}: {credit(loads.shock.source)}.",
    )
    return curly(f"The pulls are a rough check, for comparison only. They come from these values. {' '.join(parts)}")


def _origin_of_weight(side: Side) -> str:
    reading = side.checked.design.readings.get(f"mounts.{side.placement.index}.mass")
    return "entered" if reading is None else reading.state


def force_words(newtons: float, unit: Unit) -> str:
    """Return a force [N] to two figures: "820 lbf", "3.6 kN"."""
    if newtons < 1.0:
        return "none"
    if unit == "in":
        return f"{_two_figures(newtons / N_PER_LBF):,.0f} lbf"
    return f"{_two_figures(newtons) / 1000:g} kN"


def _two_figures(value: float) -> float:
    return float(f"{value:.2g}")
