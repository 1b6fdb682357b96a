"""Washers cut flat on the lower side, and how low they let a motor hang: against points of their rim, and against scans."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.decide.lowest import greatest_depth
from geometry.design.boat import Block
from geometry.design.hardware import BackingPlate
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.inside_room import part_room, plate_room
from geometry.judge.reporter import Reporter
from geometry.solid.clearances import body_clearance
from geometry.solid.discs import Disc
from geometry.solid.placed_bolts import Body
from geometry.solid.well import space
from tests.designs import changed, example_design, random_design, sure
from tests.geometry.test_clearances import inside, leaves

CLOSE = 1e-6  # [mm]
SCAN = 0.01  # [mm]: how close the lowest place is to a scan's
SEEDS = range(24)


def boat(seed: int, *, cut: bool, square: bool | None = True):
    """Return a random boat with a well, its lower washers 40 mm wide, whole or cut, without backing plates."""
    rng = random.Random(seed)
    design = random_design(rng, square=square)
    while design.well is None:
        design = random_design(rng, square=square)
    washer = replace(sure(design.mounts[0].lower_hardware).washer, outer=40.0, flat_cut=13.0 if cut else None)
    return changed(design, mounts__0__lower_hardware__washer=washer, mounts__0__lower_hardware__backing_plate=None)


def split(design, share: float):
    """Return a boat with one more corner on each straight edge of its profile."""
    corners = sure(design.well).profile
    profile = [corners[0]]
    for (ua, ya), (ub, yb) in zip(corners, corners[1:], strict=False):
        profile += [(ua + share * (ub - ua), ya + share * (yb - ya)), (ub, yb)]
    return changed(design, well__profile=tuple(profile))


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("disc", [Disc(20.0, 13.0), Disc(20.0)])
def test_an_extra_corner_on_a_straight_edge_changes_nothing(seed, disc):
    """Clear or fouled, uneven and split floors, square and leaning bolts."""
    rng = random.Random(seed)
    design = boat(seed, cut=False, square=seed % 2 == 0)
    whole, parted = space(design), space(split(design, rng.uniform(0.2, 0.8)))
    lean = 0.0 if seed % 2 == 0 else rng.uniform(-12, 12)
    for _ in range(8):
        at, start = leaves(rng.uniform(-250, 250), -rng.uniform(120, 330), lean), rng.uniform(0, 4)
        body = Body("washer", start, start + 3, disc)
        assert body_clearance(whole, at, body) == pytest.approx(body_clearance(parted, at, body), abs=CLOSE)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("disc", [Disc(20.0, 13.0), Disc(20.0, 19.0), Disc(20.0)])
def test_the_room_changes_no_faster_than_the_place(seed, disc):
    """Straight down by steps of 1.4 mm, from clear to deep in the floor."""
    rng = random.Random(seed)
    within = space(boat(seed, cut=True, square=None))
    u, lean = rng.uniform(-200, 200), rng.choice((0.0, rng.uniform(-12, 12)))
    rooms = [body_clearance(within, leaves(u, -150.0 - 1.4 * i, lean), Body("washer", 0.0, 3.0, disc)) for i in range(90)]
    for room, following in zip(rooms, rooms[1:], strict=False):
        assert abs(sure(room) - sure(following)) <= 1.4 + CLOSE


def rim(disc: Disc) -> list[tuple[float, float]]:
    """Return many points of a cut disc's rim, the ends of its cut among them."""
    low = math.asin(disc.cut / disc.radius)
    turns = [-low + (math.pi + 2 * low) * i / 2000 for i in range(2001)]
    return [(disc.radius * math.cos(turn), disc.radius * math.sin(turn)) for turn in turns]


RIM = rim(Disc(20.0, 13.0))


@given(st.floats(-330, 330), st.floats(-260, -120), st.floats(-30, 30), st.floats(0, 60), st.floats(-40, 40))
def test_the_overlap_is_how_far_the_farthest_point_is_beyond(u, w, port, flare, middle):
    """In a well where nothing points in; 2000 points of the rim come within 1e-3 mm of the farthest."""
    profile = ((-300 - flare, 0), (-300, -200 + port), (middle, -200 - abs(port) - 5), (300, -200 - port), (300 + flare, 0))
    section = inside(0.0, profile).section(0.0)
    if not section.convex:
        return
    well = shapely.Polygon([(300 + flare, 1e4), (-300 - flare, 1e4), *profile])
    farthest = float(shapely.distance(well, shapely.points([(u + x, w + y) for x, y in RIM])).max())
    room = section.room_of(Disc(20.0, 13.0), (u, w))
    if farthest > CLOSE:
        assert room == pytest.approx(-farthest, abs=1e-3)


