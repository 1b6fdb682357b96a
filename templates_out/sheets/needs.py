"""What a face asks of the sheets that it is spread over: how far they reach, and where no seam may run."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from templates_out.sheets.on_face import near
from templates_out.sheets.tiles import FOOT, Needs

if TYPE_CHECKING:
    from templates_out.sheets.on_face import OnFace
    from templates_out.sheets.tiles import Span

CLEAR = 15.0  # mm: between a seam and the end of any cross
BESIDE_CENTRELINE = 20.0


def needs(face: OnFace, reason: str | None, with_floor: bool = True) -> Needs:
    """Return what a face asks of the sheets: holes with their crosses, old holes and the floor near them.

    Args:
        reason: why nobody may work by it: the band that says so takes room. with_floor: reach down to the floor's line.
    """
    left = min(-22.0, *(hole.at[0] - hole.reach for hole in face.holes))
    right = max(22.0, *(hole.at[0] + hole.reach for hole in face.holes))
    deep = max(hole.reach - hole.at[1] for hole in face.holes)
    no_across: list[Span] = [(-BESIDE_CENTRELINE, BESIDE_CENTRELINE)]
    no_down: list[Span] = [(-CLEAR, CLEAR)]
    for hole in face.holes:
        clear = hole.reach + CLEAR
        no_across.append((hole.at[0] - clear, hole.at[0] + clear))
        no_down.append((-hole.at[1] - clear, -hole.at[1] + clear))
    for old in face.old:
        if near(old.at, face.holes, 60.0):
            left, right = min(left, old.at[0] - old.reach - 2.0), max(right, old.at[0] + old.reach + 2.0)
            deep = max(deep, old.reach + 2.0 - old.at[1])
            no_across.append((old.at[0] - old.reach - CLEAR, old.at[0] + old.reach + CLEAR))
            no_down.append((-old.at[1] - old.reach - CLEAR, -old.at[1] + old.reach + CLEAR))
    for run in chain(face.floor, face.land):
        for a, b in zip(run, run[1:], strict=False):
            if abs(b[1] - a[1]) < abs(b[0] - a[0]):  # a floor, not a wall
                level = [
                    a[1] + (hole.at[0] - a[0]) / (b[0] - a[0]) * (b[1] - a[1])
                    for hole in face.holes
                    if a[0] < hole.at[0] < b[0]
                ]
                if with_floor and level and -min(level) < deep + 60.0:
                    deep = max(deep, 9.0 - min(level))
                if abs(b[1] - a[1]) < 6.0:
                    no_down.append((-max(a[1], b[1]) - 6.0, -min(a[1], b[1]) + 6.0))
    extra = 0.0 if reason is None else 24.0
    return Needs((left, right), deep + 2.0, tuple(no_across), tuple(no_down), FOOT, 4.0 + extra)
