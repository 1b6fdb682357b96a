"""Every bolt size, one record each: the bolt, the holes that clear it, its washers and its nuts.

To add a size, add a record here. Look things up in `fasteners`.
Inch sizes: ASME B18.2.1, B18.2.8, B18.21.1, B18.16.6 and B18.2.2. Metric ones: ISO 4014, 273, 7089 to 7094, 7040, 4032, 4035
and DIN 985, 934. Each figure's own source is with the record.

There are two traps. The flats of DIN nuts are 1 mm wider than those of ISO nuts at M10 and M12. The 7/16 plain nut (11/16)
takes another wrench than the 7/16 bolt head and the 7/16 lock nut (5/8).
"""

from __future__ import annotations

from math import sqrt

import msgspec
from msgspec.structs import replace

from geometry.tables.bolts import Bolt, inch_bolt, metric_bolt
from geometry.tables.known import MEMORY, PRACTICE, SECONDARY, inches

NM_PER_LBF_IN = 0.1129848290276167  # NIST SP 811, appendix B.8


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


class FlatWasher(msgspec.Struct, frozen=True):
    """A flat washer.

    Attributes:
        name: standard and series.
        outer: outside diameter, nominal [mm].
        inner: bore, nominal [mm].
        thickness: largest listed, else the nominal [mm].
        nominal_thickness: [mm].
        source: where the sizes are published, and how well they are known.
        wider: by how much the outside may be over its nominal size [mm]; None where no tolerance was read.
    """

    name: str
    outer: float
    inner: float
    thickness: float
    nominal_thickness: float
    source: str
    wider: float | None = None


class Nut(msgspec.Struct, frozen=True):
    """A nut for one bolt.

    Attributes:
        name: standard and kind: "ASME B18.16.6 NE", "ISO 7040".
        bolt: name of the bolt that it fits.
        flats: across flats, largest listed [mm].
        corners: across corners, largest listed, or flats * 2/sqrt(3) where only flats are [mm].
        height: largest listed [mm]; of a lock nut with its insert.
        source: where the sizes are published, and how well they are known.
        locks: whether it is a lock nut, which takes a torque to turn on its thread.
        drag: that torque of a new nut at first fitting, the greatest listed [N m]; None where none is. It may be a tenth of it.
        drag_source: where that is published.
    """

    name: str
    bolt: str
    flats: float
    corners: float
    height: float
    source: str
    locks: bool = False
    drag: float | None = None
    drag_source: str = ""


class BoltSize(msgspec.Struct, frozen=True, kw_only=True):
    """All that is published of one bolt size.

    Attributes:
        nuts: lock nuts first; the first is the usual one.
    """

    bolt: Bolt
    holes: ClearanceHoles
    washers: tuple[FlatWasher, ...]
    nuts: tuple[Nut, ...]

    def __post_init__(self) -> None:
        if not self.washers or not self.nuts:
            raise ValueError(f"{self.bolt.name} has no washers or no nuts; every size needs both")


_Washer = tuple[float, float, float, float | None]  # outer, inner, thickness nominal, thickness largest (None: not listed)
_Nut = tuple[float, float | None, float]  # flats, corners (None: no maximum is listed), height: each the maximum

_TYPE_A_WIDER = inches(0.030)  # +0.030 and -0.007 in for all these sizes, read in the same handbook as the sizes
_NE_DRAG = f"ASME B18.16.6, first installation; {SECONDARY}"  # lbf in: coarse threads only were read
_METRIC_DRAG = f"ISO 2320, first assembly of steel nuts; {MEMORY}"


def _inch_holes(close: float, normal: float, loose: float) -> ClearanceHoles:
    return ClearanceHoles(inches(close), inches(normal), inches(loose), f"ASME B18.2.8; {SECONDARY}")


def _inch_washer(name: str, known: str, row: _Washer) -> FlatWasher:
    outer, inner, nominal, largest = row
    return FlatWasher(name, inches(outer), inches(inner), inches(largest or nominal), inches(nominal), f"{name}; {known}")


def _type_a(known: str, **rows: _Washer) -> tuple[FlatWasher, ...]:
    made = (_inch_washer(f"ASME B18.21.1 type A {series}", known, row) for series, row in rows.items())
    return tuple(replace(washer, wider=_TYPE_A_WIDER) for washer in made)


