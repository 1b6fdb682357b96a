"""How soon the command answers and the window is there, against a bare start in the same run.

Prints medians of ratios, of processes taken in turn: the command to its end, the window to its first paint. Off by default:
``python3 -m tests --bench``.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROUNDS = 7
SKIFF = "assets/designs/shallow-well-skiff.boltwell"

BARE_COMMAND = "import shapely, msgspec"
OUR_COMMAND = f"import sys; from app.commands.command_line import main; sys.stdout = sys.stderr; main(['check', {SKIFF!r}])"

FIRST_PAINT = """
import time
from PySide6.QtCore import QEvent, QObject, QTimer
def painted():
    print(time.time())
    application.quit()
class Paint(QObject):
    def eventFilter(self, _, event):
        if event.type() == QEvent.Type.Paint:
            QTimer.singleShot(0, painted)  # once all that is shown is painted
        return False
paint = Paint()
window.installEventFilter(paint)
window.resize(1366, 708)
window.show()
application.exec()
"""
EMPTY_WINDOW = """
import shapely, msgspec
from PySide6.QtWidgets import QApplication, QMainWindow
application = QApplication([])
window = QMainWindow()
"""
BARE_WINDOW = """
import shapely, msgspec
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow
application = QApplication([])
window = QMainWindow()
window.setCentralWidget(QLabel("Boltwell", alignment=Qt.AlignmentFlag.AlignCenter))
"""
OUR_WINDOW = """
from app.window.program import prepare_start
prepare_start()
from app.document.document import Document
from app.ui.theme import start
from app.window.main_window import MainWindow
from app.document.examples import demonstration
application = start()
document = Document(demonstration())
window = MainWindow(document)
"""


def seconds(code: str) -> float:
    """Return how long a program takes to its end, or until it prints the time."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)  # ours is compiled once, as it is when installed
    start = time.time()
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, env=environment, capture_output=True, check=False)
    end = time.time()
    assert done.returncode == 0, done.stderr.decode()
    return float(done.stdout or end) - start


def ratio(ours: str, bare: str, what: str) -> float:
    seconds(ours), seconds(bare)  # warm the disk and what is compiled
    pairs = [(seconds(ours), seconds(bare)) for _ in range(ROUNDS)]
    times = statistics.median(our_time / bare_time for our_time, bare_time in pairs)
    mine, theirs = (statistics.median(column) * 1000 for column in zip(*pairs, strict=True))
    print(f"\n{what}: {times:.2f} times a bare start ({mine:.0f} ms against {theirs:.0f} ms, medians of {ROUNDS} pairs)")
    return times


def test_the_command_starts_soon():
    """`check` of the demonstration boat, spreads included, against the import of what it computes with."""
    assert ratio(OUR_COMMAND, BARE_COMMAND, "command") < 6


def test_the_window_starts_soon():
    """First paint on the demonstration boat against a window with one word, that imports PySide6, shapely and msgspec.

    An empty window reads no font, and none of Qt's names: 25 to 30 ms that every window with a word needs. The ratio to it
    is printed, with no limit: 1.67 on 1 December 2026, where the ratio to one word was 1.48.
    """
    ratio(OUR_WINDOW + FIRST_PAINT, EMPTY_WINDOW + FIRST_PAINT, "window, against an empty one")
    assert ratio(OUR_WINDOW + FIRST_PAINT, BARE_WINDOW + FIRST_PAINT, "window") <= 1.5
