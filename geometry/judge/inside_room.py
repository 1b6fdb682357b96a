"""Checks of the room inside for washer, backing plate, nut, thread end and socket, and between bolts."""

from __future__ import annotations

import math
from functools import partial
from itertools import combinations, pairwise, product
from typing import TYPE_CHECKING, NamedTuple

from geometry.design.validity import CLOSE
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.drillable import room_aimed_at
from geometry.judge.reporter import (
    INNER_KEYS,
    WELL_KEYS,
    Outcome,
    Reporter,
    bolt_keys,
    hardware_keys,
    own_keys,
    stack_keys,
)
from geometry.judge.room_to_work import REACHES, part_name, spanner_reaches, spare_keys
from geometry.solid.clearances import (
    axes_gap,
    body_clearance,
    plate_clearance,
    plate_corners_room,
    plate_over_rim,
    plate_places,
    rim_clearance,
    seat_clearance,
    within_plate,
)
from geometry.solid.faces import Unmeasured
from geometry.solid.nearest_obstacle import PLATE, WOOD, Obstacle, nearest, nearest_to_ring
from geometry.solid.placed_bolts import plate_ring
from geometry.solid.planes import inside as contains
from geometry.solid.planes import sides, to_segment
from geometry.solid.ring_cutting import least_gap
from geometry.solid.section import Section
from geometry.solid.well import blocks
from geometry.units.units import STEPS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.hardware import BackingPlate
    from geometry.solid.placed_bolts import Body, Bolt
    from geometry.solid.planes import Point

_WIDE = 300.0  # [mm]: more than two bolts' widest parts, and what their lengths can add to a gap
_PARALLEL = 1e-12  # [radians]: axes that differ by no more are parallel


def inside(report: Reporter) -> None:
    """Add the room of every part inside, of every bolt."""
    for bolt in report.bolts:
        for part in IN_WELL:
            _part(report, bolt, part)
    _plates(report)
    _neighbours(report)


def _part(report: Reporter, bolt: Bolt, part: str) -> None:
    rests = (*WELL_KEYS, *bolt_keys(bolt), *stack_keys(bolt), *own_keys(bolt, part))
    if part == "washer":
        rests = (*rests, "transom.outline", *plate_keys(report, bolt))
    if part == "thread_end":
        rests = (*rests, bolt.key(f"bracket.{'rows' if bolt.upper else 'lower'}.pad_thickness"))
    if part == "socket":
        rests = (*rests, *spare_keys(report, bolt))

    def look() -> Outcome | None:
        room = part_room(report, bolt, part)
        if room is None:
            return None
        least, advised = report.design.limits.clearance
        replaced = part == "socket" and room < least - CLOSE and spanner_reaches(report, bolt)
        if not report.worded:
            return Outcome(None, "", state="note") if replaced else Outcome(room, "")
        obstacle = part_obstacle(report, bolt, part, room)
        name, there = f"{bolt.name} {part_name(bolt, part)}", obstacle.words
        if replaced:
            short = f"overlaps {there} by {report.overlap(room)}" if room < -CLOSE else f"is too near {there}"
            return Outcome(None, f"The {name} {short}. {REACHES}", state="note", against=obstacle.name)
        cure = _cure(report, bolt, part, room, obstacle) if room < advised - CLOSE else None
        if room < -CLOSE:
            return Outcome(room, f"The {name} overlaps {there} by {report.overlap(room)}.", cure, against=obstacle.name)
        if room < advised - CLOSE:
            text = f"The {name} clears {there} by {report.room(room)}; {report.limit(advised)} is advised."
            return Outcome(room, text, cure, against=obstacle.name)
        return Outcome(room, f"The {name} clears {there} by {report.room(room)}.", against=obstacle.name)

    report.add(part, bolt.at, report.design.limits.clearance, "mm", rests, (bolt.mount_index,), look)


def plate_keys(report: Reporter, bolt: Bolt) -> tuple[str, ...]:
    """Return the keys of the readings that place a backing plate under a bolt: its sizes, and its bolts' places."""
    if bolt.plate is None:
        return ()
    places = (key for joined in joined_by(report, bolt, bolt.plate) for key in bolt_keys(joined))
    return (bolt.plate_key(""), "transom.thickness", *places)


