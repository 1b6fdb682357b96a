"""Finds a fit: searches rows, drops, place and hardware for what clears everything, and ranks it as a rigger would.

The drillable zones of a few kinds of hardware tell where the holes may be; what is offered has passed the whole check.
Order of rank: advised clearance before less; standard place before moved; plain hardware before special; more rows left;
old holes used again; larger smallest clearance; plate height in the usual range. The order is common practice.
"""

from __future__ import annotations

import heapq
import math
from dataclasses import dataclass, field
from dataclasses import replace as changed
from itertools import combinations
from typing import TYPE_CHECKING, Literal, NamedTuple

from msgspec.structs import replace

from geometry.decide.kit import (
    CUT,
    PLAIN,
    PLATE,
    PLATE_REACH,
    PRESENT,
    TILT,
    Kit,
    kits,
    relieved_plate,
    with_cut,
    with_plate,
)
from geometry.design.edits import with_mount
from geometry.design.sense import CLOSE, NonsenseError
from geometry.design.units import format_angle, format_length
from geometry.judge.bracket import HARD_PAD, usual_plate_heights
from geometry.judge.check import check
from geometry.judge.findings import Finding, State, verdict_of, worst
from geometry.judge.inside import PARTS, part_room
from geometry.judge.report import Reporter
from geometry.solid.bolts import bolts
from geometry.solid.frames import Unmeasured, faces
from geometry.solid.rows import ladder_drops, plate_height, round_hole, rows_left, saddle_gap, slot_place, standard_drop
from geometry.solid.well import space
from geometry.solid.zones import pair_zone
from geometry.tables import fasteners
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Generator, Iterator

    from geometry.design.hardware import Hardware
    from geometry.design.motor import Lower, Mount, Rows
    from geometry.design.whole import Design
    from geometry.solid.zones import Grade, Zone

MOST = 12  # fits offered
_TRIES = 60  # full checks at most before the search gives up
_SAME = 0.5  # [mm] two places nearer than this are one
_OFFSETS = (6.0, -6.0, 12.0, -12.0, 25.0, -25.0)  # [mm] tried where nothing fits in the middle; our choice
_WHEREVER = ("seat", "length", "shank", "clamp", "pressure", "power")  # what fouls so fouls wherever the holes are
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
    """A place for the upper pair.

    Fields: the design with its old holes meant for use or not, where, how far from the present or usual place in steps
    of rank, the pair's hardware, old holes used, costs, and whether its parts have the advised room.
    """

    design: Design
    at: float
    offset: float
    moved: int
    kit: Kit
    reused: tuple[str, ...]
    costs: tuple[str, ...]
    advised: bool


class _Choice(NamedTuple):
    """A placement before it is checked.

    ``advised``: its parts have the advised room; ``in_slot``: the slot's end has it too; ``slack``: how much deeper the
    lower pair could lie.
    """

    upper: _Upper
    kit: Kit
    tilt: float
    drop: float
    row: int
    left: tuple[int, ...]
    advised: bool
    in_slot: bool
    off_usual: float
    steps: int
    slack: float

    @property
    def special(self) -> int:
        """How special its hardware is."""
        return self.kit.level + self.upper.kit.level

    @property
    def rank(self) -> tuple[float, ...]:
        """What a rigger would take first, smallest first."""
        wide = self.kit.hardware.washer.outer or 0.0
        return (not self.advised, self.upper.moved + self.steps, self.special, -len(self.left), -len(self.upper.reused),
                -wide, not self.in_slot, -round(self.slack), round(self.off_usual), self.row)  # fmt: skip

    def makes_needless(self, other: _Choice) -> bool:
        """Tell whether another one that ranks after it has nothing that it has not."""
        return (
            self.advised >= other.advised
            and self.in_slot >= other.in_slot
            and self.upper.moved <= other.upper.moved
            and self.special <= other.special
            and set(self.left) >= set(other.left)
            and set(self.upper.reused) >= set(other.upper.reused)
            and self.off_usual <= other.off_usual + 3.0
            and (self.advised or self.slack >= other.slack - 1.0)
            and not (self.kit.level == CUT and other.kit.level == PLATE)  # some would not cut a washer
        )


