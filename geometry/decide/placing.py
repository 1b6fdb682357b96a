"""Placements of a motor, and hardware for them, that the drillable zones allow, before the whole check."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import combinations
from typing import TYPE_CHECKING, Literal, NamedTuple

from msgspec.structs import replace

from geometry.decide.kit import BOLT, CUT, PLAIN, PLATE, PRESENT, TILT, Kit, kits
from geometry.design.edits import with_mount
from geometry.design.units import STEPS, format_angle, format_length
from geometry.design.validity import CLOSE
from geometry.judge.bracket import usual_plate_heights
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import room_aimed_at
from geometry.solid.bracket_holes import (
    highest_upper,
    ladder_drops,
    plate_height,
    round_hole,
    rows_left,
    slot_place,
    standard_drop,
)
from geometry.solid.faces import Unmeasured, faces
from geometry.tables import fasteners
from geometry.zones.pair_zone import pair_zone

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.design.hardware import Hardware
    from geometry.design.motor import Lower, Mount, Rows
    from geometry.zones.pair_zone import Grade, Zone


class Leeway(NamedTuple):
    """The changes that a search may make, besides row, drop and upper height.

    It may use old upper holes again, change or cut washers, add a backing plate, and use thinner bolts. It may drill holes up
    from square, choose drops between those of the ladder, and move the motor aside.
    """

    old_holes: bool = True
    washers: bool = True
    plate: bool = True
    bolts: bool = True
    tilt: bool = True
    drops: bool = True
    aside: bool = True

    def has(self, level: int) -> bool:
        """Return whether a kit of a level is allowed."""
        return {PLAIN: self.washers, CUT: self.washers, PLATE: self.plate, BOLT: self.bolts, TILT: self.tilt}.get(level, True)


TRIES = 60  # full checks at most before a search ends
_TOO_HIGH = 2  # steps of rank more for a new place nearer to the top edge than advised; our assumption
_SAME = 0.5  # [mm] two places nearer than this count as one
_GRADES: tuple[Grade, ...] = ("least", "advised")


class Upper(NamedTuple):
    """A place for the upper pair.

    ``design`` has its old holes meant for use or not. ``moved`` is the distance from the present or usual place in steps of
    rank. ``advised``: its parts have the advised room. ``deep``: it is as far below the top edge as advised.
    """

    design: Design
    at: float
    offset: float
    moved: int
    kit: Kit
    reused: tuple[str, ...]
    costs: tuple[str, ...]
    advised: bool
    deep: bool


class Candidate(NamedTuple):
    """A placement before it is checked.

    ``advised``: its parts have the advised room; ``in_slot``: the slot's end has it too; ``slack``: how much deeper the
    lower pair could be.
    """

    upper: Upper
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
        """The order in which a rigger would choose, smallest first."""
        wide = self.kit.hardware.washer.outer or 0.0
        return (not self.advised, self.upper.moved + self.steps, not self.upper.deep, self.special,
                -len(self.left), -len(self.upper.reused), -wide, not self.in_slot, -round(self.slack),
                round(self.off_usual), self.row)  # fmt: skip

    def makes_needless(self, other: Candidate) -> bool:
        """Return whether another placement of later rank has no advantage over it."""
        return (
            self.advised >= other.advised
            and self.in_slot >= other.in_slot
            and self.upper.moved <= other.upper.moved
            and self.upper.deep >= other.upper.deep
            and self.special <= other.special
            and set(self.left) >= set(other.left)
            and set(self.upper.reused) >= set(other.upper.reused)
            and self.off_usual <= other.off_usual + 3.0
            and (self.advised or self.slack >= other.slack - 1.0)
            and not (self.kit.level == CUT and other.kit.level == PLATE)  # some owners would not cut a washer
        )


@dataclass(frozen=True)
class Ground:
    """One motor on its boat.

    Attributes:
        costs: of seating its bolts, and of findings that are fouled at any place. given: checks of the latter kind.
        allowed: the changes that may be made.
    """

    design: Design
    index: int
    costs: tuple[str, ...]
    given: frozenset[str]
    allowed: Leeway
    _zones: dict[object, Zone] = field(default_factory=dict)

    @property
    def mount(self) -> Mount:
        """The motor."""
        return self.design.mounts[self.index]

    @property
    def bracket(self) -> tuple[Rows, Lower]:
        """Its bracket's upper holes and lower slots."""
        rows, lower = self.mount.bracket.rows, self.mount.bracket.lower
        if rows is None or lower is None:
            raise TypeError("a bracket without bolts has nothing to search for")
        return rows, lower

    @property
    def hardware(self) -> tuple[Hardware, Hardware]:
        """The present hardware of the upper and the lower holes."""
        upper, lower = self.mount.upper_hardware, self.mount.lower_hardware
        if upper is None or lower is None:
            raise TypeError("a bracket without bolts has no hardware")
        return upper, lower

    def highest(self, offset: float, grade: int) -> float:
        """Return the highest place of the upper pair by the top edge; grade 0: the least, 1: the advised [mm]."""
        return highest_upper(self.design, self.index, offset, self.design.limits.top_edge[grade])

    def zone(self, design: Design, pair: Literal["upper", "lower"]) -> Zone:
        """Return a pair's zone. Its advised part is for the clearance alone: edges count with their least limit.

        The advised depth below the top edge is checked separately, see `Upper`.
        """
        mount = design.mounts[self.index]
        reused = tuple(hole.is_reused for hole in design.old_holes)
        key = (pair, reused, mount.upper_hardware, mount.lower_hardware, mount.upper_tilt, mount.lower_tilt)
        if key not in self._zones:
            limits = design.limits
            wood = limits.wood_between_diameters[0]
            edge, top = limits.edge_diameters[0], limits.top_edge[0]
            eased = replace(
                limits, edge_diameters=(edge, edge), top_edge=(top, top), wood_between_diameters=(wood, wood),
                clearance=(limits.clearance[0], room_aimed_at(design)),
            )  # fmt: skip
            self._zones[key] = pair_zone(replace(design, limits=eased), self.index, pair)
        return self._zones[key]


