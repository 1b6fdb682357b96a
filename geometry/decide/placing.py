"""Placements of a motor, and hardware for them, that the drillable zones allow, before the whole check."""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING, Literal, NamedTuple

from msgspec.structs import replace

from geometry.decide.kit import BOLT, PLAIN, PRESENT, TILT, Kit, kits
from geometry.decide.search_ground import Across, Candidate, Ground, Seat, Upper, lean_of
from geometry.decide.usual_height import off_usual, too_high
from geometry.design.validity import CLOSE
from geometry.edits.edits import with_mount
from geometry.judge.bracket import usual_plate_heights
from geometry.solid.bracket_holes import (
    hook_gap,
    plate_height,
    reaches,
    round_hole,
    slot_place,
    standard_drop,
)
from geometry.solid.faces import Unmeasured, faces
from geometry.units.units import STEPS, format_angle, format_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.design.hardware import Hardware
    from geometry.design.motor import Mount
    from geometry.zones.pair_zone import Grade, Zone


_TOO_HIGH = 2  # steps of rank more for a new place nearer to the top edge than advised; our assumption
_SAME = 0.5  # [mm] two places nearer than this count as one
_GRADES: tuple[Grade, ...] = ("least", "advised")
_Spans = dict[str, list[tuple[float, float]]]


def all_choices(ground: Ground, offsets: tuple[float, ...]) -> Iterator[tuple[int, int, list[Candidate]]]:
    """Yield the choices of one kind of lower hardware after the other, with the number of kinds."""
    tools = list(lower_tools(ground))
    for done, (kit, tilt) in enumerate(tools, start=1):
        yield done, len(tools), [choice for offset in offsets for choice in _choices_at(ground, offset, kit, tilt)]


def _choices_at(ground: Ground, offset: float, kit: Kit, tilt: float) -> Iterator[Candidate]:
    """Yield the choices of one kind of lower hardware at one place across. In the middle, old holes come first."""
    spans = _lower_spans(ground, ground.design, offset, kit, tilt)
    reached = _Reached(replace(ground.mount, lower_hardware=kit.hardware), {})
    middle = ground.mount.offset is None or abs(offset - ground.mount.offset) < CLOSE
    for upper in _old_pairs(ground) if middle and ground.allowed.old_holes else ():
        own = _lower_spans(ground, upper.design, upper.offset, kit, tilt)
        yield from _choices(ground, upper, kit, tilt, own, reached)
    for upper in uppers_of(ground, offset, _heights_for(ground, spans["advised"])):
        yield from _choices(ground, upper, kit, tilt, spans, reached)


def _lower_spans(ground: Ground, design: Design, offset: float, kit: Kit, tilt: float) -> _Spans:
    """Return the heights of the lower pair that its zone allows, least and advised."""
    rows, lower = ground.bracket
    hung = design if any(hole.is_reused for hole in design.old_holes) else without_wishes(ground.design)
    probe = with_mount(
        hung, ground.index, upper_at=-rows.row0_depth, offset=offset, upper_hardware=ground.hardware[0],
        upper_tilt=ground.mount.upper_tilt, lower_hardware=kit.hardware, lower_tilt=tilt, drop=standard_drop(lower),
    )  # fmt: skip
    zone = ground.zone(probe, "lower")
    return {grade: _spans(zone, offset, lower.half_spacing, grade) for grade in _GRADES}


def lower_tools(ground: Ground) -> Iterator[tuple[Kit, float]]:
    """Yield the hardware to try for the lower pair, plainest first, and the tilt to drill at [degrees]."""
    hardware = ground.hardware[1]
    now = ground.mount.lower_tilt or 0.0
    for kit in kits(hardware, ground.mount.bracket, "lower", ground.design.units, ground.design.limits.clearance[1]):
        if ground.allowed.has(kit.level):
            yield kit, now
    for tilt in _tilts(ground, "lower") if ground.allowed.tilt else ():
        if tilt > now:
            yield _tilted(hardware, "lower", tilt), tilt