@dataclass(frozen=True)
class _Ground:
    """One motor on its boat, what it cost to seat its bolts, and the zones that have been asked for."""

    design: Design
    index: int
    costs: tuple[str, ...]
    _zones: dict[object, Zone] = field(default_factory=dict)

    @property
    def mount(self) -> Mount:
        return self.design.mounts[self.index]

    @property
    def bracket(self) -> tuple[Rows, Lower]:
        rows, lower = self.mount.bracket.rows, self.mount.bracket.lower
        if rows is None or lower is None:
            raise TypeError("a bracket without bolts has nothing to search for")
        return rows, lower

    @property
    def hardware(self) -> tuple[Hardware, Hardware]:
        upper, lower = self.mount.upper_hardware, self.mount.lower_hardware
        if upper is None or lower is None:
            raise TypeError("a bracket without bolts has no hardware")
        return upper, lower

    def zone(self, design: Design, pair: Literal["upper", "lower"]) -> Zone:
        """Return a pair's zone, its advised part for the clearance alone: edges may be as near as at least allowed."""
        mount = design.mounts[self.index]
        reused = tuple(hole.reuse for hole in design.old_holes)
        key = (pair, reused, mount.upper_hardware, mount.lower_hardware, mount.upper_tilt, mount.lower_tilt)
        if key not in self._zones:
            limits = design.limits
            wood = limits.wood_between_diameters[0]
            eased = replace(limits, edge_diameters=(limits.edge_diameters[0],) * 2, wood_between_diameters=(wood, wood))
            self._zones[key] = pair_zone(replace(design, limits=eased), self.index, pair)
        return self._zones[key]


def search(design: Design, index: int = 0) -> Generator[Fit | Progress]:
    """Yield fits for one motor, best first, with word of the progress between; where none fits, the nearest miss.

    Nothing is yielded for a bracket without bolts. To stop the search, ask no more.

    Raises:
        Unmeasured: a reading that the zones rest on is missing.
    """
    if design.mounts[index].bracket.rows is None:
        return
    ground = _Ground(*_seated(design, index))
    offset = ground.mount.offset or 0.0
    for places in ((offset,), tuple(offset + by for by in _OFFSETS)):
        yield Progress(0, 1)
        choices: list[_Choice] = []
        for done, total, some in _all_choices(ground, places):
            choices += some
            yield Progress(done, total + _TRIES)
        found = 0
        for step in _best_first(ground, choices):
            yield step
            found += isinstance(step, Fit)
            if found == MOST:
                return
        if found:
            return
    miss = _nearest_miss(ground)
    if miss is not None:
        yield miss


def fits(design: Design, index: int = 0) -> tuple[Fit, ...]:
    """Return all that `search` finds, best first.

    Raises:
        Unmeasured: see `search`.
    """
    return tuple(found for found in search(design, index) if isinstance(found, Fit))


def _seated(design: Design, index: int) -> tuple[Design, int, tuple[str, ...]]:
    """Return the design with both pairs' bolts seated: square where they lean too far, on wedges where the faces do.

    With its index, and what that costs.
    """
    mount, least = design.mounts[index], design.limits.seat_angle[0]
    taper, costs = math.degrees(faces(design.transom).taper), list[str]()
    for pair in ("upper", "lower"):
        tilt: float | None = getattr(mount, f"{pair}_tilt")
        hardware: Hardware = getattr(mount, f"{pair}_hardware")
        if tilt is None or abs(tilt) > min(least, _play(mount, pair)) + CLOSE:
            if tilt is not None:
                costs.append(f"The {pair} holes are drilled square to the face.")
            tilt = 0.0
        wedge = hardware.wedge or 0.0
        if abs(tilt - taper - wedge) > least + CLOSE:
            wedge = round(tilt - taper, 1)
            costs.append(f"Wedges of {format_angle(abs(wedge))} under both inside washers of the {pair} pair.")
        mount = replace(
            mount, **{f"{pair}_tilt": tilt, f"{pair}_hardware": replace(hardware, wedge=wedge)},
        )  # fmt: skip
    return replace(design, mounts=(*design.mounts[:index], mount, *design.mounts[index + 1 :])), index, tuple(costs)


