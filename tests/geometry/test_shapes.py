"""Discs whole and cut level: reach, and distance to an edge."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.design.validity import plainly_simple
from geometry.solid.discs import Disc
from geometry.solid.planes import between, cross, foot, inside, to_segment

CLOSE = 1e-9  # [mm]
WHOLE, CUT = Disc(20.0), Disc(20.0, 12.0)  # half the chord: sqrt(400 - 144) = 16


def test_a_cut_beyond_the_rim_cuts_nothing():
    assert not Disc(20.0, 20.0).is_cut
    assert CUT.is_cut
    assert CUT.half_chord == pytest.approx(16.0, abs=CLOSE)


@pytest.mark.parametrize(
    ("u", "w", "reach"),
    [(0, 1, 20), (1, 0, 20), (0, -1, 12), (0.8, -0.6, 20), (-0.8, -0.6, 20),  # the chord's ends are at (±0.8, -0.6)
     (0.6, -0.8, 0.6 * 16 + 0.8 * 12), (-0.6, -0.8, 19.2)],
)  # fmt: skip
def test_reach(u, w, reach):
    assert CUT.reach(u, w) == pytest.approx(reach, abs=CLOSE)


def test_a_cut_washer_is_nearer_to_a_level_floor_by_what_is_cut_off():
    floor = ((-100.0, -30.0), (100.0, -30.0))
    assert WHOLE.gap((0, 0), floor) == pytest.approx(10.0, abs=CLOSE)
    assert CUT.gap((0, 0), floor) == pytest.approx(18.0, abs=CLOSE)


def test_a_cut_washer_over_a_sloping_floor_rests_on_the_end_of_its_cut():
    """A floor through (0, -30) that rises 3 in 4 to starboard has the normal (-0.6, 0.8) and is 24 from the centre.

    The cut's end (16, -12) is -0.6·16 - 0.8·12 + 24 = 4.8 over it, a whole disc's rim 4.
    """
    floor = ((-80.0, -90.0), (80.0, 30.0))
    assert WHOLE.gap((0, 0), floor) == pytest.approx(4.0, abs=CLOSE)
    assert CUT.gap((0, 0), floor) == pytest.approx(4.8, abs=CLOSE)


def test_an_overlap_is_that_of_the_farthest_point():
    assert CUT.gap((0, 0), ((-100.0, -10.0), (100.0, -10.0))) == pytest.approx(-2.0, abs=CLOSE)
    assert WHOLE.gap((0, 0), ((-100.0, -10.0), (100.0, -10.0))) == pytest.approx(-10.0, abs=CLOSE)


def test_a_short_edge_under_the_cut_is_not_under_the_round():
    """A 2 mm edge 13 below the centre: 1 mm from the cut, though within the whole disc."""
    edge = ((-1.0, -13.0), (1.0, -13.0))
    assert CUT.gap((0, 0), edge) == pytest.approx(1.0, abs=CLOSE)
    assert WHOLE.gap((0, 0), edge) == pytest.approx(-7.0, abs=CLOSE)


sizes = st.floats(1.0, 50.0)
places = st.floats(-80.0, 80.0)


def outline(disc: Disc) -> list[tuple[float, float]]:
    """Return many points of a cut disc's rim, its chord's ends among them; none is off it."""
    ends = math.asin(disc.cut / disc.radius)
    turns = [-ends + (math.pi + 2 * ends) * i / 4000 for i in range(4001)]
    arc = [(disc.radius * math.cos(a), disc.radius * math.sin(a)) for a in turns]
    chord = [(-disc.half_chord + disc.half_chord * i / 500, -disc.cut) for i in range(1001)]
    return arc + chord


@given(sizes, st.floats(0.2, 0.999), places, places, places, places)
def test_the_gap_is_that_of_the_nearest_of_many_points(radius, share, au, aw, bu, bw):
    """Within the precision of 4000 points of the rim: (π·R/2000)²/(2·gap) and at most a step, 0.08 mm; never above."""
    disc = Disc(radius, share * radius)
    edge = ((au, aw), (bu, bw))
    gap = disc.gap((0.0, 0.0), edge)
    nearest = min(to_segment(at, edge) for at in outline(disc))
    if gap > 0:
        assert gap <= nearest + CLOSE
        assert nearest - gap < 0.1
    else:
        assert nearest < 0.1 or inside_disc(disc, edge)


@given(sizes, st.floats(0.2, 0.999), places, places, places, places)
def test_the_overlap_is_that_of_the_deepest_of_many_points(radius, share, au, aw, bu, bw):
    """A point of the edge is as deep as it is from the arc and from the cut. 4000 points miss the deepest by half a step."""
    disc, count = Disc(radius, share * radius), 4000
    spots = [(au + (bu - au) * i / count, aw + (bw - aw) * i / count) for i in range(count + 1)]
    deepest = max(min(radius - math.hypot(u, w), disc.cut + w) for u, w in spots)
    gap = disc.gap((0.0, 0.0), ((au, aw), (bu, bw)))
    if deepest > 0:
        assert gap <= -deepest + CLOSE
        assert -gap - deepest <= math.dist((au, aw), (bu, bw)) / count / 2 + CLOSE


def test_an_edge_that_is_deepest_where_arc_and_cut_are_equally_far():
    """From (6, -12) up to (18, 0), a disc of 20 cut at 12. At (6 + s, -12 + s): s = 20 - |p|, so s² + 28 s - 220 = 0.

    The root is s = √416 - 14 = 6.3961. The middle's foot (9, -9) is 3 deep, and the ends 0 and 2.
    """
    assert CUT.gap((0.0, 0.0), ((6.0, -12.0), (18.0, 0.0))) == pytest.approx(-(math.sqrt(416) - 14), abs=CLOSE)


def inside_disc(disc: Disc, edge) -> bool:
    return any(math.hypot(*at) <= disc.radius and at[1] >= -disc.cut for at in edge)


def test_planes():
    edge = ((0.0, 0.0), (10.0, 0.0))
    assert to_segment((13.0, 4.0), edge) == pytest.approx(5.0, abs=CLOSE)
    assert to_segment((5.0, -4.0), edge) == pytest.approx(4.0, abs=CLOSE)
    assert to_segment((3.0, 4.0), ((0.0, 0.0), (0.0, 0.0))) == pytest.approx(5.0, abs=CLOSE)
    assert foot((13.0, 4.0), edge) == (10.0, 0.0)
    assert cross(edge, ((5.0, -5.0), (5.0, 5.0))) == (5.0, 0.0)
    assert cross(edge, ((0.0, 1.0), (10.0, 1.0))) is None
    assert between(edge, ((0.0, 3.0), (10.0, 5.0))) == pytest.approx(3.0, abs=CLOSE)
    assert between(edge, ((5.0, -5.0), (5.0, 5.0))) == 0.0
    assert inside((5.0, 1.0), ((0.0, 0.0), (10.0, 0.0), (5.0, 10.0)))
    assert not inside((0.0, 5.0), ((0.0, 0.0), (10.0, 0.0), (5.0, 10.0)))


def test_a_long_side_that_crosses_a_short_one_at_its_port_end_is_not_plainly_simple():
    """The side from -5 to 100 begins to port of all others and ends to starboard of them. It crosses the first one."""
    ring = [(0.0, 0.0), (0.0, 10.0), (20.0, 12.0), (10.0, 25.0), (-5.0, 5.0), (100.0, 5.0), (100.0, -5.0)]
    assert not shapely.Polygon(ring).is_valid
    for turn in range(len(ring)):
        turned = [*ring[turn:], *ring[:turn]]
        assert not plainly_simple(turned)
        assert not plainly_simple(turned[::-1])
        assert not plainly_simple([(-u, v) for u, v in turned])
    assert plainly_simple([(0.0, 0.0), (0.0, 10.0), (20.0, 12.0), (100.0, 5.0), (100.0, -5.0)])
