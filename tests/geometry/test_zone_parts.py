"""Single parts of the zones' areas by hand: which bodies count over a floor, a backing plate, the outline of a turn."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.design.patterns import backing_plate
from geometry.solid.discs import Disc
from geometry.solid.handle_arcs import Handle
from geometry.solid.well import space
from geometry.zones.free_room import Stretch, _outermost
from geometry.zones.pair_zone import zones
from geometry.zones.turning_room import _Turn
from tests.designs import changed, roomy
from tests.geometry.test_clearances import inside


@pytest.mark.parametrize(("rise", "falls", "end"), [(8.0, False, 20.0), (0.0, True, 3.0), (-8.0, True, 3.0)])
def test_over_a_floor_that_rises_a_body_counts_to_its_far_end(rise: float, falls: bool, end: float) -> None:
    """Square to the face: over a falling floor it is nearest where it starts, over a rising one where it ends."""
    within, body = inside(rise=rise), Stretch(3.0, 20.0, Disc(10.0))
    heights = [within.section(n, 1.0).room_of(Disc(10.0), (0.0, -150.0)) for n in (3.0, 20.0)]
    assert (heights[1] >= heights[0] - 1e-9) == falls
    assert _outermost(within, [body], 0.0) == [(3.0, end, Disc(10.0))]
    assert _outermost(within, [body], 0.1) == [(3.0, 20.0, Disc(10.0))]


def test_in_a_plain_well_a_whole_pattern_with_a_backing_plate_has_its_zone() -> None:
    """45 mm over the floor there is room for a backing plate. 45 mm further down there is none."""
    bare = roomy()
    design = changed(bare, mounts__0__lower_hardware__backing_plate=backing_plate(bare.mounts[0].bracket, "lower", 38.1))
    assert space(design).convex
    pattern = zones(design).pattern
    assert pattern.holds((0.0, -50.8))
    assert not pattern.holds((0.0, -50.8 - 45.0))


@given(st.floats(40.0, 300.0), st.floats(2.0, 30.0), st.floats(-3.0, 3.0), st.floats(0.05, 1.0))
def test_the_outline_of_a_turn_holds_the_handle_and_little_more(length: float, half: float, start: float, size: float) -> None:
    """Every corner of the handle at both ends is in it; none of it is further round than the handle's own corners."""
    ring = _Turn(Handle(length, half), size, ())._corners(start, start + size)
    hull = shapely.MultiPoint(ring).convex_hull
    for angle in (start, start + size):
        c, s = math.cos(angle), math.sin(angle)
        for side in (-half, half):
            assert hull.distance(shapely.Point(length * c - side * s, length * s + side * c)) < 1e-6
    aside = math.atan2(half, length)
    for x, y in ring:
        if math.hypot(x, y) > half + 1.0:
            off = math.remainder(math.atan2(y, x) - start - size / 2, math.tau)
            assert abs(off) <= size / 2 + aside + 1e-6
