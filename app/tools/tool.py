"""What every tool is: it takes a place or a key, and says what it has become and what it does to the design. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, Protocol, get_args

import msgspec

if TYPE_CHECKING:
    from geometry.design.design import Design
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Viewport

Name = Literal["outline", "well", "block", "old hole", "fitting", "bracket", "measure"]
NAMES: tuple[Name, ...] = get_args(Name)  # in the order of the strip
Typed = Literal["length", "round"]  # a figure on what is chosen: no tool of the strip
Key = Literal["enter", "escape", "back", "tab", "left", "right", "up", "down"]


class Place(msgspec.Struct, frozen=True):
    """Where the pointer is.

    Attributes:
        at: on the face (u, v) [boat mm]. hold: within how much what is placed holds to something [boat mm].
        free: neither snaps nor holds. straight: keeps level, plumb or at 45 degrees.
        near: within how much the eye takes it to be on something, however small the drawing [boat mm].
    """

    at: Point
    hold: float = 0.0
    free: bool = False
    straight: bool = False
    near: float = 0.0

    @property
    def reach(self) -> float:
        """Within how much a line begins, ends or closes on something [boat mm]."""
        return max(self.hold, self.near)


class Outcome(msgspec.Struct, frozen=True):
    """What comes of a press or a key.

    Attributes:
        tool: the tool as it is now; None: it is put down.
        label, design: the step that it makes; None for none.
        wanted: key of the measure to type next, "" for none. part: what is chosen now, "" for nothing new.
    """

    tool: Tool | None
    label: str = ""
    design: Design | None = None
    wanted: str = ""
    part: str = ""


class Tool(Protocol):
    """A tool in hand; every call gives a new one."""

    @property
    def said(self) -> str:
        """What to do next, or what holds or stops it."""
        ...

    @property
    def note(self) -> str:
        """What stands at the pointer: a live figure, or what holds or stops it."""
        ...

    @property
    def busy(self) -> bool:
        """Whether something is drawn that is not finished yet."""
        ...

    @property
    def typed(self) -> bool:
        """Whether a figure is being typed."""
        ...

    def move(self, design: Design, place: Place) -> Tool:
        """Follow the pointer."""
        ...

    def press(self, design: Design, place: Place) -> Outcome:
        """Do what a click does."""
        ...

    def key(self, design: Design, key: Key) -> Outcome:
        """Do what a key does; an arrow moves by one step."""
        ...

    def write(self, text: str) -> Tool:
        """Take a character of a length."""
        ...

    def marks(self, design: Design, view: Viewport) -> tuple[Mark, ...]:
        """Return what is drawn of it, in pencil."""
        ...
