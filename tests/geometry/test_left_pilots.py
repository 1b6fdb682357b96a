"""Pilots that the plan has left, by hand: a 17/32 in hole takes a 1/8 in pilot away up to 0.203 in apart.

(0.53125 - 0.125) / 2 = 0.203125 in: geometry. They overlap up to (0.53125 + 0.125) / 2 = 0.328 in apart.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.decide.cures import cure
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.readings.pilots import with_pilot
from geometry.solving.next_pilot import next_pilot
from tests.designs import IN, example_design, sure, twin_design

AT = "main motor / lower port"
HOLE, PILOT = 0.53125, 0.125  # in


def piloted(by, *, read=True):
    """Return the worked example with a pilot at its lower port hole, and the lower bolts then moved up by ``by`` [in]."""
    value = next_pilot(example_design(), 0, "lower port", "washer mark").expected if read else None
    design = with_pilot(example_design(), 0, "lower port", to="washer mark", value=value, washer=38.1)
    mount = design.mounts[0]
    lower = replace(sure(mount.lower_hardware), hole=HOLE * IN)
    return with_mount(design, 0, lower_hardware=lower, drop=sure(mount.drop) - by * IN)


def finding_of(design):
    return check(design).of("left_pilot", AT)


@pytest.mark.parametrize(
    ("by", "state"),
    [
        (0.0, None),
        (0.2, None),
        (0.203, None),
        (0.2032, "fouled"),
        (0.328, "fouled"),
        (0.3282, "tight"),
        (2.0, "tight"),
        (-0.5, "tight"),
    ],
)
def test_what_the_final_hole_does_with_a_pilot(by, state):
    finding = finding_of(piloted(by))
    if state is None:
        assert finding is None
    else:
        assert sure(finding).state == state
        assert sure(sure(finding).value) == pytest.approx(abs(by) * IN, abs=1e-9)
        assert sure(finding).mounts == (0,)


def test_a_pilot_that_was_not_read_is_not_there():
    assert finding_of(piloted(1.0, read=False)) is None


def test_one_that_overlaps_its_hole_keeps_it_from_being_drilled():
    """The drill would run out of the new hole. One further off stays open, but its hole can be drilled."""
    reasons = drillable(check(piloted(0.3))).reasons
    assert any("pilot" in reason.text for reason in reasons)
    assert not any("pilot" in reason.text for reason in drillable(check(piloted(0.6))).reasons)


@pytest.mark.parametrize("by", [0.3, 1.0])
def test_the_cure_adds_it_to_the_old_holes_with_their_checks(by):
    design = piloted(by)
    step = sure(cure(check(design), sure(finding_of(design))))
    assert step.label == "Lower port pilot added to the old holes"
    old = step.design.old_holes[-1]
    assert (old.name, old.at, old.state) == ("lower port pilot", design.pilots[0].at, "open")
    assert old.diameter == pytest.approx(PILOT * IN)
    assert finding_of(step.design) is None
    wood = check(step.design).of("old_hole", f"{AT} / {old.name}")
    between = by - (HOLE + PILOT) / 2  # in, by hand on the outer face: both are square to it
    assert (sure(wood).state == "fouled") == (between < 0.5 * HOLE)


def test_a_drag_keeps_what_is_said_about_pilots_true():
    """Findings from before must not stay: by a step of a drag the pilot is taken away, or is not."""
    before = check(piloted(1.0))
    for by in (0.9, 0.1, 0.25, 0.0):
        design = with_mount(before.design, 0, drop=sure(piloted(by).mounts[0].drop))
        assert check(design, before).of("left_pilot", AT) == check(design).of("left_pilot", AT)
        before = check(design, before)


@given(st.floats(-40.0, 40.0), st.floats(-40.0, 40.0))
def test_a_pilot_is_left_where_any_of_it_is_out_of_the_hole(across, up):
    """For any way that the plan moved: by points round the pilot's rim, which the hole covers all or not [mm]."""
    design = piloted(0.0)
    mount = design.mounts[0]
    moved = with_mount(design, 0, offset=(mount.offset or 0.0) + across, drop=sure(mount.drop) - up)
    rim = [(PILOT * IN / 2 * math.cos(turn / 10), PILOT * IN / 2 * math.sin(turn / 10)) for turn in range(63)]
    out = max(math.hypot(x - across, y - up) for x, y in rim) - HOLE * IN / 2
    if abs(out) > 0.01:
        assert (finding_of(moved) is not None) == (out > 0.0)


def test_each_motor_and_each_hole_has_its_own_pilot():
    """The second motor's upper pair goes up by 6 mm, and its 17/32 in hole takes 5.16 mm. The first motor's hole is wider."""
    boat = twin_design()
    first, second = boat.mounts
    wide, usual = (replace(sure(mount.upper_hardware), hole=hole) for mount, hole in ((first, 20.0), (second, HOLE * IN)))
    boat = with_mount(with_mount(boat, 0, upper_hardware=wide), 1, upper_hardware=usual)
    value = next_pilot(boat, 1, "upper starboard", "washer mark").expected
    boat = with_pilot(boat, 1, "upper starboard", to="washer mark", value=value, washer=38.1)
    for index, at in ((0, first), (1, second)):
        moved = with_mount(boat, index, upper_at=sure(at.upper_at) + 6.0, drop=sure(at.drop) + 6.0)
        left = [finding for finding in check(moved).findings if finding.check == "left_pilot"]
        assert [(finding.at, finding.mounts) for finding in left] == [(f"{second.name} / upper starboard", (1,))][: index]