def _play(mount: Mount, pair: str) -> float:
    """Return how far a pair's bolts can lean in the bracket's holes [degrees]; no end where that is not measured."""
    spread = mount.bracket.rows if pair == "upper" else mount.bracket.lower
    hardware: Hardware = getattr(mount, f"{pair}_hardware")
    if spread is None or spread.diameter is None or not spread.pad_thickness:
        return math.inf
    loose = max(0.0, spread.diameter - fasteners.bolt(hardware.bolt).diameter)
    return math.degrees(math.atan(loose / spread.pad_thickness))


def _best_first(ground: _Ground, choices: list[_Choice]) -> Iterator[Fit | Progress]:
    """Check choices in the order of their rank, and yield those that fit and have something of their own."""
    waiting = [(choice.rank, number, choice, None) for number, choice in enumerate(choices)]
    heap: list[tuple[tuple[float, ...], int, _Choice, Fit | None]] = list(waiting)
    heapq.heapify(heap)
    taken: list[_Choice] = []
    hopeless: set[tuple[str, str, float]] = set()
    tried, wanted = 0, ground.design.limits.clearance[1]
    while heap and tried < _TRIES:
        _, number, choice, fit = heapq.heappop(heap)
        tools = choice.kit.name, choice.upper.kit.name, choice.tilt
        if tools in hopeless or any(better.makes_needless(choice) for better in taken):
            continue
        if fit is None:
            tried += 1
            yield Progress(tried, _TRIES)
            fit = _checked(ground, choice)
            if fit is None or not fit.fits:
                if fit is not None and fit.governs is not None and fit.governs.check in _WHEREVER:
                    hopeless.add(tools)
                continue
            if choice.advised and fit.room is not None and fit.room < wanted - CLOSE:
                # It has less room than its zone promised (a plate's own shape): it ranks later.
                choice = choice._replace(advised=False)
                heapq.heappush(heap, (choice.rank, number, choice, fit))
                continue
        taken.append(choice)
        yield fit


def _steps(ground: _Ground, drop: float) -> int:
    """Count the rows that a drop costs against the standard one."""
    rows, lower = ground.bracket
    return max(0, math.ceil((standard_drop(lower) - drop) / rows.pitch - CLOSE))


def _all_choices(ground: _Ground, offsets: tuple[float, ...]) -> Iterator[tuple[int, int, list[_Choice]]]:
    """Yield the choices of one kind of lower hardware after the other, with the count of kinds."""
    uppers = [upper for offset in offsets for upper in _uppers(ground, offset)]
    if len(offsets) == 1:
        uppers = [*_old_pairs(ground), *uppers]
    tools = list(_lower_kits(ground))
    for done, (kit, tilt) in enumerate(tools, start=1):
        yield done, len(tools), [choice for upper in uppers for choice in _choices(ground, upper, kit, tilt)]


def _lower_kits(ground: _Ground) -> Iterator[tuple[Kit, float]]:
    hardware = ground.hardware[1]
    now = ground.mount.lower_tilt or 0.0
    for kit in kits(hardware, ground.mount.bracket, "lower", ground.design.units):
        yield kit, now
    for tilt in _tilts(ground):
        cost = (
            f"The lower holes are drilled {format_angle(tilt)} up from square: the heads sit off flat by as much, and "
            "the guide block has to be cut to it."
        )
        yield Kit(hardware, TILT, "the hardware as it is", (cost,)), tilt


