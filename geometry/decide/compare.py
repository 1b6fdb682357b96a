"""Placements side by side: how a motor could hang, and what each way of hanging it gives on the boat as it is now.

A placement is a motor's place and hardware, not a boat: measure the boat again, and every placement is judged anew.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import msgspec
from msgspec.structs import replace

from geometry.design.units import format_angle, format_length
from geometry.judge.bracket import hard_pad
from geometry.judge.check import check
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.findings import State, verdict_of
from geometry.judge.loads import Loads, bolt_loads
from geometry.solid.faces import Unmeasured
from geometry.solid.rows import plate_height, rows_left

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design
    from geometry.design.hardware import Hardware
    from geometry.design.motor import Mount
    from geometry.judge.findings import Checked, Finding

T = TypeVar("T")
_OF_PLACE = ("row", "upper_at", "drop", "offset", "upper_tilt", "lower_tilt", "upper_hardware", "lower_hardware")
_SAME = 0.05  # mm, degrees


class Placement(msgspec.Struct, frozen=True):
    """How a motor hangs.

    Attributes:
        index: of the motor. mount: the motor with its place and hardware.
        used: names of the old holes that a new one is meant to use.
    """

    index: int
    mount: Mount
    used: frozenset[str]


class Side(msgspec.Struct, frozen=True):
    """One placement judged on a boat.

    Attributes:
        checked: the boat with the motor hung so. state: worst state of what concerns the motor.
        nearest: the finding of the smallest clearance inside, None where nothing limits it.
        rows_left: rows that its drop leaves, None where not known. plate_height: [mm], None where not known.
        loads: what pulls each bolt, None where a reading is missing, which `lacks` then names by its key.
        special: what it takes beyond plain washers and square holes, a hard pad as well, a few words each.
        met: old holes that matter, with their state.
    """

    placement: Placement
    checked: Checked
    state: State
    nearest: Finding | None
    rows_left: tuple[int, ...] | None
    plate_height: float | None
    loads: Loads | None
    lacks: str | None
    special: tuple[str, ...]
    met: tuple[tuple[str, State], ...]


def placement_of(design: Design, index: int) -> Placement:
    """Return how a motor hangs now."""
    return Placement(index, design.mounts[index], frozenset(hole.name for hole in design.old_holes if hole.reuse))


def hung(design: Design, placement: Placement) -> Design:
    """Return a boat with a motor hung by a placement; what the boat and the motor are stays as it is now.

    Raises:
        NonsenseError: it can't be had with this bracket any more.
    """
    index = placement.index
    place = {name: getattr(placement.mount, name) for name in _OF_PLACE}
    mounts = (*design.mounts[:index], replace(design.mounts[index], **place), *design.mounts[index + 1 :])
    holes = tuple(replace(hole, reuse=hole.name in placement.used) for hole in design.old_holes)
    return replace(design, mounts=mounts, old_holes=holes)


def alike(one: Placement, two: Placement) -> bool:
    """Return whether two placements are one, within a twentieth of a millimetre."""
    places = ((getattr(one.mount, name), getattr(two.mount, name)) for name in _OF_PLACE)
    return (one.index, one.used) == (two.index, two.used) and all(_same(*pair) for pair in places)


def _same(one: object, two: object) -> bool:
    if isinstance(one, float) and isinstance(two, float):
        return abs(one - two) <= _SAME
    return one == two


def side(design: Design, placement: Placement) -> Side:
    """Return a placement judged on a boat.

    Raises:
        NonsenseError: see `hung`.
    """
    boat, index = hung(design, placement), placement.index
    checked = check(boat)
    ours = tuple(finding for finding in checked.findings if not finding.mounts or index in finding.mounts)
    inside = [finding for finding in ours if finding.check in IN_WELL and finding.value is not None]
    drop = placement.mount.drop
    left = None if drop is None or boat.mounts[index].bracket.rows is None else _told(lambda: rows_left(boat, index, drop))
    loads, lacks = None, None
    try:
        loads = bolt_loads(boat, index)
    except Unmeasured as missing:
        lacks = missing.key
    return Side(
        placement, checked, verdict_of(ours), min(inside, key=lambda finding: finding.value or 0.0, default=None), left,
        _told(lambda: plate_height(boat, index)), loads, lacks, special(boat, index), _met(boat, ours),
    )  # fmt: skip


def _told(look: Callable[[], T]) -> T | None:
    try:
        return look()
    except Unmeasured:
        return None


def special(design: Design, index: int) -> tuple[str, ...]:
    """Return what a motor takes beyond plain washers and square holes, a few words each: parts to be bought or made."""
    mount, found = design.mounts[index], list[str]()
    for pair, hardware in (("upper", mount.upper_hardware), ("lower", mount.lower_hardware)):
        if hardware is not None:
            found += [f"{pair} {word}" for word in _parts(design, hardware, getattr(mount, f"{pair}_tilt") or 0.0)]
    pad = None if mount.bracket.rows is None else _told(lambda: hard_pad(design, index))
    if pad is not None:
        found.append(f"a hard pad of {format_length(pad, design.units)} under the bracket hook")
    return tuple(found)


def _parts(design: Design, hardware: Hardware, tilt: float) -> list[str]:
    """Return the special parts of one pair."""
    found, cut = list[str](), hardware.washer.flat_cut
    if cut is not None:
        found.append(f"washers cut flat {format_length(cut, design.units, down=True)} below centre")
    if hardware.backing_plate is not None:
        found.append("relieved plate" if hardware.backing_plate.relief[0] else "backing plate")
    if hardware.spacer is not None:
        found.append("spacers")
    if hardware.wedge:
        found.append(f"wedges of {format_angle(abs(hardware.wedge))}")
    if tilt:
        found.append(f"holes drilled {format_angle(abs(tilt))} {'up' if tilt > 0 else 'down'} from square")
    return found


def _met(design: Design, ours: tuple[Finding, ...]) -> tuple[tuple[str, State], ...]:
    """Return the old holes that are used again, or that matter, each with its worst state."""
    names, found = {hole.name for hole in design.old_holes}, dict[str, State]()
    for finding in ours:  # worst first
        name = finding.at.split(" / ")[-1]
        if finding.check == "old_hole" and finding.state != "clear" and name in names:
            found.setdefault(name, finding.state)
    return tuple(found.items())