def prepared(design: Design, index: int, allowed: Leeway) -> Ground:
    """Return the ground of a search: both pairs square where they lean too far, on wedges where the faces lean.

    A finding that is fouled at any place, such as the motor's power, refuses no place. It counts as a cost.

    Raises:
        Unmeasured: a thickness is not known.
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
            costs.append(f"Wedges of {format_angle(abs(wedge))} under the inside washers of both {pair} bolts.")
        mount = replace(mount, **{f"{pair}_tilt": tilt, f"{pair}_hardware": replace(hardware, wedge=wedge)})
    seated = replace(design, mounts=(*design.mounts[:index], mount, *design.mounts[index + 1 :]))
    given = [f for f in check(design).findings if f.state == "fouled" and CHECK_KINDS[f.check].ease and index in f.mounts]
    costs += [f"Still to be settled: {finding.text}" for finding in given]
    return Ground(seated, index, tuple(dict.fromkeys(costs)), frozenset(finding.check for finding in given), allowed)


def _play(mount: Mount, pair: str) -> float:
    """Return how far a pair's bolts can lean in the bracket's holes [degrees]; inf where that is not measured."""
    spread = mount.bracket.rows if pair == "upper" else mount.bracket.lower
    hardware: Hardware = getattr(mount, f"{pair}_hardware")
    if spread is None or spread.diameter is None or not spread.pad_thickness:
        return math.inf
    loose = max(0.0, spread.diameter - fasteners.bolt(hardware.bolt).diameter)
    return math.degrees(math.atan(loose / spread.pad_thickness))


def all_choices(ground: Ground, offsets: tuple[float, ...]) -> Iterator[tuple[int, int, list[Candidate]]]:
    """Yield the choices of one kind of lower hardware after the other, with the number of kinds."""
    uppers = [upper for offset in offsets for upper in uppers_of(ground, offset)]
    if len(offsets) == 1 and ground.allowed.old_holes:
        uppers = [*_old_pairs(ground), *uppers]
    tools = list(lower_kits(ground))
    for done, (kit, tilt) in enumerate(tools, start=1):
        yield done, len(tools), [choice for upper in uppers for choice in _choices(ground, upper, kit, tilt)]


def lower_kits(ground: Ground) -> Iterator[tuple[Kit, float]]:
    """Yield the hardware to try for the lower pair, plainest first, and the tilt to drill at [degrees]."""
    hardware = ground.hardware[1]
    now = ground.mount.lower_tilt or 0.0
    for kit in kits(hardware, ground.mount.bracket, "lower", ground.design.units, ground.design.limits.clearance[1]):
        if ground.allowed.has(kit.level):
            yield kit, now
    for tilt in _tilts(ground) if ground.allowed.tilt else ():
        cost = (
            f"The lower holes are drilled {format_angle(tilt)} up from square. The heads are off flat by as much. "
            "Cut the guide block to that angle."
        )
        yield Kit(hardware, TILT, "the hardware as it is", (cost,)), tilt


def _tilts(ground: Ground) -> list[float]:
    """Return tilts that lift the lower exits, within the bracket's play and the seat's limits [degrees]."""
    play = _play(ground.mount, "lower")
    if play == math.inf:
        return []
    under = math.degrees(faces(ground.design.transom).taper) + (ground.hardware[1].wedge or 0.0)
    # The inside washer is off flat by tilt - taper - wedge.
    most = [math.floor(min(play, angle, under + angle) * 10) / 10 for angle in sorted(ground.design.limits.seat_angle)]
    return sorted({tilt for tilt in most if tilt > (ground.mount.lower_tilt or 0.0) + 0.05})


def uppers_of(ground: Ground, offset: float) -> Iterator[Upper]:
    """Yield places for the upper pair with at least the least room, without old holes."""
    mount, unit, half = ground.mount, ground.design.units, ground.bracket[0].half_spacing
    aside = 0 if mount.offset is None or abs(offset - mount.offset) < CLOSE else 2
    free, seen = without_wishes(ground.design), list[float]()
    unused = tuple(f"{hole.name} is not used again: fill it first." for hole in ground.design.old_holes if hole.is_reused)
    for kit in kits(ground.hardware[0], mount.bracket, "upper", unit):
        if kit.level > PLAIN or not ground.allowed.has(kit.level):
            break
        zone = ground.zone(with_mount(free, ground.index, upper_hardware=kit.hardware), "upper")
        least, advised = (_spans(zone, offset, half, grade) for grade in _GRADES)
        wanted = ground.highest(offset, 1)
        for at, moved in _heights(ground, least, advised, wanted):
            roomy, deep = _within(at, advised), at <= wanted + CLOSE
            if any(abs(at - other) < _SAME for other in seen) or not _within(at, least):
                continue
            if roomy or kit.level == PRESENT:
                seen.append(at)
            hung = with_mount(free, ground.index, offset=offset, upper_at=at, upper_hardware=kit.hardware)
            where = () if moved == 0 else (f"The upper holes are {format_length(-at, unit)} below the top edge.",)
            costs = (*_aside_cost(ground, offset), *where, *kit.costs, *unused)
            yield Upper(hung, at, offset, moved + aside, kit, (), costs, roomy, deep)


def _within(at: float, spans: list[tuple[float, float]]) -> bool:
    return any(low - CLOSE <= at <= high + CLOSE for low, high in spans)


def _aside_cost(ground: Ground, offset: float) -> tuple[str, ...]:
    by = offset - (ground.mount.offset or 0.0)
    if abs(by) < CLOSE:
        return ()
    side = "starboard" if by > 0 else "port"
    return (f"The motor moves {format_length(abs(by), ground.design.units)} to {side}.",)


def _heights(
    ground: Ground, least: list[tuple[float, float]], advised: list[tuple[float, float]], wanted: float
) -> Iterator[tuple[float, int]]:
    """Yield heights for the upper pair and their cost in rank: kept, at the trade's depth, at the zones' upper ends.

    A place nearer to the top edge than at present, or than usual, counts three times as much as a deeper one. A new place
    above ``wanted``, less than advised below the top edge, counts two steps more.
    """
    rows, now = ground.bracket[0], ground.mount.upper_at
    usual = -rows.row0_depth
    home = usual if now is None else now
    spots = [high for spans in (advised, least) for _, high in spans]
    spots += [min(high, wanted) for spans in (advised, least) for low, high in spans if low <= wanted]
    for at in (home, usual, *(math.floor(spot * 10 + CLOSE) / 10 for spot in spots)):
        away = (at - home) / rows.pitch
        steps = 0 if abs(away) < CLOSE else math.ceil(-away) if away < 0 else 3 * math.ceil(away)
        kept = now is not None and not steps
        yield at, steps + (0 if kept or at <= wanted + CLOSE else _TOO_HIGH)


def _old_pairs(ground: Ground) -> Iterator[Upper]:
    """Yield places that use two old holes for the upper pair, where their distance fits the bracket."""
    design, mount, hardware, rows = ground.design, ground.mount, ground.hardware[0], ground.bracket[0]
    usable = [
        (hole.at[0], hole.at[1], hole.diameter, number)
        for number, hole in enumerate(design.old_holes)
        if hole.state != "plugged" and hole.at[0] is not None and hole.at[1] is not None
        and hole.diameter is not None and hardware.hole is not None and hole.diameter <= hardware.hole + CLOSE
    ]  # fmt: skip
    for port, starboard in combinations(sorted(usable), 2):
        off = math.hypot(starboard[0] - port[0] - 2 * rows.half_spacing, starboard[1] - port[1]) / 2
        offset, at = (port[0] + starboard[0]) / 2, (port[1] + starboard[1]) / 2
        if off > ((hardware.hole or 0.0) - max(port[2], starboard[2])) / 2 + CLOSE or not at < 0:
            continue
        used = {port[3], starboard[3]}
        wished = tuple(replace(hole, reuse=number in used) for number, hole in enumerate(design.old_holes))
        hung = with_mount(replace(design, old_holes=wished), ground.index, offset=offset, upper_at=at)
        spans = {grade: _spans(ground.zone(hung, "upper"), offset, rows.half_spacing, grade) for grade in _GRADES}
        if not _within(at, spans["least"]):
            continue
        names = tuple(design.old_holes[number].name for number in sorted(used))
        costs = (*_aside_cost(ground, offset), f"The upper bolts use {names[0]} and {names[1]}.")
        moved = 0 if mount.upper_at is None or abs(at - mount.upper_at) < _SAME else 1
        kit = Kit(hardware, PRESENT, "the hardware as it is")
        deep = at <= ground.highest(offset, 1) + CLOSE
        yield Upper(hung, at, offset, moved, kit, names, costs, _within(at, spans["advised"]), deep)


def without_wishes(design: Design) -> Design:
    """Return ``design`` with no old hole to be used again. Placements without old holes are tried separately."""
    if not any(hole.is_reused for hole in design.old_holes):
        return design
    return replace(design, old_holes=tuple(replace(hole, reuse=False) for hole in design.old_holes))


def _spans(zone: Zone, offset: float, half: float, grade: Grade) -> list[tuple[float, float]]:
    """Return the heights at which both bolts of a pair are in its zone."""
    return [
        (max(a[0], b[0]), min(a[1], b[1]))
        for a in zone.spans(offset - half, grade)
        for b in zone.spans(offset + half, grade)
        if max(a[0], b[0]) <= min(a[1], b[1])
    ]


def _choices(ground: Ground, upper: Upper, kit: Kit, tilt: float) -> Iterator[Candidate]:
    """Yield the placements that a zone allows for one kind of lower hardware, the best upper hole of each."""
    index, (rows, lower) = ground.index, ground.bracket
    probe = with_mount(upper.design, index, lower_hardware=kit.hardware, lower_tilt=tilt, drop=standard_drop(lower))
    zone = ground.zone(with_mount(probe, index, upper_hardware=ground.hardware[0]), "lower")
    spans = {grade: _spans(zone, upper.offset, lower.half_spacing, grade) for grade in _GRADES}
    end = ground.design.limits.slot_end[1]
    for drop in _drops(ground, upper.at, spans["advised"]):
        left = rows_left(probe, index, drop) if _within(upper.at - drop, spans["least"]) else ()
        if not left:
            continue
        row = min(left, key=lambda row: (off_usual_of(probe, index, row), row))
        place = row * rows.pitch + drop
        in_slot = round_hole(lower, place) or slot_place(lower, place) >= end - CLOSE
        advised = upper.advised and _within(upper.at - drop, spans["advised"])
        off = off_usual_of(probe, index, row)
        slack = max(upper.at - drop - low for low, high in spans["least"] if _within(upper.at - drop, [(low, high)]))
        yield Candidate(upper, kit, tilt, drop, row, left, advised, in_slot, off, steps_of(ground, drop), slack)


def _drops(ground: Ground, upper: float, advised: list[tuple[float, float]]) -> list[float]:
    """Return the drops to try: the ladder's, each a step of the tape longer so that the slot's end is clear, and the deepest.

    The deepest is a whole step too, unless its span is too narrow for one.
    """
    ladder, step = ladder_drops(ground.mount, ground.index), STEPS[ground.design.units]
    end = math.ceil(ground.design.limits.slot_end[1] / step - CLOSE) * step
    drops = [*ladder, *(drop + end for drop in ladder)]
    for low, high in advised if ground.allowed.drops else ():
        free = math.floor((upper - low) / step) * step
        free = free if upper - free <= high else math.floor((upper - low) * 10) / 10
        if free > 0 and all(abs(free - drop) > _SAME for drop in drops):
            drops.append(free)
    return drops


def off_usual_of(design: Design, index: int, row: int) -> float:
    """Return how far an upper hole would put the AV plate from the usual range [mm]; 0 where a reading is missing."""
    try:
        height = plate_height(design, index, row)
    except Unmeasured:
        return 0.0
    low, high = usual_plate_heights(design.mounts[index].set_back)
    return max(low - height, height - high, 0.0)


def steps_of(ground: Ground, drop: float) -> int:
    """Count the upper holes that a drop costs against the standard one."""
    rows, lower = ground.bracket
    return max(0, math.ceil((standard_drop(lower) - drop) / rows.pitch - CLOSE))
