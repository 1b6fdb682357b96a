"""How much core a backing plate presses that ends near a washer: against a library of areas, and the mirrored boat's.

Library: shapely, with 1024 chords to a round, 6 parts in a million short. Our calculation has 180 rays, and is 2
parts in 10,000 short at the most; next to a notch, behind which no ray looks, 5 in 1,000.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from geometry.design.hardware import BOLT_NAMES, BackingPlate
from geometry.judge.pressed_area import area_of
from geometry.solid.placed_bolts import bolts, plate_ring
from tests.designs import changed, example_design, mirrored

HALF, REACH, SKIN, HOLE = 125.4125, 19.05 + 6.0, 4.0, math.pi / 4 * 13.5**2
ROUND = 256  # chords to a quarter


def plated(low, relief, beyond, notch, **values):
    """Return the worked example with a lower backing plate: how far it reaches below and beyond its bolts, relieved,
    notched."""
    wide, near = HALF + beyond, HALF - 22.0
    between = ((-near, -low), (-near, notch - low), (near, notch - low), (near, -low)) if notch else ()
    plate = BackingPlate(
        outline=((-wide, 38.0), (-wide, -low), *between, (wide, -low), (wide, 38.0)), thickness=6.0,
        relief=(relief, 6.0 if relief else 0.0), material="aluminium 5083", joins=("lower port", "lower starboard"),
    )  # fmt: skip
    return changed(example_design(), mounts__0__lower_hardware__backing_plate=plate, **values)


def by_the_library(bolt):
    """Return the washer's circle through the backing plate, within what of it touches the face, grown by the skin."""
    u, w = bolt.exit.u, bolt.exit.w
    circle = Point(u, w).buffer(REACH, quad_segs=ROUND)
    touched = circle.intersection(Polygon(plate_ring(bolts(bolt.design)[2:], bolt.plate, 0.0)))
    return touched.buffer(SKIN, quad_segs=ROUND).area - HOLE


@settings(max_examples=100, deadline=None)
@given(st.floats(10, 40), st.sampled_from((0.0, 3.0, 9.0)), st.floats(1, 30), st.sampled_from((0.0, 12.0, 30.0)))
def test_what_a_backing_plate_s_edges_leave_is_the_library_s(low, relief, beyond, notch):
    """The skin's spread of both sides of a notch's corner overlaps: that may add (1 - π/4) 4², 3.5 mm2."""
    for bolt in bolts(plated(low, relief, beyond, notch))[2:]:
        true = by_the_library(bolt)
        short, more = (0.005, 3.5) if notch else (0.0003, 0.0)
        assert true * (1 - short) <= area_of(bolt) <= true * (1 + 1e-5) + more


@pytest.mark.parametrize("offset", [0.0, 7.3])
@pytest.mark.parametrize("flat", [None, 13.0])
def test_the_mirrored_boat_presses_alike(offset, flat):
    """Within rounding, even where one end is further away."""
    values = {"mounts__0__offset": offset, "mounts__0__lower_hardware__washer__flat_cut": flat}
    design = plated(18.0, 3.0, 12.0047, 30.0, **values)
    ring = design.mounts[0].lower_hardware.backing_plate.outline
    design = changed(design, mounts__0__lower_hardware__backing_plate__outline=tuple((u * 1.01 + 1.3, w) for u, w in ring))
    here, there = bolts(design), bolts(mirrored(design))
    areas = [area_of(here[2]), area_of(here[3])]
    assert abs(areas[0] - areas[1]) > 1.0
    assert [area_of(there[3]), area_of(there[2])] == pytest.approx(areas, abs=1e-9)


@pytest.mark.parametrize("corner", [45.0, 31.0, 63.0])
def test_no_ray_slips_out_at_a_corner(corner):
    """A ray's very direction, in which two edges meet: the backing plate ends 12 below the centre."""
    for bolt in bolts(plated(12.0, 0.0, 12.0 / math.tan(math.radians(corner)), 0.0))[2:]:
        assert area_of(bolt) <= by_the_library(bolt) * (1 + 1e-5)


def test_a_backing_plate_that_does_not_touch_the_face_about_the_hole_presses_nothing():
    for design in (plated(20.0, 0.0, -1.0, 0.0), plated(20.0, 21.0, 12.0, 0.0)):
        assert [area_of(bolt) for bolt in bolts(design)[2:]] == [0.0, 0.0]


def test_two_bolts_next_to_in_one_place_press_hardly_more_than_one_side():
    """A file may drop the lower pair by a thousandth, the least there is, where both pairs share a backing plate: half a
    round each."""
    plate = BackingPlate(outline=((-200, -40), (200, -40), (200, 40), (-200, 40)), thickness=6.0, relief=(0.0, 0.0),
                         material="aluminium 5083", joins=BOLT_NAMES)  # fmt: skip
    design = changed(example_design(), mounts__0__bracket__rows__half_spacing=HALF, mounts__0__drop=1e-3,
                     mounts__0__lower_hardware__backing_plate=plate)  # fmt: skip
    whole = math.pi * (REACH + SKIN) ** 2
    for bolt in bolts(design)[2:]:
        assert 0.0 <= area_of(bolt) < whole * 0.75