def _cure(report: Reporter, bolt: Bolt, part: str, room: float, obstacle: Obstacle) -> str:
    """Say how to give a part more room. Raising the lower bolts comes first, where height helps."""
    if bolt.upper or not obstacle.rises:
        return f"Move the {bolt.pair} bolts away from {obstacle.words}, or use a smaller {part_name(bolt, part)}."
    cure = raised_by(report, bolt, (room_aimed_at(report.design) - room) / obstacle.rises)
    match part:
        case "washer":
            if bolt.hardware.washer.flat_cut is None and bolt.plate is None:
                return f"{cure} Or cut the washers flat on the lower side, or measure the floor again."
            return f"{cure} Or measure the floor again."
        case "thread_end":
            return f"{cure} Or use a shorter bolt."
        case _:
            return f"{cure} Or measure the floor again."


def raised_by(report: Reporter, bolt: Bolt, lacking: float) -> str:
    """Say how far to raise the lower bolts for so much more height [mm], in whole steps of the bracket's upper holes."""
    pitch = 0.0 if bolt.mount.bracket.rows is None else bolt.mount.bracket.rows.pitch
    if pitch <= 0:
        step = STEPS[report.design.units]
        return f"Raise the lower bolts {report.size(math.ceil(lacking / step - CLOSE) * step)}."
    steps = max(1, math.ceil(lacking / pitch - CLOSE))
    return f"Raise the lower bolts {report.size(steps * pitch)} ({steps} {'step' if steps == 1 else 'steps'})."


def part_obstacle(report: Reporter, bolt: Bolt, part: str, room: float) -> Obstacle:
    """Return the obstacle that a part of a bolt with this much room is nearest to, or overlaps.

    Raises:
        Unmeasured: a reading behind it is missing.
    """
    body = bolt.body(part)
    if body is None:
        raise TypeError(f"the {bolt.name} bolt has no {part}")
    if part == "washer":
        spacer = bolt.body("spacer")
        seat = (spacer or body).shape
        if bolt.plate is not None:
            if room >= within_plate(joined_by(report, bolt, bolt.plate), bolt.plate, bolt, seat) - CLOSE:
                return PLATE
        elif room >= rim_clearance(report.inner_rim, (bolt.exit.u, bolt.exit.w), seat) - CLOSE:
            return WOOD
        elif spacer is not None and room < (body_clearance(report.space, bolt.exit, body) or math.inf) - CLOSE:
            body = spacer
    return nearest(report.space, bolt.exit, body) or WOOD


def part_room(report: Reporter, bolt: Bolt, part: str) -> float | None:
    """Return the clearance of one part of a bolt [mm]. None: nothing limits it, or there is no such part.

    Raises:
        Unmeasured: a reading behind it is missing.
    """
    body = bolt.body(part)
    if body is None:
        return None
    room = body_clearance(report.space, bolt.exit, body)
    if part != "washer":
        return room
    if bolt.plate is not None:
        seat = within_plate(joined_by(report, bolt, bolt.plate), bolt.plate, bolt, (bolt.body("spacer") or body).shape)
    else:
        seat = seat_clearance(report.space, report.inner_rim, bolt.exit, (bolt.body("spacer") or body).shape)
    spacer = bolt.body("spacer")
    under = body_clearance(report.space, bolt.exit, spacer) if spacer is not None else None
    return min(value for value in (room, seat, under) if value is not None)


def joined_by(report: Reporter, bolt: Bolt, plate: BackingPlate) -> tuple[Bolt, ...]:
    """Return the bolts of the same motor that go through a backing plate."""
    return tuple(other for other in report.bolts if other.mount_index == bolt.mount_index and other.name in plate.joins)


def plate_room(report: Reporter, bolt: Bolt) -> float | None:
    """Return the clearance of a bolt's backing plate, None without one [mm].

    Raises:
        Unmeasured: a reading behind it is missing.
    """
    if bolt.plate is None:
        return None
    return plate_clearance(report.space, report.inner_rim, joined_by(report, bolt, bolt.plate), bolt.plate)


def plate_corners(report: Reporter, bolt: Bolt) -> float | None:
    """Return the least room of the corners of a bolt's backing plate, None without one [mm].

    Raises:
        Unmeasured: a reading behind it is missing.
    """
    if bolt.plate is None:
        return None
    return plate_corners_room(report.space, report.inner_rim, joined_by(report, bolt, bolt.plate), bolt.plate)


def plate_obstacle(report: Reporter, joined: tuple[Bolt, ...], plate: BackingPlate, room: float) -> Obstacle:
    """Return the obstacle that a backing plate with this much room [mm] is nearest to, or overlaps.

    Raises:
        Unmeasured: a reading behind it is missing.
    """
    if room >= plate_over_rim(report.inner_rim, joined, plate) - CLOSE:
        return WOOD
    space = report.space
    pairs = []
    for n, before in plate_places(space, joined, plate):
        standing = [block.name for block in space.blocks if block.out > n or (before and block.out == n)]
        pairs.append(nearest_to_ring(space.section(n, before=before), standing, plate_ring(joined, plate, n)))
    return min((pair for pair in pairs if pair is not None), key=lambda pair: pair[0], default=(room, WOOD))[1]


