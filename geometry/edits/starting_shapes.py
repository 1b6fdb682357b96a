"""The starting shapes of a new boat: nothing, or a usual transom whose every value is a guess until it is measured.

The shapes are our own, drawn to look like their names. Their sizes are usual ones, common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.boat import Afloat, Boat, OldMotor, Plate, Thickness, Transom, Well
from geometry.design.design import VERSION, Assumptions, Design, Limits, Spreads
from geometry.design.patterns import motor
from geometry.readings.measure import reading_of
from geometry.readings.measures import Measure, at_path, has_corner_measures, measures
from geometry.tables.known import MM_PER_INCH
from geometry.tables.trade import ASSUMPTIONS, DEFAULT_LIMITS, METRIC_LIMITS, SPREADS, UsualValue
from geometry.units import force_units
from geometry.units.units import format_length, format_mass

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from typing import Literal

    from geometry.design.validity import Points

_IN = MM_PER_INCH


class Start(msgspec.Struct, frozen=True):
    """A starting shape: its title, one line about it, and its design."""

    title: str
    summary: str
    design: Design


def starts(units: Literal["in", "mm"] = "in") -> tuple[Start, ...]:
    """Return the starting shapes, the usual one first. The blank one is not among them."""
    return tuple(Start(title, summary, _guessed(make(units))) for title, summary, make in _SHAPES)


def blank(units: Literal["in", "mm"] = "in") -> Design:
    """Return a boat without any known value: no outline, no well, no motor."""
    unknown: Points = ((None, None),) * 4
    limits = {name: (limit.least, limit.advised) for name, limit in DEFAULT_LIMITS.items()}
    if units == "mm":
        limits |= METRIC_LIMITS
    return Design(
        boltwell=VERSION, name="", units=units, notes="", revision=0, demonstration=False,
        boat=Boat(
            kind="monohull", length=None, beam=None, transom_width=None, hull_mass=None, displacement=None,
            flat_bottom_hard_chines=False, remote_steering=None,
            plate=Plate(power_kw=None, motor_mass=None, persons_mass=None, total_mass=None),
            old_motor=OldMotor(mass=None, power_kw=None, centre_aft=None),
            afloat=Afloat(top_edge=None, scupper=None, drain=None),
        ),
        transom=Transom(
            outline=unknown, rake=None, top_cut=None, deadrise=None, height=None,
            thickness=Thickness(top=None, low=None, low_at=None), skin_outside=None, skin_inside=None,
            core="unknown", core_state="unknown", core_bears=None,
        ),
        well=None, inside_blocks=(), outside_fittings=(), old_holes=(), mounts=(), limits=Limits(**limits),
        spreads=Spreads(**_values(SPREADS)), assumptions=Assumptions(**_values(ASSUMPTIONS)),
        readings={}, sure_of={}, look_for_holes=True, survey=None, photo=None, pilots=(), taped=None, as_drilled=(),
    )  # fmt: skip


def _values(table: dict[str, UsualValue]) -> dict[str, float]:
    return {name: usual.value for name, usual in table.items()}


def well_to_measure(width: float = 20 * _IN) -> Well:
    """Return a well with guessed widths. Its depths and its corner are still to be measured [mm]."""
    top, floor = width / 2, width / 2 - 0.5 * _IN
    return Well(
        well_from="inside top edge", profile=((-top, 0.0), (-floor, None), (floor, None), (top, 0.0)), floor_rise=None,
        fillet_radius=None, length=None, front_lean=0.0, front_height=None,
    )  # fmt: skip


def guess(design: Design, chosen: Iterable[Measure]) -> Design:
    """Return ``design`` with each value among ``chosen`` marked as a guess. Decisions and unknown values are left out."""
    readings = dict(design.readings)
    for measure in chosen:
        text = as_text(design, measure)
        if text is None:
            continue
        value = None if measure.kind == "shape" else measure.get(design)
        readings[measure.key] = reading_of(design, measure, text, value, "guess")
    return replace(design, readings=readings)


def as_text(design: Design, measure: Measure) -> str | None:
    """Return the text that a person would type for a value; None where there is nothing to guess."""
    if measure.kind == "shape":
        return None if has_corner_measures(measure.key) or not at_path(design, measure.key) else ""
    if measure.key == "transom.top_cut" and isinstance(design.transom.top_cut, str):
        return design.transom.top_cut
    value = measure.get(design)
    if measure.free or value is None:
        return None
    if measure.kind == "length":
        return format_length(value, design.units, denominator=64, unit_word=False)
    if measure.kind == "mass":
        return format_mass(value, design.units)
    if measure.kind in force_units.KINDS:
        return force_units.written(measure.kind, value, design.units)
    return f"{value:g}"


def _guessed(design: Design) -> Design:
    return guess(design, measures(design))


def _boat(units: Literal["in", "mm"], outline: Points, well: Well | None, *, low: float = 1.75) -> Design:
    bare = blank(units)
    transom = replace(
        bare.transom, outline=outline, rake=14.0, top_cut="level", deadrise=10.0, height=19 * _IN,
        thickness=Thickness(top=1.75 * _IN, low=low * _IN, low_at=-10 * _IN), skin_outside=0.1875 * _IN,
        skin_inside=0.1875 * _IN, core="fir plywood",
    )  # fmt: skip
    return replace(bare, transom=transom, well=well, mounts=(motor("standard", "main motor"),))


def _transom(*top: tuple[float, float]) -> Points:
    """Return an outline from its top corners at starboard, from the middle outward [in], mirrored at port."""
    starboard = [*top, (24.0, -15.0)]
    port = [(-u, v) for u, v in reversed(starboard)]
    return tuple((round(u * _IN, 6), round(v * _IN, 6)) for u, v in (*port, *starboard, (0.0, -19.5)))


def _well(depth: float) -> Well:
    inches = ((-10.5, 0.0), (-10.0, -depth), (10.0, -depth), (10.5, 0.0))
    return Well(
        well_from="inside top edge", profile=tuple((round(u * _IN, 6), round(y * _IN, 6)) for u, y in inches), floor_rise=2.0,
        fillet_radius=0.5 * _IN, length=17 * _IN, front_lean=0.0, front_height=None,
    )  # fmt: skip


_CUT_OUT = _transom((13.0, 0.0), (13.0, 3.0), (27.0, 3.0))
_NOTCH = _transom((11.5, 0.0), (14.0, 5.0), (16.0, 6.0), (27.0, 6.0))
_SHAPES: tuple[tuple[str, str, Callable[[Literal["in", "mm"]], Design]], ...] = (
    ("Cut-out, shallow well", "The usual trouble: a well a hand deep.",
     lambda units: _boat(units, _CUT_OUT, _well(9.75))),
    ("No well", "The inside is free down to the bilge.", lambda units: _boat(units, _CUT_OUT, None)),
    ("Deep well", "The floor is far below the lower bolts.", lambda units: _boat(units, _CUT_OUT, _well(14.0))),
    ("Notched transom", "A deep notch between high shoulders.",
     lambda units: _boat(units, _NOTCH, _well(12.0))),
    ("Tapered transom", "Thicker lower down, so that the inside leans.",
     lambda units: _boat(units, _CUT_OUT, _well(12.0), low=2.1)),
)  # fmt: skip
