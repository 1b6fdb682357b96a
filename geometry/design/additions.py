"""What is added to a boat and taken off again: motors, old holes, a well. Each function returns a new design."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.design.boat import OldHole
from geometry.design.edits import with_mount
from geometry.design.measures import measures
from geometry.design.patterns import bracket, hung, motor
from geometry.design.starts import guess, well_to_measure
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from geometry.design.patterns import BracketKind
    from geometry.design.whole import Design, Reading

_HALF_TWIN = 13 * MM_PER_INCH  # twins hang about 26 in apart: common practice, no source
_KICKER_AWAY = 18 * MM_PER_INCH  # a kicker from the main motor: our choice
_ALIKE = 3.0  # mm within which two old holes are a pair


def hang_motor(design: Design, kind: BracketKind) -> Design:
    """Hang one more motor on the centreline; its bracket's numbers are guesses until measured."""
    added = motor(kind, _free_name(design, "small motor" if kind == "clamp-on" else "main motor"))
    return _with_guesses(replace(design, mounts=(*design.mounts, added)), len(design.mounts))


def set_bracket(design: Design, index: int, kind: BracketKind) -> Design:
    """Give a motor another bracket to begin with; place and drop stay where it still has holes."""
    changed = replace(design, readings=_without(design, f"mounts.{index}.bracket."))
    mounts = list(design.mounts)
    mounts[index] = hung(mounts[index], bracket(kind))
    changed = replace(changed, mounts=tuple(mounts))
    known = {one.key for one in measures(changed)}
    readings = {key: one for key, one in changed.readings.items() if key in known}
    return _with_guesses(replace(changed, readings=readings), index, "bracket.")


def add_twin(design: Design, index: int) -> Design:
    """Hang a second motor like this one: the two stand alike at both sides of where the one stood."""
    found = design.mounts[index]
    middle = found.offset or 0.0
    port = replace(found, name=_free_name(design, "port motor"), offset=middle - _HALF_TWIN)
    starboard = replace(found, name=_free_name(design, "starboard motor"), offset=middle + _HALF_TWIN)
    mounts = list(design.mounts)
    mounts[index] = port
    mine, theirs = f"mounts.{index}.", f"mounts.{len(mounts)}."
    copied = {theirs + key.removeprefix(mine): r for key, r in design.readings.items() if key.startswith(mine)}
    return replace(design, mounts=(*mounts, starboard), readings={**design.readings, **copied})


def add_kicker(design: Design, index: int) -> Design:
    """Hang a small clamp-on motor at starboard of this one."""
    offset = (design.mounts[index].offset or 0.0) + _KICKER_AWAY
    added = motor("clamp-on", _free_name(design, "kicker"), offset)
    return _with_guesses(replace(design, mounts=(*design.mounts, added)), len(design.mounts))


def hardware_alike(design: Design, index: int) -> Design:
    """Give a motor's upper pair the lower pair's hardware, and its readings; plates stay with their pairs."""
    found = design.mounts[index]
    if found.lower_hardware is None or found.upper_hardware is None:
        return design
    plate = found.upper_hardware.backing_plate
    changed = with_mount(design, index, upper_hardware=replace(found.lower_hardware, backing_plate=plate))
    lower, upper = f"mounts.{index}.lower_hardware.", f"mounts.{index}.upper_hardware."
    taken = {upper + key.removeprefix(lower): r for key, r in design.readings.items()
             if key.startswith(lower) and "backing_plate" not in key}  # fmt: skip
    kept = {key: r for key, r in design.readings.items() if not key.startswith(upper) or "backing_plate" in key}
    return replace(changed, readings={**kept, **taken})


def add_old_hole(design: Design) -> Design:
    """Add an old hole of half an inch, open; its place is still to be measured."""
    taken = {hole.name for hole in design.old_holes}
    name = next(f"old hole {n}" for n in range(1, len(taken) + 2) if f"old hole {n}" not in taken)
    hole = OldHole(name=name, at=(None, None), diameter=0.5 * MM_PER_INCH, state="open", plug_diameter=None, reuse=False)
    changed = replace(design, old_holes=(*design.old_holes, hole))
    key = f"old_holes.{len(design.old_holes)}.diameter"
    return guess(changed, (one for one in measures(changed) if one.key == key))


def remove_old_hole(design: Design, index: int) -> Design:
    """Take an old hole off, and its readings with it; those of later holes move up by one."""
    readings: dict[str, Reading] = {}
    for key, reading in design.readings.items():
        parts = key.split(".", 2)
        if parts[0] != "old_holes":
            readings[key] = reading
        elif int(parts[1]) != index:
            number = int(parts[1]) - (int(parts[1]) > index)
            readings[f"old_holes.{number}.{parts[2]}"] = reading
    return replace(design, old_holes=design.old_holes[:index] + design.old_holes[index + 1 :], readings=readings)


def upper_pairs(design: Design, index: int) -> tuple[tuple[int, int], ...]:
    """Return the pairs of old holes (port, starboard) that a motor's upper holes could use, to 3 mm."""
    rows = design.mounts[index].bracket.rows if index < len(design.mounts) else None
    if rows is None:
        return ()
    found = []
    for port, one in enumerate(design.old_holes):
        for starboard, two in enumerate(design.old_holes):
            (ua, va), (ub, vb) = one.at, two.at
            if ua is None or va is None or ub is None or vb is None or va >= 0 or vb >= 0:
                continue
            if abs(ub - ua - 2 * rows.half_spacing) <= _ALIKE and abs(va - vb) <= _ALIKE:
                found.append((port, starboard))
    return tuple(found)


def use_pair(design: Design, index: int, pair: tuple[int, int]) -> Design:
    """Put a motor's upper holes in a pair of old ones: upper depth and offset are theirs, and both are marked as used.

    The drop stays, so that the lower pair goes along.
    """
    (ua, va), (ub, vb) = (design.old_holes[one].at for one in pair)
    if ua is None or va is None or ub is None or vb is None:
        return design
    holes = tuple(replace(hole, reuse=hole.reuse or number in pair) for number, hole in enumerate(design.old_holes))
    return with_mount(replace(design, old_holes=holes), index, upper_at=(va + vb) / 2, offset=(ua + ub) / 2)


def add_well(design: Design) -> Design:
    """Give the boat a well whose depths are still to be measured; its widths are guesses."""
    changed = replace(design, well=well_to_measure())
    return guess(changed, (one for one in measures(changed) if one.key.startswith("well.")))


def remove_well(design: Design) -> Design:
    """Take the well off, and its readings with it."""
    return replace(design, well=None, readings=_without(design, "well."))


def _with_guesses(design: Design, index: int, part: str = "") -> Design:
    start = f"mounts.{index}.{part}"
    return guess(design, (one for one in measures(design) if one.key.startswith(start)))


def _without(design: Design, start: str) -> dict[str, Reading]:
    return {key: reading for key, reading in design.readings.items() if not key.startswith(start)}


def _free_name(design: Design, wanted: str) -> str:
    taken = {mount.name for mount in design.mounts}
    return next(name for n in range(1, len(taken) + 2) if (name := wanted if n == 1 else f"{wanted} {n}") not in taken)