def _plates(report: Reporter) -> None:
    for bolt in report.bolts:
        plate = bolt.hardware.backing_plate
        if plate is None or not bolt.port:
            continue
        joined = joined_by(report, bolt, plate)
        rests = (*WELL_KEYS, *(key for b in joined for key in bolt_keys(b)), bolt.hardware_key("backing_plate"),
                 "transom.outline")  # fmt: skip

        def look(joined: tuple[Bolt, ...] = joined, bolt: Bolt = bolt) -> Outcome | None:
            if bolt.hardware.backing_plate is None:
                return None
            room = plate_clearance(report.space, report.inner_rim, joined, bolt.hardware.backing_plate)
            obstacle = plate_obstacle(report, joined, bolt.hardware.backing_plate, room)
            name, there, advised = f"{bolt.pair} backing plate", obstacle.words, report.design.limits.clearance[1]
            cure = "Make the backing plate smaller."
            if obstacle.rises:
                cure = "Make the backing plate smaller, relieve its lower back edge, or raise the bolts."
            if room < -CLOSE:
                return Outcome(room, f"The {name} overlaps {there} by {report.overlap(room)}.", cure, against=obstacle.name)
            if room < advised - CLOSE:
                text = f"The {name} clears {there} by {report.room(room)}; {report.limit(advised)} is advised."
                return Outcome(room, text, cure, against=obstacle.name)
            return Outcome(room, f"The {name} clears {there} by {report.room(room)}.", against=obstacle.name)

        at = f"{bolt.mount.name} / {bolt.pair} / plate"
        report.add("washer", at, report.design.limits.clearance, "mm", rests, (bolt.mount_index,), look)


def _bodies(bolt: Bolt) -> list[Body]:
    bodies = [bolt.body(part) for part in (*IN_WELL, "spacer")]
    return [body for body in bodies if body is not None]


def _centres_apart(report: Reporter, first: int, second: int) -> float:
    a, b = report.bolts[first].exit, report.bolts[second].exit
    return math.hypot(a.u - b.u, a.w - b.w)


class _Neighbour(NamedTuple):
    """A neighbour of a backing plate, both named as in a sentence: the least gap by their boxes, and its calculation [mm]."""

    least: float
    plate: str
    name: str
    gap: Callable[[], float]


def _plate_gap(report: Reporter) -> tuple[float, str, str] | None:
    """Return the smallest gap between a backing plate's full outline and a neighbour, both named; None without one.

    Gaps are calculated in the order of what their boxes allow, until no other box allows less.
    """
    best: tuple[float, str, str] | None = None
    for neighbour in sorted(_plate_neighbours(report), key=lambda neighbour: neighbour.least):
        if best is not None and neighbour.least > best[0]:
            break
        gap = neighbour.gap(), neighbour.plate, neighbour.name
        best = gap if best is None else min(best, gap)
    return best


def _plate_neighbours(report: Reporter) -> Iterator[_Neighbour]:
    """Yield each backing plate with each block, each bolt that does not go through it, and each other backing plate."""
    several = len(report.design.mounts) > 1

    def of(bolt: Bolt) -> str:
        return f" of {bolt.mount.name}" if several else ""

    plates: list[tuple[str, tuple[Point, ...], tuple[Bolt, ...]]] = []
    for bolt in report.bolts:
        plate = bolt.hardware.backing_plate
        if plate is None or not bolt.port:
            continue
        joined = joined_by(report, bolt, plate)
        plates.append((f"the {bolt.pair} backing plate{of(bolt)}", plate_ring(joined, plate, bolt.plate_thickness), joined))
    for name, ring, joined in plates:
        for block in blocks(report.design):
            yield _Neighbour(least_gap(ring, block.ring), name, block.name, partial(_between_rings, ring, block.ring))
        for other in report.bolts:
            if all(other is not bolt for bolt in joined):
                least = least_gap(((other.exit.u, other.exit.w),), ring) - other.washer_disc.radius
                yield _Neighbour(least, name, f"the {other.name} bolt{of(other)}", partial(_to_washer, ring, other))
    for (name, ring, _), (second, another, _) in combinations(plates, 2):
        yield _Neighbour(least_gap(ring, another), name, second, partial(_between_rings, ring, another))


