"""The pointer tool: it presses, drags, releases, moves by arrows, and cancels. No Qt, no pixels."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from app.entries.steps import HOLD, step
from app.tools.handles import Grip, edge_grips, edges_under, figure_under, grips, under
from geometry.readings.measures import name_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.tools.drag import Drag, DragResult
    from geometry.design.design import Design
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Viewport

CLICK = 4 * 25.4 / 96  # paper mm: a press that moves less is a click
_NEAR = 8 * 25.4 / 96  # paper mm within which a drag snaps to a part
_WIDE = ("bracket", "block", "fitting")
_ENTRIES = {
    "upper": "mounts.{}.upper_at", "lower": "mounts.{}.drop", "saddle": "mounts.{}.row", "bracket": "mounts.{}.offset",
    "old hole": "old_holes.{}.across", "outline": "transom.height",
    "block": "inside_blocks.{}.stands_out", "fitting": "outside_fittings.{}.stands_out",
}  # fmt: skip


class PointerTool(msgspec.Struct):
    """The state of the pointer tool: the place of a press, the part there, and its drag.

    Attributes:
        pressed: the place on paper of a press; None while there is none. taken: the part there.
        drag: the drag by the pointer. nudge: the drag by arrow keys, which has gone by ``gone`` (u, v) [boat mm].
    """

    pressed: Point | None = None
    taken: Grip | None = None
    drag: Drag | None = None
    nudge: Drag | None = None
    gone: Point = (0.0, 0.0)

    @property
    def busy(self) -> bool:
        """Whether a part is being moved."""
        return self.drag is not None or self.nudge is not None

    def press(self, at: Point, taken: Grip | None) -> None:
        """Press at a place on paper, and take the part there."""
        self.pressed, self.taken = at, taken

    def move(
        self, design: Design, view: Viewport, at: Point, *, free: bool, one_axis: bool, alike: bool | None = None
    ) -> DragResult | None:
        """Drag the part to a place on paper; None where there is no drag (yet)."""
        if self.pressed is None or self.taken is None or self.taken.kind == "dimension":
            return None
        if self.drag is None:
            if math.dist(self.pressed, at) < CLICK:
                return None
            from app.tools.drag import Drag  # this import waits for the first move

            self.drag = Drag(design, self.taken, view.to_boat(self.pressed), alike=alike)
        hold = min(HOLD, _NEAR / view.scale)
        self.drag = self.drag.to(view.to_boat(at), free=free, one_axis=one_axis, hold=hold)
        return self.drag.last

    def let_go(self) -> Drag | None:
        """End the press. Return its drag, None for a click."""
        drag = self.drag
        self.pressed = self.taken = self.drag = None
        return drag

    def push(
        self, design: Design, grip: Grip, way: tuple[int, int], times: int, *, alike: bool | None = None
    ) -> DragResult | None:
        """Move the chosen part by some steps, while an arrow key is held."""
        if self.nudge is None:
            from app.tools.drag import Drag

            self.nudge, self.gone = Drag(design, grip, (0.0, 0.0), alike=alike), (0.0, 0.0)
        by = step(design.units) * times
        if grip.kind == "saddle":
            rows = design.mounts[grip.index].bracket.rows
            by = by if rows is None else rows.pitch
        self.gone = self.gone[0] + way[0] * by, self.gone[1] + way[1] * by
        self.nudge = self.nudge.to(self.gone, hold=0.0)
        return self.nudge.last

    def end_push(self) -> DragResult | None:
        """End the move by arrows. Return it, None where nothing moved."""
        nudge, self.nudge = self.nudge, None
        return None if nudge is None or nudge.last is None or not nudge.last.label else nudge.last

    def lost(self, design: Design) -> bool:
        """Return whether the moved design is no longer the shown one, after undo, another unit or another boat."""
        moved = self.drag or self.nudge
        return moved is not None and moved.last is not None and design != moved.last.design

    def give_up(self) -> None:
        """Cancel all of it."""
        self.pressed = self.taken = self.drag = self.nudge = None


class PickOrder(msgspec.Struct, frozen=True):
    """The parts under one place on paper, to go through one by one.

    Attributes:
        parts: all parts, the one that a press takes first. at: the place. gone: the steps so far, negative for back.
    """

    parts: tuple[Grip, ...]
    at: Point
    gone: int = 0

    @property
    def top(self) -> Grip:
        """The part that a press takes now."""
        return self.parts[self.gone % len(self.parts)]

    def on(self, *, forward: bool) -> PickOrder | None:
        """Return the order with the next part first, or the one before; None after a full round."""
        gone = self.gone + (1 if forward else -1)
        return PickOrder(self.parts, self.at, gone) if abs(gone) <= len(self.parts) > 1 else None

    def holds(self, at: Point) -> bool:
        """Return whether a place is within a click of the first one."""
        return math.dist(self.at, at) < CLICK


def parts_at(
    design: Design, view: Viewport, at: Point, mount: int, chosen: str, figures: Iterable[Mark] = ()
) -> tuple[Grip, ...]:
    """Return the parts under a place on paper, in the order in which a press takes them.

    Handles and holes come first, then a dimension's figure, edges, and wide parts: blocks, fittings, brackets.

    Args:
        figures: marks, of which some are figures of dimensions.
    """
    below = under(design, view, at, mount, chosen)
    key = figure_under(figures, at)
    shown = (Grip("dimension", 0, f"measure:{key}", f"Dimension: {name_of(design, key)}", view.to_boat(at)),) if key else ()
    small = tuple(grip for grip in below if grip.kind not in _WIDE)
    return (*small, *shown, *edges_under(design, view, at), *below[len(small) :])


def part_at(design: Design, view: Viewport, at: Point, mount: int, chosen: str) -> Grip | None:
    """Return the part that a press at a place on paper takes."""
    return next(iter(parts_at(design, view, at, mount, chosen)), None)


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
    if grip.kind == "dimension":
        return grip.part.removeprefix("measure:")
    return grip.entry or _ENTRIES.get(grip.kind, "").format(grip.index)


def mount_of(grip: Grip, mount: int) -> int:
    """Return the motor that a grip belongs to, else ``mount``."""
    return grip.index if grip.kind in ("bracket", "bracket corner", "upper", "lower", "saddle") else mount
