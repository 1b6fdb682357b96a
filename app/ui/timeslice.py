"""Long pure work in slices of 20 ms: a generator is driven from a timer, and stopping drops it. No threads."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from app.ui.throttle import button_is_held

if TYPE_CHECKING:
    from collections.abc import Generator, Iterator

    from app.document.view_state import ViewState
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.judge.findings import Checked

SLICE = 0.020  # s
LONG_REST = 400  # ms before the chances are reckoned, and the ladder while a button is held
REST = 120  # ms for which nothing has changed before the ladder is reckoned: a starting window is painted by then


class TimeSlicer(QObject):
    """Drives one generator at a time.

    Args:
        slice_: how long it goes on at a time [s]. pause: between two slices [ms].

    Signals:
        progressed: what the generator yields. done: what it returns.
    """

    progressed = Signal(object)
    done = Signal(object)

    def __init__(self, parent: QObject | None = None, *, slice_: float = SLICE, pause: int = 0) -> None:
        super().__init__(parent)
        self._work: Generator[object, None, object] | None = None
        self._long = slice_
        self._timer = QTimer(self, interval=pause)
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
        until = time.perf_counter() + self._long
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


class LadderWorker(QObject):
    """Reckons the ladder of the motor in hand, once the design has rested for a moment.

    Signals:
        told: its rungs.
    """

    ready = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._slicer = TimeSlicer(self)
        self._slicer.done.connect(self._tell)
        self._rest = QTimer(self, interval=REST, singleShot=True)
        self._rest.timeout.connect(self._begin)
        self._asked: tuple[Design, int] | None = None
        self._found: tuple[Rung, ...] | None = None

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Reckon the ladder of what is shown; where only the view state changed, tell it again."""
        asked = checked.design, view_state.mount
        if self._asked is not None and asked[1] == self._asked[1] and asked[0] is self._asked[0]:
            if self._found is not None:
                self.ready.emit(self._found)
            return
        self._asked, self._found = asked, None
        self._slicer.stop()
        self._rest.start(LONG_REST if button_is_held() else REST)  # a slow drag rests at each step, and must not wait

    def _begin(self) -> None:
        from geometry.decide.ladder import rungs

        if self._asked is not None and self._asked[1] < len(self._asked[0].mounts):
            self._slicer.start(gathered(rungs(*self._asked)))

    def _tell(self, found: tuple[Rung, ...]) -> None:
        self._found = found
        self.ready.emit(found)


class DoubtWorker(QObject):
    """Reckons how sure every finding is, once the design has rested for longer.

    Signals:
        told: the findings, each with its spread and its chance.
    """

    ready = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._slicer = TimeSlicer(self, slice_=0.0, pause=2)  # one reading at a time: nobody waits for it
        self._slicer.done.connect(self.ready)
        self._rest = QTimer(self, interval=LONG_REST, singleShot=True)
        self._rest.timeout.connect(self._begin)
        self._asked: Checked | None = None

    def show_checked(self, checked: Checked, _view_state: ViewState) -> None:
        """Reckon the chances of what is shown; nothing anew where only the view state changed."""
        if self._asked is None or checked.design is not self._asked.design:
            self._asked = checked
            self._slicer.stop()
            self._rest.start()

    def _begin(self) -> None:
        from geometry.doubt.spreads import spreading

        if self._asked is not None:
            self._slicer.start(_last(spreading(self._asked)))


def _last(steps: Iterator[Checked]) -> Generator[Checked, None, Checked | None]:
    found = None
    for found in steps:
        yield found
    return found


def gathered(steps: Iterator[Rung]) -> Generator[Rung, None, tuple[Rung, ...]]:
    """Pass rungs on, and return them all at the end."""
    found = []
    for step in steps:
        found.append(step)
        yield step
    return tuple(found)
