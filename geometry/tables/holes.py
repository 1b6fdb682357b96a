"""Clearance holes: ISO 273 for metric bolts, ASME B18.2.8 for inch bolts."""

from __future__ import annotations

import msgspec

from geometry.tables.known import SECONDARY, inches, look_up


class ClearanceHoles(msgspec.Struct, frozen=True):
    """The three published hole diameters for one bolt [mm].

    Attributes:
        close: fine (ISO 273) or close (ASME B18.2.8) fit.
        normal: medium or normal fit.
        loose: coarse or loose fit.
        source: where they are published, and how well they are known.
    """

    close: float
    normal: float
    loose: float
    source: str


def _inch(close: float, normal: float, loose: float) -> ClearanceHoles:
    source = f"ASME B18.2.8; {SECONDARY}"
    return ClearanceHoles(inches(close), inches(normal), inches(loose), source)


def _metric(close: float, normal: float, loose: float) -> ClearanceHoles:
    return ClearanceHoles(close, normal, loose, f"ISO 273; {SECONDARY}")


_HALF = _inch(17 / 32, 9 / 16, 39 / 64)
_HOLES = {
    "3/8-16": _inch(25 / 64, 13 / 32, 27 / 64),
    "7/16-14": _inch(29 / 64, 15 / 32, 31 / 64),
    "1/2-13": _HALF,
    "1/2-20": _HALF,
    "M10x1.5": _metric(10.5, 11.0, 12.0),
    "M12x1.75": _metric(13.0, 13.5, 14.5),  # some data sets have 13, 14, 15: those are not ISO 273
}


def clearance_holes(bolt_name: str) -> ClearanceHoles:
    """Return the clearance holes for the bolt called ``bolt_name``.

    Raises:
        OwnerError: there is no such bolt.
    """
    return look_up(_HOLES, bolt_name, "bolt")
