"""Finds a fit: searches rows, drops, place and hardware for what clears everything, and ranks it as a rigger would.

The drillable zones of a few kinds of hardware tell where the holes may be; what is offered has passed the whole check.
Order of rank: advised clearance before less; standard place before moved; plain hardware before special; more rows left;
old holes used again; larger smallest clearance; plate height in the usual range. The order is common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from msgspec.structs import replace

from geometry.decide.kit import BOLT, CUT, PLAIN, PLATE, PRESENT, TILT, Kit, kits, relieved_plate, with_cut, with_plate
from geometry.design.edits import with_mount
from geometry.design.hardware import BOLT_NAMES
from geometry.design.sense import CLOSE, NonsenseError
from geometry.design.units import format_angle, format_length
from geometry.judge.bracket import usual_plate_heights
from geometry.judge.check import check
from geometry.judge.findings import Checked, Finding, State, verdict_of, worst
from geometry.judge.inside import PARTS
from geometry.solid.bolts import bolts
from geometry.solid.frames import Unmeasured, faces
from geometry.solid.rows import ladder_drops, plate_height, rows_left, saddle_gap, standard_drop
from geometry.solid.well import space
from geometry.solid.zones import pair_zone

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.motor import Mount
    from geometry.design.whole import Design
    from geometry.solid.zones import Grade, Zone

MOST = 12  # fits offered
_TRIES = 60  # full checks at most before the search gives up
_SAME = 0.5  # [mm] two places nearer than this are one
_OFFSETS = (6.0, -6.0, 12.0, -12.0, 25.0, -25.0)  # [mm] tried where nothing fits in the middle; our choice
_LOWEST_FLOOR = 200.0  # [mm] beyond this it is another boat


@dataclass(frozen=True, slots=True)
class Fit:
    """One way to hang the motor that clears everything, or the nearest miss.

    Attributes:
        design: the design after it. fits: False for the nearest miss.
        state: worst state of what concerns this motor. row, drop, upper_at, offset, lower_tilt: where it hangs [mm], [degrees].
        hardware: of the lower pair, in words. rows_left: rows that its drop leaves.
        room: smallest clearance inside [mm], None where nothing limits it. plate_height: [mm], None where not known.
        reused: names of the old holes that it uses.
        governs: the finding that governs, None where there is none. costs: what it costs, a sentence each.
        change: for a miss, what would have to change; None where it fits.
    """

    design: Design
    fits: bool
    state: State
    row: int
    drop: float
    upper_at: float
    offset: float
    lower_tilt: float
    hardware: str
    rows_left: tuple[int, ...]
    room: float | None
    plate_height: float | None
    reused: tuple[str, ...]
    governs: Finding | None
    costs: tuple[str, ...]
    change: str | None = None


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the search is: ``done`` of ``total`` steps."""

    done: int
    total: int


class _Upper(NamedTuple):
    """A place for the upper pair: where, how far from the usual, in what design (which old holes it uses), what it costs."""

    design: Design
    at: float
    offset: float
    moved: int
    kit: Kit
    reused: tuple[str, ...] = ()
    costs: tuple[str, ...] = ()


class _Choice(NamedTuple):
    """A placement before it is checked. ``advised``: whether its lower pair has the advised room."""

    upper: _Upper
    kit: Kit
    tilt: float
    drop: float
    row: int
    left: tuple[int, ...]
    advised: bool
    off_usual: float


def search(design: Design, index: int = 0) -> Iterator[Fit | Progress]:
    """Yield fits for one motor, best first, with word of the progress between; at last, where none fits, the nearest miss.

    Nothing is yielded for a bracket without bolts. Stop asking to stop the search.

    Raises:
        Unmeasured: a reading that the zones rest on is missing.
    """
    mount = design.mounts[index]
    if mount.bracket.rows is None or mount.bracket.lower is None:
        return
    found = 0
    choices: list[_Choice] = []
    for stage in (_at_home(design, index), _aside(design, index)):
        choices = []
        for done, some in enumerate(stage):
            yield Progress(done, _TRIES)
            choices += some
        for tried, choice in enumerate(sorted(choices, key=_rank)[:_TRIES]):
            fit = _checked(design, index, choice)
            if fit is not None and fit.fits:
                yield fit
                found += 1
                if found == MOST:
                    return
            yield Progress(tried + 1, min(len(choices), _TRIES))
        if found:
            return
    miss = _nearest_miss(design, index)
    if miss is not None:
        yield miss


