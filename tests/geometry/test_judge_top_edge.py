"""How far each hole is below the outer top edge, against lengths worked by hand; limits 1-3/4 and 2 in, common practice.

The worked example: upper holes 163.5125 to each side, lower ones 125.4125, bolts of 12.7, so that 25.4 to each side counts.
Its cut-out is 660 wide at v = 0, between sides whose tops are at v = 60.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.decide.cures import cure
from geometry.judge.check import check
from geometry.judge.findings import rank
from geometry.judge.words import answer, findings_rows
from geometry.readings.measures import put_path
from geometry.solid.bracket_holes import highest_upper
from tests.designs import IN, changed, designs, example_design, mirrored, sure

CLOSE = 1e-6  # [mm]
PORT, STARBOARD = "main motor / upper port", "main motor / upper starboard"
LOWER = "main motor / lower port"
SIDES_AND_BOTTOM = ((620, -420), (0, -520), (-620, -420))


def finding_of(design, at=PORT):
    return check(design).of("top_edge", at)


def cut_out(*top, upper_at=-50.8):
    """Return the example with other corners along the top, from port, and its upper holes ``upper_at``."""
    return changed(example_design(), transom__outline=(*top, *SIDES_AND_BOTTOM), mounts__0__upper_at=upper_at)


@pytest.mark.parametrize(
    ("upper_at", "state"),
    [(-50.8, "clear"), (-2 * IN + 2e-6, "tight"), (-1.875 * IN, "tight"), (-1.75 * IN, "tight"), (-44.449, "fouled"),
     (-19 / 16 * IN, "fouled"), (-0.5, "fouled")],
)  # fmt: skip
def test_below_a_level_top_it_is_the_upper_depth(upper_at, state):
    checked = check(changed(example_design(), mounts__0__upper_at=upper_at))
    for at in (PORT, STARBOARD):
        finding = checked.of("top_edge", at)
        assert finding.value == pytest.approx(-upper_at, abs=CLOSE)
        assert (finding.state, finding.least, finding.advised, finding.unit) == (state, 44.45, 50.8, "mm")
    assert checked.of("top_edge", LOWER).value == pytest.approx(-upper_at + 165.1, abs=CLOSE)
    assert checked.of("top_edge", LOWER).state == "clear"


def test_it_is_said_in_plain_words():
    near = finding_of(changed(example_design(), units="in", mounts__0__upper_at=-19 / 16 * IN))
    assert near.text == "The upper port hole is 1 3/16 in below the transom's top edge; at least 1 3/4 in is needed."
    assert near.remedy == "Move the upper holes down, or raise the motor one hole."
    tight = finding_of(changed(example_design(), units="in", mounts__0__upper_at=-1.875 * IN))
    assert tight.text == "The upper port hole is 1 7/8 in below the transom's top edge; 2 in is advised."
    row = next(row for row in findings_rows(check(example_design())) if row.first.check == "top_edge")
    assert row.title == "Both upper holes below the top"
    drilled = check(replace(changed(example_design(), units="in", mounts__0__upper_at=-19 / 16 * IN), old_holes=()))
    assert "1 3/16 in below the transom's top edge" in " ".join(finding.text for finding in drilled.findings)
    assert answer(drilled).state == "fouled"


def test_the_designs_own_limits_are_held_to():
    strict = replace(example_design().limits, top_edge=(60.0, 70.0))
    finding = finding_of(replace(example_design(), limits=strict))
    assert (finding.state, finding.least, finding.advised) == ("fouled", 60.0, 70.0)


@pytest.mark.parametrize(
    ("wall", "value"),
    [
        (190.0, 50.8),  # 26.49 off: only the floor of the cut-out is above the hole
        (163.5125 + 25.4 - 0.01, 50.8),  # the raised top comes within two diameters: the floor is still the lowest
        (175.0, 50.8),
        (150.0, 50.8),  # the hole is under the raised side itself, and the floor is 13.5 off
        (163.5125 - 25.4 + 0.01, 50.8),
        (163.5125 - 25.4 - 0.01, 110.8),  # now only the raised side is within two diameters
    ],
)
def test_next_to_a_raised_side_the_lower_top_counts(wall, value):
    """The side is upright: it is no top. The example's bolts are 12.7, so what is 25.4 off counts.

    The highest point would call 50.8 mm of wood next to a raised side 110.8.
    """
    narrow = cut_out((-700, 60), (-wall, 60), (-wall, 0), (wall, 0), (wall, 60), (700, 60))
    assert finding_of(narrow).value == pytest.approx(value, abs=CLOSE)
    assert finding_of(narrow, STARBOARD).value == pytest.approx(value, abs=CLOSE)


@pytest.mark.parametrize(("lean", "value"), [(61.0, 50.8 - 15.4 * 60 / 61), (60.0, 50.8), (59.0, 50.8)])
def test_a_side_that_slopes_45_degrees_or_more_is_no_top(lean, value):
    """It begins 10 from the hole and falls by 60 over ``lean``: 15.4 of it are within 25.4 of the hole."""
    wall = 173.5125
    sloped = cut_out((-700, 60), (-330, 60), (-330, 0), (wall, 0), (wall + lean, -60), (700, -60))
    assert finding_of(sloped, STARBOARD).value == pytest.approx(value, abs=CLOSE)


def test_a_crowned_top_counts_at_its_lowest_within_two_diameters():
    """Falls 50 over 700 to each side: lowest at 163.5125 + 25.4 = 188.9125, so 188.9125·50/700 = 13.49375 below v = 0."""
    crowned = cut_out((-700, -50), (0, 0), (700, -50), upper_at=-70.0)
    assert finding_of(crowned).value == pytest.approx(70 - 188.9125 * 50 / 700, abs=CLOSE)
    dished = cut_out((-700, 50), (0, 0), (700, 50), upper_at=-30.0)
    assert finding_of(dished).value == pytest.approx(30 + (163.5125 - 25.4) * 50 / 700, abs=CLOSE)


def test_a_corner_within_reach_counts_as_it_is_and_one_beyond_does_not():
    """A notch 20 deep over the hole's own 10 mm to starboard; it is 21 wide to each side."""
    at = 163.5125
    for off, value in ((10.0, 30.8), (-13.0, 30.8), (80.0, 50.8)):
        low = at + off
        notched = cut_out((-700, 60), (-330, 60), (-330, 0), (low - 21, 0), (low, -20), (low + 21, 0), (330, 0), (330, 60),
                          (700, 60))  # fmt: skip
        assert finding_of(notched, STARBOARD).value == pytest.approx(value, abs=CLOSE)


