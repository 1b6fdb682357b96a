"""NOT TO BE DRILLED, across every sheet."""

from __future__ import annotations

from collections.abc import Sequence

from templates_out.drawing.clipping import Rect
from templates_out.drawing.labels import Ground
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
            bottom = max(bottom, room[1] - 26.0)
        steps = [top - high - k for k in range(max(1, int(top - high - bottom) + 1))]
        lines = Ground().plus(soft)

        def cost(
            y: float, left: float = left, right: float = right, high: float = high, lines: Ground = lines
        ) -> tuple[int, int, float]:
            hard = _crossed(sheets.ground, (left, y, right, y + high))
            return hard, _crossed(lines, (left, y, right, y + high)), -y if tile.row else y

        y = min(steps, key=cost)
        sheets = sheets.carrying(tile, band((left, y, right, y + high), reason))
    return sheets


def _crossed(ground: Ground, box: Rect) -> int:
    """Return how much stands within a box."""
    left, bottom, right, top = box
    return sum(
        old.box[0] < right + 1.2 and left - 1.2 < old.box[2] and old.box[1] < top + 1.2 and bottom - 1.2 < old.box[3]
        for old in ground.things
        if old.kind != "seam"
    )