def fits(design: Design, index: int = 0) -> tuple[Fit, ...]:
    """Return all that `search` finds, best first.

    Raises:
        Unmeasured: see `search`.
    """
    return tuple(found for found in search(design, index) if isinstance(found, Fit))


def _rank(choice: _Choice) -> tuple[float, ...]:
    return (
        not choice.advised,
        _moved(choice),
        choice.kit.level + choice.upper.kit.level + (TILT if choice.tilt else 0),
        -len(choice.left),
        -len(choice.upper.reused),
        -(choice.kit.hardware.washer.outer or 0.0),
        round(choice.off_usual),
        choice.row,
    )


def _moved(choice: _Choice) -> int:
    """Count the rows that the drop has lost against the standard one, and the upper pair's own steps."""
    upper = choice.upper
    return upper.moved + _steps(upper.design.mounts[_index_of(upper)], choice.drop)


def _index_of(upper: _Upper) -> int:
    return next(i for i, mount in enumerate(upper.design.mounts) if mount.upper_at == upper.at and mount.bracket.rows)


def _steps(mount: Mount, drop: float) -> int:
    rows, lower = mount.bracket.rows, mount.bracket.lower
    if rows is None or lower is None:
        return 0
    return max(0, math.ceil((standard_drop(lower) - drop) / rows.pitch - CLOSE))


def _at_home(design: Design, index: int) -> Iterator[list[_Choice]]:
    """Yield choices at the motor's own place athwart, one kind of lower hardware after the other."""
    yield from _with_uppers(design, index, design.mounts[index].offset or 0.0, reuse=True)


def _aside(design: Design, index: int) -> Iterator[list[_Choice]]:
    """Yield choices a little to either side."""
    offset = design.mounts[index].offset or 0.0
    for by in _OFFSETS:
        yield from _with_uppers(design, index, offset + by, reuse=False)


def _with_uppers(design: Design, index: int, offset: float, *, reuse: bool) -> Iterator[list[_Choice]]:
    uppers = list(_uppers(design, index, offset, reuse=reuse))
    for kit, tilt in _lower_kits(design, index):
        yield _choices(index, uppers, kit, tilt)


def _lower_kits(design: Design, index: int) -> Iterator[tuple[Kit, float]]:
    mount = design.mounts[index]
    hardware = mount.lower_hardware
    if hardware is None:
        return
    now = mount.lower_tilt or 0.0
    for kit in kits(hardware, mount.bracket, "lower", design.units):
        yield kit, now
    for tilt in _tilts(design, index):
        cost = (
            f"The lower holes are drilled {format_angle(tilt)} up from square: the heads sit off flat by as much, and "
            "the guide block has to be cut to it."
        )
        yield Kit(hardware, TILT, "the hardware as it is", (cost,)), tilt


def _tilts(design: Design, index: int) -> list[float]:
    """Return tilts that lift the lower exits, within the bracket's play and the seat's limits [degrees]."""
    mount, limits = design.mounts[index], design.limits.seat_angle
    lower, hardware = mount.bracket.lower, mount.lower_hardware
    if lower is None or hardware is None or not lower.diameter or not lower.pad_thickness:
        return []
    bolt = next(one for one in bolts(design) if one.mount_index == index and one.name == "lower port")
    play = math.degrees(math.atan(max(0.0, lower.diameter - bolt.thread.diameter) / lower.pad_thickness))
    taper = math.degrees(faces(design.transom).taper)
    wedge = hardware.wedge or 0.0
    # The inside washer's angle is tilt - taper - wedge.
    most = [math.floor(min(play, angle, taper + wedge + angle) * 10) / 10 for angle in sorted(limits)]
    return sorted({tilt for tilt in most if tilt > (mount.lower_tilt or 0.0) + 0.05})


