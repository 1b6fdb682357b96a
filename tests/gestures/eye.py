"""The program in a second process, with an observer: lines of JSON ask for the places of things, and it answers.

The eye moves nothing. The test that asks moves the mouse and the keyboard.
"""

from __future__ import annotations

import json
import sys
import time
from typing import Any

from PySide6.QtCore import QObject, QPoint, QSocketNotifier, QTimer
from PySide6.QtWidgets import QApplication, QMenu, QWidget

from app.window import program
from app.window.main_window import MainWindow
from geometry.design_text import to_text

TICK = 5  # ms


class Eye(QObject):
    """Answers what is asked on standard input, and measures the longest stop of the event loop."""

    def __init__(self) -> None:
        super().__init__()
        self._window = next(widget for widget in QApplication.topLevelWidgets() if isinstance(widget, MainWindow))
        self._gap, self._last = 0.0, time.thread_time()
        self._timer = QTimer(self, interval=TICK)
        self._timer.timeout.connect(self._tick)
        self._timer.start()
        self._ear = QSocketNotifier(sys.stdin.fileno(), QSocketNotifier.Type.Read, self)
        self._ear.activated.connect(self._answer)

    def _tick(self) -> None:
        """Note the work of this thread since the last tick: on a machine that is busy elsewhere a clock would blame us."""
        now = time.thread_time()
        self._gap, self._last = max(self._gap, now - self._last), now

    def _answer(self) -> None:
        line = sys.stdin.readline()
        if not line:
            self._ear.setEnabled(False)
            return
        what, *words = json.loads(line)
        print(json.dumps(getattr(self, what)(*words)), flush=True)
        self._last = time.thread_time()  # answering is none of the program's work

    def baseline(self) -> float:
        """Return how long this machine takes to count to a million [s]: the measure for its gaps."""
        began = time.thread_time()
        for _ in range(1_000_000):
            pass
        return time.thread_time() - began

    def state(self) -> dict[str, Any]:
        """Return what the window shows and holds."""
        document, focus = self._window.document, QApplication.focusWidget()
        return {
            "design": to_text(document.design), "verdict": document.checked.verdict, "guesses": document.checked.guesses,
            "answer": self._window.answer.sentence, "focus": focus.accessibleName() if focus else "",
            "in_sight": focus is not None and not focus.visibleRegion().isEmpty(),
            "steps": [step.label for step in document.history.steps], "section": document.view_state.section,
            "lit": document.view_state.lit, "chosen": document.view_state.chosen, "tool": document.view_state.tool,
            "said": self._window.foot.said, "start": not self._window.central.shows_drawing,
            "sheets": document.view_state.sheets,
            "gap": self._gap,
            "pages": "sheets" in self._window.__dict__ and self._window.sheets.mode.made is not None,
            "list": QApplication.activePopupWidget() is not None,
            "question": QApplication.activeModalWidget() is not None,
        }  # fmt: skip

    def front(self) -> int:
        """Return the number by which the screen knows the window, or the question, that is in front."""
        return int((QApplication.activeModalWidget() or self._window).winId())

    def control(self, name: str) -> list[int] | None:
        """Return the place of the visible control called ``name``, or with a name that begins so."""
        widgets = self._window.findChildren(QWidget)
        seen = [widget for widget in widgets if widget.isVisible() and not widget.visibleRegion().isEmpty()]
        control = next((widget for widget in seen if widget.accessibleName().startswith(name)), None)
        return _middle(control, control.visibleRegion().boundingRect().center()) if control else None

    def answer_of(self, words: str) -> list[int] | None:
        """Return the place of an answer in the open list."""
        menu = QApplication.activePopupWidget()
        if not isinstance(menu, QMenu):
            return None
        action = next(action for action in menu.actions() if action.text().startswith(words))
        return _middle(menu, menu.actionGeometry(action).center())

    def face(self, u: float, v: float) -> list[int]:
        """Return the screen position of a place on the transom's face; (u, v) [mm]."""
        face = self._window.face
        assert face.view is not None
        return _middle(face, face.place_of(face.view.to_paper((u, v))).toPoint())


def _middle(widget: QWidget, at: QPoint) -> list[int]:
    there = widget.mapToGlobal(at)
    return [there.x(), there.y()]


def main() -> int:
    """Start the program as it always starts, and open the eye once its window is up."""
    resume, eyes = program.resume_collector, list[Eye]()

    def resume_and_look() -> None:
        resume()
        eyes.append(Eye())
        print(json.dumps("ready"), flush=True)

    program.resume_collector = resume_and_look
    return program.run()


if __name__ == "__main__":
    sys.exit(main())
