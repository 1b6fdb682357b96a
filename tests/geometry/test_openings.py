"""Holes to be drilled for cables and hoses, next to bolts and their washers: by hand, in check and drillable zone."""

import math
from collections import Counter
from random import Random

import pytest
import shapely
from msgspec.structs import replace

from geometry.decide.fit import fits
from geometry.design.boat import Fitting, OldHole
from geometry.design.hardware import BackingPlate
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.words import findings_rows
from geometry.solid.openings import openings
from geometry.solid.placed_bolts import bolts
from geometry.solid.well import space
from geometry.zones.pair_zone import zones
from geometry.zones.shape_sums import only_areas
from tests.designs import changed, example_design, random_design, roomy, sure
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
    """By hand: half of the washer and of the hole, (38.1 + 50.8)/2: 44.45 mm apart. Half a diameter of wood needs 38.5 only."""
    bare, at = replace(example_design(), old_holes=(), outside_fittings=(), inside_blocks=()), (0.0, -150.0)
    if part == "fitting":
        design = replace(bare, outside_fittings=(tube(at, 50.8),))
    else:
        design = replace(bare, old_holes=(opened(at, 50.8, reuse="again" in part),))
    cut = lost(bare, design)
    assert cut.area == pytest.approx(math.pi * 44.45**2, rel=2e-3)
    assert cut.bounds == pytest.approx((-44.45, -194.45, 44.45, -105.55), abs=0.03)


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


OVER = "main motor / lower starboard / rigging tube"


def beside_lower_starboard(across, drill=50.8, **values):
    """Return a boat with a tube so far to the side of its lower starboard bolt, between the two."""
    bare = changed(replace(example_design(), old_holes=(), outside_fittings=(), inside_blocks=()), **values)
    bolt = next(bolt for bolt in bolts(bare) if bolt.name == "lower starboard")
    return replace(bare, outside_fittings=(tube((bolt.u - across, bolt.v), drill),))


@pytest.mark.parametrize(
    ("across", "room", "state"), [(40.0, -4.45, "fouled"), (44.45, 0.0, "tight"), (50.0, 5.55, "clear"), (96.0, 51.55, None)]
)
def test_a_washer_over_an_opening_is_seen(across, room, state):
    """By hand: a tube of 2 in and a washer of 38.1 mm, both halves from what is between their middles.

    At 40 mm the wood between both holes is 40 - 25.4 - 6.75 = 7.85 mm, more than half a bolt's diameter: it says tight only.
    """
    checked = check(beside_lower_starboard(across))
    finding = checked.of("over_opening", OVER)
    if state is None:
        assert finding is None
        return
    assert sure(finding).value == pytest.approx(room, abs=1e-6)
    assert sure(finding).state == state
    if state == "fouled":
        assert checked.of("old_hole", OVER).state == "tight"
        assert drillable(checked).answer == "no"
        assert sure(finding).text == "The lower starboard washer overlaps the hole to be drilled for rigging tube by 3/16 in."
        assert "Drill that hole elsewhere" in sure(finding).remedy


def test_a_cut_washer_is_off_an_opening_below_its_cut():
    """By hand: cut 12 mm below its middle, over a tube of 2 in 40 mm lower: 40 - 12 - 25.4 = 2.6 mm, not 40 - 19.05 - 25.4."""
    bare = replace(example_design(), old_holes=(), outside_fittings=(), inside_blocks=())
    bare = changed(bare, mounts__0__lower_hardware__washer__flat_cut=12.0)
    bolt = next(bolt for bolt in bolts(bare) if bolt.name == "lower starboard")
    design = replace(bare, outside_fittings=(tube((bolt.u, bolt.v - 40.0), 50.8),))
    assert sure(check(design).of("over_opening", OVER)).value == pytest.approx(2.6, abs=1e-6)


def test_a_backing_plate_over_an_opening_is_seen():
    """By hand: a backing plate 40 mm high about both bolts: a tube of 1 in between them is 20 + 12.7 mm deep in it."""
    ring = (-160.0, -20.0), (160.0, -20.0), (160.0, 20.0), (-160.0, 20.0)
    plate = BackingPlate(
        outline=ring, thickness=6.0, material="aluminium 5052", relief=(0.0, 0.0), joins=("lower port", "lower starboard"),
    )  # fmt: skip
    design = beside_lower_starboard(100.0, 25.4, mounts__0__lower_hardware__backing_plate=plate)
    checked = check(design)
    finding = sure(checked.of("over_opening", "main motor / lower / plate / rigging tube"))
    assert finding.state == "fouled"
    assert finding.value == pytest.approx(-20.0 - 12.7, abs=1e-6)
    assert finding.text.startswith("The lower backing plate overlaps the hole to be drilled for rigging tube by 1 5/16 in.")
    assert "Lower backing plate, rigging tube" in {row.title for row in findings_rows(checked)}


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
    """Bolts that lean up 5°: their exits are higher, so the round that the washers need inside is lower on the outer face.

    By hand, at 44 mm thick: an exit is 44·tan 5° = 3.849 above its entry. The round outside keeps the wood.
    """
    bare = replace(example_design(), old_holes=(), outside_fittings=(), inside_blocks=())
    mount = replace(bare.mounts[0], lower_tilt=5.0)
    bare = replace(bare, mounts=(mount,))
    cut = lost(bare, replace(bare, outside_fittings=(tube((0.0, -140.0), 25.4),)))
    _, low, _, high = cut.bounds
    radius, rise = (38.1 + 25.4) / 2, 44.0 * math.tan(math.radians(5.0))
    assert (low, high) == pytest.approx((-140.0 - radius - rise, -140.0 + radius - rise), abs=0.03)
    assert cut.contains(shapely.Point(0.0, -140.0))


def test_two_areas_that_touch_leave_no_bare_line():
    """Two squares that share a corner's area and, further on, a piece of an edge: only the area counts, 1 by 1."""
    first = shapely.box(0, 0, 2, 2)
    second = shapely.union(shapely.box(1, 1, 3, 3), shapely.box(2, -1, 3, 0.5))
    both = shapely.intersection(first, second)
    assert both.geom_type == "GeometryCollection"
    assert only_areas(both).equals(shapely.box(1, 1, 2, 2))
    assert only_areas(first) is first
