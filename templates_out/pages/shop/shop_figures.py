"""Sizes and amounts in the sentences of the work."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.solid.faces import Unmeasured
from geometry.units.units import format_length
from templates_out.drawing.sheet_figures import unbroken
from templates_out.pages.shop.shop_buy import millilitres

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.units.units import Unit


def takes(amount: Callable[[], tuple[str, tuple[float, float]]]) -> str:
    """Say how much epoxy a step takes, and how much to mix; "" where that is not known."""
    try:
        needed, mix = amount()
    except Unmeasured:
        return ""
    return f" This takes {needed}: mix {millilitres(mix)}."


def size_of(mm: float, unit: Unit) -> str:
    """Return a size in the person's unit: "17/32 in"."""
    return unbroken(format_length(mm, unit, denominator=64, style="paper"))


def both_units(mm: float, unit: Unit) -> str:
    """Return a size in both units: "17/32 in (13.5 mm)"."""
    inches, metric = size_of(mm, "in"), f"{mm:g} mm" if mm < 1 else size_of(mm, "mm")
    return _pair(inches, metric, unit)


def round_size(mm: float, unit: Unit) -> str:
    """Return a round length of the metric trade with its round counterpart, an inch for 25 mm: "1 in (25 mm)"."""
    return _pair(f"{mm / 25:g} in", f"{mm:g} mm", unit)


def _pair(inches: str, metric: str, unit: Unit) -> str:
    return unbroken(f"{inches} ({metric})" if unit == "in" else f"{metric} ({inches})")


def capital(text: str) -> str:
    """Return a text with a capital at its beginning."""
    return text[:1].upper() + text[1:]