def _tilts(ground: _Ground) -> list[float]:
    """Return tilts that lift the lower exits, within the bracket's play and the seat's limits [degrees]."""
    play = _play(ground.mount, "lower")
    if play == math.inf:
        return []
    under = math.degrees(faces(ground.design.transom).taper) + (ground.hardware[1].wedge or 0.0)
    # The inside washer sits off flat by tilt - taper - wedge.
    most = [math.floor(min(play, angle, under + angle) * 10) / 10 for angle in sorted(ground.design.limits.seat_angle)]
    return sorted({tilt for tilt in most if tilt > (ground.mount.lower_tilt or 0.0) + 0.05})


def _uppers(ground: _Ground, offset: float) -> Iterator[_Upper]:
    """Yield places for the upper pair in which it has at least the least room, without use of old holes."""
    mount, unit, half = ground.mount, ground.design.units, ground.bracket[0].half_spacing
    aside = 0 if mount.offset is None or abs(offset - mount.offset) < CLOSE else 2
    free, seen = _without_wishes(ground.design), list[float]()
    unused = tuple(f"{hole.name} is not used again: fill it first." for hole in ground.design.old_holes if hole.reuse)
    for kit in kits(ground.hardware[0], mount.bracket, "upper", unit):
        if kit.level > PLAIN:
            break
        zone = ground.zone(with_mount(free, ground.index, upper_hardware=kit.hardware), "upper")
        least, advised = (_spans(zone, offset, half, grade) for grade in _GRADES)
        for at, moved in _heights(ground, least, advised):
            roomy = _within(at, advised)
            if any(abs(at - other) < _SAME for other in seen) or not _within(at, least):
                continue
            if roomy or kit.level == PRESENT:
                seen.append(at)
            hung = with_mount(free, ground.index, offset=offset, upper_at=at, upper_hardware=kit.hardware)
            where = () if moved == 0 else (f"The upper holes lie {format_length(-at, unit)} below the top edge.",)
            costs = (*_aside_cost(ground, offset), *where, *kit.costs, *unused)
            yield _Upper(hung, at, offset, moved + aside, kit, (), costs, roomy)


def _within(at: float, spans: list[tuple[float, float]]) -> bool:
    return any(low - CLOSE <= at <= high + CLOSE for low, high in spans)


def _aside_cost(ground: _Ground, offset: float) -> tuple[str, ...]:
    by = offset - (ground.mount.offset or 0.0)
    if abs(by) < CLOSE:
        return ()
    side = "starboard" if by > 0 else "port"
    return (f"The motor hangs {format_length(abs(by), ground.design.units)} further to {side}.",)


def _heights(
    ground: _Ground, least: list[tuple[float, float]], advised: list[tuple[float, float]]
) -> Iterator[tuple[float, int]]:
    """Yield heights for the upper pair and what each counts in rank: kept, at the trade's depth, at the zones' upper ends.

    Nearer to the top edge than now, or than the trade puts it, counts three times as much as deeper down.
    """
    rows, now = ground.bracket[0], ground.mount.upper_at
    usual = -rows.row0_depth
    home = usual if now is None else now
    spots = [high for spans in (advised, least) for _, high in spans]
    for at in (home, usual, *(math.floor(spot * 10 + CLOSE) / 10 for spot in spots)):
        away = (at - home) / rows.pitch
        yield at, 0 if abs(away) < CLOSE else math.ceil(-away) if away < 0 else 3 * math.ceil(away)


