"""How long a ghost takes, from the focus on a rung to its paint in face and cut, by processor time.

``python3 -m tests --bench``.
"""

from __future__ import annotations

import time
from statistics import median
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.document.document import Document
from app.window.main_window import MainWindow
from assets import design_text
from geometry.design_text import from_text
from tests.gestures.conftest import kept

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

__all__ = ["kept"]  # a fixture that is used here

GHOST = 0.050  # s of processor time for one ghost …
COUNTED = 0.028  # … where counting to a million takes so long [s]; a slower machine has longer


def counting() -> float:
    """Return how long counting to a million takes [s]."""
    start = time.process_time()
    for _ in range(1_000_000):
        pass
    return time.process_time() - start


@pytest.mark.parametrize("name", ["shallow-well-skiff", "twin-motor-launch"])
def test_a_ghost_is_drawn_at_once(
    qtbot: QtBot, kept: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    window = MainWindow(Document(from_text(design_text(name))))
    qtbot.addWidget(window, before_close_func=lambda window: window.document.save(kept / "done.boltwell", over=True))
    window.resize(1366, 708)
    window.show()
    qtbot.waitExposed(window)
    window.ladder.head.click()
    qtbot.waitUntil(lambda: window.findings._tracker.sure and any(rung.isVisible() for rung in window.ladder.rungs))
    took = []
    for rung in [rung for rung in window.ladder.rungs if rung.isEnabled() and not rung.present][:12]:
        start = time.process_time()
        rung.setFocus(Qt.FocusReason.TabFocusReason)
        for _ in range(3):
            QApplication.processEvents()
        took.append(time.process_time() - start)
        assert window.document.view_state.ghost is not None
    counted = counting()
    with capsys.disabled():
        print(f"\n{name}: a ghost takes {median(took) * 1000:.0f} ms, at most {max(took) * 1000:.0f} ms; "
              f"counting to a million {counted * 1000:.0f} ms")  # fmt: skip
    assert median(took) <= GHOST * max(1.0, counted / COUNTED)
