"""Will it hang low enough? Said in sentences, for the panel and for a screen reader."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.deciding.fit_text import plate_words
from geometry.design.units import format_length

if TYPE_CHECKING:
    from geometry.decide.alternatives import Kind, LowEnough, Way
    from geometry.design.design import Design

SEATS: dict[Kind, str] = {
    "chosen": "As it is fitted now",
    "plain": "Whole washers",
    "cut": "Washers cut flat",
    "plate": "Relieved plate",
}
_NO_PLACE = "No: no place clears the lower bolts and keeps the upper ones far enough below the top edge."
_NEAR = 0.8  # mm: a tape's reading


def answer_words(design: Design, found: LowEnough) -> str:
    """Answer the question in one sentence."""
    if found.down is None:
        return "Not known yet."
    usual = found.usual[1]
    heights = [(way.advised, way) for way in found.ways if way.advised is not None]
    if not found.ways:
        told = plate_words(found.down, design.units)
        return f"Clamped on, its plate comes {told}: {_judged(found.down, found)}."
    if not heights:
        return "Not known yet." if found.missing else _NO_PLACE
    plainest = next((way for height, way in heights if height <= usual + _NEAR), None)
    if plainest is None:
        lowest, way = min(heights, key=lambda one: (round(one[0], 1), 0))
        return f"No: even with {SEATS[way.seat.kind].lower()} the plate stays {plate_words(lowest, design.units)}."
    if plainest.seat.kind in ("plain", "chosen"):
        return f"Yes, with {'whole washers' if plainest.seat.kind == 'plain' else 'what is fitted now'}."
    named = "washers cut flat" if plainest.seat.kind == "cut" else "a relieved plate"
    return f"Yes, with {named}; not with whole washers."


def _judged(height: float, found: LowEnough) -> str:
    low, high = found.usual
    if height > high + _NEAR:
        return "higher than is usual"
    return "lower than is usual" if height < low - _NEAR else "within what is usual"


def usual_words(design: Design, found: LowEnough) -> str:
    """Say what the pale band is, and where that comes from."""
    low, high = (format_length(one, design.units, denominator=16) for one in found.usual)
    low = low.split()[0]
    set_back = any(mount.set_back for mount in design.mounts)
    raised = " (a twelfth of the set-back is in it)" if set_back and found.usual[0] > 0 else ""
    return f"Pale band: {low} to {high} above the bottom is usual{raised}: common practice, no published source."


def way_words(design: Design, way: Way) -> str:
    """Say how low one way to seat the washers lets the plate go."""
    unit, name = design.units, SEATS[way.seat.kind]
    now = " (fitted now)" if way.seat.present and way.seat.kind != "chosen" else ""
    if way.missing is not None:
        return f"{name}{now}: not known."
    if way.advised is None:
        touching = "" if way.least is None else f"; just touching, {plate_words(way.least, unit)}"
        return f"{name}{now}: no place has the advised clearance, its upper holes below the top edge{touching}."
    same = way.least is None or abs(way.least - way.advised) < _NEAR
    touching = "" if same else f"; just touching, {plate_words(way.least, unit)}"
    return f"{name}{now}: {plate_words(way.advised, unit)}{touching}."
