"""The free arcs of a handle: exact against a polygon that is turned in fine steps, and never too large on a leaning bolt."""

from __future__ import annotations

import math
import random

import pytest
import shapely
from shapely import affinity

from geometry.solid.handle_arcs import Handle, by_circle, by_segment, longest_free
from geometry.solid.placed_bolts import bolts
from geometry.solid.spanner_swing import _covering, _section, handle_of, swing
from geometry.solid.well import space
from tests.designs import changed, example_design, random_design, sure
from tests.geometry.test_clearances import inside, leaves

STEP = 0.25  # degrees between two turns of the polygon
FINE = STEP + 0.01  # degrees: an arc between two turns can be so much longer than the steps in it
CORNERS = 256  # of a quarter circle, so that a disc is 2e-5 of its radius too small


def strip(handle: Handle):
    """Return the handle along the first axis, with its disc about the axis. Its end is square."""
    bar = shapely.box(0.0, -handle.half, handle.length, handle.half)
    return shapely.union(bar, shapely.Point(0.0, 0.0).buffer(handle.half, quad_segs=CORNERS))


def turned(handle: Handle, is_free) -> tuple[float, float]:
    """Return the least and the most that the longest free arc can be, from the turns at which the handle is free."""
    shape = strip(handle)
    free = [is_free(affinity.rotate(shape, number * STEP, origin=(0.0, 0.0))) for number in range(round(360 / STEP))]
    if all(free):
        return 360.0, 360.0
    first, run, longest = free.index(False), 0, 0
    for number in range(len(free)):
        run = run + 1 if free[(first + number) % len(free)] else 0
        longest = max(longest, run)
    return max(0.0, (longest - 1) * STEP), (longest + 1) * STEP if longest else STEP


@pytest.mark.parametrize("seed", range(40))
def test_the_arc_between_segments_and_discs_is_that_of_a_turned_polygon(seed):
    rng = random.Random(seed)
    handle = Handle(rng.uniform(30.0, 300.0), rng.uniform(2.0, 15.0))

    def place():
        return rng.uniform(-300.0, 300.0), rng.uniform(-300.0, 300.0)

    segments = [(place(), place()) for _ in range(rng.randint(0, 3))]
    discs = [(place(), rng.uniform(2.0, 40.0)) for _ in range(rng.randint(0, 4))]
    blocked = [by_segment(handle, segment, "line") for segment in segments]
    blocked += [by_circle(handle, centre, radius, "disc") for centre, radius in discs]
    lines = [shapely.LineString(segment) for segment in segments]
    rounds = [shapely.Point(centre).buffer(radius, quad_segs=CORNERS) for centre, radius in discs]
    in_the_way = shapely.union_all([*lines, *rounds])
    least, most = turned(handle, lambda shape: not shape.intersects(in_the_way))
    got = longest_free(each for each in blocked if each is not None).degrees
    assert least - 0.01 <= got <= most + 0.01


def test_by_hand():
    """A floor 40 below the axis. At the turn t below level, the lower corner of the end is at 150 sin t + 8 cos t = 40.

    So sin(t + 3.0529°) = 40/150.2132, and t = 15.4435° - 3.0529° = 12.3906°: free are 180° + 2t = 204.7813°.
    """
    handle = Handle(150.0, 8.0)
    floor = by_segment(handle, ((-500.0, -40.0), (500.0, -40.0)), "floor")
    arc = longest_free([sure(floor)])
    assert arc.degrees == pytest.approx(204.7813, abs=1e-4)
    assert arc.names == ("floor", "floor")
    assert arc.start == pytest.approx(math.radians(-12.3906), abs=1e-6)


def test_a_disc_at_the_side_and_one_past_the_end_by_hand():
    """At 100 with radius 12, the side meets it at asin(20/100) = 11.5370°.

    At 155 with radius 12, the corner meets it, at hypot(150, 8) = 150.2132 from the axis. The angle between the two is
    acos((150.2132² + 155² - 12²)/(2·150.2132·155)) = 4.1328°. The corner is 3.0529° off the middle.
    """
    handle = Handle(150.0, 8.0)
    side, end = by_circle(handle, (0.0, 100.0), 12.0, "nut"), by_circle(handle, (155.0, 0.0), 12.0, "nut")
    assert math.degrees(sure(side).end) - 90.0 == pytest.approx(11.5370, abs=1e-4)
    assert math.degrees(sure(end).end) == pytest.approx(4.1328 + 3.0529, abs=2e-4)
    assert by_circle(handle, (170.0, 0.0), 12.0, "nut") is None
    assert longest_free([]).degrees == 360.0
    assert longest_free([sure(by_circle(handle, (5.0, 0.0), 12.0, "nut"))]).degrees == 0.0


def fitted(design, length, width):
    """Return a boat with a ring spanner of this length and width at all bolts."""
    sizes = {"length": length, "handle": width}
    return changed(design, **{f"mounts__0__{pair}_hardware__spanner__{field}": size
                              for pair in ("upper", "lower") for field, size in sizes.items()})  # fmt: skip


