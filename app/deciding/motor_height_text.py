"""Will it hang low enough? Said in sentences, for the panel and for a screen reader."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.deciding.fit_text import plate_words
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.decide.alternatives import Kind, LowEnough, Way
    from geometry.design.design import Design

SEATS: dict[Kind, str] = {
    "chosen": "As it is fitted now",
    "plain": "Whole washers",
    "cut": "Washers cut flat",
    "plate": "Relieved backing plate",
}
_NO_PLACE = "No. No place gives the lower bolts room and keeps the upper ones far enough below the top edge."
_NEAR = 0.8  # mm: a tape's reading


def answer_words(design: Design, outcome: LowEnough) -> str:
    """Answer the question in one sentence."""
    if outcome.down is None:
        return "Not known yet."
    usual = outcome.usual[1]
    heights = [(way.advised, way) for way in outcome.ways if way.advised is not None]
    if not outcome.ways:
        height = plate_words(outcome.down, design.units)
        return f"The motor clamps on. Its AV plate is {height}, which is {_judged(outcome.down, outcome)}."
    if not heights:
        return "Not known yet." if outcome.missing else _NO_PLACE
    plainest = next((way for height, way in heights if height <= usual + _NEAR), None)
    if plainest is None:
        lowest, way = min(heights, key=lambda pair: (round(pair[0], 1), 0))
        return f"No. Even with {SEATS[way.seat.kind].lower()} the AV plate is {plate_words(lowest, design.units)}."
    if plainest.seat.kind in ("plain", "chosen"):
        return f"Yes, with {'whole washers' if plainest.seat.kind == 'plain' else 'what is fitted now'}."
    named = "washers cut flat" if plainest.seat.kind == "cut" else "a relieved backing plate"
    return f"Yes, with {named}, but not with whole washers."


def _judged(height: float, outcome: LowEnough) -> str:
    low, high = outcome.usual
    if height > high + _NEAR:
        return "higher than usual"
    return "lower than usual" if height < low - _NEAR else "usual"


def usual_words(design: Design, outcome: LowEnough) -> str:
    """Say what the pale band is, and where its heights come from."""
    low, high = (format_length(height, design.units, denominator=16) for height in outcome.usual)
    low = low.split()[0]
    set_back = any(mount.set_back for mount in design.mounts)
    raised = " A twelfth of the set-back is in it." if set_back and outcome.usual[0] > 0 else ""
    return f"Pale band: the usual height, {low} to {high} above the bottom. It is common practice.{raised}"


def way_words(design: Design, way: Way) -> str:
    """Say how low the AV plate can be with one way to seat the washers."""
    unit, name = design.units, SEATS[way.seat.kind]
    now = " (fitted now)" if way.seat.present and way.seat.kind != "chosen" else ""
    if way.missing is not None:
        return f"{name}{now}: not known."
    if way.advised is None:
        touching = "" if way.least is None else f". With no clearance at all: {plate_words(way.least, unit)}"
        return f"{name}{now}: no place has the advised clearance and keeps the upper holes below the top edge{touching}."
    same = way.least is None or abs(way.least - way.advised) < _NEAR
    touching = "" if same else f". With no clearance at all: {plate_words(way.least, unit)}"
    return f"{name}{now}: {plate_words(way.advised, unit)}{touching}."
