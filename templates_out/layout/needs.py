"""The needs of a face from its sheets: how far they reach, and where no seam may run."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from geometry.errors import OwnerError
from templates_out.drawing.printer import Stretch
from templates_out.faces.on_face import near
from templates_out.layout.spread_on_sheets import layout_of
from templates_out.layout.tiles import CLOSE_FOOT, FOOT, Needs

if TYPE_CHECKING:
    from collections.abc import Callable

    from templates_out.drawing.printer import Printing
    from templates_out.faces.on_face import OnFace
    from templates_out.layout.drilling_permission import Stamp
    from templates_out.layout.spread_on_sheets import SheetLayout
    from templates_out.layout.tiles import Span

CLEAR = 15.0  # mm: between a seam and the end of any cross
NEAR_CENTRELINE = 20.0
_UNDER_FLOOR, _CLOSE = 9.0, 5.0  # mm: what the floor's ticks and name take under its line, and the least of it

Floor = Literal["whole", "under holes", ""]


def face_layout(
    face: Callable[[Stretch], OnFace], reason: Stamp | None, printing: Printing, first: int = 0, back: float = 0.0
) -> SheetLayout:
    """Return how a face is laid on paper. Where no seam keeps clear of an opening too, the openings are left out.

    The shop sheet has the place of each opening.

    Args:
        face: returns the face as drawn for a stretch. reason, printing: see `wishes` and `layout_of`.
        first, back: the number of the first sheet, and how much nearer than they might the first seams run [mm].
    """
    def bare(stretch: Stretch) -> OnFace:
        return replace(face(stretch), openings=())

    try:
        return layout_of(lambda stretch: wishes(face(stretch), reason), printing, first, back)
    except OwnerError:
        if not face(Stretch()).openings:
            raise
        return layout_of(lambda stretch: wishes(bare(stretch), reason), printing, first, back)


def wishes(face: OnFace, reason: Stamp | None) -> tuple[Needs, ...]:
    """Return what a face asks of the sheets, the fullest first: the floor moves up to the title before it is left out.

    Args:
        reason: why nobody may work by it: the band that says so takes room.
    """
    ways: tuple[tuple[Floor, bool], ...] = (("whole", False), ("whole", True), ("under holes", False), ("under holes", True))
    return (*(needs(face, reason, floor, close) for floor, close in ways), needs(face, reason, ""))


def needs(face: OnFace, reason: Stamp | None, floor: Floor = "whole", close: bool = False) -> Needs:
    """Return what a face asks of the sheets: holes with their crosses, old holes and the floor near them.

    Args:
        reason: why nobody may work by it.
        floor: how much of the floor's line is to be on paper. close: as near to the title at the foot as may be.
    """
    left = min(-22.0, *(hole.at[0] - hole.reach for hole in face.holes))
    right = max(22.0, *(hole.at[0] + hole.reach for hole in face.holes))
    deep = max(hole.reach - hole.at[1] for hole in face.holes)
    no_across: list[Span] = [(-NEAR_CENTRELINE, NEAR_CENTRELINE)]
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
    for opening in face.openings:
        clear = opening.reach + CLEAR
        left, right = min(left, opening.at[0] - opening.reach), max(right, opening.at[0] + opening.reach)
        deep = max(deep, opening.reach - opening.at[1])
        no_across.append((opening.at[0] - clear, opening.at[0] + clear))
        no_down.append((-opening.at[1] - clear, -opening.at[1] + clear))
    for run in chain(face.floor, face.land):
        for a, b in zip(run, run[1:], strict=False):
            if abs(b[1] - a[1]) < abs(b[0] - a[0]):  # a floor, not a wall
                level = [
                    a[1] + (hole.at[0] - a[0]) / (b[0] - a[0]) * (b[1] - a[1])
                    for hole in face.holes
                    if a[0] < hole.at[0] < b[0]
                ]
                lowest = min((*level, a[1], b[1]) if floor == "whole" else level, default=0.0)
                if floor and level and -lowest < deep + 60.0:
                    deep = max(deep, (_CLOSE if close else _UNDER_FLOOR) - lowest)
                if abs(b[1] - a[1]) < 6.0:
                    no_down.append((-max(a[1], b[1]) - 6.0, -min(a[1], b[1]) + 6.0))
    extra = 0.0 if reason is None else 24.0
    foot = CLOSE_FOOT if close else FOOT
    return Needs((left, right), deep + 2.0, tuple(no_across), tuple(no_down), foot, 4.0 + extra, bool(face.openings))
