"""The pilot that is asked for once no other reading helps, and the steps after it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from geometry.asking.drop_steps import TWICE
from geometry.asking.next_question import Asked, NextQuestion, next_question
from geometry.decide.ladder import rungs
from geometry.doubt import spreads
from geometry.doubt.spreads import with_chances_of_room, with_spreads
from geometry.judge.check import check
from geometry.judge.drillable import SURE, drillable
from geometry.readings.measures import measures, put_path
from geometry.readings.pilots import hole_of, with_pilot
from geometry.readings.second_readings import OUTSIDE, WASHER, WASHER_ACROSS
from geometry.solving.compared import compared
from geometry.solving.comparisons import comparisons
from geometry.solving.next_pilot import next_pilot
from tests.designs import IN, changed, example_design, sure

if TYPE_CHECKING:
    from geometry.design.design import Design

SPENT: tuple[str, ...] = (OUTSIDE, WASHER, WASHER_ACROSS)


@pytest.fixture(autouse=True)
def few_drawn_boats(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spreads, "DRAWN", 400)


def wanted_next(design: Design, passed: tuple[str, ...] = SPENT) -> NextQuestion:
    """Return what is asked for once every reading was taken as often as it may be."""
    again = tuple(row.key for row in measures(design) for _ in range(TWICE))
    return next_question(with_spreads(check(design)), Asked(0, tuple(rungs(design, 0)), again, passed))


def with_its_pilot(design: Design, wanted: NextQuestion, off: float) -> Design:
    """Return the boat with the pilot that is asked for, read ``off`` mm further than the readings give."""
    hole, to = hole_of(wanted.key), sure(wanted.to)
    read = with_pilot(design, 0, hole, to=to, value=0.0)
    expected = next(each.expect(read) for each in comparisons(read) if each.key == wanted.key)
    return with_pilot(design, 0, hole, to=to, value=expected + off)


def test_a_pilot_is_asked_for_once_the_readings_are_spent() -> None:
    """The worked example has room in 83 of 100 cases: the pilot is that of the answer, at the place where the holes are.

    Both lower holes are read, each once; then the boat is sure, and the sheets come.
    """
    design, holes = example_design(), []
    for _ in range(2):
        wanted, named = wanted_next(design), sure(drillable(with_spreads(check(design))).pilot)
        assert (wanted.kind, wanted.key, wanted.to) == ("reading", named.key, named.to)
        holes.append(named.hole)
        design = with_its_pilot(design, wanted, 0.0)
    assert sorted(holes) == ["lower port", "lower starboard"]
    assert wanted_next(design).kind == "sheets"


def test_a_pilot_that_shows_less_room_leads_a_step_up() -> None:
    """The washer's mark is 3 mm nearer to the pilot than the readings say, so the washer overlaps: no second pilot there."""
    design = example_design()
    lower = with_its_pilot(design, wanted_next(design), -3.0)
    move = wanted_next(lower)
    assert move.kind == "move"
    assert sure(sure(move.step).best.drop) < sure(design.mounts[0].drop)
    assert wanted_next(sure(move.step).best.design).kind == "sheets"


def test_a_pilot_that_is_passed_by_leads_a_step_up_and_no_further_one_is_asked_for() -> None:
    design, passed = example_design(), (*SPENT,)
    wanted = wanted_next(design)
    kinds = []
    for _ in range(4):
        passed = (*passed, wanted.key) if wanted.key else passed
        wanted = wanted_next(design, passed)
        kinds.append(wanted.kind)
        if wanted.kind != "move":
            break
        design = sure(wanted.step).best.design
    assert kinds == ["move", "sheets"]


def test_a_demonstration_is_never_drilled_so_its_bolts_go_up_and_stay() -> None:
    design = replace(example_design(), demonstration=True)
    move = wanted_next(design)
    assert move.kind == "move"
    assert wanted_next(sure(move.step).best.design).kind == "sheets"


def test_the_lower_bolts_go_up_to_the_step_of_a_pilot_but_never_down_to_one() -> None:
    """A step of 6 1/2 in has room for a pilot only. From 8 in it is the next; from 5 3/4 in, which is sure, none is."""
    low = put_path(example_design(), "mounts.0.drop", 8.0 * IN)
    high = put_path(put_path(example_design(), "mounts.0.drop", 5.75 * IN), "mounts.0.row", 3)
    step = sure(wanted_next(low).step)
    assert step.best.drop == pytest.approx(6.5 * IN)
    assert step.chance < SURE
    assert wanted_next(high).kind == "sheets"


def test_a_steps_chance_counts_the_error_of_a_pilots_own_reading() -> None:
    """The quick chances of the rooms are those of all trials; without that error the spread was 0.2 mm for 0.7."""
    design = example_design()
    checked = check(with_its_pilot(design, wanted_next(design), 0.0))
    whole = {(each.check, each.at): each for each in with_spreads(checked).findings}
    for each in with_chances_of_room(checked):
        if each.spread is not None:
            assert each.spread == pytest.approx(sure(whole[each.check, each.at].spread), abs=1e-6), each.at


def test_what_is_expected_of_a_second_pilot_is_not_that_of_the_first() -> None:
    """The lower pair's pilots are 125.4 mm to each side, over a floor that falls to starboard; the upper washers are wider."""
    profile = ((-320, 0), (-300, -236.03), (300, -250.0), (320, 0))
    design = changed(example_design(), well__profile=profile, mounts__0__upper_hardware__washer__outer=50.0)
    alone = [next_pilot(design, 0, hole, "floor") for hole in ("lower port", "lower starboard", "upper port")]
    assert alone[1].expected > alone[0].expected + 3.0
    assert [each.washer for each in alone] == [38.1, 38.1, 50.0]
    after = with_pilot(design, 0, "lower port", to="floor")
    assert next_pilot(after, 0, "lower starboard", "floor").expected == pytest.approx(alone[1].expected, abs=1e-6)
    assert next_pilot(after, 0, "upper port", "floor").washer == 50.0


def test_a_pilot_may_be_off_by_what_its_readings_may_be_off_together():
    """A well read to 0.1 mm: three spreads of all its readings are less than the 6 mm that a pilot may be off at the most."""
    design = changed(example_design(), spreads__well=0.1)
    hint = next_pilot(design, 0, "lower port", "washer mark")
    read = with_pilot(design, 0, "lower port", to="washer mark", value=hint.expected)
    comparison = next(each for each in comparisons(read) if hole_of(each.key) == "lower port")
    seen = sure(compared(read, comparison))
    assert hint.most == pytest.approx(seen.most)
    assert seen.most == pytest.approx(3 * seen.spread)
    assert seen.most < comparison.most
