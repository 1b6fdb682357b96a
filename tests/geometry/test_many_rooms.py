"""The room of many boats at once against the check of each boat by itself."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
import shapely
from msgspec.structs import replace

from geometry.design.boat import Block
from geometry.design.validity import NonsenseError
from geometry.doubt.boat_numbers import boat_numbers, numbers_of
from geometry.doubt.many_boats import ManyBoats, Place
from geometry.doubt.many_rooms import _to_corners, keep_rooms, neighbour_rooms, old_hole_rooms, part_rooms
from geometry.doubt.many_sections import Blocks, Lines, Ring, Section, Shape, _below_lines
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.inside_room import inside, part_room
from geometry.judge.reporter import Reporter
from geometry.judge.wood_around_holes import wood_between
from tests.designs import changed, example_design, random_design

_BOATS = 6
_DEEP = -25.0  # [mm]: a part that is deeper in an obstacle only has to have no more room than the check gives


def other_boats(design, rng):
    """Return some boats like a design, each with its readings off by some millimetres and degrees; all have the same parts."""
    parts, boats = set(numbers_of(design)), [design]
    while len(boats) < _BOATS:
        try:
            boat = off(design, rng)
        except NonsenseError:
            continue
        if set(numbers_of(boat)) == parts:
            boats.append(boat)
    return boats


def off(design, rng):
    """Return a design with everything that places its parts and obstacles off; the faces of parallel ones at times stay so."""

    def by(value, spread=2.0):
        return value + rng.gauss(0.0, spread)

    thick = design.transom.thickness
    top = by(thick.top)
    low = top if thick.low == thick.top and rng.random() < 0.5 else by(thick.low)
    transom = replace(design.transom, rake=by(design.transom.rake, 1.0), thickness=replace(thick, top=top, low=low))
    well = design.well and replace(
        design.well, profile=tuple((by(u), by(y)) for u, y in design.well.profile),
        fillet_radius=max(0.0, by(design.well.fillet_radius)), floor_rise=by(design.well.floor_rise, 1.0),
    )  # fmt: skip
    blocks = tuple(
        replace(block, outline=tuple((u + 1.0, y - 1.0) for u, y in block.outline),
                stands_out=block.stands_out and max(0.5, by(block.stands_out)))
        for block in design.inside_blocks
    )  # fmt: skip
    mount = design.mounts[0]
    mount = replace(mount, drop=by(mount.drop), offset=by(mount.offset), upper_at=by(mount.upper_at))
    return replace(design, transom=transom, well=well, inside_blocks=blocks, mounts=(mount,))


def together(boats):
    """Return the boats as arrays of their numbers."""
    numbers = [numbers_of(boat) for boat in boats]
    return ManyBoats(boats[0], {name: np.array([each[name] for each in numbers]) for name in numbers[0]}, len(boats))


def both_ways(design, rng):
    """Yield the room of each part of each of many boats, calculated together and by its own check."""
    boats = other_boats(design, rng)
    many, report, reports = together(boats), Reporter(design), [Reporter(boat) for boat in boats]
    for index, bolt in enumerate(report.bolts):
        for part in IN_WELL:
            if many.body(index, part) is None:
                continue
            rooms = part_rooms(many, report, index, part)
            for room, each in zip(rooms, reports, strict=True):
                checked = part_room(each, each.bolts[index], part)
                yield bolt, each, float(room), math.inf if checked is None else checked


@pytest.mark.parametrize("seed", range(16))
def test_no_part_of_many_boats_has_more_room_than_in_its_own_check(seed):
    """Any obstacle, washer and lean; within 1e-6 mm."""
    for _, _, room, checked in both_ways(random_design(random.Random(seed)), random.Random(seed)):
        assert room <= checked + 1e-6


@pytest.mark.parametrize("seed", range(8))
def test_parts_whose_rooms_are_calculated_together_have_the_rooms_of_each(seed):
    """Any obstacle, washer and lean; the same within 1e-9 mm."""
    rng = random.Random(seed)
    boats = other_boats(random_design(rng), rng)
    kept, single, report = together(boats), together(boats), Reporter(boats[0])
    parts = [(index, part) for index in range(len(report.bolts)) for part in IN_WELL if single.body(index, part) is not None]
    keep_rooms(kept, parts)
    assert set(kept.rooms) == set(parts)
    for index, part in parts:
        rooms = part_rooms(single, report, index, part)
        np.testing.assert_allclose(part_rooms(kept, report, index, part), rooms, rtol=0.0, atol=1e-9)


def test_a_place_deep_in_a_wells_corner_is_near_that_corner_though_a_block_is_elsewhere():
    """By hand: floor at 0, wall at 0, and 3 mm behind the wall, 4 mm under the floor: 5 mm to the corner, within 1e-6 mm.

    Straight across either line the place is still beyond the other one. It once was 100 m deep.
    """
    lines = Lines(*(np.array([[wall], [floor]]) for wall, floor in ((1.0, 0.0), (0.0, 1.0), (0.0, 0.0), (0.0, 0.0))))
    far = Ring(np.array([[200.0], [210.0], [210.0], [200.0]]), np.array([[0.0], [0.0], [9.0], [9.0]]))
    yes = np.array([True])
    section = Section(lines, Ring(np.zeros((1, 1)), np.zeros((1, 1))), yes, (Blocks(far, yes),))
    assert section.signed_distance(np.array([-3.0]), np.array([-4.0])) == pytest.approx([-5.0], abs=1e-6)


def test_a_leaning_part_comes_nearest_to_a_blocks_corner_on_its_way():
    """A lean with sine 0.6 and cosine 0.8: a corner 50 above the exit and 3 aside is 40 - 0.6 n away after n forward.

    From 0 to 50 it comes to 10, from 30 to 40 to 16. A way of no length has no room to calculate.
    """
    lean = np.full(3, math.asin(0.6))
    exit_ = Place(np.full(3, 100.0), np.full(3, -200.0), np.zeros(3), lean)
    ring = Ring(np.array([[103.0] * 3, [500.0] * 3]), np.array([[-150.0] * 3, [300.0] * 3]))
    shape = Shape(np.full(3, 2.0), np.full(3, 2.0))
    rooms = _to_corners(ring, exit_, shape, np.array([0.0, 30.0, 40.0]), np.array([50.0, 40.0, 40.0]))
    assert rooms == pytest.approx([math.hypot(3, 10) - 2, math.hypot(3, 16) - 2, math.inf])


@pytest.mark.parametrize("seed", range(16))
def test_in_a_well_without_blocks_a_part_has_the_room_of_its_check(seed):
    """Whole washers in a well whose corners all point out: the same within 1e-6 mm, leaning or not."""
    rng = random.Random(seed)
    design = replace(random_design(rng), inside_blocks=())
    cut = {f"mounts__0__{pair}_hardware__washer__flat_cut": None for pair in ("upper", "lower")}
    for _, each, room, checked in both_ways(changed(design, **cut), rng):
        if each.space.convex and checked > _DEEP:
            assert room == pytest.approx(checked, abs=1e-6)


@pytest.mark.parametrize("seed", range(10))
def test_a_cut_washer_on_a_flat_floor_has_the_room_of_its_check(seed):
    """Cut 14 mm below its middle, at any place next to the floor and its rounded corner; within 1e-6 mm while it is clear."""
    rng = random.Random(seed)
    cut = {f"mounts__0__{pair}_hardware__washer__flat_cut": 14.0 for pair in ("upper", "lower")}
    design = changed(example_design(), mounts__0__drop=rng.uniform(160, 190), inside_blocks=(), **cut)
    near = 0
    for bolt, each, room, checked in both_ways(design, rng):
        if checked > 0.0:
            near += not bolt.upper
            assert room == pytest.approx(checked, abs=1e-6), each.design
    assert near


@pytest.mark.parametrize("seed", range(12))
def test_near_a_hump_or_far_from_it_a_part_has_the_room_of_its_check(seed):
    """A corner in the middle of the floor points in: whole washers, square or leaning; within 1e-6 mm where it is free."""
    rng = random.Random(seed)
    hump = ((-300, 0), (-290, -250), (rng.uniform(-140, 140), rng.uniform(-248, -200)), (290, -250), (300, 0))
    lean = rng.choice((0.0, rng.uniform(-4, 6)))
    design = changed(
        example_design(), well__profile=hump, inside_blocks=(), mounts__0__drop=rng.uniform(120, 180),
        mounts__0__lower_tilt=lean, well__fillet_radius=rng.choice((0.0, 12.0, 25.0)),
    )  # fmt: skip
    free = 0
    for bolt, each, room, checked in both_ways(design, rng):
        if checked > -5.0:
            free += not bolt.upper
            assert room == pytest.approx(checked, abs=1e-6), each.design
        else:
            assert checked - 60.0 <= room <= checked + 1e-6, each.design
    assert free


def test_a_part_that_a_block_ends_next_to_jumps_as_in_its_check():
    """A block under the exit, 3 mm thick or up to 5: the nut behind it is clear of it, or in it."""
    square = ((-140, -200), (-110, -200), (-110, -190), (-140, -190))
    lips = [Block(name="lip", outline=square, stands_out=out) for out in (2.9, 3.1, 5.0)]
    ends = [replace(example_design(), inside_blocks=(lip,)) for lip in lips]
    many, report = together(ends), Reporter(ends[0])
    rooms = part_rooms(many, report, 2, "nut")
    checked = [part_room(Reporter(each), Reporter(each).bolts[2], "nut") for each in ends]
    assert rooms == pytest.approx(checked, abs=1e-6)
    assert rooms[0] > rooms[1] + 1.0


@pytest.mark.parametrize("seed", range(8))
def test_gaps_and_wood_are_those_of_the_checks(seed):
    """Of any boat without backing plates, within 1e-6 mm."""
    rng = random.Random(seed)
    plates = {f"mounts__0__{pair}_hardware__backing_plate": None for pair in ("upper", "lower")}
    design = changed(random_design(rng), **plates)
    boats = other_boats(design, rng)
    many, report, reports = together(boats), Reporter(design), [Reporter(boat) for boat in boats]
    gaps = neighbour_rooms(many, report)
    for gap, each in zip(gaps, reports, strict=True):
        inside(each)
        value = next(finding.value for finding in each.findings if finding.check == "neighbour")
        assert gap == pytest.approx(value, abs=1e-6)
    for index in range(len(report.bolts)):
        for number in range(len(design.old_holes)):
            wood = old_hole_rooms(many, report, index, number)
            checked = [wood_between(each.bolts[index], each.design.old_holes[number], number) for each in reports]
            assert wood == pytest.approx(checked, abs=1e-6)


def test_a_value_that_is_not_known_is_no_number_of_the_boat():
    """All others stay: a boat without a rake or without a lower thickness still has the numbers of its holes."""
    whole = boat_numbers(example_design())
    for path, name in (("transom__rake", "rake"), ("transom__thickness__low", "low")):
        less = boat_numbers(changed(example_design(), **{path: None}))
        assert set(whole) - set(less) >= {name}
        assert all(whole[key] == value for key, value in less.items())


def test_the_inner_face_of_boats_that_are_the_design_has_moved_by_nothing():
    """One of three is 2 mm thicker at the top: with the level cut only its top corners are 2 tan 14° = 0.499 mm lower."""
    design = example_design()
    thicker = changed(design, transom__thickness__top=46.0, transom__thickness__low=46.0)
    assert together([design, thicker, design]).rim_moves == pytest.approx([0.0, 2 * math.tan(math.radians(14)), 0.0], abs=1e-6)


@pytest.mark.parametrize("sides", [3, 8, 9, 14])
def test_how_far_a_place_is_below_a_hollow_with_any_number_of_sides(sides):
    """A well whose bottom is half a regular polygon of radius 100: against another library's distance; within 1e-6 mm."""
    turns = [math.pi + math.pi * (number + 0.5) / sides for number in range(sides)]
    normals = [(-math.cos(turn), -math.sin(turn)) for turn in turns]  # into the well, from the middle of each side
    foot = -100 * math.cos(math.pi / sides / 2)
    lines = Lines(*(np.array(rows) for rows in (
        [[u] for u, _ in normals], [[w] for _, w in normals], [[foot]] * sides, [[0.0]] * sides,
    )))  # fmt: skip
    corners = [math.pi + math.pi * number / sides for number in range(1, sides)]
    bottom = [(100 * math.cos(turn), 100 * math.sin(turn)) for turn in corners]
    u, w = normals[0]
    ends = [(side * (foot - w * 500.0) / u, 500.0) for side in (1, -1)]
    ring = shapely.Polygon([ends[0], *bottom, ends[1]])
    for turn in np.linspace(math.pi + 0.3, 2 * math.pi - 0.3, 31):
        for far in (101.0, 130.0, 200.0):
            at = (far * math.cos(turn), far * math.sin(turn))
            (below,) = _below_lines(lines, np.array([at[0]]), np.array([at[1]]))
            assert below == pytest.approx(ring.distance(shapely.Point(at)), abs=1e-6)
