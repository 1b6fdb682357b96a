"""The shortcuts: those of the menus come from the menus' entries; this module lists all others."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

import msgspec
from PySide6.QtGui import QKeySequence

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable


class MenuLine(Protocol):
    """A line of a menu, as the manual reads it."""

    @property
    def menu(self) -> str:
        """Return the menu that holds it."""

    @property
    def title(self) -> Callable[[], str]:
        """Return the function that gives its words."""

    @property
    def key(self) -> QKeySequence.StandardKey | str | None:
        """Return its shortcut."""


class Shortcut(msgspec.Struct, frozen=True):
    """The keys to press, and their effect."""

    keys: str
    does: str


class Group(msgspec.Struct, frozen=True):
    """Shortcuts of one place."""

    title: str
    shortcuts: tuple[Shortcut, ...]


HAND = (
    Group("On the drawing", (
        Shortcut("Tab", "Go to the next part, in the order of the card; Shift+Tab goes back"),
        Shortcut("Tab while pointing", "Go through the parts under the pointer; a press takes the lit one"),
        Shortcut("Arrows", "Move the chosen part by one snap step"),
        Shortcut("Shift+Arrows", "Move it by ten"),
        Shortcut("Enter", "Go to the entry of the chosen part"),
        Shortcut("Delete", "Remove the chosen corner"),
        Shortcut("Figures", "The length of the chosen edge"),
        Shortcut("Esc", "Stop the drag, or choose nothing"),
        Shortcut("+", "Zoom in"),
        Shortcut("-", "Zoom out"),
        Shortcut("Home", "Zoom to the work"),
        Shortcut("Shift+Home", "Show the whole transom"),
        Shortcut("Space+drag", "Push the sheet; the middle button does the same"),
        Shortcut("Alt+drag", "Drag without snapping"),
        Shortcut("Shift+drag", "Keep to one direction"),
    )),
    Group("With a tool", (
        Shortcut("Figures", "The length of the edge that is being drawn"),
        Shortcut("Tab", "Change from its length to its slope"),
        Shortcut("Enter", "Set the corner; with no figure, close the shape"),
        Shortcut("Backspace", "Delete a figure, then the last corner"),
        Shortcut("Esc", "Drop the figure, then the edge, then the tool"),
        Shortcut("Shift", "Keep the edge level, plumb or at 45°"),
    )),
    Group("In an entry", (
        Shortcut("Enter", "Take what is typed, and go to the next entry"),
        Shortcut("Esc", "Go back to the last value"),
        Shortcut("Up", "One snap step more"),
        Shortcut("Down", "One snap step less"),
    )),
    Group("In this manual", (
        Shortcut("Esc", "Back to the work"),
        Shortcut("Ctrl+F", "Find a word"),
        Shortcut("Alt+Left", "Back to the page before"),
        Shortcut("PgDown", "On by a screen; PgUp back"),
    )),
)  # fmt: skip
"""Keys that no menu holds."""


def from_menus(lines: Iterable[MenuLine]) -> tuple[Group, ...]:
    """Return the shortcuts of the menus, a group for each menu that has any."""
    groups: dict[str, list[Shortcut]] = {}
    for line in lines:
        keys = key_words(line)
        if keys:
            does = line.title().partition(": ")[0].replace("&", "").rstrip("…")  # "Undo: Drop to 8 in" is undo
            groups.setdefault(line.menu.replace("&", ""), []).append(Shortcut(keys, does))
    return tuple(Group(menu, tuple(shortcuts)) for menu, shortcuts in groups.items())


def key_words(line: MenuLine) -> str:
    """Return a line's first key as this system writes it, "" for none."""
    if line.key is None:
        return ""
    if isinstance(line.key, str):
        return QKeySequence(line.key).toString(QKeySequence.SequenceFormat.NativeText)
    bound = QKeySequence.keyBindings(line.key)
    return bound[0].toString(QKeySequence.SequenceFormat.NativeText) if bound else ""


def as_text(groups: Iterable[Group]) -> str:
    """Return shortcuts in Markdown: a table under each group's name."""
    made: list[str] = []
    for group in groups:
        made += [f"### {group.title}", "", "| Keys | |", "| --- | --- |"]
        made += [f"| **{shortcut.keys}** | {shortcut.does} |" for shortcut in group.shortcuts]
        made.append("")
    return "\n".join(made)
