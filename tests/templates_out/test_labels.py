"""The distance from an upright box in a quick way, compared with the general way and with shapely."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from templates_out.drawing.labels import Ground, apart, keeps, nearer, thing
from templates_out.drawing.marks import Circle, Line, Pen

number = st.floats(-10, 10).map(lambda x: round(x, 2))
size = st.floats(0.1, 8)
CLOSE = 1e-9  # mm: nearer than that to the gap, either answer will do
PEN = Pen("ink", 0.5)


@st.composite
def things(draw):
    kind = draw(st.sampled_from(("line", "level", "upright", "box", "leaning box", "circle")))
    x, y, u, v = (draw(number) for _ in range(4))
    match kind:
        case "line":
            return thing("line", ((x, y), (u, v)))
        case "level":
            return thing("line", ((x, y), (u, y)))
        case "upright":
            return thing("line", ((x, y), (x, v)))
        case "box":
            return thing("text", ((x, y), (x + 3, y), (x + 3, y + 2), (x, y + 2)))
        case "leaning box":
            return thing("text", ((x, y), (x + 3, y + 1), (x + 2, y + 4), (x - 1, y + 3)), angle=18.4)
    return thing("line", ((x, y),), abs(u) / 2 + 0.5)


def as_ring(box):
    left, bottom, right, top = box
    return (left, bottom), (right, bottom), (right, top), (left, top)


@settings(max_examples=400)
@given(things(), number, number, size, size, st.floats(0.1, 2))
def test_the_quick_way_agrees_with_the_general_one(old, x, y, wide, high, gap):
    box = x, y, x + wide, y + high
    true = apart(thing("text", as_ring(box)), old)
    assume(abs(true - gap) > CLOSE)
    assert keeps(box, old, gap) == (true >= gap)


@settings(max_examples=400)
@given(things(), things(), st.floats(0.0, 6.0))
@example(thing("line", ((0.0, 0.0), (0.0, 0.0))), thing("line", ((0.0, 1.0), (0.0, 1.0))), 1.0)  # bare points
def test_nearer_agrees_with_the_distance(a, b, than):
    assert nearer(a, b, than) == (apart(a, b) < than)


@settings(max_examples=200)
@given(things(), number, number, size, size)
def test_apart_is_the_library_s_distance(old, x, y, wide, high):
    box = shapely.box(x, y, x + wide, y + high)
    if old.radius:
        to_rim = [abs(shapely.Point(old.corners[0]).distance(shapely.Point(at)) - old.radius) for at in as_ring(box.bounds)]
        least = shapely.Point(old.corners[0]).distance(box) - old.radius
        most = max(math.dist(old.corners[0], at) for at in as_ring(box.bounds))
        true = least if least > 0 else old.radius - most if most < old.radius else 0.0
        assert true <= min(to_rim) + CLOSE
    else:
        shape = shapely.LineString(old.corners) if len(old.corners) == 2 else shapely.Polygon(old.corners)
        true = shape.distance(box)
    assert apart(thing("text", as_ring(box.bounds)), old) == pytest.approx(true, abs=1e-7)


def test_few_things_and_many_are_looked_through_alike():
    """Beyond some hundreds a sieve is laid first; what is near stays what it was."""
    few = Ground().plus(Line((0.0, float(i)), (10.0 + i % 7, float(i)), PEN) for i in range(40))
    many = few.plus(Circle((500.0 + i, 500.0), 1.0, PEN) for i in range(600))
    for box in ((12.0, 3.2, 14.0, 3.8), (2.0, 50.0, 4.0, 52.0), (17.2, 6.1, 18.0, 6.9), (11.0, -4.0, 12.0, -1.2)):
        assert few.is_free_box(*box, gap=0.1) == many.is_free_box(*box, gap=0.1)
    assert few.boxes is None
    assert many.boxes is not None


@pytest.mark.parametrize(
    ("x", "radius", "gap"), [(30.0, 5.0, 15.0), (15.0, 5.0, 0.0), (12.0, 5.0, 0.0), (3.0, 2.0, 5.0), (0.0, 14.0, 4.0)]
)
def test_two_circles_lines_apart(x, radius, gap):
    """A line of radius 10 about (0, 0), and another: next to it, touching, across it, inside it and around it."""
    a, b = thing("line", ((0.0, 0.0),), 10.0), thing("line", ((0.6 * x, 0.8 * x),), radius)
    assert apart(a, b) == pytest.approx(gap, abs=1e-9)
    assert apart(b, a) == pytest.approx(gap, abs=1e-9)


@settings(max_examples=400)
@given(things(), things())
def test_the_distance_is_that_of_the_shapes(a, b):
    """Leaning ones too, against shapely's distance of lines and polygons; 0 where they meet. Within 1e-9 mm."""
    assume(not a.radius and not b.radius)
    first, second = (shapely.MultiPoint(each.corners).convex_hull for each in (a, b))
    assert apart(a, b) == pytest.approx(first.distance(second), abs=1e-9)
