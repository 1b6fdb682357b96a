"""The tool for a typed figure: the length of a chosen edge, or the radius of a chosen corner. No Qt, no pixels."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec.structs import replace

from app.tools import sketch_marks as pencil
from app.tools.corners import shape_of, together
from app.tools.drag import measured_words, why_not
from app.tools.drawing_frames import OUTER, inner_frame
from app.tools.handles import edge_grips, grips
from app.tools.tool import Key, Outcome, Place
from geometry.design.validity import NonsenseError, known
from geometry.edits.edits import Shape
from geometry.edits.moving_by_hand import MeasuredError, fixed_key, with_typed_length
from geometry.edits.sketching import round_corner, set_edge_length
from geometry.errors import OwnerError
from geometry.units.units import format_length, parse_length

if TYPE_CHECKING:
    from app.tools.handles import Grip
    from geometry.design.design import Design
    from geometry.edits.sketching import Ring
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Viewport

Kind = Literal["length", "round"]
_BEGIN: dict[Kind, str] = {
    "length": "Type the edge’s length. Enter sets it.", "round": "Type the corner’s radius. Enter rounds it.",
}  # fmt: skip
_AWAY = 6.0  # paper mm from a corner to its figure


class TypedFigure(msgspec.Struct, frozen=True):
    """A figure that is typed on a chosen edge or corner.

    Attributes:
        kind: the kind of figure. chosen: the edge or the corner, by the name of its marks.
        alike: whether the other side changes too; None: where both sides are alike.
        text: the typed text. trouble: why it is impossible; "" where it is possible.
    """

    kind: Kind
    chosen: str
    alike: bool | None = None
    text: str = ""
    trouble: str = ""

    @property
    def said(self) -> str:
        """The sentence of the foot line: what to do next, or why the figure is impossible."""
        return self.trouble or _BEGIN[self.kind]

    @property
    def note(self) -> str:
        """The text at the pointer: why the figure is impossible, else nothing."""
        return self.trouble or ("" if self.text else _BEGIN[self.kind])

    @property
    def busy(self) -> bool:
        """Whether a figure is being typed."""
        return bool(self.text)

    @property
    def typed(self) -> bool:
        """Whether a figure is being typed: always."""
        return True

    def move(self, _design: Design, _place: Place) -> TypedFigure:
        """Ignore the pointer."""
        return self

    def press(self, _design: Design, _place: Place) -> Outcome:
        """Drop the figure on a press elsewhere."""
        return Outcome(None)

    def key(self, design: Design, key: Key) -> Outcome:
        """Set the figure with Enter, delete a character with Backspace, drop the figure with Escape."""
        match key:
            case "enter" if self.text:
                return self._set(design)
            case "back" if self.text:
                return Outcome(replace(self, text=self.text[:-1], trouble=""))
            case "enter" | "back" | "escape":
                return Outcome(None)
            case _:
                return Outcome(self)

    def write(self, text: str) -> TypedFigure:
        """Take a typed character."""
        return replace(self, text=self.text + text, trouble="")

    def made(self, design: Design) -> Design | None:
        """Return the design with the figure, None where the shape no longer exists.

        Raises:
            OwnerError: the figure is no length, or no boat can have it.
        """
        grip, ring = self._grip(design), shape_of(self.chosen)
        if grip is None or ring is None:
            return None
        size = parse_length(self.text, design.units)
        alike = together(design, ring, self.alike)
        if self.kind == "round":
            return round_corner(design, ring, grip.index, size, alike=alike)
        changed = set_edge_length(design, ring, grip.index, size, alike=alike)
        return with_typed_length(design, changed, grip.thing, size, self.text.strip())

    def _set(self, design: Design) -> Outcome:
        grip = self._grip(design)
        if grip is None:
            return Outcome(None)
        try:
            changed = self.made(design)
            size = format_length(parse_length(self.text, design.units), design.units)
        except MeasuredError as measured:
            return Outcome(replace(self, trouble=measured_words(design, grip, measured.key)))
        except NonsenseError as sentence:
            return Outcome(replace(self, trouble=f"{why_not(grip, sentence, 0.0).rstrip('.')}. It stays as it was."))
        except OwnerError as sentence:
            return Outcome(replace(self, trouble=str(sentence)))
        if self.kind == "length":
            return Outcome(None, f"{grip.name} to {size}", changed, "", self.chosen)
        lost = changed is not None and bool(fixed_key(design, grip.thing)) and not fixed_key(changed, grip.thing)
        more = ", and its line is a guess now" if lost else ""
        return Outcome(None, f"{grip.name} rounded by {size}{more}", changed)

    def _grip(self, design: Design) -> Grip | None:
        every = edge_grips(design) if " edge " in self.chosen else grips(design, 0)
        return next((grip for grip in every if grip.part == self.chosen), None)

    def marks(self, design: Design, view: Viewport) -> tuple[Mark, ...]:
        """Return the figure at its edge or corner, and faintly the new shape."""
        grip, ring = self._grip(design), shape_of(self.chosen)
        if grip is None or ring is None:
            return ()
        corners = _places(design, ring, view)
        if not corners:
            return ()
        at, after = corners[grip.index], corners[(grip.index + 1) % len(corners)]
        try:
            there = self.made(design)
        except OwnerError:
            there = None
        ghost = () if there is None else _places(there, ring, view)
        drawn = pencil.line((*ghost, *(ghost[:1] if ring == "transom.outline" else ())), pencil.FAINT)
        if self.kind == "round":
            place = at[0] + _AWAY, at[1] + _AWAY
            return (*drawn, *pencil.figure(place, place, f"{self.text}|", typed=True))
        own = _corners(design, ring)
        long = math.dist(own[grip.index], own[(grip.index + 1) % len(own)])
        figure = f"{self.text}|" if self.text else format_length(long, design.units)
        return (*drawn, *pencil.line((at, after)), *pencil.figure(at, after, figure, typed=True))


def _places(design: Design, ring: Ring, view: Viewport) -> tuple[Point, ...]:
    """Return a shape's corners on paper; none where a value that relates the inside to the face is not measured."""
    try:
        frame = OUTER if ring == "transom.outline" else inner_frame(design)
    except OwnerError:
        return ()
    return tuple(view.to_paper(frame.face(at)) for at in _corners(design, ring))


def _corners(design: Design, ring: Ring) -> list[Point]:
    return known(Shape(ring).corners(design)) or []
