"""Bodies along their axis, square and leaning, in wells with corners that point in: against fine scans of sections."""

from __future__ import annotations

import math
import random

import pytest

from geometry.design.boat import Block
from geometry.solid.clearances import body_clearance
from geometry.solid.discs import Disc
from geometry.solid.placed_bolts import Body
from geometry.solid.room_along_axis import corner_paths, least_room
from geometry.solid.well import Space, space
from tests.designs import changed, random_design, sure
from tests.geometry.test_clearances import inside, leaves

CLOSE = 1e-6  # [mm]
STEPS = 400
DISCS = (Disc(10.0), Disc(20.0), Disc(20.0, 13.0))


def well(rng: random.Random) -> Space:
    """Return a random inside with a corner that points in, its floor falling or rising."""
    while True:
        design = random_design(rng)
        if design.well is not None:
            within = space(changed(design, well__floor_rise=rng.choice((-5.0, 10.0, 25.0))))
            if not within.convex:
                return within


def paths_of(within: Space, cosine: float):
    """Return the paths of all corners that point in."""
    return [path for pair in within.inward for path in corner_paths(*pair, cosine)]


def scanned(within: Space, at, disc: Disc, start: float, end: float) -> float:
    """Return the least room at places between two distances, dense where the rounded corner is steep."""
    sine, cosine = math.sin(at.lean), math.cos(at.lean)
    places = [start + (end - start) * (i / STEPS) ** 2 for i in range(STEPS + 1)]
    return min(within.section(n, cosine).room_of(disc, (at.u, at.w * cosine + n * sine)) for n in places)


@pytest.mark.parametrize("seed", range(40))
def test_the_least_room_is_a_scans(seed):
    """Where the axis is free all the way: never more than at any of 400 places, and no less than what they can show."""
    rng = random.Random(seed)
    within, disc = well(rng), DISCS[seed % 3]
    for _ in range(4):
        lean = rng.choice((0.0, rng.uniform(-12, 12)))
        at, start, end = leaves(rng.uniform(-200, 200), -rng.uniform(130, 260), lean), rng.uniform(0, 5), rng.uniform(10, 70)
        room, least = least_room(within, at, disc, start, end), scanned(within, at, disc, start, end)
        if least > -disc.radius:
            assert room <= least + CLOSE
        if least > 0 and not within.blocks:
            assert room >= least - 0.05


@pytest.mark.parametrize("radius", [0.5, 10.0, 40.0])
def test_a_corner_is_nearest_between_the_ends(radius):
    """An axis that sinks by 19° past a step's corner: one side comes nearer while the other goes, by 0.01 mm."""
    within = inside(20.4221209, ((-300, 0), (-300, -200), (0, -200), (0, -160), (300, -160), (300, 0)))
    at, disc, start, end = leaves(-0.644019, -153.115143, -19.08918), Disc(radius), 10.6, 26.766169
    room = least_room(within, at, disc, start, end)
    assert room == pytest.approx(scanned(within, at, disc, start, end), abs=1e-4)
    ends = [scanned(within, at, disc, n, n) for n in (start, end)]
    assert room < min(ends) - 0.01


@pytest.mark.parametrize("seed", range(16))
def test_a_leaning_body_has_the_largest_clearance_that_the_sections_have_room_for(seed):
    """There is room for its clearance c in every section up to (R + c)·sin(lean) past its ends, and for no 0.1 mm more."""
    rng = random.Random(seed)
    within, disc, lean = well(rng), DISCS[seed % 3], rng.choice((-1, 1)) * rng.uniform(3, 14)
    at = leaves(rng.uniform(-200, 200), -rng.uniform(120, 220), lean)
    room = sure(body_clearance(within, at, Body("nut", 3.0, 20.0, disc)))
    if room < 0 or within.blocks:
        return
    turn = math.radians(lean)

    def least(clearance: float) -> float:
        over = (disc.radius + clearance) * abs(math.sin(turn))
        return scanned(within, at, disc, max(0.0, 3 * math.cos(turn) - over), 20 * math.cos(turn) + over)

    assert least(room) >= room - CLOSE
    assert least(room + 0.1) < room + 0.1


