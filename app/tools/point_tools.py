"""Tools that need one place or two: the old hole, the bracket of the motor in hand, and the tape."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from app.entries.steps import step
from app.tools import sketch_marks as pencil
from app.tools.drag import moved_by, why_not
from app.tools.drawing_frames import snapped_place
from app.tools.handles import CORNERS, Grip, grips
from app.tools.tool import Key, Outcome, Place
from geometry.edits.additions import USUAL_HOLE, add_old_hole
from geometry.errors import OwnerError
from geometry.solid.bracket_holes import bracket_ring
from geometry.units.units import format_length
from templates_out.drawing.marks import Circle
from templates_out.views.viewport import known_points

if TYPE_CHECKING:
    from geometry.design.design import Design
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Viewport

_TAPED = (*CORNERS, "upper", "lower", "old hole")
_ARROWS: dict[str, Point] = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, 1.0), "down": (0.0, -1.0)}


def stepped(design: Design, at: Point | None, key: Key) -> Point:
    """Return the place one arrow step from ``at``, or from the datum where there is no place yet."""
    (u, v), way, by = at or (0.0, 0.0), _ARROWS[key], step(design.units)
    return u + way[0] * by, v + way[1] * by


class _OneClick(msgspec.Struct, frozen=True):
    """A tool that needs one click."""

    @property
    def busy(self) -> bool:
        """Whether it is half done: never."""
        return False

    @property
    def typed(self) -> bool:
        """Whether a figure is being typed: never, since the card takes figures."""
        return False


class HoleTool(_OneClick, frozen=True):
    """Puts an old hole where the person clicks. The card then asks for its two readings."""

    at: Point | None = None
    said: str = "Click where the old hole is. Then type its two readings."

    @property
    def note(self) -> str:
        """The text at the pointer: where the hole would be."""
        return "" if self.at is None else self.said

    def move(self, design: Design, place: Place) -> HoleTool:
        """Follow the pointer."""
        at, said = snapped_place(place.at, design.units, place.hold, free=place.free)
        return replace(self, at=at, said=said or _across_down(design, at))

    def press(self, design: Design, place: Place) -> Outcome:
        """Put the hole there."""
        return self.move(design, place).key(design, "enter")

    def key(self, design: Design, key: Key) -> Outcome:
        """Move with arrows, put the hole there with Enter, drop the tool with Escape."""
        if key in _ARROWS:
            at = stepped(design, self.at, key)
            return Outcome(replace(self, at=at, said=_across_down(design, at)))
        if key == "escape":
            return Outcome(None)
        if key != "enter" or self.at is None:
            return Outcome(self)
        number = len(design.old_holes)
        changed = add_old_hole(design, self.at)
        return Outcome(None, "Old hole added", changed, f"old_holes.{number}.across", f"old hole {number}")

    def write(self, _text: str) -> HoleTool:
        """Take no figure before the hole is there."""
        return replace(self, said="Click first. Then type the readings.")

    def marks(self, _design: Design, view: Viewport) -> tuple[Mark, ...]:
        """Return the hole in pencil."""
        if self.at is None:
            return ()
        return (Circle(view.to_paper(self.at), USUAL_HOLE / 2 * view.scale, pencil.PENCIL, None, "pencil"),)


class BracketTool(_OneClick, frozen=True):
    """Hangs the bracket of the motor in hand, with the middle of its upper holes where the person clicks."""

    mount: int
    at: Point | None = None
    moved: Design | None = None
    label: str = ""
    said: str = "Click the place for the middle of the upper holes."

    @property
    def note(self) -> str:
        """The text at the pointer: how the bracket would hang."""
        return self.said if self.said != BracketTool(0).said else ""

    def move(self, design: Design, place: Place) -> BracketTool:
        """Follow the pointer. The bracket snaps to the centreline, and stops where no boat can have it."""
        if self.mount >= len(design.mounts):
            return replace(self, said="Hang a motor first. Choose its bracket on the card.")
        mount = design.mounts[self.mount]
        if mount.upper_at is None or mount.offset is None:
            return replace(self, said="Type the upper holes’ depth and offset once. Then you can move the bracket here.")
        grip = Grip("bracket", self.mount, f"bracket:{self.mount}", "Bracket", (mount.offset, mount.upper_at))
        du, dv = place.at[0] - mount.offset, place.at[1] - mount.upper_at
        try:
            result = moved_by(design, grip, du, dv, free=place.free, hold=place.hold)
        except OwnerError as sentence:
            return replace(self, said=f"{why_not(grip, sentence, du, dv)}. It stayed where it was.")
        said = " · ".join(word for word in (result.figure, result.said) if word)
        return replace(self, at=place.at, moved=result.design, label=result.label, said=said)

    def press(self, design: Design, place: Place) -> Outcome:
        """Hang it there."""
        return self.move(design, place).key(design, "enter")

    def key(self, design: Design, key: Key) -> Outcome:
        """Move with arrows, hang it there with Enter, drop the tool with Escape."""
        if key in _ARROWS:
            mount = design.mounts[self.mount] if self.mount < len(design.mounts) else None
            start = self.at or (None if mount is None else (mount.offset or 0.0, mount.upper_at or 0.0))
            return Outcome(self.move(design, Place(stepped(design, start, key))))
        if key == "escape":
            return Outcome(None)
        if key != "enter" or self.moved is None:
            return Outcome(self)
        return Outcome(None, self.label, self.moved, "", f"bracket:{self.mount}")

    def write(self, _text: str) -> BracketTool:
        """Take no figure: the card's entries do."""
        return replace(self, said="Type the upper holes’ depth and offset on the card.")

    def marks(self, _design: Design, view: Viewport) -> tuple[Mark, ...]:
        """Return the bracket where it would hang."""
        if self.moved is None:
            return ()
        mount = self.moved.mounts[self.mount]
        ring = known_points(partial(bracket_ring, mount, self.mount))
        return pencil.line(tuple(view.to_paper(at) for at in (*ring, *ring[:1])), pencil.FAINT)


