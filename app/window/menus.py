"""The table of the menus' entries."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Protocol

from msgspec.structs import replace
from PySide6.QtGui import QKeySequence

from app.document.examples import demonstrations
from app.document.settings import recent_boats, remember, settings
from app.printing.sheet_kinds import SHEET_KINDS
from app.ui import deciding_modes as deciding
from app.ui.apostrophes import curly
from app.ui.text_size import other_size
from app.ui.theme import apply_theme, is_dark
from app.window.menu_bar import MenuEntry, fixed, separator
from geometry.edits.edits import set_units

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.canvas.cut_canvas import CutView
    from app.canvas.face_canvas import FaceCanvas
    from app.canvas.face_head import FaceHead
    from app.document.document import Document
    from app.frame.central_stack import CentralStack
    from app.frame.face_or_compare import FaceOrCompare
    from app.ui.dialogs import Dialogs
    from app.window.file_actions import FileActions
    from app.window.focus_cycle import FocusCycle

MOST_STEPS = 24  # as many as fit a screen, around the present one
_STANDARD = QKeySequence.StandardKey
_ABOUT = (
    "Boltwell shows where every washer, nut and socket comes out, before you drill four holes. "
    "Nobody can undrill them.\n\n"
    "It does not replace the motor maker’s instructions, local codes, or a licensed technician where the law asks for one. "
    "Measure twice. Measure both bars of the printed template before you mark anything."
)


class MenuWindow(Protocol):
    """The parts of a window that its menus use."""

    document: Document
    file_actions: FileActions
    dialogs: Dialogs
    central: CentralStack
    face_or_compare: FaceOrCompare
    face: FaceCanvas
    face_head: FaceHead
    cut: CutView
    focus_cycle: FocusCycle
    refresh_menus: Callable[[], None]

    def show_start(self) -> None:
        """Show the start page."""

    def fit_views(self) -> None:
        """Show the work in face and cut."""

    def make_sheets(self) -> None:
        """Show the sheets."""

    def print_sheets(self) -> None:
        """Print the sheets through the system's dialog."""

    def leave_sheets(self) -> None:
        """Go back from the sheets to the drawing."""

    def change_text(self, way: int) -> None:
        """Take larger (1) or smaller (-1) text."""

    def show_survey(self) -> None:
        """Open the window of the survey."""

    def show_manual(self) -> None:
        """Open the manual at the page for the focus."""

    def show_keys(self) -> None:
        """Open the manual at the list of shortcuts."""

    def close(self) -> bool:
        """Close the window; return False where the person stays."""


