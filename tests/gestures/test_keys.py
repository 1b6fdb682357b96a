"""The shortcuts that are listed: no two actions share a key, and each key does what the list says."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QAction, QKeySequence, QMouseEvent, QShortcut
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu

from app.help.shortcut_list import HAND, as_text, from_menus
from app.tools.handles import edge_grips
from app.tools.pointer_tool import neighbour
from app.tools.sketch import Sketch
from app.ui.palette import palette
from app.ui.theme import apply_theme
from app.window.menus import menu_entries
from geometry.edits.edits import with_mount
from geometry.solid.placed_bolts import bolts
from templates_out.drawing.marks import Text
from tests.gestures.conftest import chosen, guess_all, pixel, place

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.entries.field import Field
    from app.window.main_window import MainWindow

SHIFT, ALT, NONE = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.NoModifier
LEFT = Qt.MouseButton.LeftButton
STEP = 25.4 / 16  # mm: the snap in inches


# The menus


def actions(window: MainWindow):
    return [action for action in window.findChildren(QAction) if action.shortcuts()]


def test_no_two_actions_share_a_key(window: MainWindow) -> None:
    keys = [key.toString() for action in actions(window) for key in action.shortcuts()]
    keys += [short.key().toString() for short in window.findChildren(QShortcut)]
    assert len(keys) == len(set(keys))
    manual = window.manual
    own = [short.key().toString() for short in manual.findChildren(QShortcut)]
    assert len(own) == len(set(own))


def test_the_list_names_every_action_that_has_a_key(window: MainWindow) -> None:
    listed = [shortcut.keys for group in from_menus(menu_entries(window)) for shortcut in group.shortcuts]
    native = QKeySequence.SequenceFormat.NativeText
    assert sorted(listed) == sorted(action.shortcuts()[0].toString(native) for action in actions(window))
    text = as_text(from_menus(menu_entries(window)))
    assert all(f"| **{keys}** |" in text for keys in listed)


def test_each_key_of_the_menus_reaches_its_action(qtbot: QtBot, window: MainWindow) -> None:
    window.face.setFocus()
    for action in actions(window):
        action.triggered.disconnect()  # what it does is its record's; here it only records the call
        action.setEnabled(True)
        calls: list[str] = []
        action.triggered.connect(lambda _on=False, calls=calls, action=action: calls.append(action.text()))
        for key in action.shortcuts():
            combination = key[0]
            if combination.key() >= Qt.Key.Key_Back:  # a special key for saving and the like, which few boards have
                continue
            qtbot.keyClick(window.face, combination.key(), combination.keyboardModifiers())
            assert calls == [action.text()], key.toString()
            calls.clear()


# The hand


def sketching(qtbot: QtBot, window: MainWindow) -> Sketch:
    """Take the outline's tool, and set one corner."""
    window.document.set_view_state(replace(window.document.view_state, tool="outline"))
    window.face.setFocus()
    at = place(window, -200, -100)
    _move(window, at, NONE, Qt.MouseButton.NoButton)
    qtbot.mouseClick(window.face, LEFT, pos=at)
    _move(window, place(window, -50, -130), NONE, Qt.MouseButton.NoButton)
    return tool(window)


def tool(window: MainWindow) -> Sketch:
    sketch = window.face.tools.tool
    assert isinstance(sketch, Sketch)
    return sketch


def field(window: MainWindow, key: str = "mounts.0.drop") -> Field:
    window.card.go_to(key)
    entry = window.card.entry(key)
    assert entry is not None
    return entry.field


def offset(window: MainWindow) -> float:
    distance = window.document.design.mounts[0].offset
    assert distance is not None
    return distance


def drag(window: MainWindow, keys: Qt.KeyboardModifier, by: tuple[float, float]) -> None:
    """Drag the bracket's body by some mm."""
    start = place(window, 60, -150)
    end = start + QPoint(round(by[0] / pixel(window)), round(-by[1] / pixel(window)))
    for act, at in ((QTest.mousePress, start), (QTest.mouseRelease, end)):
        if act is QTest.mouseRelease:
            for share in (0.3, 0.7, 1.0):
                _move(window, start + (end - start) * share, keys)
        act(window.face, LEFT, keys, at)