def upper_tools(ground: Ground) -> Iterator[tuple[Kit, float]]:
    """Yield the hardware to try for the upper pair, plainest first, and the tilt to drill at [degrees]."""
    hardware = ground.hardware[0]
    now = ground.mount.upper_tilt or 0.0
    for kit in kits(hardware, ground.mount.bracket, "upper", ground.design.units):
        if kit.level in (PRESENT, PLAIN, BOLT) and ground.allowed.has(kit.level):
            yield kit, now
    for tilt in _tilts(ground, "upper") if ground.allowed.tilt else ():
        yield _tilted(hardware, "upper", tilt), tilt


def _tilted(hardware: Hardware, pair: str, tilt: float) -> Kit:
    way = "up" if tilt > 0 else "down"
    cost = (
        f"The {pair} holes are drilled {format_angle(abs(tilt))} {way} from square. The heads are off flat by as much. "
        "Cut the guide block to that angle."
    )
    return Kit(hardware, TILT, "the hardware as it is", (cost,))


def _tilts(ground: Ground, pair: Literal["upper", "lower"]) -> list[float]:
    """Return tilts that lift a pair's exits, or let them down, within the bracket's play and the seat's limits [degrees]."""
    play, number = lean_of(ground.mount, pair), 0 if pair == "upper" else 1
    if play == math.inf:
        return []
    under = math.degrees(faces(ground.design.transom).taper) + (ground.hardware[number].wedge or 0.0)
    now = (ground.mount.upper_tilt, ground.mount.lower_tilt)[number] or 0.0
    # The inside washer is off flat by tilt - taper - wedge.
    angles = sorted(ground.design.limits.seat_angle)
    up = {math.floor(min(play, angle, angle + under) * 10) / 10 for angle in angles}
    down = {-math.floor(min(play, angle, angle - under) * 10) / 10 for angle in angles}
    return sorted({tilt for tilt in up if tilt > max(now, 0.0) + 0.05} | {tilt for tilt in down if tilt < min(now, 0.0) - 0.05})


def uppers_of(ground: Ground, offset: float, wishes: tuple[float, ...] = ()) -> Iterator[Upper]:
    """Yield places for the upper pair with at least the least room, without old holes.

    Args:
        wishes: heights that would suit the lower pair [mm].
    """
    mount, unit, home = ground.mount, ground.design.units, -ground.bracket[0].row0_depth
    aside = 0 if mount.offset is None or abs(offset - mount.offset) < CLOSE else 2
    seen = list[float]()
    unused = tuple(f"{hole.name} is not used again: fill it first." for hole in ground.design.old_holes if hole.is_reused)
    across = _across(ground, offset)
    wishes, wanted = (*wishes, *across.usual), across.wanted
    share = math.cos(math.radians(ground.design.transom.rake or 0.0))
    for kit, tilt, hung, least, advised in across.seats:
        for at, moved in _heights(ground, advised or least, wanted, wishes):
            if not _within(at, least) or any(abs(at - other) < _SAME for other in seen):
                continue
            roomy, deep = _within(at, advised), at <= wanted + CLOSE
            if roomy and kit.level == PRESENT and not ground.given:
                seen.append(at)
            down = format_length(-at, unit, denominator=16)
            where = () if moved == 0 else (f"The upper holes are {down} below the top edge.",)
            costs = (*_aside_cost(ground, offset), *where, *kit.costs, *unused)
            lift = at - home
            height = None if across.height is None else across.height + lift * share
            yield Upper(hung, at, offset, moved + aside, kit, tilt, (), costs, roomy, deep, across.gap + lift, height)


def _across(ground: Ground, offset: float) -> Across:
    """Return all that a place across gives the upper pair: the same for every kind of lower hardware."""
    key = ground.aim, offset
    if key not in ground.across:
        ground.across[key] = _upper_across(ground, offset)
    return ground.across[key]


