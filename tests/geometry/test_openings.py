"""Holes to be drilled for cables and hoses, in the drillable zone: by hand, and against the check of the wood."""

import math
from collections import Counter
from random import Random

import pytest
import shapely
from msgspec.structs import replace

from geometry.decide.fit import fits
from geometry.design.boat import Fitting, OldHole
from geometry.judge.check import check
from geometry.solid.openings import openings
from geometry.solid.well import space
from geometry.zones.pair_zone import zones
from geometry.zones.shape_sums import only_areas
from tests.designs import example_design, random_design, roomy
from tests.geometry.test_zones import agreement, area_of

NEXT_TO = 28.0  # mm: half the side of the fittings' outlines here


def tube(at, drill, name="rigging tube"):
    """Return a fitting about a hole that is to be drilled; it is flat, so that a bracket may be over it."""
    (u, v), half = at, NEXT_TO
    ring = ((u - half, v - half), (u + half, v - half), (u + half, v + half), (u - half, v + half))
    return Fitting(name=name, outline=ring, stands_out=0.1, drill=drill)


def opened(at, drill, **values):
    """Return an old hole of 12.7 that is to be opened."""
    hole = OldHole(name="old cable hole", at=at, diameter=12.7, state="open", plug_diameter=None, reuse=False, drill=drill)
    return replace(hole, **values)


def lost(design, changed_design):
    """Return what of the lower bolts' least area is lost."""
    before, after = (area_of(zones(each).lower, "least") for each in (design, changed_design))
    return before.difference(after)


@pytest.mark.parametrize("part", ["fitting", "old hole", "old hole to be used again"])
def test_an_opening_cuts_a_round_out_of_the_zone(part):
    """By hand: half a diameter of wood at least, 0.5·12.7, and half of both holes, (13.5 + 50.8)/2: 38.5 mm apart."""
    bare, at = replace(example_design(), old_holes=(), outside_fittings=(), inside_blocks=()), (0.0, -150.0)
    if part == "fitting":
        design = replace(bare, outside_fittings=(tube(at, 50.8),))
    else:
        design = replace(bare, old_holes=(opened(at, 50.8, reuse="again" in part),))
    cut = lost(bare, design)
    assert cut.area == pytest.approx(math.pi * 38.5**2, rel=2e-3)
    assert cut.bounds == pytest.approx((-38.5, -188.5, 38.5, -111.5), abs=0.02)


def test_a_fitting_without_a_hole_takes_no_place_from_a_bolt():
    bare = replace(example_design(), outside_fittings=())
    assert lost(bare, replace(bare, outside_fittings=(tube((0.0, -150.0), None),))).area < 1e-6


def test_an_old_hole_that_is_opened_is_not_used_by_a_bolt():
    """At a bolt's own place it is overlapped: a cable is in it, and no bolt."""
    mount = roomy().mounts[0]
    hole = opened((163.5125, mount.upper_at), 20.0, reuse=True)
    assert not hole.is_reused
    assert replace(hole, drill=None).is_reused
    finding = check(replace(roomy(), old_holes=(hole,))).of("old_hole", "main motor / upper starboard / old cable hole")
    assert finding.state == "fouled"


def test_find_a_fit_keeps_off_an_opening():
    """A tube of 2 in where the upper starboard bolt is now: each offer has wood enough there."""
    design = replace(roomy(), outside_fittings=(tube((163.5125, roomy().mounts[0].upper_at), 50.8),))
    assert "old_hole" in {finding.check for finding in check(design).findings if finding.state == "fouled"}
    offers = [fit for fit in fits(design) if fit.fits]
    for fit in offers:
        assert "old_hole" not in {finding.check for finding in check(fit.design).findings if finding.state == "fouled"}


def with_openings(rng, design):
    """Return a random boat with one to three openings among its bolts, in fittings and in old holes of every state."""
    def at():
        return rng.uniform(-190.0, 190.0), -rng.uniform(40.0, 260.0)

    fittings = tuple(tube(at(), rng.uniform(10.0, 80.0), f"tube {number}") for number in range(rng.randrange(3)))
    holes = tuple(
        opened(at(), rng.uniform(6.0, 60.0), name=f"cable hole {number}", reuse=rng.random() < 0.3,
               **rng.choice(({}, {"state": "sealed"}, {"state": "plugged", "plug_diameter": 20.0})))
        for number in range(rng.randrange(1 if fittings else 3) + (0 if fittings else 1))
    )  # fmt: skip
    return replace(design, outside_fittings=fittings, old_holes=(*design.old_holes, *holes))


@pytest.mark.parametrize("seed", range(4))
def test_zone_and_check_agree_about_openings(seed):
    """A place within the zone passes the check, and one out by more than 0.05 mm fails; square and leaning bolts."""
    tally: Counter[tuple[bool, bool]] = Counter()
    bounded, number = 0, 0
    while sum(tally.values()) < 500:
        number += 1
        rng = Random(f"openings {seed} {number}")
        bare = random_design(rng, square=number % 4 != 0)
        if not space(bare).convex:
            continue
        design = with_openings(rng, bare)
        assert openings(design)
        agreement(design, rng, (20, 20, 6), tally)
        bounded += lost(replace(bare, outside_fittings=()), design).area > 500.0
    assert bounded > 3
    assert min(tally[within, True] for within in (True, False)) > 10


def test_the_round_is_about_both_ends_where_bolts_lean():
    """Bolts that lean up 5°: their exits are higher, so the round about the inner end is lower on the outer face.

    By hand, at 44 mm thick: an exit is 44·tan 5° = 3.849 above its entry. Together both rounds are so much taller.
    """
    bare = replace(example_design(), old_holes=(), outside_fittings=(), inside_blocks=())
    mount = replace(bare.mounts[0], lower_tilt=5.0)
    bare = replace(bare, mounts=(mount,))
    cut = lost(bare, replace(bare, outside_fittings=(tube((0.0, -140.0), 25.4),)))
    _, low, _, high = cut.bounds
    radius = 0.5 * 12.7 + (13.5 + 25.4) / 2
    assert (low, high) == pytest.approx((-140.0 - radius - 44.0 * math.tan(math.radians(5.0)), -140.0 + radius), abs=0.03)
    assert cut.contains(shapely.Point(0.0, -140.0))


def test_two_areas_that_touch_leave_no_bare_line():
    """Two squares that share a corner's area and, further on, a piece of an edge: only the area counts, 1 by 1."""
    first = shapely.box(0, 0, 2, 2)
    second = shapely.union(shapely.box(1, 1, 3, 3), shapely.box(2, -1, 3, 0.5))
    both = shapely.intersection(first, second)
    assert both.geom_type == "GeometryCollection"
    assert only_areas(both).equals(shapely.box(1, 1, 2, 2))
    assert only_areas(first) is first
