"""Connects the tool in hand to the face: it converts Qt's events for the tool, and sends the tool's results."""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args

from msgspec.structs import replace
from PySide6.QtCore import QObject, Qt, Signal

from app.entries.steps import HOLD
from app.tools.tool import Place, Typed

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent

    from app.document.view_state import ViewState
    from app.tools.tool import Key, Outcome, Tool
    from geometry.design.design import Design
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.viewport import Viewport

_NEAR = 8 * 25.4 / 96  # paper mm within which a place snaps to a part, or is on it
_KEYS: dict[Qt.Key, Key] = {
    Qt.Key.Key_Return: "enter", Qt.Key.Key_Enter: "enter", Qt.Key.Key_Escape: "escape", Qt.Key.Key_Backspace: "back",
    Qt.Key.Key_Tab: "tab", Qt.Key.Key_Left: "left", Qt.Key.Key_Right: "right", Qt.Key.Key_Up: "up", Qt.Key.Key_Down: "down",
}  # fmt: skip
_BEGIN = frozenset("0123456789.½¼¾⅛⅜⅝⅞")
_GO_ON = _BEGIN | frozenset(",/'\" minc+-")


class ToolController(QObject):
    """Keeps the tool in hand, if there is one.

    Signals:
        committed: (label, design). view_changed: a view state. wanted: key of the reading to type next. said: one sentence.
        changed: what it draws has changed.
    """

    committed = Signal(str, object)
    view_changed = Signal(object)
    wanted = Signal(str)
    said = Signal(str)
    changed = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.tool: Tool | None = None
        self._view_state: ViewState | None = None
        self._design: Design | None = None

    def show(self, design: Design, view_state: ViewState) -> None:
        """Take the tool that the view state names, or drop the tool."""
        before, self._view_state, self._design = self._view_state, view_state, design
        if before is None or _held(view_state) != _held(before):
            self.tool = _taken(design, view_state) if view_state.tool else None
            self.said.emit("" if self.tool is None else self.tool.said)
        elif self.tool is not None:
            from app.tools.corners import sides_alike
            from app.tools.sketch import Sketch

            if isinstance(self.tool, Sketch):
                self.tool = replace(self.tool, alike=sides_alike(design, view_state.tool, view_state.alike))

    @property
    def busy(self) -> bool:
        """Whether a shape is half drawn."""
        return self.tool is not None and self.tool.busy

    def marks(self, view: Viewport) -> tuple[Mark, ...]:
        """Return the marks of the tool."""
        return () if self.tool is None or self._design is None else self.tool.marks(self._design, view)

    @property
    def note(self) -> str:
        """The tool's text at the pointer."""
        return "" if self.tool is None else self.tool.note

    def move(self, view: Viewport, at: Point, keys: Qt.KeyboardModifier) -> None:
        """Follow the pointer."""
        if self.tool is not None and self._design is not None:
            self.tool = self.tool.move(self._design, _place(view, at, keys))
            self._report()

    def press(self, view: Viewport, at: Point, keys: Qt.KeyboardModifier) -> None:
        """Pass a click to the tool."""
        if self.tool is not None and self._design is not None:
            self._take(self.tool.press(self._design, _place(view, at, keys)))

    def key(self, event: QKeyEvent) -> bool:
        """Pass a key to the tool, and return whether the tool used it. On a chosen edge a digit starts a length."""
        view_state = self._view_state
        if self.tool is None and view_state is not None and " edge " in view_state.chosen and event.text() in _BEGIN:
            self.view_changed.emit(replace(view_state, tool="length"))
        if self.tool is None or self._design is None:
            return False
        known = _KEYS.get(Qt.Key(event.key()))
        if known is not None:
            far = event.modifiers() & Qt.KeyboardModifier.ShiftModifier and known in ("left", "right", "up", "down")
            times = 10 if far else 1
            for _ in range(times):
                if self.tool is not None:
                    self._take(self.tool.key(self._design, known))
            return True
        text = event.text()
        plain = not event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if plain and text in (_GO_ON if self.tool.typed else _BEGIN):
            self.tool = self.tool.write(text)
            self._report()
            return True
        return False

    def _report(self) -> None:
        if self.tool is not None:
            self.said.emit(self.tool.said)
        self.changed.emit()

    def _take(self, outcome: Outcome) -> None:
        self.tool = outcome.tool
        if outcome.design is not None:
            self.committed.emit(outcome.label, outcome.design)
        if outcome.tool is None and self._view_state is not None:
            self.view_changed.emit(replace(self._view_state, tool="", chosen=outcome.part or self._view_state.chosen))
        if outcome.wanted:
            self.wanted.emit(outcome.wanted)
        self._report()


def _taken(design: Design, view_state: ViewState) -> Tool | None:
    from app.tools.corners import sides_alike
    from app.tools.tool_box import taken  # imported with the first tool

    alike = view_state.alike
    if view_state.tool in ("outline", "well"):
        alike = sides_alike(design, view_state.tool, alike)
    return taken(view_state.tool, view_state.mount, view_state.chosen, alike=alike)


def _held(view_state: ViewState) -> tuple[str, int, str]:
    """Return the values that decide which tool is in hand."""
    return view_state.tool, view_state.mount, view_state.chosen if view_state.tool in get_args(Typed) else ""


def _place(view: Viewport, at: Point, keys: Qt.KeyboardModifier) -> Place:
    return Place(
        view.to_boat(at),
        min(HOLD, _NEAR / view.scale),
        bool(keys & Qt.KeyboardModifier.AltModifier),
        bool(keys & Qt.KeyboardModifier.ShiftModifier),
        _NEAR / view.scale,
    )
