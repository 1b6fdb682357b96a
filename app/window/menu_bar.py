"""Fills the menu bar from a table of entries."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import msgspec
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence
from PySide6.QtWidgets import QMenu

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QMainWindow

_Standard = QKeySequence.StandardKey
Key = _Standard | str | None
_ICON = 16  # px
_RULE = ""  # a title that draws a separator


def _yes() -> bool:
    return True


def _no() -> bool:
    return False


class MenuEntry(msgspec.Struct, frozen=True):
    """One entry of a menu.

    Attributes:
        menu: the menu that it is in. title: returns its words, at each change; "" for a separator.
        key: its shortcut. run: the function that it runs. enabled: whether it is possible now. checked: whether it is on.
        submenu: returns the entries of its submenu, each time it opens. icon: name of its icon, "" for none.
    """

    menu: str
    title: Callable[[], str]
    key: Key = None
    run: Callable[[], object] = _no
    enabled: Callable[[], bool] = _yes
    checked: Callable[[], bool] | None = None
    submenu: Callable[[], tuple[MenuEntry, ...]] | None = None
    icon: str = ""


def fixed(title: str) -> Callable[[], str]:
    """Return a title that never changes."""
    return lambda: title


def separator(menu: str) -> MenuEntry:
    """Return a separator between two groups of a menu."""
    return MenuEntry(menu, fixed(_RULE))


def fill_menus(window: QMainWindow, menu_entries: tuple[MenuEntry, ...]) -> Callable[[], None]:
    """Fill the window's menus from the table. Return the function that updates titles and states."""
    bar = window.menuBar()
    menus: dict[str, QMenu] = {}
    made: list[tuple[MenuEntry, QAction]] = []
    for record in menu_entries:
        if record.menu not in menus:
            menus[record.menu] = bar.addMenu(record.menu)
            menus[record.menu].aboutToShow.connect(partial(_show_icons, made, menus[record.menu]))
        if record.title() == _RULE:
            menus[record.menu].addSeparator()
            continue
        if record.submenu is not None:
            made.append((record, menus[record.menu].addMenu(_list_of(record.submenu, menus[record.menu]))))
            continue
        action = QAction(window)  # with a title in the constructor, Qt would first look for an icon in it
        action.setText(record.title())
        keys = QKeySequence.keyBindings(record.key) if isinstance(record.key, _Standard) else []
        action.setShortcuts(keys or ([QKeySequence(record.key)] if isinstance(record.key, str) else []))
        action.setCheckable(record.checked is not None)
        action.triggered.connect(lambda _on=False, run=record.run: run())
        menus[record.menu].addAction(action)
        made.append((record, action))

    def refresh(*_: object) -> None:
        for record, action in made:
            action.setText(record.title())
            action.setEnabled(record.enabled())
            if record.checked is not None:
                action.setChecked(record.checked())

    return refresh


def _show_icons(made: list[tuple[MenuEntry, QAction]], menu: QMenu) -> None:
    """Give the entries of a menu their icons, in the menu's text colour."""
    from PySide6.QtGui import QIcon  # drawn when a menu is first opened

    from app.ui.icons import icon

    colours, ratio = QGuiApplication.palette(), menu.devicePixelRatioF()  # the menu's palette is out of date before it is shown
    for record, action in made:
        if record.icon and action in menu.actions():
            drawn = QIcon(icon(record.icon, colours.windowText().color().name(), ratio, _ICON))
            drawn.addPixmap(icon(record.icon, colours.highlightedText().color().name(), ratio, _ICON), QIcon.Mode.Active)
            action.setIcon(drawn)


def _list_of(submenu: Callable[[], tuple[MenuEntry, ...]], parent: QMenu) -> QMenu:
    """Return a submenu that is filled each time it opens."""
    made = QMenu(parent)

    def fill() -> None:
        made.clear()
        for record in submenu():
            action = made.addAction(record.title())
            action.setEnabled(record.enabled())
            action.setCheckable(record.checked is not None)
            action.setChecked(record.checked is not None and record.checked())
            action.triggered.connect(lambda _on=False, run=record.run: run())

    made.aboutToShow.connect(fill)
    return made
