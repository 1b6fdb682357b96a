"""Room between several motors, against lengths worked by hand: brackets, cowls straight ahead, and middles.

Two of the worked example's motors, brackets 380 wide at the top and 300 at the foot. Limits 0 and 25 mm: our assumption.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from app.card.next_step import next_step
from app.findings.findings_text import finding_lines
from geometry.decide.ladder import rungs
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.several_motors import apart
from geometry.judge.words import answer, findings_rows
from geometry.units.units import format_limit
from tests.designs import changed, clamp_on_mount, mirrored, roomy, sure, twin_design

BOTH = "port motor and starboard motor"
CLOSE = 1e-6  # [mm]


def twins(between, **values):
    """Return a boat with two motors whose middles are ``between`` apart [mm]."""
    return changed(twin_design(), mounts__0__offset=-between / 2, mounts__1__offset=between / 2, **values)


def finding_of(design, place=""):
    return check(design).of("motors", f"{BOTH}{place}")


@pytest.mark.parametrize(
    ("between", "value", "state"),
    [
        (199.0, -181.0, "fouled"),  # as issue 13 saw it: 181 mm inside each other
        (379.9, -0.1, "fouled"),
        (380.0, 0.0, "tight"),
        (404.9, 24.9, "tight"),
        (405.0, 25.0, "clear"),
        (700.0, 320.0, "clear"),
    ],
)
def test_brackets_are_as_far_apart_as_their_middles_less_their_width(between, value, state):
    finding = finding_of(twins(between))
    assert finding.value == pytest.approx(value, abs=CLOSE)
    assert (finding.state, finding.unit, finding.least, finding.advised, finding.mounts) == (state, "mm", 0.0, 25.0, (0, 1))


def test_two_motors_inside_each_other_are_not_drilled():
    checked = with_spreads(check(twins(199.0, units="mm")))
    finding = sure(checked.of("motors", BOTH))
    assert finding.text.startswith("The brackets of the port motor and the starboard motor overlap by 181 mm.")
    assert finding.remedy == "Move the motors 206 mm further apart."
    assert drillable(checked).answer == "no"
    assert any(reason.finding == finding for reason in drillable(checked).reasons)
    row = next(row for row in findings_rows(checked) if row.first == finding)
    assert (row.title, row.state) == ("Room between the brackets", "fouled")
    line = next(line for line in finding_lines(checked) if line.first == finding)
    assert line.part == "bracket:0"


def test_the_cure_is_enough():
    apart_by = 181 + 25
    assert finding_of(twins(199.0 + apart_by)).state == "clear"
    assert format_limit(206.0, "mm") == "206 mm"


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_it_does_not_matter_which_motor_comes_first(order):
    design = twins(300.0)
    turned = replace(design, mounts=tuple(design.mounts[index] for index in order))
    assert finding_of(turned).value == pytest.approx(-80.0, abs=CLOSE)


def test_one_motor_is_next_to_none():
    assert not [finding for finding in check(roomy()).findings if finding.check == "motors"]


def test_a_motor_that_hangs_higher_passes_where_the_bracket_is_narrow():
    """A small clamp-on bracket of 260 by 30, next to the main one's foot, which is 150 wide below v = -350 + 38.1.

    The main bracket's side leans from 190 at -81.9 to 150 at -311.9: at -281.9 it is 150 + 40·30/230 = 155.217 out. The small
    one reaches from -281.9 to -311.9 and is 130 wide to either side: 300 - 130 = 170. The nearest is square to the side.
    """
    small = clamp_on_mount(name="starboard motor", offset=300.0)
    low = ((-130, -281.9), (130, -281.9), (130, -311.9), (-130, -311.9))
    small = replace(small, bracket=replace(small.bracket, outline=low))
    main = replace(twin_design().mounts[0], offset=0.0)
    design = replace(twin_design(), mounts=(main, small))
    side = 170 - (150 + 40 * 30 / 230)
    square = side * 230 / (230**2 + 40**2) ** 0.5
    assert finding_of(design).value == pytest.approx(square, abs=1e-6)
    inside = replace(design, mounts=(main, replace(small, offset=250.0)))
    assert finding_of(inside).value == pytest.approx(120 - (150 + 40 * 30 / 230), abs=CLOSE)


def test_a_notch_that_another_bracket_fits_into_is_no_overlap():
    port = ((0, 0), (100, 0), (100, 40), (60, 40), (60, 60), (100, 60), (100, 100), (0, 100))
    within = ((70, 45), (200, 45), (200, 55), (70, 55))
    assert apart(port, within) == pytest.approx(5.0, abs=CLOSE)
    deeper = ((50, 45), (200, 45), (200, 55), (50, 55))
    assert apart(port, deeper) == pytest.approx(-10.0, abs=CLOSE)
    wider = ((70, 30), (200, 30), (200, 70), (70, 70))
    assert apart(port, wider) == pytest.approx(-30.0, abs=CLOSE)


shapes = st.lists(st.floats(5, 200), min_size=4, max_size=4)


@given(shapes, shapes, st.floats(0, 500), st.floats(-200, 200))
def test_what_overlaps_is_just_apart_after_the_move_that_is_named(widths, others, between, up):
    port = ((-widths[0], 0.0), (widths[1], 0.0), (widths[2], -150.0), (-widths[3], -150.0))
    outline = ((-others[0], 0.0), (others[1], 0.0), (others[2], -150.0), (-others[3], -150.0))
    starboard = tuple((u + between, v + up) for u, v in outline)
    value = apart(port, starboard)
    moved = tuple((u + max(0.0, -value) + 0.01, v) for u, v in starboard)
    if value < 0:
        assert 0.0 < apart(port, moved) <= 0.0101
        nearer = tuple((u - value - 0.01, v) for u, v in starboard)
        assert apart(port, nearer) <= 0.0
    else:
        assert apart(port, moved) >= 0.0


@given(st.floats(150, 900))
def test_a_mirrored_boat_gives_the_same_values(between):
    design = changed(twins(between), mounts__0__cowl_half_width=150.0, mounts__1__cowl_half_width=180.0)
    here, there = (sorted((finding.value or 0.0) for finding in check(some).findings if finding.check == "motors")
                   for some in (design, mirrored(design)))  # fmt: skip
    assert len(here) >= 2
    assert here == pytest.approx(there, abs=CLOSE)


@pytest.mark.parametrize(
    ("port", "starboard", "value", "state"),
    [(150.0, 180.0, 70.0, "clear"), (190.0, 190.0, 20.0, "tight"), (220.0, 200.0, -20.0, "fouled")],
)
def test_cowls_straight_ahead_are_as_far_apart_as_their_middles_less_both_halves(port, starboard, value, state):
    design = twins(400.0, mounts__0__cowl_half_width=port, mounts__1__cowl_half_width=starboard)
    finding = finding_of(design, " / cowls")
    assert (finding.value, finding.state) == (pytest.approx(value, abs=CLOSE), state)
    assert finding.stops == "never"
    checked = check(design)
    assert not [reason for reason in drillable(checked).reasons if reason.finding == finding]
    assert ("Before you launch: room between the cowls" in answer(checked).sentence) == (state == "fouled")


def test_a_cowl_that_is_not_measured_is_a_note_that_names_it():
    finding = finding_of(twins(400.0, mounts__0__cowl_half_width=150.0), " / cowls")
    assert (finding.state, finding.value) == ("note", None)
    assert finding.text.endswith("are not checked: the half width of a cowl is not measured.")


@pytest.mark.parametrize(
    ("between", "hp", "noted"),
    [
        (26 * 25.4, 40, False), (26 * 25.4 - 0.01, 40, True), (28 * 25.4, 150, False), (28 * 25.4, 151, True),
        (28.5 * 25.4, 200, False), (28 * 25.4, None, False),
    ],
)  # fmt: skip
def test_middles_nearer_than_is_common_are_a_note(between, hp, noted):
    """26 in, and 28.5 in for large ones (common practice); large is above 150 hp (our assumption)."""
    power = None if hp is None else hp * 0.745699872
    finding = finding_of(twins(between, mounts__1__power_kw=power), " / centrelines")
    assert (finding is not None) == noted
    if finding is not None:
        assert (finding.state, finding.stops, finding.value) == ("note", "never", pytest.approx(between, abs=CLOSE))


@pytest.mark.parametrize("path", ["offset", "upper_at", "row"])
def test_a_motor_without_a_place_is_unknown_and_stops_the_holes(path):
    finding = finding_of(changed(twin_design(), **{f"mounts__1__{path}": None}))
    assert (finding.state, finding.value) == ("unknown", None)
    assert finding.text.startswith("The room between the brackets of the port motor and starboard motor is not checked yet: ")
    assert finding.stops == "always"


def test_of_three_motors_those_next_to_each_other_are_checked_and_any_that_overlap():
    names = ("port motor", "middle motor", "starboard motor")
    motor = twin_design().mounts[0]
    row = tuple(replace(motor, name=name, offset=at) for name, at in zip(names, (-450.0, 0.0, 450.0), strict=True))
    checked = check(replace(twin_design(), mounts=row))
    at = {finding.at for finding in checked.findings if finding.check == "motors" and finding.stops != "never"}
    assert at == {"port motor and middle motor", "middle motor and starboard motor"}
    near = tuple(replace(item, offset=(item.offset or 0.0) / 3) for item in row)
    checked = check(replace(twin_design(), mounts=near))
    assert checked.of("motors", BOTH).value == pytest.approx(300 - 380, abs=CLOSE)
    titles = [row.title for row in findings_rows(checked) if row.first.check == "motors" and row.state == "fouled"]
    assert len(set(titles)) == len(titles) == 3


def test_the_next_step_is_to_move_the_motors_apart():
    """No hole of the bracket and no drop parts two motors, so that the card does not send the owner to look for a fit."""
    checked = with_spreads(check(twins(199.0, units="mm")))
    step = next_step(checked, 0, tuple(rungs(checked.design, 0)))
    assert (step.title, step.why) == ("Move the motors apart", "Move the motors 206 mm further apart.")


def beside(*motors):
    """Return the pairs of motors that are looked at, of motors with an offset and half a width [mm] each."""
    mount = twin_design().mounts[0]
    row = []
    for number, (offset, half) in enumerate(motors):
        ring = tuple((None if u is None else math.copysign(half, u), v) for u, v in mount.bracket.outline)
        bracket = replace(mount.bracket, outline=ring)
        row.append(replace(mount, name=f"motor {number}", offset=offset, bracket=bracket, cowl_half_width=None))
    checked = check(replace(twin_design(), mounts=tuple(row)))
    return {finding.at.replace("motor ", "") for finding in checked.findings
            if finding.check == "motors" and finding.stops != "never"}  # fmt: skip


def test_which_motors_are_looked_at_together():
    """By hand, of three in a row: the outer two where half of each and 25 mm are more than what is between their middles.

    A motor without a place comes with every other one, on whichever side.
    """
    assert beside((-600.0, 190.0), (0.0, 190.0), (600.0, 190.0)) == {"0 and 1", "1 and 2"}
    assert beside((-300.0, 550.0), (0.0, 20.0), (300.0, 30.0)) == {"0 and 1", "1 and 2", "0 and 2"}  # 580 + 25 > 600
    assert beside((-300.0, 30.0), (0.0, 20.0), (300.0, 550.0)) == {"0 and 1", "1 and 2", "0 and 2"}
    assert beside((-300.0, 530.0), (0.0, 20.0), (300.0, 30.0)) == {"0 and 1", "1 and 2"}  # 560 + 25 < 600
    assert beside((None, 30.0), (300.0, 20.0), (900.0, 30.0)) == {"0 and 1", "1 and 2", "0 and 2"}
    assert beside((-900.0, 30.0), (-300.0, 20.0), (None, 30.0)) == {"0 and 1", "1 and 2", "0 and 2"}
