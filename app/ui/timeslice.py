"""Runs long calculations in slices of 20 ms, from a timer. No threads. To stop one drops it."""

from __future__ import annotations

import time
from contextlib import suppress
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from app.document.view_state import only_ghost_differs
from app.ui.throttle import button_is_held
from geometry.solid.faces import Unmeasured

if TYPE_CHECKING:
    from collections.abc import Generator, Iterator

    from app.document.view_state import ViewState
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.judge.findings import Checked

SLICE = 0.020  # s
LONG_REST = 400  # ms of rest before the ladder is calculated while a button is held
REST = 120  # ms of rest before the ladder is calculated: a new window is painted by then
DOUBT_REST = 200  # ms of rest before the chances are calculated: after the ladder, and within half a second of a drag's end


class TimeSlicer(QObject):
    """Runs one generator at a time.

    Args:
        slice_: length of a slice [s]. pause: time between two slices [ms].

    Signals:
        progressed: a value that the generator yields. done: the value that it returns.
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
        """Start ``work``, and drop any earlier one."""
        self._work = work
        self._timer.start()

    def stop(self) -> None:
        """Drop the work that runs."""
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
            except BaseException:  # a fault: the work ends here
                self.stop()
                raise
            self.progressed.emit(step)
            if time.perf_counter() >= until:
                return


class LadderWorker(QObject):
    """Calculates the ladder of the motor in hand, once the design has rested for a moment.

    Signals:
        ready: its rungs.
    """

    ready = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._slicer = TimeSlicer(self)
        self._slicer.done.connect(self._send)
        self._rest = QTimer(self, interval=REST, singleShot=True)
        self._rest.timeout.connect(self._begin)
        self._asked: tuple[Design, int] | None = None
        self._rungs: tuple[Rung, ...] | None = None
        self._view_state: ViewState | None = None

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Calculate the ladder of the design. Where only the view state changed, and not by a ghost, send it again."""
        asked, before = (checked.design, view_state.mount), self._view_state
        self._view_state = view_state
        same = self._asked is not None and asked[0] is self._asked[0]
        if same and before is not None and only_ghost_differs(view_state, before):
            return
        if self._asked is not None and asked[1] == self._asked[1] and asked[0] is self._asked[0]:
            if self._rungs is not None:
                self.ready.emit(self._rungs)
            return
        self._asked, self._rungs = asked, None
        self._slicer.stop()
        self._rest.start(LONG_REST if button_is_held() else REST)  # a slow drag rests at each step, and must not wait

    def _begin(self) -> None:
        from geometry.decide.ladder import rungs

        if self._asked is not None and self._asked[1] < len(self._asked[0].mounts):
            self._slicer.start(gathered(rungs(*self._asked)))

    def _send(self, rungs: tuple[Rung, ...]) -> None:
        self._rungs = rungs
        self.ready.emit(rungs)


class DoubtWorker(QObject):
    """Calculates how sure every finding is, once the design has rested for a moment and no button is held: not in a drag.

    Signals:
        ready: the findings, each with its spread and its chance.
    """

    ready = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._slicer = TimeSlicer(self, slice_=0.0, pause=2)  # one reading in a slice: nobody waits for it
        self._slicer.done.connect(self.ready)
        self._rest = QTimer(self, interval=DOUBT_REST, singleShot=True)
        self._rest.timeout.connect(self._begin)
        self._asked: Checked | None = None

    def show_checked(self, checked: Checked, _view_state: ViewState) -> None:
        """Calculate the chances of the design. Do nothing where only the view state changed."""
        if self._asked is None or checked.design is not self._asked.design:
            self._asked = checked
            self._slicer.stop()
            self._rest.start()

    def _begin(self) -> None:
        from geometry.doubt.spreads import spreading

        if button_is_held():
            self._rest.start()  # a hand that rests in a drag is not done yet
        elif self._asked is not None:
            self._slicer.start(_with_places(spreading(self._asked)))


def _with_places(steps: Iterator[Checked]) -> Generator[Checked, None, Checked | None]:
    """Pass the steps on. Then find how sure the places in the cut are, which the cut would do in one go: 50 ms."""
    from geometry.doubt.place_spreads import place_spreading

    last = None
    for last in steps:
        yield last
    if last is not None:
        with suppress(Unmeasured):
            for _ in place_spreading(last):
                yield last
    return last


def gathered(steps: Iterator[Rung]) -> Generator[Rung, None, tuple[Rung, ...]]:
    """Pass rungs on, and return them all at the end."""
    passed = []
    for step in steps:
        passed.append(step)
        yield step
    return tuple(passed)
