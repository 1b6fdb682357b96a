"""Torque, force, pressure, power, shares and plain numbers as a person writes them, and back.

They become N m, N, N/mm2, kW, parts of 1 and numbers. Inch boats use lb-ft, lbf, psi and hp, metric boats N m, N or kN,
N/mm2 and kW. A number with a unit is in that unit. A
number without one is in the unit of the design.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

from geometry.errors import OwnerError
from geometry.tables.known import KW_PER_HP, MPA_PER_KSI, N_PER_LBF, NM_PER_LB_FT
from geometry.units.units import quoted

if TYPE_CHECKING:
    from geometry.units.units import Unit


class ForceError(OwnerError, ValueError):
    """A text that does not read as a torque, a force, a pressure, a power or a plain number."""


# kind -> unit with inches, unit with millimetres, an example, and what each unit, its marks left out, is in the program's
_UNITS: dict[str, tuple[str, str, str, dict[str, float]]] = {
    "torque": ("lb-ft", "N·m", "40 lb-ft or 54 N·m", {
        "lbft": NM_PER_LB_FT, "ftlb": NM_PER_LB_FT, "lbfft": NM_PER_LB_FT, "ftlbf": NM_PER_LB_FT, "lbin": NM_PER_LB_FT / 12,
        "inlb": NM_PER_LB_FT / 12, "nm": 1.0,
    }),
    "force": ("lbf", "N", "800 lbf or 3.6 kN", {"lbf": N_PER_LBF, "lb": N_PER_LBF, "n": 1.0, "kn": 1000.0}),
    "pressure": ("psi", "N/mm²", "1500 psi or 10.5 N/mm²", {
        "psi": MPA_PER_KSI / 1000, "lbf/in2": MPA_PER_KSI / 1000, "mpa": 1.0, "n/mm2": 1.0,
    }),
    "power": ("hp", "kW", "40 hp or 30 kW", {"hp": KW_PER_HP, "kw": 1.0, "w": 0.001}),
    "number": ("", "", "0.14", {}),
    "share": ("%", "%", "40 %", {"%": 0.01}),
    "diameters": ("diameters", "diameters", "1.5 diameters", {"diameters": 1.0, "diameter": 1.0}),
}  # fmt: skip
KINDS = tuple(_UNITS)
_HIGH_PSI = 5000
_ENTRY = r"([0-9]+(?:\.[0-9]*|,[0-9]{1,2})?|\.[0-9]+)(?![0-9.,]) ?([a-z%].*)?"
_MARKS = str.maketrans({"·": "", "-": "", "‑": "", ".": "", "²": "2", "⋅": "", "*": "", " ": ""})


def read(kind: str, text: str, unit: Unit) -> float:
    """Return what a person wrote for a value of ``kind``: [N m], [N], [N/mm2], [kW] or a plain number.

    Raises:
        ForceError: it does not read as such.
    """
    entry = re.fullmatch(_ENTRY, " ".join(text.lower().split()))
    inch, metric, example, known = _UNITS[kind]
    named = ((entry and entry[2]) or (inch if unit == "in" else metric)).lower().translate(_MARKS).replace("lbs", "lb")
    factor = known.get(named, math.nan) if named or known else 1.0
    value = float(entry[1].replace(",", ".")) * factor if entry else math.nan
    if not math.isfinite(value):
        noun = "number of diameters" if kind == "diameters" else kind
        raise ForceError(f"{quoted(text.strip())} does not read as a {noun}. Write it like {example}.")
    return value


def written(kind: str, value: float, unit: Unit) -> str:
    """Return a value as a person reads it: "30 lb-ft", "40.5 N·m", "26.7 kN", "1520 psi", "40 hp", "0.14"."""
    match kind:
        case "torque":
            return torque(value, unit)
        case "force":
            return force(value, unit)
        case "pressure":
            return pressure(value, unit)
        case "power":
            return power(value, unit)
        case "share":
            return f"{round(100 * value, 2):.10g} %"
        case "diameters":
            return f"{value:.4g} diameter{'' if value == 1 else 's'}"
        case _:
            return f"{round(value, 4):.4g}"


def step(kind: str, value: float, unit: Unit) -> float:
    """Return the step of an arrow key for a value of ``kind``, in its unit."""
    inch = unit == "in"
    match kind:
        case "torque":
            return NM_PER_LB_FT if inch else 1.0
        case "force":
            return 10 * N_PER_LBF if inch else 50.0
        case "pressure":
            return MPA_PER_KSI / 10 if inch else 0.5
        case "power":
            return KW_PER_HP if inch else 1.0
        case "share":
            return 0.01
        case _:
            return 0.5 if value >= 1 else 0.01


def torque(nm: float, unit: Unit, *, down: bool = False, up: bool = False, most: float = math.inf) -> str:
    """Return a torque to the nearest lb-ft or half N·m: "30 lb-ft", "40.5 N·m".

    Args:
        down: round it down. up: round it up. most: round it down where the nearest step is more than this [N m]; to 1e-6.
    """
    per, step, word = (NM_PER_LB_FT, 1.0, "lb-ft") if unit == "in" else (1.0, 0.5, "N·m")
    nearest = _stepped(nm / per, step, down=False)
    figure = _stepped(nm / per, step, down=True) if down or nearest * per > most + 1e-6 else nearest
    if up:
        figure = -_stepped(-nm / per, step, down=True)
    return f"{figure:g} {word}"


def force(newtons: float, unit: Unit, *, down: bool = False) -> str:
    """Return a force to the nearest 10 lbf or 0.1 kN, or ``down`` to it: "6010 lbf", "26.7 kN"."""
    if unit == "in":
        return f"{math.floor(newtons / N_PER_LBF / 10 + 1e-6) * 10 if down else round(newtons / N_PER_LBF, -1):.0f} lbf"
    return f"{math.floor(newtons / 100 + 1e-6) / 10 if down else newtons / 1000:.1f} kN"


def pressure(stress: float, unit: Unit) -> str:
    """Return a pressure to the nearest 10 psi, from 5000 psi on 50, or 0.1 N/mm²: "1520 psi", "10.5 N/mm²"."""
    if unit == "in":
        psi = stress / MPA_PER_KSI * 1000
        step = 10 if psi < _HIGH_PSI else 50
        return f"{step * round(psi / step):.0f} psi"
    return f"{stress:.1f} N/mm²".replace(".0 ", " ")


def power(kw: float, unit: Unit) -> str:
    """Return a power to the nearest 0.1, from 20 hp on to the nearest hp: "9.9 hp", "40 hp", "29.8 kW"."""
    hp = kw / KW_PER_HP
    if unit == "in":
        return f"{hp:.0f} hp" if hp >= 20 else f"{hp:.1f}".removesuffix(".0") + " hp"
    return f"{kw:.1f}".removesuffix(".0") + " kW"


def _stepped(value: float, step: float, *, down: bool) -> float:
    return step * (math.floor(value / step + 1e-6) if down else math.floor(value / step + 0.5 + 1e-6))
