"""Drag (running torque) of lock nuts: what a new one may take to turn on its thread at first fitting, at the most.

A nut may take much less: the least is a tenth of it or so. What it really takes is read on the torque wrench.
"""

from __future__ import annotations

import msgspec

from geometry.tables.known import MEMORY, SECONDARY

NM_PER_LBF_IN = 0.1129848290276167  # NIST SP 811, appendix B.8


class Running(msgspec.Struct, frozen=True):
    """The greatest drag of a new lock nut [N m], and where it is published."""

    most: float
    source: str


_NE = f"ASME B18.16.6, first installation; {SECONDARY}"  # lbf in: coarse threads only were read
_STEEL = f"ISO 2320, first assembly of steel nuts; {MEMORY}"
_RUNNING = {
    ("ASME B18.16.6 NE", "3/8-16"): Running(110 * NM_PER_LBF_IN, _NE),
    ("ASME B18.16.6 NE", "7/16-14"): Running(135 * NM_PER_LBF_IN, _NE),
    ("ASME B18.16.6 NE", "1/2-13"): Running(204 * NM_PER_LBF_IN, _NE),
    ("ISO 7040", "M10x1.5"): Running(10.5, _STEEL),
    ("ISO 7040", "M12x1.75"): Running(15.5, _STEEL),
}
LOCKING = ("ASME B18.16.6 NE", "ISO 7040", "DIN 985")


def running(nut: str, bolt: str) -> Running | None:
    """Return the greatest drag of a new ``nut`` on ``bolt``, None where none is listed."""
    return _RUNNING.get((nut, bolt))