def _uppers(design: Design, index: int, offset: float, *, reuse: bool) -> Iterator[_Upper]:
    """Yield places for the upper pair in which it has at least the least room."""
    mount = design.mounts[index]
    rows, hardware = mount.bracket.rows, mount.upper_hardware
    if rows is None or hardware is None:
        return
    unit, seen = design.units, list[float]()
    aside = 0 if mount.offset is None else round(abs(offset - mount.offset) > CLOSE) * 2
    free = _without_wishes(design)
    if reuse:
        yield from _old_pairs(design, index)
    for kit in kits(hardware, mount.bracket, "upper", unit):
        if kit.level > PLAIN:
            break
        zone = pair_zone(with_mount(free, index, upper_hardware=kit.hardware), index, "upper")
        spots = _spans(zone, offset, rows.half_spacing)
        for at, moved, cost in _heights(design, index, spots, _spans(zone, offset, rows.half_spacing, "advised")):
            if any(abs(at - other) < _SAME for other in seen) or not any(low <= at <= high for low, high in spots):
                continue
            seen.append(at)
            hung = with_mount(free, index, offset=offset, upper_at=at, upper_hardware=kit.hardware)
            costs = tuple(said for said in (*_aside_cost(mount, offset, unit), cost, *kit.costs) if said)
            yield _Upper(hung, at, offset, moved + aside, kit, (), costs)


def _aside_cost(mount: Mount, offset: float, unit: str) -> tuple[str, ...]:
    if abs(offset - (mount.offset or 0.0)) < CLOSE:
        return ()
    by = offset - (mount.offset or 0.0)
    side = "starboard" if by > 0 else "port"
    return (f"The motor hangs {format_length(abs(by), 'in' if unit == 'in' else 'mm')} further to {side}.",)


def _heights(
    design: Design, index: int, least: list[tuple[float, float]], advised: list[tuple[float, float]]
) -> Iterator[tuple[float, int, str]]:
    """Yield heights for the upper pair: kept, at the trade's depth, at the ends of what it has room for."""
    mount, unit = design.mounts[index], design.units
    rows = mount.bracket.rows
    if rows is None:
        return
    now = mount.upper_at
    if now is not None:
        yield now, 0, ""
    usual = -rows.row0_depth
    spots = [(usual, 0 if now is None else 1)]
    spots += [(high, 1) for _, high in advised] + [(usual - step * rows.pitch, 1 + step) for step in (1, 2)]
    spots += [(high, 2) for _, high in least]
    for at, moved in spots:
        at = math.floor(at * 10 + CLOSE) / 10 if abs(at - usual) > CLOSE else at
        higher = now is not None and at > now + CLOSE
        yield at, moved + higher, f"The upper holes lie {format_length(-at, unit)} below the top edge."


def _old_pairs(design: Design, index: int) -> Iterator[_Upper]:
    """Yield places that use two old holes for the upper pair, where they are as far apart as the bracket asks."""
    mount = design.mounts[index]
    rows, hardware = mount.bracket.rows, mount.upper_hardware
    if rows is None or hardware is None or hardware.hole is None:
        return
    usable = [
        (number, hole.at[0], hole.at[1], hole.diameter)
        for number, hole in enumerate(design.old_holes)
        if hole.state != "plugged" and hole.at[0] is not None and hole.at[1] is not None
        and hole.diameter is not None and hole.diameter <= hardware.hole + CLOSE
    ]  # fmt: skip
    for one, two in combinations(usual_order(usable), 2):
        allowed = (hardware.hole - max(one[3], two[3])) / 2
        apart = abs(two[1] - one[1]) - 2 * rows.half_spacing
        if math.hypot(apart / 2, (two[2] - one[2]) / 2) > allowed + CLOSE:
            continue
        offset, at = (one[1] + two[1]) / 2, (one[2] + two[2]) / 2
        used = {one[0], two[0]}
        wished = tuple(replace(hole, reuse=number in used) for number, hole in enumerate(design.old_holes))
        if not at < 0:
            continue
        hung = with_mount(replace(design, old_holes=wished), index, offset=offset, upper_at=at)
        names = tuple(design.old_holes[number].name for number in sorted(used))
        costs = (*_aside_cost(mount, offset, design.units), f"The upper pair uses {names[0]} and {names[1]}.")
        kept = mount.upper_at is not None and abs(at - mount.upper_at) < _SAME
        yield _Upper(hung, at, offset, 0 if kept else 1, Kit(hardware, PRESENT, "the hardware as it is"), names, costs)


