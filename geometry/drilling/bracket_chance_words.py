"""The chance that the bracket will go on, in words: for the card and the shop sheet."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.drilling.bracket_chance import WAYS, Advice, Chances, advice
from geometry.units.units import Unit, format_length

if TYPE_CHECKING:
    from geometry.design.design import Design

TITLE = "Will the bracket go on?"
_DRILL = {
    "paper and punch": "Punch each dot and drill with care.",
    "guide block": "Drill every hole with a guide block.",
    "lower holes through the bracket": "Drill the upper holes with a guide block. Hang the bracket on them, then drill the "
    "lower holes through it.",
}


def percent(share: float) -> str:
    """Say a chance, never as nothing and never as certain: "under 1 %", "62 %", "over 99 %"."""
    whole = math.floor(share * 100 + CLOSE)
    said = "under 1" if whole < 1 else "over 99" if share > 0.99 else f"{whole}"
    return f"{said} %"


def size_words(table: Chances, unit: Unit) -> tuple[str, ...]:
    """Return the sizes as an owner's rule and drills have them: "17/32 in"."""
    return tuple(format_length(size, unit, denominator=64) for size in table.sizes)


def way_rows(table: Chances) -> tuple[tuple[str, ...], ...]:
    """Return a row for each way: its name, then its chance with each size."""
    return tuple(
        (way.name, *(percent(share) for share in shares)) for way, shares in zip(WAYS, table.shares, strict=True)
    )


def card_lines(design: Design, table: Chances) -> tuple[str, ...]:
    """Say the chances a line for each way: "Will the bracket go on? With 1/2, 17/32 or 9/16 in holes:"."""
    sizes = size_words(table, design.units)
    listed = f"{', '.join(sizes[:-1])} or {sizes[-1]}" if len(sizes) > 1 else sizes[0]
    return (
        f"{TITLE} With {listed} holes:",
        *(f"{name[:1].upper()}{name[1:]}: {', '.join(shares)}." for name, *shares in way_rows(table)),
    )


def advice_words(design: Design, index: int, table: Chances) -> str:
    """Say what to drill, and how."""
    hardware = design.mounts[index].lower_hardware
    planned = None if hardware is None else hardware.hole
    best = advice(table, planned)
    if best is None:
        return (
            "None of these ways makes it likely enough that the bracket goes on. Measure the bracket’s holes and slots again, "
            "or move the lower bolts away from the end of their slot."
        )
    size = format_length(best.size, design.units, denominator=64)
    return f"{_first(best, size, planned)} {_DRILL[best.way.name]}"


def _first(best: Advice, size: str, planned: float | None) -> str:
    chance = f"The bracket then goes on in {percent(best.chance)} of cases."
    if planned is not None and abs(best.size - planned) <= CLOSE:
        return f"Keep {size} holes. {chance}"
    return f"Choose {size} holes. {chance}"
