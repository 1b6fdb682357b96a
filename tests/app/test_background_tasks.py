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
    beside, heard, where = BackgroundTasks(parent), list[object](), set[threading.Thread]()

    def hear(result: object) -> None:
        heard.append(result)
        where.add(threading.current_thread())

    beside.received.connect(hear)

    def count(send: Callable[[object], None]) -> None:
        for number in range(200):
            send(number)

    beside.start(count, "counting")
    qtbot.waitUntil(lambda: len(heard) == 200)
    assert heard == list(range(200))
    assert where == {threading.main_thread()}
    qtbot.waitUntil(lambda: not beside.busy)  # nobody asks on


def test_a_thread_outlives_its_window_and_holds_nothing_of_it(qtbot: QtBot) -> None:
    parent = QObject()
    beside, go, heard = BackgroundTasks(parent), threading.Event(), list[object]()
    beside.received.connect(heard.append)

    def wait(send: Callable[[object], None]) -> None:
        go.wait(60.0)
        send("too late")

    beside.start(wait, "waiting")
    (thread,) = (thread for thread in threading.enumerate() if thread.name == "waiting")
    gone = weakref.ref(beside)
    parent.deleteLater()
    del beside, parent
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
    beside = BackgroundTasks(parent)
    raised = list[str]()
    hook = threading.excepthook
    threading.excepthook = lambda fault: raised.append(str(fault.exc_value))
    try:
        beside.start(lambda send: 1 // 0, "faulty")
        qtbot.waitUntil(lambda: not beside.busy)
    finally:
        threading.excepthook = hook
    assert raised == ["integer division or modulo by zero"]
