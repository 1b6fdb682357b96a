"""Collects the texts that a real window shows: labels, buttons, tool tips, accessible names, menus, hints, the foot line."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QMenu, QWidget

from app.tools.handles import edge_grips, grips
from app.tools.tool import NAMES
from app.ui.deciding_modes import MODES, can_open
from geometry.edits.edits import set_units
from geometry.readings.measures import SECTIONS
from templates_out.drawing.marks import Text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from app.document.view_state import ViewState
    from app.window.main_window import MainWindow
    from geometry.design.design import Design

_TAG = re.compile(r"<[^>]+>")


def plain_text(text: str) -> str:
    """Return a text without HTML tags and without the marks of menu keys."""
    return _TAG.sub(" ", text).replace("&", "").strip()


def texts_of_widgets(window: MainWindow) -> set[str]:
    """Return the texts, tool tips, accessible names and descriptions of all widgets that are made by now."""
    return {text for raw in _of_widgets(window) if (text := plain_text(raw))}


def shown_texts(window: MainWindow, design: Design) -> set[str]:
    """Return all texts of a window on ``design``: in every state of its view, and at rest in the other unit."""
    texts: set[str] = set()
    for unit in ("mm", "in") if design.units == "in" else ("in", "mm"):
        window.document.new(set_units(design, unit))
        _calculate_ladder(window)
        for view_state in _view_states(window) if unit == design.units else (window.document.view_state,):
            window.document.set_view_state(view_state)
            QApplication.processEvents()
            texts |= {window.foot.said, window.face.tools.note, *_of_widgets(window)}
        texts |= {*_of_actions(window), *_of_marks(window), *_of_parts(window)}
    return {text for raw in texts if (text := plain_text(raw))}


def _view_states(window: MainWindow) -> Iterator[ViewState]:
    """Yield a view state for each section of the card, each tool, each way to decide, and the other way to drill."""
    document = window.document
    start = document.view_state
    for section in range(1, len(SECTIONS) + 1):
        yield replace(start, section=section)
    for tool in NAMES:
        yield replace(start, tool=tool)
    for name, _, _ in MODES:
        if can_open(document, name):
            yield replace(start, deciding=name)
    yield replace(start, zone=True)
    yield replace(start, other_way=True)
    yield start


def _calculate_ladder(window: MainWindow) -> None:
    """Let the window calculate its ladder now, and show it."""
    worker = window.ladder_worker
    if worker._rest.isActive():
        worker._rest.stop()
        worker._begin()
    while worker._slicer._work is not None:
        worker._slicer._slice()


def _of_widgets(window: MainWindow) -> Iterator[str]:
    for widget in (window, *window.findChildren(QWidget)):
        yield from (widget.toolTip(), widget.accessibleName(), widget.accessibleDescription(), widget.statusTip())
        if isinstance(widget, QLabel | QAbstractButton) and not widget.isHidden():
            yield widget.text()
        if isinstance(widget, QLineEdit):
            yield widget.placeholderText()


def _of_actions(window: MainWindow) -> Iterator[str]:
    for menu in window.findChildren(QMenu):
        menu.aboutToShow.emit()
        yield menu.title()
    for action in window.findChildren(QAction):
        yield from (action.text(), action.toolTip())


def _of_marks(window: MainWindow) -> Iterator[str]:
    """Yield the words that are drawn on face and cut."""
    for drawing in (window.face, window.cut.canvas):
        yield from (mark.text for mark in drawing.marks() if isinstance(mark, Text))


def _of_parts(window: MainWindow) -> set[str]:
    """Return what the foot line says of each part of the face, and the parts' menus."""
    from app.canvas.part_menu import part_menu

    design = window.document.design
    texts: set[str] = set()
    for grip in (*grips(design, 0), *edge_grips(design)):
        texts.add(grip.name)
        menu = part_menu(window.face, design, grip, grip.at, alike=None, figure=print, step=print, wanted=print, zone=print)
        texts |= {action.text() for action in menu.actions()} if menu is not None else set()
    return texts
