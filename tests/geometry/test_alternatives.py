"""The three ways to seat the lower washers: their ladders, and how low each lets the AV plate go.

The figures are those of the boats in ``tests/reference/test_trade_boats.py``, calculated there by hand [in]. Tolerances:
0.006 in where the hand rounds to a hundredth, else as stated.
"""

import math
from functools import partial

import pytest
from msgspec.structs import replace

from geometry.decide.alternatives import low_enough, seat_rungs, seats
from geometry.decide.ladder import rungs
from geometry.decide.lowest import greatest_depth, lowest_plate
from geometry.judge.check import check
from geometry.judge.findings import verdict_of
from geometry.solid.bracket_holes import rows_left
from geometry.solid.faces import Unmeasured
from tests.designs import IN, changed, clamp_on_mount, example_design, sure
from tests.reference.test_trade_boats import blind, capped, skiff, tender


def kinds(design):
    return [(seat.kind, seat.present) for seat in seats(design, 0)]


def ways(design):
    return {way.seat.kind: way for way in low_enough(design, 0).ways}


def test_whole_cut_and_plated_stand_side_by_side_whichever_is_fitted():
    assert kinds(skiff()) == [("plain", True), ("cut", False), ("plate", False)]
    assert kinds(skiff(flat=0.46)) == [("plain", False), ("cut", True), ("plate", False)]
    plated = next(seat for seat in seats(skiff(), 0) if seat.kind == "plate").fitted(skiff(), 0)
    assert kinds(plated) == [("plain", False), ("cut", False), ("plate", True)]
    both = changed(plated, mounts__0__lower_hardware__washer__flat_cut=0.46 * IN)
    assert kinds(both) == [("chosen", True), ("plain", False), ("cut", False), ("plate", False)]
    assert seats(replace(skiff(), mounts=(clamp_on_mount(),)), 0) == ()


def test_other_seats_change_the_lower_hardware_and_nothing_else():
    design = skiff()
    for seat in seats(design, 0):
        made = seat.fitted(design, 0)
        assert replace(made, mounts=(replace(made.mounts[0], lower_hardware=design.mounts[0].lower_hardware),)) == design
        assert made == design or not seat.present


def test_the_skiffs_ladders_with_each_seat():
    """At 6-1/2 in: whole -0.43 mm, so fouled; cut flat clear, `rows` 2 to 4, `row` 2 at +0.83 in; a relieved plate too."""
    rungs = {seat.kind: {(r.drop, r.row): r for r in seat_rungs(skiff(), 0, seat)} for seat in seats(skiff(), 0)}
    at = 6.5 * IN, 2
    assert rungs["plain"][at].state == "fouled"
    assert rungs["plain"][at].room == pytest.approx(-0.43, abs=0.01)
    for kind in ("cut", "plate"):
        rung = rungs[kind][at]
        assert rung.state != "fouled"
        assert rung.rows_left == (2, 3, 4)
        assert rung.plate_height / IN == pytest.approx(0.83, abs=0.006)
        assert rung.hook_gap == pytest.approx(1.625 * IN)
        assert rung.slot_end == pytest.approx(0.0, abs=1e-9)
        assert rung.nearest.check == "washer"
        assert rung.nearest.value == rung.room
    assert [rungs["cut"][8 * IN, row].state for row in range(5)] == ["fouled"] * 5


def test_a_rung_is_what_the_check_of_the_boat_hung_so_says():
    for design in (skiff(), capped(2.25), blind(7.25), example_design()):
        for seat in seats(design, 0):
            for rung in seat_rungs(design, 0, seat):
                assert rung.design is not None
                left = rows_left(rung.design, 0, rung.drop)
                state = verdict_of(check(rung.design).findings)
                assert rung.state == ("fouled" if rung.row not in left else state)
                assert rung.rows_left == left


def test_the_present_seats_ladder_is_the_ladder():
    design = skiff()
    assert tuple(seat_rungs(design, 0, seats(design, 0)[0])) == tuple(rungs(design, 0))


