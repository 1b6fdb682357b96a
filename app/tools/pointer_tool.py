"""The bare hand: it presses, drags, lets go, nudges by arrows, and gives up. No Qt, no pixels."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from app.entries.steps import HOLD, step
from app.tools.handles import Grip, edge_grips, edges_under, figure_under, grips, under
from geometry.design.measures import name_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.tools.drag import Drag, DragResult
    from geometry.design.design import Design
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Viewport

CLICK = 4 * 25.4 / 96  # paper mm: a press that moves less is a click
_NEAR = 8 * 25.4 / 96  # paper mm within which a drag holds to something
_WIDE = ("bracket", "block", "fitting")
_ENTRIES = {
    "upper": "mounts.{}.upper_at", "lower": "mounts.{}.drop", "saddle": "mounts.{}.row", "bracket": "mounts.{}.offset",
    "old hole": "old_holes.{}.across", "outline": "transom.height",
    "block": "inside_blocks.{}.stands_out",
}  # fmt: skip


class PointerTool(msgspec.Struct):
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

    def press(self, at: Point, taken: Grip | None) -> None:
        """Press at a place on paper, and take what lies there."""
        self.pressed, self.taken = at, taken

    def move(
        self, design: Design, view: Viewport, at: Point, *, free: bool, one_axis: bool, alike: bool | None = None
    ) -> DragResult | None:
        """Drag what was taken to a place on paper; None where nothing is dragged (yet)."""
        if self.pressed is None or self.taken is None or self.taken.kind == "dimension":
            return None
        if self.drag is None:
            if math.dist(self.pressed, at) < CLICK:
                return None
            from app.tools.drag import Drag  # what moves things comes in when something is first moved

            self.drag = Drag(design, self.taken, view.to_boat(self.pressed), alike=alike)
        hold = min(HOLD, _NEAR / view.scale)
        self.drag = self.drag.to(view.to_boat(at), free=free, one_axis=one_axis, hold=hold)
        return self.drag.last

    def let_go(self) -> Drag | None:
        """End the press; return the drag that it was, None for a click."""
        drag = self.drag
        self.pressed = self.taken = self.drag = None
        return drag

    def push(
        self, design: Design, grip: Grip, way: tuple[int, int], times: int, *, alike: bool | None = None
    ) -> DragResult | None:
        """Move the chosen by some steps, as long as an arrow is held down."""
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
        """End what an arrow moved; None where it moved nothing."""
        nudge, self.nudge = self.nudge, None
        return None if nudge is None or nudge.last is None or not nudge.last.label else nudge.last

    def lost(self, design: Design) -> bool:
        """Tell whether what is moved is not what is shown: undo, another unit or another boat came in between."""
        moved = self.drag or self.nudge
        return moved is not None and moved.last is not None and design != moved.last.design

    def give_up(self) -> None:
        """Drop everything."""
        self.pressed = self.taken = self.drag = self.nudge = None


class PickOrder(msgspec.Struct, frozen=True):
    """What lies on each other under a place on paper, turned over one by one.

    Attributes:
        pile: all of it, what a press took at first in front. at: the place. gone: how many were passed, back is negative.
    """

    pile: tuple[Grip, ...]
    at: Point
    gone: int = 0

    @property
    def top(self) -> Grip:
        """What a press takes now."""
        return self.pile[self.gone % len(self.pile)]

    def on(self, *, forward: bool) -> PickOrder | None:
        """Return it with the next on top, or the one before; None once all have had their turn."""
        gone = self.gone + (1 if forward else -1)
        return PickOrder(self.pile, self.at, gone) if abs(gone) <= len(self.pile) > 1 else None

    def holds(self, at: Point) -> bool:
        """Tell whether a place is still as good as the one where it began."""
        return math.dist(self.at, at) < CLICK


def pile(
    design: Design, view: Viewport, at: Point, mount: int, chosen: str, figures: Iterable[Mark] = ()
) -> tuple[Grip, ...]:
    """Return what lies under a place on paper, in the order in which a press takes it.

    Handles and holes come first, then a dimension's figure, edges, and what is wide: blocks, fittings, brackets.

    Args:
        figures: marks with the figures of dimensions among them.
    """
    found = under(design, view, at, mount, chosen)
    key = figure_under(figures, at)
    shown = (Grip("dimension", 0, f"measure:{key}", f"Dimension: {name_of(design, key)}", view.to_boat(at)),) if key else ()
    small = tuple(grip for grip in found if grip.kind not in _WIDE)
    return (*small, *shown, *edges_under(design, view, at), *found[len(small) :])


def part_at(design: Design, view: Viewport, at: Point, mount: int, chosen: str) -> Grip | None:
    """Return the part that a press at a place on paper takes."""
    return next(iter(pile(design, view, at, mount, chosen)), None)


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