def usual_order(holes: list[tuple[int, float, float, float]]) -> list[tuple[int, float, float, float]]:
    """Return old holes from port to starboard."""
    return sorted(holes, key=lambda hole: hole[1])


def _without_wishes(design: Design) -> Design:
    """Return ``design`` with no old hole to be used again: what uses none of them is looked at apart."""
    if not any(hole.reuse for hole in design.old_holes):
        return design
    return replace(design, old_holes=tuple(replace(hole, reuse=False) for hole in design.old_holes))


def _spans(zone: Zone, offset: float, half: float, grade: Grade = "least") -> list[tuple[float, float]]:
    """Return the heights at which both bolts of a pair lie in its zone."""
    return [
        (max(a[0], b[0]), min(a[1], b[1]))
        for a in zone.spans(offset - half, grade)
        for b in zone.spans(offset + half, grade)
        if max(a[0], b[0]) <= min(a[1], b[1])
    ]


def _choices(index: int, uppers: list[_Upper], kit: Kit, tilt: float) -> list[_Choice]:
    """Return the placements of one kind of lower hardware that its zone allows, the best row of each."""
    found: list[_Choice] = []
    zones: dict[int, Zone] = {}
    for upper in uppers:
        mount = upper.design.mounts[index]
        lower = mount.bracket.lower
        if lower is None:
            return []
        probe = with_mount(upper.design, index, lower_hardware=_probe(kit), lower_tilt=tilt, drop=standard_drop(lower))
        key = hash(tuple(hole.reuse for hole in upper.design.old_holes))
        if key not in zones:
            zones[key] = pair_zone(probe, index, "lower")
        spans = {grade: _spans(zones[key], upper.offset, lower.half_spacing, grade) for grade in _GRADES}
        for drop in _drops(mount, index, upper.at, spans["advised"]):
            at = upper.at - drop
            if not any(low - CLOSE <= at <= high + CLOSE for low, high in spans["least"]):
                continue
            advised = any(low - CLOSE <= at <= high + CLOSE for low, high in spans["advised"])
            rows = rows_left(probe, index, drop)
            if not rows:
                continue
            row = min(rows, key=lambda one: (_off_usual(probe, index, one), one))
            found.append(_Choice(upper, kit, tilt, drop, row, rows, advised, _off_usual(probe, index, row)))
    return found


_GRADES: tuple[Grade, ...] = ("least", "advised")


def _probe(kit: Kit) -> object:
    """Return what the zone is asked for: the plate's own reach stands for it until its shape is found."""
    if kit.level != PLATE:
        return kit.hardware
    washer = kit.hardware.washer
    return kit.hardware if washer.outer is None else kit.hardware


def _drops(mount: Mount, index: int, upper: float, advised: list[tuple[float, float]]) -> list[float]:
    """Return the drops to try: the ladder's, and the deepest that has the advised room."""
    drops = list(ladder_drops(mount, index))
    for low, _ in advised:
        free = math.floor((upper - low) * 10) / 10
        if free > 0 and all(abs(free - drop) > _SAME for drop in drops):
            drops.append(free)
    return drops


def _off_usual(design: Design, index: int, row: int) -> float:
    """Return how far the plate would be from the usual range in a row [mm]; 0 where it can't be told."""
    try:
        height = plate_height(design, index, row)
    except Unmeasured:
        return 0.0
    low, high = usual_plate_heights(design.mounts[index].set_back)
    return max(low - height, height - high, 0.0)


