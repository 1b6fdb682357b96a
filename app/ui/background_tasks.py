"""Runs work in threads. The event loop fetches the results.

No thread holds an object of Qt: the window that asked may be gone when the result is ready.
"""

from __future__ import annotations

import threading
from queue import Empty, SimpleQueue
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

if TYPE_CHECKING:
    from collections.abc import Callable

_ASK = 15  # ms between two looks for results, while any task runs


class BackgroundTasks(QObject):
    """Runs tasks in threads, and passes on their results.

    Signals:
        received: a result, in the order in which its thread sent it.
    """

    received = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._queue: SimpleQueue[tuple[object, bool]] = SimpleQueue()  # a result, and whether its thread has ended
        self._busy = 0
        self._ask = QTimer(self, interval=_ASK)
        self._ask.timeout.connect(self._fetch)

    def start(self, work: Callable[[Callable[[object], None]], object], name: str, *, daemon: bool = False) -> None:
        """Run ``work(send)`` in a new thread. Neither ``work`` nor its results may hold an object of Qt."""
        queue = self._queue

        def run() -> None:
            try:
                work(lambda result: queue.put((result, False)))
            finally:
                queue.put((None, True))

        self._busy += 1
        self._ask.start()
        threading.Thread(target=run, name=name, daemon=daemon).start()

    @property
    def busy(self) -> bool:
        """Whether any task runs."""
        return self._busy > 0

    def _fetch(self) -> None:
        """Pass on all waiting results."""
        while True:
            try:
                result, ended = self._queue.get_nowait()
            except Empty:
                return
            if not ended:
                self.received.emit(result)
                continue
            self._busy -= 1
            if not self._busy:
                self._ask.stop()
