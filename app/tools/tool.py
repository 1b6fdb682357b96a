"""The protocol of a tool: it takes a place or a key, and returns its new state and an edit of the design. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, Protocol, get_args

import msgspec

if TYPE_CHECKING:
    from geometry.design.design import Design
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Viewport

Name = Literal["outline", "well", "block", "old hole", "fitting", "bracket", "measure"]
NAMES: tuple[Name, ...] = get_args(Name)  # in the order of the strip
Typed = Literal["length", "round"]  # a figure on the chosen part: no tool of the strip
Key = Literal["enter", "escape", "back", "tab", "left", "right", "up", "down"]


class Place(msgspec.Struct, frozen=True):
    """The place of the pointer.

    Attributes:
        at: on the face (u, v) [boat mm]. hold: the distance within which it snaps to a part [boat mm].
        free: whether it does not snap. straight: whether an edge keeps level, plumb or at 45 degrees.
        near: the distance within which it looks as if it were on a part, at any scale [boat mm].
    """

    at: Point
    hold: float = 0.0
    free: bool = False
    straight: bool = False
    near: float = 0.0

    @property
    def reach(self) -> float:
        """The distance within which a line begins, ends or closes on a part [boat mm]."""
        return max(self.hold, self.near)


class Outcome(msgspec.Struct, frozen=True):
    """The result of a press or a key.

    Attributes:
        tool: the tool's new state; None: the tool is dropped.
        label, design: the step that it makes; None for none.
        wanted: key of the measure to type next, "" for none. part: the part that is chosen now, "" for no new one.
    """

    tool: Tool | None
    label: str = ""
    design: Design | None = None
    wanted: str = ""
    part: str = ""


class Tool(Protocol):
    """A tool in hand. Every call returns a new state of it."""

    @property
    def said(self) -> str:
        """The sentence of the foot line: what to do next, or what snaps or stops the tool."""
        ...

    @property
    def note(self) -> str:
        """The text at the pointer: a live figure, or what snaps or stops the tool."""
        ...

    @property
    def busy(self) -> bool:
        """Whether a shape is half drawn."""
        ...

    @property
    def typed(self) -> bool:
        """Whether a figure is being typed."""
        ...

    def move(self, design: Design, place: Place) -> Tool:
        """Follow the pointer."""
        ...

    def press(self, design: Design, place: Place) -> Outcome:
        """Handle a click."""
        ...

    def key(self, design: Design, key: Key) -> Outcome:
        """Handle a key. An arrow moves by one step."""
        ...

    def write(self, text: str) -> Tool:
        """Take a typed character of a length."""
        ...

    def marks(self, design: Design, view: Viewport) -> tuple[Mark, ...]:
        """Return its marks, in pencil."""
        ...
