"""The search for a fit: it tries rows, drops, places and hardware, and ranks the ones that clear as a rigger would.

The drillable zones of a few kinds of hardware show where the holes may be. Each offer has passed the whole check.
The order of rank is common practice:

- advised clearance before less;
- standard place before moved;
- advised depth below the top edge before less;
- plain hardware before special;
- more usable upper holes;
- old holes used again;
- larger smallest clearance;
- AV plate height in the usual range.
"""

from __future__ import annotations

import heapq
import math
from dataclasses import dataclass
from dataclasses import replace as changed
from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.decide.kit import CUT, PLATE, PRESENT, Kit
from geometry.decide.measured_kit import made_to_measure
from geometry.decide.placing import (
    TRIES,
    Candidate,
    Ground,
    Leeway,
    Upper,
    all_choices,
    lower_kits,
    off_usual_of,
    prepared,
    steps_of,
    uppers_of,
    without_wishes,
)
from geometry.design import force_units
from geometry.design.edits import with_mount
from geometry.design.nearest_accepted import reach, refused
from geometry.design.origins import with_new_parts_to_buy
from geometry.design.units import format_length
from geometry.design.validity import CLOSE, NonsenseError
from geometry.judge.bracket import hard_pad
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS, IN_WELL
from geometry.judge.drillable import room_aimed_at
from geometry.judge.findings import Finding, State, verdict_of, worst
from geometry.judge.strength import presses_too_hard, torque_at_most
from geometry.solid.bracket_holes import ladder_drops, plate_height, rows_left, standard_drop
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Generator, Iterator

    from geometry.design.boat import Well
    from geometry.design.design import Design

ALL = Leeway()
MOST = 12  # fits to offer at most
_OFFSETS = (6.0, -6.0, 12.0, -12.0, 25.0, -25.0)  # [mm] to try where nothing fits in the middle; our assumption
_LOWEST_FLOOR = 200.0  # [mm] a lower floor makes another boat


@dataclass(frozen=True, slots=True)
class Fit:
    """A place and hardware for the motor that clears everything, or the nearest miss.

    Attributes:
        design: the design after it. fits: False for the nearest miss.
        state: worst state of the findings that concern this motor. row, drop, upper_at, offset, lower_tilt: its place [mm],
            [degrees].
        level: how special the lower pair's hardware is, see `kit.PRESENT`; hardware: the same in words.
        rows_left: usable upper holes of its drop.
        room: smallest clearance inside [mm], None where nothing limits it. plate_height: of the AV plate [mm], None where not
            known.
        reused: names of the old holes that it uses.
        governs: the finding that governs, None where there is none. costs: its costs, a sentence each.
        change: for a miss, the change that it needs; None where it fits.
    """

    design: Design
    fits: bool
    state: State
    row: int
    drop: float
    upper_at: float
    offset: float
    lower_tilt: float
    level: int
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


def search(design: Design, index: int = 0, allowed: Leeway = ALL) -> Generator[Fit | Progress]:
    """Yield fits for one motor, best first, with the progress between them; where none fits, the nearest miss.

    Nothing is yielded for a bracket without bolts. To stop the search, ask for no more.

    Raises:
        Unmeasured: a reading behind the zones is missing.
    """
    if design.mounts[index].bracket.rows is None:
        return
    ground = prepared(design, index, allowed)
    offset = ground.mount.offset or 0.0
    aside = tuple(offset + by for by in _OFFSETS) if allowed.aside else ()
    for places in ((offset,), aside):
        yield Progress(0, 1)
        choices: list[Candidate] = []
        for done, total, some in all_choices(ground, places):
            choices += some
            yield Progress(done, total + TRIES)
        offered = 0
        for step in _best_first(ground, choices):
            yield step
            offered += isinstance(step, Fit)
            if offered == MOST:
                return
        if offered:
            return
    miss = _nearest_miss(ground)
    if miss is not None:
        yield miss


def fits(design: Design, index: int = 0, allowed: Leeway = ALL) -> tuple[Fit, ...]:
    """Return all fits of `search`, best first.

    Raises:
        Unmeasured: see `search`.
    """
    return tuple(step for step in search(design, index, allowed) if isinstance(step, Fit))


