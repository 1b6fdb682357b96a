"""How the cost of a check grows with corners, holes, blocks and motors: ratios within one run, no times.

Four times as many of anything may cost at most `MOST` times as much. That is about in proportion, and far from the square,
which is 16 times.
"""

from __future__ import annotations

import math
import time
from functools import partial
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from geometry.design.boat import Block, OldHole
from geometry.design.hardware import BOLT_NAMES, BackingPlate
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from tests.designs import changed, example_design, half_inch_hardware, sure

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design

TIMES = 4
MOST = 6.0


def with_corners(number: int) -> Design:
    """Return a well whose floor is a hump of so many corners: each of them points into the well."""
    inner = tuple((-120 + 240 * i / (number - 1), -250 + 15 * math.sin(math.pi * i / (number - 1))) for i in range(number))
    profile = ((-320, 0), (-300, -250), *inner, (300, -250), (320, 0))
    return changed(example_design(), well__profile=profile, inside_blocks=())


def with_outline(number: int) -> Design:
    bottom = tuple((620 - 1240 * i / (number - 1), -420 - 100 * math.sin(math.pi * i / (number - 1))) for i in range(number))
    return changed(example_design(), transom__outline=(*example_design().transom.outline[:6], *bottom))


def with_blocks(number: int) -> Design:
    def block(at: int) -> Block:
        u = -300 + 600 * at / number
        return Block(name=f"block {at}", outline=((u, -230), (u + 3, -230), (u + 3, -226), (u, -226)), stands_out=5.0)

    return replace(example_design(), inside_blocks=tuple(map(block, range(number))))


def with_leaning_bolts(number: int) -> Design:
    return changed(with_corners(number), mounts__0__upper_tilt=-5.0, mounts__0__lower_tilt=-5.0)


def with_ends(number: int) -> Design:
    """Return blocks that each end at another distance in front of the inner face, with bolts that lean."""
    design = with_blocks(number)
    blocks = tuple(replace(block, stands_out=2 + 60 * at / number) for at, block in enumerate(design.inside_blocks))
    return changed(design, inside_blocks=blocks, mounts__0__upper_tilt=-5.0, mounts__0__lower_tilt=-5.0)


def with_plates(number: int) -> Design:
    """Return so many motors whose backing plates overlap."""
    plate = BackingPlate(
        outline=((-160, -25), (160, -25), (160, 30), (-160, 30)), thickness=6.0, relief=(0.0, 0.0),
        material="aluminium 5083", joins=BOLT_NAMES[2:],
    )  # fmt: skip
    mount = replace(example_design().mounts[0], lower_hardware=half_inch_hardware(backing_plate=plate))
    mounts = tuple(replace(mount, name=f"motor {at}", offset=100.0 * (at - (number - 1) / 2)) for at in range(number))
    return replace(with_motors(number), mounts=mounts)


def with_holes(number: int) -> Design:
    def hole(at: int) -> OldHole:
        place = -250 + 500 * at / number, -140.0 - 30 * (at % 2)
        return OldHole(name=f"hole {at}", at=place, diameter=6.0, state="plugged", plug_diameter=8.0, reuse=False, drill=None)

    return replace(example_design(), old_holes=tuple(map(hole, range(number))))


def with_motors(number: int) -> Design:
    design, wide = example_design(), number * 560.0
    well = replace(sure(design.well), profile=((-wide / 2 - 20, 0), (-wide / 2, -240), (wide / 2, -240), (wide / 2 + 20, 0)))
    outline = ((-wide / 2 - 100, 0), (wide / 2 + 100, 0), (wide / 2, -620), (-wide / 2, -620))
    mounts = tuple(replace(design.mounts[0], name=f"motor {at}", offset=280 + 560 * at - wide / 2) for at in range(number))
    return replace(design, transom=replace(design.transom, outline=outline), well=well, mounts=mounts, inside_blocks=(),
                   outside_fittings=(), old_holes=())  # fmt: skip


def cost(work: Callable[[], object], times: int = 3) -> float:
    """Return the least processor time of some runs [s]."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


KINDS = {"corners": (with_corners, 20), "outline": (with_outline, 75), "blocks": (with_blocks, 6),
         "holes": (with_holes, 6), "motors": (with_motors, 2), "corners by leaning bolts": (with_leaning_bolts, 20),
         "block ends": (with_ends, 10), "motors with backing plates": (with_plates, 2)}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_a_check_grows_about_in_proportion(kind, capsys):
    make, few = KINDS[kind]

    rakes = iter(range(100))

    def looks(number: int) -> Callable[[], object]:
        return lambda: check(changed(make(number), transom__rake=14.0 + next(rakes) * 1e-6))  # never the same twice

    small_cost, large_cost = (cost(looks(number), 5) for number in (few, TIMES * few))
    with capsys.disabled():
        print(f"\ncheck with {few} and {TIMES * few} {kind}: {large_cost / small_cost:.1f} times the cost")
    assert large_cost <= MOST * small_cost


@pytest.mark.parametrize("kind", ["corners", "outline", "corners by leaning bolts"])
def test_the_spreads_grow_about_in_proportion_to_corners(kind, capsys):
    make, few = KINDS[kind]
    small_cost, large_cost = (cost(partial(with_spreads, check(make(number)))) for number in (few, TIMES * few))
    with capsys.disabled():
        print(f"\nspreads with {few} and {TIMES * few} {kind}: {large_cost / small_cost:.1f} times the cost")
    assert large_cost <= MOST * small_cost
