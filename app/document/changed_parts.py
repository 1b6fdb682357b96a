"""Finds the parts that differ between two designs, by the names of their marks. Undo lights them for a moment."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design.hardware import BOLT_NAMES

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.motor import Mount


def changed_parts(before: Design, after: Design) -> tuple[str, ...]:
    """Return the parts of ``after`` that differ from ``before``, as the beginnings of their marks' names."""
    parts: list[str] = []
    if before.transom.outline != after.transom.outline:
        parts += ["outline edge", "outline corner"]
    if before.well != after.well:
        parts += ["profile edge", "profile corner", "flat land"]
    for word, earlier, later in (
        ("block", before.inside_blocks, after.inside_blocks),
        ("fitting", before.outside_fittings, after.outside_fittings),
        ("old hole", before.old_holes, after.old_holes),
    ):
        parts += [f"{word} {index}" for index, part in enumerate(later) if index >= len(earlier) or earlier[index] != part]
    for index, mount in enumerate(after.mounts):
        parts += _of_mount(before.mounts[index] if index < len(before.mounts) else None, mount, index)
    return tuple(parts)


def _of_mount(before: Mount | None, after: Mount, index: int) -> list[str]:
    if before == after:
        return []
    upper = before is None or (before.upper_at, before.offset, before.upper_hardware, before.upper_tilt) != (
        after.upper_at, after.offset, after.upper_hardware, after.upper_tilt,
    )  # fmt: skip
    lower = upper or before is None or (before.drop, before.lower_hardware, before.lower_tilt) != (
        after.drop, after.lower_hardware, after.lower_tilt,
    )  # fmt: skip
    bracket = before is None or (before.row, before.bracket, before.offset) != (after.row, after.bracket, after.offset)
    wanted = {"upper": upper, "lower": lower}
    parts = [f"{name} {what}:{index}" for name in BOLT_NAMES if wanted[name.split()[0]] for what in ("hole", "washer")]
    return [*parts, *([f"bracket:{index}"] if bracket else [])]
