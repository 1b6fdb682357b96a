"""Adding and removing motors, old holes, blocks, fittings and a well.

Each function returns a new design. Distances [mm]. A block's corners are (u, y) on the inner face, the others (u, v) outside.
"""

from __future__ import annotations

from itertools import count
from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from geometry.design.boat import Block, Fitting, OldHole
from geometry.design.patterns import bracket, motor, on_bracket
from geometry.design.validity import SECOND
from geometry.edits.edits import with_mount
from geometry.edits.starting_shapes import guess, well_to_measure
from geometry.readings.measures import at_path, measures, put_path
from geometry.readings.pilots import DIAMETER
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.design.design import Design, Pilot, Reading
    from geometry.design.motor import Mount
    from geometry.design.patterns import BracketKind
    from geometry.edits.sketching import Point

_HALF_TWIN = 13 * MM_PER_INCH  # twins hang about 26 in apart: common practice, no source
_KICKER_AWAY = 18 * MM_PER_INCH  # a kicker from the main motor: our assumption
USUAL_HOLE = 0.5 * MM_PER_INCH  # of a half-inch bolt: a guess until it is measured
_ALIKE = 3.0  # mm: two old holes this close to mirror images are a pair


def hang_motor(design: Design, kind: BracketKind) -> Design:
    """Add one more motor on the centreline. Its bracket's numbers are guesses until measured."""
    added = motor(kind, _free_name("small motor" if kind == "clamp-on" else "main motor", design.mounts, bare=True))
    return _guessed(replace(design, mounts=(*design.mounts, added)), f"mounts.{len(design.mounts)}.")


def set_bracket(design: Design, index: int, kind: BracketKind) -> Design:
    """Give a motor another usual bracket. Place and drop stay where it still has holes."""
    changed = replace(design, readings=_without(design, f"mounts.{index}.bracket."))
    mounts = list(design.mounts)
    mounts[index] = on_bracket(mounts[index], bracket(kind))
    changed = replace(changed, mounts=tuple(mounts))
    known = {measure.key for measure in measures(changed)}
    readings = {key: reading for key, reading in changed.readings.items() if key in known}
    return _guessed(replace(changed, readings=readings), f"mounts.{index}.bracket.")


def add_slot(design: Design, index: int) -> Design:
    """Add one more hole or slot below the lowest of a bracket, as long as that and a pitch lower. Its places are guesses."""
    held = design.mounts[index].bracket
    if held.rows is None or held.lower is None:
        return design
    high, low = held.lower.slots[-1]
    start = low + held.rows.pitch
    slots = (*held.lower.slots, (start, start + low - high))
    changed = with_mount(design, index, bracket=replace(held, lower=replace(held.lower, slots=slots)))
    return _guessed(changed, f"mounts.{index}.bracket.lower.slots.{len(held.lower.slots)}.")


def remove_slot(design: Design, index: int, number: int) -> Design:
    """Remove one hole or slot of a bracket, and its readings. Those of later ones move up by one."""
    held = design.mounts[index].bracket
    if held.lower is None:
        return design
    slots = (*held.lower.slots[:number], *held.lower.slots[number + 1 :])
    changed = with_mount(design, index, bracket=replace(held, lower=replace(held.lower, slots=slots)))
    start = f"mounts.{index}.bracket.lower.slots."
    return replace(changed, readings=_moved_up(design.readings, start, number))


def _moved_up(readings: dict[str, Reading], start: str, gone: int) -> dict[str, Reading]:
    """Return the readings without those of one part. Those of later parts move up by one.

    Args:
        start: the beginning of the keys of all such parts, up to their number.
    """
    kept = {}
    for key, reading in readings.items():
        number, _, rest = key.removeprefix(start).partition(".")
        if not key.startswith(start):
            kept[key] = reading
        elif int(number) != gone:
            kept[f"{start}{int(number) - (int(number) > gone)}.{rest}"] = reading
    return kept


def add_twin(design: Design, index: int) -> Design:
    """Replace a motor by two like it, one at each side of its place."""
    mount = design.mounts[index]
    middle = mount.offset or 0.0
    port = replace(mount, name=_free_name("port motor", design.mounts, bare=True), offset=middle - _HALF_TWIN)
    starboard = replace(mount, name=_free_name("starboard motor", design.mounts, bare=True), offset=middle + _HALF_TWIN)
    mounts = list(design.mounts)
    mounts[index] = port
    mine, theirs = f"mounts.{index}.", f"mounts.{len(mounts)}."
    own = {key: r for key, r in design.readings.items() if key.startswith(mine) and SECOND not in key}  # not its pilots
    copied = {theirs + key.removeprefix(mine): r for key, r in own.items()}
    return replace(design, mounts=(*mounts, starboard), readings={**design.readings, **copied})


def add_kicker(design: Design, index: int) -> Design:
    """Add a small clamp-on motor at starboard of this one."""
    offset = (design.mounts[index].offset or 0.0) + _KICKER_AWAY
    added = motor("clamp-on", _free_name("kicker", design.mounts, bare=True), offset)
    return _guessed(replace(design, mounts=(*design.mounts, added)), f"mounts.{len(design.mounts)}.")


def hardware_alike(design: Design, index: int) -> Design:
    """Give a motor's upper pair the lower pair's hardware and its readings. Backing plates stay with their pairs."""
    mount = design.mounts[index]
    if mount.lower_hardware is None or mount.upper_hardware is None:
        return design
    plate = mount.upper_hardware.backing_plate
    changed = with_mount(design, index, upper_hardware=replace(mount.lower_hardware, backing_plate=plate))
    lower, upper = f"mounts.{index}.lower_hardware.", f"mounts.{index}.upper_hardware."
    taken = {upper + key.removeprefix(lower): r for key, r in design.readings.items()
             if key.startswith(lower) and "backing_plate" not in key}  # fmt: skip
    kept = {key: r for key, r in design.readings.items() if not key.startswith(upper) or "backing_plate" in key}
    return replace(changed, readings={**kept, **taken})


