"""Kits of hardware to try: other washers, washers cut flat, a relieved backing plate, other bolts.

Each kit is the present hardware with one change, and has its costs. Lengths [mm].
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from msgspec.structs import replace

from geometry.design.hardware import Socket, Spanner, Washer
from geometry.design.patterns import backing_plate, flat_washer, socket, spanner
from geometry.design.validity import CLOSE, NonsenseError
from geometry.tables import fasteners
from geometry.units.units import format_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.hardware import BackingPlate, Hardware
    from geometry.design.motor import Bracket
    from geometry.edits.choices import Pair
    from geometry.tables.bolts import Bolt
    from geometry.units.units import Unit

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
    if hardware.backing_plate is not None:
        cost = f"No backing plate under the {pair} washers: they press harder on the wood."
        bare = replace(hardware, backing_plate=None, length=None)
        yield Kit(bare, PLAIN, "washers without a backing plate", (cost,))
    if bracket.rows is not None and bracket.lower is not None:
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
        yield Kit(replace(hardware, washer=flat_washer(washer)), PLAIN, f"plain washers {size} across", (cost,))


def _bolts(hardware: Hardware, bracket: Bracket, pair: Pair) -> Iterator[Kit]:
    """Yield other bolts that the bracket's holes take, each with its widest washer: thinner without much play, and thicker.

    A bracket takes a thicker bolt where its holes are as wide as the published close clearance holes.
    """
    spread = bracket.rows if pair == "upper" else bracket.lower
    now = fasteners.bolt(hardware.bolt)
    if spread is None or spread.diameter is None:
        return
    for name in fasteners.bolt_names():
        thread = fasteners.bolt(name)
        thinner = spread.diameter - MOST_PLAY <= thread.diameter < now.diameter - 0.1
        thicker = now.diameter + 0.1 < thread.diameter and fasteners.clearance_holes(name).close <= spread.diameter + CLOSE
        nut = fasteners.nut(fasteners.nut_names(name)[0], name)
        least, most = nut.corners if thicker else 0.0, (hardware.washer.outer or 0.0) + CLOSE
        washers = [listed for listed in fasteners.washers(name) if least <= listed.outer <= most]
        if (thinner or thicker) and washers:
            washer = max(washers, key=lambda listed: (listed.outer, listed.thickness))
            try:
                changed = _on_bolt(hardware, thread, flat_washer(washer))
            except NonsenseError:
                continue  # a spacer or an outer washer is too narrow for the thicker bolt
            if thicker:
                changed = replace(changed, socket=hardware.socket and wider(hardware.socket, socket(nut.corners)),
                                  spanner=hardware.spanner and wider(hardware.spanner, spanner(nut.corners)))  # fmt: skip
            yield Kit(changed, BOLT, f"{name} bolts", (_bolt_cost(now, thread, pair),))


_Tool = TypeVar("_Tool", Socket, Spanner)


def wider(tool: _Tool, usual: _Tool) -> _Tool:
    """Return a tool at least as wide as the usual one for a nut."""
    return tool if tool.outer is not None and usual.outer is not None and tool.outer >= usual.outer else usual


def _on_bolt(hardware: Hardware, thread: Bolt, washer: Washer) -> Hardware:
    """Return hardware with another bolt: a thinner one with less torque, in proportion to its steel, a thicker one as clamped.

    The old nut's drag comes off the torque.
    """
    now = fasteners.bolt(hardware.bolt)
    scale = min(1.0, thread.stress_area / now.stress_area) * thread.diameter / now.diameter
    drag = hardware.running_torque or 0.0
    torque = None if hardware.torque is None else round(max(0.0, hardware.torque - drag) * scale, 1)
    outside = hardware.outside_washer
    return replace(
        hardware, bolt=thread.name, nut=fasteners.nut_names(thread.name)[0], nut_sizes=None, head_sizes=None, length=None,
        hole=fasteners.clearance_holes(thread.name).close, washer=washer, torque=torque, running_torque=None,
        outside_washer=replace(outside, inner=max(washer.inner or 0.0, outside.inner or 0.0)),
    )  # fmt: skip


def _bolt_cost(now: Bolt, thread: Bolt, pair: Pair) -> str:
    share = round(abs(1 - thread.stress_area / now.stress_area) * 100)
    if thread.diameter > now.diameter:
        return f"{thread.name} for the {pair} bolts: they have {share} % more steel, and need wider holes and other tools."
    return (
        f"{thread.name} for the {pair} bolts: they have {share} % less steel, and take less torque in "
        "proportion. Ask the motor's maker first."
    )
