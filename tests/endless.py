"""``python3 -m tests.endless``: a day of editing in one window without a screen; prints memory and response as it goes.

    --edits N    how many actions (10,000)
    --every N    after how many actions memory and response are measured (1,000: an hour, or less)
    --seed N     of the first action (0); the same seed does the same

Drags, steps, typed entries, undo, redo, panels, sections, units, sheets, manual, in a random order. The bars, by assumption:
under 300 MB, and on average no action slower by more than a fifth than after the first part. The response is measured
with the same actions on the same boat each time. Times are processor times of the window's thread, in units of a fixed
loop that is timed with them, since the machine may be busy.

Measured so far: 218 MB and 1,556 widgets after 500 actions. The wells' sections grew by 22 kB an action until their cache
had a bound. The 10,000 have not been run to their end yet.
"""

from __future__ import annotations

import argparse
import gc
import math
import os
import random
import statistics
import sys
import tempfile
import time
from collections import defaultdict
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from app.canvas.pen import SCREEN
from app.document.document import Document
from app.document.examples import demonstration
from app.document.recovery import Autosave
from app.entries.entry_text import lines
from app.ui.deciding_modes import COMPARE, FIT, LOW_ENOUGH, keep_placement, toggle, toggle_zone
from app.window.main_window import MainWindow
from geometry.edits.edits import move_lower, set_units
from geometry.errors import OwnerError
from geometry.solid.placed_bolts import bolts

if TYPE_CHECKING:
    from collections.abc import Callable

MOST_MB, MOST_SLOWER = 300.0, 1.2
_REST = 0.15  # s in which panels, ladder and chances are calculated after an action
_TIMES = 5  # how often each action is timed; its median counts
_LEFT, _NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


