"""The bare hand: it presses, drags, lets go, nudges by arrows, and gives up. No Qt, no pixels."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from app.tools.drag import HOLD, Drag, Moved
from app.tools.handles import Grip, edge_grip_under, edge_grips, grips, under
from app.tools.snap import step

if TYPE_CHECKING:
    from geometry.design.whole import Design
    from templates_out.drawing.marks import Point
    from templates_out.views.viewport import Viewport

CLICK = 4 * 25.4 / 96  # paper mm: a press that moves less is a click
_NEAR = 8 * 25.4 / 96  # paper mm within which a drag holds to something
_ENTRIES = {
    "upper": "mounts.{}.upper_at", "lower": "mounts.{}.drop", "saddle": "mounts.{}.row", "bracket": "mounts.{}.offset",
    "old hole": "old_holes.{}.across", "profile": "well.floor_port", "outline": "transom.height",
    "block": "inside_blocks.{}.stands_out",
}  # fmt: skip


class Hand(msgspec.Struct):
    """What it holds: a place that was pressed, what was taken there, and what becomes of it.

    Attributes:
        pressed: the place on paper that was pressed; None while nothing is. taken: what lies there.
        drag: the drag under way, by the pointer. nudge: the one by arrow keys, gone so far (u, v) [boat mm].
    """

    pressed: Point | None = None
    taken: Grip | None = None
    drag: Drag | None = None
    nudge: Drag | None = None
    gone: Point = (0.0, 0.0)

    @property
    def busy(self) -> bool:
        """Whether something is being moved."""
        return self.drag is not None or self.nudge is not None

    def press(self, design: Design, view: Viewport, at: Point, mount: int, chosen: str) -> None:
        """Press at a place on paper, and take what lies there."""
        self.pressed, self.taken = at, lying(design, view, at, mount, chosen)

    def move(
        self, design: Design, view: Viewport, at: Point, *, free: bool, one_axis: bool, alike: bool | None = None
    ) -> Moved | None:
        """Drag what was taken to a place on paper; None where nothing is dragged (yet)."""
        if self.pressed is None or self.taken is None:
            return None
        if self.drag is None:
            if math.dist(self.pressed, at) < CLICK:
                return None
            self.drag = Drag(design, self.taken, view.to_boat(self.pressed), alike=alike)
        hold = min(HOLD, _NEAR / view.scale)
        self.drag = self.drag.to(view.to_boat(at), free=free, one_axis=one_axis, hold=hold)
        return self.drag.last

    def let_go(self) -> Drag | None:
        """End the press; return the drag that it was, None for a click."""
        drag = self.drag
        self.pressed = self.taken = self.drag = None
        return drag

    def push(self, design: Design, grip: Grip, way: tuple[int, int], times: int) -> Moved | None:
        """Move the chosen by some steps, as long as an arrow is held down."""
        if self.nudge is None:
            self.nudge, self.gone = Drag(design, grip, (0.0, 0.0)), (0.0, 0.0)
        by = step(design.units) * times
        if grip.kind == "saddle":
            rows = design.mounts[grip.index].bracket.rows
            by = by if rows is None else rows.pitch
        self.gone = self.gone[0] + way[0] * by, self.gone[1] + way[1] * by
        self.nudge = self.nudge.to(self.gone, hold=0.0)
        return self.nudge.last

    def end_push(self) -> Moved | None:
        """End what an arrow moved; None where it moved nothing."""
        nudge, self.nudge = self.nudge, None
        return None if nudge is None or nudge.last is None or not nudge.last.label else nudge.last

    def give_up(self) -> None:
        """Drop everything."""
        self.pressed = self.taken = self.drag = self.nudge = None


def lying(design: Design, view: Viewport, at: Point, mount: int, chosen: str) -> Grip | None:
    """Return what a press at a place on paper takes: a handle or a part, then an edge, then a bracket."""
    found = under(design, view, at, mount, chosen)
    if found and found[0].kind not in ("bracket", "block", "fitting"):
        return found[0]
    return edge_grip_under(design, view, at) or (found[0] if found else None)


def chosen_grip(design: Design, mount: int, chosen: str) -> Grip | None:
    """Return the grip of the chosen part, None where it has none."""
    every = edge_grips(design) if " edge " in chosen else grips(design, mount)
    return next((grip for grip in every if grip.part == chosen), None) if chosen else None


def neighbour(design: Design, mount: int, chosen: str, *, forward: bool) -> str:
    """Return the part after the chosen one in the order of the card, or before it; "" beyond either end."""
    parts = [grip.part for grip in grips(design, mount)]
    at = parts.index(chosen) if chosen in parts else (-1 if forward else len(parts))
    at += 1 if forward else -1
    return parts[at] if 0 <= at < len(parts) else ""


def entry_of(grip: Grip) -> str:
    """Return the key of the measure that a part is typed by, "" for none."""
    return _ENTRIES.get(grip.kind, "").format(grip.index)


def mount_of(grip: Grip, mount: int) -> int:
    """Return the motor that a grip belongs to, else ``mount``."""
    return grip.index if grip.kind in ("bracket", "upper", "lower", "saddle") else mount
