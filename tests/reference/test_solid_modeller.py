"""Clearances against a general-purpose solid modeller, which knows the boat only by its bare numbers.

Library: manifold3d (github.com/elalish/manifold). The test is the definition itself: a body's clearance is the largest
growth of its radius, its ends square to its axis, with which it does not enter the solid. Tolerances: 0.01 mm both ways
for bolts square to the inner face. Leaning ones never read more than the solid allows, but for
the facets. These add r·(1/cos(180°/512) - 1) for the cylinder, and 0.001 mm across a rounded corner's chord, up to 0.008
mm along the face.
"""

from __future__ import annotations

import math
import random

import pytest

from geometry.design.design import Design
from geometry.solid.clearances import body_clearance
from geometry.solid.placed_bolts import Body, Bolt, bolts
from geometry.solid.well import Space, space
from tests.designs import changed, example_design, random_design, sure
from tests.reference.solids import ROUND, Scene, axis, cut_disc, cylinder, scene

PARTS = ("washer", "nut", "socket", "thread_end")
CLOSE = 0.01  # [mm]
ARC = 0.008  # [mm]: see above
SEEDS = range(500)


def allowance(radius: float) -> float:
    return ARC + radius * (1 / math.cos(math.pi / ROUND) - 1)


def enters(at: Scene, bolt: Bolt, body: Body, growth: float, *, outside: bool) -> bool:
    """Return whether a body grown by ``growth`` enters the solid; one that has shrunk to nothing enters nothing."""
    shape = body.shape
    exit_, k = axis(at, bolt.u, bolt.v, bolt.tilt)
    if shape.is_cut:
        return at.enters(cut_disc(exit_, k, body.start, body.end, shape.radius, shape.cut, growth, outside=outside))
    if shape.radius + growth < 0.05:
        return False
    return at.enters(cylinder(exit_, k, body.start, body.end, shape.radius + growth, outside=outside))


def lower_bodies(design: Design) -> list[tuple[Bolt, Body]]:
    return [
        (bolt, body) for bolt in bolts(design) if not bolt.upper for part in PARTS if (body := bolt.body(part)) is not None
    ]


def room_of(within: Space, bolt: Bolt, body: Body) -> float | None:
    room = body_clearance(within, bolt.exit, body)
    # The overlap of a cut disc is that of its farthest point, which no growth of the shape can show.
    return None if room is None or (body.shape.is_cut and room < 0.1) else room


@pytest.mark.parametrize("first", SEEDS[::50])
def test_five_hundred_boats_agree_with_the_solid(first):
    compared = 0
    for seed in SEEDS[first : first + 50]:
        square = seed % 2 == 0
        design = random_design(random.Random(seed), square=square)
        if design.well is None and not design.inside_blocks:
            continue
        at, within = scene(design), space(design)
        for bolt, body in lower_bodies(design):
            room = room_of(within, bolt, body) if bolt.port == (seed % 4 < 2) else None  # one side of each boat
            if room is None:
                continue
            compared += 1
            where = f"seed {seed}, {bolt.name} {body.part}: {room:.4f}"
            slack = CLOSE if square else allowance(body.shape.radius + max(0.0, room))
            assert not enters(at, bolt, body, room - slack, outside=True), f"reads too much: {where}"
            if square and body.shape.radius + room + CLOSE > 0.05:
                assert enters(at, bolt, body, room + CLOSE, outside=False), f"reads too little: {where}"
    assert compared > 120


@pytest.mark.parametrize(("tilt", "most"), [(-14.0, 2.0), (-3.0, 2.0), (3.0, 6.5), (8.0, 13.0)])
def test_what_the_bound_for_a_leaning_bolt_gives_away(tilt, most):
    """Leaning down little; leaning up more, for the bound looks at the rounded corner's steep top, which the washer then
    spares.

    Nothing demands these figures [mm]: they show when the bound has become worse.
    """
    design = changed(example_design(), mounts__0__lower_tilt=tilt)
    at, within = scene(design), space(design)
    bolt = next(bolt for bolt in bolts(design) if bolt.name == "lower port")
    for body in (sure(bolt.body("washer")), sure(bolt.body("nut"))):
        room = sure(body_clearance(within, bolt.exit, body))
        assert room - ARC < grown(at, bolt, body, room) < room + most


def grown(at: Scene, bolt: Bolt, body: Body, near: float) -> float:
    """Return the largest growth that does not enter, by halving, to 0.005 mm."""
    low, high = -body.shape.radius, near + 1.0
    while high < 200 and not enters(at, bolt, body, high, outside=False):
        low, high = high, 2 * abs(high) + 1.0
    while high - low > 0.005:
        middle = (low + high) / 2
        low, high = (low, middle) if enters(at, bolt, body, middle, outside=False) else (middle, high)
    return low


@pytest.mark.parametrize("drop", [165.1, 184.15, 203.2])
def test_the_worked_example_is_the_solids_too(drop):
    """By halving, not by trying: washers, nuts and sockets of the example, clear and fouled, within 0.01 mm."""
    design = changed(example_design(), mounts__0__drop=drop)
    at, within = scene(design), space(design)
    for bolt, body in lower_bodies(design):
        room = sure(body_clearance(within, bolt.exit, body))
        if body.shape.radius + room > 0.1:
            assert grown(at, bolt, body, room) == pytest.approx(room, abs=CLOSE)
        else:  # the axis itself is in the floor: even a wire would
            assert enters(at, bolt, body, 0.1 - body.shape.radius, outside=True)


def test_the_solid_knows_the_simplest_case_by_heart():
    """Plumb square transom, level floor, no rounded corner: a 20 mm disc 50 mm above the floor clears by 30 mm."""
    design = changed(
        example_design(), transom__rake=0.0, transom__top_cut="square", well__floor_rise=0.0, well__fillet_radius=0.0,
        well__profile=((-300, 0), (-300, -200), (300, -200), (300, 0)), inside_blocks=(),
    )  # fmt: skip
    at = scene(design)
    exit_, k = axis(at, 0.0, -150.0, 0.0)
    assert exit_ == pytest.approx((0.0, -150.0, 44.0))
    assert k == pytest.approx((0.0, 0.0, 1.0))
    assert not at.enters(cylinder(exit_, k, 0.0, 10.0, 49.999, outside=True))
    assert at.enters(cylinder(exit_, k, 0.0, 10.0, 50.001, outside=False))


@pytest.mark.parametrize(("at_n", "height"), [(0.0, 0.390643), (0.125, 0.059930), (0.25, -0.042370)])
def test_the_solids_rounded_corner_has_the_height_calculated_by_hand(at_n, height):
    """A rounded corner of 0.5 in in a corner of 104 degrees: L - sqrt(r² - (r - s)²), L = r·cot(52°) [in]; within 0.001 in."""
    design = changed(
        example_design(), transom__rake=14.0, well__floor_rise=0.0, well__fillet_radius=12.7, well__well_from="datum",
        well__profile=((-300, 0), (-300, -200), (300, -200), (300, 0)), inside_blocks=(),
    )  # fmt: skip
    inside = scene(design)
    exit_, k = axis(inside, 0.0, -150.0, 0.0)
    near = at_n * 25.4
    radius = 50.0 - height * 25.4
    assert not inside.enters(cylinder(exit_, k, near, near + 1e-3, radius - 0.03, outside=True))
    assert inside.enters(cylinder(exit_, k, near, near + 1e-3, radius + 0.03, outside=False))