def _hang(index: int, choice: _Choice, kit: Kit) -> Design:
    return with_mount(
        choice.upper.design, index, row=choice.row, drop=choice.drop, lower_tilt=choice.tilt, lower_hardware=kit.hardware,
    )  # fmt: skip


def _checked(design: Design, index: int, choice: _Choice) -> Fit | None:
    """Return a choice after the whole check, its cut or its plate made to measure; None where that makes no sense."""
    try:
        kit = _made_to_measure(index, choice)
        hung = _hang(index, choice, kit)
    except (NonsenseError, Unmeasured):
        return None
    return _told(design, index, hung, kit, choice)


def _told(design: Design, index: int, hung: Design, kit: Kit, choice: _Choice) -> Fit:
    checked = check(hung)
    ours = _ours(checked, index)
    state = verdict_of(ours)
    room = min((f.value for f in ours if f.check in PARTS and f.value is not None), default=None)
    try:
        height = plate_height(hung, index)
    except Unmeasured:
        height = None
    costs = (*choice.upper.costs, *_drop_costs(design, index, choice), *kit.costs, *_pad_cost(hung, index))
    return Fit(
        hung, state != "fouled", state, choice.row, choice.drop, choice.upper.at, choice.upper.offset, choice.tilt, kit.name,
        choice.left, room, height, choice.upper.reused, worst(ours), costs,
    )  # fmt: skip


def _ours(checked: Checked, index: int) -> tuple[Finding, ...]:
    return tuple(finding for finding in checked.findings if not finding.mounts or index in finding.mounts)


def _drop_costs(design: Design, index: int, choice: _Choice) -> tuple[str, ...]:
    mount, unit = design.mounts[index], design.units
    lower, rows = mount.bracket.lower, mount.bracket.rows
    if lower is None or rows is None or _steps(mount, choice.drop) == 0:
        return ()
    up = format_length(standard_drop(lower) - choice.drop, unit)
    lost = rows.count - len(choice.left)
    gone = f"{lost} of {rows.count} rows {'is' if lost == 1 else 'are'} lost" if lost else "no row is lost"
    return (f"The lower pair goes {up} above its standard place: {gone}.",)


def _pad_cost(hung: Design, index: int) -> tuple[str, ...]:
    gap = saddle_gap(hung, index)
    if gap < 3.0 - CLOSE:
        return ()
    return (f"A hard pad of {format_length(gap, hung.units)} under the saddle.",)


def _made_to_measure(index: int, choice: _Choice) -> Kit:
    """Return the choice's kit with the washers' cut no deeper, and the plate no larger, than this place asks for."""
    kit, unit = choice.kit, choice.upper.design.units
    if kit.level == CUT:
        return _cut_to_measure(index, choice)
    if kit.level != PLATE:
        return kit
    hung = _hang(index, choice, kit)
    inside_ = space(hung)
    lower = hung.mounts[index].bracket.lower
    plate, washer = kit.hardware.backing_plate, kit.hardware.washer
    if lower is None or plate is None or washer.outer is None:
        return kit
    pair = [bolt for bolt in bolts(hung) if bolt.mount_index == index and not bolt.upper]
    # How far the plate's lower edge lies below where the land begins, advised clearance included.
    edge = pair[0].exit.w - washer.outer / 2 - 3.0
    lack = 0.0
    room = hung.limits.clearance[1]
    for bolt in pair:
        land = inside_.land_at(bolt.exit.u)
        lack = max(lack, 0.0 if land is None else land + room - edge)
    notch = 0.0
    for block in inside_.blocks:
        if all(pair[0].exit.u < u < pair[1].exit.u for u, _ in block.ring):
            notch = max(notch, max(w for _, w in block.ring) + room - edge)
    along = math.ceil(lack * 2) / 2
    notch = math.ceil(notch * 2) / 2 if notch > 0 else 0.0
    return with_plate(kit, relieved_plate(washer.outer, lower.half_spacing, along, plate.joins, notch), "lower", unit)


