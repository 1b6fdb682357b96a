"""The best place of a bracket on its holes, compared with a linear program and with closed forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from geometry.drilling.bracket_fit import EXACT, Holes, best_place

PLACES = np.array(((-163.5125, 0.0), (163.5125, 0.0), (-125.4125, -203.2), (125.4125, -203.2)))  # common practice
LONG = np.array((0.0, 0.0, 38.0, 38.0))
NONE = np.zeros(4)
NEAR = 2 * EXACT


def bracket(plays=NONE, up=LONG, down=LONG):
    return Holes(PLACES, np.asarray(up, float), np.asarray(down, float), np.asarray(plays, float))


def turned(points, angle):
    cos, sin = np.cos(angle), np.sin(angle)
    return points @ np.array(((cos, sin), (-sin, cos)))


def by_linear_program(holes, boat, turn):
    """Return the least excess near a turn, by a linear program with each round cone as a prism of 1,000 sides.

    Such a prism is at most 5e-6 of its size wider than the cone.
    """
    sides = np.linspace(0.0, 2 * np.pi, 1000, endpoint=False)
    ways = np.column_stack((np.cos(sides), np.sin(sides)))
    rows, most = [], []
    for at, hole in enumerate(turned(boat, -turn)):
        row = np.zeros((len(ways), 4 + len(boat)))
        row[:, :2], row[:, 2], row[:, 3], row[:, 4 + at] = -ways, ways @ (hole[1] / 100, -hole[0] / 100), -1.0, -ways[:, 1]
        rows.append(row)
        most.append(holes.plays[at] - ways @ (hole - holes.places[at]))
    slides = list(zip(-holes.down, holes.up, strict=True))
    best = linprog(np.eye(4 + len(boat))[3], np.vstack(rows), np.concatenate(most), bounds=[(None, None)] * 4 + slides)
    assert best.success
    return best.fun


@pytest.mark.parametrize("seed", range(12))
def test_no_place_of_the_bracket_is_better_by_a_linear_program(seed):
    """Which wrong program this catches: one that stops short, that lets a bolt past a slot's end, or never slides it."""
    random = np.random.default_rng(seed)
    ends = random.choice((0.0, 0.5, 38.0), (2, 2))
    holes = bracket(random.uniform(0.1, 0.8, 4), (0, 0, *ends[0]), (0, 0, *ends[1]))
    boat = PLACES + random.standard_normal((4, 2)) * random.choice((0.3, 0.8, 3.0))
    best = best_place(holes, boat[None])
    assert best.excess[0] == pytest.approx(by_linear_program(holes, boat, best.turns[0]), abs=NEAR)


@given(seed=st.integers(0, 2**32 - 1), angle=st.floats(-0.3, 0.3), spread=st.sampled_from((0.2, 1.0, 4.0)))
def test_a_moved_and_turned_boat_changes_nothing(seed, angle, spread):
    random = np.random.default_rng(seed)
    boat = PLACES + random.standard_normal((4, 2)) * spread
    moved = turned(boat, angle) + random.uniform(-50, 50, 2)
    holes = bracket(random.uniform(0.1, 0.8, 4), down=(0, 0, 0.0, 5.0))
    home, other = best_place(holes, boat[None]), best_place(holes, moved[None])
    assert home.excess[0] == pytest.approx(other.excess[0], abs=NEAR)
    assert other.turns[0] - home.turns[0] == pytest.approx(angle, abs=0.02)  # where holes are loose the turn is free a little


@given(seed=st.integers(0, 2**32 - 1), more=st.floats(0.01, 1.0))
def test_more_play_everywhere_takes_as_much_off_the_excess(seed, more):
    random = np.random.default_rng(seed)
    boat = (PLACES + random.standard_normal((4, 2)))[None]
    plays = random.uniform(0.0, 0.5, 4)
    less = best_place(bracket(plays), boat).excess[0] - best_place(bracket(plays + more), boat).excess[0]
    assert less == pytest.approx(more, abs=NEAR)


def test_the_excess_is_that_of_the_returned_place():
    random = np.random.default_rng(5)
    holes = bracket((0.4, 0.4, 0.2, 0.2), down=(0, 0, 0.0, 38.0))
    best = best_place(holes, PLACES + random.standard_normal((300, 4, 2)))
    assert best.excess == pytest.approx((np.hypot(*np.moveaxis(best.misses, -1, 0)) - holes.plays).max(axis=1), abs=1e-9)


def test_two_upper_holes_too_far_apart_share_the_miss():
    """By hand: 2 mm too far apart, each bolt misses by 1."""
    boat = PLACES + np.array(((-1.0, 0.0), (1.0, 0.0), (0.0, 0.0), (0.0, 0.0)))
    best = best_place(bracket(), boat[None])
    assert best.excess[0] == pytest.approx(1.0, abs=NEAR)
    assert best.misses[0, :2, 0] == pytest.approx((-1.0, 1.0), abs=NEAR)


def test_lower_holes_off_up_or_down_slide_in_their_slots_but_not_past_the_end():
    """By hand: both lower holes 3 mm high. A slot that has 1 mm left upwards makes four holes share 2 mm, a mm each."""
    boat = PLACES + np.array(((0.0, 0.0), (0.0, 0.0), (0.0, 3.0), (0.0, 3.0)))
    assert best_place(bracket(), boat[None]).excess[0] == pytest.approx(0.0, abs=NEAR)
    assert best_place(bracket(up=(0, 0, 1.0, 1.0)), boat[None]).excess[0] == pytest.approx(1.0, abs=NEAR)
    assert best_place(bracket(up=NONE, down=NONE), boat[None]).excess[0] == pytest.approx(1.5, abs=NEAR)
