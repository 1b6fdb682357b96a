"""A published trilateration, and the false minimum of its bad start.

Source of the readings: C. D. Ghilani, Adjustment Computations, example 14.2, as an open course file reproduces them [feet].
The printed answer was not seen. The answers here were calculated from those readings with another library's least squares;
so were the false minimum of the start at (-3000, 0), and its size.
"""

from __future__ import annotations

import numpy as np
import pytest

from geometry.survey.adjust import adjust
from geometry.survey.least_squares import fit
from geometry.survey.network import Distance, network

STATIONS = {"A": (865.40, 4527.15), "B": (2432.55, 2047.25), "C": (2865.22, 27.15)}
READ = {"A": 6049.00, "B": 4736.83, "C": 5446.49}
NETWORK = network(STATIONS, tuple(Distance("U", name, length, 1.0) for name, length in READ.items()))
BAD_START = (-3000.0, 0.0)


def _fit(start: tuple[float, float]):
    return fit(NETWORK.model(), np.array(start), np.array(list(READ.values())), np.ones(3))


def test_the_place_residuals_and_spreads_are_those_that_were_calculated() -> None:
    answer = _fit((6800.0, 3700.0))
    assert answer.values == pytest.approx((6861.3168, 3727.8186), abs=1e-4)
    assert answer.residuals == pytest.approx((-0.0374, 0.0768, -0.0474), abs=5e-5)
    assert answer.unit_spread == pytest.approx(0.0977, abs=5e-5)
    assert answer.unit_spread * np.sqrt(np.diag(answer.covariance)) == pytest.approx((0.0775, 0.1542), abs=1e-4)
    assert answer.free == 1


def test_the_bad_start_by_itself_ends_in_the_false_minimum() -> None:
    answer = _fit(BAD_START)
    assert answer.values == pytest.approx((-2237.9, -367.6), abs=0.05)
    assert answer.unit_spread == pytest.approx(666.0, abs=0.5)


def test_the_survey_notices_that_its_sketch_leads_to_a_false_minimum() -> None:
    survey = adjust(NETWORK, {"U": BAD_START})
    assert survey.astray
    assert survey.placed[0].at == pytest.approx((6861.3168, 3727.8186), abs=1e-4)
    assert not survey.twins
    assert not adjust(NETWORK, {"U": (6000.0, 3000.0)}).astray
    assert not adjust(NETWORK, {}).astray  # without a sketch nothing leads astray
