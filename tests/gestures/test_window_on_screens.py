"""The window on screens of several sizes and scales: whole on the screen, every button in reach, back where it was."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QRect

ROOT = Path(__file__).parents[2]
PATIENCE = 300  # s: it only ends a program that hangs


def started(
    folder: Path, screens: list[tuple[int, int, int, int]], scale: str, *place: int, text: int | None = None
) -> dict[str, Any]:  # fmt: skip
    """Start the program on screens (left, top, width, height [px]), and return its output.

    Args:
        scale: of the desktop. text: the size of text in the settings [%]; None leaves them.
    """
    if text is not None:
        (folder / "boltwell").mkdir(exist_ok=True)
        (folder / "boltwell" / "settings.json").write_text(json.dumps({"text": text}))
    described = [
        {"name": f"screen {number}", "x": x, "y": y, "width": wide, "height": high, "logicalDpi": 96, "dpr": 1}
        for number, (x, y, wide, high) in enumerate(screens)
    ]  # fmt: skip
    (folder / "screens.json").write_text(json.dumps({"screens": described}))
    environment = {
        **os.environ, "QT_QPA_PLATFORM": f"offscreen:configfile={folder / 'screens.json'}", "QT_SCALE_FACTOR": scale,
        "XDG_DATA_HOME": str(folder), "XDG_CONFIG_HOME": str(folder),
    }  # fmt: skip
    words = [sys.executable, "-m", "tests.gestures.starting", *map(str, place)]
    ran = subprocess.run(words, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=PATIENCE, check=False)
    assert ran.returncode == 0, ran.stderr
    report: dict[str, Any] = json.loads(ran.stdout)
    assert report["scale"] == pytest.approx(float(scale) * (text or 100) / 100, abs=1e-6)
    return report


def is_whole(report: dict[str, Any]) -> bool:
    """Return whether the window is inside the screen's free area: with its frame, or its inside alone if maximised."""
    left, top, wide, high = report["area"]
    area = QRect(left, top, wide, high)
    return area.contains(QRect(*area.topLeft().toTuple(), *report["size"]) if report["maximised"] else QRect(*report["frame"]))


@pytest.mark.parametrize(
    ("wide", "high", "scale"), [(1024, 700, "1"), (1366, 768, "1"), (1366, 768, "1.5"), (1366, 768, "2"), (3840, 2160, "2")]
)
def test_the_first_start_is_whole_on_the_screen(tmp_path: Path, wide: int, high: int, scale: str) -> None:
    report = started(tmp_path, [(0, 0, wide, high)], scale)
    assert report["area"][2:] == pytest.approx([wide / float(scale), high / float(scale)], abs=1.0)
    assert is_whole(report), report
    assert report["cut off"] == []


def test_it_comes_back_where_it_was_closed(tmp_path: Path) -> None:
    two = [(0, 0, 1366, 768), (1366, 0, 1920, 1080)]
    started(tmp_path, two, "1", 1500, 60, 1200, 700)
    report = started(tmp_path, two, "1")
    assert (report["frame"][:2], report["size"]) == ([1500, 60], [1200, 700])
    third = started(tmp_path, two, "1")  # it does not creep by its frame from start to start
    assert (third["frame"], third["size"]) == (report["frame"], report["size"])


def test_with_its_screen_unplugged_it_comes_to_the_one_that_is_left(tmp_path: Path) -> None:
    started(tmp_path, [(0, 0, 1366, 768), (1366, 0, 1920, 1080)], "1", 1500, 60, 1200, 700)
    report = started(tmp_path, [(0, 0, 1366, 768)], "1")
    assert is_whole(report), report
    assert report["size"] == [1200, 700]


def test_at_another_scale_it_is_whole_again(tmp_path: Path) -> None:
    started(tmp_path, [(0, 0, 1920, 1080)], "1", 300, 200, 1400, 800)
    report = started(tmp_path, [(0, 0, 1366, 768)], "2")
    assert is_whole(report), report
    assert report["cut off"] == []


def test_maximised_it_comes_back_maximised(tmp_path: Path) -> None:
    assert started(tmp_path, [(0, 0, 1024, 700)], "1")["maximised"]
    report = started(tmp_path, [(0, 0, 1920, 1080)], "1", 200, 100, 900, 600)
    assert report["maximised"]
    assert not started(tmp_path, [(0, 0, 1920, 1080)], "1")["maximised"]
