"""The room by the nearest edges alone, against the whole section: the same, wherever it can be the least room."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from geometry.design.boat import Block
from geometry.design.validity import NonsenseError
from geometry.solid.discs import Disc
from geometry.solid.near_edges import profile
from geometry.solid.room_along_axis import least_room, near_edges
from geometry.solid.well import space
from tests.designs import changed, example_design, sure
from tests.geometry.test_clearances import leaves

CLOSE = 1e-9  # [mm]
DISCS = st.sampled_from([Disc(0.5), Disc(10.0), Disc(20.0), Disc(20.0, 13.0)])
LENGTHS = st.floats(0.0, 60.0)


@st.composite
def bent_wells(draw):
    """Draw the profile of a well with steps, spikes and gentle humps, with its rounded corner, floor and block."""
    steps = draw(st.lists(st.floats(0.0, 80.0), min_size=2, max_size=14))
    heights = draw(st.lists(st.floats(-260.0, -120.0), min_size=len(steps) + 1, max_size=len(steps) + 1))
    across = [-sum(steps) / 2 + sum(steps[:at]) for at in range(len(steps) + 1)]
    left, right = across[0] - draw(st.floats(0.0, 40.0)), across[-1] + draw(st.floats(0.0, 40.0))
    corners = ((left, 0.0), *zip(across, heights, strict=True), (right, 0.0))
    return corners, draw(st.floats(0.0, 40.0)), draw(st.floats(-12.0, 30.0)), draw(st.none() | st.floats(1.0, 50.0))


def inside(well):
    """Return the inside of a boat with such a well, where a corner points into it."""
    corners, radius, rise, out = well
    block = Block(name="block", outline=((20, -150), (50, -150), (45, -120), (20, -125)), stands_out=out)
    try:
        within = space(changed(
            example_design(), well__profile=corners, well__fillet_radius=radius, well__floor_rise=rise,
            inside_blocks=() if out is None else (block,), outside_fittings=(),
        ))  # fmt: skip
    except NonsenseError:
        assume(False)
    assume(not within.convex)
    return within


ways = st.builds(leaves, st.floats(-250.0, 250.0), st.floats(-250.0, -20.0), st.one_of(st.just(0.0), st.floats(-20.0, 20.0)))
often = settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])


@often
@given(bent_wells(), ways, DISCS, st.floats(0.0, 15.0), LENGTHS, st.lists(st.floats(0.0, 1.0), min_size=6, max_size=6))
def test_the_nearest_edges_give_the_room_of_the_whole_section(well, at, disc, start, length, shares):
    within = inside(well)
    near = near_edges(within, at, disc, start, start + length)
    assume(near is not None)
    cosine, sine = math.cos(at.lean), math.sin(at.lean)
    reach = sure(profile(within, cosine).bare_apart((at.u, at.w * cosine + start * (sine + within.falls * cosine))))
    over = reach * abs(sine)
    most = reach - min(disc.radius, disc.cut)  # the bare edge at the start leaves no more room
    low, high = max(0.0, start - over), start + length + over
    for share in (0.0, *shares, 1.0):
        n = low + (high - low) * share**2  # the rounded corner is steep next to the face
        whole = within.section(n, cosine).room_of(disc, (at.u, at.w * cosine + n * sine))
        assert min(near.room_of(disc, n), most) == pytest.approx(min(whole, most), abs=CLOSE)


@often
@given(bent_wells(), ways, DISCS, st.floats(0.0, 15.0), LENGTHS)
def test_where_the_floor_sinks_faster_than_the_axis_no_edge_comes_nearer(well, at, disc, start, length):
    """The room at the start is that of every place further out, where no block is."""
    within = inside(well)
    assume(within.falls + math.tan(at.lean) >= 0.0 and not within.blocks)
    cosine, sine = math.cos(at.lean), math.sin(at.lean)
    least = least_room(within, at, disc, start, start + length)
    for share in range(0, 21, 2):
        n = start + length * (share / 20) ** 2
        room = within.section(n, cosine).room_of(disc, (at.u, at.w * cosine + n * sine))
        assert least <= -disc.radius or room >= least - 1e-6


@often
@given(bent_wells(), st.floats(0.0, 20.0), st.floats(0.0, 15.0), st.floats(0.0, 40.0))
def test_no_strip_reaches_farther_than_its_edge_says(well, lean, start, more):
    seen = profile(inside(well), math.cos(math.radians(lean)))
    widest = seen.widest(start)
    for number, side in enumerate(seen.sides):
        far = seen.far(number, lambda other: seen.sides[other].strip(start + more))
        reach = math.hypot(side.wider * widest, side.uneven)
        assert max(math.dist(*ends) for ends in zip((side.a, side.b), far, strict=True)) <= reach + 1e-6
