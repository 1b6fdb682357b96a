"""Plain cuts of rings, checked against a general-purpose library's overlay of areas (shapely, the GEOS engine)."""

from __future__ import annotations

import math
import sys
from collections import Counter

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.design.boat import Block, Thickness
from geometry.design.hardware import BackingPlate
from geometry.design.validity import area, plainly_simple
from geometry.judge import bracket
from geometry.judge.check import check
from geometry.solid import farthest_point
from geometry.solid.bracket_holes import bracket_ring
from geometry.solid.faces import need_all
from geometry.solid.farthest_point import farthest
from geometry.solid.outline import inner_rim, single_ring
from geometry.solid.ring_cutting import intersection, is_convex, left_of_line
from geometry.solid.well import space
from geometry.zones.areas import blocked, inner_face, overlap
from tests.designs import changed, designs, example_design

few = settings(max_examples=60, deadline=None)
AREA = 1e-4  # [mm2] to which two areas are taken to be the same
number = st.floats(-100, 100).map(lambda x: round(x, 3))
point = st.tuples(number, number)


@st.composite
def stars(draw):
    """A simple ring, seldom one that bulges: corners at rising angles about its middle."""
    count = draw(st.integers(3, 9))
    x, y = draw(point)
    far = [draw(st.floats(5, 100)) for _ in range(count)]
    turn = draw(st.floats(0, 1))
    return tuple(
        (x + r * math.cos(2 * math.pi * (i + turn) / count), y + r * math.sin(2 * math.pi * (i + turn) / count))
        for i, r in enumerate(far)
    )


@st.composite
def eggs(draw):
    hull = shapely.MultiPoint(draw(st.lists(point, min_size=3, max_size=9))).convex_hull
    assume(hull.geom_type == "Polygon" and hull.area > 1)
    return tuple((x, y) for x, y in shapely.get_coordinates(hull).tolist()[:-1])


def polygon(rings):
    return shapely.union_all([shapely.Polygon(ring) for ring in rings])


def off(mine, true):
    """Return the area that only one of them has [mm2], on a grid. Without one the library errs where both are the same
    but for a last digit (GEOS 3.14 by our own finding: it gave the sum of two equal triangles). On a grid it may divide by
    zero on the way, once in some thousand pairs, with the right area in the end: numpy would warn of that."""
    with np.errstate(divide="ignore", invalid="ignore"):
        area_off = shapely.symmetric_difference(mine, true, grid_size=1e-8).area
    assert math.isfinite(area_off)
    return area_off


@few
@given(eggs(), stars())
def test_convex_rings(egg, star):
    assert is_convex(egg)
    assert is_convex(egg[::-1])
    hull = shapely.Polygon(star).convex_hull
    if is_convex(star):
        assert hull.area - shapely.Polygon(star).area < AREA


def test_a_star_of_five_points_goes_twice_round():
    tips = [(math.cos(4 * math.pi * i / 5), math.sin(4 * math.pi * i / 5)) for i in range(5)]
    assert not is_convex(tips)


@few
@given(eggs(), stars())
def test_a_plain_share_is_the_library_s(egg, star):
    plain = intersection(egg, star)
    true = shapely.Polygon(egg).intersection(shapely.Polygon(star))
    if plain is None:
        assert not is_convex(star)
        return
    mine = shapely.Polygon(plain) if len(plain) > 2 else shapely.Polygon()
    assert off(mine, true) < AREA


@few
@given(stars(), stars())
def test_any_share_is_the_library_s(first, second):
    true = shapely.Polygon(first).intersection(shapely.Polygon(second))
    assert off(polygon(overlap(first, second)), true) < AREA


def test_a_line_through_both_arms_of_a_horseshoe_is_not_plain():
    horseshoe = ((0.0, 0.0), (50.0, 0.0), (50.0, 40.0), (40.0, 40.0), (40.0, 10.0), (10.0, 10.0), (10.0, 40.0), (0.0, 40.0))
    assert left_of_line(horseshoe, (50.0, 20.0), (0.0, 20.0)) is None  # cut four times
    assert left_of_line(horseshoe, (0.0, 20.0), (50.0, 20.0)) is None  # two pieces are left
    assert len(overlap(horseshoe, ((-9.0, 20.0), (99.0, 20.0), (99.0, 99.0), (-9.0, 99.0)))) == 2
    assert left_of_line(horseshoe, (0.0, -1.0), (50.0, -1.0)) == horseshoe
    assert left_of_line(horseshoe, (50.0, -1.0), (0.0, -1.0)) == ()


@few
@given(st.lists(point, min_size=3, max_size=8))
def test_what_is_plainly_simple_is_simple(corners):
    if plainly_simple(corners):
        assert shapely.LinearRing(corners).is_simple


@few
@given(stars())
def test_a_ring_round_its_middle_is_plainly_simple(star):
    sides = zip(star, star[1:] + star[:1], strict=True)
    assume(min(math.dist(a, b) for a, b in sides) > 1e-3)
    assert plainly_simple(star)


