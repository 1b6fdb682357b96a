"""The taped-up paper in words: the figures of its table, the one answer, and why."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.survey.taped_paper import bars
from geometry.units.units import format_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.survey.taped_paper import Causes, Paper, Row, Verdict
    from geometry.units.units import Style, Unit

FROM = (
    "Lay a straightedge along the fold and along the centreline of the top sheet that has the centreline. Measure the holes to "
    "them. Top edge and boat centreline are the boat’s own, not lines on the paper."
)
_STEP: dict[Unit, float] = {"in": 25.4 / 64, "mm": 0.1}  # [mm] how finely a steel rule is read
_OPEN, _SHIFTED, _LEANING, _SCALED = 0.5, 1.0, 0.15, 0.0015  # what is worth a sentence: mm, mm, degrees, a share


def figure(mm: float, unit: Unit, style: Style = "screen") -> str:
    """Return a length as a rule shows it, to 1/64 in or 0.1 mm."""
    return format_length(mm, unit, denominator=64, style=style) if unit == "in" else format_length(mm, unit, places=1)


def allowed(row: Row, unit: Unit, style: Style = "screen") -> str:
    """Return the least and the most that a rule may show of a row: "12 27/32 to 12 29/32 in". Nobody has to subtract."""
    step = _STEP[unit]
    least = max(0.0, math.ceil((row.expected - row.within) / step - 1e-6) * step)
    most = math.floor((row.expected + row.within) / step + 1e-6) * step
    first, last = figure(least, unit, style), figure(most, unit, style)
    return f"{first.removesuffix(f' {unit}')} to {last}"


def verdict_words(verdict: Verdict, paper: Paper, unit: Unit, nominal: tuple[float, float]) -> str:
    """Return the answer, in one to four sentences. ``nominal``: how long the bars of sheet A say they are [mm]."""
    why = fault_words(verdict, paper, unit)
    match verdict.answer:
        case "go on":
            return "Go on: every figure is within its tolerance. Punch the dots."
        case "measure the rest":
            count = len(verdict.missing)
            rest = f"{verdict.missing[0]}" if count == 1 else f"{count} lines of the table, first {verdict.missing[0]}"
            start = f"Off already: {verdict.out[0]}. " if verdict.out else ""
            return f"{start}Measure the rest before you punch: {rest}."
        case "read again":
            return f"Read {verdict.again} again: it alone does not agree with the others."
        case "re-tape":
            return f"Tape it again. {why}".strip()
        case "print again":
            if verdict.causes is None:
                raise AssertionError("a print is asked for by its scale alone")
            across, up = (figure(bar, unit) for bar in bars(verdict.causes, nominal))
            return (
                f"Print again: the paper is not at its size. {why} Type in the bars of sheet A: across {across}, up {up}. "
                "Measure the bars too: if they differ from these, type in what they measure."
            )


def fault_words(verdict: Verdict, paper: Paper, unit: Unit) -> str:
    """Return what is wrong with the paper, in a sentence or two; "" where too little was read to say."""
    if verdict.causes is None:
        return f"Off: {', '.join(verdict.out)}." if verdict.out else ""
    said = list(_faults(verdict.causes, paper, unit))
    return " ".join(said) or f"Off: {', '.join(verdict.out)}."


def _faults(causes: Causes, paper: Paper, unit: Unit) -> Iterator[str]:
    for share, way in zip(causes.scale, ("across", "up and down"), strict=True):
        if abs(share) > _SCALED:
            yield f"It is {abs(share) * 100:.1f} % too {'long' if share > 0 else 'short'} {way}."
    for number, wide in enumerate(causes.open):
        if abs(wide) >= _OPEN:
            name = next((row.name for row in paper.rows if row.kind == "join" and row.seam == number), "A join")
            yield f"{name[:1].upper()}{name[1:]} is {_length(abs(wide), unit)} too {'wide' if wide > 0 else 'narrow'}."
    if abs(causes.turned) >= _LEANING:
        way = "anticlockwise" if causes.turned > 0 else "clockwise"
        yield f"It is turned {abs(causes.turned):.1f}° {way}."
    if abs(causes.skewed) >= _LEANING:
        yield f"It is skewed by {abs(causes.skewed):.1f}°: smooth it flat."
    right, up = causes.shift
    if abs(right) >= _SHIFTED:
        yield f"It is {_length(abs(right), unit)} too far to {'starboard' if right > 0 else 'port'}."
    if abs(up) >= _SHIFTED:
        yield f"It is {_length(abs(up), unit)} too {'high' if up > 0 else 'low'}."


def _length(mm: float, unit: Unit) -> str:
    return format_length(mm, unit, denominator=32) if unit == "in" else format_length(mm, unit, places=1)
