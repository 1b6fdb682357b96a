"""Nut factors K of T = K F d, by the state of the threads: the share of a torque that friction takes.

Shigley, Mechanical Engineering Design, table 8-15 (read in a secondary copy) lists 0.30 black, 0.20 zinc plated, 0.18
lubricated and 0.12 with anti-seize. The bands are usual for stainless bolts: common practice, no source. A torque wrench
adds a scatter, 25 % with lubrication and 35 % without (NASA-STD-5020B, read in a secondary copy).
"""

from __future__ import annotations

Band = tuple[float, float]

BANDS: dict[str, Band] = {"anti-seize": (0.12, 0.16), "lubricated": (0.14, 0.18), "dry": (0.20, 0.30)}
"""Lowest and highest nut factor, slipperiest first."""


def band_of(low: float | None, high: float | None) -> str:
    """Return the word for a band of nut factors, "" for an owner's band."""
    return next((word for word, band in BANDS.items() if band == (low, high)), "")