def discs_about(bolt, every, middle):
    """Return the parts of the other bolts at the height of this nut's middle, about its axis; all bolts are parallel."""
    for other in every:
        for part in ("spacer", "washer", "nut", "thread_end"):
            body = other.body(part) if other is not bolt else None
            if body is not None and body.start <= middle <= body.end:
                at = other.exit.u - bolt.exit.u, other.exit.w - bolt.exit.w
                yield shapely.Point(at).buffer(body.shape.radius, quad_segs=CORNERS)


@pytest.mark.parametrize("seed", range(24))
def test_a_square_bolt_in_any_well_has_the_arc_of_a_turned_polygon(seed):
    rng = random.Random(seed)
    design = fitted(random_design(rng, square=True), rng.uniform(60.0, 280.0), rng.uniform(8.0, 20.0))
    every, inside = bolts(design), space(design)
    bolt = rng.choice(every)
    nut, handle = sure(bolt.body("nut")), sure(handle_of(bolt))
    middle = (nut.start + nut.end) / 2
    assert len({round(each.exit.lean, 9) for each in every}) == 1
    free = affinity.translate(inside.section(middle, before=True)._free, -bolt.exit.u, -bolt.exit.w)
    free = free.difference(shapely.union_all(list(discs_about(bolt, every, middle))))
    shapely.prepare(free)
    least, most = turned(handle, free.contains)
    got = swing(inside, bolt, every, handle).degrees
    assert least - FINE <= got <= most + 0.01


@pytest.mark.parametrize("seed", range(24))
def test_a_leaning_bolt_never_gets_too_large_an_arc(seed):
    """Points all over the handle are put into the section as far in front of the inner face as they are."""
    rng = random.Random(1000 + seed)
    design = random_design(rng, square=False)
    handle = Handle(rng.uniform(60.0, 280.0), rng.uniform(4.0, 10.0))
    every, inside = bolts(design), space(design)
    bolt = rng.choice(every)
    nut = sure(bolt.body("nut"))
    middle = (nut.start + nut.end) / 2
    sine, cosine = math.sin(bolt.exit.lean), math.cos(bolt.exit.lean)
    spots = [(along, side) for along in (handle.half, *(handle.length * k / 40 for k in range(2, 41)))
             for side in (-handle.half, 0.0, handle.half) if along >= handle.half]  # fmt: skip

    def is_free(turn):
        for along, side in spots:
            u = along * math.cos(turn) - side * math.sin(turn)
            p = along * math.sin(turn) + side * math.cos(turn)
            n = middle * cosine - p * sine
            at = bolt.exit.u + u, bolt.exit.w + middle * sine + p * cosine
            if n >= 0.0 and not inside.section(n, before=True).is_free(at):
                return False
        return True

    arc = swing(inside, bolt, (), handle)
    turns = [arc.start + (arc.end - arc.start) * k / 60 for k in range(1, 60)] if arc.degrees > 0.0 else []
    assert all(map(is_free, turns))


def test_a_leaning_bolt_over_a_plain_floor_has_the_arc_of_its_own_plane():
    """Level bolts: 14° down, in a well without rounded corners, whose floor falls 11° from the inner face's normal.

    Up the bolt's plane, a rise of p goes p·sin 14° forward, where the floor is p·sin 14°·tan 11° lower. So the floor is
    (cos 14° + sin 14°·tan 11°) times nearer, measured in the plane.
    """
    design = changed(example_design(), mounts__0__lower_tilt=-14.0, well__fillet_radius=0.0, inside_blocks=())
    bolt = bolts(design)[2]
    inside, handle = space(design), Handle(90.0, 5.0)
    nut = sure(bolt.body("nut"))
    middle = (nut.start + nut.end) / 2
    lean, falls = math.radians(-14.0), math.tan(math.radians(11.0))
    floor = -236.03 - 44.0 * math.tan(math.radians(14.0))
    over = bolt.exit.w + middle * math.sin(lean) + middle * math.cos(lean) * falls - floor
    deep = over / (math.cos(lean) - math.sin(lean) * falls)
    below = math.degrees(math.asin(deep / handle.reach) - math.atan2(5.0, 90.0))
    arc = swing(inside, bolt, (), handle)
    assert arc.degrees == pytest.approx(180.0 + 2 * below, abs=1e-6)


@pytest.mark.parametrize(
    ("u", "w", "words"),
    [(-110.0, -230.0, "the port wall"), (-150.0, -210.0, "the well floor"), (0.0, -270.0, "the well floor"),
     (-310.0, -100.0, "the port wall"), (310.0, -100.0, "the starboard wall")],
)  # fmt: skip
def test_an_axis_in_the_wood_names_the_nearest_side(u, w, words):
    """A floor 60 mm deeper from 100 to port on. 10 mm from the step's side the floor over it is 30 mm away, and so on."""
    within = inside(profile=((-300, 0), (-300, -200), (-100, -200), (-100, -260), (300, -260), (300, 0)))
    section, names = _section(within, leaves(u, w), 10.0, 100.0)
    assert _covering(sure(section), names) == words
