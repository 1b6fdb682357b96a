"""Placements side by side: each is judged as the boat hung so is, and a boat measured again judges them again."""

import pytest
from msgspec.structs import replace

from geometry.decide.alternatives import seats
from geometry.decide.compare import placement_of, same_placement, side, with_placement
from geometry.design.validity import NonsenseError
from geometry.judge.check import check
from geometry.judge.loads import bolt_loads
from geometry.solid.bracket_holes import plate_height, rows_left
from tests.designs import IN, changed, example_design, twin_design
from tests.reference.test_trade_boats import skiff

PAD = "a hard pad of 1 5/8 in under the bracket hook"  # of the skiff in `row` 2: the gap

def test_a_side_says_what_the_check_says():
    design = example_design()
    compared = side(design, placement_of(design, 0))
    assert compared.checked == check(design)
    assert compared.state == check(design).verdict
    # The worked example: lower washers clear by 2.16 mm, nothing inside has less.
    assert compared.nearest.check == "washer"
    assert compared.nearest.value == pytest.approx(2.16, abs=0.01)
    assert compared.rows_left == rows_left(design, 0, 165.1) == (2, 3, 4)
    assert compared.plate_height == plate_height(design, 0)
    assert compared.loads == bolt_loads(design, 0)
    assert compared.special == ("a hard pad of 1 1/2 in under the bracket hook",)  # 38.1 mm of gap


def test_a_part_that_just_touches_is_nearer_than_one_with_some_room():
    """Square faces, no rounded corner. The washers' feet are at -216 - 16 = -232. So is the floor, but lower at starboard."""
    profile = ((-320.0, 0.0), (-300.0, -232.0), (0.0, -232.0), (10.0, -232.5), (300.0, -232.5), (320.0, 0.0))
    design = changed(
        example_design(), transom__rake=0.0, transom__top_cut="square", well__fillet_radius=0.0, well__floor_rise=0.0,
        well__profile=profile, inside_blocks=(), mounts__0__upper_at=-52.0, mounts__0__drop=164.0,
        mounts__0__lower_hardware__washer__outer=32.0,
    )  # fmt: skip
    nearest = side(design, placement_of(design, 0)).nearest
    assert (nearest.check, nearest.at, nearest.value) == ("washer", "main motor / lower port", 0.0)


@pytest.mark.parametrize(("gap", "special"), [(0.0, ()), (2.9, ()), (3.0, ("a hard pad of 3 mm under the bracket hook",))])
def test_a_hard_pad_is_a_part_to_be_made(gap, special):
    """`row` 0 is 50.8 below the hook; from a gap of 3 mm on a pad belongs under it."""
    design = replace(changed(example_design(), mounts__0__row=0, mounts__0__upper_at=gap - 50.8), units="mm")
    assert side(design, placement_of(design, 0)).special == special


def test_the_skiff_cut_and_whole_side_by_side():
    """By hand at 6-1/2 in: whole washers -0.43 mm, cut at 0.46 in +6.93 mm."""
    whole, cut = (side(skiff(), placement_of(design, 0)) for design in (skiff(), skiff(flat=0.46)))
    assert (whole.state, cut.state) == ("fouled", "tight")
    assert whole.nearest.value == pytest.approx(-0.43, abs=0.01)
    assert cut.nearest.value == pytest.approx(6.93, abs=0.01)
    assert cut.special == ("lower washers cut flat 7/16 in below centre", *whole.special)
    assert whole.special == (PAD,)
    assert whole.rows_left == cut.rows_left == (2, 3, 4)


def test_a_placement_is_judged_on_the_boat_as_it_is_now():
    """A floor found to be 10 mm higher takes 10 mm from the kept one as well."""
    kept = placement_of(skiff(flat=0.46), 0)
    before = side(skiff(), kept)
    (a, b, c, d) = skiff().well.profile
    higher = changed(skiff(), well__profile=(a, (b[0], b[1] + 10), (c[0], c[1] + 10), d))
    assert side(higher, kept).nearest.value == pytest.approx(before.nearest.value - 10, abs=0.01)


def test_only_the_motors_place_and_hardware_are_another():
    design, kept = twin_design(), placement_of(changed(twin_design(), mounts__1__drop=170.0), 1)
    made = with_placement(design, kept)
    assert made.mounts[0] == design.mounts[0]
    assert made.mounts[1].drop == 170.0
    assert replace(made, mounts=design.mounts) == design
    heavier = changed(design, mounts__1__mass=150.0)
    assert with_placement(heavier, kept).mounts[1].mass == 150.0


def test_old_holes_that_matter_are_shown_with_their_state():
    design = example_design()
    close = changed(design, old_holes__0__state="open", old_holes__0__at=(125.4, -230.0))
    assert side(close, placement_of(close, 0)).met == (("old lower starboard", "fouled"),)
    assert side(design, placement_of(design, 0)).met == ()


def test_special_parts_are_named():
    plate = next(seat for seat in seats(skiff(), 0) if seat.kind == "plate").fitted(skiff(), 0)
    assert side(plate, placement_of(plate, 0)).special == ("lower relieved plate", PAD)
    leaning = changed(skiff(), mounts__0__lower_tilt=1.5, mounts__0__lower_hardware__wedge=1.5)
    assert side(leaning, placement_of(leaning, 0)).special == (
        "lower wedges of 1.5°", "lower holes drilled 1.5° up from square", PAD,
    )  # fmt: skip


def test_a_reading_that_a_load_waits_for_is_named():
    design = changed(skiff(), mounts__0__mass=None)
    compared = side(design, placement_of(design, 0))
    assert compared.loads is None
    assert compared.lacks == "mounts.0.mass"


def test_two_placements_are_one_within_a_twentieth_of_a_millimetre():
    placement = placement_of(skiff(), 0)
    assert same_placement(placement, placement_of(changed(skiff(), mounts__0__drop=6.5 * IN + 0.04), 0))
    assert not same_placement(placement, placement_of(changed(skiff(), mounts__0__drop=6.5 * IN + 0.06), 0))
    assert not same_placement(placement, placement_of(skiff(flat=0.46), 0))
    assert same_placement(placement, placement_of(changed(skiff(), mounts__0__mass=1.0), 0))
    assert not same_placement(placement, placement_of(changed(skiff(), mounts__0__row=3), 0))
    assert not same_placement(placement, placement_of(changed(skiff(), mounts__0__drop=None), 0))
    hole = changed(skiff(), mounts__0__lower_hardware__inserted_from="inside")
    assert not same_placement(placement, placement_of(hole, 0))


def test_a_row_that_the_bracket_has_no_more_is_refused():
    kept = placement_of(changed(skiff(), mounts__0__row=4), 0)
    with pytest.raises(NonsenseError):
        with_placement(changed(skiff(), mounts__0__bracket__rows__count=3), kept)
