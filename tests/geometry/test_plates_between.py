"""Backing plates in wells with corners that point in: against scans, against a solid modeller, and by sampled points."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest
import shapely
from manifold3d import JoinType
from msgspec.structs import replace

from geometry.design.hardware import BOLT_NAMES, BackingPlate
from geometry.judge.inside_room import joined_by
from geometry.judge.reporter import Reporter
from geometry.solid.clearances import plate_clearance, plate_over_rim
from geometry.solid.farthest_point import farthest
from geometry.solid.outline import Rim
from geometry.solid.placed_bolts import plate_ring
from tests.designs import changed, example_design, random_design, sure
from tests.reference.solids import _placed, _polygon, scene

CLOSE = 1e-6  # [mm]
NEAR = 0.01  # [mm]
STEPS = 120


def boat(seed: int, *, relieved: bool):
    """Return a random boat whose well has a corner that points in, with a backing plate under its lower bolts."""
    rng = random.Random(seed)
    design = random_design(rng)
    while design.well is None or Reporter(design).space.convex:
        design = random_design(rng)
    thick, low = rng.uniform(3, 14), rng.uniform(-60, -20)
    plate = BackingPlate(
        outline=((-160, low), (10, low - 8), (160, low), (160, 30), (-160, 30)), thickness=thick, material="aluminium 5083",
        relief=(rng.uniform(2, 12), rng.uniform(0.3, 1) * thick) if relieved else (0.0, 0.0), joins=BOLT_NAMES[2:],
    )  # fmt: skip
    return changed(design, mounts__0__lower_hardware__backing_plate=plate, mounts__0__upper_hardware__backing_plate=None,
                   mounts__0__drop=rng.uniform(90, 200), well__floor_rise=rng.choice((-5.0, 25.0)))  # fmt: skip


def the_plate(design):
    report = Reporter(design)
    plate = sure(sure(design.mounts[0].lower_hardware).backing_plate)
    return report, joined_by(report, report.bolts[2], plate), plate


@pytest.mark.parametrize("seed", range(12))
def test_a_plates_clearance_is_a_scans(seed):
    """Clear or fouled: never more than at any of 120 places between, and less by 0.01 mm at most."""
    report, joined, plate = the_plate(boat(seed, relieved=seed % 2 == 0))
    room = plate_clearance(report.space, report.inner_rim, joined, plate)
    thick = sure(plate.thickness)
    places = sorted({thick * (i / STEPS) ** 2 for i in range(STEPS + 1)} | {sure(plate.relief[1])} - {0.0} | {0.0})
    scan = [report.space.section(n).room_of_ring(plate_ring(joined, plate, n)) for n in places if n <= thick]
    scan += [report.space.section(block.out, before=True).room_of_ring(plate_ring(joined, plate, block.out))
             for block in report.space.blocks if block.out <= thick]  # fmt: skip
    least = min(*scan, plate_over_rim(report.inner_rim, joined, plate))
    assert least - NEAR <= room <= least + 1e-3  # the places miss the least by less


@pytest.mark.parametrize("seed", range(24))
def test_a_plates_clearance_is_the_solids(seed):
    """Without relief: grown all round by so much, less 0.01 mm, it does not enter the solid; by 0.02 mm more it does."""
    design = boat(seed, relieved=False)
    report, joined, plate = the_plate(design)
    room = plate_clearance(report.space, report.inner_rim, joined, plate)
    if room < 0.1 or room > plate_over_rim(report.inner_rim, joined, plate) - CLOSE:
        return
    at = scene(design)

    def enters(growth: float) -> bool:
        shape = _polygon(list(plate_ring(joined, plate, 0.0))).offset(growth, JoinType.Round, circular_segments=512)
        body = _placed(shape, at.origin, at.up, at.forward, sure(plate.thickness))
        return at.enters(body)

    assert not enters(room - NEAR)
    assert enters(room + 2 * NEAR)


@pytest.mark.parametrize("seed", range(6))
def test_the_farthest_point_is_that_of_a_fine_grid(seed):
    """A rectangle with a few bars off it: at most 0.01 mm more than the farthest of 56000 points, and 0.1 for their mesh."""
    rng = random.Random(seed)
    bars = [shapely.box(x, 0, x + rng.uniform(1, 30), rng.uniform(5, 60)) for x in range(0, 160, 40)]
    free = shapely.box(-50, -50, 200, 100).difference(shapely.union_all([shapely.affinity.rotate(bar, 20) for bar in bars]))
    area = shapely.box(-10, -10, 170, 40).difference(free)
    mesh = [(-10 + 0.4 * i, -10 + 0.4 * j) for i in range(451) for j in range(126)]
    points = shapely.points(mesh)
    inside = points[shapely.contains(area, points)]
    most = float(shapely.distance(inside, free).max())
    assert most - CLOSE <= farthest(area, free) <= most + 0.3 + NEAR


def test_a_plate_over_a_notch_between_its_corners_is_beyond_the_wood():
    """A notch 40 wide and 20 deep in the wood's top. A backing plate reaches 12 up into it: its middle is 12 beyond."""
    ring = ((-300.0, 0.0), (-300.0, -400.0), (300.0, -400.0), (300.0, 0.0), (20.0, 0.0), (20.0, -20.0), (-20.0, -20.0),
            (-20.0, 0.0))  # fmt: skip
    wood = Rim(tuple(pairwise((*ring, ring[0]))), (ring,), every=True)
    design = boat(1, relieved=False)
    report, joined, plate = the_plate(design)
    middle = sum(bolt.exit.w for bolt in joined) / 2
    low, high = -60.0 - middle, -8.0 - middle
    plate = replace(plate, outline=((-100, low), (100, low), (100, high), (-100, high)))
    assert plate_over_rim(wood, joined, plate) == pytest.approx(-12.0, abs=NEAR)
    assert math.isfinite(plate_clearance(report.space, wood, joined, plate))



def test_a_step_comes_nearest_to_a_relieved_plate_between_its_faces():
    """The lower corner of a backing plate 14 thick, relieved by 7, comes down and out by 0.5 for each 1 forward.

    A step's corner is 7 to starboard of it at the inner face, at the same height, and falls by 1 for each 1 forward. At n it
    is 7 - n/2 across from the backing plate's corner and n/2 below: 7 at both its faces, and 7/√2 halfway.
    """
    plate = BackingPlate(
        outline=((-160, -20), (180, -20), (130, 30), (-160, 30)), thickness=14.0, relief=(7.0, 14.0),
        material="aluminium 5083", joins=BOLT_NAMES[2:],
    )  # fmt: skip
    step = -50.8 - 165.1 - 13
    design = changed(
        example_design(), transom__rake=0.0, well__well_from="datum", well__floor_rise=-45.0, well__fillet_radius=0.0,
        well__profile=((-320, 0), (-300, -290), (180, -290), (180, step), (300, step), (320, 0)), inside_blocks=(),
        mounts__0__lower_hardware__backing_plate=plate,
    )  # fmt: skip
    report, joined, plate = the_plate(design)
    for n in (0.0, 3.0, 7.0, 14.0):
        room = report.space.section(n).room_of_ring(plate_ring(joined, plate, n))
        assert room == pytest.approx(math.hypot(7 - n / 2, n / 2), abs=CLOSE)
    room = plate_clearance(report.space, report.inner_rim, joined, plate)
    assert 7 / math.sqrt(2) - NEAR <= room <= 7 / math.sqrt(2) + CLOSE