@pytest.mark.parametrize(
    ("u", "w", "room"),
    [
        (0.0, -206.0, -18.5),  # the cut is 12.5 below a centre that is 6 under the floor
        (-320.0, -100.0, -40.0),  # 20 beyond the wall at port, and the whole radius more
        (-310.0, -206.0, -31.661904),  # past the corner by hypot(10, 6), and the radius more: the cut's end is 31.5951 off
    ],
)
def test_deep_in_a_level_floor_and_an_upright_wall(u, w, room):
    """Half the chord: sqrt(20² - 12.5²) = 15.6125. By hand."""
    rooms = sure(body_clearance(inside(), leaves(u, w), Body("washer", 0.0, 3.0, Disc(20.0, 12.5))))
    assert rooms == pytest.approx(room, abs=CLOSE)


def lower_rooms(design, depth: float) -> float:
    """Return the least room of the lower pair with its holes ``depth`` below the datum [mm]."""
    hung = changed(design, mounts__0__upper_at=-1e-3, mounts__0__drop=depth - 1e-3)
    report = Reporter(hung)
    rooms = [part_room(report, bolt, part) for bolt in report.bolts if not bolt.upper for part in IN_WELL]
    return min((room for room in rooms if room is not None), default=math.inf)


@pytest.mark.parametrize("seed", range(24))
def test_the_greatest_depth_is_a_scans(seed):
    """Whole and cut washers, uneven and split floors, square and leaning bolts: what is deeper has too little room.

    Every 4 mm from the outline's lowest point, then every 0.01 mm over the last 0.3 mm; there it has what is wanted.
    """
    design = split(boat(seed, cut=seed % 3 != 0, square=seed % 4 != 3), 0.4)
    depth, wanted = greatest_depth(design, 0, 2.0), 2.0
    low = 519.0
    if depth is not None:
        assert lower_rooms(design, depth) >= wanted - CLOSE
        deeper = [depth + SCAN * i for i in range(1, 31) if depth + SCAN * i < low]
        assert all(lower_rooms(design, at) < wanted for at in deeper)
    passed = [at for i in range(1, 129) if (at := low - 4 * i) > (depth or 0.0) and lower_rooms(design, at) >= wanted]
    assert passed == []


@given(*[st.floats(-25, 25)] * 4, st.floats(2, 18))
def test_an_edge_through_a_cut_disc_is_as_deep_as_its_deepest_point(a, b, c, d, cut):
    """Against 20 001 points of the edge: each is inside the arc and above the cut by a plain length. Within 0.01 mm."""
    share = np.linspace(0.0, 1.0, 20_001)
    u, w = a + share * (c - a), b + share * (d - b)
    deepest = float(np.max(np.minimum(20.0 - np.hypot(u, w), cut + w)))
    gap = Disc(20.0, cut).gap((0.0, 0.0), ((a, b), (c, d)))
    assert gap >= 0.0 if deepest < 0.0 else gap == pytest.approx(-deepest, abs=0.01)


def plated(design, below: float):
    """Return a boat with a backing plate that reaches ``below`` under its lower bolts and 30 over them."""
    wide = 125.4125 + 30.0
    plate = BackingPlate(outline=((-wide, -below), (wide, -below), (wide, 30.0), (-wide, 30.0)), thickness=6.0,
                         relief=(0.0, 0.0), material="aluminium 5083", joins=("lower port", "lower starboard"))  # fmt: skip
    return changed(design, mounts__0__lower_hardware__backing_plate=plate)


@pytest.mark.parametrize(("below", "wanted"), [(40.0, 2.0), (40.0, 0.0), (25.0, 2.0)])
def test_a_backing_plate_below_the_washers_ends_how_deep_they_go(below, wanted):
    """On a level floor, square to the face, its lower edge stops ``wanted`` over the floor: no washer comes as near."""
    design = changed(example_design(), inside_blocks=(), transom__rake=0.0, well__floor_rise=0.0, well__fillet_radius=0.0)
    with_plate = plated(design, below)
    depth = sure(greatest_depth(with_plate, 0, wanted))
    report = Reporter(changed(with_plate, mounts__0__upper_at=-1e-3, mounts__0__drop=depth - 1e-3))
    assert min(sure(plate_room(report, bolt)) for bolt in report.bolts if not bolt.upper) == pytest.approx(wanted, abs=CLOSE)
    assert sure(greatest_depth(design, 0, wanted)) == pytest.approx(depth + below - 38.1 / 2, abs=CLOSE)


@pytest.mark.parametrize("wanted", [0.0, 2.0])
def test_a_backing_plate_passes_no_block_between_its_washers(wanted):
    """A post 20 wide up to 300 down, half way between the bolts: no washer comes near it, but the lower edge does."""
    post = Block(name="post", outline=((-10, -600), (10, -600), (10, -300), (-10, -300)), stands_out=60.0)
    design = replace(changed(example_design(), transom__rake=0.0), well=None, inside_blocks=(post,))
    assert sure(greatest_depth(design, 0, wanted)) > 400.0
    assert greatest_depth(plated(design, 40.0), 0, wanted) == pytest.approx(300.0 - 40.0 - wanted, abs=CLOSE)