def _old_pairs(ground: _Ground) -> Iterator[_Upper]:
    """Yield places that use two old holes for the upper pair, where they are as far apart as the bracket asks."""
    design, mount, hardware, rows = ground.design, ground.mount, ground.hardware[0], ground.bracket[0]
    usable = [
        (hole.at[0], hole.at[1], hole.diameter, number)
        for number, hole in enumerate(design.old_holes)
        if hole.state != "plugged" and hole.at[0] is not None and hole.at[1] is not None
        and hole.diameter is not None and hardware.hole is not None and hole.diameter <= hardware.hole + CLOSE
    ]  # fmt: skip
    for one, two in combinations(sorted(usable), 2):
        off = math.hypot(two[0] - one[0] - 2 * rows.half_spacing, two[1] - one[1]) / 2
        offset, at = (one[0] + two[0]) / 2, (one[1] + two[1]) / 2
        if off > ((hardware.hole or 0.0) - max(one[2], two[2])) / 2 + CLOSE or not at < 0:
            continue
        used = {one[3], two[3]}
        wished = tuple(replace(hole, reuse=number in used) for number, hole in enumerate(design.old_holes))
        hung = with_mount(replace(design, old_holes=wished), ground.index, offset=offset, upper_at=at)
        spans = {grade: _spans(ground.zone(hung, "upper"), offset, rows.half_spacing, grade) for grade in _GRADES}
        if not _within(at, spans["least"]):
            continue
        names = tuple(design.old_holes[number].name for number in sorted(used))
        costs = (*_aside_cost(ground, offset), f"The upper pair uses {names[0]} and {names[1]}.")
        moved = 0 if mount.upper_at is None or abs(at - mount.upper_at) < _SAME else 1
        kit = Kit(hardware, PRESENT, "the hardware as it is")
        yield _Upper(hung, at, offset, moved, kit, names, costs, _within(at, spans["advised"]))


def _without_wishes(design: Design) -> Design:
    """Return ``design`` with no old hole to be used again: what uses none of them is looked at apart."""
    if not any(hole.reuse for hole in design.old_holes):
        return design
    return replace(design, old_holes=tuple(replace(hole, reuse=False) for hole in design.old_holes))


def _spans(zone: Zone, offset: float, half: float, grade: Grade) -> list[tuple[float, float]]:
    """Return the heights at which both bolts of a pair lie in its zone."""
    return [
        (max(a[0], b[0]), min(a[1], b[1]))
        for a in zone.spans(offset - half, grade)
        for b in zone.spans(offset + half, grade)
        if max(a[0], b[0]) <= min(a[1], b[1])
    ]


def _choices(ground: _Ground, upper: _Upper, kit: Kit, tilt: float) -> Iterator[_Choice]:
    """Yield the placements of one kind of lower hardware that its zone allows, the best row of each."""
    index, (rows, lower) = ground.index, ground.bracket
    probe = with_mount(upper.design, index, lower_hardware=kit.hardware, lower_tilt=tilt, drop=standard_drop(lower))
    zone = ground.zone(with_mount(probe, index, upper_hardware=ground.hardware[0]), "lower")
    spans = {grade: _spans(zone, upper.offset, lower.half_spacing, grade) for grade in _GRADES}
    end = ground.design.limits.slot_end[1]
    for drop in _drops(ground, upper.at, spans["advised"]):
        left = rows_left(probe, index, drop) if _within(upper.at - drop, spans["least"]) else ()
        if not left:
            continue
        row = min(left, key=lambda one: (_off_usual(probe, index, one), one))
        place = row * rows.pitch + drop
        in_slot = round_hole(lower, place) or slot_place(lower, place) >= end - CLOSE
        advised = upper.advised and _within(upper.at - drop, spans["advised"])
        off = _off_usual(probe, index, row)
        slack = max(upper.at - drop - low for low, high in spans["least"] if _within(upper.at - drop, [(low, high)]))
        yield _Choice(upper, kit, tilt, drop, row, left, advised, in_slot, off, _steps(ground, drop), slack)


_GRADES: tuple[Grade, ...] = ("least", "advised")


def _drops(ground: _Ground, upper: float, advised: list[tuple[float, float]]) -> list[float]:
    """Return the drops to try: the ladder's, each a little longer so that the slot's end is clear, and the deepest."""
    ladder = ladder_drops(ground.mount, ground.index)
    end = math.ceil(ground.design.limits.slot_end[1] * 10 - CLOSE) / 10
    drops = [*ladder, *(drop + end for drop in ladder)]
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


def _hang(ground: _Ground, choice: _Choice, kit: Kit) -> Design:
    return with_mount(
        choice.upper.design, ground.index, row=choice.row, drop=choice.drop, lower_tilt=choice.tilt,
        lower_hardware=kit.hardware,
    )  # fmt: skip


