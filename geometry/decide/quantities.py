"""How much to buy: epoxy for old holes and for the wood widened round new ones, sealant to bed the bolts in.

Volumes [mL], lengths [mm]. A bore of diameter D through a thickness t takes pi/4 D^2 t. Sizes and allowances are
common practice, no source, or our choice where they say so.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.design.sense import CLOSE, known
from geometry.judge.wood import PLUG_WALL, THIN_WALL, centres_apart, plug_bore
from geometry.solid.bolts import bolts
from geometry.solid.frames import faces, need
from geometry.tables.known import inches

if TYPE_CHECKING:
    from geometry.design.whole import Design
    from geometry.solid.bolts import Bolt

WASTE = (0.3, 0.5)  # soaked up and left in the cup: common practice, no source
LARGEST_PLUG = inches(1.25)  # a wider hole is a repair of its own, a disc let in: common practice, no source
WIDER = 5.0  # a new hole's wood is widened by so much at least: our choice
BED = 2.0  # of sealant before it is squeezed out, inside and outside: our choice
STEPS = {"in": inches(1 / 8), "mm": 2.0}  # sizes that drills are had in


def cylinder(diameter: float, length: float) -> float:
    """Return the volume of a round bore [mL]: pi/4 D^2 t."""
    return math.pi / 4 * diameter**2 * length / 1000


class Amount(msgspec.Struct, frozen=True):
    """What a job takes by reckoning [mL]."""

    net: float

    @property
    def mix(self) -> tuple[float, float]:
        """Least and most to mix or to buy, with what is wasted [mL]."""
        return self.net * (1 + WASTE[0]), self.net * (1 + WASTE[1])


class Plug(msgspec.Struct, frozen=True):
    """An old hole to bore out and to fill.

    Attributes:
        name: the hole's. bore: across the plug. through: the thickness it goes through [mm].
        run: how far a long plug runs on, from the old hole to a new one beside it; 0 for a round one [mm].
        bolt: whose hole a long plug takes in, "" for a round one.
    """

    name: str
    bore: float
    through: float
    run: float = 0.0
    bolt: str = ""

    @property
    def amount(self) -> Amount:
        """Of epoxy: a round bore, and a slot as wide where it is long."""
        return Amount(cylinder(self.bore, self.through) + self.bore * self.run * self.through / 1000)


def to_plug(design: Design) -> tuple[int, ...]:
    """Return which old holes are to be filled: open or merely sealed, not used again, and not too wide for a plug."""
    return tuple(i for i in _empty(design) if (design.old_holes[i].diameter or 0.0) <= LARGEST_PLUG)


def too_wide(design: Design) -> tuple[int, ...]:
    """Return the old holes that no plug fills: each is a repair of its own."""
    return tuple(i for i in _empty(design) if (design.old_holes[i].diameter or 0.0) > LARGEST_PLUG)


def _empty(design: Design) -> list[int]:
    return [i for i, old in enumerate(design.old_holes) if old.state != "plugged" and not old.reuse]


def plug(design: Design, index: int) -> Plug:
    """Return the plug for one old hole, so that a new one lies wholly out of it or wholly in it, with a wall left.

    Round where the new hole is far enough; a wider round one where that takes the new hole in and is not too wide; else
    long, from the old hole to the new one, and as wide as the new one's own would be.

    Raises:
        Unmeasured: its place, its diameter, the thickness there or a new hole's place or size is not known.
    """
    old = design.old_holes[index]
    bore = _stocked(plug_bore(need(old.diameter, f"old_holes.{index}.diameter")), design)
    thick = faces(design.transom).thickness(need(old.at[1], f"old_holes.{index}.down"))
    apart, bolt = nearest(design, index)
    if bolt is None or apart - (bore + bolt.hole) / 2 >= THIN_WALL - CLOSE:
        return Plug(old.name, bore, thick)
    both = _stocked(2 * (apart + bolt.hole / 2 + PLUG_WALL[1]), design)
    if both <= LARGEST_PLUG + CLOSE:
        return Plug(old.name, max(bore, both), thick)
    return Plug(old.name, max(bore, _stocked(plug_bore(bolt.thread.diameter), design)), thick, apart, bolt.name)


def nearest(design: Design, index: int) -> tuple[float, Bolt | None]:
    """Return how far the nearest new hole's centre is from an old one, on the nearer face [mm], and its bolt.

    Raises:
        Unmeasured: a place is not known.
    """
    found = [(min(centres_apart(bolt, design.old_holes[index], index)), at, bolt) for at, bolt in enumerate(bolts(design))]
    return min(found)[::2] if found else (math.inf, None)


def plugs(design: Design) -> Amount:
    """Return the epoxy for all old holes that are to be filled.

    Raises:
        Unmeasured: one of them can't be reckoned.
    """
    return Amount(sum(plug(design, index).amount.net for index in to_plug(design)))


def has_wood(design: Design) -> bool:
    """Tell whether there is a core that epoxy has to keep the water from."""
    return design.transom.core not in ("solid laminate", "aluminium")


def widened(bolt: Bolt) -> float:
    """Return the diameter to which the wood is widened round a new hole, to be filled and drilled again [mm].

    Raises:
        Unmeasured: the hole's diameter is not known.
    """
    return _stocked(bolt.hole + WIDER, bolt.design)


def _stocked(diameter: float, design: Design) -> float:
    step = STEPS[design.units]
    return math.ceil(diameter / step - 1e-6) * step


def potting(design: Design) -> Amount:
    """Return the epoxy that fills the widened wood of all new holes, the outer skin left whole.

    A skin that is not known counts as wood: rather too much than too little.

    Raises:
        Unmeasured: a hole or the thickness is not known.
    """
    if not has_wood(design):
        return Amount(0.0)
    skin = design.transom.skin_outside or 0.0
    return Amount(sum(cylinder(widened(bolt), max(0.0, bolt.exit.along - skin)) for bolt in bolts(design)))


def sealant(design: Design) -> Amount:
    """Return the sealant for all new holes: the gap round each shank, and a bed inside and outside.

    The bed inside lies under the washer, or under the plate where there is one; outside round the shank, as large as
    the outside washer.

    Raises:
        Unmeasured: a size is not known.
    """
    found, plates = 0.0, set[tuple[int, str]]()
    for bolt in bolts(design):
        hardware = bolt.hardware
        found += cylinder(bolt.hole, bolt.exit.along) - cylinder(bolt.thread.diameter, bolt.exit.along)
        found += cylinder(need(hardware.outside_washer.outer, bolt.hardware_key("outside_washer.outer")), BED)
        if bolt.plate is None:
            found += cylinder(need(hardware.washer.outer, bolt.hardware_key("washer.outer")), BED)
        elif bolt.plate_pair is not None and (bolt.mount_index, bolt.plate_pair) not in plates:
            plates.add((bolt.mount_index, bolt.plate_pair))
            corners = known(bolt.plate.outline)
            if corners is None:
                need(None, bolt.plate_key("outline"))
            else:
                found += _area(corners) * BED / 1000
    return Amount(found)


def _area(ring: list[tuple[float, float]]) -> float:
    """Shoelace formula [mm2]."""
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))) / 2
