"""The chance that a bracket goes on its bolts, by how exactly it was read."""

from __future__ import annotations

import random

import numpy as np
import pytest
from msgspec.structs import replace

from geometry.asking.drop_steps import steps, worth
from geometry.decide.ladder import rungs
from geometry.design.boat import OldHole
from geometry.design.design import Design, Reading
from geometry.design.patterns import kind_of
from geometry.doubt.slot_chance import CASTING, slot_chance
from geometry.doubt.spreads import with_spreads
from geometry.drilling.bracket_fit import Holes, best_place
from geometry.edits.edits import enter_value
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.readings.measures import measure
from geometry.readings.reading_spreads import spread_of
from tests.designs import IN, changed, example_design, roomy, sure

PITCH, SLOT, HOLE = "mounts.0.bracket.rows.pitch", "mounts.0.bracket.lower.slots.0.0", "mounts.0.bracket.lower.slots.1.0"
UPPER, LOWER = "mounts.0.bracket.rows.half_spacing", "mounts.0.bracket.lower.half_spacing"


def with_own_bracket(high: float, drop: float, row: int = 2) -> Design:
    """Return a boat whose bracket is no standard one: its slot begins ``high`` below its top hole [mm]."""
    design = enter_value(roomy(), sure(measure(roomy(), SLOT)), high)
    mount = replace(design.mounts[0], row=row, drop=drop)
    return replace(design, mounts=(mount,))


def test_a_bolt_at_the_end_of_a_standard_slot_goes_in() -> None:
    """The plays of both holes, 0.4 mm each, are four errors of the casting: our assumption."""
    design = changed(roomy(), **{"mounts.0.row": 0, "mounts.0.drop": 203.2})
    chance = sure(slot_chance(design, 0))
    assert chance.spread == pytest.approx(CASTING)
    assert chance.shares == {}
    assert chance.chance > 0.9999


def test_a_slot_read_by_tape_is_as_sure_as_the_tape() -> None:
    """Against drawn brackets: tape 0.8 mm at the slot's end, a quarter of that for each of two gaps between upper holes."""
    high = 212.0
    design = with_own_bracket(high, high - 2 * 19.05 + 0.6)
    chance, rng = sure(slot_chance(design, 0)), random.Random(4)
    goes_in = 0
    for _ in range(20_000):
        end, pitch = high + rng.gauss(0.0, 0.8), 19.05 + rng.gauss(0.0, 0.8) / 4
        goes_in += 2 * pitch + (high - 2 * 19.05 + 0.6) >= end - 0.4 - 0.4
    assert chance.chance == pytest.approx(goes_in / 20_000, abs=0.01)
    assert set(chance.shares) == {PITCH, SLOT}


def test_a_short_slot_can_be_missed_above_and_below() -> None:
    """A slot of 0.6 mm, both ends read by tape: drawn brackets miss at either end, within 0.015 of the chance."""
    high, low = 212.0, 212.6
    design = with_own_bracket(high, high - 2 * 19.05 + 0.3)
    design = enter_value(design, sure(measure(design, "mounts.0.bracket.lower.slots.0.1")), low)
    chance, rng, goes_in = sure(slot_chance(design, 0)), random.Random(5), 0
    for _ in range(20_000):
        top, end, pitch = high + rng.gauss(0.0, 0.8), low + rng.gauss(0.0, 0.8), 19.05 + rng.gauss(0.0, 0.8) / 4
        depth = 2 * pitch + high - 2 * 19.05 + 0.3
        goes_in += top - 0.8 <= depth <= end + 0.8
    assert chance.chance == pytest.approx(goes_in / 20_000, abs=0.015)
    assert chance.chance < 0.87  # one end alone would leave 0.9