def test_how_low_the_skiff_can_go_with_each():
    """Whole washers: D = 9.4987 - 0.3906 - 0.75 - 0.125 = 8.2331 in. Cut at the nut's corners it is less than the 0.46 in
    of the hand's +0.68. Over a relieved plate 1/4 in thick the washer needs 0.833 in, and the
    backing plate's edge more.
    """
    heights = ways(skiff())
    whole = 19.5 + (10 - 8.2331) * math.cos(math.radians(14)) - 20.25
    assert heights["plain"].advised / IN == pytest.approx(whole, abs=0.001)
    assert ways(skiff(flat=0.46))["cut"].advised / IN == pytest.approx(0.68, abs=0.006)
    corners = skiff().mounts[0].lower_hardware.nut_hexagon.corners
    cut = 19.5 + (10 - (9.4987 - 0.3906 - 0.125 - math.ceil(corners * 5) / 10 / IN)) * math.cos(math.radians(14)) - 20.25
    assert heights["cut"].advised / IN == pytest.approx(cut, abs=0.001)
    assert heights["cut"].advised < heights["plate"].advised < heights["plain"].advised
    washer = 19.5 + (10 - (9.4987 - 0.833)) * math.cos(math.radians(14)) - 20.25
    assert heights["plate"].advised / IN >= washer - 0.001
    assert all(way.least <= way.advised + 1e-9 for way in heights.values())


def _fitted(seat, hung):
    return seat.fitted(hung, 0)


def test_what_is_said_to_be_lowest_is_neither_beaten_nor_missed():
    """Hung at that depth the parts have the advised 1/8 in, to 1e-5 mm; 0.1 mm deeper they have not."""
    for seat in seats(skiff(), 0):
        depth = greatest_depth(skiff(), 0, 3.175, partial(_fitted, seat))
        for by, passes in ((0.0, True), (0.1, False)):
            design = seat.fitted(changed(skiff(), mounts__0__drop=depth + by - 1.875 * IN), 0)
            parts = (f for f in check(design).findings if f.check in ("washer", "nut", "socket") and "lower" in f.at)
            room = min(f.value for f in parts if f.value is not None)
            assert (room >= 3.175 - 1e-5) == passes


@pytest.mark.parametrize(("floor", "possible"), [(189.45, True), (189.35, False)])
def test_no_hole_of_the_bracket_may_come_nearer_to_the_top_than_the_least(floor, possible):
    """The lower bolts' depth is floor + 10.97043 - 9.89203 - 19.05 (edge, rounded corner's land, washer): floor - 17.97160.

    The highest slot then hangs the hook 254 less that above the datum. The last of five holes is 50.8 + 4·19.05 = 127
    below the hook; it keeps 44.45 where the hook is at most 82.55 up: lower bolts at least 171.45 deep.
    """
    shallow = ((-320, 0), (-300, -floor), (300, -floor), (320, 0))
    design = changed(example_design(), well__profile=shallow, inside_blocks=())
    assert greatest_depth(design, 0, 0.0) == pytest.approx(floor - 17.97160, abs=1e-4)
    lowest = lowest_plate(design, 0).least
    assert (lowest is not None) == possible
    free = changed(design, limits__top_edge=(0.0, 50.8))
    lift = 254 - floor + 17.97160
    assert lowest_plate(free, 0).least == pytest.approx(490 + lift * math.cos(math.radians(14)) - 508, abs=1e-3)
    hung = changed(design, mounts__0__row=4, mounts__0__upper_at=-(floor - 17.97160 - 127), mounts__0__drop=127.0)
    finding = check(hung).of("top_edge", "main motor / upper port")
    assert (finding.state != "fouled") == possible


def test_nothing_below_holds_the_capped_boat_up():
    """Its lower bolts go as deep as the transom: the hook comes right down, A = 20.75 - 20.25 = +1/2 in."""
    answer = low_enough(capped(2.25), 0)
    assert answer.down / IN == pytest.approx(0.5)
    assert answer.now / IN == pytest.approx(0.99, abs=0.006)
    assert [way.advised / IN for way in answer.ways] == pytest.approx([0.5, 0.5, 0.5])


def test_the_blind_boat():
    """D = 10.0386 - 0.2983 - 0.75 - 0.125 = 8.8653: A = 19.75 + (10 - 8.8653)·cos 13° - 20.25 = +0.606 in, whole washers."""
    heights = ways(blind(6.5))
    assert heights["plain"].advised / IN == pytest.approx(19.75 + (10 - 8.8653) * math.cos(math.radians(13)) - 20.25, abs=0.002)