def _move(window: MainWindow, at: QPoint, keys: Qt.KeyboardModifier, held: Qt.MouseButton = LEFT) -> None:
    there = window.face.mapToGlobal(at).toPointF()
    event = QMouseEvent(QEvent.Type.MouseMove, at.toPointF(), there, Qt.MouseButton.NoButton, held, keys)
    QApplication.sendEvent(window.face, event)


def tab(qtbot: QtBot, window: MainWindow) -> None:
    chosen(window, "")
    qtbot.keyClick(window.face, Qt.Key.Key_Tab)
    first = window.document.view_state.chosen
    qtbot.keyClick(window.face, Qt.Key.Key_Tab)
    assert first
    assert window.document.view_state.chosen != first
    qtbot.keyClick(window.face, Qt.Key.Key_Backtab, SHIFT)
    assert window.document.view_state.chosen == first


def tab_while_pointing(qtbot: QtBot, window: MainWindow) -> None:
    """Hole, well's edge and bracket are at one place; once all had their turn, Tab goes on in the order of the card.

    At a drop of 8 3/4 in the lower port hole is 273.05 mm down, and the floor's edge 275.32: 2.3 mm apart.
    """
    window.document.new(with_mount(window.document.design, 0, drop=222.25))
    chosen(window, "")
    said: list[str] = []
    window.face.said.connect(said.append)
    hole = bolts(window.document.design)[2]
    at = place(window, hole.u, hole.v)
    top, part = f"{hole.name.capitalize()} hole", f"{hole.name} hole:0"
    _move(window, at, NONE, Qt.MouseButton.NoButton)
    assert said.pop() == top
    for name in ("Well’s edge", "Bracket of main motor"):
        qtbot.keyClick(window.face, Qt.Key.Key_Tab)
        assert said.pop() == name
    assert window.document.view_state.chosen == ""
    _move(window, at + QPoint(2, 1), NONE, Qt.MouseButton.NoButton)  # as a hand shakes
    qtbot.mouseClick(window.face, LEFT, pos=at + QPoint(2, 1))
    assert window.document.view_state.chosen == "bracket:0"
    qtbot.mouseClick(window.face, LEFT, pos=at)
    assert window.document.view_state.chosen == part  # the top one, once more
    qtbot.keyClick(window.face, Qt.Key.Key_Backtab, SHIFT)
    assert said.pop() == "Bracket of main motor"
    for _ in range(4):  # back on top, and once round
        assert window.document.view_state.chosen == part
        qtbot.keyClick(window.face, Qt.Key.Key_Tab)
    assert said.pop() == top
    qtbot.keyClick(window.face, Qt.Key.Key_Tab)
    assert window.document.view_state.chosen == neighbour(window.document.design, 0, part, forward=True)
    qtbot.keyClick(window.face, Qt.Key.Key_Backtab, SHIFT)  # the pointer has said nothing since
    assert window.document.view_state.chosen == part


def test_a_drag_takes_what_tab_has_turned_up(qtbot: QtBot, window: MainWindow) -> None:
    """The bracket under an upper hole: the whole pattern moves, and the drop stays."""
    window.face.setFocus()
    before = window.document.design.mounts[0]
    hole = bolts(window.document.design)[0]
    at = place(window, hole.u, hole.v)
    _move(window, at, NONE, Qt.MouseButton.NoButton)
    qtbot.keyClick(window.face, Qt.Key.Key_Tab)
    QTest.mousePress(window.face, LEFT, NONE, at)
    for by in (10, 30, 60):
        _move(window, at + QPoint(0, by), NONE)
    QTest.mouseRelease(window.face, LEFT, NONE, at + QPoint(0, 60))
    after = window.document.design.mounts[0]
    assert after.drop == before.drop
    assert after.upper_at < before.upper_at - 20