def test_holes_at_the_end_of_a_slot_that_was_read_by_tape_may_not_be_drilled() -> None:
    """A third of a tape's error further down they may: that bolt still goes in."""
    high = 212.0
    at_end = drillable(with_spreads(check(with_own_bracket(high, high - 2 * 19.05))))
    assert at_end.answer == "no"  # and no pilot: it says nothing about the bracket
    assert {(reason.kind, reason.key) for reason in at_end.reasons} == {("doubt", SLOT)}
    assert drillable(with_spreads(check(with_own_bracket(high, high - 2 * 19.05 + 1.6)))).answer == "yes"


def test_a_tape_over_all_gaps_gives_one_pitch_four_times_as_well() -> None:
    design = roomy()
    assert spread_of(design, sure(measure(design, PITCH))) == pytest.approx(design.spreads.tape / 4)
    half = sure(measure(design, "mounts.0.bracket.lower.half_spacing"))
    assert spread_of(design, half) == pytest.approx(design.spreads.tape / 2)


def with_round_holes() -> Design:
    """Return a boat whose bracket has round lower holes; the bolts are 0.3 mm off the nearest."""
    design = roomy()
    lower = replace(sure(design.mounts[0].bracket.lower), slots=((203.2, 203.2), (222.25, 222.25)))
    bracket = replace(design.mounts[0].bracket, lower=lower)
    return replace(design, mounts=(replace(design.mounts[0], bracket=bracket, row=1, drop=203.5),))


def half_read(design: Design, *, spread: float | None = None) -> Design:
    """Return ``design`` with both half spacings of its bracket read."""
    for key in (UPPER, LOWER):
        row = sure(measure(design, key))
        design = enter_value(design, row, sure(row.get(design)))
        design = replace(design, readings={**design.readings, key: replace(design.readings[key], spread=spread)})
    return design


def goes_on(design: Design, count: int = 4_000) -> float:
    """Return the share of drawn brackets that go on the planned bolts, by the best shift and turn of each bracket."""
    mount = design.mounts[0]
    spreads = {key: spread_of(design, sure(measure(design, key))) for key in (UPPER, LOWER, PITCH, HOLE)}
    rows, lower = sure(mount.bracket.rows), sure(mount.bracket.lower)
    rng, drawn = random.Random(6), []
    planned = [(side * half, -down) for half, down in ((rows.half_spacing, 0.0), (lower.half_spacing, sure(mount.drop)))
               for side in (-1, 1)]  # fmt: skip
    plays = np.full(4, (sure(rows.diameter) - 12.7) / 2 + (sure(sure(mount.lower_hardware).hole) - 12.7) / 2)
    for _ in range(count):
        wide, narrow, pitch, hole = (rng.gauss(0.0, spreads[key]) for key in (UPPER, LOWER, PITCH, HOLE))
        down = lower.slots[1][0] + hole - sure(mount.row) * (rows.pitch + pitch)
        drawn.append([(side * half, -below) for half, below in ((rows.half_spacing + wide, 0.0),
                      (lower.half_spacing + narrow, down)) for side in (-1, 1)])  # fmt: skip
    bracket = Holes(np.array(planned), np.zeros(4), np.zeros(4), plays)
    return float((best_place(bracket, np.array(drawn), 1e-3).excess <= 0).mean())


def test_a_bracket_with_round_holes_goes_on_as_often_as_drawn_brackets_do() -> None:
    """Against the best shift and turn of each drawn bracket: both pairs share what the holes are off, within 0.02."""
    design = half_read(with_round_holes())
    chance = sure(slot_chance(design, 0))
    assert chance.chance == pytest.approx(goes_on(design), abs=0.02)
    assert 0.5 < chance.chance < 0.9
    sharper = half_read(design, spread=0.1)
    assert sure(slot_chance(sharper, 0)).chance > chance.chance + 0.05