@pytest.mark.parametrize("lean", [10.0, 12.0, 14.0])
def test_a_leaning_nut_is_not_fouled_by_something_thin_far_behind_it(lean):
    """A block 2 thin around the hole; the nut starts at 12. Grown by c its edge reaches back by (10 + c)·sin(lean).

    So c = (12·cos - 2)/sin - 10. One step from the 97 that the floor leaves made the nut fouled by 25.
    """
    thin = Block(name="shim", outline=((-15, -165), (15, -165), (15, -135), (-15, -135)), stands_out=2.0)
    floor = ((-300, 0), (-300, -260), (300, -260), (300, 0))
    nut = Body("nut", 12.0, 30.0, Disc(10.0))
    room = sure(body_clearance(inside(profile=floor, blocks=(thin,)), leaves(0.0, -150.0, lean), nut))
    turn = math.radians(lean)
    assert room == pytest.approx((12 * math.cos(turn) - 2) / math.sin(turn) - 10, abs=CLOSE)


@pytest.mark.parametrize("seed", range(20))
def test_the_path_of_a_corner_stays_in_its_box(seed):
    """The box decides whether a path is followed: at 60 places on each, the corner is in it."""
    within = well(random.Random(seed))
    for path in paths_of(within, math.cos(math.radians(seed / 2))):
        end = min(path.end, 90.0)
        for i in range(61):
            u, w = path.at(path.start + (end - path.start) * i / 60)
            assert path.left - CLOSE <= u <= path.right + CLOSE
            assert path.bottom - CLOSE <= w <= path.top + CLOSE


@pytest.mark.parametrize("seed", range(20))
def test_a_corner_comes_as_near_to_an_axis_as_its_nearest_place(seed):
    """Between two distances, straight or along a rounded corner: against 2000 places on the path itself."""
    rng = random.Random(seed)
    within, lean, disc = well(rng), rng.uniform(-12, 12), Disc(10.0)
    for path in paths_of(within, math.cos(math.radians(lean))):
        start, end = sorted((rng.uniform(0.0, 30.0), rng.uniform(0.0, 30.0)))
        u, w = path.at(min(path.end, max(path.start, start)))
        at = leaves(u + rng.uniform(-20, 20), w + rng.uniform(-20, 20), lean)
        first, last = max(start, path.start), min(end, path.end)
        nearest = path.nearest(at, disc, start, end, math.inf)
        if first >= last:
            assert nearest is None
            continue
        rooms = []
        for i in range(2001):
            n = first + (last - first) * (i / 2000) ** 2
            across, up = path.at(n)
            rooms.append(math.hypot(across - at.u, up - at.w * math.cos(at.lean) - n * math.sin(at.lean)) - disc.radius)
        assert sure(nearest)[0] == pytest.approx(min(rooms), abs=1e-3)
        assert first - CLOSE <= sure(nearest)[1] <= last + CLOSE


@pytest.mark.parametrize("seed", range(12))
def test_the_least_room_among_many_blocks_is_a_scans(seed):
    """Twelve blocks that end at different places, by square and leaning axes: none that decides is left out."""
    rng = random.Random(seed)
    spots = [(rng.uniform(-220, 220), rng.uniform(-240, -100), rng.choice((None, rng.uniform(2, 60)))) for _ in range(12)]
    blocks = tuple(
        Block(name=f"block {at}", outline=((u, y), (u + 9, y), (u + 12, y + 7), (u, y + 9)), stands_out=out)
        for at, (u, y, out) in enumerate(spots)
    )  # fmt: skip
    floor = ((-300, 0), (-300, -260), (-20, -260), (10, -235), (300, -260), (300, 0))
    within, disc = inside(rng.choice((0.0, 15.0)), floor, blocks, rise=rng.choice((-8.0, 20.0))), DISCS[seed % 3]
    for _ in range(4):
        at = leaves(rng.uniform(-220, 220), -rng.uniform(100, 230), rng.choice((0.0, rng.uniform(-12, 12))))
        start, end = rng.uniform(0, 5), rng.uniform(10, 70)
        room, least = least_room(within, at, disc, start, end), scanned(within, at, disc, start, end)
        if least > -disc.radius:
            assert room <= least + CLOSE
        if least > 0:
            assert room >= least - 0.3  # a block may end, or a corner pass, between two places of the scan
