"""Readings that decide alone: each is taken a second time, blind, where no other reading shows a slip of it. Lengths [mm]."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design.patterns import kind_of
from geometry.doubt.slot_chance import slot_shares
from geometry.edits.confirm_or_buy import is_part
from geometry.judge.check_kinds import CHECK_KINDS
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
        near = 0.0 <= _room(design, finding) < SLIP
        keys = _of_bracket(design, finding, near=near) if finding.check == _SLOT else _deciding(design, finding) if near else ()
        for key in keys:
            if key not in known and key not in again and key not in passed:
                return key, finding
    return None


def _of_bracket(design: Design, finding: Finding, *, near: bool) -> Iterator[str]:
    """Yield the readings that decide whether a bracket goes on its bolts, where its pattern is its own.

    A slip of a half spacing always does, as holes have little play. Along the slot the room to its end counts.

    Args:
        near: whether a slip takes the lower bolts past their slot's end.
    """
    for index in finding.mounts:
        if kind_of(design.mounts[index].bracket) != "own":
            continue
        along = slot_shares(design, index) if near else {}
        decide = sorted((key for key in along if along[key] > _COUNTS * sum(along.values())), key=lambda key: -along[key])
        for key in (*decide, *(f"mounts.{index}.bracket.{pair}.half_spacing" for pair in ("rows", "lower"))):
            reading = design.readings.get(key)
            if reading is not None and reading.state == "measured":
                yield key


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