class Tape(msgspec.Struct, frozen=True):
    """A tape between two places on the face. It measures and changes nothing."""

    mount: int
    start: Point | None = None
    end: Point | None = None
    laid: bool = False
    said: str = "Click one end, then the other. The tape snaps to holes and corners."

    @property
    def note(self) -> str:
        """The text at the pointer: the tape's reading."""
        return self.said if self.start is not None else ""

    @property
    def busy(self) -> bool:
        """Whether one end is set."""
        return self.start is not None

    @property
    def typed(self) -> bool:
        """Whether a figure is being typed: never."""
        return False

    def move(self, design: Design, place: Place) -> Tape:
        """Follow the pointer, and snap to holes and corners."""
        if self.laid:
            return self
        at, said = self._held(design, place)
        words = said if self.start is None else " · ".join(word for word in (self.words(design, at), said) if word)
        return replace(self, end=at, said=words or self.said)

    def press(self, design: Design, place: Place) -> Outcome:
        """Set an end. A third click starts another tape."""
        fresh = Tape(self.mount) if self.laid else self
        return fresh.move(design, place).key(design, "enter")

    def key(self, design: Design, key: Key) -> Outcome:
        """Set an end with Enter. Escape removes the tape, then drops the tool."""
        if key in _ARROWS and not self.laid:
            return Outcome(self.move(design, Place(stepped(design, self.end, key), free=True)))
        if key in ("escape", "back"):
            return Outcome(Tape(self.mount) if self.start is not None else None)
        if key != "enter" or self.end is None or self.laid:
            return Outcome(self)
        if self.start is None:
            return Outcome(replace(self, start=self.end))
        return Outcome(replace(self, laid=True))

    def write(self, _text: str) -> Tape:
        """Take no figure."""
        return self

    def words(self, design: Design, end: Point) -> str:
        """Return the tape's reading: straight, across, and up or down."""
        if self.start is None:
            return ""
        straight, across, down = (
            format_length(mm, design.units)
            for mm in (math.dist(self.start, end), abs(end[0] - self.start[0]), abs(end[1] - self.start[1]))
        )
        return f"{straight} straight: {across} across, {down} up or down"

    def marks(self, design: Design, view: Viewport) -> tuple[Mark, ...]:
        """Return the tape with its figure."""
        if self.end is None:
            return ()
        end = view.to_paper(self.end)
        if self.start is None:
            return pencil.dots((end,))
        start = view.to_paper(self.start)
        reading = format_length(math.dist(self.start, self.end), design.units)
        return (*pencil.line((start, end)), *pencil.dots((start, end)), *pencil.figure(start, end, reading, typed=True))

    def _held(self, design: Design, place: Place) -> tuple[Point, str]:
        if not place.free:
            near = [grip for grip in grips(design, self.mount) if grip.kind in _TAPED]
            best = min(near, key=lambda grip: math.dist(grip.at, place.at), default=None)
            if best is not None and math.dist(best.at, place.at) <= place.reach:
                return best.at, f"on {best.name[0].lower()}{best.name[1:]}"
        return snapped_place(place.at, design.units, place.hold, free=place.free)


def _across_down(design: Design, at: Point) -> str:
    side = "port" if at[0] < 0 else "starboard"
    across = f"{format_length(abs(at[0]), design.units)} to {side}" if at[0] else "on the centreline"
    return f"{across}, {format_length(-at[1], design.units)} down"
