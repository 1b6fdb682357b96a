"""An offer of the search: a placement after the whole check, with its costs, and whether it is sure enough to be drilled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.decide.measured_kit import made_to_measure
from geometry.decide.usual_height import too_high
from geometry.design.validity import CLOSE, NonsenseError
from geometry.doubt.spreads import spreading
from geometry.edits.confirm_or_buy import with_new_parts_to_buy
from geometry.edits.edits import with_mount
from geometry.judge.bracket import hard_pad
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS, IN_WELL
from geometry.judge.drillable import SPREADS, drillable
from geometry.judge.findings import Finding, State, verdict_of, worst
from geometry.judge.inside_room import plate_corners, plate_room
from geometry.judge.reporter import Reporter
from geometry.judge.strength import presses_too_hard, torque_at_most
from geometry.readings.measures import name_of
from geometry.readings.reading_spreads import hole_spread
from geometry.solid.bracket_holes import plate_height, standard_drop
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.solving.solved import solved
from geometry.units import force_units
from geometry.units.units import format_length

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterable, Iterator

    from geometry.decide.kit import Kit
    from geometry.decide.search_ground import Candidate, Ground
    from geometry.design.design import Design

_NEARLY = 0.95  # of the spread of the holes: a little less, so that only what is surely too unsure is passed over


@dataclass(frozen=True, slots=True)
class Fit:
    """A place and hardware for the motor that clears everything, or the nearest miss.

    Attributes:
        design: the design after it. fits: False for the nearest miss.
        state: worst state of the findings that concern this motor.
        row, drop, upper_at, offset, upper_tilt, lower_tilt: its place [mm], [degrees].
        level: how special the lower pair's hardware is, see `kit.PRESENT`; hardware: the same in words.
        rows_left: usable upper holes of its drop.
        room: smallest clearance inside [mm], None where nothing limits it. plate_height: of the AV plate [mm], None where not
            known.
        reused: names of the old holes that it uses.
        governs: the finding that governs, None where there is none. costs: its costs, a sentence each.
        lacks: its fouled findings, none where it fits.
        change: for a miss, the change that it needs; None where it fits.
    """

    design: Design
    fits: bool
    state: State
    row: int
    drop: float
    upper_at: float
    offset: float
    upper_tilt: float
    lower_tilt: float
    level: int
    hardware: str
    rows_left: tuple[int, ...]
    room: float | None
    plate_height: float | None
    reused: tuple[str, ...]
    governs: Finding | None
    costs: tuple[str, ...]
    lacks: tuple[Finding, ...] = ()
    change: str | None = None


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the search is: ``done`` of ``total`` steps."""

    done: int
    total: int


def checked_fit(ground: Ground, choice: Candidate) -> Fit | None:
    """Return a choice after the whole check, its cut or backing plate made to measure; None where that is impossible."""
    try:
        kit = made_to_measure(_hung(ground, choice, choice.kit), ground.index, choice.kit)
        hung = _hung(ground, choice, kit)
        costs = (*ground.costs, *choice.upper.costs, *_drop_costs(ground, choice), *kit.costs,
                 *_cut_costs(ground, hung), *_pad_cost(ground, hung))  # fmt: skip
    except NonsenseError:
        return None
    findings = check(hung).findings
    ours = findings_of_motor(ground, findings)
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
    costs += (*_height_cost(ground, height), *_open_pilots(ours), *_still(ground, findings), *_to_measure(ground, ours))
    return Fit(
        with_new_parts_to_buy(ground.design, hung), state != "fouled", state, choice.row, choice.drop, choice.upper.at,
        choice.upper.offset, choice.upper.tilt, choice.tilt, kit.level, kit.name, choice.left, room, height,
        choice.upper.reused, governs, costs, tuple(finding for finding in ours if finding.state == "fouled"),
    )  # fmt: skip


def plate_overlaps(ground: Ground, choice: Candidate) -> bool:
    """Return whether the lower backing plate of a choice, made to measure, has no room: quicker to see than by all checks."""
    if choice.kit.hardware.backing_plate is None:
        return False
    try:
        kit = made_to_measure(_hung(ground, choice, choice.kit), ground.index, choice.kit)
        report = Reporter(solved(_hung(ground, choice, kit)))
    except NonsenseError:
        return True
    pair = [bolt for bolt in report.bolts if bolt.mount_index == ground.index and not bolt.upper]
    plates = {bolt.plate.joins: bolt for bolt in pair if bolt.plate is not None}  # one for both bolts is looked at once
    least = ground.design.limits.clearance[0] - CLOSE
    looks = plate_corners, plate_room  # most are seen to overlap by their corners alone
    return any((look(report, bolt) or 0.0) < least for look in looks for bolt in plates.values())