def _cut_to_measure(index: int, choice: _Choice) -> Kit:
    kit, unit = choice.kit, choice.upper.design.units
    hung = _hang(index, choice, kit)
    washer = kit.hardware.washer
    values = [f.value for f in check(hung).findings if f.check == "washer" and "/ lower" in f.at and index in f.mounts]
    rooms = [value for value in values if value is not None]
    spare = min(rooms, default=0.0) - hung.limits.clearance[1]
    cut = washer.flat_cut or 0.0
    if spare > 0.5 and washer.outer is not None:
        cut = min(math.floor((cut + spare) * 2) / 2, washer.outer / 2 - 0.5)
    return with_cut(kit, cut, "lower", unit)


def _nearest_miss(design: Design, index: int) -> Fit | None:
    """Return the placement that lacks least, with what would have to change."""
    mount = design.mounts[index]
    best: tuple[tuple[float, ...], Fit] | None = None
    if mount.bracket.rows is None or mount.bracket.lower is None or mount.upper_hardware is None:
        return None
    at = -mount.bracket.rows.row0_depth if mount.upper_at is None else mount.upper_at
    offset = mount.offset or 0.0
    hung = with_mount(_without_wishes(design), index, upper_at=at, offset=offset)
    upper = _Upper(hung, at, offset, 0, Kit(mount.upper_hardware, PRESENT, "the hardware as it is"))
    for kit, tilt in _lower_kits(design, index):
        if kit.level in (BOLT, TILT):
            continue
        for drop in ladder_drops(mount, index):
            rows = rows_left(hung, index, drop) or (mount.row or 0,)
            row = min(rows, key=lambda one: (_off_usual(hung, index, one), one))
            fit = _checked(design, index, _Choice(upper, kit, tilt, drop, row, rows, False, 0.0))
            if fit is None:
                continue
            lacks = [f for f in _ours(check(fit.design), index) if f.state == "fouled"]
            short = sum(_short(finding) for finding in lacks)
            key = (short, float(len(lacks)), float(_steps(mount, drop)), float(kit.level))
            if best is None or key < best[0]:
                best = key, fit
    if best is None:
        return None
    fit = best[1]
    return Fit(**{name: getattr(fit, name) for name in Fit.__slots__ if name != "change"}, change=_change(fit, index))  # type: ignore[attr-defined]


def _short(finding: Finding) -> float:
    """Return about how many millimetres a fouled finding lacks."""
    if finding.value is None or finding.least is None:
        return 50.0
    lack = abs(finding.value - finding.least)
    return lack * 12.7 if finding.unit == "diameters" else lack


def _change(fit: Fit, index: int) -> str:
    """Say what would have to change for the nearest miss to fit."""
    unit = fit.design.units
    by = _floor_lower_by(fit.design, index)
    if by is not None:
        grain = 25.4 / 16 if unit == "in" else 0.5
        return f"The well's floor would have to be {format_length(math.ceil(by / grain - CLOSE) * grain, unit)} lower."
    if fit.governs is None:
        return "Nothing that the search can move helps."
    return f"{fit.governs.text} {fit.governs.remedy or ''}".strip()


def _floor_lower_by(design: Design, index: int) -> float | None:
    """Return how much lower the well's floor would have to be for a design to fit [mm], None where that does not help."""
    if design.well is None or not _fits_with_floor(design, index, _LOWEST_FLOOR):
        return None
    low, high = 0.0, _LOWEST_FLOOR
    while high - low > 0.05:
        middle = (low + high) / 2
        low, high = (low, middle) if _fits_with_floor(design, index, middle) else (middle, high)
    return high


def _fits_with_floor(design: Design, index: int, by: float) -> bool:
    well = design.well
    if well is None:
        return False
    first, *floor, last = well.profile
    deeper = tuple((u, None if y is None else y - by) for u, y in floor)
    # What stands on the floor goes down with it.
    lowered = replace(design, well=replace(well, profile=(first, *deeper, last)))
    return verdict_of(_ours(check(lowered), index)) != "fouled"


__all__ = ["BOLT_NAMES", "Fit", "Progress", "fits", "search"]