def test_a_figure_is_named_and_leads_to_its_entry(qtbot: QtBot, window: MainWindow) -> None:
    """A figure on a bracket wins over it, and opens its entry; after another key Tab goes from part to part."""
    figure = next(mark for mark in window.face.marks() if isinstance(mark, Text) and mark.part == "measure:mounts.0.drop")
    at = window.face.place_of((figure.at[0], figure.at[1] + figure.size / 3)).toPoint()
    said: list[str] = []
    window.face.said.connect(said.append)
    window.face.setFocus()
    _move(window, at, NONE, Qt.MouseButton.NoButton)
    assert said.pop() == "Dimension: drop"
    assert window.face.cursor().shape() == Qt.CursorShape.PointingHandCursor
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    qtbot.keyClick(window.face, Qt.Key.Key_Tab)
    assert window.document.view_state.chosen == neighbour(window.document.design, 0, "", forward=True)
    qtbot.mouseClick(window.face, LEFT, pos=at)
    qtbot.waitUntil(field(window).hasFocus)


def test_enter_on_an_edge_asks_for_its_length_and_on_a_fitting_opens_its_entry(qtbot: QtBot, window: MainWindow) -> None:
    from geometry.edits.additions import add_fitting

    window.document.new(add_fitting(window.document.design, ((250.0, -300.0), (300.0, -300.0), (300.0, -250.0))))
    window.document.set_view_state(replace(window.document.view_state, section=6))
    chosen(window, "fitting 0")
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    entry = window.card.entry("outside_fittings.0.stands_out")
    assert entry is not None
    qtbot.waitUntil(entry.field.hasFocus)
    assert window.document.view_state.section == 1
    chosen(window, "profile edge 1")
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    assert window.document.view_state.tool == "length"
    assert window.document.view_state.section == 1


def arrows(qtbot: QtBot, window: MainWindow) -> None:
    chosen(window, "bracket:0")
    before = offset(window)
    qtbot.keyClick(window.face, Qt.Key.Key_Right)
    assert offset(window) - before == pytest.approx(STEP)


def shift_arrows(qtbot: QtBot, window: MainWindow) -> None:
    chosen(window, "bracket:0")
    before = offset(window)
    qtbot.keyClick(window.face, Qt.Key.Key_Right, SHIFT)
    assert offset(window) - before == pytest.approx(10 * STEP)


def enter_on_the_face(qtbot: QtBot, window: MainWindow) -> None:
    chosen(window, "lower port hole:0")
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    assert field(window).hasFocus()


def delete(qtbot: QtBot, window: MainWindow) -> None:
    guess_all(window)
    chosen(window, "")
    while not window.document.view_state.chosen.startswith("outline"):
        qtbot.keyClick(window.face, Qt.Key.Key_Tab)
        assert window.face.hasFocus()
    before = len(window.document.design.transom.outline)
    qtbot.keyClick(window.face, Qt.Key.Key_Delete)
    assert len(window.document.design.transom.outline) < before


def figures_on_an_edge(qtbot: QtBot, window: MainWindow) -> None:
    chosen(window, edge_grips(window.document.design)[0].part)
    qtbot.keyClicks(window.face, "9")
    assert window.document.view_state.tool == "length"
    assert window.face.tools.tool is not None
    assert window.face.tools.tool.typed


def escape_on_the_face(qtbot: QtBot, window: MainWindow) -> None:
    chosen(window, "bracket:0")
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert window.document.view_state.chosen == ""


def scales(key: Qt.Key, keys: Qt.KeyboardModifier, way: Callable[[float, float], bool]):
    def proof(qtbot: QtBot, window: MainWindow) -> None:
        window.face.setFocus()
        window.face.zoom(1.5 if key == Qt.Key.Key_Home else 1.0)
        before = window.face.view.scale
        qtbot.keyClick(window.face, key, keys)
        assert way(window.face.view.scale, before)

    return proof


def space(qtbot: QtBot, window: MainWindow) -> None:
    window.face.setFocus()
    before = window.face.view.left
    qtbot.keyPress(window.face, Qt.Key.Key_Space)
    QTest.mousePress(window.face, LEFT, NONE, QPoint(300, 300))
    _move(window, QPoint(340, 300), NONE)
    QTest.mouseRelease(window.face, LEFT, NONE, QPoint(340, 300))
    qtbot.keyRelease(window.face, Qt.Key.Key_Space)
    assert window.face.view.left < before
    assert window.document.history.past == ()


def alt_drag(_qtbot: QtBot, window: MainWindow) -> None:
    drag(window, ALT, (31.0, 0.0))
    off = offset(window) / STEP
    assert off > 5
    assert abs(off - round(off)) > 1e-3  # where the hand is, not at a snap's place


