"""Placements to compare: how a motor could hang, and its findings on the present boat.

A placement is a motor's place and hardware, not a boat. After a new reading of the boat, each placement is checked again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import msgspec
from msgspec.structs import replace

from geometry.judge.bracket import hard_pad
from geometry.judge.check import check
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.findings import State, verdict_of
from geometry.judge.loads import Loads, bolt_loads
from geometry.solid.bracket_holes import plate_height, rows_left
from geometry.solid.faces import Unmeasured
from geometry.units.units import format_angle, format_length

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
    """A motor's place and hardware.

    Attributes:
        index: of the motor. mount: the motor with its place and hardware.
        used: names of the old holes that a new one is meant to use.
    """

    index: int
    mount: Mount
    used: frozenset[str]


class Side(msgspec.Struct, frozen=True):
    """One placement, checked on a boat.

    Attributes:
        checked: the boat with the motor there. state: worst state of the findings that concern the motor.
        nearest: the finding of the smallest clearance inside, None where nothing limits it.
        rows_left: usable upper holes of its drop, None where not known. plate_height: of the AV plate [mm], None where not
            known.
        loads: the pull on each bolt, None where a reading is missing, whose key is then in `lacks`.
        special: its parts beyond plain washers and square holes, a few words each; a hard pad too.
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
    """Return a motor's present placement."""
    return Placement(index, design.mounts[index], frozenset(hole.name for hole in design.old_holes if hole.is_reused))


def with_placement(design: Design, placement: Placement) -> Design:
    """Return a boat with a motor at a placement. Boat and motor stay as they are.

    Raises:
        NonsenseError: this bracket no longer allows it.
    """
    index = placement.index
    place = {name: getattr(placement.mount, name) for name in _OF_PLACE}
    mounts = (*design.mounts[:index], replace(design.mounts[index], **place), *design.mounts[index + 1 :])
    holes = tuple(replace(hole, reuse=hole.name in placement.used) for hole in design.old_holes)
    return replace(design, mounts=mounts, old_holes=holes)


def same_placement(placement: Placement, other: Placement) -> bool:
    """Return whether two placements are the same, within a twentieth of a millimetre."""
    places = ((getattr(placement.mount, name), getattr(other.mount, name)) for name in _OF_PLACE)
    return (placement.index, placement.used) == (other.index, other.used) and all(_same(*pair) for pair in places)


def _same(value: object, other: object) -> bool:
    if isinstance(value, float) and isinstance(other, float):
        return abs(value - other) <= _SAME
    return value == other


def side(design: Design, placement: Placement) -> Side:
    """Return a placement, checked on a boat.

    Raises:
        NonsenseError: see `with_placement`.
    """
    boat, index = with_placement(design, placement), placement.index
    checked = check(boat)
    ours = tuple(finding for finding in checked.findings if not finding.mounts or index in finding.mounts)
    inside = [finding for finding in ours if finding.check in IN_WELL and finding.value is not None]
    drop = placement.mount.drop
    left = None if drop is None or boat.mounts[index].bracket.rows is None else _if_known(lambda: rows_left(boat, index, drop))
    loads, lacks = None, None
    try:
        loads = bolt_loads(boat, index)
    except Unmeasured as missing:
        lacks = missing.key
    return Side(
        placement, checked, verdict_of(ours), min(inside, key=lambda finding: finding.value or 0.0, default=None), left,
        _if_known(lambda: plate_height(boat, index)), loads, lacks, special(boat, index), _met(boat, ours),
    )  # fmt: skip


def _if_known(look: Callable[[], T]) -> T | None:
    try:
        return look()
    except Unmeasured:
        return None


def special(design: Design, index: int) -> tuple[str, ...]:
    """Return a motor's parts beyond plain washers and square holes, to be bought or made, a few words each."""
    mount, parts = design.mounts[index], list[str]()
    for pair, hardware in (("upper", mount.upper_hardware), ("lower", mount.lower_hardware)):
        if hardware is not None:
            parts += [f"{pair} {word}" for word in _parts(design, hardware, getattr(mount, f"{pair}_tilt") or 0.0)]
    pad = None if mount.bracket.rows is None else _if_known(lambda: hard_pad(design, index))
    if pad is not None:
        parts.append(f"a hard pad of {format_length(pad, design.units)} under the bracket hook")
    return tuple(parts)


def _parts(design: Design, hardware: Hardware, tilt: float) -> list[str]:
    """Return the special parts of one pair."""
    parts, cut = list[str](), hardware.washer.flat_cut
    if cut is not None:
        parts.append(f"washers cut flat {format_length(cut, design.units, down=True)} below centre")
    if hardware.backing_plate is not None:
        parts.append("relieved plate" if hardware.backing_plate.relief[0] else "backing plate")
    if hardware.spacer is not None:
        parts.append("spacers")
    if hardware.wedge:
        parts.append(f"wedges of {format_angle(abs(hardware.wedge))}")
    if tilt:
        parts.append(f"holes drilled {format_angle(abs(tilt))} {'up' if tilt > 0 else 'down'} from square")
    return parts


def _met(design: Design, ours: tuple[Finding, ...]) -> tuple[tuple[str, State], ...]:
    """Return the old holes that are used again, or that matter, each with its worst state."""
    names, states = {hole.name for hole in design.old_holes}, dict[str, State]()
    for finding in ours:  # worst first
        name = finding.at.split(" / ")[-1]
        if finding.check == "old_hole" and finding.state != "clear" and name in names:
            states.setdefault(name, finding.state)
    return tuple(states.items())
