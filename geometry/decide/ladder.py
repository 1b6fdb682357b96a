"""The ladders of every motor: the result of each upper hole and each drop."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import msgspec

from geometry.decide.lowest import Lowest, lowest_plate
from geometry.design.validity import CLOSE
from geometry.edits.edits import with_mount
from geometry.judge.check import assembled, row_findings, row_independent_findings
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.findings import Checked, Finding, State, worst
from geometry.judge.kept_findings import kept
from geometry.solid.bracket_holes import hook_gap, ladder_drops, plate_height, rows_left, slot_place, standard_drop
from geometry.solid.faces import Unmeasured

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design

T = TypeVar("T")


class Rung(msgspec.Struct, frozen=True):
    """One upper hole at one drop.

    Attributes:
        drop, hook_gap, plate_height: [mm], None where not known.
        state: of the whole design with it; an unusable upper hole is fouled. rows_left: usable upper holes of this drop.
        worst: the finding that governs.
        room: the smallest clearance inside at this drop, with any upper hole [mm], None where nothing limits it.
        nearest: the finding of that clearance. slot_end: how far the lower bolts are from the best slot's end [mm].
        design: the boat with it.
    """

    drop: float
    row: int
    state: State
    hook_gap: float | None
    plate_height: float | None
    rows_left: tuple[int, ...]
    worst: Finding | None
    room: float | None = None
    nearest: Finding | None = None
    slot_end: float | None = None
    design: Design | None = None


class Ladder(msgspec.Struct, frozen=True):
    """One motor's ladders, deepest drop first, rows from 0 up; no rungs for a bracket without bolts."""

    mount: str
    index: int
    lowest: Lowest
    rungs: tuple[Rung, ...]

    def drops(self) -> tuple[float, ...]:
        """Return the drops, deepest first."""
        return tuple(dict.fromkeys(rung.drop for rung in self.rungs))


def ladders(design: Design) -> tuple[Ladder, ...]:
    """Return the ladders of every motor: the upper holes stay, the lower pair moves."""
    return tuple(
        Ladder(mount.name, index, lowest_plate(design, index), tuple(rungs(design, index)))
        for index, mount in enumerate(design.mounts)
    )


def rungs(design: Design, index: int, fitted: Callable[[Design], Design] | None = None) -> Iterator[Rung]:
    """Yield one motor's rungs. Each drop is checked once, since only a few findings depend on the upper hole.

    A finding that the drop does not move is kept from the drop before: half of them with two motors.

    Args:
        fitted: makes the hardware to measure for each drop; None leaves it as it is.
    """
    mount = design.mounts[index]
    lower = mount.bracket.lower
    if mount.bracket.rows is None or lower is None:
        return
    before: dict[int | None, Checked] = {}  # by row, and None for what depends on none
    for drop in ladder_drops(mount, index):
        left = _if_known(lambda at: rows_left(at, index, drop), design)  # noqa: B023 (called at once)
        if left == () and not any(_same(drop, other) for other in (standard_drop(lower), mount.drop)):
            continue  # a pitch less is worth a ladder only while it leaves a usable hole
        moved = with_mount(design, index, drop=drop)
        moved = fitted(moved) if fitted else moved
        fixed = row_independent_findings(moved, kept(before.get(None), moved))
        before[None] = assembled(moved, fixed)
        near = [f for f in fixed if f.check in IN_WELL and f.value is not None and index in f.mounts]
        governs = worst(fixed)
        nearest = min(near, key=lambda f: f.value or 0.0, default=None)
        for row in range(mount.bracket.rows.count):
            hung = with_mount(moved, index, row=row)
            of_row = row_findings(hung, kept(before.get(row), hung))
            before[row] = assembled(hung, of_row)
            governing = worst(of_row if governs is None else (governs, *of_row))
            state: State = "clear" if governing is None else governing.state
            yield Rung(
                drop,
                row,
                state if left is None or row in left else "fouled",
                _if_known(lambda at: hook_gap(at, index), hung),
                _if_known(lambda at: plate_height(at, index), hung),
                left or (),
                governing,
                None if nearest is None else nearest.value,
                nearest,
                slot_place(lower, row * mount.bracket.rows.pitch + drop),
                hung,
            )


def _same(drop: float, other: float | None) -> bool:
    """Return whether two drops are the same rung: a slot may have more decimals than the ladder, 1e-6 mm."""
    return other is not None and abs(drop - other) <= CLOSE


def _if_known(look: Callable[[Design], T], design: Design) -> T | None:
    try:
        return look(design)
    except Unmeasured:
        return None
