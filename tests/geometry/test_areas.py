"""Areas for drawing, by hand calculation."""

import math

import pytest

from geometry.solid.faces import Unmeasured
from geometry.solid.well import space
from geometry.zones.areas import blocked, inner_face, land_lines, overlap, well_area
from tests.designs import changed, example_design

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
EDGE = -44 * math.tan(math.radians(14))  # w of the inside top edge: the top is cut level


def area(ring):
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))) / 2


def test_what_two_squares_share():
    (shared,) = overlap(SQUARE, tuple((x + 6, y + 7) for x, y in SQUARE))
    assert area(shared) == pytest.approx(4 * 3)
    assert overlap(SQUARE, tuple((x + 20, y) for x, y in SQUARE)) == ()


def test_a_ring_that_crosses_itself_is_no_fault():
    bow = ((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0))
    assert sum(area(ring) for ring in overlap(bow, SQUARE)) <= 50 + 1e-9


def test_the_part_below_the_land():
    """A square of 10 with its foot 4 below where the flat land ends: 4 of its 10 are lost."""
    design = example_design()
    land = EDGE - 236.03 + 12 / math.tan(math.radians(50.5))
    ring = tuple((x - 100, y + land - 4) for x, y in SQUARE)
    (lost,) = blocked(space(design).section(0.0), ring, inner_face(design))
    assert area(lost) == pytest.approx(40.0, abs=1e-6)


def test_the_part_off_the_wood():
    """The same over the inside top edge: 3 of its 10 are off the wood."""
    design = changed(example_design(), well=None, inside_blocks=())
    ring = tuple((x - 100, y + EDGE - 7) for x, y in SQUARE)
    (lost,) = blocked(space(design).section(0.0), ring, inner_face(design))
    assert area(lost) == pytest.approx(30.0, abs=1e-6)


def test_the_well_reaches_from_its_floor_to_the_inside_top_edge():
    (ring,) = well_area(example_design())
    assert min(w for _, w in ring) == pytest.approx(EDGE - 236.03, abs=1e-6)
    assert max(w for _, w in ring) == pytest.approx(EDGE, abs=1e-6)
    assert well_area(changed(example_design(), well=None)) == ()


def test_the_land_ends_at_the_walls_land_as_well():
    """9.892 above the floor, and about 12 in from either wall, whose corner with the inner face is nearly square."""
    ((a, b),) = land_lines(example_design())
    assert a[1] == pytest.approx(EDGE - 236.03 + 12 / math.tan(math.radians(50.5)), abs=1e-6)
    assert a[1] == pytest.approx(b[1], abs=1e-9)
    assert -300.0 < a[0] < -285.0
    assert b[0] == pytest.approx(-a[0], abs=1e-9)


@pytest.mark.parametrize("path", ["transom__rake", "well__profile__1__1"])
def test_what_is_not_measured_is_said(path):
    with pytest.raises(Unmeasured):
        well_area(changed(example_design(), **{path: None}))


def test_a_floor_without_a_rounded_corner_has_no_line_of_land():
    assert land_lines(changed(example_design(), well__fillet_radius=0.0)) == ()