def _checked(ground: _Ground, choice: _Choice) -> Fit | None:
    """Return a choice after the whole check, its cut or its plate made to measure; None where that makes no sense."""
    try:
        kit = _made_to_measure(ground, choice)
        hung = _hang(ground, choice, kit)
        costs = (*ground.costs, *choice.upper.costs, *_drop_costs(ground, choice), *kit.costs, *_pad_cost(ground, hung))
    except NonsenseError:
        return None
    ours = _ours(ground, hung)
    state = verdict_of(ours)
    room = min((f.value for f in ours if f.check in PARTS and f.value is not None), default=None)
    try:
        height = plate_height(hung, ground.index)
    except Unmeasured:
        height = None
    # Where all is clear the smallest margin governs; what only may not be below nothing has no margin.
    governs = worst(ours if state != "clear" else tuple(f for f in ours if f.least != f.advised)) or worst(ours)
    return Fit(
        hung, state != "fouled", state, choice.row, choice.drop, choice.upper.at, choice.upper.offset, choice.tilt, kit.name,
        choice.left, room, height, choice.upper.reused, governs, costs,
    )  # fmt: skip


def _ours(ground: _Ground, design: Design) -> tuple[Finding, ...]:
    """Return the findings that concern this motor."""
    return tuple(found for found in check(design).findings if not found.mounts or ground.index in found.mounts)


def _drop_costs(ground: _Ground, choice: _Choice) -> tuple[str, ...]:
    if choice.steps == 0:
        return ()
    rows, lower = ground.bracket
    up = format_length(standard_drop(lower) - choice.drop, ground.design.units)
    lost = rows.count - len(choice.left)
    gone = f"{lost} of {rows.count} rows {'is' if lost == 1 else 'are'} lost" if lost else "no row is lost"
    return (f"The lower pair goes {up} above its standard place: {gone}.",)


def _pad_cost(ground: _Ground, hung: Design) -> tuple[str, ...]:
    gap = saddle_gap(hung, ground.index)
    return () if gap < HARD_PAD - CLOSE else (f"A hard pad of {format_length(gap, hung.units)} under the saddle.",)


def _made_to_measure(ground: _Ground, choice: _Choice) -> Kit:
    """Return the choice's kit with the washers' cut no deeper, and the plate no larger, than this place asks for."""
    if choice.kit.level == CUT:
        return _cut_to_measure(ground, choice)
    return _plate_to_measure(ground, choice) if choice.kit.level == PLATE else choice.kit


def _plate_to_measure(ground: _Ground, choice: _Choice) -> Kit:
    """Relieve the plate so far that it clears the fillet, and notch it where something stands between the bolts."""
    kit = choice.kit
    hung = _hang(ground, choice, kit)
    inside, room = space(hung), hung.limits.clearance[1]
    pair = [bolt for bolt in bolts(hung) if bolt.mount_index == ground.index and not bolt.upper]
    plate, outer = kit.hardware.backing_plate, kit.hardware.washer.outer
    if plate is None or outer is None:
        return kit
    edge = pair[0].exit.w - outer / 2 - PLATE_REACH
    lands = [land for bolt in pair if (land := inside.land_at(bolt.exit.u)) is not None]
    lack = max((land + room - edge for land in lands), default=0.0)
    between = [block for block in inside.blocks if all(pair[0].exit.u < u < pair[1].exit.u for u, _ in block.ring)]
    over = max((w + room - edge for block in between for _, w in block.ring), default=0.0)
    along, notch = (math.ceil(max(0.0, by) * 2) / 2 for by in (lack, over))
    shape = relieved_plate(outer, ground.bracket[1].half_spacing, along, plate.joins, notch)
    return with_plate(kit, shape, "lower", hung.units)