@pytest.mark.parametrize(("wall", "highest"), [(175.0, -44.45), (163.5125 - 25.4 - 0.01, 30 - 44.45), (190.0, -44.45)])
def test_the_highest_place_is_below_every_top_near_the_hole(wall, highest):
    """Below the raised side alone, 14.45 down, the hole would still be near the floor of the cut-out, which is at 0."""
    narrow = cut_out((-700, 30), (-wall, 30), (-wall, 0), (wall, 0), (wall, 30), (700, 30))
    assert highest_upper(narrow, 0, 0.0, 44.45) == pytest.approx(highest, abs=CLOSE)


def test_a_ledge_below_the_hole_does_not_count():
    """The starboard side is cut away from 183.5 on, down to a ledge at v = -150: 20 from the upper hole, and below it."""
    ledge = ((-700, 60), (-330, 60), (-330, 0), (183.5, 0), (183.5, -150), (400, -150), (400, -420), (0, -520), (-620, -420))
    design = changed(example_design(), transom__outline=ledge)
    assert finding_of(design, STARBOARD).value == pytest.approx(50.8, abs=CLOSE)
    # The lower one, 215.9 down at 125.4: only the cut-out's floor is above it within 25.4.
    assert finding_of(design, "main motor / lower starboard").value == pytest.approx(215.9, abs=CLOSE)


def test_where_no_top_is_above_the_hole_the_edge_alone_has_its_say():
    """A top that falls 45 degrees or more all over is a side; and a hole above the top is off the face."""
    roof = ((-400, -401), (0, 0), (400, -401), (0, -600))
    design = changed(example_design(), transom__outline=roof, mounts__0__upper_at=-250.0)
    assert finding_of(design) is None
    assert check(design).of("edge", f"{PORT} / outer face") is not None
    above = changed(example_design(), transom__outline=((-330, -60), (0, 0), (330, -60), (300, -420), (-300, -420)),
                    mounts__0__upper_at=-1.0)  # fmt: skip
    checked = check(above)
    assert checked.of("top_edge", PORT) is None
    assert checked.of("edge", f"{PORT} / outer face").state == "fouled"


@pytest.mark.parametrize(
    ("path", "named"),
    [("mounts.0.upper_at", "upper"), ("mounts.0.offset", "offset is not measured"), ("transom.outline.3.1", "outline")],
)
def test_a_missing_reading_is_named(path, named):
    finding = finding_of(put_path(example_design(), path, None))
    assert (finding.state, finding.value) == ("unknown", None)
    assert finding.text.startswith("The depth below the top edge of the upper port bolt is not checked yet: ")
    assert named in finding.text
    assert finding.remedy.startswith("Measure ")
    assert finding_of(put_path(example_design(), "mounts.0.upper_tilt", None)).state == "clear", "a tilt does not move it"
    assert finding_of(put_path(example_design(), "transom.rake", None)).state == "clear"


@pytest.mark.parametrize(("upper_at", "state"), [(-19 / 16 * IN, "fouled"), (-1.875 * IN, "tight")])
def test_the_cure_moves_the_upper_holes_down_to_what_is_advised(upper_at, state):
    design = replace(changed(example_design(), units="in", mounts__0__upper_at=upper_at, mounts__0__drop=150.0), old_holes=())
    checked = check(design)
    finding = sure(checked.of("top_edge", PORT))
    assert finding.state == state
    better = sure(cure(checked, sure(finding)))
    after = check(better.design)
    assert after.of("top_edge", PORT).state == after.of("top_edge", STARBOARD).state == "clear"
    assert "2 in down" in better.label


