"""One step of a drag: reckoned, checked, drawn and painted, beside a bare widget that paints as many plain lines.

Processor time of this process, medians and the 99th of a hundred steps. ``python3 -m tests --bench``.
"""

from __future__ import annotations

import statistics
import time
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QLineF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QApplication, QWidget

from app.desk import Desk
from app.main_window import MainWindow
from app.program import settle
from assets import design_text
from geometry.design.design_text import from_text
from geometry.design.edits import move_lower

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from PySide6.QtGui import QPaintEvent
    from pytestqt.qtbot import QtBot

STEPS = 200
WARM = 20
SIZE = 1366, 768


class Bare(QWidget):
    """Paints lines all over itself."""

    def __init__(self, lines: int) -> None:
        super().__init__()
        self._lines = [QLineF(0.0, 3.0 * i, SIZE[0], 3.0 * i + 200.0) for i in range(lines)]

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for line in self._lines:
            painter.drawLine(line)


def milliseconds(step: Callable[[int], object]) -> list[float]:
    """Return the sorted times of all steps but the first few."""
    taken = []
    for number in range(WARM + STEPS):
        start = time.process_time()
        step(number)
        QApplication.processEvents()
        taken.append((time.process_time() - start) * 1000)
    return sorted(taken[WARM:])


@pytest.mark.parametrize("name", ["shallow-well-skiff", "twin-motor-launch"])
def test_a_drag_keeps_up_with_the_hand(
    name: str, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    design = from_text(design_text(name))
    desk = Desk(design)
    window = MainWindow(desk)
    qtbot.addWidget(window, before_close_func=lambda one: one.desk.save(tmp_path / "done.boltwell"))
    window.resize(*SIZE)
    window.show()
    qtbot.waitExposed(window)
    settle()  # as the program does once its window is up
    # The lower pair goes up and down by a hand's breadth, and no place comes twice.
    designs = [move_lower(design, 0, 0.0, abs(i % 80 - 40) + i * 1e-3) for i in range(WARM + STEPS)]
    assert len({one.mounts[0].drop for one in designs}) == len(designs)
    ours = milliseconds(lambda i: desk.preview(designs[i]))
    desk.cancel()
    marks = len(window.face.marks()) + len(window.cut.canvas.marks())

    bare = Bare(marks)
    qtbot.addWidget(bare)
    bare.resize(*SIZE)
    bare.show()
    qtbot.waitExposed(bare)
    theirs = milliseconds(lambda _: bare.update())
    median, worst = statistics.median(ours), ours[STEPS * 99 // 100 - 1]
    with capsys.disabled():
        print(
            f"\ndrag step of {name}: median {median:.1f} ms, 99th of a hundred {worst:.1f} ms; {marks} bare lines in "
            f"{statistics.median(theirs):.1f} ms: {median / statistics.median(theirs):.1f} times"
        )
    assert median < 60.0  # what a hand feels as lag, about (common practice, no source), on a slow machine
