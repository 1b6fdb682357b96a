"""Usable holes, slots, the bracket hook and heights, against our calculation for the trade's pattern (common practice)."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.decide.ladder import ladders
from geometry.decide.lowest import greatest_depth, lowest_plate
from geometry.judge.check import check
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.inside_room import part_room
from geometry.judge.reporter import Reporter
from geometry.solid.bracket_holes import hook_gap, ladder_drops, local_height, plate_height, rows_left
from tests.designs import IN, changed, clamp_on_mount, example_design, sure, twin_design

CLOSE = 1e-6  # [mm]


def hung(drop: float, row: int = 2, slots=((8.0, 11.0),), count: int = 5, upper: float = 1.875):
    """Return the example with the four-bolt pattern hung at ``drop``; all in inches."""
    design = example_design()
    rows = replace(sure(design.mounts[0].bracket.rows), count=count)
    lower = replace(sure(design.mounts[0].bracket.lower), slots=tuple((a * IN, b * IN) for a, b in slots))
    bracket = replace(design.mounts[0].bracket, rows=rows, lower=lower)
    return changed(design, mounts__0__bracket=bracket, mounts__0__drop=drop * IN, mounts__0__row=row,
                   mounts__0__upper_at=-upper * IN)  # fmt: skip


@pytest.mark.parametrize(
    ("drop", "rows"),
    [(8.75, "0123"), (8.0, "01234"), (7.625, "1234"), (7.25, "1234"), (6.875, "234"), (6.5, "234"), (5.75, "34"), (5.0, "4"),
     (9.5, "012"), (11.0, "0"), (11.25, ""), (4.9, "")],
)  # fmt: skip
def test_usable_holes_of_a_drop(drop, rows):
    """S + k·3/4 within 8 to 11 in: our calculation; common practice agrees at 8, 7-1/4 and 6-1/2 in."""
    assert rows_left(hung(drop), 0, drop * IN) == tuple(map(int, rows))


@pytest.mark.parametrize(
    ("low", "eight", "seven", "six"),
    [(8.0, "0", "1", "2"), (8.75, "01", "12", "23"), (9.5, "012", "123", "234"), (10.25, "0123", "1234", "234"),
     (11.0, "01234", "1234", "234")],
)  # fmt: skip
def test_rows_with_other_ends_of_the_slot(low, eight, seven, six):
    """Derived from geometry: the deepest row is lost as the slot's lower end comes up."""
    for drop, rows in ((8.0, eight), (7.25, seven), (6.5, six)):
        assert rows_left(hung(drop, slots=((8.0, low),)), 0, drop * IN) == tuple(map(int, rows))


@pytest.mark.parametrize(("drop", "rows"), [(6.5, "23"), (7.25, "12"), (8.0, "01"), (7.625, "")])
def test_rows_with_fixed_holes(drop, rows):
    """Round holes at 8 and 8-3/4, four rows: a drop of 7-5/8 finds none. Derived from geometry."""
    assert rows_left(hung(drop, slots=((8.0, 8.0), (8.75, 8.75)), count=4), 0, drop * IN) == tuple(map(int, rows))


def test_a_deep_upper_pair_costs_the_lowest_hole():
    """Upper holes 2-5/8 down, `row` 0 at 2: the hook would sit 5/8 below the top, so k >= 0.625/0.75, that is 1."""
    assert rows_left(hung(8.0, upper=2.625), 0, 8.0 * IN) == (1, 2, 3, 4)
    assert hook_gap(hung(8.0, row=0, upper=2.625), 0) == pytest.approx(-0.625 * IN, abs=CLOSE)
    assert check(hung(8.0, row=0, upper=2.625)).of("saddle", "main motor").state == "fouled"