@few
@given(designs())
def test_the_inner_face_joined_corner_by_corner_is_the_library_s(design):
    rim = inner_rim(design.transom)
    cut, square = (shapely.Polygon(ring) for ring in rim.rings)
    true = cut.intersection(square) if rim.every else cut.union(square)
    ring = single_ring(rim)
    assert (ring is not None) == rim.every
    assert ring is None or off(shapely.Polygon(ring), true) < AREA
    assert off(polygon(inner_face(design)), true) < AREA


@few
@given(designs(), st.floats(-120, 120), st.floats(-300, 0), st.floats(5, 60))
def test_what_is_taken_of_a_ring_is_the_library_s(design, u, w, half):
    ring = ((u - half, w - half), (u + half, w - half), (u + half, w + half), (u - half, w + half))
    section, wood = space(design).section(0.0), inner_face(design)
    shape = shapely.Polygon(ring)
    true = shape.difference(section._free).union(shape.difference(polygon(wood)))
    assert off(polygon(blocked(section, ring, wood)), true) < AREA


def test_how_far_a_bracket_reaches_off_the_face_is_the_library_s():
    seen = Counter[bool]()

    @few
    @given(designs(), st.floats(-300, 200), st.floats(-200, 200))
    def look(design, du, dv):
        ring = tuple((u + du, v + dv) for u, v in bracket_ring(replace(design.mounts[0], offset=0.0), 0))
        outline = design.transom.outline
        plain = bracket._plainly_off_face(ring, outline)
        seen[plain is not None] += 1
        if plain is None:
            return
        face, shade = bracket._areas(outline)
        beyond = shapely.Polygon(ring).difference(face)
        true = [farthest(part, face) for part in (beyond.difference(shade), beyond.intersection(shade))]
        assert plain == pytest.approx(true, abs=1e-9)

    look()
    assert seen[True] >= 5, seen  # else next to nothing was checked against the library


whole = st.tuples(st.integers(0, 4), st.integers(0, 4)).map(lambda at: (float(at[0]), float(at[1])))


def test_a_share_of_rings_that_touch_is_the_library_s():
    """Corners on a grid of five by five: edges in one line, corners on edges, corners that meet. Areas within 1e-9 mm2."""
    seen = Counter[bool]()

    @settings(max_examples=400, deadline=None)
    @given(st.lists(whole, min_size=3, max_size=6), st.lists(whole, min_size=3, max_size=5))
    def look(ring, points):
        hull = shapely.MultiPoint(points).convex_hull
        assume(shapely.Polygon(ring).is_valid and hull.geom_type == "Polygon")
        convex = tuple((x, y) for x, y in shapely.get_coordinates(hull).tolist()[:-1])
        true = shapely.Polygon(ring).intersection(hull).area
        plain = intersection(tuple(ring), convex)
        seen[plain is not None] += 1
        if plain is not None:
            assert abs(area(plain)) == pytest.approx(true, abs=1e-9)
            assert len(plain) != 1
            assert all(math.dist(a, b) > 1e-9 for a, b in zip(plain, plain[1:] + plain[:1], strict=True))
        assert sum(abs(area(ring)) for ring in overlap(tuple(ring), convex)) == pytest.approx(true, abs=1e-6)

    look()
    assert seen[True] > 0.8 * seen.total(), seen


@pytest.mark.parametrize(
    ("first", "second", "left"),
    [
        ([(0, 0), (4, 0), (4, 4), (0, 4)], [(4, 0), (8, 0), (8, 4), (4, 4)], 0.0),  # side by side
        ([(0, 0), (4, 0), (4, 4), (0, 4)], [(4, 4), (8, 4), (8, 8), (4, 8)], 0.0),  # corner to corner
        ([(0, 0), (4, 0), (4, 4), (0, 4)], [(0, 0), (4, 0), (4, 4), (0, 4)], 16.0),  # the same
        ([(0, 0), (4, 0), (4, 0), (4, 4), (0, 4), (0, 0)], [(1, 1), (9, 1), (9, 3), (1, 3)], 6.0),  # corners that occur twice
        ([(0, 0), (4, 0), (4, 4), (0, 4)], [(0, 0), (2, 0), (4, 0), (4, 4)], 8.0),  # a corner in the middle of a side
    ],
)  # fmt: skip
def test_what_is_shared_has_no_corner_twice(first, second, left):
    first, second = (tuple((float(x), float(y)) for x, y in ring) for ring in (first, second))
    common = intersection(first, second)
    assert common is not None
    assert abs(area(common)) == pytest.approx(left, abs=1e-12)
    assert len(set(common)) == len(common)
    assert (common == ()) == (left == 0.0)


@few
@given(stars())
def test_an_area_is_the_library_s(star):
    assert area(star) == pytest.approx(shapely.Polygon(star).area, abs=1e-9)
    assert area(star[::-1]) == pytest.approx(-area(star), abs=1e-9)
    assert area(()) == 0.0


