"""A pilot drill's length in the wood, and the outline's diagonal: second ways to thickness and outline, by hand."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from app.entries.card_items import items, key_of
from geometry.asking.question_order import SECOND_WAYS, second_ways
from geometry.design.design import Reading
from geometry.judge.contradictions import contradictions
from geometry.readings.measures import measure
from geometry.readings.pilots import pilot_key
from geometry.readings.second_readings import OUTLINE, through_key
from geometry.solid.placed_bolts import bolts
from geometry.solving.solved import solved
from tests.designs import changed, clamp_on_mount, example_design, sure
from tests.geometry.test_contradictions import boat, with_reading
from tests.geometry.test_solved import placed

THROUGH = through_key(pilot_key(0, "lower port"))
ACROSS = math.hypot(1320.0, 480.0)
"""[mm] the worked example's outline, from its top corner at port (-700, 60) to the low one at starboard (620, -420)."""


def along(design):
    return next(bolt for bolt in bolts(design) if bolt.name == "lower port").exit.along


def test_the_length_of_the_drill_moves_the_thickness_by_its_weight():
    """The hole is 8 3/8 in down, of 10 in to where the lower thickness is read: it counts 0.8375, the top one 0.1625.

    Each has a spread of 0.8 mm, and so has the length: 0.7278 / 1.7278 of 1.2 mm goes to the thickness there, 0.5055 mm.
    """
    design = placed()
    read = with_reading(design, THROUGH, 2 * 25.4 + 1.2)
    share = 0.8375**2 + 0.1625**2
    assert contradictions(read) == ()
    assert along(solved(read)) - along(design) == pytest.approx(1.2 * share / (share + 1.0), abs=1e-3)
    assert along(read) == along(design)  # the card keeps what was read


@pytest.mark.parametrize("sign", [-1, 1])
def test_a_length_beyond_three_spreads_contradicts_the_thickness(sign):
    """By hand 3 · 0.8 · √(1 + 0.8375² + 0.1625²) = 3.155 mm."""
    most = 3 * 0.8 * math.sqrt(1.0 + 0.8375**2 + 0.1625**2)
    for by, count in ((0.999 * most, 0), (1.001 * most, 1)):
        assert len(contradictions(with_reading(placed(), THROUGH, 50.8 + sign * by))) == count


def test_the_bolts_to_buy_follow_the_drill():
    """A quarter of an inch more of wood is more than the thread that shows: the bolt is one stock length longer."""
    design = changed(placed(), readings={
        key: replace(row, state="guess") if "thickness" in key else row for key, row in placed().readings.items()
    })  # fmt: skip
    thicker = with_reading(with_reading(design, THROUGH, 57.15), through_key(pilot_key(0, "lower starboard")), 57.15)
    before, after = ([bolt.length for bolt in bolts(solved(each)) if bolt.name == "lower port"] for each in (design, thicker))
    assert sure(after[0]) > sure(before[0])


def test_each_pilot_has_an_entry_for_it_and_a_clamp_on_motor_has_none():
    keys = [key_of(item) for section in (6, 7) for item in items(example_design(), 0, section)]
    for hole in ("lower port", "lower starboard", "upper port", "upper starboard"):
        assert keys.index(through_key(pilot_key(0, hole))) > keys.index(pilot_key(0, hole))
    clamped = replace(example_design(), mounts=(clamp_on_mount(),))
    assert measure(clamped, THROUGH) is None


@pytest.mark.parametrize(("off", "count"), [(0.0, 0), (3.3, 0), (-3.3, 0), (3.5, 1), (-3.5, 1)])
def test_the_outlines_diagonal_is_compared_with_its_corners(off, count):
    """Both have a spread of 0.8 mm: 3 · 0.8 · √2 = 3.394 mm."""
    clashes = contradictions(with_reading(example_design(), OUTLINE, ACROSS + off))
    assert len(clashes) == count
    assert all(clash.key == OUTLINE and clash.first == "transom.outline" for clash in clashes)


def test_a_contradicted_outline_leaves_the_edges_unchecked():
    from geometry.judge.check import check

    checked = check(with_reading(example_design(), OUTLINE, ACROSS + 10.0))
    assert {finding.state for finding in checked.findings if finding.check == "edge"} == {"unknown"}


def test_it_is_asked_for_where_corners_were_read_and_an_edge_is_near():
    """The example's upper holes are 3.14 diameters from the edge inside; 4 are advised."""
    design = example_design()
    assert OUTLINE in SECOND_WAYS
    assert OUTLINE not in second_ways(design)  # nobody read it with a tape
    typed = Reading(text="", value=None, from_="centre", how="tape", state="measured", spread=None, second=None)
    assert OUTLINE in second_ways(changed(design, readings={"transom.outline": typed}))
    guess = replace(typed, state="guess")
    assert OUTLINE not in second_ways(changed(design, readings={"transom.outline": guess}))
    assert OUTLINE not in second_ways(boat())
