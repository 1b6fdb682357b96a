"""NOT TO BE DRILLED, across every sheet."""

from __future__ import annotations

from collections.abc import Sequence

from templates_out.drawing.clipping import Rect
from templates_out.drawing.labels import Ground, apart, thing
from templates_out.drawing.marks import Mark
from templates_out.sheets.blocks import band, band_height
from templates_out.sheets.pages import Board


def with_bands(sheets: Board, room: Rect, reason: str, soft: Sequence[Mark]) -> Board:
    """Return the board with a band as wide as the drawing on each sheet, where nothing else stands.

    Where a sheet has no such place the band crosses what it must, holes last of all: ``soft`` marks come first.
    """
    plan = sheets.plan
    for tile in plan.tiles:
        left, right = max(tile.core[0] + 3.0, room[0]), min(tile.core[2] - 3.0, room[2])
        high = band_height(reason, right - left)
        top = min(tile.core[3] - 4.0, -2.0)
        bottom = tile.core[1] + 4.0
        if tile.row == plan.rows - 1:
            bottom = max(bottom, room[1] - 26.0, tile.core[1] + 31.0 if tile.row else bottom)
        steps = [top - high - 2.0 * k for k in range(max(1, int((top - high - bottom) / 2.0) + 1))]
        lines = Ground().plus(soft)

        costs = [
            (_crossed(sheets.ground, (left, y, right, y + high)), _crossed(lines, (left, y, right, y + high)), -index)
            for index, y in enumerate(steps)
        ]
        y = steps[costs.index(min(costs))]
        sheets = sheets.carrying(tile, band((left, y, right, y + high), reason))
    return sheets


def _crossed(ground: Ground, box: Rect) -> int:
    """Return how much stands within a box, or nearer than 1.2 mm."""
    left, bottom, right, top = box
    new = thing("line", ((left, bottom), (right, bottom), (right, top), (left, top)))
    return sum(old.kind != "seam" and apart(new, old) < 1.2 for old in ground.near(box, 1.2))