def test_the_common_case_is_plain():
    design = example_design()
    ring = bracket_ring(design.mounts[0], 0)
    assert bracket._plainly_off_face(ring, tuple(need_all(design.transom.outline, "outline"))) is not None


def test_an_ordinary_check_needs_no_library_of_areas(monkeypatch):
    """Loading it would take longer than a hundred checks."""
    monkeypatch.setitem(sys.modules, "shapely", None)  # from here on importing it raises
    relieved = BackingPlate(
        outline=((-160, -20), (160, -20), (160, 38), (-160, 38)), thickness=6.0, relief=(3.0, 6.0), material="aluminium 5083",
        joins=("upper port", "upper starboard"),
    )  # fmt: skip
    for values in ({}, {"well": None}, {"mounts__0__drop": 203.2}, {"mounts__0__upper_hardware__backing_plate": relieved}):
        assert check(changed(example_design(), name="none yet", **values)).findings


def test_no_sliver_of_room_is_left_where_strips_meet():
    """A floor with a peak in its middle: far below it the depth changes by little from one distance to the next.

    At a few distances strips that only meet left a sliver between them, and the depth read 10 mm too little.
    """
    profile = ((-150.0, 0.0), (-150.0, -219.00546), (2.00001, -184.28849400000001), (164.549826, -219.00546), (164.549826, 0.0))
    stand = ((0.0, -186.805012), (8.0, -184.13834533333335), (2.0, -178.805012)), ((0.0, -120.0), (8.0, -120.0), (8.0, -112.0))
    blocks = tuple(Block(name=f"block {i}", outline=ring, stands_out=None) for i, ring in enumerate(stand))
    design = changed(example_design(), inside_blocks=blocks, well__profile=profile, well__floor_rise=18.101718,
                     well__fillet_radius=14.886165, transom__rake=7.883862,
                     transom__thickness=Thickness(top=30.0, low=30.0, low_at=-200.0))  # fmt: skip
    inside = space(design)
    deep = [inside.section(1.5 + 0.25 * i).signed_distance((125.4125, -237.112743)) for i in range(49)]
    assert max(deep) < 0
    assert max(abs(depth - two) for depth, two in zip(deep, deep[1:], strict=False)) < 0.8


def test_the_farthest_point_may_be_within():
    """Of a triangle from its own sides: its inscribed circle's radius, twice the area over the way round it (99 mm2)."""
    corners = ((0.0, 0.0), (8.0, 9.0), (2.0, 27.0))
    triangle = shapely.Polygon(corners)
    radius = 2 * 99.0 / (math.hypot(8, 9) + math.hypot(6, 18) + math.hypot(2, 27))
    assert farthest(triangle, triangle.exterior) == pytest.approx(radius, abs=1e-6)
    assert farthest(shapely.box(0, 0, 10, 4), shapely.box(0, 0, 10, 4).exterior) == pytest.approx(2.0, abs=1e-6)
    assert farthest(shapely.box(0, 0, 10, 4), shapely.box(-1, -1, 0, 0)) == pytest.approx(math.hypot(10, 4), abs=1e-9)
    assert farthest(shapely.Polygon(), shapely.box(-1, -1, 0, 0)) == 0.0


@few
@given(stars(), eggs())
def test_nothing_of_an_area_is_farther(star, other):
    """Against the library's own largest circle within an area, and against points of it."""
    shape, second = shapely.Polygon(star), shapely.Polygon(other)
    circle = shapely.maximum_inscribed_circle(shape, tolerance=1e-4)
    assert circle.length - 1e-6 <= farthest(shape, shape.exterior) <= circle.length + 0.006
    outline = shapely.points(shapely.get_coordinates(shapely.segmentize(shape.exterior, 1.0)))
    assert farthest(shape, second) >= float(shapely.distance(outline, second).max()) - 1e-6


@pytest.mark.parametrize("turn", [0.0, 17.0, 45.0])
def test_a_line_of_farthest_points_costs_little(turn, monkeypatch):
    """In a long rectangle, and in a wedge, a whole line is about as far in as the farthest point.

    The wedge widens from 55 to 60 over 320. The circle at its wide end has r = (30 - r tan a) cos a, where tan a = 2.5/320.
    """
    looked: list[int] = []
    reach = farthest_point._reach

    def counted(*args):
        looked.append(len(args[2]))
        return reach(*args)

    monkeypatch.setattr(farthest_point, "_reach", counted)
    a = math.atan(2.5 / 320)
    radius = 30 * math.cos(a) / (1 + math.sin(a))
    shapes = {((0, 0), (320, 0), (320, 55), (0, 55)): 27.5, ((0, 2.5), (320, 0), (320, 60), (0, 57.5)): radius}
    for corners, expected in shapes.items():
        shape = shapely.affinity.rotate(shapely.Polygon(corners), turn, origin=(0, 0))
        assert farthest(shape, shape.exterior) == pytest.approx(expected, abs=2e-6)
    assert sum(looked) < 5000  # 100,000 and more, where each square along the line has to be small
