"""Readings that decide alone: taken twice where nothing else shows a slip, and never drilled by while they are unlikely."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from geometry.asking.blind_readings import _room, to_confirm_blind
from geometry.asking.next_question import Asked, next_question
from geometry.decide.ladder import rungs
from geometry.design.boat import OldHole
from geometry.design.design import Design
from geometry.design.validity import SECOND
from geometry.doubt.spreads import with_spreads
from geometry.edits.edits import enter_value
from geometry.edits.second_blind import read_again
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.words import answer
from geometry.readings.measures import measure
from geometry.readings.second_readings import OUTSIDE
from geometry.readings.unlikely import confirm_unlikely, unlikely
from geometry.solving.comparisons import comparisons
from geometry.solving.witnesses import witnessed
from tests.designs import IN, roomy, sure

DOWN, RAKE = "old_holes.0.down", "transom.rake"


def with_old_hole(above: float) -> Design:
    """Return a boat that may be drilled, with an old hole so far above the lower one at starboard [mm], read by tape."""
    base = roomy()
    mount = base.mounts[0]
    at = sure(mount.bracket.lower).half_spacing, sure(mount.upper_at) - sure(mount.drop) + above
    old = OldHole(name="old hole", at=at, diameter=12.7, state="open", plug_diameter=None, reuse=False, drill=None)
    design = replace(base, old_holes=(old,))
    return enter_value(design, sure(measure(design, DOWN)), -at[1])


def reading_to_confirm(design: Design) -> str:
    """Return the key of the reading to take once more, "" for none."""
    wanted = to_confirm_blind(with_spreads(check(design)), (), ())
    return "" if wanted is None else wanted[0]


def test_an_old_hole_that_may_have_been_read_to_its_edge_is_read_twice() -> None:
    """Its edge is 6.4 mm from its middle. With 5 mm of wood more than the least that slip matters, with 9 mm it does not."""
    least = 12.7 + 12.7 / 2  # between the middles of two half-inch holes
    assert reading_to_confirm(with_old_hole(least + 5.0)) == DOWN
    assert reading_to_confirm(with_old_hole(least + 9.0)) == ""


def test_a_reading_that_was_taken_twice_is_not_asked_for_again() -> None:
    design = with_old_hole(12.7 * 1.5 + 5.0)
    again = read_again(design, sure(measure(design, DOWN)), f"{sure(sure(measure(design, DOWN)).get(design)) / IN:.3f}")
    assert DOWN in witnessed(again)
    assert reading_to_confirm(again) != DOWN


def test_the_question_comes_after_the_move_and_before_the_sheets() -> None:
    design = with_old_hole(12.7 * 1.5 + 5.0)
    checked = with_spreads(check(design))
    wanted = next_question(checked, Asked(0, tuple(rungs(design, 0)), (), ("lower",)))
    assert (wanted.kind, wanted.key) == ("again", DOWN)


def with_much_rake() -> Design:
    """Return a boat with an unlikely rake: most transoms have 20 degrees or less."""
    base = roomy()
    return enter_value(base, sure(measure(base, RAKE)), 20.5)


def test_an_unlikely_reading_that_alone_decides_keeps_holes_from_being_drilled() -> None:
    """Until its owner confirms it, or another way agrees with it."""
    design = with_much_rake()
    assert RAKE in {each.measure.key for each in unlikely(design)}
    checked = with_spreads(check(design))
    decides = [each for each in checked.findings if RAKE in each.moved_by and each.value is not None and each.value < 40.0]
    answered = drillable(checked)
    assert ("unlikely" in {reason.kind for reason in answered.reasons}) == bool(decides)
    assert decides
    assert answered.answer == "no"
    assert "Read again or confirm" in answer(checked).sentence
    assert drillable(with_spreads(check(confirm_unlikely(design, RAKE)))).answer == "yes"


def test_another_way_that_agrees_settles_an_unlikely_reading() -> None:
    design = with_much_rake()
    row = sure(measure(design, OUTSIDE))
    taken = row.set(design, 300.0)
    expected = next(each.expect(taken) for each in comparisons(taken) if each.key == OUTSIDE)
    settled = row.set(design, expected)
    assert RAKE in witnessed(settled)
    assert "unlikely" not in {reason.kind for reason in drillable(with_spreads(check(settled))).reasons}


def test_the_room_of_a_finding_that_is_asked_for_is_in_millimetres() -> None:
    """In diameters it is that many times a bolt of 12.7."""
    design = roomy()
    findings = with_spreads(check(design)).findings
    washer = next(each for each in findings if each.check == "washer")
    assert _room(design, washer) == pytest.approx(sure(washer.value) - sure(washer.least))
    wood = replace(next(each for each in findings if each.unit == "diameters"), check="old_hole", spread=0.5)
    assert _room(design, wood) == pytest.approx((sure(wood.value) - sure(wood.least)) * 12.7)
    assert _room(design, replace(washer, value=None)) == -1.0
    assert _room(design, replace(washer, spread=None)) == -1.0
    assert _room(design, next(each for each in findings if each.check == "weight" or each.unit == "ratio")) == -1.0


BRACKET = "mounts.0.bracket."
UPPER, LOWER, SLOT = (f"{BRACKET}{end}" for end in ("rows.half_spacing", "lower.half_spacing", "lower.slots.0.0"))


def with_own_bracket(from_end: float) -> Design:
    """Return a boat that may be drilled with a bracket that is not standard.

    Its lower bolts are so far from the upper end of their slot [mm].
    """
    design = roomy()
    mount = design.mounts[0]
    end = sure(mount.row) * sure(mount.bracket.rows).pitch + sure(mount.drop) - from_end
    for key, value in ((UPPER, 160.0), (LOWER, 130.0), (SLOT, end)):
        design = enter_value(design, sure(measure(design, key)), value)
    return design


def asked_blind(design: Design) -> list[str]:
    """Return all readings that are to be taken once more, in their order."""
    checked, again = with_spreads(check(design)), list[str]()
    while (wanted := to_confirm_blind(checked, again, ())) is not None:
        again.append(wanted[0])
    return [key for key in again if key.startswith(BRACKET)]


def test_the_end_of_a_slot_is_read_twice_where_a_slip_takes_the_bolts_past_it() -> None:
    """Read to a hole's edge it is 6.4 mm off. Only the half spacings were read twice, and holes 6.4 mm off were drilled."""
    assert asked_blind(with_own_bracket(3.0)) == [SLOT, UPPER, LOWER]
    assert asked_blind(with_own_bracket(9.0)) == [UPPER, LOWER]  # they have a little play, wherever the bolts are
    assert asked_blind(roomy()) == []  # its owner compared it with known numbers


def test_a_bracket_s_diagonal_witnesses_what_it_surely_shows() -> None:
    """By hand: 6.4 mm of a half spacing move it by 5.2 mm, of the slot's end by 3.5 mm; it may be 3.1 mm off."""
    design = with_own_bracket(3.0)
    diagonal = f"mounts.0{SECOND}diagonal"
    taken = enter_value(design, sure(measure(design, diagonal)), 300.0)
    expected = next(each.expect(taken) for each in comparisons(taken) if each.key == diagonal)
    assert asked_blind(enter_value(design, sure(measure(design, diagonal)), expected)) == [SLOT]
