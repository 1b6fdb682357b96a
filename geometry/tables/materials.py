"""The pressure that a transom's core supports under a washer.

No published design value is meant for a washer pulled down hard on wood. The figures for wood are our assumption. 1,500
lbf/in2 for dry fir plywood is 1.875 times the 800 lbf/in2 at which Douglas-fir begins to crush across the grain (USDA Wood
Handbook, table 5-3, 12 % moisture; from memory). The other woods get the same multiple of a low value of their kind.
Each is rounded to half a newton on the square millimetre, our assumption, since none is known better. 10.34 becomes 10.5,
8.92 becomes 9 and 7.498 becomes 7.5, all upward, by 1.6 % at the most. Design values for lasting loads are far lower (NDS
Supplement: Douglas-fir 625 lbf/in2, read in a secondary copy). Above them washers sink in over time, and the nuts need
tightening again. All are for dry wood.
"""

from __future__ import annotations

import msgspec

from geometry.tables.known import CHOICE, MEMORY, MPA_PER_KSI, look_up


class Core(msgspec.Struct, frozen=True):
    """A core material.

    Attributes:
        name: as in the design file.
        supports: pressure that it supports under a washer when dry [N/mm2]; None where nobody can say.
        source: where the figure is from.
        wood: whether water weakens it.
    """

    name: str
    supports: float | None
    source: str
    wood: bool = False


# wet: Douglas-fir crushes at 380 lbf/in2 green and at 800 dry (Wood Handbook, from memory): our assumption is half
WET = {"dry": 1.0, "unknown": 1.0, "damp": 0.75, "wet": 0.5}
"""Share of a dry wood's pressure by the state of the core. Damp, halfway, is our assumption; unknown counts as dry."""


def _wood(name: str, crushes: float, of: str) -> Core:
    """Return a wood that begins to crush across the grain at ``crushes`` lbf/in2."""
    exact = 1.875 * crushes / 1000 * MPA_PER_KSI
    rounded = round(2 * exact) / 2
    more = (rounded / exact - 1) * 100
    up = f", rounded up by {more:.1f} %" if more >= 0.1 else ""
    return Core(name, rounded, f"{CHOICE}, from {of}{up}", wood=True)


_CORES = {
    core.name: core
    for core in (
        _wood("fir plywood", 800, f"Douglas-fir 800 lbf/in2, Wood Handbook, {MEMORY}"),
        _wood("hardwood plywood", 580, "the softwood's figure: none is published for the light tropical veneers"),
        _wood("softwood", 580, f"Sitka spruce 580 lbf/in2, Wood Handbook, {MEMORY}"),
        _wood("hardwood", 690, "black cherry 690 lbf/in2, Wood Handbook, read in a secondary copy"),
        Core("balsa", 5.0, f"{CHOICE}: end grain, about 100 kg/m3, {MEMORY}", wood=True),
        Core("foam", 0.7, f"{CHOICE}: structural foam, about 60 kg/m3, {MEMORY}; a bolt through it wants a solid core"),
        Core("solid laminate", 50.0, f"{CHOICE}: half of about 100 N/mm2 through glass laminate, {MEMORY}"),
        Core("aluminium", 110.0, f"{CHOICE}: a little under the yield of annealed 5083, EN 485-2, {MEMORY}"),
        Core("unknown", None, "nobody can say: drill a pilot and look"),
    )
}


def core(name: str) -> Core:
    """Return the core called ``name``.

    Raises:
        OwnerError: it is not in the table; the message names those that are.
    """
    return look_up(_CORES, name, "core")


def supported_pressure(name: str, state: str) -> float | None:
    """Return the pressure that a core supports under a washer in a state, "dry", "damp", "wet" or "unknown" [N/mm2].

    None: nobody can say.

    Raises:
        OwnerError: there is no such core in the table.
    """
    material = core(name)
    return material.supports if material.supports is None or not material.wood else material.supports * WET[state]


def is_bored_out(name: str) -> bool:
    """Return whether the core is bored out and filled with epoxy around each bolt, to keep water out."""
    return name not in ("solid laminate", "aluminium")


MOST_OF_WOOD, MOST_OF_ANY = 50.0, 400.0
"""No core supports more than these [N/mm2], our assumption: of wood or foam, and of anything else.

Live oak, the hardest across the grain in the Wood Handbook's table 5-3, begins to crush at 2,840 lbf/in2 (from memory),
19.6 N/mm2; 1.875 times that, as for fir, is 36.7. Common structural steel yields at 355 (EN 10025-2, from memory).
"""


def most_supported(name: str) -> float:
    """Return a pressure under a washer that no core of this name exceeds [N/mm2].

    Raises:
        OwnerError: there is no such core in the table.
    """
    material = core(name)
    return MOST_OF_WOOD if material.wood or material.name == "foam" else MOST_OF_ANY


def core_names() -> tuple[str, ...]:
    """Return the cores of the table, in its order."""
    return tuple(_CORES)
