"""Background tasks: results come in order, in the event loop's thread, and to nobody once the window is gone."""

from __future__ import annotations

import gc
import threading
import weakref
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, QObject

from app.ui.background_tasks import BackgroundTasks

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot


def test_results_of_a_thread_come_in_order_and_in_the_event_loop(qtbot: QtBot) -> None:
    parent = QObject()
    tasks, heard, where = BackgroundTasks(parent), list[object](), set[threading.Thread]()

    def hear(result: object) -> None:
        heard.append(result)
        where.add(threading.current_thread())

    tasks.received.connect(hear)

    def count(send: Callable[[object], None]) -> None:
        for number in range(200):
            send(number)

    tasks.start(count, "counting")
    qtbot.waitUntil(lambda: len(heard) == 200)
    assert heard == list(range(200))
    assert where == {threading.main_thread()}
    qtbot.waitUntil(lambda: not tasks.busy)  # nobody asks on


def test_a_thread_outlives_its_window_and_holds_nothing_of_it(qtbot: QtBot) -> None:
    parent = QObject()
    tasks, go, heard = BackgroundTasks(parent), threading.Event(), list[object]()
    tasks.received.connect(heard.append)

    def wait(send: Callable[[object], None]) -> None:
        go.wait(60.0)
        send("too late")

    tasks.start(wait, "waiting")
    (thread,) = (thread for thread in threading.enumerate() if thread.name == "waiting")
    gone = weakref.ref(tasks)
    parent.deleteLater()
    del tasks, parent
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()
    assert gone() is None
    go.set()
    thread.join(60.0)
    assert not thread.is_alive()
    QCoreApplication.processEvents()
    assert not heard


def test_the_end_comes_after_a_fault_as_well(qtbot: QtBot) -> None:
    parent = QObject()
    tasks = BackgroundTasks(parent)
    raised = list[str]()
    hook = threading.excepthook
    threading.excepthook = lambda fault: raised.append(str(fault.exc_value))
    try:
        tasks.start(lambda send: 1 // 0, "faulty")
        qtbot.waitUntil(lambda: not tasks.busy)
    finally:
        threading.excepthook = hook
    assert raised == ["integer division or modulo by zero"]
