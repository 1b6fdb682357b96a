"""The table of the menus. It has only entries that work."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Protocol

from msgspec.structs import replace
from PySide6.QtGui import QKeySequence

from app.document.examples import demonstrations
from app.document.settings import recent_boats, remember
from app.printing.sheet_kinds import SHEET_KINDS
from app.ui import deciding_modes as deciding
from app.ui.apostrophes import curly
from app.ui.theme import dress, is_dark
from app.window.menu_bar import Record, rule, said
from geometry.design.edits import set_units

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.canvas.cut_canvas import CutView
    from app.canvas.face_canvas import FaceCanvas
    from app.canvas.face_head import FaceHead
    from app.document.document import Document
    from app.frame.boards import Boards
    from app.ui.dialogs import Asking
    from app.window.file_actions import FileActions
    from app.window.focus_cycle import Rounds

MOST_STEPS = 24  # as many as fit a screen, with the present one; step on to reach the others
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
    doors: FileActions
    asking: Asking
    boards: Boards
    face: FaceCanvas
    face_head: FaceHead
    cut: CutView
    rounds: Rounds
    refresh_menus: Callable[[], None]

    def show_start(self) -> None:
        """Show how a boat may begin."""

    def make_sheets(self) -> None:
        """Show the sheets."""

    def leave_sheets(self) -> None:
        """Go back from the sheets to the drawing."""

    def show_manual(self) -> None:
        """Open the manual at the page for what has the focus."""

    def show_keys(self) -> None:
        """Open the manual where the shortcuts are listed."""

    def close(self) -> bool:
        """Close the window; return False where the person stays."""


def records(window: MenuWindow) -> tuple[Record, ...]:
    """Return what the menus of ``window`` offer."""
    document, doors, face, rounds, boards = window.document, window.doors, window.face, window.rounds, window.boards

    def units(unit: str) -> None:
        changed = set_units(document.design, "in" if unit == "in" else "mm")
        document.commit("Inches" if unit == "in" else "Millimetres", changed)

    def light(*, dark: bool) -> None:
        dress(dark=dark)
        remember(dark=dark)
        window.refresh_menus()

    def steps() -> tuple[Record, ...]:
        now, found = len(document.history.past), document.history.steps
        first = max(0, min(now - MOST_STEPS // 2, len(found) - MOST_STEPS))
        return tuple(
            Record("", said(curly(step.label).replace("&", "&&") or "As opened"), None, partial(document.go_to, index),
                   ticked=partial(int.__eq__, now, index))
            for index, step in enumerate(found) if first <= index < first + MOST_STEPS
        )  # fmt: skip

    def recent() -> tuple[Record, ...]:
        return tuple(Record("", said(path.name.replace("&", "&&")), None, partial(doors.open_path, path))
                     for path in recent_boats())  # fmt: skip

    def examples() -> tuple[Record, ...]:
        return tuple(Record("", said(boat.name), None, partial(doors.open_demonstration, key))
                     for key, boat in demonstrations().items())  # fmt: skip

    return (
        Record("&Boat", said("&New…"), _STANDARD.New, window.show_start, icon="new"),
        Record("&Boat", said("&Open…"), _STANDARD.Open, doors.open, icon="open"),
        Record("&Boat", said("&Recent boats"), possible=lambda: bool(recent_boats()), many=recent),
        Record("&Boat", said("&Demonstration boats"), many=examples),
        rule("&Boat"),
        *_while(
            lambda: boards.drawn or boards.compared,
            Record("&Boat", said("&Save"), _STANDARD.Save, doors.save, icon="save"),
            Record("&Boat", said("Save &as…"), "Ctrl+Shift+S", doors.save_as),
        ),
        rule("&Boat"),
        Record("&Boat", said("&Quit"), "Ctrl+Q", window.close),
        *_while(
            lambda: boards.drawn,
            Record(
                "&Edit", lambda: _named("&Undo", document.undo_label), _STANDARD.Undo, document.undo,
                lambda: bool(document.undo_label), icon="undo",
            ),
            Record(
                "&Edit", lambda: _named("&Redo", document.redo_label), _STANDARD.Redo, document.redo,
                lambda: bool(document.redo_label), icon="redo",
            ),
            Record("&Edit", said("&Steps"), possible=lambda: len(document.history.steps) > 1, many=steps),
            rule("&Edit"),
            Record("&Edit", said("&Inches"), None, lambda: units("in"), ticked=lambda: document.design.units == "in"),
            Record("&Edit", said("&Millimetres"), None, lambda: units("mm"), ticked=lambda: document.design.units == "mm"),
            Record("&View", said("Zoom to the &work"), "Ctrl+0", face.refit, icon="fit"),
            Record("&View", said("Whole &transom"), "Ctrl+Shift+0", face.show_whole),
            Record("&View", said("Zoom &in"), _STANDARD.ZoomIn, lambda: face.zoom(1.2)),
            Record("&View", said("Zoom &out"), _STANDARD.ZoomOut, lambda: face.zoom(1 / 1.2)),
            rule("&View"),
            Record("&View", said("Other side’s &bolts"), "Ctrl+B", window.cut.step),
            Record("&View", said("&Next part of the window"), "F6", rounds.on),
            Record("&View", said("&Previous part of the window"), "Shift+F6", rounds.back),
            rule("&View"),
            Record("&View", said("Drillable &zone"), "Ctrl+D", lambda: deciding.zone(document),
                   lambda: bool(document.design.mounts), ticked=lambda: document.sight.zone),
        ),
        rule("&View"),
        Record("&View", said("&Light"), None, lambda: light(dark=False), ticked=lambda: not is_dark()),
        Record("&View", said("&Dark"), None, lambda: light(dark=True), ticked=is_dark),
        *_while(
            lambda: boards.drawn,
            *(
                Record("&Draw", said(button.text()), None, button.click, ticked=button.isChecked)
                for button in window.face_head.tools.values()
            ),
            rule("&Draw"),
            Record("&Draw", said("&Both sides alike"), None, window.face_head.alike.click, window.face_head.alike.isVisible),
            Record(
                "&Draw", said("S&quare or level"), None, window.cut.switch.click, lambda: bool(document.design.mounts),
                ticked=lambda: document.sight.other_way,
            ),
        ),
        *_while(
            lambda: boards.drawn or boards.compared,
            *(
                Record("De&cide", said(title), key, partial(deciding.turn, document, name),
                       partial(deciding.possible, document, name), ticked=partial(deciding.is_open, document, name))
                for name, title, key in deciding.DOORS
            ),
            rule("De&cide"),
            Record("De&cide", said("&Keep this place to compare"), "Ctrl+K", lambda: deciding.keep(document),
                   lambda: deciding.may_keep(document)),
        ),
        *_while(
            lambda: boards.drawn,
            Record("&Sheets", said("&Make the sheets"), "Ctrl+P", window.make_sheets,
                   lambda: not document.sight.sheets and not deciding.clamps_on(document.design), icon="sheets"),
            Record("&Sheets", said("&Back to the drawing"), None, window.leave_sheets, lambda: document.sight.sheets),
            rule("&Sheets"),
            *(
                Record("&Sheets", said(kind.menu), None, partial(doors.sheet, kind.key), icon=kind.icon)
                for kind in SHEET_KINDS.values() if kind.menu
            ),
        ),
        Record("&Help", said("&Manual"), _STANDARD.HelpContents, window.show_manual, icon="manual"),
        Record("&Help", said("&Keys"), None, window.show_keys, icon="keys"),
        rule("&Help"),
        Record("&Help", said("&About Boltwell"), None, lambda: window.asking.tell(_ABOUT)),
    )


def _while(shown: Callable[[], bool], *some: Record) -> tuple[Record, ...]:
    """Return records that are possible only while the thing that they change is shown."""
    return tuple(replace(one, possible=lambda possible=one.possible: shown() and possible()) for one in some)


def _named(verb: str, label: str) -> str:
    return f"{verb}: {curly(label).replace('&', '&&')}" if label else verb
