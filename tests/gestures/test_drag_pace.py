"""The pace of a drag: the drawing at once, the ring and the words in turn, figures at rest."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QApplication

from app.canvas.port_or_starboard_first import tightest_side
from assets import design_text
from geometry.design_text import from_text
from geometry.edits.edits import move_lower
from geometry.judge.check import check
from templates_out.drawing.marks import Circle, Mark, Text
from templates_out.views.detail import detail_marks
from templates_out.views.face import face_marks
from templates_out.views.view_focus import ViewFocus
from tests.gestures.conftest import pixel, place

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pytestqt.qtbot import QtBot

    from app.canvas.drawing import Drawing
    from app.window.main_window import MainWindow
    from geometry.design.design import Design

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


def lower_hole(qtbot: QtBot, window: MainWindow) -> QPoint:
    """Go to the lower starboard hole; return its place."""
    mount = window.document.design.mounts[0]
    assert mount.bracket.lower is not None
    start = place(window, mount.bracket.lower.half_spacing, (mount.upper_at or 0.0) - (mount.drop or 0.0))
    qtbot.mouseMove(window.face, start)
    return start


@pytest.fixture
def held(qtbot: QtBot, window: MainWindow) -> Iterator[QPoint]:
    """Where the lower starboard hole was taken; the button is held until the test ends, or lets it go."""
    start = lower_hole(qtbot, window)
    qtbot.mousePress(window.face, LEFT, NONE, start)
    yield start
    qtbot.mouseRelease(window.face, LEFT, NONE, start)


def ring(window: MainWindow) -> tuple[Mark, ...]:
    return window.cut.canvas.ring.marks()


def fresh_ring(window: MainWindow) -> tuple[Mark, ...]:
    cut = window.cut.canvas
    assert cut.view is not None
    return detail_marks(window.document.checked, cut.view, cut.side, 0, cut.cut_focus, times=cut.ring.times)


def test_the_ring_comes_in_its_turn_while_a_button_is_held(
    qtbot: QtBot, window: MainWindow, held: QPoint, monkeypatch: pytest.MonkeyPatch
) -> None:
    QApplication.processEvents()
    before = ring(window)
    assert any(isinstance(mark, Circle) and mark.part == "detail" for mark in before)
    qtbot.mouseMove(window.face, held - QPoint(0, round(12.7 / pixel(window))))
    assert window.document.checked.design != window.document.design
    assert ring(window) is before
    qtbot.waitUntil(lambda: ring(window) == fresh_ring(window))
    assert ring(window) != before
    qtbot.mouseMove(window.face, held - QPoint(0, round(38.1 / pixel(window))))
    qtbot.mouseRelease(window.face, LEFT, NONE, held - QPoint(0, round(38.1 / pixel(window))))
    assert window.document.checked.design == window.document.design
    assert ring(window) == fresh_ring(window)  # at once


def test_the_cut_stays_on_its_side_while_a_button_is_held(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    """A millimetre lower, the port bolt of the twin launch has less room than the starboard one."""
    window = opened(from_text(design_text("twin-motor-launch")))
    cut, start = window.cut.canvas, lower_hole(qtbot, window)
    view, lower = cut.view, move_lower(window.document.design, 0, 0.0, -2.0)
    assert (cut.side, tightest_side(check(lower))) == ("starboard", "port")
    qtbot.mousePress(window.face, LEFT, NONE, start)
    window.document.preview(lower)
    assert (cut.side, cut.view) == ("starboard", view)
    qtbot.mouseRelease(window.face, LEFT, NONE, start)
    window.document.cancel()
    window.document.commit("Drop", lower)
    assert cut.side == "port"


def test_of_two_turns_in_a_row_the_later_one_is_seen(qtbot: QtBot, window: MainWindow, held: QPoint) -> None:
    """The hand rests after a quick move: what the ring shows is what is there, not what was a step before."""
    QApplication.processEvents()
    ring_of = window.cut.canvas.ring
    for up in (12.7, 25.4):
        window.document.preview(move_lower(window.document.design, 0, 0.0, up))
        ring_of.show_checked(window.document.checked, window.document.view_state)
    qtbot.waitUntil(lambda: ring(window) == fresh_ring(window))
    window.document.cancel()


def test_without_a_button_held_the_ring_is_there_at_once(qtbot: QtBot, window: MainWindow) -> None:
    before = ring(window)
    window.document.preview(move_lower(window.document.design, 0, 0.0, 12.7))
    assert ring(window) == fresh_ring(window) != before
    window.document.cancel()
    assert ring(window) == before


def test_the_painted_ring_is_the_same_as_its_marks(qtbot: QtBot, window: MainWindow) -> None:
    """The ring's picture is in the place of the ring's marks."""
    cut = window.cut.canvas
    circle = next(mark for mark in ring(window) if isinstance(mark, Circle) and mark.part == "detail")
    whole = cut.grab().toImage()
    rim = cut.place_of((circle.centre[0] + circle.radius, circle.centre[1])).toPoint()
    around = [whole.pixelColor(rim + QPoint(dx, 0)).lightness() for dx in range(-2, 3)]
    assert min(around) < max(around) - 60


def figures(marks: tuple[Mark, ...]) -> dict[str, tuple[float, float]]:
    return {mark.part: mark.at for mark in marks if isinstance(mark, Text) and mark.part.startswith("measure:")}


def test_a_figure_keeps_its_place_in_a_drag_and_finds_the_best_one_after(
    qtbot: QtBot, window: MainWindow, held: QPoint
) -> None:
    face = window.face
    QApplication.processEvents()
    columns = []
    for up in range(2, 40, 2):
        qtbot.mouseMove(face, held - QPoint(0, up))
        columns.append(round(figures(face.marks())["measure:mounts.0.drop"][0], 6))
    changes = sum(before != after for before, after in pairwise(columns))
    assert changes <= 2  # it stays in its column, however the pair rises, until something is in its way
    qtbot.mouseRelease(face, LEFT, NONE, held - QPoint(0, 38))
    assert face.view is not None
    focus = ViewFocus(0, window.document.view_state.chosen, window.document.view_state.lit)
    assert figures(face.marks()) == figures(face_marks(check(window.document.design), face.view, focus))


def differing(window: MainWindow, view: Drawing) -> int:
    """Return how many pixels of a view on the screen differ from those of a view that is painted whole."""
    corner, size = view.mapTo(window, QPoint(0, 0)), view.size()
    shown = window.screen().grabWindow(window.winId(), corner.x(), corner.y(), size.width(), size.height()).toImage()
    whole = view.grab().toImage()
    assert shown.size() == whole.size()
    pairs = ((shown.pixelColor(x, y), whole.pixelColor(x, y)) for x in range(size.width()) for y in range(size.height()))
    return sum(abs(a.lightness() - b.lightness()) > 24 for a, b in pairs)


def settle(qtbot: QtBot, window: MainWindow) -> None:
    """Wait until the ring had its turn, and is painted."""
    qtbot.waitUntil(lambda: ring(window) == fresh_ring(window))
    QApplication.processEvents()


def test_a_step_of_a_drag_leaves_nothing_old_on_the_screen(qtbot: QtBot, window: MainWindow, held: QPoint) -> None:
    """Only what changed is painted again. Face and cut are then as if they were painted whole."""
    face, cut = window.face, window.cut.canvas
    areas: dict[Drawing, list[int]] = {face: [], cut: []}
    for view in (face, cut):
        view.installEventFilter(Painted(view, areas[view]))
    for across, up in ((0, -30), (3, -70), (40, -64), (-25, 20), (-25, 60), (1, 2), (1, 3)):
        qtbot.mouseMove(face, held + QPoint(across, up))
        QApplication.processEvents()
    assert face.figure
    settle(qtbot, window)
    for view in (face, cut):
        assert any(area < view.width() * view.height() / 2 for area in areas[view])
        assert differing(window, view) == 0


def test_the_ring_comes_in_its_turn_and_leaves_nothing_old_on_the_screen(
    qtbot: QtBot, window: MainWindow, held: QPoint
) -> None:
    cut = window.cut.canvas
    for up in (12, 40, -50):
        qtbot.mouseMove(window.face, held - QPoint(0, up))
        settle(qtbot, window)
        assert differing(window, cut) == 0


class Painted(QObject):
    """Writes down how large an area each painting of a widget covers [square px]."""

    def __init__(self, parent: QObject, areas: list[int]) -> None:
        super().__init__(parent)
        self._areas = areas

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        if isinstance(event, QPaintEvent):
            size = event.region().boundingRect().size()
            self._areas.append(size.width() * size.height())
        return False


@pytest.mark.parametrize("key", [Qt.Key.Key_Escape, Qt.Key.Key_Z])
def test_a_drag_that_is_given_up_leaves_the_cut_as_it_was_though_the_button_is_still_held(
    qtbot: QtBot, window: MainWindow, key: Qt.Key
) -> None:
    """The figures that found no place in it are there again, and the ring has the scale of what it shows."""
    window.document.commit("Drop", move_lower(window.document.design, 0, 0.0, 25.4))
    held, cut = lower_hole(qtbot, window), window.cut.canvas
    before = cut.marks()
    if key == Qt.Key.Key_Z:
        window.document.undo()
        before = cut.marks()
        window.document.redo()
    qtbot.mousePress(window.face, LEFT, NONE, held)
    for down in range(10, 400, 10):
        qtbot.mouseMove(window.face, held + QPoint(0, down))
        cut.grab()
    assert cut.marks() != before
    if key == Qt.Key.Key_Z:
        window.document.undo()
    else:
        qtbot.keyClick(window.face, key)
    cut.grab()
    qtbot.mouseRelease(window.face, LEFT, NONE, held + QPoint(0, 390))
    assert cut.marks() == before