class Session:
    """A window, and what a hand does with it."""

    def __init__(self, seed: int, boat: str = "shallow-well-skiff") -> None:
        self.document = Document(demonstration(boat))
        self.saver = Autosave()
        self.saver.follow(self.document)
        self.window = MainWindow(self.document)
        self.window.resize(1366, 708)
        self.window.show()
        self._chance = random.Random(seed)
        self._first, self._view_state = self.document.design, self.document.view_state
        self._usual: tuple[tuple[Callable[[], None], int], ...] = (
            (self.drag, 15), (self.step, 40), (self.type, 20), (self.undo, 4), (self.redo, 4), (self.go_to, 1),
            (self.section, 4), (self.zone, 2), (self.in_space, 1), (self.other_way, 1), (self.fit, 2), (self.low_enough, 2),
            (self.compare, 1), (self.units, 2), (self.sheets, 1), (self.manual, 1), (self.survey, 1),
        )  # fmt: skip
        settle(0.5)

    def act(self) -> None:
        """Do one thing by chance. A refusal is one sentence, and part of the day."""
        doers, weights = zip(*self._usual, strict=True)
        do = self._chance.choices(doers, weights)[0]
        with suppress(OwnerError):
            do()
        settle(_REST if do in (self.fit, self.low_enough, self.sheets) else 0.0)

    def response(self) -> dict[str, float]:
        """Return how long each action takes until it is painted, on the first boat, in units of a fixed loop."""
        self.document.set_view_state(self._view_state)
        self.document.commit("The first boat again", self._first)
        timed: defaultdict[str, list[float]] = defaultdict(list)
        twice = (self.zone, self.in_space, self.other_way, self.fit, self.low_enough, self.compare, self.units)
        for _ in range(_TIMES):
            for do in (self.drag, self.undo, self.redo, self.undo, *(do for each in twice for do in (each, each)), self.sheets):
                settle(_REST)
                unit, start = loop_time(), time.thread_time()
                do()
                QApplication.processEvents()
                timed[do.__name__].append((time.thread_time() - start) / unit)
        return {name: statistics.median(each) for name, each in timed.items()}

    def close(self) -> None:
        """Close the window; nothing is asked and nothing stays."""
        self.saver.discard()
        self.document.close()
        self.window.deleteLater()
        self.document.deleteLater()
        settle(0.0)

    def drag(self) -> None:
        """Drag the lower holes with the pointer, in four steps."""
        face, drawn = self.window.face, self.document.checked.design
        if self.document.view_state.sheets or face.view is None:
            return
        hole = next((bolt for bolt in bolts(drawn) if bolt.name == "lower starboard"), None)
        if hole is None:
            return
        start = face.place_of(face.view.to_paper((hole.u, hole.v))).toPoint()
        up = round(self._chance.uniform(-1, 1) * 25.0 * face.view.scale * SCREEN)
        QTest.mousePress(face, _LEFT, _NONE, start)
        for step in range(1, 5):
            QTest.mouseMove(face, start + QPoint(0, up * step // 4))
            QApplication.processEvents()
        QTest.mouseRelease(face, _LEFT, _NONE, start + QPoint(0, up))

    def step(self) -> None:
        """Move the lower holes up or down by less than half an inch."""
        self.document.commit("Drop", move_lower(self.document.design, 0, 0.0, self._chance.uniform(-12.0, 12.0)))

    def type(self) -> None:
        """Type another length into an entry of the card."""
        card, number = self.window.card, self._chance.randrange(1, 9)
        entries = lines(self.document.design, self.document.view_state.mount, number)
        if not entries or self.document.view_state.sheets:
            return
        line = self._chance.choice(entries)
        card.go_to(line.key)
        field = QApplication.focusWidget()
        if isinstance(field, QLineEdit):
            before, after = ("1/2", "9/16") if self._chance.random() < 0.5 else ("0", "1")
            field.setText(field.text().replace(before, after))
            field.setModified(True)
            QTest.keyClick(field, Qt.Key.Key_Return)

    def undo(self) -> None:
        """Take a step back."""
        self.document.undo()

    def redo(self) -> None:
        """Do a step again."""
        self.document.redo()

    def go_to(self) -> None:
        """Go back by up to twenty steps, and to the last step again."""
        last = len(self.document.history.steps) - 1
        self.document.go_to(max(0, last - self._chance.randrange(20)))
        QApplication.processEvents()
        self.document.go_to(last)

    def section(self) -> None:
        """Open a section of the card."""
        self.document.set_view_state(replace(self.document.view_state, section=self._chance.randrange(9)))

    def zone(self) -> None:
        """Show or hide the drillable zone."""
        toggle_zone(self.document)

    def in_space(self) -> None:
        """Show the isometric picture or the cut."""
        self.document.set_view_state(replace(self.document.view_state, isometric=not self.document.view_state.isometric))

    def other_way(self) -> None:
        """Show or hide the other way to drill."""
        self.document.set_view_state(replace(self.document.view_state, other_way=not self.document.view_state.other_way))

    def fit(self) -> None:
        """Open or close the search for a fit."""
        toggle(self.document, FIT)

    def low_enough(self) -> None:
        """Open or close the panel on the motor's height."""
        toggle(self.document, LOW_ENOUGH)

    def compare(self) -> None:
        """Keep a place and open the comparison, or close it."""
        keep_placement(self.document)
        toggle(self.document, COMPARE)

    def units(self) -> None:
        """Change between inches and millimetres."""
        now = self.document.design
        self.document.commit("Units", set_units(now, "mm" if now.units == "in" else "in"))

    def sheets(self) -> None:
        """Make all sheets, see them, and go back to the drawing."""
        if self.document.view_state.sheets:
            return
        self.window.make_sheets()
        settle(1.5)
        self.window.leave_sheets()

    def manual(self) -> None:
        """Open the manual, and close it."""
        self.window.show_manual()
        settle(0.1)
        self.window.manual.close()

    def survey(self) -> None:
        """Open the window of the survey, and close it."""
        self.window.show_survey()
        settle(0.1)
        self.window.survey.close()


def settle(seconds: float) -> None:
    """Let the event loop run for some time, and delete what waits for it."""
    until = time.monotonic() + seconds
    while True:
        QApplication.processEvents()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        if time.monotonic() >= until:
            return
        time.sleep(0.002)


def memory() -> float:
    """Return the memory that the process has now [MB]; 0 where the system does not say."""
    status = Path("/proc/self/status")
    if not status.exists():
        return 0.0
    return next(int(line.split()[1]) for line in status.read_text().splitlines() if line.startswith("VmRSS")) / 1024


def loop_time() -> float:
    """Return the processor time of a fixed loop, the shortest of three [s]."""
    shortest = math.inf
    for _ in range(3):
        start, total = time.thread_time(), 0
        for number in range(20_000):
            total += number * number
        shortest = min(shortest, time.thread_time() - start)
    return shortest


def main() -> int:
    """Return 0 where the session keeps to the bars, else 1."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--edits", type=int, default=10_000)
    words.add_argument("--every", type=int, default=500)
    words.add_argument("--seed", type=int, default=0)
    asked = words.parse_args()
    with tempfile.TemporaryDirectory() as home:
        for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
            os.environ[name] = home
        return _run(asked.edits, asked.every, asked.seed)


def _run(edits: int, every: int, seed: int) -> int:
    from app.ui.theme import start

    application = start()
    session = Session(seed)
    first: dict[str, float] = {}
    worst = highest = 0.0
    for number in range(1, edits + 1):
        session.act()
        highest = max(highest, memory())
        if number % every:
            continue
        now = session.response()
        first = first or now
        shares = {name: now[name] / first[name] for name in first}
        mean, slowest = statistics.fmean(shares.values()), max(shares, key=lambda name: shares[name])
        worst = max(worst, mean)
        gc.collect()
        sys.stdout.write(
            f"{number:6} actions  {memory():4.0f} MB (most {highest:4.0f})  {len(QApplication.allWidgets()):5} widgets"
            f"  {len(gc.get_objects()):7} objects  {len(session.document.history.steps):5} steps"
            f"  response {mean:.2f} of the first (most: {slowest} {shares[slowest]:.2f})\n"
        )
        sys.stdout.flush()
    session.close()
    del application
    return 0 if highest <= MOST_MB and worst <= MOST_SLOWER else 1


if __name__ == "__main__":
    sys.exit(main())
