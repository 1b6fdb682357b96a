"""A screen reader's and a keyboard's window: names, roles, tab places, focus rings, contrast, and the order of the card."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleInterface, QColor
from PySide6.QtWidgets import QAbstractButton, QAbstractScrollArea, QLabel, QLineEdit, QWidget

from app.canvas.drawing import Drawing
from app.entries.card_items import items, key_of
from app.entries.entry import Entry
from app.ui import deciding_modes as deciding
from app.ui.theme import apply_theme
from assets import design_text
from geometry.design_text import from_text
from tests.gestures.conftest import come_to_rest

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from geometry.design.design import Design

CONTROLS = (QAbstractButton, QLineEdit, Drawing)
ROLES = {
    QAccessible.Role.Button, QAccessible.Role.EditableText, QAccessible.Role.CheckBox, QAccessible.Role.RadioButton,
    QAccessible.Role.ButtonMenu, QAccessible.Role.Link, QAccessible.Role.Canvas, QAccessible.Role.Graphic,
    QAccessible.Role.Client, QAccessible.Role.PushButton,
}  # fmt: skip


def open_section(window: MainWindow, section: int) -> None:
    window.document.set_view_state(replace(window.document.view_state, section=section))


STATES: dict[str, Callable[[MainWindow], object]] = {
    "at rest": lambda _window: None,
    **{f"section {number}": partial(open_section, section=number) for number in range(1, 10)},
    "ladder": lambda window: window.ladder.head.click(),
    "find a fit": lambda window: deciding.toggle(window.document, "fit"),
    "low enough": lambda window: deciding.toggle(window.document, "low enough"),
    "compare": lambda window: deciding.toggle(window.document, "compare"),
    "start page": lambda window: window.show_start(),
}


def seen(window: QWidget, *kinds: type[QWidget]) -> list[QWidget]:
    """Return the widgets of these kinds that are shown."""
    return [widget for widget in window.findChildren(QWidget) if isinstance(widget, kinds) and widget.isVisible()]


def spoken(widget: QWidget) -> QAccessibleInterface:
    """Return what the platform's accessibility interface has of a widget."""
    interface = QAccessible.queryAccessibleInterface(widget)
    assert interface is not None
    return interface


def children(interface: QAccessibleInterface) -> Iterator[QAccessibleInterface]:
    """Yield everything below an interface, in the order in which it is read out."""
    for index in range(interface.childCount()):
        child = interface.child(index)
        if child is not None and not child.state().invisible:
            yield child
            yield from children(child)


@pytest.mark.parametrize("state", STATES)
def test_each_control_has_a_name_a_role_and_a_tab_place(opened: Callable[[Design], MainWindow], state: str) -> None:
    window = opened(from_text(design_text("thrice-drilled-runabout")))
    STATES[state](window)
    come_to_rest()
    faults = []
    for widget in seen(window, *CONTROLS):
        interface = spoken(widget)
        if not interface.text(QAccessible.Text.Name).strip():
            faults.append(f"no name: {widget!r}")
        if interface.role() not in ROLES:
            faults.append(f"{interface.role()}: {interface.text(QAccessible.Text.Name)}")
        if widget.isEnabled() and not (widget.focusPolicy() & Qt.FocusPolicy.TabFocus and interface.state().focusable):
            faults.append(f"no tab place: {interface.text(QAccessible.Text.Name)}")
    assert not faults
    assert len(seen(window, *CONTROLS)) > 5


@pytest.mark.parametrize("state", STATES)
def test_the_focus_is_seen_on_each_control(qtbot: QtBot, opened: Callable[[Design], MainWindow], state: str) -> None:
    """The picture of a control changes once the keyboard brings the focus to it."""
    window = opened(from_text(design_text("thrice-drilled-runabout")))
    STATES[state](window)
    come_to_rest()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    faults = []
    for widget in seen(window, QAbstractButton, QLineEdit, Drawing):
        if not widget.isEnabled() or not widget.isVisible():
            continue
        name = widget.accessibleName()
        widget.clearFocus()
        without = widget.grab().toImage()
        widget.setFocus(Qt.FocusReason.TabFocusReason)
        window.setAttribute(Qt.WidgetAttribute.WA_KeyboardFocusChange, True)  # as the Tab key does
        if widget.hasFocus() and widget.grab().toImage() == without:
            faults.append(name or repr(widget))
    assert not faults


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("state", STATES)
def test_each_text_has_its_contrast(opened: Callable[[Design], MainWindow], state: str, dark: bool) -> None:
    """By the formula of WCAG 2.2, at least 4.5 on the nearest filled ground."""
    window = opened(from_text(design_text("thrice-drilled-runabout")))
    apply_theme(dark=dark)
    STATES[state](window)
    come_to_rest()
    faults = {}
    for label in seen(window, QLabel):
        if isinstance(label, QLabel) and label.text().strip() and label.isEnabled():
            ratio = contrast(label.palette().color(label.foregroundRole()), ground_of(label))
            if ratio < 4.5:
                faults[label.text()] = round(ratio, 2)
    apply_theme(dark=False)
    assert faults == {}


def ground_of(widget: QWidget) -> QColor:
    """Return the colour behind a widget: of the nearest one around it that fills its ground."""
    around: QWidget | None = widget
    while around is not None:
        if around.autoFillBackground() or around.isWindow() or isinstance(around, QAbstractScrollArea):
            return around.palette().color(around.backgroundRole())
        around = around.parentWidget()
    raise AssertionError("no window around it")


def contrast(first: QColor, second: QColor) -> float:
    lighter, darker = sorted((luminance(first), luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: QColor) -> float:
    """Return the relative luminance: WCAG 2.2, definition of relative luminance."""
    parts = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
             for part in (colour.redF(), colour.greenF(), colour.blueF())]  # fmt: skip
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


@pytest.mark.parametrize("section", range(1, 10))
def test_the_card_is_read_out_from_above_to_below(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], section: int
) -> None:  # fmt: skip
    """Through the platform's interface: the question first, then each head, the open one's entries in the card's order."""
    window = opened(from_text(design_text("thrice-drilled-runabout")))
    open_section(window, section)
    come_to_rest()
    every = [(interface.role(), interface.text(QAccessible.Text.Name)) for interface in children(spoken(window.card))]
    heads = [head.accessibleName() for head in window.card.heads]
    assert [name for role, name in every if role == QAccessible.Role.Button and name in heads] == heads
    keys = [key_of(item) for item in items(window.document.design, 0, section)]
    entries = [entry.field.accessibleName() for key in keys if isinstance(entry := window.card.entry(key), Entry)]
    names = [name for _, name in every]
    begin = names.index(heads[section - 1])
    end = names.index(heads[section]) if section < len(heads) else len(names)
    fields = [name for role, name in every[begin:end] if role == QAccessible.Role.EditableText]
    assert fields == entries
    assert len(entries) > 0
    if window.card.next_step.asks:
        assert any(window.card.next_step.title in name for name in names[:begin])
