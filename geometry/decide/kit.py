"""Kits of hardware to try: other washers, washers cut flat, a relieved backing plate, other bolts.

Each kit is the present hardware with one change, and has its costs. Lengths [mm].
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.design.hardware import Washer
from geometry.design.patterns import backing_plate
from geometry.design.units import format_length
from geometry.design.validity import CLOSE
from geometry.tables import fasteners

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.choices import Pair
    from geometry.design.hardware import BackingPlate, Hardware
    from geometry.design.motor import Bracket
    from geometry.design.units import Unit

PRESENT, PLAIN, CUT, PLATE, BOLT, TILT = range(6)
"""How special a kit is, plainest first."""

MOST_PLAY = 2.6  # [mm] a bolt may be thinner than the bracket's hole by this: a tenth of an inch, our assumption


@dataclass(frozen=True, slots=True)
class Kit:
    """One pair's hardware to try.

    Attributes:
        level: how special it is, see `PRESENT`. name: "plain washers", "washers cut flat".
        costs: its costs, a sentence each.
    """

    hardware: Hardware
    level: int
    name: str
    costs: tuple[str, ...] = ()


def kits(hardware: Hardware, bracket: Bracket, pair: Pair, unit: Unit, room: float = 0.0) -> Iterator[Kit]:
    """Yield the kits to try for one pair, plainest first. The present hardware comes first of all.

    Args:
        room: advised clearance. A backing plate reaches beyond its washers by at least this [mm].
    """
    yield Kit(hardware, PRESENT, "the hardware as it is")
    if hardware.washer.outer is None:
        return
    yield from _plain(hardware, pair, unit)
    cut = _least_cut(hardware)
    if cut is not None and hardware.washer.flat_cut is None and cut < hardware.washer.outer / 2 - 0.5:
        washer = replace(hardware.washer, flat_cut=cut)
        yield Kit(replace(hardware, washer=washer), CUT, "washers cut flat")
    if hardware.backing_plate is None and bracket.rows is not None and bracket.lower is not None:
        plate = backing_plate(bracket, pair, hardware.washer.outer, room=room)
        yield Kit(replace(hardware, backing_plate=plate, length=None), PLATE, "a relieved backing plate")
    yield from _bolts(hardware, bracket, pair)


def with_cut(kit: Kit, cut: float, pair: Pair, unit: Unit) -> Kit:
    """Return a kit of flat-cut washers with the cut at ``cut`` below their centres, with its costs."""
    washer = replace(kit.hardware.washer, flat_cut=cut)
    where = format_length(cut, unit, down=True)
    cost = f"Both {pair} washers are cut flat {where} below their centres. File and deburr them, and put the flat side down."
    return replace_kit(kit, replace(kit.hardware, washer=washer), (cost,))


def with_plate(kit: Kit, plate: BackingPlate, pair: Pair, unit: Unit) -> Kit:
    """Return a kit with another backing plate, with its costs."""
    corners = [(u, w) for u, w in plate.outline if u is not None and w is not None]
    wide, high = (max(c[i] for c in corners) - min(c[i] for c in corners) for i in (0, 1))
    size = " × ".join(format_length(side, unit, denominator=16) for side in (wide, high, plate.thickness or 0.0))
    notched = ", notched between the bolts" if len(corners) > 4 else ""
    along = plate.relief[0] or 0.0
    eased = f", its lower back edge chamfered by {format_length(along, unit, denominator=16)} along the face" if along else ""
    cost = f"A backing plate under the {pair} washers, {size}{notched}{eased}. The bolts are longer by its thickness."
    return replace_kit(kit, replace(kit.hardware, backing_plate=plate), (cost,))


def replace_kit(kit: Kit, hardware: Hardware, costs: tuple[str, ...]) -> Kit:
    """Return a kit with other hardware and costs."""
    return Kit(hardware, kit.level, kit.name, costs)


def _least_cut(hardware: Hardware) -> float | None:
    """Return the nearest place to the centre at which a washer may be cut, rounded up to a tenth [mm]."""
    corners = hardware.inside_hexagon.corners
    return None if corners is None else math.ceil((corners / 2) * 10 - CLOSE) / 10


def _plain(hardware: Hardware, pair: Pair, unit: Unit) -> Iterator[Kit]:
    """Yield smaller published washers that carry the whole nut, widest first."""
    corners, present = hardware.inside_hexagon.corners, hardware.washer
    if present.outer is None or corners is None:
        return
    seen: set[float] = set()
    for washer in sorted(fasteners.washers(hardware.bolt), key=lambda listed: (-listed.outer, -listed.thickness)):
        if washer.outer in seen or not corners <= washer.outer < present.outer - CLOSE:
            continue
        seen.add(washer.outer)
        size = format_length(washer.outer, unit)
        cost = f"Other {pair} washers: {washer.name}, {size} across. They press harder on the wood than wider ones."
        other = Washer(outer=washer.outer, inner=washer.inner, thickness=washer.thickness, flat_cut=None)
        yield Kit(replace(hardware, washer=other), PLAIN, f"plain washers {size} across", (cost,))


def _bolts(hardware: Hardware, bracket: Bracket, pair: Pair) -> Iterator[Kit]:
    """Yield thinner bolts that the bracket's holes still hold without much play, each with its widest washer."""
    spread = bracket.rows if pair == "upper" else bracket.lower
    now = fasteners.bolt(hardware.bolt)
    if spread is None or spread.diameter is None:
        return
    for name in fasteners.bolt_names():
        thread = fasteners.bolt(name)
        if not spread.diameter - MOST_PLAY <= thread.diameter < now.diameter - 0.1:
            continue
        washers = [listed for listed in fasteners.washers(name) if listed.outer <= (hardware.washer.outer or 0.0) + CLOSE]
        if not washers:
            continue
        washer = max(washers, key=lambda listed: (listed.outer, listed.thickness))
        weaker = thread.stress_area / now.stress_area
        scale, drag = weaker * thread.diameter / now.diameter, hardware.running_torque or 0.0  # the drag is the old nut's
        torque = None if hardware.torque is None else round(max(0.0, hardware.torque - drag) * scale, 1)
        other = Washer(outer=washer.outer, inner=washer.inner, thickness=washer.thickness, flat_cut=None)
        changed = replace(
            hardware, bolt=name, nut=fasteners.nut_names(name)[0], nut_sizes=None, head_sizes=None, length=None,
            hole=fasteners.clearance_holes(name).close, washer=other, torque=torque, running_torque=None,
            outside_washer=replace(hardware.outside_washer, inner=max(washer.inner, hardware.outside_washer.inner or 0.0)),
        )  # fmt: skip
        cost = (
            f"{name} for the {pair} bolts: they have {round((1 - weaker) * 100)} % less steel, and take less torque in "
            "proportion. Ask the motor's maker first."
        )
        yield Kit(changed, BOLT, f"{name} bolts", (cost,))
