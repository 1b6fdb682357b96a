"""Findings that are kept from the step before, while a hand drags a motor, are those that a new check gives."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assets import design_text
from geometry.design.design import Design
from geometry.design.differences import differences, equal_designs
from geometry.design.validity import NonsenseError
from geometry.design_text import from_text
from geometry.edits.edits import move_bracket, move_lower, move_upper, set_units
from geometry.judge.check import check
from geometry.judge.kept_findings import kept
from tests.designs import changed, designs, example_design

BOATS = (
    "shallow-well-skiff", "twin-motor-launch", "tapered-work-boat", "thrice-drilled-runabout", "cap-lip-launch",
)  # fmt: skip
BY = st.sampled_from([0.0, 1.0, -7.9, 40.0]) | st.floats(-80, 80)  # mm
MOVES = (move_lower, move_upper, move_bracket)


def boat(name: str) -> Design:
    return from_text(design_text(name))


STEPS = st.lists(st.tuples(st.sampled_from(MOVES), st.integers(0, 1), BY, BY), min_size=1, max_size=4)


@given(st.sampled_from(BOATS).map(boat) | designs(), STEPS)
def test_a_drag_finds_the_same_as_a_new_check(design, steps):
    assume(design.mounts)
    checked = check(design)
    for move, index, across, up in steps:
        with suppress(NonsenseError, TypeError):  # such as upper holes above the top edge; a motor without holes
            design = move(design, min(index, len(design.mounts) - 1), across, up)
        checked = check(design, checked)
        assert checked == check(design)


def test_a_drag_sideways_over_a_sloping_floor_reads_the_floor_again():
    """The floor's depths are read below the lower holes: 40 mm to starboard both are 40 / 600 of 150 mm, or 10 mm, deeper."""
    sloping = ((-320, 0), (-300, -150), (300, -300), (320, 0))
    design = changed(example_design(), well__profile=sloping, inside_blocks=())
    before, moved = check(design), move_bracket(design, 0, 40.0, 0.0)
    notes = [[finding.text for finding in checked.findings if finding.check == "reading"] for checked in (before, check(moved))]
    assert notes[0] != notes[1]
    assert check(moved, before).findings == check(moved).findings


def test_what_rests_on_nothing_that_moved_is_the_very_same_finding():
    before = check(boat("twin-motor-launch"))
    after = check(move_lower(before.design, 0, 0.0, 9.0), before)
    for at in ("starboard motor / lower port", "port motor / upper port"):
        assert after.of("washer", at) is before.of("washer", at)
    assert after.of("washer", "port motor / lower port") is not before.of("washer", "port motor / lower port")


def test_only_places_of_holes_may_differ_for_anything_to_be_kept():
    before = check(boat("shallow-well-skiff"))
    held = kept(before, move_lower(before.design, 0, 3.0, 9.0))
    assert held is not None
    assert set(held.moved) == {"mounts.0.drop", "mounts.0.offset"}
    assert kept(before, set_units(before.design, "mm")) is None
    assert kept(None, before.design) is None


@given(st.sampled_from(BOATS), st.sampled_from(MOVES), st.sampled_from([0.0, 5.0]), st.sampled_from([0.0, 5.0]))
def test_designs_are_alike_where_they_are_equal(name, move, across, up):
    design = boat(name)
    try:
        dragged = move(design, 0, across, up)
    except NonsenseError:
        return
    assert equal_designs(design, dragged) == (design == dragged)
    assert equal_designs(dragged, from_text(design_text(name))) == (dragged == design)  # nothing shared


@pytest.mark.parametrize(("before", "after", "keys"), [
    ((1.0, 2.0), (1.0, 3.0), ["1"]), ((1.0,), (1.0, 2.0), [""]), (((1.0, None),), ((1.0, 2.0),), ["0.1"]), (3, 3.0, []),
])  # fmt: skip
def test_differences_are_named_by_their_place(before, after, keys):
    assert list(differences(before, after)) == keys