def test_the_tender_has_a_height_and_no_washers():
    """A = 15.25 - 15 = +1/4 in; the usual range is 0 to 1 in without a set-back."""
    answer = low_enough(tender(), 0)
    assert answer.down / IN == pytest.approx(0.25)
    assert answer.now / IN == pytest.approx(0.25)
    assert answer.ways == ()
    assert answer.missing == ()
    assert answer.usual == pytest.approx((0.0, 25.0), abs=0.5)


def test_set_back_raises_what_is_usual_by_a_twelfth():
    """Common practice, no source: an inch for each foot."""
    plain, back = (low_enough(changed(skiff(), mounts__0__set_back=by), 0).usual for by in (0.0, 12 * IN))
    assert [b - a for a, b in zip(plain, back, strict=True)] == pytest.approx([IN, IN])


def test_it_is_calculated_at_the_motors_own_place():
    """4 in off the middle a bottom of 12° deadrise is 4·tan 12° = 0.850 in higher: so much less is below."""
    aside = low_enough(changed(skiff(), mounts__0__offset=4 * IN), 0)
    assert (low_enough(skiff(), 0).down - aside.down) / IN == pytest.approx(4 * math.tan(math.radians(12)))


def test_a_missing_reading_is_named_and_the_rest_is_shown():
    design = changed(skiff(), well__fillet_radius=None)
    answer = low_enough(design, 0)
    assert answer.missing == ("well.fillet_radius",)
    assert answer.down is not None
    assert answer.now is not None
    assert [way.missing for way in answer.ways] == ["well.fillet_radius"] * 3
    bare = low_enough(changed(design, mounts__0__leg=None, transom__height=None), 0)
    assert bare.missing == ("mounts.0.leg", "transom.height", "well.fillet_radius")
    assert bare.down is bare.now is None


def test_one_more_reading_shows_more():
    """As the readings arrive, nothing that was shown changes."""
    readings = {"transom__height": 19.5 * IN, "mounts__0__leg": 20.25 * IN, "well__fillet_radius": 0.5 * IN}
    design = changed(skiff(), **dict.fromkeys(readings))
    before = low_enough(design, 0)
    for path, value in readings.items():
        design = changed(design, **{path: value})
        after = low_enough(design, 0)
        assert len(after.missing) < len(before.missing)
        assert before.down is None or after.down == before.down
        before = after
    assert before == low_enough(skiff(), 0)


def test_nothing_passes_deeper_where_a_taper_changes_the_bolts_length():
    """A bolt's stock length is chosen again as the grip grows, and its end jumps: 2 mm at a time from below, none passes."""
    no_tool = {f"mounts__0__lower_hardware__{tool}": None for tool in ("socket", "spanner")}
    design = changed(example_design(), transom__thickness__low=52.0, **no_tool)

    def passes(depth):
        hung = changed(design, mounts__0__upper_at=-1e-3, mounts__0__drop=depth - 1e-3, mounts__0__row=0)
        inside = (f for f in check(hung).findings if f.check in ("washer", "nut", "thread_end") and "lower" in f.at)
        return min(f.value for f in inside if f.value is not None) >= 2.0 - 1e-5

    exact = greatest_depth(design, 0, 2.0)
    assert passes(exact)
    assert not any(passes(exact + 0.05 + 2.0 * step) for step in range(int((520 - exact) / 2)))


def test_the_command_and_the_picture_say_the_same():
    for design in (skiff(), blind(6.5), example_design()):
        lowest = lowest_plate(design, 0)
        present = next(way for way in low_enough(design, 0).ways if way.seat.present)
        assert (present.advised, present.least) == pytest.approx((lowest.advised, lowest.least))


def test_a_clamp_on_motor_without_a_height_names_it():
    design = changed(tender(), transom__height=None)
    assert low_enough(design, 0).missing == ("transom.height",)
    with pytest.raises(Unmeasured):
        greatest_depth(changed(skiff(), transom__rake=None), 0, 2.0)


def test_the_plate_of_another_seat_is_under_the_lower_bolts():
    plates = [seat.hardware.backing_plate for seat in seats(example_design(), 0) if seat.hardware.backing_plate is not None]
    assert plates
    for plate in plates:
        assert set(plate.joins) == {"lower port", "lower starboard"}
        wide = max(sure(u) for u, _ in plate.outline)
        assert 125.4125 + 19.05 < wide < 163.5125  # past the lower washers, but short of the upper holes
