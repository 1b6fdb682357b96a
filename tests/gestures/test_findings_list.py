"""The list of findings: groups, one line each, two lines and the cure where it is open, and the order of a screen reader."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleInterface, QFontMetrics

from assets import design_names, design_text
from geometry.design_text import from_text
from geometry.edits.edits import set_units, with_mount
from tests.designs import changed
from tests.gestures.conftest import come_to_rest
from tests.gestures.looking import run_out

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pytestqt.qtbot import QtBot

    from app.findings.finding_row import FindingRow
    from app.window.main_window import MainWindow
    from geometry.design.design import Design
    from geometry.units.units import Unit

LEFT = Qt.MouseButton.LeftButton


def titles(window: MainWindow) -> list[str]:
    return [row.title.text() for row in window.findings.rows if row.title.isVisible()]


def row(window: MainWindow, part: str) -> FindingRow:
    return next(each for each in window.findings.rows if each.head.line.part == part)


def rest(qtbot: QtBot, window: MainWindow) -> None:
    """Wait for the ladder and the chances: lines go to other groups then."""
    qtbot.waitUntil(lambda: window.findings._tracker.sure and window.findings._tracker.rungs is not None)
    come_to_rest()


def test_groups_come_in_the_order_of_what_to_do(window: MainWindow) -> None:
    assert titles(window) == ["Must change", "Tight", "Loads", "Before you launch"]
    assert window.findings._fold.text().startswith("Clear (")
    shown = [each.head.line for each in window.findings.rows]
    assert [line.part for line in shown][:2] == ["Lower port washer", "Lower starboard washer"]
    assert "clear" not in {line.group for line in shown}


def test_a_clear_boat_begins_with_what_it_has(opened: Callable[[Design], MainWindow], fitting: Design) -> None:
    assert "Must change" not in titles(opened(fitting))


def test_every_line_keeps_its_height_when_lines_come_and_go(qtbot: QtBot, window: MainWindow) -> None:
    """A row that was hidden, or had another line, has the height of its new line; no words are cut off."""
    for name in ("twin-motor-launch", "shallow-well-skiff", "thrice-drilled-runabout"):
        window.document.new(from_text(design_text(name)))
        rest(qtbot, window)
        qtbot.mouseClick(window.findings.rows[-1].head, LEFT)
        qtbot.mouseClick(window.findings.rows[2].head, LEFT)
        come_to_rest()
        for each in window.findings.rows:
            assert each.head.height() == each.head.heightForWidth(each.head.width()), (name, each.head.line.part)
            assert each.height() == each.heightForWidth(each.width()), (name, each.head.line.part)


def test_the_fold_shows_the_clear_ones_and_hides_them_again(qtbot: QtBot, window: MainWindow) -> None:
    before = window.findings.shown
    count = int(window.findings._fold.text().partition("(")[2].rstrip(")"))
    qtbot.mouseClick(window.findings._fold, LEFT)
    assert len(window.findings.shown) == len(before) + count
    assert window.findings._fold.accessibleDescription() == "open"
    qtbot.mouseClick(window.findings._fold, LEFT)
    assert window.findings.shown == before


def test_a_press_opens_a_line_in_place_and_closes_it(qtbot: QtBot, window: MainWindow) -> None:
    rest(qtbot, window)
    edge = row(window, "Both upper holes")
    order = window.findings.shown
    qtbot.mouseClick(edge.head, LEFT)
    assert edge.text.startswith("Move the upper bolts away from the edge")
    assert [each.head.line.part for each in window.findings.rows if each.text] == ["Both upper holes"]
    assert window.findings.shown == order
    qtbot.mouseClick(edge.head, LEFT)
    assert not any(each.text for each in window.findings.rows)


def test_keys_go_from_line_to_line_and_open_them(qtbot: QtBot, window: MainWindow) -> None:
    rest(qtbot, window)
    window.findings.take_focus()
    heads = [each.head for each in window.findings.rows]
    assert heads[0].hasFocus()
    qtbot.keyClick(heads[0], Qt.Key.Key_Down)
    assert heads[1].hasFocus()
    qtbot.keyClick(heads[1], Qt.Key.Key_Return)
    assert window.findings.rows[1].text
    qtbot.keyClick(heads[1], Qt.Key.Key_Up)
    assert heads[0].hasFocus()
    for head in (*heads, window.findings._fold):
        head.setFocus()
        qtbot.keyClick(head, Qt.Key.Key_Down)
    assert window.findings._fold.hasFocus()


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("name", design_names())
def test_an_open_line_has_at_most_two_lines(qtbot: QtBot, window: MainWindow, name: str, unit: Unit) -> None:
    """At 1366 x 768. All the rest is behind More, and nothing is lost there."""
    window.document.new(set_units(from_text(design_text(name)), unit))
    rest(qtbot, window)
    for each in window.findings.rows:
        if not each.text:
            qtbot.mouseClick(each.head, LEFT)
        come_to_rest()
        label = each._body.short
        metrics = QFontMetrics(label.font())
        margins = label.contentsMargins()
        assert label.height() - margins.top() - margins.bottom() <= 2 * metrics.lineSpacing() + 2, each.text
        short = each.text
        if not each.more.isVisible():
            said = " ".join(dict.fromkeys(line.text for line in each.head.line.lines))
            assert said.removeprefix("Port and starboard alike. ") == short.replace("\N{NO-BREAK SPACE}", " ")
            continue
        qtbot.mouseClick(each.more, LEFT)
        flat = each.text.replace("\n", " ")
        assert all(line.text.split(". ")[0] in flat.replace("\N{NO-BREAK SPACE}", " ") for line in each.head.line.lines)
        assert len(flat) >= len(short)
        qtbot.mouseClick(each.more, LEFT)
        assert each.text == short


def test_a_load_shows_its_sums_one_press_away(qtbot: QtBot, window: MainWindow) -> None:
    rest(qtbot, window)
    load = row(window, "Torque on the core")
    assert load.head.line.bar is not None
    qtbot.mouseClick(load.head, LEFT)
    assert load.more.text() == "The sums"
    assert "psi" not in load.text
    qtbot.mouseClick(load.more, LEFT)
    assert "psi" in load.text
    assert load.more.text() == "Less"


@pytest.mark.parametrize("wide", [1024, 1366])
def test_the_bars_of_all_loads_begin_and_end_together(window: MainWindow, wide: int) -> None:
    window.resize(wide, 708)
    for name in design_names():
        window.document.new(from_text(design_text(name)))
        come_to_rest()
        heads = [each.head for each in window.findings.rows if each.head.line.bar is not None]
        bars = [head.places(head.width())[1] for head in heads]
        assert len(bars) > 1
        assert len({(bar.left(), bar.right()) for bar in bars}) == 1, name


def test_a_line_next_opened_begins_short_again(qtbot: QtBot, window: MainWindow) -> None:
    rest(qtbot, window)
    load, edge = row(window, "Torque on the core"), row(window, "Both upper holes")
    qtbot.mouseClick(load.head, LEFT)
    qtbot.mouseClick(load.more, LEFT)
    qtbot.mouseClick(edge.head, LEFT)
    qtbot.mouseClick(load.head, LEFT)
    assert load.more.text() == "The sums"


def test_no_line_is_known_by_its_colour_alone(window: MainWindow) -> None:
    """State, part, what it hits and figure are words for a screen reader; a load names its limit and what is advised."""
    said = {each.head.line.part: each.head.accessibleName() for each in window.findings.rows}
    assert said["Lower port washer"] == "fouled, Lower port washer, overlaps the corner, 1/4 in"
    assert said["Torque on the core"] == "near the limit, Torque on the core, 80 % of the limit, 60 % is advised"


def spoken(window: MainWindow) -> Iterator[str]:
    """Yield the names of the list's parts in the order in which the platform's accessibility interface gives them."""

    def walk(parent: QAccessibleInterface) -> Iterator[str]:
        for index in range(parent.childCount()):
            child = parent.child(index)
            if child is None or child.state().invisible:
                continue
            if child.role() in (QAccessible.Role.StaticText, QAccessible.Role.Button):
                yield child.text(QAccessible.Text.Name)
            yield from walk(child)

    yield from walk(QAccessible.queryAccessibleInterface(window.findings))


def test_a_screen_reader_reads_the_list_from_above_to_below(qtbot: QtBot, window: MainWindow) -> None:
    window.document.new(with_mount(window.document.design, 0, drop=230.0))  # more rows, made later
    rest(qtbot, window)
    window.findings._turn()
    come_to_rest()
    seen = [words for words in spoken(window) if words]
    heads = [each.head.accessibleName() for each in window.findings.rows]
    fold = window.findings._fold.accessibleName()
    dull = [each.head.accessibleName() for each in window.findings._pools[0].rows if each.isVisible()]
    wanted = [*dull, fold, *heads[len(dull):]]
    assert [words for words in seen if words in wanted] == wanted
    for title in titles(window):
        first = next(each for each in window.findings.rows if each.title.text() == title)
        assert seen.index(title) == seen.index(first.head.accessibleName()) - 1


def test_a_cure_belongs_to_the_open_line_when_chances_change_the_order(
    qtbot: QtBot, opened: Callable[[Design], MainWindow]
) -> None:
    """Before the chances come, the first line is about the upper holes. Afterwards it is the lower washers."""
    boat = from_text(design_text("tapered-work-boat"))
    window = opened(changed(boat, mounts__0__drop=(boat.mounts[0].drop or 0.0) + 1.5))
    qtbot.waitUntil(lambda: window.findings._tracker.rungs is not None)
    first = window.findings._opened()
    rest(qtbot, window)
    now = window.findings._opened()
    assert first is not None
    assert now is not None
    assert first.key != now.key, "no chance has changed the order"
    button = window.findings.button
    assert button is None or now.name in button.accessibleName()
    assert window.findings._sought == now.key


def test_an_open_line_has_room_at_once_for_what_comes_later(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    """The sentence about a change of state comes after the line was opened. No text is cut, and no event is awaited."""
    window = opened(from_text(design_text("tapered-work-boat")))
    rest(qtbot, window)
    first = window.findings.rows[0]
    more = first.more
    assert more is not None
    qtbot.mouseClick(more, LEFT)
    come_to_rest()
    for words in ("If the corner were larger, this would turn. " * 12, ""):
        window.findings._flip, window.findings._turned = words, first.head.line.key
        window.findings._show()
        body = first._body
        assert body is not None
        assert body.whole.height() == body.whole.heightForWidth(body.whole.width())
        assert body.height() >= body.whole.height() + body.foot.height()
        assert first.height() >= first.head.height() + body.height()


def test_nothing_runs_out_of_a_narrow_column(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    """A cure with many words has two lines there, and More is below it."""
    window = opened(set_units(from_text(design_text("tapered-work-boat")), "mm"))
    window.resize(1024, 708)
    rest(qtbot, window)
    holes = row(window, "Both upper holes")
    assert window.findings._opened() is holes.head.line  # as the first line
    qtbot.waitUntil(lambda: window.findings.button is not None)
    come_to_rest()
    assert not run_out(window)
    button = window.findings.button
    assert button is not None
    right = button.mapTo(window.findings, button.rect().topRight()).x()
    assert right < window.findings.width() - 8
    assert holes.more.isVisible()
