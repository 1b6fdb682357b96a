"""How long 100,000 drawn boats take, next to a check of the parts inside of each boat by itself, in one run."""

from __future__ import annotations

import time
from statistics import median

import pytest

from assets import design_text
from geometry.design_text import from_text
from geometry.doubt.chances import TRIALS, chances
from geometry.judge.inside_room import inside
from geometry.judge.reporter import Reporter
from tests.designs import changed

MOST = {"tapered-work-boat": 1.0, "shallow-well-skiff": 3.0, "twin-motor-launch": 6.0}
"""[s] of one core. The aim is 1. The last two miss it: they have guesses, so that few parts are soon sure of their room."""
FASTER = 30


def seconds(work, times):
    """Return the median of the processor time taken: other work of the machine counts little."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return median(taken)


@pytest.mark.parametrize("name", MOST)
def test_many_boats_are_drawn_quickly(name, capsys):
    design = from_text(design_text(name))
    floors = iter(range(10**6))

    def by_check():
        inside(Reporter(changed(design, well__floor_rise=3.0 + next(floors) * 1e-5), worded=False))

    ours, plain = seconds(lambda: chances(design), 3), seconds(by_check, 51) * TRIALS
    with capsys.disabled():
        print(f"\n{TRIALS} of {name}: {ours:.2f} s of one core. One by one: {plain:.0f} s, {plain / ours:.0f} times as long.")
    assert ours < MOST[name]
    assert plain > FASTER * ours
