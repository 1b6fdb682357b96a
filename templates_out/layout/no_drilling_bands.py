"""NOT TO BE DRILLED, or PILOT ONLY, across every sheet."""

from __future__ import annotations

import math
from collections.abc import Sequence

from templates_out.drawing.clipping import Rect
from templates_out.drawing.labels import Ground, keeps, things_of
from templates_out.drawing.marks import Line, Mark
from templates_out.drawing.printer import WHOLE
from templates_out.layout.blocks import band, band_height
from templates_out.layout.board import Board
from templates_out.layout.drilling_permission import Stamp
from templates_out.layout.seams import CHECK


def with_bands(sheets: Board, room: Rect, reason: Stamp, soft: Sequence[Mark]) -> Board:
    """Return the board with a band as wide as the drawing on each sheet, where nothing else is; outlined on the whole sheet.

    Where a sheet has no such place, the band crosses ``soft`` marks first, then holes. It crosses the ends of bars and the
    join checks last, since people measure them.
    """
    plan = sheets.plan
    for tile, own in zip(plan.tiles, sheets.own, strict=True):
        measured = _bar_ends(own) + [shape.box for mark in own if mark.part == CHECK for shape in things_of(mark)]
        left, right = max(tile.core[0] + 3.0, room[0]), min(tile.core[2] - 3.0, room[2])
        high = band_height(reason, right - left)
        top = min(tile.core[3] - 4.0, -2.0)
        bottom = tile.core[1] + 4.0
        if tile.row == plan.rows - 1:
            bottom = max(bottom, room[1] - 26.0, tile.core[1] + 31.0 if tile.row else bottom)
        steps = [top - high - 2.0 * k for k in range(max(1, int((top - high - bottom) / 2.0) + 1))]
        lines = Ground().plus(soft)

        costs = [
            (
                sum(_overlap(box, (left - 1.2, y - 1.2, right + 1.2, y + high + 1.2)) for box in measured),
                _crossed(sheets.ground, (left, y, right, y + high)), _crossed(lines, (left, y, right, y + high)), -index,
            )
            for index, y in enumerate(steps)
        ]
        y = steps[costs.index(min(costs))]
        sheets = sheets.carrying(tile, band((left, y, right, y + high), reason, outlined=plan.paper == WHOLE.name))
    return sheets


def _bar_ends(marks: Sequence[Mark]) -> list[Rect]:
    """Return the boxes of the ticks that a sheet's bars are measured from and to, and of the figures next to them."""
    ends: list[Rect] = []
    for part in ("bar across", "bar up"):
        own = [mark for mark in marks if mark.part == part]
        lines = [mark for mark in own if isinstance(mark, Line)]
        if lines:
            longest = max(lines, key=lambda mark: math.dist(mark.a, mark.b))
            near = [(x - 5.0, y - 5.0, x + 5.0, y + 5.0) for x, y in (longest.a, longest.b)]
            boxes = [end.box for mark in own if mark is not longest for end in things_of(mark)]
            ends += [box for box in boxes if any(_overlap(box, place) for place in near)]
    return ends


def _overlap(a: Rect, b: Rect) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _crossed(ground: Ground, box: Rect) -> int:
    """Return how much there is within a box, or nearer than 1.2 mm."""
    return sum(old.kind != "seam" and not keeps(box, old, 1.2) for old in ground.near(box, 1.2))