def test_the_reading_to_read_again_is_that_of_the_least_likely_way() -> None:
    """Along, both plays count: 1.6 for a hole known to 0.54 is more likely than 0.8 across for 0.4. One of them is not."""
    design = half_read(with_round_holes())
    design = enter_value(design, sure(measure(design, HOLE)), 222.25)
    design = replace(design, readings={**design.readings, HOLE: replace(design.readings[HOLE], spread=0.5)})
    chance = sure(slot_chance(design, 0))
    assert list(chance.shares) == [UPPER]
    assert chance.spread == pytest.approx(0.4)
    design = replace(design, readings={**design.readings, HOLE: replace(design.readings[HOLE], spread=1.2)})
    worse = sure(slot_chance(design, 0))
    assert set(worse.shares) == {PITCH, HOLE}
    assert worse.spread == pytest.approx((1.2**2 + (0.8 / 4) ** 2) ** 0.5)


def test_half_spacings_that_were_read_once_keep_the_holes_from_being_drilled() -> None:
    """Each is known to 0.4 mm, and both holes leave a bolt 0.8 mm: a normal distribution has 0.9545 within two spreads."""
    design = half_read(with_own_bracket(212.0, 179.0))
    chance = sure(slot_chance(design, 0))
    assert chance.chance == pytest.approx(0.9545**2, abs=0.003)
    assert list(chance.shares) == [UPPER]
    answer = drillable(with_spreads(check(design)))
    assert answer.answer == "no"
    assert {(reason.kind, reason.key) for reason in answer.reasons} == {("doubt", UPPER)}
    assert "The bracket goes on its bolts" in answer.reasons[0].text
    assert drillable(with_spreads(check(half_read(design, spread=0.2)))).answer == "yes"


def test_one_who_reads_just_the_numbers_of_the_standard_pattern_has_it() -> None:
    """Typed one by one, they say no less than the press that confirms the pattern. A tape's spread is not asked for."""
    design = half_read(example_design())
    assert kind_of(design.mounts[0].bracket) == "standard"
    assert sure(slot_chance(design, 0)) == sure(slot_chance(example_design(), 0))
    assert drillable(with_spreads(check(half_read(roomy())))).answer == "yes"
    other = changed(design, mounts__0__bracket__rows__half_spacing=6.4375 * IN + 1.0)
    assert sure(slot_chance(other, 0)).chance < 0.95


def test_the_next_question_reads_a_half_spacing_again() -> None:
    design = half_read(with_own_bracket(212.0, 179.0))
    finding = next(each for each in with_spreads(check(design)).findings if each.check == "row")
    wanted = sure(worth(design, finding, (), ()))
    assert (wanted.key, wanted.again) == (UPPER, True)
    assert 0.1 < wanted.lifts < 0.9


def test_the_way_to_a_step_leaves_the_slots_end_as_far_as_the_tape_asks_for() -> None:
    """Without that, the bolts missed the slot on some boats."""
    high = 212.0
    design = with_own_bracket(high, high, row=0)
    checked = with_spreads(check(design))
    step = next(step for step in steps(checked, 0, tuple(rungs(design, 0))) if step.sure)
    off_end = step.best.drop + step.best.row * 19.05 - high
    assert 0.8 < off_end <= 3 * IN / 16


def test_an_old_hole_above_sends_the_bolts_a_little_further_down() -> None:
    """1.9 mm of wood more than the least is too little to be sure, and a little more is enough."""
    base = roomy()
    mount = base.mounts[0]
    across, down = sure(mount.bracket.lower).half_spacing, -(sure(mount.upper_at) - sure(mount.drop))
    old = OldHole(name="old hole", at=(across, -(down - 20.9)), diameter=12.7,
                  state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip
    reading = Reading(text="", value=down - 20.9, from_="centre", how="tape", state="measured", spread=None, second=None)
    design = replace(base, old_holes=(old,), readings={**base.readings, "old_holes.0.down": reading})
    checked = with_spreads(check(design))
    finding = next(each for each in checked.findings if each.check == "old_hole")
    assert finding.state != "fouled"
    assert sure(finding.chance) < 0.975
    step = next(step for step in steps(checked, 0, tuple(rungs(design, 0))) if step.best.row == mount.row)
    assert step.sure
    assert 0 < step.best.drop - sure(mount.drop) < 19.05