def _type_b(known: str, **rows: _Washer) -> tuple[FlatWasher, ...]:
    return tuple(_inch_washer(f"ASME B18.21.1 type B {series}", known, row) for series, row in rows.items())


def _nut(name: str, bolt: Bolt, sizes: _Nut, known: str = SECONDARY) -> Nut:
    flats, corners, height = sizes
    across = flats * 2 / sqrt(3) if corners is None else corners
    to_mm = inches if bolt.inch else float
    return Nut(name, bolt.name, to_mm(flats), to_mm(across), to_mm(height), f"{name}; {known}")


def _inch(
    bolt: Bolt, holes: ClearanceHoles, washers: tuple[FlatWasher, ...], *, lock: _Nut, plain: _Nut, jam: _Nut,
    drag: float,
) -> BoltSize:  # fmt: skip
    """Return an inch size; nuts [in], drag of the lock nut [lbf in].

    The basic heights of jam nuts, 7/32, 1/4 and 5/16, were read in a secondary copy.
    """
    drags = {"locks": True, "drag": drag * NM_PER_LBF_IN, "drag_source": _NE_DRAG}
    nylon = replace(_nut("ASME B18.16.6 NE", bolt, lock), **drags)
    jams = _nut("ASME B18.2.2 hex jam", bolt, jam, f"{SECONDARY}, largest heights {MEMORY}")
    return BoltSize(bolt=bolt, holes=holes, washers=washers, nuts=(nylon, _nut("ASME B18.2.2 hex", bolt, plain), jams))


def _metric(
    bolt: Bolt, holes: tuple[float, float, float], washers: dict[str, _Washer], *, iso_7040: _Nut, din_985: _Nut,
    iso_4032: _Nut, iso_4035: _Nut, din_934: _Nut, drag: float,
) -> BoltSize:  # fmt: skip
    """Return a metric size [mm]; drag of the lock nut [N m].

    Only the least across corners is listed, so corners are calculated from flats.
    """
    nuts = (
        replace(_nut("ISO 7040", bolt, iso_7040), locks=True, drag=drag, drag_source=_METRIC_DRAG),
        replace(_nut("DIN 985", bolt, din_985), locks=True),
        _nut("ISO 4032", bolt, iso_4032),
        # flats at M12 read in a secondary copy (one data set has 19 by mistake); height at M10 from memory
        _nut("ISO 4035", bolt, iso_4035, f"{SECONDARY}, M10 height {MEMORY}"),
        _nut("DIN 934", bolt, din_934),
    )
    rows = tuple(
        FlatWasher(name, outer, inner, largest or nominal, nominal,
                   f"{name}; {SECONDARY}{f', nominal thickness {MEMORY}' if '7094' in name else ''}")
        for name, (outer, inner, nominal, largest) in washers.items()
    )  # fmt: skip
    return BoltSize(bolt=bolt, holes=ClearanceHoles(*holes, f"ISO 273; {SECONDARY}"), washers=rows, nuts=nuts)


_READ_A = "read in a handbook's copy of the 2009 edition"
_PART_A = f"{_READ_A}, largest thickness {MEMORY}"
_READ_B = f"{SECONDARY}, largest thickness {MEMORY}"
_PART_B = f"{SECONDARY}, thickness {MEMORY}"

_HALF = _inch(
    inch_bolt("1/2-13", 1 / 2, 13, 0.750, 0.866, 0.323),
    _inch_holes(17 / 32, 9 / 16, 39 / 64),
    (
        *_type_a(_READ_A, narrow=(1.062, 0.531, 0.095, 0.121), wide=(1.375, 0.562, 0.109, 0.132)),
        *_type_b(_READ_B, narrow=(1.000, 0.531, 0.063, 0.071), regular=(1.250, 0.531, 0.100, 0.112),
                 wide=(1.750, 0.531, 0.100, 0.112)),
        _inch_washer("fender 1-1/2 in", PRACTICE, (1.500, 17 / 32, 0.080, None)),
        _inch_washer("fender 2 in", PRACTICE, (2.000, 17 / 32, 0.080, None)),
    ),
    lock=(0.752, None, 0.609), plain=(0.750, 0.866, 0.448), jam=(0.750, 0.866, 0.323), drag=204,
)  # fmt: skip