def shift_drag(_qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.design.mounts[0].upper_at
    drag(window, SHIFT, (40.0, 12.0))
    assert offset(window) > 20
    assert window.document.design.mounts[0].upper_at == before


def figures(qtbot: QtBot, window: MainWindow) -> None:
    sketching(qtbot, window)
    qtbot.keyClicks(window.face, "5")
    assert tool(window).length == "5"


def tab_to_the_slope(qtbot: QtBot, window: MainWindow) -> None:
    sketching(qtbot, window)
    qtbot.keyClick(window.face, Qt.Key.Key_Tab)
    qtbot.keyClicks(window.face, "8")
    assert (tool(window).length, tool(window).slope) == ("", "8")


def enter_with_a_tool(qtbot: QtBot, window: MainWindow) -> None:
    count = len(sketching(qtbot, window).corners)
    qtbot.keyClicks(window.face, "5")
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    assert len(tool(window).corners) == count + 1


def backspace(qtbot: QtBot, window: MainWindow) -> None:
    count = len(sketching(qtbot, window).corners)
    qtbot.keyClicks(window.face, "5")
    qtbot.keyClick(window.face, Qt.Key.Key_Backspace)
    assert (tool(window).length, len(tool(window).corners)) == ("", count)
    qtbot.keyClick(window.face, Qt.Key.Key_Backspace)
    assert len(tool(window).corners) == count - 1


def escape_with_a_tool(qtbot: QtBot, window: MainWindow) -> None:
    sketching(qtbot, window)
    qtbot.keyClicks(window.face, "5")
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert tool(window).length == ""
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert tool(window).pointer is None
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert window.document.view_state.tool == ""


def shift_with_a_tool(qtbot: QtBot, window: MainWindow) -> None:
    start = sketching(qtbot, window).corners[-1]
    _move(window, place(window, -50, -108), SHIFT, Qt.MouseButton.NoButton)
    pointer = tool(window).pointer
    assert pointer is not None
    assert pointer[1] == pytest.approx(start[1])


def enter_in_an_entry(qtbot: QtBot, window: MainWindow) -> None:
    drop_field = field(window)
    drop_field.selectAll()
    qtbot.keyClicks(drop_field, "7 1/8")
    qtbot.keyClick(drop_field, Qt.Key.Key_Return)
    assert window.document.design.mounts[0].drop == pytest.approx(180.975)
    assert QApplication.focusWidget() is not drop_field


def escape_in_an_entry(qtbot: QtBot, window: MainWindow) -> None:
    drop_field = field(window)
    before = drop_field.text()
    qtbot.keyClicks(drop_field, "99")
    qtbot.keyClick(drop_field, Qt.Key.Key_Escape)
    assert drop_field.text() == before
    assert window.document.history.past == ()


def stepped(key: Qt.Key, way: int):
    def proof(qtbot: QtBot, window: MainWindow) -> None:
        drop_field, before = field(window), window.document.design.mounts[0].drop
        qtbot.keyClick(drop_field, key)
        assert window.document.design.mounts[0].drop - before == pytest.approx(way * STEP)

    return proof


def in_the_manual(qtbot: QtBot, window: MainWindow):
    window.manual.show_at("measuring")
    qtbot.waitUntil(window.manual.reader.hasFocus)
    return window.manual


def escape_in_the_manual(qtbot: QtBot, window: MainWindow) -> None:
    manual = in_the_manual(qtbot, window)
    qtbot.keyClick(manual.reader, Qt.Key.Key_Escape)
    assert not manual.isVisible()


def find_in_the_manual(qtbot: QtBot, window: MainWindow) -> None:
    manual = in_the_manual(qtbot, window)
    qtbot.keyClick(manual.reader, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    assert manual.sought.hasFocus()


def back_in_the_manual(qtbot: QtBot, window: MainWindow) -> None:
    manual = in_the_manual(qtbot, window)
    manual.open("sheets")
    qtbot.keyClick(manual.reader, Qt.Key.Key_Left, ALT)
    assert manual.place == "measuring"


def on_in_the_manual(qtbot: QtBot, window: MainWindow) -> None:
    manual = in_the_manual(qtbot, window)
    qtbot.keyClick(manual.reader, Qt.Key.Key_PageDown)
    assert manual.reader.verticalScrollBar().value() > 0


PROOFS = {
    ("On the drawing", "Tab"): tab,
    ("On the drawing", "Tab while pointing"): tab_while_pointing,
    ("On the drawing", "Arrows"): arrows,
    ("On the drawing", "Shift+Arrows"): shift_arrows,
    ("On the drawing", "Enter"): enter_on_the_face,
    ("On the drawing", "Delete"): delete,
    ("On the drawing", "Figures"): figures_on_an_edge,
    ("On the drawing", "Esc"): escape_on_the_face,
    ("On the drawing", "+"): scales(Qt.Key.Key_Plus, NONE, lambda after, before: after > before),
    ("On the drawing", "-"): scales(Qt.Key.Key_Minus, NONE, lambda after, before: after < before),
    ("On the drawing", "Home"): scales(Qt.Key.Key_Home, NONE, lambda after, before: after == pytest.approx(before / 1.5)),
    ("On the drawing", "Shift+Home"): scales(Qt.Key.Key_Home, SHIFT, lambda after, before: after < before / 1.5),
    ("On the drawing", "Space+drag"): space,
    ("On the drawing", "Alt+drag"): alt_drag,
    ("On the drawing", "Shift+drag"): shift_drag,
    ("With a tool", "Figures"): figures,
    ("With a tool", "Tab"): tab_to_the_slope,
    ("With a tool", "Enter"): enter_with_a_tool,
    ("With a tool", "Backspace"): backspace,
    ("With a tool", "Esc"): escape_with_a_tool,
    ("With a tool", "Shift"): shift_with_a_tool,
    ("In an entry", "Enter"): enter_in_an_entry,
    ("In an entry", "Esc"): escape_in_an_entry,
    ("In an entry", "Up"): stepped(Qt.Key.Key_Up, 1),
    ("In an entry", "Down"): stepped(Qt.Key.Key_Down, -1),
    ("In this manual", "Esc"): escape_in_the_manual,
    ("In this manual", "Ctrl+F"): find_in_the_manual,
    ("In this manual", "Alt+Left"): back_in_the_manual,
    ("In this manual", "PgDown"): on_in_the_manual,
}


def test_every_listed_key_of_the_hand_has_a_proof() -> None:
    listed = [(group.title, shortcut.keys) for group in HAND for shortcut in group.shortcuts]
    assert len(listed) == len(set(listed))
    assert set(PROOFS) == set(listed)


@pytest.mark.parametrize("listed", PROOFS, ids=" ".join)
def test_a_listed_key_does_it(qtbot: QtBot, window: MainWindow, listed: tuple[str, str]) -> None:
    PROOFS[listed](qtbot, window)


@pytest.mark.parametrize("dark", [False, True])
def test_an_opened_menu_shows_its_pictures_in_the_ink_of_the_light(window: MainWindow, dark: bool) -> None:
    apply_theme(dark=dark)
    ink = palette(dark)["ink"]
    pictured = {record.title(): record.icon for record in menu_entries(window) if record.icon}
    for menu in window.menuBar().findChildren(QMenu):
        menu.aboutToShow.emit()
    shown = {action.text(): action.icon() for action in window.findChildren(QAction) if not action.icon().isNull()}
    assert shown.keys() == pictured.keys()
    for drawn in shown.values():
        image = drawn.pixmap(16, 16).toImage()
        inks = [image.pixelColor(x, y) for x in range(image.width()) for y in range(image.height())]
        assert any(colour.alpha() > 200 and abs(colour.lightness() - ink.lightness()) < 12 for colour in inks)


def test_ctrl_0_shows_the_work_in_both_views(qtbot: QtBot, window: MainWindow) -> None:
    views = window.face, window.cut.canvas
    before = [view.view for view in views]
    for view in views:
        view.zoom(3.0)
        view.push(20.0, 5.0)
    assert all(view.view != was for view, was in zip(views, before, strict=True))
    qtbot.keyClick(window, Qt.Key.Key_0, Qt.KeyboardModifier.ControlModifier)
    assert [view.view for view in views] == before
    assert not any(view.own for view in views)
