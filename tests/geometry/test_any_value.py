"""With any value that an entry accepts, every calculation ends, and shows only real numbers.

Work is counted, never timed: rungs of a ladder here, overlays of areas in `test_clearances`.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from assets import design_names, design_text
from geometry.decide.alternatives import low_enough
from geometry.decide.amounts_to_buy import plugs, potting, sealant
from geometry.decide.cures import cure
from geometry.decide.fit import fits
from geometry.decide.ladder import ladders
from geometry.decide.old_holes import crowded, old_hole_plans
from geometry.design.validity import NonsenseError
from geometry.design_text import from_text, to_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.choices import choices
from geometry.edits.edits import enter_value
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.readings.measures import measure, measures
from geometry.solid.faces import Unmeasured
from geometry.zones.pair_zone import zones
from tests.designs import sure

IN = 25.4
MOST_DROPS = 21  # of one motor's ladder: a bracket has 20 rows at most


def with_plates(design):
    """Return a boat whose lower pair is on a relieved plate."""
    plate = next(choice for choice in choices(design, 0) if choice.key == "mounts.0.lower_hardware.plate")
    return plate.put(2)


SHAPES = [start.design for start in starts()]
BOATS = [*SHAPES, with_plates(SHAPES[0]), *(from_text(design_text(name)) for name in design_names())]
ODD = (0.0, 5e-324, 1e-300, 1e-9, 1e-4, 0.01, 0.5, 3.0, 6.35, 12.7, 19.05, 44.9, 59.9, 100.0, 280.0, 304.8, 635.0, 1016.0,
       1524.0, 90 * IN, 3048.0, 243 * IN, 1e5)  # fmt: skip


def values(now: float | None):
    """Return odd values of either sign, and some near the present one."""
    near = st.floats(-3, 3).map(lambda share: (now or 10.0) * share)
    return st.one_of(st.sampled_from(ODD), st.sampled_from(ODD).map(lambda value: -value), near)


@st.composite
def typed_boats(draw, boats=tuple(BOATS), most: int = 4):
    """Draw a boat into which up to ``most`` odd values were typed, as far as its entries take them."""
    design = draw(st.sampled_from(boats))
    for _ in range(draw(st.integers(1, most))):
        keys = [row.key for row in measures(design) if row.kind != "shape"]
        chosen = sure(measure(design, draw(st.sampled_from(keys))))
        value = draw(st.integers(0, 101) if chosen.kind == "count" else values(chosen.get(design)))
        try:
            design = enter_value(design, chosen, float(value))
        except NonsenseError:
            continue
    return design


def typed(design, **values):
    """Return a boat with values typed at keys whose dots are written as two underscores."""
    for key, value in values.items():
        design = enter_value(design, sure(measure(design, key.replace("__", "."))), value)
    return design


def ask_everything(design) -> None:
    """Ask all that window and command ask, but for the spreads and the search."""
    checked = check(design)
    for finding in checked.findings:
        assert finding.value is None or math.isfinite(finding.value), finding
        assert "nan" not in finding.text.split(), finding
        cure(checked, finding)
    drillable(checked)
    old_hole_plans(design), crowded(design)
    for ask in (plugs, potting, sealant):
        ask(design)
    for ladder in ladders(design):
        assert len(ladder.drops()) <= MOST_DROPS
    for index, mount in enumerate(design.mounts):
        if mount.bracket.rows is not None:
            try:
                zones(design, index)
            except Unmeasured:
                continue
    assert from_text(to_text(design)) == design


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(typed_boats())
def test_any_value_that_an_entry_takes_lets_everything_finish(design):
    ask_everything(design)


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(typed_boats(boats=(SHAPES[0], SHAPES[1], BOATS[5]), most=3))
@example(typed(BOATS[5], well__fillet_radius=280.0))
@example(typed(SHAPES[0], well__fillet_radius=280.0))
def test_spreads_and_the_search_for_a_fit_finish_too(design):
    for index in range(len(design.mounts)):
        try:
            fits(design, index)
            low_enough(design, index)
        except Unmeasured:
            continue
    for finding in with_spreads(check(design)).findings:
        assert finding.chance is None or 0.0 <= finding.chance <= 1.0


@pytest.mark.parametrize("inches", [19.05, 25.0])
def test_a_radius_that_no_boat_has_is_not_taken_and_one_of_280_mm_does_no_harm(inches):
    """19.05 typed in an inch boat with a backing plate made the check fail, 25 in the search for a fit."""
    with pytest.raises(NonsenseError):
        typed(BOATS[5], well__fillet_radius=inches * IN)
    large = typed(BOATS[5], well__fillet_radius=280.0)
    ask_everything(large)
    assert all(not fit.fits for fit in fits(large))