def add_old_hole(design: Design, at: Point | None = None) -> Design:
    """Add an open old hole of half an inch, at ``at`` on the outer face or still to be placed. Its values are guesses."""
    place = (None, None) if at is None else at
    name = _free_name("old hole", design.old_holes)
    hole = OldHole(name=name, at=place, diameter=USUAL_HOLE, state="open", plug_diameter=None, reuse=False, drill=None)
    changed = replace(design, old_holes=(*design.old_holes, hole))
    return _guessed(changed, f"old_holes.{len(design.old_holes)}.")


def add_pilot_as_old_hole(design: Design, pilot: Pilot) -> Design:
    """Add a pilot that stays open to the old holes, open and at its place."""
    name = _free_name(f"{pilot.hole} pilot", design.old_holes, bare=True)
    hole = OldHole(name=name, at=pilot.at, diameter=DIAMETER, state="open", plug_diameter=None, reuse=False, drill=None)
    return replace(design, old_holes=(*design.old_holes, hole))


def add_block(design: Design, corners: tuple[Point, ...]) -> Design:
    """Add a block on the inner face, as drawn by eye. Until it is measured it has no end."""
    block = Block(name=_free_name("block", design.inside_blocks), outline=corners, stands_out=None)
    changed = replace(design, inside_blocks=(*design.inside_blocks, block))
    return _guessed(changed, f"inside_blocks.{len(design.inside_blocks)}.")


def add_fitting(design: Design, corners: tuple[Point, ...]) -> Design:
    """Add a fitting on the outer face, as drawn by eye. Until it is measured it has no end."""
    fitting = Fitting(name=_free_name("fitting", design.outside_fittings), outline=corners, stands_out=None, drill=None)
    changed = replace(design, outside_fittings=(*design.outside_fittings, fitting))
    return _guessed(changed, f"outside_fittings.{len(design.outside_fittings)}.")


def remove_part(design: Design, kind: Literal["old_holes", "inside_blocks", "outside_fittings"], index: int) -> Design:
    """Remove a part and its readings. Those of later parts move up by one."""
    parts, readings = getattr(design, kind), _moved_up(design.readings, f"{kind}.", index)
    return replace(design, **{kind: parts[:index] + parts[index + 1 :]}, readings=readings)


def remove_part_corner(design: Design, path: str, corner: int) -> Design:
    """Remove one corner of a block's or a fitting's outline.

    Raises:
        NonsenseError: the rest would be no shape.
    """
    ring = at_path(design, path)
    changed: Design = put_path(design, path, (*ring[:corner], *ring[corner + 1 :]))
    return changed


def upper_pairs(design: Design, index: int) -> tuple[tuple[int, int], ...]:
    """Return the pairs of old holes (port, starboard) that a motor's upper holes could use, to 3 mm."""
    rows = design.mounts[index].bracket.rows if index < len(design.mounts) else None
    if rows is None:
        return ()
    pairs = []
    for port, hole in enumerate(design.old_holes):
        for starboard, two in enumerate(design.old_holes):
            (ua, va), (ub, vb) = hole.at, two.at
            if ua is None or va is None or ub is None or vb is None or va >= 0 or vb >= 0:
                continue
            if abs(ub - ua - 2 * rows.half_spacing) <= _ALIKE and abs(va - vb) <= _ALIKE:
                pairs.append((port, starboard))
    return tuple(pairs)


def use_pair(design: Design, index: int, pair: tuple[int, int]) -> Design:
    """Put a motor's upper holes in a pair of old ones, and mark both as used: upper depth and offset follow.

    The drop stays, so the lower pair moves too.
    """
    (ua, va), (ub, vb) = (design.old_holes[index].at for index in pair)
    if ua is None or va is None or ub is None or vb is None:
        return design
    holes = tuple(replace(hole, reuse=hole.reuse or number in pair) for number, hole in enumerate(design.old_holes))
    return with_mount(replace(design, old_holes=holes), index, upper_at=(va + vb) / 2, offset=(ua + ub) / 2)


def add_well(design: Design) -> Design:
    """Give the boat a well whose depths are still to be measured. Its widths are guesses."""
    return _guessed(replace(design, well=well_to_measure()), "well.")


def remove_well(design: Design) -> Design:
    """Remove the well and its readings, pilots' distances to it too."""
    pilots = tuple(pilot for pilot in design.pilots if pilot.to in ("old hole", "block"))
    return replace(design, well=None, pilots=pilots, readings=_without(design, "well."))


def _guessed(design: Design, start: str) -> Design:
    """Mark as guesses all measures whose keys begin with ``start``."""
    return guess(design, (measure for measure in measures(design) if measure.key.startswith(start)))


def _without(design: Design, start: str) -> dict[str, Reading]:
    return {key: reading for key, reading in design.readings.items() if not key.startswith(start)}


def _free_name(wanted: str, others: Sequence[Mount | OldHole | Block | Fitting], *, bare: bool = False) -> str:
    """Return an unused name, numbered from 1; ``bare``: the first has no number."""
    taken = {other.name for other in others}
    names = (wanted if bare and number == 1 else f"{wanted} {number}" for number in count(1))
    return next(name for name in names if name not in taken)