def _to_washer(ring: tuple[Point, ...], bolt: Bolt) -> float:
    """Return the gap between a backing plate's outline and a bolt's washer [mm], as if it were whole; below 0 they overlap."""
    at = bolt.exit.u, bolt.exit.w
    gap = min(to_segment(at, edge) for edge in sides(ring))
    return (-gap if contains(at, ring) else gap) - bolt.washer_disc.radius


def _between_rings(first: tuple[Point, ...], second: tuple[Point, ...]) -> float:
    """Return the gap between two outlines [mm]; below 0, how deep one is in the other."""
    return Section((), (), True, (second,)).room_of_ring(first)


def _near(report: Reporter, numbers: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    """Yield the pairs of bolts that may have the smallest gap: not those that are too far apart across."""
    across = sorted((report.bolts[number].exit.u, number) for number in numbers)
    order = [number for _, number in across]
    least = min((_centres_apart(report, *pair) for pair in pairwise(order)), default=math.inf) + _WIDE
    for place, (u, number) in enumerate(across):
        for other_u, other in across[place + 1 :]:
            if other_u - u > least:
                break
            yield min(number, other), max(number, other)


def _axes_apart(bolt: Bolt, other: Bolt) -> float:
    """Return the least distance between the axes of two bolts, as if they had no ends [mm]; they lean up or down only."""
    a, b = bolt.exit, other.exit
    return math.hypot(a.u - b.u, (a.w - b.w) * math.cos(a.lean) if abs(a.lean - b.lean) <= _PARALLEL else 0.0)


def _neighbours(report: Reporter) -> None:
    """Add the smallest gap between parts inside of two bolts of all mounts, or of a backing plate and its neighbours."""
    if len(report.bolts) < 2:
        return
    rests = (*INNER_KEYS, *dict.fromkeys(key for bolt in report.bolts for key in (*bolt_keys(bolt), *hardware_keys(bolt))))
    if any(bolt.plate is not None for bolt in report.bolts):
        rests = (*rests, "inside_blocks")
    if report.keeps("neighbour", rests):
        return
    best: tuple[float, Bolt, Bolt] | None = None
    missing: Unmeasured | None = None
    parts: dict[int, list[Body]] = {}
    for index, bolt in enumerate(report.bolts):
        try:
            _ = bolt.exit
            parts[index] = _bodies(bolt)
        except Unmeasured as lack:
            missing = missing or lack
    for _, number, other in sorted((_centres_apart(report, *pair), *pair) for pair in _near(report, tuple(parts))):
        a, b = report.bolts[number], report.bolts[other]
        apart = _axes_apart(a, b)
        for body, other_body in product(parts[number], parts[other]):
            if best is None or apart - body.shape.radius - other_body.shape.radius < best[0] + CLOSE:
                gap = axes_gap(a, b, body, other_body)
                if best is None or gap < best[0]:
                    best = gap, a, b
    mounts = tuple(dict.fromkeys(bolt.mount_index for bolt in report.bolts))

    def look() -> Outcome:
        if missing is not None:
            raise missing
        if best is None:
            raise TypeError("two bolts have a gap between them")
        gap, a, b = best
        plates = _plate_gap(report)
        if plates is not None and plates[0] < gap:
            between, plate, other = plates
            if between < -CLOSE:
                text = f"Inside, {plate} and {other} overlap by {report.overlap(between)}."
                return Outcome(between, text, "Make the backing plate smaller.", against=other.removeprefix("the "))
            text = f"Inside, {plate} and {other} are {report.room(between)} apart."
            return Outcome(between, text, against=other.removeprefix("the "))
        pair = f"the {a.name} and the {b.name} bolt"
        if a.mount_index != b.mount_index:
            pair = f"the {a.name} bolt of {a.mount.name} and the {b.name} bolt of {b.mount.name}"
        if gap < -CLOSE:
            text = f"Inside, {pair} overlap by {report.overlap(gap)}."
            return Outcome(gap, text, "Move one of them, or use smaller washers.", against=f"{b.name} bolt")
        return Outcome(gap, f"Inside, {pair} are {report.room(gap)} apart.", against=f"{b.name} bolt")

    if best is None or missing is not None:
        at = report.bolts[0].mount.name if len(mounts) == 1 else "all motors"
    else:
        at = f"{best[1].at} and {best[2].at if best[1].mount_index != best[2].mount_index else best[2].name}"
    limits = report.design.limits.clearance
    report.add("neighbour", at, limits, "mm", rests, mounts, look)
