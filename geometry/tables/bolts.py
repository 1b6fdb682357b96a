"""Hex head bolts: threads, heads and lengths.

Inch rows: ASME B18.2.1 hex cap screws (not hex bolts, whose head is higher), threads of ASME B1.1.
Metric rows: ISO 4014, threads of ISO 261 and ISO 898-1.
"""

from __future__ import annotations

from math import pi, sqrt

import msgspec

from geometry.tables.known import MEMORY, MM_PER_INCH, SECONDARY, inches

_STOCK_INCH = tuple(inches(quarters / 4) for quarters in range(4, 25))  # 1/4 in steps: common practice, no source
_STOCK_METRIC = tuple(  # ISO 888, as ISO 4014 lists them: from memory
    float(length) for length in (*range(20, 75, 5), *range(80, 170, 10), 180, 200)
)
_LENGTH_GRAIN = 1e-6  # [mm] a length so little over a limit is still at it


class Bolt(msgspec.Struct, frozen=True):
    """An externally threaded fastener with a hex head.

    Attributes:
        name: thread, as written on the box: "1/2-13", "M12x1.75".
        diameter: nominal [mm].
        pitch: thread pitch [mm].
        stress_area: tensile stress area [mm2].
        head_flats: head, across flats, largest listed [mm].
        head_corners: head, across corners, largest listed, or flats * 2/sqrt(3) [mm].
        head_height: head, largest listed [mm].
        inch: whether it belongs to the inch series.
        source: where the sizes are published, and how well they are known.
    """

    name: str
    diameter: float
    pitch: float
    stress_area: float
    head_flats: float
    head_corners: float
    head_height: float
    inch: bool
    source: str

    def thread_length(self, length: float) -> float:
        """Return the nominal thread length [mm] of a bolt ``length`` mm long.

        ASME B18.2.1 (rule from memory, its results read in a secondary copy): 2d + 1/4 in up to 6 in, 2d + 1/2 in
        beyond. ISO 4014 (read in secondary copies): 2d + 6 up to 125 mm, 2d + 12 up to 200 mm, 2d + 25 beyond.
        """
        at = length - _LENGTH_GRAIN
        if self.inch:
            extra = (0.25 if at <= 6 * MM_PER_INCH else 0.5) * MM_PER_INCH
        else:
            extra = 6.0 if at <= 125 else 12.0 if at <= 200 else 25.0
        return 2 * self.diameter + extra

    def stock_lengths(self) -> tuple[float, ...]:
        """Return the lengths commonly sold [mm], ascending: 1 to 6 in by quarters, or those of ISO 888."""
        return _STOCK_INCH if self.inch else _STOCK_METRIC


def inch_bolt(name: str, diameter: float, threads: int, flats: float, corners: float, height: float) -> Bolt:
    """Return an inch bolt from inches and threads per inch; flats, corners and head height are each the maximum.

    Read in a secondary copy. Stress area: ASME B1.1, pi/4 (D - 0.9743/n)^2.
    """
    return Bolt(
        name,
        inches(diameter),
        MM_PER_INCH / threads,
        pi / 4 * ((diameter - 0.9743 / threads) * MM_PER_INCH) ** 2,
        inches(flats),
        inches(corners),
        inches(height),
        True,
        f"ASME B18.2.1 hex cap screw, ASME B1.1 thread; {SECONDARY}",
    )


def metric_bolt(diameter: float, pitch: float, flats: float, height: float) -> Bolt:
    """Return a metric bolt from millimetres. Stress area: ISO 898-1, pi/4 (d - 0.9382 P)^2.

    Flats were read in secondary copies. The height is the nominal (read in secondary copies) plus 0.29: js15 of product
    grade B, which long bolts may be (from memory; a data set of ISO 4017 lists the same sums).
    """
    return Bolt(
        f"M{diameter:g}x{pitch:g}",
        diameter,
        pitch,
        pi / 4 * (diameter - 0.9382 * pitch) ** 2,
        flats,
        flats * 2 / sqrt(3),  # only the least is listed across corners: 17.77 and 20.03
        height,
        False,
        f"ISO 4014, ISO 261 thread, {SECONDARY}; head height with its tolerance {MEMORY}",
    )
