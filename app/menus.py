"""The table of all that the menus offer: only what works."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from app.actions import Record, rule, said
from app.light import dress, is_dark
from geometry.design.edits import set_units

if TYPE_CHECKING:
    from app.main_window import MainWindow

_STANDARD = QKeySequence.StandardKey
_ABOUT = (
    "Boltwell shows where every washer, nut and socket comes out, "
    "before four holes are drilled that can’t be undrilled.\n\n"
    "It does not replace the motor maker’s instructions, local codes, or a licensed hand where one is asked for. "
    "Measure twice, and measure both bars of the printed template before you mark anything."
)


def records(window: MainWindow) -> tuple[Record, ...]:
    """Return what the menus of ``window`` offer."""
    desk, doors, face, rounds = window.desk, window.doors, window.face, window.rounds

    def units(unit: str) -> None:
        changed = set_units(desk.design, "in" if unit == "in" else "mm")
        desk.commit("Inches" if unit == "in" else "Millimetres", changed)

    def light(*, dark: bool) -> None:
        dress(dark=dark)
        window.refresh_menus()

    return (
        Record("&Boat", said("&Open…"), _STANDARD.Open, doors.open),
        Record("&Boat", said("Open the &demonstration boat"), None, doors.open_demonstration),
        rule("&Boat"),
        Record("&Boat", said("&Save"), _STANDARD.Save, doors.save),
        Record("&Boat", said("Save &as…"), "Ctrl+Shift+S", doors.save_as),
        rule("&Boat"),
        Record("&Boat", said("&Quit"), "Ctrl+Q", window.close),
        Record(
            "&Edit", lambda: _named("&Undo", desk.undo_label), _STANDARD.Undo, desk.undo, lambda: bool(desk.undo_label)
        ),
        Record(
            "&Edit", lambda: _named("&Redo", desk.redo_label), _STANDARD.Redo, desk.redo, lambda: bool(desk.redo_label)
        ),
        rule("&Edit"),
        Record("&Edit", said("&Inches"), None, lambda: units("in"), ticked=lambda: desk.design.units == "in"),
        Record("&Edit", said("&Millimetres"), None, lambda: units("mm"), ticked=lambda: desk.design.units == "mm"),
        Record("&View", said("Fit to the &work"), "Ctrl+0", face.refit),
        Record("&View", said("Whole &transom"), "Ctrl+Shift+0", face.show_whole),
        Record("&View", said("Zoom &in"), _STANDARD.ZoomIn, lambda: face.zoom(1.2)),
        Record("&View", said("Zoom &out"), _STANDARD.ZoomOut, lambda: face.zoom(1 / 1.2)),
        rule("&View"),
        Record("&View", said("The other side’s &bolts"), "Ctrl+B", window.cut.step),
        Record("&View", said("&Next part of the window"), "F6", rounds.on),
        Record("&View", said("&Part before"), "Shift+F6", rounds.back),
        rule("&View"),
        Record("&View", said("&Light"), None, lambda: light(dark=False), ticked=lambda: not is_dark()),
        Record("&View", said("&Dark"), None, lambda: light(dark=True), ticked=is_dark),
        Record("&Sheets", said("&Template…"), "Ctrl+P", doors.template, lambda: bool(desk.design.mounts)),
        Record("&Sheets", said("&Shop sheet…"), None, doors.shop_sheet, lambda: bool(desk.design.mounts)),
        Record("&Help", said("&About Boltwell"), None, lambda: window.asking.tell(_ABOUT)),
    )


def _named(verb: str, label: str) -> str:
    return f"{verb}: {label.replace('&', '&&')}" if label else verb
