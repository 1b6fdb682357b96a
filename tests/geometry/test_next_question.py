"""The next question where readings make a finding that no place of the holes helps."""

from __future__ import annotations

from geometry.asking.next_question import Asked, next_question
from geometry.asking.question_order import FIRST, OLD_HOLES
from geometry.decide.ladder import rungs
from geometry.design.edits import enter_value
from geometry.design.measures import measure, measures, without_reading
from geometry.design.origins import confirmed
from geometry.design.second_readings import OUTSIDE, WASHER, WASHER_ACROSS
from geometry.design.starts import starts
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from tests.designs import IN, sure


def test_a_guessed_thickness_that_seems_to_lean_sends_nobody_to_look_for_a_fit() -> None:
    """The straightedge says 8 mm more than the guessed thickness gives. So solved, the washers seem to be 5.6 degrees off.

    The lowest step is still found, and the thickness is then asked for.
    """
    design = starts()[0].design
    for key, value in ((FIRST[0], 9.5 * IN), (FIRST[1], 9.5 * IN), (FIRST[2], 0.5 * IN), (FIRST[4], 14.0)):
        design = enter_value(design, sure(measure(design, key)), value)
    design = without_reading(design, FIRST[3])  # cut level, as typed
    design = enter_value(design, sure(measure(design, OUTSIDE)), 9.5 * IN + 11.08 + 8.0)
    known = [row for row in measures(design) if row.key in design.readings and row.key.startswith("mounts.")]
    design, passed = confirmed(design, known), (OLD_HOLES, WASHER, WASHER_ACROSS)
    checked = with_spreads(check(design))
    assert next(each.state for each in checked.findings if each.check == "seat") == "fouled"
    move = next_question(checked, Asked(0, tuple(rungs(design, 0)), (), passed))
    assert move.kind == "move"
    there = sure(move.step).best.design
    then = next_question(with_spreads(check(there)), Asked(0, tuple(rungs(there, 0)), (), passed))
    assert (then.kind, then.key) == ("reading", "transom.thickness.top")