def test_the_hook_is_checked_against_the_highest_of_the_top_under_it():
    """A lump 20 high under the bracket's edge: in `row` 2 of the example the gap is 38.1 - 20."""
    outline = ((-700, 60), (-330, 60), (-330, 0), (150, 0), (150, 20), (330, 20), (330, 60), (700, 60), (620, -420), (0, -520),
               (-620, -420))  # fmt: skip
    design = changed(example_design(), transom__outline=outline)
    assert hook_gap(design, 0) == pytest.approx(18.1, abs=CLOSE)
    assert rows_left(design, 0, 165.1) == (2, 3, 4)
    assert rows_left(changed(design, mounts__0__upper_at=-80.0), 0, 165.1) == (3, 4)  # `row` 2: 8.9 - 20


@pytest.mark.parametrize(
    ("drop", "value", "state", "just"),
    [
        (8 * IN - 1.5 * 25.4, 0.0, "tight", False),  # `row` 2 adds 1-1/2: at the slot's very end
        (8 * IN - 1.5 * 25.4 - 0.4, -0.4, "tight", True),  # the hole's play is (13.5 - 12.7)/2 = 0.4
        (8 * IN - 1.5 * 25.4 - 0.401, -0.401, "fouled", False),
        (8 * IN - 1.5 * 25.4 - 0.3, -0.3, "tight", True),
        (8 * IN - 1.5 * 25.4 + 0.799, 0.799, "tight", False),
        (8 * IN - 1.5 * 25.4 + 0.8, 0.8, "clear", False),
        (11 * IN - 1.5 * 25.4, 0.0, "tight", False),  # the lower end counts the same
        (11 * IN - 1.5 * 25.4 + 0.5, -0.5, "fouled", False),
    ],
)
def test_the_slots_end(drop, value, state, just):
    finding = check(changed(example_design(), mounts__0__drop=drop)).of("row", "main motor")
    assert finding.value == pytest.approx(value, abs=CLOSE)
    assert finding.state == state
    assert (" just " in finding.text) is just


@pytest.mark.parametrize(
    ("off", "state"), [(0.0, "clear"), (0.4, "clear"), (-0.4, "clear"), (0.41, "fouled"), (-0.41, "fouled")]
)
def test_a_round_hole_takes_a_bolt_within_its_play(off, state):
    """Play (13.5 - 12.7)/2 = 0.4 mm; the value is minus the miss."""
    design = hung(6.5, slots=((8.0, 8.0),))
    finding = check(changed(design, mounts__0__drop=6.5 * IN + off)).of("row", "main motor")
    assert finding.value == pytest.approx(-abs(off), abs=CLOSE)
    assert finding.state == state


def test_a_slots_play_is_not_counted_among_the_usable_holes():
    """0.3 short of the slot: the check says just, the row is not called left."""
    design = changed(example_design(), mounts__0__drop=165.1 - 0.3)
    assert check(design).of("row", "main motor").state == "tight"
    assert rows_left(design, 0, 165.1 - 0.3) == (3, 4)


def test_heights_of_the_av_plate():
    """490 + 38.1·cos 14° - 508 = 18.968; off the centreline by 200 the hull's bottom rises 200·tan 12° = 42.511 less."""
    design = example_design()
    assert plate_height(design, 0) == pytest.approx(18.968, abs=0.001)
    assert plate_height(design, 0, row=0) == pytest.approx(490 + 0 * math.cos(0) - 508, abs=CLOSE)
    off = changed(design, mounts__0__offset=-200.0)
    assert local_height(off, 0) == pytest.approx(490 - 42.511, abs=0.001)


@pytest.mark.parametrize(
    ("row", "set_back", "state"),
    [(2, 0.0, "clear"), (3, 0.0, "note"), (3, 250.0, "clear"), (2, 250.0, "note"), (0, 0.0, "note"), (2, None, "clear")],
)
def test_the_av_plates_height_is_clear_within_0_to_25_and_higher_with_set_back(row, set_back, state):
    """Common practice, no source: `row` 2 18.97, `row` 3 37.45, `row` 0 -18; 250 mm of set-back raise both ends by 20.83."""
    finding = check(changed(example_design(), mounts__0__row=row, mounts__0__set_back=set_back)).of("height", "main motor")
    assert finding.state == state
    assert (finding.least, finding.advised) == (None, None)


