"""The tool that draws a shape: the person clicks corners, or types the length of the next edge. No Qt, no pixels.

Corners are in the shape's frame. With both sides alike the person draws one half, and closing adds the other.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec.structs import replace

from app.entries.refusals import plain_refusal
from app.entries.steps import step
from app.tools import sketch_marks as pencil
from app.tools.drawing_frames import OUTER, Frame, inner_frame, snapped_place
from app.tools.tool import Key, Outcome, Place
from geometry.edits.additions import add_block, add_fitting
from geometry.edits.sketching import Point, draw_outline, draw_well, drawn_line, mirrored
from geometry.errors import OwnerError
from geometry.units.units import format_angle, format_length, parse_angle, parse_length

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.edits.typed_lengths import Entered
    from templates_out.drawing.marks import Mark
    from templates_out.views.viewport import Viewport

Kind = Literal["outline", "well", "block", "fitting"]
_ARROWS: dict[str, Point] = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, 1.0), "down": (0.0, -1.0)}
_BEGIN = {
    "outline": "Click the transom’s top corner at port, then corner by corner round it.",
    "well": "Click the well’s top corner at port, then down, across the floor and up.",
    "block": "Click the block’s corners.",
    "fitting": "Click the fitting’s corners.",
}
_ON = "Click the next corner, or type the edge’s length. Enter closes."
_LABELS = {"outline": "Outline drawn", "well": "Well drawn", "block": "Block added", "fitting": "Fitting added"}
_STAYS = "It stays where it was."


class Sketch(msgspec.Struct, frozen=True):
    """A half-drawn shape.

    Attributes:
        kind: the kind of shape. alike: whether a half is enough.
        corners: the corners so far (shape's frame) [mm]. entered: how each of them was set.
        pointer: the place of the next corner, None without a next edge.
        length, slope: the typed figures. sloping: whether figures go to the slope.
        said: what to do next, or what snaps or stops the pointer.
    """

    kind: Kind
    alike: bool = True
    corners: tuple[Point, ...] = ()
    entered: tuple[Entered, ...] = ()
    pointer: Point | None = None
    length: str = ""
    slope: str = ""
    sloping: bool = False
    said: str = ""

    @property
    def note(self) -> str:
        """The text at the pointer: what snaps or stops it. The foot line says what to do next."""
        return "" if self.typed or self.said in (_ON, _BEGIN[self.kind]) else self.said

    @property
    def busy(self) -> bool:
        """Whether a shape is half drawn."""
        return bool(self.corners or self.length or self.slope)

    @property
    def typed(self) -> bool:
        """Whether a figure is being typed."""
        return bool(self.length or self.slope)

    # The pointer

    def move(self, design: Design, place: Place) -> Sketch:
        """Draw the next edge to a place. Where no shape can have that edge, it stops at the last possible place."""
        try:
            frame = self._frame(design)
        except OwnerError as sentence:
            return replace(self, said=str(sentence))
        at = frame.own(place.at)
        if self.corners and place.straight:
            at, said = self._straight(at, design, free=place.free)
        else:
            at, said = snapped_place(at, design.units, place.reach, free=place.free)
        if self._closes(at, place.reach):
            return replace(self, pointer=self.corners[0], said="on the first corner: click to close")
        if self.typed:  # then the pointer gives only the direction
            return replace(self, pointer=at, said=self._typed_words())
        return self._to(at, said or self._next())

    def press(self, design: Design, place: Place) -> Outcome:
        """Set a corner. On the first corner, close the shape."""
        moved = self.move(design, place)
        if moved.pointer is None:
            return Outcome(moved)
        if moved.typed:
            return moved.key(design, "enter")
        if self.corners and moved.pointer == self.corners[0] and len(self.corners) > 2:
            return moved._close(design)
        return Outcome(moved._set(moved.pointer))

    # Keys

    def key(self, design: Design, key: Key) -> Outcome:
        """Set or close with Enter, take back with Backspace and Escape, change to the slope with Tab, move with arrows."""
        match key:
            case "enter":
                return self._enter(design)
            case "back":
                return Outcome(self._back())
            case "escape":
                return Outcome(self._escape())
            case "tab":
                return Outcome(replace(self, sloping=not self.sloping) if self.corners else self)
            case _:
                return Outcome(self._arrow(design, _ARROWS[key]))

    def write(self, text: str) -> Sketch:
        """Take a typed character of the length or the slope."""
        if not self.corners:
            return replace(self, said="Set the first corner, then type the first edge’s length.")
        name = "slope" if self.sloping else "length"
        now = replace(self, **{name: getattr(self, name) + text})
        return replace(now, said=now._typed_words())

    def _enter(self, design: Design) -> Outcome:
        if not self.corners:
            return Outcome(self if self.pointer is None else self._set(self.pointer))
        if not self.typed:
            return self._close(design)
        try:
            at = self.target(design)
        except OwnerError as sentence:
            return Outcome(replace(self, said=str(sentence)))
        if at is None:
            return Outcome(replace(self, said="Give the direction first. Move the pointer, or press an arrow."))
        there = self._to(at, self._next())
        return Outcome(there if there.pointer != at else there._set(at))

    def target(self, design: Design) -> Point | None:
        """Return the place that the typed figures give; None while there is no direction.

        Raises:
            OwnerError: the figures are no length or no angle.
        """
        if not self.corners or self.pointer is None:
            return self.pointer
        start = self.corners[-1]
        dx, dy = self.pointer[0] - start[0], self.pointer[1] - start[1]
        far = math.hypot(dx, dy)
        if far == 0:
            return None
        length = abs(parse_length(self.length, design.units)) if self.length else far
        if self.slope:
            lean = math.radians(abs(parse_angle(self.slope)))
            dx, dy, far = math.copysign(math.cos(lean), dx), math.copysign(math.sin(lean), dy), 1.0
        return start[0] + dx / far * length, start[1] + dy / far * length

    def _back(self) -> Sketch:
        name = "slope" if self.sloping and self.slope else "length"
        if getattr(self, name):
            now = replace(self, **{name: getattr(self, name)[:-1]})
            return replace(now, said=now._typed_words() if now.typed else now._next())
        if self.slope:
            return replace(self, slope=self.slope[:-1])
        now = replace(self, corners=self.corners[:-1], entered=self.entered[:-1])
        return replace(now, said=now._next())

    def _escape(self) -> Sketch | None:
        if self.typed:
            return replace(self, length="", slope="", sloping=False, said=self._next())
        if self.corners and self.pointer is not None:
            return replace(self, pointer=None, said="The edge is dropped. Click to draw on from the last corner.")
        return None

    def _arrow(self, design: Design, way: Point) -> Sketch:
        if self.corners and self.typed:
            start = self.corners[-1]
            return replace(self, pointer=(start[0] + way[0], start[1] + way[1]))
        at = self.pointer or (self.corners[-1] if self.corners else (0.0, 0.0))
        by = step(design.units)
        return self._to((at[0] + way[0] * by, at[1] + way[1] * by), self._next())

    # Inside

    def _frame(self, design: Design) -> Frame:
        return inner_frame(design) if self.kind in ("well", "block") else OUTER

    def _next(self) -> str:
        return _ON if self.corners else _BEGIN[self.kind]

    def _to(self, at: Point, said: str) -> Sketch:
        """Return the sketch with its edge drawn to ``at``, if that is possible."""
        try:
            self._allow(at)
        except OwnerError as sentence:
            return replace(self, said=f"{sentence}. {_STAYS}")
        return replace(self, pointer=at, said=said)

    def _allow(self, at: Point) -> None:
        corners = (*self.corners, at)
        if self.corners and at != self.corners[-1]:
            drawn_line(corners)
        if self.kind == "well" and len(self.corners) > 1:
            first = next((b[0] - a[0] for a, b in zip(corners, corners[1:], strict=False) if abs(b[0] - a[0]) > 1e-6), 0.0)
            if (at[0] - self.corners[-1][0]) * first < 0:
                raise OwnerError(f"That corner would cross the {'port' if first > 0 else 'starboard'} wall")

    def _closes(self, at: Point, hold: float) -> bool:
        return len(self.corners) > 2 and self.kind != "well" and math.dist(at, self.corners[0]) < max(hold, 1e-6)

    def _set(self, at: Point) -> Sketch:
        if self.corners and at == self.corners[-1]:
            return self
        way: Entered = "clicked" if not self.length else "length and slope" if self.slope else "length"
        entered = (*self.entered, way)
        return replace(
            self, corners=(*self.corners, at), entered=entered, pointer=at, length="", slope="", sloping=False, said=_ON
        )

    def _straight(self, at: Point, design: Design, *, free: bool) -> tuple[Point, str]:
        """Return the place nearest to ``at`` that is level, plumb or at 45 degrees from the last corner."""
        u, y = self.corners[-1]
        du, dy = at[0] - u, at[1] - y
        turn = round(math.degrees(math.atan2(dy, du)) / 45.0) % 8
        by = max(abs(du), abs(dy))
        by = by if free else round(by / step(design.units)) * step(design.units)
        way = ((1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1))[turn]
        return (u + way[0] * by, y + way[1] * by), ("level", "at 45°", "plumb", "at 45°")[turn % 4]

    def whole(self) -> tuple[Point, ...]:
        """Return the corners of the closed shape. A half on one side gets its other half."""
        sides = {math.copysign(1.0, u) for u, _ in self.corners if abs(u) > 1e-6}
        if self.alike and self.kind in ("outline", "well") and len(sides) == 1:
            return mirrored(self.corners)
        return self.corners

    def _close(self, design: Design) -> Outcome:
        try:
            changed = self._drawn(design)
        except OwnerError as sentence:
            return Outcome(replace(self, said=f"{plain_refusal(sentence).rstrip('.')}. Draw on, or delete the last corner."))
        added = {"block": len(design.inside_blocks), "fitting": len(design.outside_fittings)}.get(self.kind)
        part = "" if added is None else f"{self.kind} {added}"
        wanted = f"inside_blocks.{added}.stands_out" if self.kind == "block" else ""  # a drawing of the face does not show it
        return Outcome(None, _LABELS[self.kind], changed, wanted, part)

    def _drawn(self, design: Design) -> Design:
        """Return the design with the shape. Typed values of an outline or a well are measured, all others are guesses."""
        match self.kind:
            case "outline":
                return draw_outline(design, self.whole(), self.entered)
            case "well":
                return draw_well(design, self.whole(), self.entered)
            case "block":
                return add_block(design, self.whole())
            case "fitting":
                return add_fitting(design, self.whole())

    def _typed_words(self) -> str:
        words = [f"length {self.length}" if self.length else "", f"slope {self.slope}°" if self.slope else ""]
        return f"{', '.join(word for word in words if word)}. Enter sets the corner. Tab changes to the slope."

    # Drawing

    def marks(self, design: Design, view: Viewport) -> tuple[Mark, ...]:
        """Return the line so far, the next edge with its figure, and faintly the part that closing adds."""
        try:
            frame = self._frame(design)
        except OwnerError:
            return ()

        def place(at: Point) -> Point:
            return view.to_paper(frame.face(at))

        set_ = tuple(place(at) for at in self.corners)
        if self.pointer is None:
            return (*pencil.line(set_), *pencil.dots(set_))
        if not self.corners:
            return pencil.dots((place(self.pointer),))
        try:
            end = self.target(design) or self.pointer
        except OwnerError:
            end = self.pointer
        ghost = replace(self, corners=(*self.corners, end)).whole()[len(self.corners) :]
        drawn = self.typed or end != self.corners[-1]
        return (
            *pencil.line(tuple(place(at) for at in ghost), pencil.FAINT),
            *pencil.line((*set_, place(end))),
            *pencil.dots((*set_, place(end))),
            *(pencil.figure(set_[-1], place(end), self._figure(design, end), typed=self.typed) if drawn else ()),
        )

    def _figure(self, design: Design, end: Point) -> str:
        start = self.corners[-1]
        rise = math.degrees(math.atan2(abs(end[1] - start[1]), abs(end[0] - start[0])))
        length = self.length or format_length(math.dist(start, end), design.units)
        slope = f"{self.slope}°" if self.slope else format_angle(rise)
        if self.sloping:
            return f"{length}, {self.slope}|°"
        return f"{length}|" if self.length else f"{length}, {slope}"
