"""How far a value goes before it makes no sense, found by trying."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assets import design_text
from geometry.design.validity import NonsenseError, same_way
from geometry.design_text import from_text
from geometry.edits.edits import forget, move_corner
from geometry.readings.measures import lacking, measure
from geometry.readings.nearest_accepted import reach, refused

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
OUTLINE = "mounts.0.bracket.outline"


def below(limit, *, itself):
    """Return what takes every value below a limit, and the limit itself or not."""

    def put(value):
        if value > limit or (value == limit and not itself):
            raise NonsenseError("too much", "there is no more room")

    return put


@given(st.floats(-1000, 1000), st.floats(0.001, 1000), st.booleans())
def test_the_last_value_is_at_the_limit_and_makes_sense(limit, beyond, itself):
    """To 1e-9 of the refused value, on the side that makes sense."""
    put = below(limit, itself=itself)
    nearest = reach(put, limit - 5.0, limit + beyond)
    assert nearest is not None
    assert limit - 1e-9 * max(1.0, abs(limit + beyond)) <= nearest.last <= limit
    assert nearest.why == "there is no more room"
    assert refused(put, nearest.last) is None


def test_where_nothing_is_known_yet_a_likely_value_is_begun_from():
    nearest = reach(below(50.0, itself=True), None, 80.0)
    assert nearest is not None
    assert nearest.last == pytest.approx(50.0, abs=1e-6)


def test_where_nothing_makes_sense_or_all_does_there_is_no_reach():
    assert reach(below(-5000.0, itself=True), None, 80.0) is None
    assert reach(below(5000.0, itself=True), 1.0, 80.0) is None


def test_a_shape_keeps_its_way_round():
    same_way(SQUARE, tuple((2 * x, 3 * y) for x, y in SQUARE))
    same_way(SQUARE, ((None, None),) * 4)  # nobody can say
    with pytest.raises(NonsenseError, match="inside out") as refused:
        same_way(SQUARE, SQUARE[::-1])
    assert refused.value.why == "that turns it inside out"


def test_a_corner_is_not_dragged_until_the_bracket_is_inside_out():
    """By hand: both top corners taken 1016 mm down, below the foot at 350, cross no side; the area changes its sign."""
    design = from_text(design_text("shallow-well-skiff"))
    foot = measure(design, f"{OUTLINE}.3.1")
    assert foot is not None
    top = move_corner(design, OUTLINE, 1, (190.5, -12.7), alike=True)  # half an inch down: still a bracket
    assert top.mounts[0].bracket.outline[0] == (-190.5, -12.7)
    with pytest.raises(NonsenseError):
        move_corner(design, OUTLINE, 1, (190.5, -1016.0), alike=True)


def test_what_lacks_of_a_well_is_a_number_that_can_be_read():
    design = from_text(design_text("shallow-well-skiff"))
    assert lacking(design, "well.profile") == "well.profile"
    for key in ("well.floor_starboard", "well.floor_port"):
        row = measure(design, key)
        assert row is not None
        assert lacking(forget(design, row), "well.profile") == key
    assert lacking(design, "transom.rake") == "transom.rake"