def test_the_motor_goes_one_hole_up_where_the_hook_has_no_room():
    """`row` 0, upper holes 1-1/2 in down: half an inch deeper, the hook would be below the top. One row up it is not."""
    design = changed(example_design(), units="in", mounts__0__upper_at=-1.5 * IN, mounts__0__drop=203.2, mounts__0__row=0,
                     mounts__0__bracket__rows__row0_depth=1.5 * IN)  # fmt: skip
    deeper = ((-320, 0), (-300, -330), (300, -330), (320, 0))
    checked = check(replace(changed(design, well__profile=deeper), old_holes=(), inside_blocks=()))
    better = sure(cure(checked, sure(checked.of("top_edge", PORT))))
    mount = better.design.mounts[0]
    assert mount.row == 1
    assert mount.upper_at == pytest.approx(-2 * IN)
    assert better.button.endswith("motor one hole up")
    assert check(better.design).of("saddle", "main motor").value == pytest.approx(0.25 * IN)


def values(design):
    return {finding.at: finding.value for finding in check(design).findings if finding.check == "top_edge"}


tops = st.lists(st.floats(-25, 25), min_size=2, max_size=9)


def uneven(heights, upper_at=-90.0):
    """Return the example with a top of random heights; the datum's own edge is level in the middle."""
    places = [-600 + 1200 * number / (len(heights) - 1) for number in range(len(heights))]
    port = [(u, v) for u, v in zip(places, heights, strict=True) if u < -40]
    starboard = [(u, v) for u, v in zip(places, heights, strict=True) if u > 40]
    return cut_out(*port, (-20.0, 0.0), (20.0, 0.0), *starboard, upper_at=upper_at)


@given(tops, st.floats(-15, 15))
def test_a_mirrored_boat_gives_mirrored_values(heights, offset):
    design = changed(uneven(heights), mounts__0__offset=offset)
    swapped = {"port": "starboard", "starboard": "port"}
    here, there = values(design), values(mirrored(design))
    assert here.keys() == there.keys()
    for at, value in here.items():
        side = at.rsplit(" ", 1)[1]
        assert there[at.removesuffix(side) + swapped[side]] == pytest.approx(value, abs=CLOSE)


@settings(max_examples=60, deadline=None)
@given(designs(), st.floats(0, 40))
def test_a_hole_raised_by_so_much_is_so_much_nearer_to_a_level_top(design, by):
    mount = design.mounts[0]
    assume(mount.upper_at + by < -1)
    raised = replace(design, mounts=(replace(mount, upper_at=mount.upper_at + by),))
    before, after = values(design), values(raised)
    assert len(before) == len(after) == 4
    for at, value in before.items():
        assert after[at] == pytest.approx(value - by, abs=CLOSE)


@given(tops, st.integers(0, 20), st.floats(0.01, 0.99))
def test_a_corner_added_in_a_straight_edge_changes_nothing(heights, edge, share):
    design = uneven(heights)
    ring = design.transom.outline
    (ua, va), (ub, vb) = ring[edge % len(ring)], ring[(edge + 1) % len(ring)]
    assume(not va == vb == 0.0)  # the datum's own edge stays whole
    corner = ua + share * (ub - ua), va + share * (vb - va)
    place = edge % len(ring) + 1
    more = changed(design, transom__outline=(*ring[:place], corner, *ring[place:]))
    assert values(more) == pytest.approx(values(design), abs=CLOSE)


@given(tops, st.floats(1, 80))
def test_it_is_the_lowest_of_many_points_of_the_top_above_the_hole_within_reach(heights, deep):
    """Against the definition itself, tried at a thousand places: no shallow top within reach is lower, and one is as low."""
    design = uneven(heights, upper_at=-deep)
    ring = design.transom.outline
    tops_ = [(a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True) if b[0] - a[0] > abs(b[1] - a[1])]
    for at, side in ((PORT, -1), (STARBOARD, 1)):
        u = side * 163.5125
        tried = [
            va + (x - ua) / (ub - ua) * (vb - va)
            for (ua, va), (ub, vb) in tops_
            for x in (u - 25.4 + 50.8 * number / 1000 for number in range(1001))
            if ua <= x <= ub
        ]
        finding = finding_of(design, at)
        if finding is None:
            assert max(tried, default=-math.inf) <= -deep + 0.06
        else:
            lowest = min(top for top in tried if top >= -deep - 0.0508)
            assert finding.value == pytest.approx(max(lowest + deep, 0.0), abs=0.0508)


def test_findings_that_weigh_the_same_follow_the_edge():
    design = changed(example_design(), mounts__0__upper_at=-20.0)
    order = [finding.check for finding in sorted(check(design).findings, key=lambda item: rank(item)[3])]
    assert order.index("top_edge") > order.index("edge")
    assert order.index("top_edge") < order.index("bearing")
