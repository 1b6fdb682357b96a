"""Long pure work in slices of 20 ms: a generator is driven from a timer, and stopping drops it. No threads."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from geometry.decide.ladder import rungs

if TYPE_CHECKING:
    from collections.abc import Generator, Iterator

    from app.sight import Sight
    from geometry.decide.ladder import Rung
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked

SLICE = 0.020  # s
REST = 60  # ms for which nothing has changed before the ladder is reckoned


class Slices(QObject):
    """Drives one generator at a time.

    Signals:
        progressed: what the generator yields. done: what it returns.
    """

    progressed = Signal(object)
    done = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work: Generator[object, None, object] | None = None
        self._timer = QTimer(self, interval=0)
        self._timer.timeout.connect(self._slice)

    def start(self, work: Generator[object, None, object]) -> None:
        """Begin ``work``; what was under way is dropped."""
        self._work = work
        self._timer.start()

    def stop(self) -> None:
        """Drop what is under way."""
        self._work = None
        self._timer.stop()

    def _slice(self) -> None:
        until = time.perf_counter() + SLICE
        work = self._work
        while work is not None and work is self._work:
            try:
                step = next(work)
            except StopIteration as end:
                self.stop()
                self.done.emit(end.value)
                return
            except BaseException:  # a fault: nothing goes on from here
                self.stop()
                raise
            self.progressed.emit(step)
            if time.perf_counter() >= until:
                return


class Lookahead(QObject):
    """Reckons the ladder of the motor in hand, once the design has rested for a moment.

    Signals:
        told: its rungs.
    """

    told = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._slices = Slices(self)
        self._slices.done.connect(self._tell)
        self._rest = QTimer(self, interval=REST, singleShot=True)
        self._rest.timeout.connect(self._begin)
        self._asked: tuple[Design, int] | None = None
        self._found: tuple[Rung, ...] | None = None

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Reckon the ladder of what is shown; where only the sight changed, tell it again."""
        asked = checked.design, sight.mount
        if self._asked is not None and asked[1] == self._asked[1] and asked[0] is self._asked[0]:
            if self._found is not None:
                self.told.emit(self._found)
            return
        self._asked, self._found = asked, None
        self._slices.stop()
        self._rest.start()

    def _begin(self) -> None:
        if self._asked is not None and self._asked[1] < len(self._asked[0].mounts):
            self._slices.start(_gathered(rungs(*self._asked)))

    def _tell(self, found: tuple[Rung, ...]) -> None:
        self._found = found
        self.told.emit(found)


def _gathered(steps: Iterator[Rung]) -> Generator[Rung, None, tuple[Rung, ...]]:
    found = []
    for step in steps:
        found.append(step)
        yield step
    return tuple(found)
