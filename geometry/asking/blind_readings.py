"""Readings that decide alone: each is taken a second time, blind, where no other reading shows a slip of it. Lengths [mm]."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design.patterns import kind_of
from geometry.doubt.slot_chance import slot_shares
from geometry.edits.confirm_or_buy import is_part
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.readings.measure_ranges import ROUNDED
from geometry.readings.measures import measure
from geometry.solid.placed_bolts import bolts
from geometry.solving.witnesses import witnessed

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding

SLIP = 6.4
"""[mm] from the middle of a half-inch hole to its edge: the usual slip of a reading that nothing else shows."""
_SLOT = "row"
_COUNTS = 0.05  # of a finding's variance: a reading with less does not decide


def to_confirm_blind(checked: Checked, again: Collection[str], passed: Collection[str]) -> tuple[str, Finding] | None:
    """Return the first reading to take once more, with the finding that it decides; None for none.

    Args:
        checked: with chances. again, passed: the readings that were taken once more, and those that can't be taken.
    """
    design = checked.design
    known = witnessed(design)
    for finding in checked.findings:
        room = _room(design, finding)
        near = 0.0 <= room < SLIP
        keys = _of_bracket(design, finding, room) if finding.check == _SLOT else _deciding(design, finding) if near else ()
        for key in keys:
            if key not in known and key not in again and key not in passed:
                return key, finding
    return None


def _of_bracket(design: Design, finding: Finding, room: float) -> Iterator[str]:
    """Yield the readings that decide whether a bracket goes on its bolts, where its pattern is its own.

    A slip of a half spacing always does, as holes have little play. Along the slot the room to its end counts. A pitch is
    read over all holes at once, so that a slip of it is shared among them.

    Args:
        room: of the lower bolts to their slot's end [mm]; below 0 where their chance is not asked for.
    """
    for index in finding.mounts:
        mount = design.mounts[index]
        if kind_of(mount.bracket) != "own" or mount.bracket.rows is None:
            continue
        start = f"mounts.{index}.bracket."
        pitch, gaps = f"{start}rows.pitch", max(1, mount.bracket.rows.count - 1)
        along = sorted(slot_shares(design, index).items(), key=lambda each: -each[1])
        decide = [key for key, _ in along if 0.0 <= room < SLIP * ((mount.row or 0) / gaps if key == pitch else 1.0)]
        for key in (*decide, f"{start}rows.half_spacing", f"{start}lower.half_spacing"):
            reading = design.readings.get(key)
            if reading is not None and reading.state == "measured" and not _is_standard(design, key):
                yield key


def _is_standard(design: Design, key: str) -> bool:
    """Return whether a reading is the number of the standard pattern: a slip seldom leads to just that. Allows 0.5 mm."""
    row = measure(design, key)
    value = None if row is None else row.get(design)
    standard = None if row is None else row.ranges.standard
    return value is not None and standard is not None and abs(value - standard) <= ROUNDED


def _room(design: Design, finding: Finding) -> float:
    """Return how far a finding is from its least [mm]; -1 where its chance is not asked for."""
    if not CHECK_KINDS[finding.check].by_chance or finding.value is None or finding.least is None or finding.spread is None:
        return -1.0
    size = 1.0
    if finding.unit == "diameters":
        size = next(bolt.thread.diameter for bolt in bolts(design) if bolt.mount_index in finding.mounts)
    return (finding.value - finding.least) * size if finding.unit in ("mm", "diameters") else -1.0


def _deciding(design: Design, finding: Finding) -> Iterator[str]:
    """Yield the readings that a finding depends on, the one that moves it most first: typed, and not by a guess."""
    for key, share in zip(finding.moved_by, finding.shares, strict=False):
        row, reading = measure(design, key), design.readings.get(key)
        typed = reading is not None and reading.state == "measured"
        if row is not None and typed and not row.second and not is_part(row) and share > _COUNTS * (finding.spread or 0.0) ** 2:
            yield key
