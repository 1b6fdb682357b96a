"""Work beside the event loop: what its threads have to tell is fetched by the event loop.

No thread ever holds an object of Qt: the window that asked may be gone by the time that it tells.
"""

from __future__ import annotations

import threading
from queue import Empty, SimpleQueue
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

if TYPE_CHECKING:
    from collections.abc import Callable

_ASK = 15  # ms from asking to asking, while there is anything under way


class BackgroundTasks(QObject):
    """Threads, and what they tell.

    Signals:
        received: something that a thread had to tell, in its order.
    """

    received = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._queue: SimpleQueue[tuple[object, bool]] = SimpleQueue()  # what is told, and whether that thread is at its end
        self._busy = 0
        self._ask = QTimer(self, interval=_ASK)
        self._ask.timeout.connect(self._fetch)

    def start(self, work: Callable[[Callable[[object], None]], object], name: str, *, daemon: bool = False) -> None:
        """Run ``work(tell)`` in a thread of its own; neither it nor what it tells may hold an object of Qt."""
        queue = self._queue

        def run() -> None:
            try:
                work(lambda told: queue.put((told, False)))
            finally:
                queue.put((None, True))

        self._busy += 1
        self._ask.start()
        threading.Thread(target=run, name=name, daemon=daemon).start()

    @property
    def busy(self) -> bool:
        """Whether anything is under way."""
        return self._busy > 0

    def _fetch(self) -> None:
        """Pass on all that waits."""
        while True:
            try:
                told, ended = self._queue.get_nowait()
            except Empty:
                return
            if not ended:
                self.received.emit(told)
                continue
            self._busy -= 1
            if not self._busy:
                self._ask.stop()