def menu_entries(window: MenuWindow) -> tuple[MenuEntry, ...]:
    """Return the entries of all menus of ``window``."""
    document, files, face = window.document, window.file_actions, window.face
    focus_cycle, central, middle = window.focus_cycle, window.central, window.face_or_compare

    def units(unit: str) -> None:
        changed = set_units(document.design, "in" if unit == "in" else "mm")
        document.commit("Inches" if unit == "in" else "Millimetres", changed)

    def light(*, dark: bool) -> None:
        apply_theme(dark=dark)
        remember(dark=dark)
        window.refresh_menus()

    def steps() -> tuple[MenuEntry, ...]:
        now, history = len(document.history.past), document.history.steps
        first = max(0, min(now - MOST_STEPS // 2, len(history) - MOST_STEPS))
        return tuple(
            MenuEntry("", fixed(curly(step.label).replace("&", "&&") or "As opened"), None, partial(document.go_to, index),
                   checked=partial(int.__eq__, now, index))
            for index, step in enumerate(history) if first <= index < first + MOST_STEPS
        )  # fmt: skip

    def recent() -> tuple[MenuEntry, ...]:
        return tuple(MenuEntry("", fixed(path.name.replace("&", "&&")), None, partial(files.open_path, path))
                     for path in recent_boats())  # fmt: skip

    def examples() -> tuple[MenuEntry, ...]:
        return tuple(MenuEntry("", fixed(boat.name), None, partial(files.open_demonstration, key))
                     for key, boat in demonstrations().items())  # fmt: skip

    return (
        MenuEntry("&Boat", fixed("&New…"), _STANDARD.New, window.show_start, icon="new"),
        MenuEntry("&Boat", fixed("&Open…"), _STANDARD.Open, files.open, icon="open"),
        MenuEntry("&Boat", fixed("&Recent boats"), enabled=lambda: bool(recent_boats()), submenu=recent),
        MenuEntry("&Boat", fixed("&Demonstration boats"), submenu=examples),
        separator("&Boat"),
        *_while(
            lambda: central.shows_drawing,
            MenuEntry("&Boat", fixed("&Save"), _STANDARD.Save, files.save, icon="save"),
            MenuEntry("&Boat", fixed("Save &as…"), "Ctrl+Shift+S", files.save_as),
        ),
        separator("&Boat"),
        MenuEntry("&Boat", fixed("&Quit"), "Ctrl+Q", window.close),
        *_while(
            lambda: central.shows_drawing and not middle.compares,
            MenuEntry(
                "&Edit", lambda: _named("&Undo", document.undo_label), _STANDARD.Undo, document.undo,
                lambda: bool(document.undo_label), icon="undo",
            ),
            MenuEntry(
                "&Edit", lambda: _named("&Redo", document.redo_label), _STANDARD.Redo, document.redo,
                lambda: bool(document.redo_label), icon="redo",
            ),
            MenuEntry("&Edit", fixed("&Steps"), enabled=lambda: len(document.history.steps) > 1, submenu=steps),
            separator("&Edit"),
            MenuEntry("&Edit", fixed("&Inches"), None, lambda: units("in"), checked=lambda: document.design.units == "in"),
            MenuEntry("&Edit", fixed("&Millimetres"), None, lambda: units("mm"), checked=lambda: document.design.units == "mm"),
            MenuEntry("&View", fixed("Zoom to the &work"), "Ctrl+0", window.fit_views, icon="fit"),
            MenuEntry("&View", fixed("Whole &transom"), "Ctrl+Shift+0", face.show_whole),
            MenuEntry("&View", fixed("Zoom &in"), _STANDARD.ZoomIn, lambda: face.zoom(1.2)),
            MenuEntry("&View", fixed("Zoom &out"), _STANDARD.ZoomOut, lambda: face.zoom(1 / 1.2)),
            separator("&View"),
            MenuEntry("&View", fixed("Other side’s &bolts"), "Ctrl+B", window.cut.step),
            MenuEntry("&View", fixed("&Isometric picture"), "Ctrl+I", window.cut.in_space.click,
                   checked=lambda: document.view_state.isometric),
            MenuEntry("&View", fixed("&Next part of the window"), "F6", focus_cycle.next),
            MenuEntry("&View", fixed("&Previous part of the window"), "Shift+F6", focus_cycle.previous),
            separator("&View"),
            MenuEntry("&View", fixed("Drillable &zone"), "Ctrl+D", lambda: deciding.toggle_zone(document),
                   lambda: bool(document.design.mounts), checked=lambda: document.view_state.zone),
        ),
        separator("&View"),
        MenuEntry("&View", fixed("L&arger text"), None, lambda: window.change_text(1), lambda: _text(1) is not None),
        MenuEntry("&View", fixed("S&maller text"), None, lambda: window.change_text(-1), lambda: _text(-1) is not None),
        separator("&View"),
        MenuEntry("&View", fixed("&Light"), None, lambda: light(dark=False), checked=lambda: not is_dark()),
        MenuEntry("&View", fixed("&Dark"), None, lambda: light(dark=True), checked=is_dark),
        *_while(
            lambda: central.shows_drawing and not middle.compares,
            *(
                MenuEntry("&Draw", fixed(button.text()), None, button.click, checked=button.isChecked)
                for button in window.face_head.tools.values()
            ),
            separator("&Draw"),
            MenuEntry(
                "&Draw", fixed("&Both sides alike"), None, window.face_head.alike.click, window.face_head.alike.isVisible
            ),
            MenuEntry(
                "&Draw", fixed("Sur&vey…"), None, window.show_survey,
            ),
            MenuEntry(
                "&Draw", fixed("S&quare or level"), None, window.cut.switch.click, lambda: bool(document.design.mounts),
                checked=lambda: document.view_state.other_way,
            ),
        ),
        *_while(
            lambda: central.shows_drawing,
            *(
                MenuEntry("De&cide", fixed(title), key, partial(deciding.toggle, document, name),
                       partial(deciding.can_open, document, name), checked=partial(deciding.is_open, document, name))
                for name, title, key in deciding.MODES
            ),
            separator("De&cide"),
            MenuEntry("De&cide", fixed("&Keep this place to compare"), "Ctrl+K", lambda: deciding.keep_placement(document),
                   lambda: deciding.can_keep(document)),
        ),
        *_while(
            lambda: central.shows_drawing and not middle.compares,
            MenuEntry("&Sheets", fixed("&Make the sheets"), "Ctrl+P", window.make_sheets,
                   lambda: not document.view_state.sheets and not deciding.clamps_on(document.design), icon="sheets"),
            MenuEntry("&Sheets", fixed("&Back to the drawing"), None, window.leave_sheets, lambda: document.view_state.sheets),
            MenuEntry("&Sheets", fixed("&Print…"), "Ctrl+Shift+P", window.print_sheets, lambda: document.view_state.sheets),
            separator("&Sheets"),
            *(
                MenuEntry("&Sheets", fixed(kind.menu), None, partial(files.sheet, kind.key), icon=kind.icon)
                for kind in SHEET_KINDS.values() if kind.menu
            ),
        ),
        MenuEntry("&Help", fixed("&Manual"), _STANDARD.HelpContents, window.show_manual, icon="manual"),
        MenuEntry("&Help", fixed("&Keys"), None, window.show_keys, icon="keys"),
        separator("&Help"),
        MenuEntry("&Help", fixed("&About Boltwell"), None, lambda: window.dialogs.show_message(_about())),
    )


def _text(way: int) -> int | None:
    return other_size(settings().text, way)


def _about() -> str:
    from app.desktop.components import listing

    return f"{_ABOUT}\n\nIt comes with these packages and fonts, each under its own licence:\n\n{listing()}"


def _while(shown: Callable[[], bool], *entries: MenuEntry) -> tuple[MenuEntry, ...]:
    """Return entries that are enabled only while the thing that they change is shown."""
    return tuple(replace(entry, enabled=lambda enabled=entry.enabled: shown() and enabled()) for entry in entries)


def _named(verb: str, label: str) -> str:
    return f"{verb}: {curly(label).replace('&', '&&')}" if label else verb
