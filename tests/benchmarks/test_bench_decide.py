"""How long the drillable zones and the search for a fit take, beside a full check of every cell of a grid, in one run."""

from __future__ import annotations

import time
from statistics import median
from typing import TYPE_CHECKING

from assets import design_text
from geometry.decide.fit import Fit, search
from geometry.design.design_text import from_text
from geometry.design.edits import with_mount
from geometry.judge.check import check
from geometry.solid import hung, pattern_zone
from geometry.solid import zones as zones_module
from geometry.solid.zones import zones

if TYPE_CHECKING:
    from collections.abc import Callable

CELLS = 200 * 200
FASTER = 50
SAMPLE = 101


def milliseconds(work: Callable[[], object], times: int) -> float:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append((time.perf_counter() - start) * 1000)
    return median(taken)


def test_the_zones_are_far_quicker_than_a_grid_of_checks(capsys):
    design = from_text(design_text("shallow-well-skiff"))
    places = iter(range(10**6))

    def by_zones() -> None:
        hung.eroded.cache_clear()
        pattern_zone.taken_by_bracket.cache_clear()
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
    assert cell * CELLS > FASTER * zone


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
