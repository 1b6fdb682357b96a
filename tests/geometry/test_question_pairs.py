"""Two guesses that one answer gives: which they are, and when they are asked for one by one."""

from __future__ import annotations

import pytest

from geometry.asking.question_pairs import pair_of
from tests.designs import all_guesses, all_measured, changed, example_design, sure

TORQUES = ("mounts.0.upper_hardware.torque", "mounts.0.lower_hardware.torque")
PADS = ("mounts.0.bracket.rows.pad_thickness", "mounts.0.bracket.lower.pad_thickness")


@pytest.mark.parametrize("keys", [TORQUES, PADS])
def test_two_guesses_of_one_value_are_asked_for_at_once(keys):
    """Either of them leads to both, the upper one first."""
    design = all_guesses(example_design())
    for key in keys:
        assert sure(pair_of(design, key)).keys == keys
        assert pair_of(all_measured(design), key) is None
    assert pair_of(design, "mounts.0.drop") is None
    assert pair_of(design, "well.length") is None


@pytest.mark.parametrize("keys", [TORQUES, PADS])
@pytest.mark.parametrize("at", [0, 1])
def test_two_values_that_differ_are_asked_for_one_by_one(keys, at):
    """So they are where one of them is not known. A difference of 1e-7 counts for nothing."""
    design = all_guesses(example_design())
    for value in (20.0, None):
        assert pair_of(changed(design, **{keys[at].replace(".", "__"): value}), keys[0]) is None
    near = 47.5 + 1e-7 if keys == TORQUES else 12.0 + 1e-7
    assert pair_of(changed(design, **{keys[at].replace(".", "__"): near}), keys[0]) is not None


def test_torques_of_unlike_bolts_are_asked_for_one_by_one():
    design = all_guesses(example_design())
    for field, value in (("bolt", "7/16-14"), ("grade", "A2-70")):
        other = changed(design, **{f"mounts__0__lower_hardware__{field}": value})
        assert pair_of(other, TORQUES[0]) is None
        assert pair_of(other, PADS[0]) is not None