def _best_first(ground: Ground, choices: list[Candidate]) -> Iterator[Fit | Progress]:
    """Check choices in the order of their rank, and yield those that fit and are better in some way than earlier ones."""
    waiting = [(choice.rank, number, choice, None) for number, choice in enumerate(choices)]
    heap: list[tuple[tuple[float, ...], int, Candidate, Fit | None]] = list(waiting)
    heapq.heapify(heap)
    taken: list[Candidate] = []
    hopeless: set[tuple[str, str, float]] = set()
    tried, wanted = 0, room_aimed_at(ground.design)
    while heap and tried < TRIES:
        _, number, choice, fit = heapq.heappop(heap)
        tools = choice.kit.name, choice.upper.kit.name, choice.tilt
        if tools in hopeless or any(better.makes_needless(choice) for better in taken):
            continue
        if fit is None:
            tried += 1
            yield Progress(tried, TRIES)
            fit = _checked(ground, choice)
            if fit is None or not fit.fits:
                if fit is not None and fit.governs is not None and CHECK_KINDS[fit.governs.check].of_hardware:
                    hopeless.add(tools)
                continue
            if choice.advised and fit.room is not None and fit.room < wanted - CLOSE:
                # It has less room than in its zone (the shape of a backing plate): it ranks later.
                choice = choice._replace(advised=False)
                heapq.heappush(heap, (choice.rank, number, choice, fit))
                continue
        taken.append(choice)
        yield fit


def _hang(ground: Ground, choice: Candidate, kit: Kit) -> Design:
    return with_mount(
        choice.upper.design, ground.index, row=choice.row, drop=choice.drop, lower_tilt=choice.tilt,
        lower_hardware=kit.hardware,
    )  # fmt: skip


def _checked(ground: Ground, choice: Candidate) -> Fit | None:
    """Return a choice after the whole check, its cut or backing plate made to measure; None where that is impossible."""
    try:
        kit = made_to_measure(_hang(ground, choice, choice.kit), ground.index, choice.kit)
        hung = _hang(ground, choice, kit)
        costs = (*ground.costs, *choice.upper.costs, *_drop_costs(ground, choice), *kit.costs,
                 *_cut_costs(ground, hung), *_pad_cost(ground, hung))  # fmt: skip
    except NonsenseError:
        return None
    ours = _ours(ground, hung)
    if any(f.value is not None and abs(f.value) < CLOSE for f in ours if f.at.endswith("/ plate")):
        return None  # a backing plate that just touches is as good as one that overlaps
    state = verdict_of(ours)
    room = min((f.value for f in ours if f.check in IN_WELL and f.value is not None), default=None)
    try:
        height = plate_height(hung, ground.index)
    except Unmeasured:
        height = None
    # A finding that the place can't help does not govern, unless it is fouled. Where all is clear, the smallest margin
    # governs. A finding whose only limit is 0 has no margin.
    of_place = tuple(f for f in ours if not CHECK_KINDS[f.check].of_hardware or f.state == "fouled")
    margins = of_place if verdict_of(of_place) != "clear" else tuple(f for f in of_place if f.least != f.advised)
    governs = worst(margins) or worst(of_place)
    return Fit(
        with_new_parts_to_buy(ground.design, hung), state != "fouled", state, choice.row, choice.drop, choice.upper.at,
        choice.upper.offset, choice.tilt, kit.level, kit.name, choice.left, room, height, choice.upper.reused, governs, costs,
    )  # fmt: skip


def _ours(ground: Ground, design: Design) -> tuple[Finding, ...]:
    """Return the findings that concern this motor and that its place can help."""
    ours = (finding for finding in check(design).findings if not finding.mounts or ground.index in finding.mounts)
    return tuple(finding for finding in ours if finding.check not in ground.given)


def _drop_costs(ground: Ground, choice: Candidate) -> tuple[str, ...]:
    if choice.steps == 0:
        return ()
    rows, lower = ground.bracket
    up = format_length(standard_drop(lower) - choice.drop, ground.design.units)
    lost = rows.count - len(choice.left)
    gone = f"{lost} of {rows.count} upper holes can't be used" if lost else "All upper holes can still be used"
    return (f"The lower bolts go {up} above their standard place. {gone}.",)