def _upper_across(ground: Ground, offset: float) -> Across:
    free, home, half = without_wishes(ground.design), -ground.bracket[0].row0_depth, ground.bracket[0].half_spacing
    seats = []
    for kit, tilt in upper_tools(ground):
        hung = with_mount(free, ground.index, offset=offset, upper_at=home, upper_hardware=kit.hardware, upper_tilt=tilt)
        zone = ground.zone(hung, "upper")
        seats.append(Seat(kit, tilt, hung, *(_spans(zone, offset, half, grade) for grade in _GRADES)))
    top = at_top(with_mount(free, ground.index, offset=offset, upper_at=home), ground.index)
    return Across(tuple(seats), ground.highest(offset, 1), _usual_heights(ground, offset), *top)


def at_top(hung: Design, index: int) -> tuple[float, float | None]:
    """Return the gap under the bracket hook with the 1st hole from the top, and the height of the AV plate then [mm]."""
    try:
        height = plate_height(hung, index, 0)
    except Unmeasured:
        height = None
    return hook_gap(hung, index, 0), height


def _within(at: float, spans: list[tuple[float, float]]) -> bool:
    return any(low - CLOSE <= at <= high + CLOSE for low, high in spans)


def _aside_cost(ground: Ground, offset: float) -> tuple[str, ...]:
    by = offset - (ground.mount.offset or 0.0)
    if abs(by) < CLOSE:
        return ()
    side = "starboard" if by > 0 else "port"
    return (f"The motor moves {format_length(abs(by), ground.design.units, denominator=16)} to {side}.",)


def _heights(
    ground: Ground, spans: list[tuple[float, float]], wanted: float, wishes: tuple[float, ...]
) -> Iterator[tuple[float, int]]:
    """Yield heights for the upper pair and their cost in rank: kept, at the trade's depth, at both ends of each free stretch.

    A stretch ends at ``wanted`` too, the advised depth below the top edge. A place nearer to the top edge than at present, or
    than usual, counts three times as much as a deeper one. A new place above ``wanted`` counts two steps more.
    """
    rows, now = ground.bracket[0], ground.mount.upper_at
    usual = -rows.row0_depth
    home = usual if now is None else now
    highs = [high for _, high in spans] + [wanted for low, high in spans if low <= wanted < high]
    ends = [math.floor(high * 10 + CLOSE) / 10 for high in highs] + [math.ceil(low * 10 - CLOSE) / 10 for low, _ in spans]
    for at in (home, usual, *ends, *wishes):
        away = (at - home) / rows.pitch
        steps = 0 if abs(away) < CLOSE else math.ceil(-away) if away < 0 else 3 * math.ceil(away)
        kept = now is not None and not steps
        yield at, steps + (0 if kept or at <= wanted + CLOSE else _TOO_HIGH)


def _heights_for(ground: Ground, lower: list[tuple[float, float]]) -> tuple[float, ...]:
    """Return the lowest heights of the upper pair that leave the lower pair room for a drop of the ladder [mm]."""
    drops = ground.ladder
    return tuple(math.ceil((low + drop) * 10 - CLOSE) / 10 for low, _ in lower for drop in drops)


def _usual_heights(ground: Ground, offset: float) -> tuple[float, ...]:
    """Return the heights of the upper pair at which one of the bracket's holes just puts the AV plate in its usual range."""
    rows, mount = ground.bracket[0], ground.mount
    level = with_mount(ground.design, ground.index, upper_at=-rows.row0_depth, offset=offset)
    try:
        low, high = (plate_height(level, ground.index, row) for row in (0, 1))
    except Unmeasured:
        return ()
    share = (high - low) / rows.pitch
    least, most = usual_plate_heights(mount.set_back)
    hooks = (math.ceil((least - low) / share * 10) / 10, math.floor((most - low) / share * 10) / 10)
    return tuple(hook - rows.row0_depth - row * rows.pitch for hook in hooks for row in range(rows.count))


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
        deep, tilt = at <= ground.highest(offset, 1) + CLOSE, mount.upper_tilt or 0.0
        roomy = _within(at, spans["advised"])
        yield Upper(hung, at, offset, moved, kit, tilt, names, costs, roomy, deep, *at_top(hung, ground.index))


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


