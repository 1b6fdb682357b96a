"""The ladders: what each row and each drop would give, for every motor."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import msgspec
from msgspec.structs import replace

from geometry.decide.lowest import Lowest, lowest_plate
from geometry.judge.check import assembled, row_findings, standing
from geometry.judge.findings import Finding, State, worst
from geometry.judge.inside import PARTS
from geometry.solid.frames import Unmeasured
from geometry.solid.rows import ladder_drops, plate_height, rows_left, saddle_gap, standard_drop

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.whole import Design


T = TypeVar("T")


class Rung(msgspec.Struct, frozen=True):
    """One row at one drop.

    Attributes:
        drop, saddle_gap, plate_height: [mm], None where not known.
        state: of the whole design hung so; a row that can't be used is fouled. rows_left: rows that this drop leaves.
        worst: the finding that governs.
        room: the smallest clearance inside at this drop, whatever the row [mm], None where nothing limits it.
    """

    drop: float
    row: int
    state: State
    saddle_gap: float | None
    plate_height: float | None
    rows_left: tuple[int, ...]
    worst: Finding | None
    room: float | None = None


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


def rungs(design: Design, index: int) -> Iterator[Rung]:
    """Yield one motor's rungs; a drop is checked once, since only a few findings depend on the row."""
    mount = design.mounts[index]
    if mount.bracket.rows is None:
        return
    drops = ladder_drops(mount, index)
    kept = standard_drop(mount.bracket.lower) if mount.bracket.lower else None
    for drop in drops:
        moved = _hung(design, index, drop=drop)
        fixed = standing(moved)
        room = min((f.value for f in fixed if f.check in PARTS and f.value is not None and index in f.mounts), default=None)
        left = _told(lambda at: rows_left(at, index, drop), moved)  # noqa: B023 (called at once)
        if left == () and drop not in (kept, mount.drop):
            continue  # a pitch less is worth a ladder only as long as it leaves a row
        for row in range(mount.bracket.rows.count):
            hung = _hung(moved, index, row=row)
            checked = assembled(hung, (*fixed, *row_findings(hung)))
            yield Rung(
                drop,
                row,
                checked.verdict if left is None or row in left else "fouled",
                _told(lambda at: saddle_gap(at, index), hung),
                _told(lambda at: plate_height(at, index), hung),
                left or (),
                worst(checked.findings),
                room,
            )


def _hung(design: Design, index: int, **changed: float) -> Design:
    mounts = list(design.mounts)
    mounts[index] = replace(mounts[index], **changed)
    return replace(design, mounts=tuple(mounts))


def _told(look: Callable[[Design], T], design: Design) -> T | None:
    try:
        return look(design)
    except Unmeasured:
        return None