def findings_of_motor(ground: Ground, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings that concern this motor and that its place can help."""
    return tuple(f for f in findings if (not f.mounts or ground.index in f.mounts) and f.check not in ground.given)


def doubts(
    ground: Ground, design: Design, step: Progress, asked: Callable[[Finding], bool] = lambda _: True
) -> Generator[Progress, None, tuple[Finding, ...]]:
    """Return the findings of this motor that are not sure enough for its holes to be drilled; yield ``step`` on the way.

    Guesses count as measured: they are measured before anybody drills. Only the chances of findings that are ``asked`` for
    are calculated.
    """
    checked = check(_as_measured(design))
    ours = findings_of_motor(ground, checked.findings)
    only = frozenset((each.check, each.at) for each in ours if CHECK_KINDS[each.check].by_chance and asked(each))
    for checked in spreading(checked, of_chance=True, only=only):  # noqa: B007, B020 (the last one is kept)
        yield step
    unsure = (reason.finding for reason in drillable(checked).reasons if reason.kind == "doubt")
    return findings_of_motor(ground, (finding for finding in unsure if finding is not None))


def surely_doubted(ground: Ground, fit: Fit) -> tuple[Finding, ...]:
    """Return the findings of this motor that the errors of its holes alone make too unsure: quicker than `doubts`.

    Each room and each stretch of wood changes as much as the hole moves. That is not so on a backing plate, which moves too.
    """
    hung = [bolt for bolt in bolts(fit.design) if bolt.mount_index == ground.index]
    least = _NEARLY * SPREADS * hole_spread(fit.design.spreads, min(bolt.exit.along for bolt in hung))
    across = {bolt.at: bolt.thread.diameter for bolt in hung}
    plated = {bolt.at for bolt in hung if bolt.plate is not None}
    unsure = []
    for finding in findings_of_motor(ground, check(fit.design).findings):
        at = " / ".join(finding.at.split(" / ")[:2])
        if at not in across or not CHECK_KINDS[finding.check].by_chance or (finding.check in IN_WELL and at in plated):
            continue
        if finding.value is not None and finding.least is not None:
            room = (finding.value - finding.least) * (across[at] if finding.unit == "diameters" else 1.0)
            unsure += [finding] if room < least and finding.state != "note" else []
    return tuple(unsure)


def _as_measured(design: Design) -> Design:
    readings = {
        key: replace(reading, state="measured") if reading.state == "guess" else reading
        for key, reading in design.readings.items()
    }
    return replace(design, readings=readings)


def _hung(ground: Ground, choice: Candidate, kit: Kit) -> Design:
    return with_mount(
        choice.upper.design, ground.index, row=choice.row, upper_at=choice.upper.at, drop=choice.drop,
        lower_tilt=choice.tilt, lower_hardware=kit.hardware,
    )  # fmt: skip


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


def _height_cost(ground: Ground, height: float | None) -> tuple[str, ...]:
    if height is None or not too_high(height, ground.mount):
        return ()
    where = format_length(height, ground.design.units)
    return (f"The AV plate is {where} above the bottom, higher than usual: expect it to suck air.",)


def _open_pilots(ours: Iterable[Finding]) -> Iterator[str]:
    """Yield the pilots that this place leaves open."""
    for finding in ours:
        if finding.check == "left_pilot" and finding.state == "tight":
            yield f"The {finding.at.split(' / ')[1]} pilot stays open: fill it, and let it cure."


def _still(ground: Ground, findings: Iterable[Finding]) -> Iterator[str]:
    """Yield what is fouled at any place, once for the two bolts of a pair."""
    for text in {(f.check, f.at.replace("starboard", "port")): f.text for f in ground.still_given(findings)}.values():
        yield f"Still to be settled: {text}"


def _to_measure(ground: Ground, ours: tuple[Finding, ...]) -> Iterator[str]:
    """Yield the readings that are missing before anybody may drill."""
    for key in dict.fromkeys(f.missing for f in ours if f.state == "unknown" and f.stops == "always" and f.missing):
        yield f"Still to be measured: {name_of(ground.design, key)}."
