"""How long zones, ladders and the search for a fit take, next to a full check of every cell of a grid, in one run.

Processor time of this process, medians. ``python3 -m tests --bench``.
"""

from __future__ import annotations

import time
from statistics import median
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QApplication

from app.document.document import Document
from app.window.main_window import MainWindow
from assets import design_text
from geometry.decide.alternatives import low_enough, seat_rungs, seats
from geometry.decide.fit import search
from geometry.decide.offer import Fit
from geometry.design_text import from_text
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from geometry.zones import centred_motor as hung
from geometry.zones import pair_zone as zones_module
from geometry.zones import pattern_zone
from geometry.zones.pair_zone import zones

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from pytestqt.qtbot import QtBot

CELLS = 200 * 200
FASTER = 50
SAMPLE = 101


def milliseconds(work: Callable[[], object], times: int) -> float:
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append((time.process_time() - start) * 1000)
    return median(taken)


def test_the_zones_are_far_quicker_than_a_grid_of_checks(capsys):
    design = from_text(design_text("shallow-well-skiff"))
    places = iter(range(10**6))

    def by_zones() -> None:
        hung.eroded.cache_clear()
        pattern_zone.blocked_by_bracket.cache_clear()
        other_hardware()

    def other_hardware() -> None:
        zones_module._zones.cache_clear()
        zones(design)

    def by_check() -> None:
        number = next(places)
        check(with_mount(design, 0, offset=number % 10 * 1.0, upper_at=-45.0 - number // 10))

    zone, cell = milliseconds(by_zones, 21), milliseconds(by_check, SAMPLE)
    warm, again = milliseconds(other_hardware, 21), milliseconds(lambda: zones(design), 21)
    with capsys.disabled():
        print(f"\nzones {zone:.1f} ms, {warm:.1f} ms where the faces stay, {again:.2f} ms where only the bracket moves;"
              f" a grid of checks {cell * CELLS / 1000:.0f} s")
    # The grid's time is the sample's, times 200 x 200.
    assert cell * CELLS > FASTER * zone
    assert zone < 20.0  # two thirds of a frame, on a slow machine


@pytest.mark.parametrize("name", ["shallow-well-skiff", "twin-motor-launch"])
def test_the_ladders_of_three_kinds_of_hardware_are_there_at_once(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    design = from_text(design_text(name))

    def all_ladders() -> int:
        return sum(len(tuple(seat_rungs(design, 0, seat))) for seat in seats(design, 0))

    count = all_ladders()
    taken = milliseconds(all_ladders, 11)
    cell = milliseconds(lambda: check(with_mount(design, 0, drop=190.0)), SAMPLE)
    lowest = milliseconds(lambda: low_enough(design, 0), 11)
    with capsys.disabled():
        print(f"\n{count} rungs of {name} in {taken:.0f} ms, {count * cell:.0f} ms by checks; lowest AV plates {lowest:.0f} ms")
    assert taken < 0.8 * count * cell
    assert taken < 100.0  # nothing may block the window longer


def test_a_drag_keeps_up_with_the_zone_shown(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    design = with_mount(from_text(design_text("shallow-well-skiff")), 0, drop=184.15)
    document = Document(design)
    window = MainWindow(document)
    qtbot.addWidget(window, before_close_func=lambda widget: widget.document.save(tmp_path / "done.boltwell"))
    window.resize(1366, 768)
    window.show()
    qtbot.waitExposed(window)

    def step(number: int) -> None:
        document.preview(with_mount(design, 0, offset=abs(number % 80 - 40) / 4 + number * 1e-4, drop=184.15 + number % 7))
        QApplication.processEvents()
        QApplication.processEvents()

    numbers = iter(range(10**6))
    bare = milliseconds(lambda: step(next(numbers)), 100)
    document.set_view_state(replace(document.view_state, zone=True))
    zoned = milliseconds(lambda: step(next(numbers)), 100)
    with capsys.disabled():
        print(f"\ndrag step {bare:.1f} ms, {zoned:.1f} ms with the zone shown")
    assert window.face.zone.shown is not None
    assert zoned < 3 * bare


def test_the_search_is_done_within_a_second_and_begins_at_once(capsys):
    design = from_text(design_text("shallow-well-skiff"))
    firsts, wholes, checks = [], [], milliseconds(lambda: check(with_mount(design, 0, drop=190.0)), SAMPLE)
    for _ in range(5):
        start, first = time.perf_counter(), None
        for step in search(design):
            if first is None and isinstance(step, Fit):
                first = time.perf_counter() - start
        firsts.append(first or 0.0)
        wholes.append(time.perf_counter() - start)
    with capsys.disabled():
        print(f"\nfirst fit {median(firsts) * 1000:.0f} ms, all {median(wholes) * 1000:.0f} ms; a check {checks:.2f} ms")
    # Rows by drops by kinds of hardware alone would ask for more checks than this.
    assert median(wholes) * 1000 < 400 * checks
