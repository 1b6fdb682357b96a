"""Chances from many drawn boats, against what is calculated by hand and against the spreads of differences."""

from __future__ import annotations

import math
import random
from itertools import islice

import pytest
from msgspec.structs import replace

from geometry.design.boat import Block
from geometry.doubt.boat_numbers import numbers_of
from geometry.doubt.chances import chances, drawing
from geometry.doubt.kept_bolt_lengths import with_lengths_kept
from geometry.doubt.one_reading_off import trials
from geometry.doubt.random_errors import drawn_errors, drawn_numbers
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from tests.designs import changed, example_design, random_design, twin_design, with_some_room
from tests.geometry.test_spreads import read, still

LOWER = "main motor / lower port"


def of(limited, check_, at=LOWER):
    return next(each for each in limited if (each.check, each.at) == (check_, at))


def normal(apart):
    return 0.5 * (1 + math.erf(apart / math.sqrt(2)))


def test_one_reading_gives_the_chance_of_a_normal_distribution():
    """The floor alone is off, by 2: the washer's spread is 2 within 2 %, the chance that of room/2 within 0.01."""
    design = read(still(with_some_room()), "well.floor_port", 244.03, spread=2.0)
    limited = of(chances(design, count=40_000), "washer")
    value = check(design).of("washer", LOWER).value
    assert limited.value == value
    assert limited.spread == pytest.approx(2.0, rel=0.02)
    assert limited.chance == pytest.approx(normal(value / 2.0), abs=0.01)
    assert limited.shares["well.floor_port"] == pytest.approx(4.0, rel=0.04)
    assert sum(limited.shares.values()) == pytest.approx(4.0, rel=0.04)


def test_a_design_has_the_same_chances_each_time():
    design = with_some_room()
    assert chances(design, count=3_000) == chances(design, count=3_000)


def test_whoever_has_enough_stops_asking():
    """The first part of the draws gives chances too; the last one counts all that were asked for."""
    first, second = islice(drawing(example_design(), count=50_000), 2)
    assert 0 < first.done < second.done < 50_000
    assert of(first.chances, "washer").chance == pytest.approx(of(second.chances, "washer").chance, abs=0.05)
    assert [step.done for step in drawing(example_design(), count=3_000)][-1] == 3_000


def test_only_the_findings_that_are_asked_for_are_drawn():
    limited = chances(example_design(), count=100, only=frozenset({("nut", LOWER)}))
    assert [(each.check, each.at) for each in limited] == [("nut", LOWER)]


def test_a_block_that_ends_near_the_nut_leaves_the_share_of_its_draws():
    """A lip 2 mm thick, known to 1 mm, under a nut that begins at 3: it reaches it in the share beyond one spread."""
    square = ((-140, -200), (-110, -200), (-110, -190), (-140, -190))
    lip = Block(name="lip", outline=square, stands_out=2.0)
    design = read(replace(still(example_design()), inside_blocks=(lip,)), "inside_blocks.0.stands_out", 2.0, spread=1.0)
    limited = of(chances(design, count=20_000), "nut")
    assert limited.value > 0.0
    assert limited.chance == pytest.approx(normal(1.0), abs=0.01)


@pytest.mark.parametrize("design", [example_design(), with_some_room(), twin_design()], ids=["example", "roomy", "twin"])
def test_each_error_moves_what_its_reading_moves(design):
    """One spread of each reading by itself gives the numbers of the design that has it off; within 1e-9."""
    bought = with_lengths_kept(design)
    errors, base = tuple(drawn_errors(design, bought)), numbers_of(bought)
    import numpy as np

    off = np.concatenate([np.eye(len(errors)), -np.eye(len(errors))], axis=1)
    drawn = drawn_numbers(base, errors, off)
    tried = [trial for trial in trials(design, bought) if any(error.key == trial.key for error in errors)]
    named = {(trial.key, number): trial for number, trial in enumerate(tried) if trial.key}
    for at, error in enumerate(errors):
        matching = [trial for (key, _), trial in named.items() if key == error.key]
        if error.guess or len(matching) != 1:
            continue
        for side, there in ((at, matching[0].plus), (at + len(errors), matching[0].minus)):
            for name, value in numbers_of(there).items():
                now = drawn[name]
                assert (now if isinstance(now, float) else now[side]) == pytest.approx(value, abs=1e-9), (error.key, name)


@pytest.mark.parametrize("seed", range(8))
def test_where_a_boat_is_simple_the_spreads_agree_within_five_percent(seed):
    """A plain well and whole washers: the differences of each reading alone give the spread of all together."""
    rng = random.Random(seed)
    design = changed(
        with_some_room(), well__fillet_radius=rng.uniform(4, 20), transom__rake=rng.uniform(6, 18),
        well__floor_rise=rng.uniform(-2, 4), mounts__0__drop=rng.uniform(150, 170), old_holes=(),
    )  # fmt: skip
    sure = with_spreads(check(design))
    for limited in chances(design, count=20_000):
        finding = sure.of(limited.check, limited.at)
        if finding.check in ("washer", "nut", "socket", "thread_end") and finding.against == "well floor":
            assert limited.spread == pytest.approx(finding.spread, rel=0.05), limited
            assert limited.chance == pytest.approx(finding.chance, abs=0.01), limited


@pytest.mark.parametrize("seed", range(6))
def test_any_boat_has_chances_between_none_and_one(seed):
    limited = chances(random_design(random.Random(seed)), count=200)
    assert all(0.0 <= each.chance <= 1.0 and math.isfinite(each.spread) for each in limited)
