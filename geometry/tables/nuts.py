"""Nuts: hex, jam and nylon-insert lock nuts, inch and metric.

Two traps: the flats of DIN nuts are 1 mm wider than those of ISO nuts at M10 and M12, and the 7/16 plain nut (11/16)
takes another wrench than the 7/16 bolt head and the 7/16 lock nut (5/8).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import sqrt

import msgspec

from geometry.tables.bolts import bolt
from geometry.tables.known import MEMORY, SECONDARY, NotListedError, inches


class Nut(msgspec.Struct, frozen=True):
    """A nut for one bolt.

    Attributes:
        name: standard and kind: "ASME B18.16.6 NE", "ISO 7040".
        bolt: name of the bolt that it fits.
        flats: across flats, largest listed [mm].
        corners: across corners, largest listed, or flats * 2/sqrt(3) where only flats are [mm].
        height: largest listed [mm]; of a lock nut with its insert.
        source: where the sizes are published, and how well they are known.
    """

    name: str
    bolt: str
    flats: float
    corners: float
    height: float
    source: str


_Size = tuple[float, float | None, float]  # flats, corners, height: each the maximum; None where no maximum is listed

# name -> (what is known of it, thread diameter -> sizes [in])
_INCH: dict[str, tuple[str, dict[str, _Size]]] = {
    "ASME B18.16.6 NE": (
        SECONDARY,
        {"3/8": (0.564, None, 0.468), "7/16": (0.627, None, 0.468), "1/2": (0.752, None, 0.609)},
    ),
    "ASME B18.2.2 hex": (
        SECONDARY,
        {"3/8": (0.562, 0.650, 0.337), "7/16": (0.688, 0.794, 0.385), "1/2": (0.750, 0.866, 0.448)},
    ),
    "ASME B18.2.2 hex jam": (  # basic heights 7/32, 1/4, 5/16: read in a secondary copy
        f"{SECONDARY}, largest heights {MEMORY}",
        {"3/8": (0.562, 0.650, 0.227), "7/16": (0.688, 0.794, 0.260), "1/2": (0.750, 0.866, 0.323)},
    ),
}
# the same in millimetres; only the least across corners is listed, so corners come from the flats
_METRIC: dict[str, tuple[str, dict[str, _Size]]] = {
    "ISO 7040": (SECONDARY, {"M10x1.5": (16.0, None, 11.9), "M12x1.75": (18.0, None, 14.9)}),
    "DIN 985": (SECONDARY, {"M10x1.5": (17.0, None, 10.0), "M12x1.75": (19.0, None, 12.0)}),
    "ISO 4032": (SECONDARY, {"M10x1.5": (16.0, None, 8.4), "M12x1.75": (18.0, None, 10.8)}),
    "ISO 4035": (  # flats at M12 read in a secondary copy (one data set has 19 by mistake); height at M10 from memory
        f"{SECONDARY}, M10 height {MEMORY}",
        {"M10x1.5": (16.0, None, 5.0), "M12x1.75": (18.0, None, 6.0)},
    ),
    "DIN 934": (SECONDARY, {"M10x1.5": (17.0, None, 8.0), "M12x1.75": (19.0, None, 10.0)}),
}
_THREADS = {"3/8": ("3/8-16",), "7/16": ("7/16-14",), "1/2": ("1/2-13", "1/2-20")}


def _rows() -> Iterator[Nut]:
    for name, (known, sizes) in _INCH.items():
        for size, (flats, corners, height) in sizes.items():
            for thread in _THREADS[size]:
                yield _nut(name, thread, (flats, corners, height), inches, known)
    for name, (known, sizes) in _METRIC.items():
        for thread, listed in sizes.items():
            yield _nut(name, thread, listed, float, known)


def _nut(name: str, thread: str, size: _Size, to_mm: Callable[[float], float], known: str) -> Nut:
    flats, corners, height = size
    across = flats * 2 / sqrt(3) if corners is None else corners
    return Nut(name, thread, to_mm(flats), to_mm(across), to_mm(height), f"{name}; {known}")


_NUTS = {(row.name, row.bolt): row for row in _rows()}


def nut(name: str, bolt_name: str) -> Nut:
    """Return the nut called ``name`` for the bolt called ``bolt_name``.

    Raises:
        NotListedError: there is no such bolt, no such nut, or that nut is not listed for that bolt.
    """
    found = _NUTS.get((name, bolt_name))
    if found is None:
        choices = ", ".join(nut_names(bolt_name))
        raise NotListedError(
            f'There is no nut "{name}" for a {bolt_name} bolt in the tables. Choose one of: {choices}.'
        )
    return found


def nut_names(bolt_name: str) -> tuple[str, ...]:
    """Return the nuts listed for the bolt called ``bolt_name``, lock nuts first.

    Raises:
        NotListedError: there is no such bolt.
    """
    bolt(bolt_name)
    return tuple(name for name, thread in _NUTS if thread == bolt_name)
