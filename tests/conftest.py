"""The start of every test: no screen, a fixed clock for files, and examples that repeat."""

import os
from collections.abc import Iterator

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # before anything imports Qt
os.environ.setdefault("SOURCE_DATE_EPOCH", "946684800")  # 2000-01-01, so that equal designs give equal files

import pytest
from hypothesis import HealthCheck, settings
from pytestqt.qtbot import QtBot

# A busy machine is no fault of the program: no example has a deadline, and what a test waits for may take a minute.
PATIENCE = 60_000  # ms
_SLOW = (HealthCheck.too_slow,)
settings.register_profile("house", deadline=None, print_blob=False, suppress_health_check=_SLOW)
settings.register_profile("ci", deadline=None, print_blob=False, derandomize=True, suppress_health_check=_SLOW)
settings.load_profile("ci" if "CI" in os.environ else "house")
for wait in (QtBot.waitUntil, QtBot.waitSignal):
    wait.__kwdefaults__ = {**(wait.__kwdefaults__ or {}), "timeout": PATIENCE}


@pytest.fixture
def swept() -> Iterator[None]:
    """Nothing of a test with windows stays for the next: its files are let go, and the windows that it closed are gone.

    A test that leaves a mouse button held fails. For the next test the button is up: nothing is calculated while one is held.
    """
    yield
    from PySide6.QtCore import QCoreApplication, QEvent, Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication, QWidget

    from app.window.main_window import MainWindow

    for window in QApplication.topLevelWidgets():
        if isinstance(window, MainWindow):
            window.document.close()
            window.document.deleteLater()  # it and the window's lambdas keep each other
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # what no event loop does outside of itself
    held = QApplication.mouseButtons()
    if held != Qt.MouseButton.NoButton:
        QTest.mouseRelease(QWidget(), Qt.MouseButton.LeftButton)
        QTest.mouseRelease(QWidget(), Qt.MouseButton.MiddleButton)
    assert held == Qt.MouseButton.NoButton, "it left a mouse button held"