def _cut_costs(ground: Ground, hung: Design) -> Iterator[str]:
    """Yield the cost of washers that press too hard after they are cut flat. The check's limit is for whole ones."""
    for bolt in bolts(hung):
        ours = bolt.mount_index == ground.index and bolt.port  # port and starboard have the same hardware
        if ours and bolt.hardware.washer.flat_cut is not None and presses_too_hard(bolt):
            most = force_units.torque(torque_at_most(bolt, "pressure"), hung.units, down=True)
            yield (
                f"With its {bolt.pair} washers cut flat the core allows {most} of wrench torque. "
                "The motor's manual comes first."
            )


def _pad_cost(ground: Ground, hung: Design) -> tuple[str, ...]:
    pad = hard_pad(hung, ground.index)
    return () if pad is None else (f"A hard pad of {format_length(pad, hung.units)} under the bracket hook.",)


def _nearest_miss(ground: Ground) -> Fit | None:
    """Return the placement that lacks least, with the change that it needs; the upper pair where it has room, if anywhere."""
    mount, index = ground.mount, ground.index
    offset = mount.offset or 0.0
    now = -ground.bracket[0].row0_depth if mount.upper_at is None else mount.upper_at
    at = min(now, ground.highest(offset, 0))  # a miss, too, keeps its upper holes far enough below the top edge
    hung = with_mount(without_wishes(ground.design), index, upper_at=at, offset=offset)
    kept = Upper(hung, at, offset, 0, Kit(ground.hardware[0], PRESENT, "the hardware as it is"), (), (), False, False)
    upper = min(uppers_of(ground, offset), key=lambda place: (place.moved, place.kit.level), default=kept)
    hung = upper.design
    misses: list[tuple[tuple[float, ...], Fit]] = []
    for kit, tilt in lower_kits(ground):
        if kit.level not in (PRESENT, CUT, PLATE):
            continue
        for drop in ladder_drops(mount, index):
            rows = rows_left(hung, index, drop) or (mount.row or 0,)
            row = min(rows, key=lambda row: (off_usual_of(hung, index, row), row))
            fit = _checked(ground, Candidate(upper, kit, tilt, drop, row, rows, False, False, 0.0, steps_of(ground, drop), 0.0))
            if fit is not None:
                lacks = [finding for finding in _ours(ground, fit.design) if finding.state == "fouled"]
                key = (sum(map(_short, lacks)), len(lacks), steps_of(ground, drop), kit.level)
                misses.append((key, fit))
    if not misses:
        return None
    fit = min(misses, key=lambda miss: miss[0])[1]
    return changed(fit, change=_change(ground, fit))


def _short(finding: Finding) -> float:
    """Return about how many millimetres a fouled finding lacks."""
    if finding.value is None or finding.least is None:
        return 50.0
    lack = abs(finding.value - finding.least)
    return lack * 12.7 if finding.unit == "diameters" else lack


def _change(ground: Ground, fit: Fit) -> str:
    """Say the change that the nearest miss needs to fit."""
    unit = fit.design.units
    by = _floor_lower_by(ground, fit.design)
    if by is not None:
        grain = MM_PER_INCH / 16 if unit == "in" else 0.5
        return f"The well's floor would have to be {format_length(math.ceil(by / grain - CLOSE) * grain, unit)} lower."
    if fit.governs is None:
        return "No other place or part that the search may use helps."
    return f"{fit.governs.text} {fit.governs.remedy or ''}".strip()


def _floor_lower_by(ground: Ground, design: Design) -> float | None:
    """Return how much lower the well's floor must be for a design to fit [mm], None where that does not help."""
    well = design.well
    if well is None:
        return None
    lower = partial(_lowered, design, well)
    low, high = 0.0, _LOWEST_FLOOR
    if refused(lower, high) is not None:  # the hull's bottom comes first
        most = reach(lower, 0.0, high)
        if most is None:
            return None
        high = most.last
    if not _fits(ground, lower(high)):
        return None
    while high - low > 0.05:
        middle = (low + high) / 2
        low, high = (low, middle) if _fits(ground, lower(middle)) else (middle, high)
    return high


def _lowered(design: Design, well: Well, by: float) -> Design:
    """Return a design whose well has a lower floor [mm].

    Raises:
        NonsenseError: no boat has such a low floor.
    """
    first, *floor, last = well.profile
    deeper = tuple((u, None if y is None else y - by) for u, y in floor)
    return replace(design, well=replace(well, profile=(first, *deeper, last)))


def _fits(ground: Ground, design: Design) -> bool:
    return verdict_of(_ours(ground, design)) != "fouled"
