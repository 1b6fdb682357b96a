"""Least squares by hand, against scipy's, and against the normal equations."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geometry.solving.best_values import best_values, by_steps

NEAR = 1e-6


def same(values):
    return values


def test_two_readings_of_one_size_meet_by_their_weights():
    """10 ± 1 and 13 ± 2 weigh 4 to 1: 10.6, with a spread of sqrt(4/5)."""
    best = best_values([10.0], [1.0], same, [13.0], [2.0])
    assert best.values == pytest.approx([10.6], abs=NEAR)
    assert best.spreads == pytest.approx([math.sqrt(0.8)], abs=NEAR)
    assert best.misfits == pytest.approx([2.4], abs=NEAR)
    assert best.settled


def test_a_sum_is_shared_by_the_squares_of_the_spreads():
    """Two lengths of 100 ± 1 and 50 ± 2, together read as 153 ± 2: of the 3 over, 1/9, 4/9 and 4/9 go to each."""
    best = best_values([100.0, 50.0], [1.0, 2.0], lambda at: np.array([at[0] + at[1]]), [153.0], [2.0])
    assert best.values == pytest.approx([100 + 3 / 9, 50 + 12 / 9], abs=NEAR)
    assert best.misfits == pytest.approx([12 / 9], abs=NEAR)
    assert best.covariance == pytest.approx(np.array([[8 / 9, -4 / 9], [-4 / 9, 20 / 9]]), abs=NEAR)  # by hand


def test_a_value_without_spread_stays_and_so_does_a_reading_without_spread():
    best = best_values([10.0, 5.0], [0.0, 1.0], lambda at: np.array([at[0] + at[1]]), [16.0], [0.0])
    assert best.values == pytest.approx([10.0, 6.0], abs=NEAR)


def test_without_further_readings_nothing_moves():
    best = best_values([3.0], [2.0], lambda _: np.zeros(0), [], [])
    assert best.values == pytest.approx([3.0])
    assert best.spreads == pytest.approx([2.0])


def network(random: np.random.Generator):
    """Return places of five points, read with spreads, and the distances between them: more than are needed, not straight."""
    true = random.uniform(0, 300, 10)
    pairs = [(a, b) for a in range(5) for b in range(a)]

    def distances(at):
        return np.array([math.dist(at[2 * a : 2 * a + 2], at[2 * b : 2 * b + 2]) for a, b in pairs])

    spreads, read_spreads = random.uniform(0.5, 6, 10), random.uniform(0.3, 3, len(pairs))
    start = true + random.normal(0, 1, 10) * spreads
    return start, spreads, distances, distances(true) + random.normal(0, 1, len(pairs)) * read_spreads, read_spreads


@pytest.mark.parametrize("seed", range(25))
def test_the_values_and_spreads_are_those_of_scipy(seed):
    """The same sum of squares, made smallest by another program; the covariance by its slopes at the end."""
    optimize = pytest.importorskip("scipy.optimize")
    start, spreads, predict, read, read_spreads = network(np.random.default_rng(seed))

    def misfits(at):
        return np.concatenate([(at - start) / spreads, (predict(at) - read) / read_spreads])

    theirs = optimize.least_squares(misfits, start, xtol=1e-14, ftol=1e-14, gtol=1e-14)
    mine = best_values(start, spreads, predict, read, read_spreads)
    assert mine.values == pytest.approx(theirs.x, abs=1e-5)
    assert np.sum(misfits(mine.values) ** 2) == pytest.approx(2 * theirs.cost, rel=1e-6)
    assert mine.spreads == pytest.approx(np.sqrt(np.diag(np.linalg.inv(theirs.jac.T @ theirs.jac))), rel=1e-3)


def test_the_values_solve_the_normal_equations_of_straight_readings():
    random = np.random.default_rng(3)
    rows, start = random.normal(0, 1, (7, 4)), random.normal(0, 50, 4)
    spreads, read_spreads = random.uniform(0.5, 3, 4), random.uniform(0.5, 3, 7)
    read = rows @ start + random.normal(0, 3, 7)
    weights, own = np.diag(read_spreads**-2), np.diag(spreads**-2)
    normal = own + rows.T @ weights @ rows
    expected = np.linalg.solve(normal, own @ start + rows.T @ weights @ read)
    best = best_values(start, spreads, lambda at: rows @ at, read, read_spreads)
    assert best.values == pytest.approx(expected, abs=NEAR)
    assert best.covariance == pytest.approx(np.linalg.inv(normal), abs=NEAR)


def test_one_straight_step_gives_the_values_of_readings_nearby():
    random = np.random.default_rng(5)
    rows, start, spreads = random.normal(0, 1, (3, 4)), np.arange(4.0), [1.0, 2.0, 0.5, 3.0]
    best = best_values(start, spreads, lambda at: rows @ at, [1.0, 2.0, 3.0], [0.5, 0.6, 0.7])
    moved, read = start + [0.0, 1.5, 0.0, 0.0], [1.0, 2.8, 3.0]
    whole = best_values(moved, spreads, lambda at: rows @ at, read, [0.5, 0.6, 0.7])
    assert best.near(moved, read, rows @ best.values) == pytest.approx(whole.values, abs=NEAR)


def test_slopes_by_small_steps_are_the_true_ones():
    at = np.array([3.0, 4.0])
    slopes = by_steps(lambda where: np.array([math.hypot(*where), where[0] * where[1]]), at, [1.0, 2.0])
    assert slopes == pytest.approx(np.array([[0.6, 0.8], [4.0, 3.0]]), abs=NEAR)
