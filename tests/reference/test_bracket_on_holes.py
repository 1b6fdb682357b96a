"""Whether a bracket goes on its holes, by a rule of a standard and by our earlier calculation.

- ASME Y14.5, floating fasteners: a hole of diameter H, a bolt of diameter F and a position tolerance T with H = F + T. Holes
  of both parts within T always take the bolt. T is a diameter, about the true place.
- A table of chances that we calculated before, in another program: 1,200 trials a cell, and an approximate best place. It is
  within 3 %. Each hole is off by a spread across and up, the lower pair slides in long slots.
"""

import numpy as np
import pytest

from geometry.drilling.bracket_fit import EXACT, Holes, best_place

INCH = 25.4
PLACES = np.array(((-6.4375, 0.0), (6.4375, 0.0), (-4.9375, -8.0), (4.9375, -8.0))) * INCH
SLOTS = np.array((0.0, 0.0, 1.5, 1.5)) * INCH  # mid-travel of a slot from 8 to 11 in
PLAYS = (1 / 32, 1 / 16, 3 / 32, 1 / 8)  # in: both holes wider than the bolt, together
TABLE = {0.015: (0.64, 0.99, 1.0, 1.0), 0.030: (0.15, 0.59, 0.92, 0.995), 0.045: (0.05, 0.30, 0.61, 0.84)}


def test_the_chances_are_those_of_the_earlier_table():
    """Errors that are half as large need half the play, so one drawing serves every row."""
    errors = np.random.default_rng(1).standard_normal((20_000, 4, 2)) * 0.030 * INCH
    excess = best_place(Holes(PLACES, SLOTS, SLOTS, np.zeros(4)), PLACES + errors, 1e-3).excess
    for spread, shares in TABLE.items():
        chances = [float((excess * spread / 0.030 <= play / 2 * INCH).mean()) for play in PLAYS]
        assert chances == pytest.approx(shares, abs=0.03)


@pytest.mark.parametrize("slots", [SLOTS, np.zeros(4)], ids=["slots", "round holes"])
@pytest.mark.parametrize("wider", [0.8, 1.6])
def test_holes_within_the_floating_fastener_tolerance_always_take_their_bolts(slots, wider):
    """Both parts have H = F + T. The worst holes are on the rim of their tolerance, those of the bracket too."""
    turns = np.random.default_rng(4).uniform(0.0, 2 * np.pi, (120, 4))
    rims = np.stack((np.cos(turns), np.sin(turns)), axis=-1) * wider / 2
    plays = np.full(4, wider)  # (H - F) / 2 of the boat's hole and as much of the bracket's
    for off_bracket in rims[:20]:
        excess = best_place(Holes(PLACES + off_bracket, slots, slots, plays), PLACES + rims[20:], 1e-3).excess
        assert (excess <= EXACT).all()


def test_holes_opposite_each_other_just_beyond_the_tolerance_do_not_take_their_bolts():
    """Both parts on opposite rims, the boat's holes too far apart, the bracket's too near: by T they just go on."""
    away = np.sign(PLACES[:, :1]) * np.array((1.0, 0.0)) / 2
    plays = np.full(4, 1.0)
    for times, goes_on in ((1.0, True), (1.01, False)):
        holes = Holes(PLACES - away * times, np.zeros(4), np.zeros(4), plays)
        assert (best_place(holes, (PLACES + away * times)[None]).excess[0] <= EXACT) == goes_on