def test_the_ladder_of_the_example():
    """From the standard drop down by pitches while a row is left: 203.2, 184.15, 165.1, 146.05, 127 (8 to 5 in)."""
    design = example_design()
    assert ladder_drops(design.mounts[0], 0) == pytest.approx((203.2, 184.15, 165.1, 146.05, 127.0), abs=CLOSE)
    odd = changed(design, mounts__0__drop=170.0)
    assert ladder_drops(odd.mounts[0], 0) == pytest.approx((203.2, 184.15, 170.0, 165.1, 146.05, 127.0), abs=CLOSE)
    ladder = ladders(design)[0]
    assert [(rung.drop, rung.row) for rung in ladder.rungs[:6]] == [(203.2, row) for row in range(5)] + [(184.15, 0)]
    left = {rung.drop: rung.rows_left for rung in ladder.rungs}
    assert [left[drop] for drop in ladder.drops()] == [(0, 1, 2, 3, 4), (1, 2, 3, 4), (2, 3, 4), (3, 4), (4,)]


def test_unusable_rows_are_listed_as_fouled():
    for rung in ladders(example_design())[0].rungs:
        if rung.row not in rung.rows_left:
            assert rung.state == "fouled"


def test_a_rung_says_what_a_check_of_the_design_hung_so_says():
    design = example_design()
    for rung in ladders(design)[0].rungs[::3]:
        checked = check(changed(design, mounts__0__drop=rung.drop, mounts__0__row=rung.row))
        assert rung.state == checked.verdict
        assert rung.worst == next(finding for finding in checked.findings if finding.state != "note")
        assert rung.hook_gap == pytest.approx(-50.8 + 50.8 + rung.row * 19.05, abs=CLOSE)


def test_a_clamp_on_has_no_ladder():
    design = replace(example_design(), mounts=(clamp_on_mount(),))
    ladder = ladders(design)[0]
    assert ladder.rungs == ()
    assert (ladder.lowest.advised, ladder.lowest.least) == (None, None)


def room_of_pair(design, depth: float) -> float:
    """Return the least room of the lower pair's parts with its holes ``depth`` below the datum [mm]."""
    report = Reporter(changed(design, mounts__0__drop=depth + design.mounts[0].upper_at))
    rooms = [part_room(report, bolt, part) for bolt in report.bolts if not bolt.upper for part in IN_WELL]
    return min(room for room in rooms if room is not None)


def test_the_lowest_possible_av_plate_of_the_example():
    """The washer at 215.9 has 2.1584 (floor down: land at -237.108): 0.1584 deeper it has the 2 advised, so D = 216.0584.

    A = 490 + (50.8 + 203.2 - 216.0584)·cos 14° - 508 = 18.8146; by the least D = 218.0584, A = 16.8740.
    """
    design = example_design()
    assert greatest_depth(design, 0, 2.0) == pytest.approx(216.0584, abs=0.001)
    lowest = lowest_plate(design, 0)
    assert lowest.advised == pytest.approx(490 + (254.0 - 216.0584) * math.cos(math.radians(14)) - 508, abs=0.001)
    assert lowest.least == pytest.approx(490 + (254.0 - 218.0584) * math.cos(math.radians(14)) - 508, abs=0.001)


@pytest.mark.parametrize("tilt", [0.0, 4.0, -6.0])
def test_no_greater_depth_passes(tilt):
    """Every depth deeper, by steps of 10 mm down to the outline's lowest point, has less than is advised."""
    design = changed(example_design(), mounts__0__lower_tilt=tilt)
    depth = sure(greatest_depth(design, 0, 2.0))
    assert room_of_pair(design, depth) >= 2.0 - 1e-5
    assert all(room_of_pair(design, depth + step) < 2.0 for step in [0.01, *range(1, int(520 - depth), 10)])


