"""Amounts to buy: epoxy for old holes and for the bored-out core around new ones, sealant for bedding the bolts.

Volumes [mL], lengths [mm]. A round hole of diameter D through a thickness t needs pi/4 D^2 t. Sizes and allowances are
common practice, no source, or our assumption where they say so.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import CLOSE, area, known
from geometry.judge.wood_around_holes import LARGEST_PLUG, centres_apart, core_bore, filling, wood_between
from geometry.solid.faces import Unmeasured, faces, need
from geometry.solid.placed_bolts import bolts
from geometry.tables.materials import is_bored_out

if TYPE_CHECKING:
    from geometry.design.boat import OldHole
    from geometry.design.design import Design
    from geometry.solid.placed_bolts import Bolt

WASTE = (0.3, 0.5)  # soaked up and left in the cup: common practice, no source
BED = 2.0  # of sealant before it is squeezed out, inside and outside: our assumption


def cylinder(diameter: float, length: float) -> float:
    """Return the volume of a round hole [mL]: pi/4 D^2 t."""
    return math.pi / 4 * diameter**2 * length / 1000


class Amount(msgspec.Struct, frozen=True):
    """The calculated amount for a job [mL]."""

    net: float

    @property
    def mix(self) -> tuple[float, float]:
        """Least and most to mix or to buy, waste included [mL]."""
        return self.net * (1 + WASTE[0]), self.net * (1 + WASTE[1])


class Plug(msgspec.Struct, frozen=True):
    """An old hole to bore out and to fill.

    Attributes:
        name: the hole's. bore: across the plug. through: the thickness it goes through [mm].
        run: length of a long plug, from the old hole to a new one next to it; 0 for a round plug [mm].
        bolt: the new hole that a long plug covers, "" for a round plug.
    """

    name: str
    bore: float
    through: float
    run: float = 0.0
    bolt: str = ""

    @property
    def amount(self) -> Amount:
        """The amount of epoxy: a round hole, and a slot as wide where it is long."""
        return Amount(cylinder(self.bore, self.through) + self.bore * self.run * self.through / 1000)


def to_plug(design: Design) -> tuple[int, ...]:
    """Return the old holes to fill with a plug.

    They are open or merely sealed and not used again, or plugged and cut by a new hole. Too wide holes are left out.
    """
    return tuple(i for i in _empty(design) if _size(design, i) <= LARGEST_PLUG + CLOSE)


def too_wide(design: Design) -> tuple[int, ...]:
    """Return the old holes to fill that are too wide for a plug: each needs a separate repair."""
    return tuple(i for i in _empty(design) if _size(design, i) > LARGEST_PLUG + CLOSE)


def _empty(design: Design) -> list[int]:
    return [
        i for i, old in enumerate(design.old_holes)
        if not old.is_reused and old.drill is None and (old.state != "plugged" or is_cut(design, i))
    ]  # fmt: skip


def _size(design: Design, index: int) -> float:
    """Return the diameter of an old hole, or of its plug; 0 where that is not known."""
    old = design.old_holes[index]
    return (old.plug_diameter if old.state == "plugged" else old.diameter) or 0.0


def is_cut(design: Design, index: int) -> bool:
    """Return whether a new hole cuts the edge of an old hole's plug; False where that is not known."""
    old = design.old_holes[index]
    return old.state == "plugged" and any(_cuts(bolt, old, index) for bolt in bolts(design))


def _cuts(bolt: Bolt, old: OldHole, index: int) -> bool:
    try:
        return wood_between(bolt, old, index) < -CLOSE
    except Unmeasured:
        return False


def plug(design: Design, index: int) -> Plug:
    """Return the plug for one old hole that is not too wide for one: see `filling`.

    Raises:
        Unmeasured: its place, its diameter, the thickness there or a new hole's place or size is not known.
        ValueError: it is too wide for one.
    """
    old = design.old_holes[index]
    thick = faces(design.transom).thickness(need(old.at[1], f"old_holes.{index}.down"))
    bolt = nearest(design, index)
    filled = filling(old, index, design, bolt)
    if filled is None:
        raise ValueError(f"no plug fills {old.name}")
    return Plug(old.name, filled.bore, thick, filled.run, bolt.name if bolt is not None and filled.run else "")


def nearest(design: Design, index: int) -> Bolt | None:
    """Return the bolt whose new hole's centre is nearest to an old one, on the nearer of both faces; None without bolts.

    Raises:
        Unmeasured: a place is not known.
    """
    return min(bolts(design), key=lambda bolt: min(centres_apart(bolt, design.old_holes[index], index)), default=None)


def plugs(design: Design) -> Amount:
    """Return the epoxy for all old holes to be filled.

    Raises:
        Unmeasured: one of them is not known.
    """
    return Amount(sum(plug(design, index).amount.net for index in to_plug(design)))


def has_wood(design: Design) -> bool:
    """Return whether there is a core that epoxy has to keep dry."""
    return is_bored_out(design.transom.core)


def potting(design: Design) -> Amount:
    """Return the epoxy that fills the core bored out around all new holes, the outer skin left whole.

    A skin that is not known counts as wood: rather too much than too little.

    Raises:
        Unmeasured: a hole or the thickness is not known.
    """
    if not has_wood(design):
        return Amount(0.0)
    skin = design.transom.skin_outside or 0.0
    return Amount(sum(cylinder(core_bore(bolt), max(0.0, bolt.exit.along - skin)) for bolt in bolts(design)))


def sealant(design: Design) -> Amount:
    """Return the sealant for all new holes: the gap around each shank, and a bed inside and outside.

    The bed inside is under the washer, or under the backing plate. The bed outside is around the shank, as large as the
    outside washer.

    Raises:
        Unmeasured: a size is not known.
    """
    volume, plates = 0.0, set[tuple[int, str]]()
    for bolt in bolts(design):
        hardware = bolt.hardware
        volume += cylinder(bolt.hole, bolt.exit.along) - cylinder(bolt.thread.diameter, bolt.exit.along)
        volume += cylinder(need(hardware.outside_washer.outer, bolt.hardware_key("outside_washer.outer")), BED)
        if bolt.plate is None:
            volume += cylinder(need(hardware.washer.outer, bolt.hardware_key("washer.outer")), BED)
        elif bolt.plate_pair is not None and (bolt.mount_index, bolt.plate_pair) not in plates:
            plates.add((bolt.mount_index, bolt.plate_pair))
            corners = known(bolt.plate.outline)
            if corners is None:
                need(None, bolt.plate_key("outline"))
            else:
                volume += abs(area(corners)) * BED / 1000
    return Amount(volume)