class _Reached(NamedTuple):
    """The upper holes that each drop allows with one kind of lower hardware, by the bracket alone.

    ``known`` has the rows of each drop that was asked for, each with whether the slot's end has its advised room too.
    """

    mount: Mount
    known: dict[float, tuple[tuple[int, bool], ...]]

    def at(self, ground: Ground, drop: float) -> tuple[tuple[int, bool], ...]:
        """Return the rows that a drop allows."""
        if drop not in self.known:
            (rows, lower), end = ground.bracket, ground.design.limits.slot_end[1]
            places = [(row, row * rows.pitch + drop) for row in range(rows.count)]
            self.known[drop] = tuple(
                (row, round_hole(lower, place) or slot_place(lower, place) >= end - CLOSE)
                for row, place in places if reaches(self.mount, ground.index, lower, place)
            )  # fmt: skip
        return self.known[drop]


def _choices(
    ground: Ground, upper: Upper, kit: Kit, tilt: float, spans: _Spans, reached: _Reached
) -> Iterator[Candidate]:
    """Yield the placements that a zone allows for one kind of lower hardware, with each usable upper hole."""
    rows, lower = ground.bracket
    unsettled = ground.unsettled(upper.kit, kit)
    share = math.cos(math.radians(ground.design.transom.rake or 0.0))
    usual = usual_plate_heights(ground.mount.set_back)
    above = {row for row in range(rows.count) if upper.gap + row * rows.pitch >= -CLOSE}
    at_standard, least = sum(row in above for row, _ in reached.at(ground, standard_drop(lower))), spans["least"]
    for drop in _drops(ground, upper.at, spans["advised"]):
        at = upper.at - drop
        if not _within(at, least):
            continue
        slack = max([at - low for low, high in least if low - CLOSE <= at <= high + CLOSE])
        steps, advised = steps_of(ground, drop), upper.advised and _within(at, spans["advised"])
        usable = [(row, in_slot) for row, in_slot in reached.at(ground, drop) if row in above]
        left = tuple(row for row, _ in usable)
        for row, in_slot in usable:
            height = None if upper.height is None else upper.height + row * rows.pitch * share
            off = 0.0 if height is None else off_usual(height, usual)
            high = height is not None and too_high(height, ground.mount)
            lost = max(0, at_standard - len(left))
            yield Candidate(upper, kit, tilt, drop, row, left, advised, in_slot, off, high, steps, lost, slack, unsettled)


def _drops(ground: Ground, upper: float, advised: list[tuple[float, float]]) -> list[float]:
    """Return the drops to try: the ladder's, and those to both ends of each free stretch.

    The latter are whole steps of the tape, unless a stretch is too narrow for one.
    """
    step, drops = STEPS[ground.design.units], [*ground.ladder]
    for low, high in advised if ground.allowed.drops else ():
        deepest, least = math.floor((upper - low) / step) * step, math.ceil((upper - high) / step) * step
        if deepest < upper - high - CLOSE:
            deepest = least = math.floor((upper - low) * 10) / 10
        drops += [drop for drop in (deepest, least) if drop > 0 and all(abs(drop - other) > _SAME for other in drops)]
    return drops


def steps_of(ground: Ground, drop: float) -> int:
    """Count the upper holes that a drop costs against the standard one."""
    rows, lower = ground.bracket
    return max(0, math.ceil((standard_drop(lower) - drop) / rows.pitch - CLOSE))
