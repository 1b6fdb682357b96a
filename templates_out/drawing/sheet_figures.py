"""Figures as the sheets write them: the person's unit first, the other in brackets."""

from __future__ import annotations

import re

from geometry.units.units import Unit, format_both, format_length
from templates_out.drawing.fonts import writable


def both(mm: float, unit: Unit) -> str:
    """Return a place: "6-7/16 in (163.5 mm)"."""
    return format_both(mm, unit)


def check_figure(mm: float, unit: Unit) -> str:
    """Return a distance to check by tape, as short as it must be on a line: "12-7/8 in (327.0)", "327.0 mm (12-7/8 in)"."""
    inches = format_length(mm, "in", denominator=64, style="paper")
    return f"{inches} ({mm:.1f})" if unit == "in" else f"{mm:.1f} mm ({inches})"


def unbroken(figure: str) -> str:
    """Return a figure that no line of running text breaks."""
    return figure.replace(" ", "\N{NO-BREAK SPACE}")


def printed(text: str) -> str:
    """Return a sentence with its figures as paper has them: a hyphen before a fraction, unbroken before the unit."""
    hyphened = re.sub(r"(\d) (\d+/\d)", r"\1-\2", writable(text))
    return re.sub(r"(\d) (in\b|mm\b|%)", "\\1\N{NO-BREAK SPACE}\\2", hyphened)


def across(u: float, unit: Unit) -> str:
    """Return where a place is, across: "6-7/16 in to port (163.5 mm)"."""
    if abs(u) < 0.05:
        return "on the centreline"
    side = "port" if u < 0 else "starboard"
    first, other = both(abs(u), unit).split(" (", 1)
    return f"{first} to {side} ({other}"


def below(v: float, unit: Unit) -> str:
    """Return how far down a place is: "2 in below the top edge (50.8 mm)"."""
    first, other = both(abs(v), unit).split(" (", 1)
    return f"{first} {'below' if v <= 0 else 'above'} the top edge ({other}"


def drills(pilot: float, final: float, unit: Unit) -> str:
    """Return both drills: "pilot 1/8, final 17/32 in (13.5 mm)"."""
    first = format_length(pilot, unit, denominator=64, style="paper", unit_word=False)
    return f"pilot {first}, final {both(final, unit)}"


def pilot_now(pilot: float, unit: Unit) -> str:
    """Return the drill of the one pilot that is drilled by a sheet: "PILOT HERE: 1/8 in, and no more"."""
    return f"PILOT HERE: {format_length(pilot, unit, denominator=64, style='paper')}, and no more"


def pilot_later() -> str:
    """Return what is said at the other holes of such a sheet."""
    return "no drill here yet: print again first"


def opened(final: float, unit: Unit) -> str:
    """Return what is done with a reused old hole: "reused: open to 17/32 in (13.5 mm)"."""
    return f"reused: open to {both(final, unit)}"


def direction(tilt: float) -> str:
    """Return the drill's direction: "SQUARE TO THE FACE", "TILT UP 8°" (the drill rises going in)."""
    if abs(tilt) < 0.05:
        return "SQUARE TO THE FACE"
    return f"TILT {'UP' if tilt > 0 else 'DOWN'} {abs(tilt):.3g}° going in"
