"""Flat washers, inch and metric.

Outer and inner diameters are nominal. The outer one of an ASME type A washer may be 0.030 in (0.76 mm) over, as listed
for these sizes; so the washer in hand is worth measuring.
"""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from geometry.tables.known import MEMORY, PRACTICE, SECONDARY, inches, look_up


class FlatWasher(msgspec.Struct, frozen=True):
    """A flat washer.

    Attributes:
        name: standard and series.
        outer: outside diameter, nominal [mm].
        inner: bore, nominal [mm].
        thickness: largest listed, else the nominal [mm].
        nominal_thickness: [mm].
        source: where the sizes are published, and how well they are known.
    """

    name: str
    outer: float
    inner: float
    thickness: float
    nominal_thickness: float
    source: str


# name, outer, inner, thickness nominal, thickness largest (None: not listed) [in], how well known
_Row = tuple[str, float, float, float, float | None, str]
_A, _B = "ASME B18.21.1 type A", "ASME B18.21.1 type B"
_READ_A = "read in a handbook's copy of the 2009 edition"
_PART_A = f"{_READ_A}, largest thickness {MEMORY}"
_READ_B = f"{SECONDARY}, largest thickness {MEMORY}"
_PART_B = f"{SECONDARY}, thickness {MEMORY}"
_FENDER = "fender"

_INCH: dict[str, tuple[_Row, ...]] = {
    "3/8": (
        (f"{_A} narrow", 0.812, 0.406, 0.065, 0.080, _READ_A),
        (f"{_A} wide", 1.000, 0.438, 0.083, 0.104, _READ_A),
        (f"{_B} narrow", 0.734, 0.406, 0.063, 0.071, _PART_B),
        (f"{_B} regular", 1.000, 0.406, 0.063, 0.071, _PART_B),
        (f"{_B} wide", 1.250, 0.406, 0.100, 0.112, _PART_B),
        (f"{_FENDER} 1-1/4 in", 1.250, 13 / 32, 0.062, None, PRACTICE),
        (f"{_FENDER} 1-1/2 in", 1.500, 13 / 32, 0.062, None, PRACTICE),
    ),
    "7/16": (
        (f"{_A} narrow", 0.922, 0.469, 0.065, 0.080, _PART_A),
        (f"{_A} wide", 1.250, 0.500, 0.083, 0.104, _PART_A),
        (f"{_B} narrow", 0.875, 0.469, 0.063, 0.071, _PART_B),
        (f"{_B} regular", 1.125, 0.469, 0.063, 0.071, _PART_B),
        (f"{_B} wide", 1.469, 0.469, 0.100, 0.112, _PART_B),
    ),
    "1/2": (
        (f"{_A} narrow", 1.062, 0.531, 0.095, 0.121, _READ_A),
        (f"{_A} wide", 1.375, 0.562, 0.109, 0.132, _READ_A),
        (f"{_B} narrow", 1.000, 0.531, 0.063, 0.071, _READ_B),
        (f"{_B} regular", 1.250, 0.531, 0.100, 0.112, _READ_B),
        (f"{_B} wide", 1.750, 0.531, 0.100, 0.112, _READ_B),
        (f"{_FENDER} 1-1/2 in", 1.500, 17 / 32, 0.080, None, PRACTICE),
        (f"{_FENDER} 2 in", 2.000, 17 / 32, 0.080, None, PRACTICE),
    ),
}
# the same in millimetres
_PART_7094 = f"{SECONDARY}, nominal thickness {MEMORY}"
_METRIC: dict[str, tuple[_Row, ...]] = {
    "M10x1.5": (
        ("ISO 7089", 20.0, 10.5, 2.0, 2.2, SECONDARY),
        ("ISO 7093-1 large", 30.0, 10.5, 2.5, 2.7, SECONDARY),
        ("ISO 7091", 20.0, 11.0, 2.0, 2.3, SECONDARY),
        ("ISO 7094 extra large", 34.0, 11.0, 3.0, 3.6, _PART_7094),
    ),
    "M12x1.75": (
        ("ISO 7089", 24.0, 13.0, 2.5, 2.7, SECONDARY),
        ("ISO 7093-1 large", 37.0, 13.0, 3.0, 3.3, SECONDARY),
        ("ISO 7091", 24.0, 13.5, 2.5, 2.8, SECONDARY),
        ("ISO 7094 extra large", 44.0, 13.5, 4.0, 4.6, _PART_7094),
    ),
}


def _made(rows: tuple[_Row, ...], to_mm: Callable[[float], float]) -> tuple[FlatWasher, ...]:
    return tuple(
        FlatWasher(name, to_mm(outer), to_mm(inner), to_mm(largest or nominal), to_mm(nominal), f"{name}; {known}")
        for name, outer, inner, nominal, largest, known in rows
    )


_HALF = _made(_INCH["1/2"], inches)
_WASHERS = {
    "3/8-16": _made(_INCH["3/8"], inches),
    "7/16-14": _made(_INCH["7/16"], inches),
    "1/2-13": _HALF,
    "1/2-20": _HALF,
    **{thread: _made(rows, float) for thread, rows in _METRIC.items()},
}


def washers(bolt_name: str) -> tuple[FlatWasher, ...]:
    """Return the washers listed for the bolt called ``bolt_name``.

    Raises:
        OwnerError: there is no such bolt.
    """
    return look_up(_WASHERS, bolt_name, "bolt")
