"""How long a check takes, next to what a general-purpose solid modeller takes for the same bodies' gaps, in one run.

Library: manifold3d (github.com/elalish/manifold), with 512 sides to a round; its solids are built beforehand.
"""

from __future__ import annotations

import time
from statistics import median
from typing import TYPE_CHECKING

from geometry.judge.check import check
from geometry.judge.check_kinds import IN_WELL
from geometry.solid.clearances import body_clearance
from geometry.solid.placed_bolts import bolts
from geometry.solid.well import space
from tests.designs import changed, example_design, sure
from tests.reference.solids import axis, cylinder, scene

if TYPE_CHECKING:
    from collections.abc import Callable

MOST = 3.0  # [ms] for a check: three in a frame of a sixtieth of a second leave half of it to the painting
FASTER = 20


def milliseconds(work: Callable[[], object], times: int) -> float:
    """Return the median of the processor time taken: what else the machine does counts little."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append((time.process_time() - start) * 1000)
    return median(taken)


def test_a_check_is_quick_and_far_quicker_than_the_solid_modeller(capsys):
    design = example_design()
    at, within = scene(design), space(design)
    at.solid.num_tri()  # the modeller puts off its work until it is asked for
    posed = []
    for bolt in bolts(design):
        exit_, k = axis(at, bolt.u, bolt.v, bolt.tilt)
        for part in IN_WELL:
            body = sure(bolt.body(part))
            reach = 1.2 * max(1.0, sure(body_clearance(within, bolt.exit, body))) + 1.0
            posed.append((cylinder(exit_, k, body.start, body.end, body.shape.radius, outside=False), reach))
    assert len(posed) == 16

    def by_solids() -> None:
        for body, reach in posed:
            assert 0.0 < body.min_gap(at.solid, reach) < reach

    drops = iter(range(10**6))

    def by_check() -> None:
        check(changed(design, mounts__0__drop=165.1 + next(drops) * 1e-3))  # as a drag does: never the same twice

    ours, solids = milliseconds(by_check, 101), milliseconds(by_solids, 5)
    with capsys.disabled():
        print(f"\ncheck of the worked example {ours:.2f} ms; the modeller's 16 gaps {solids:.0f} ms: {solids / ours:.0f} times")
    assert ours <= MOST
    assert solids >= FASTER * ours