def _with_fine_thread(coarse: BoltSize, bolt: Bolt) -> BoltSize:
    """Return a size with a fine thread: its parts are as large, and no drag of its lock nut was read."""
    nuts = tuple(replace(nut, bolt=bolt.name, drag=None, drag_source="") for nut in coarse.nuts)
    return replace(coarse, bolt=bolt, nuts=nuts)


_ALL = (
    _inch(
        inch_bolt("3/8-16", 3 / 8, 16, 0.562, 0.650, 0.243),
        _inch_holes(25 / 64, 13 / 32, 27 / 64),
        (
            *_type_a(_READ_A, narrow=(0.812, 0.406, 0.065, 0.080), wide=(1.000, 0.438, 0.083, 0.104)),
            *_type_b(_PART_B, narrow=(0.734, 0.406, 0.063, 0.071), regular=(1.000, 0.406, 0.063, 0.071),
                     wide=(1.250, 0.406, 0.100, 0.112)),
            _inch_washer("fender 1-1/4 in", PRACTICE, (1.250, 13 / 32, 0.062, None)),
            _inch_washer("fender 1-1/2 in", PRACTICE, (1.500, 13 / 32, 0.062, None)),
        ),
        lock=(0.564, None, 0.468), plain=(0.562, 0.650, 0.337), jam=(0.562, 0.650, 0.227), drag=110,
    ),
    _inch(
        inch_bolt("7/16-14", 7 / 16, 14, 0.625, 0.722, 0.291),
        _inch_holes(29 / 64, 15 / 32, 31 / 64),
        (
            *_type_a(_PART_A, narrow=(0.922, 0.469, 0.065, 0.080), wide=(1.250, 0.500, 0.083, 0.104)),
            *_type_b(_PART_B, narrow=(0.875, 0.469, 0.063, 0.071), regular=(1.125, 0.469, 0.063, 0.071),
                     wide=(1.469, 0.469, 0.100, 0.112)),
        ),
        lock=(0.627, None, 0.468), plain=(0.688, 0.794, 0.385), jam=(0.688, 0.794, 0.260), drag=135,
    ),
    _HALF,
    _with_fine_thread(_HALF, inch_bolt("1/2-20", 1 / 2, 20, 0.750, 0.866, 0.323)),  # the same head
    _metric(
        metric_bolt(10.0, 1.5, 16.0, 6.69), (10.5, 11.0, 12.0),
        {
            "ISO 7089": (20.0, 10.5, 2.0, 2.2), "ISO 7093-1 large": (30.0, 10.5, 2.5, 2.7), "ISO 7091": (20.0, 11.0, 2.0, 2.3),
            "ISO 7094 extra large": (34.0, 11.0, 3.0, 3.6),
        },
        iso_7040=(16.0, None, 11.9), din_985=(17.0, None, 10.0), iso_4032=(16.0, None, 8.4), iso_4035=(16.0, None, 5.0),
        din_934=(17.0, None, 8.0), drag=10.5,
    ),
    _metric(
        metric_bolt(12.0, 1.75, 18.0, 7.79), (13.0, 13.5, 14.5),  # some data sets have 13, 14, 15: those are not ISO 273
        {
            "ISO 7089": (24.0, 13.0, 2.5, 2.7), "ISO 7093-1 large": (37.0, 13.0, 3.0, 3.3), "ISO 7091": (24.0, 13.5, 2.5, 2.8),
            "ISO 7094 extra large": (44.0, 13.5, 4.0, 4.6),
        },
        iso_7040=(18.0, None, 14.9), din_985=(19.0, None, 12.0), iso_4032=(18.0, None, 10.8), iso_4035=(18.0, None, 6.0),
        din_934=(19.0, None, 10.0), drag=15.5,
    ),
)  # fmt: skip

BOLT_SIZES: dict[str, BoltSize] = {size.bolt.name: size for size in _ALL}
"""Every bolt size by the name of its thread, in the order in which they are offered."""
