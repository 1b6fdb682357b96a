"""PySide6 6.12.0 on Python 3.11 gives None back once too often for every void call, and the process aborts."""

import sys

import pytest
from PySide6.QtWidgets import QWidget


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="from 3.12 on None is immortal and its count stands still")
def test_three_thousand_void_calls_leave_the_count_of_none_alone(qtbot):
    widget = QWidget()
    qtbot.addWidget(widget)
    before = sys.getrefcount(None)
    for _ in range(3000):
        widget.setEnabled(True)
    assert abs(sys.getrefcount(None) - before) < 50