def _cut_to_measure(ground: _Ground, choice: _Choice) -> Kit:
    """Cut the washers no nearer to their centres than the advised clearance asks for."""
    kit, washer = choice.kit, choice.kit.hardware.washer
    report = Reporter(_hang(ground, choice, kit))
    pair = [bolt for bolt in report.bolts if bolt.mount_index == ground.index and not bolt.upper]
    found = [room for bolt in pair if (room := part_room(report, bolt, "washer")) is not None]
    spare = min(found, default=0.0) - ground.design.limits.clearance[1]
    cut = washer.flat_cut or 0.0
    if spare > 0 and washer.outer is not None:
        cut = max(cut, min(math.floor((cut + spare) * 2) / 2, washer.outer / 2 - 0.5))
    return with_cut(kit, cut, "lower", ground.design.units)


def _nearest_miss(ground: _Ground) -> Fit | None:
    """Return the placement that lacks least, with what would have to change; the upper pair where it has room, if it has."""
    mount, index = ground.mount, ground.index
    offset = mount.offset or 0.0
    at = -ground.bracket[0].row0_depth if mount.upper_at is None else mount.upper_at
    hung = with_mount(_without_wishes(ground.design), index, upper_at=at, offset=offset)
    kept = _Upper(hung, at, offset, 0, Kit(ground.hardware[0], PRESENT, "the hardware as it is"), (), (), False)
    upper = min(_uppers(ground, offset), key=lambda one: (one.moved, one.kit.level), default=kept)
    hung = upper.design
    found: list[tuple[tuple[float, ...], Fit]] = []
    for kit, tilt in _lower_kits(ground):
        if kit.level not in (PRESENT, CUT, PLATE):
            continue
        for drop in ladder_drops(mount, index):
            rows = rows_left(hung, index, drop) or (mount.row or 0,)
            row = min(rows, key=lambda one: (_off_usual(hung, index, one), one))
            fit = _checked(ground, _Choice(upper, kit, tilt, drop, row, rows, False, False, 0.0, _steps(ground, drop), 0.0))
            if fit is not None:
                lacks = [finding for finding in _ours(ground, fit.design) if finding.state == "fouled"]
                key = (sum(map(_short, lacks)), len(lacks), _steps(ground, drop), kit.level)
                found.append((key, fit))
    if not found:
        return None
    fit = min(found, key=lambda one: one[0])[1]
    return changed(fit, change=_change(ground, fit))


def _short(finding: Finding) -> float:
    """Return about how many millimetres a fouled finding lacks."""
    if finding.value is None or finding.least is None:
        return 50.0
    lack = abs(finding.value - finding.least)
    return lack * 12.7 if finding.unit == "diameters" else lack


def _change(ground: _Ground, fit: Fit) -> str:
    """Say what would have to change for the nearest miss to fit."""
    unit = fit.design.units
    by = _floor_lower_by(ground, fit.design)
    if by is not None:
        grain = MM_PER_INCH / 16 if unit == "in" else 0.5
        return f"The well's floor would have to be {format_length(math.ceil(by / grain - CLOSE) * grain, unit)} lower."
    if fit.governs is None:
        return "Nothing that the search can move helps."
    return f"{fit.governs.text} {fit.governs.remedy or ''}".strip()


def _floor_lower_by(ground: _Ground, design: Design) -> float | None:
    """Return how much lower the well's floor would have to be for a design to fit [mm], None where that does not help."""
    if design.well is None or not _fits_above(ground, design, _LOWEST_FLOOR):
        return None
    low, high = 0.0, _LOWEST_FLOOR
    while high - low > 0.05:
        middle = (low + high) / 2
        low, high = (low, middle) if _fits_above(ground, design, middle) else (middle, high)
    return high


def _fits_above(ground: _Ground, design: Design, by: float) -> bool:
    """Tell whether a design would fit above a floor that lies lower."""
    if design.well is None:
        return False
    first, *floor, last = design.well.profile
    deeper = tuple((u, None if y is None else y - by) for u, y in floor)
    lowered = replace(design, well=replace(design.well, profile=(first, *deeper, last)))
    return verdict_of(_ours(ground, lowered)) != "fouled"