def test_the_lowest_av_plate_counts_the_backing_plate():
    """An AV plate 30 mm below the holes over a land that begins at -237.108: its room is 237.108 - 30 - D, so D = 205.108
    for 2."""
    from tests.geometry.test_judge_inside import plated

    design = plated(low=-30.0, thickness=6.0)
    assert greatest_depth(design, 0, 2.0) == pytest.approx(205.108, abs=0.002)


def test_where_something_is_not_measured_or_nothing_passes_there_is_no_lowest_av_plate():
    design = example_design()
    for gone in ("well__floor_rise", "transom__height", "mounts__0__leg", "mounts__0__lower_hardware__washer__outer"):
        assert lowest_plate(changed(design, **{gone: None}), 0).advised is None
    shallow = changed(design, well__profile=((-320, 0), (-300, -20), (300, -20), (320, 0)))
    assert lowest_plate(shallow, 0).advised is None
    assert lowest_plate(changed(design, mounts__0__upper_at=None, mounts__0__drop=None, mounts__0__row=None), 0) == (
        lowest_plate(design, 0)
    )


def test_without_a_well_the_lowest_av_plate_ends_where_the_wood_does():
    """Washers 19.05 + 2 over the outline's lower edge, which runs from (0, -520) to (620, -420): at u = 125.4125 v = -499.772.

    Square to an edge that slopes 100 in 620: (499.772 - D)·cos = 21.05, cos = 620/hypot(620, 100) = 0.987241: D = 478.450.
    """
    design = replace(example_design(), well=None, inside_blocks=())
    assert greatest_depth(design, 0, 2.0) == pytest.approx(478.450, abs=0.002)


def test_each_twin_has_its_own_height_and_rows():
    """Offset 350, deadrise 12°: 350·tan 12° = 74.395 less; 490 - 74.395 + 38.1·cos 14° - 508 = -55.427."""
    design = twin_design()
    assert plate_height(design, 0) == pytest.approx(-55.427, abs=0.001)
    assert plate_height(design, 1) == pytest.approx(plate_height(design, 0), abs=CLOSE)
    assert [len(ladder.rungs) for ladder in ladders(design)] == [25, 25]


@pytest.mark.parametrize(("drop", "inches"), [(8.0, 13.9065), (7.25, 13.4890), (6.5, 13.1012)])
def test_the_diagonals_of_the_pattern(drop, inches):
    """Upper pair 12-7/8 apart, lower 9-7/8: from an upper hole to the lower one at the other side, hypot(11-3/8, drop)."""
    from geometry.solid.placed_bolts import bolts

    upper, _, _, lower = bolts(hung(drop))
    assert math.hypot(upper.u - lower.u, upper.v - lower.v) / IN == pytest.approx(inches, abs=0.0001)
    assert math.hypot(11.375, drop) == pytest.approx(inches, abs=0.0001)


@pytest.mark.parametrize("high", [203.2000000001234, 203.19999999987654, 203.2])
def test_the_standard_rung_stays_for_a_slot_with_many_decimals(high):
    """Upper holes so deep that no hole is usable: the standard drop is listed all the same."""
    design = example_design()
    lower = replace(sure(design.mounts[0].bracket.lower), slots=((high, 279.4),))
    bracket = replace(design.mounts[0].bracket, lower=lower)
    deep = changed(design, mounts__0__bracket=bracket, mounts__0__upper_at=-150.0, mounts__0__drop=120.0)
    assert rows_left(deep, 0, high) == ()
    assert [rung.row for rung in ladders(deep)[0].rungs if abs(rung.drop - 203.2) < CLOSE] == [0, 1, 2, 3, 4]
