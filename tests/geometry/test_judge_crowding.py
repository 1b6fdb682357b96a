"""Wood between old holes close together, by hand. Limits half a diameter and one, of the larger: our assumption.

The worked example: its bracket reaches from 38.1 above the datum to 311.9 below, 190 to each side at the top. Its upper port
bolt is at (-163.5125, -50.8), with a washer 38.1 across.
"""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from app.findings.findings_text import finding_lines
from geometry.design.boat import OldHole
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.words import answer
from tests.designs import changed, mirrored, roomy, sure, twin_design

A, B = (0.0, -150.0), (0.0, -170.0)
AT = "first and second"


def old(name, at, diameter=10.0, state="open", plug=None):
    return OldHole(name=name, at=at, diameter=diameter, state=state, plug_diameter=plug, reuse=False, drill=None)


def holes(*some, **values):
    return changed(replace(roomy(), old_holes=some), **values)


def pair(apart, size=10.0, other=10.0, **values):
    """Return two old holes under the bracket, ``apart`` from centre to centre [mm]."""
    return holes(old("first", A, size), old("second", (0.0, -150.0 - apart), other), **values)


def finding_of(design, at=AT):
    return check(design).of("crowding", at)


@pytest.mark.parametrize(
    ("apart", "size", "other", "value", "state"),
    [
        (14.9, 10.0, 10.0, 0.49, "fouled"),
        (15.0, 10.0, 10.0, 0.5, "tight"),
        (19.9, 10.0, 10.0, 0.99, "tight"),
        (20.0, 10.0, 10.0, 1.0, "clear"),
        (8.0, 10.0, 10.0, -0.2, "fouled"),
        (25.0, 10.0, 20.0, 0.5, "tight"),  # 25 - 15 = 10, half of the larger
    ],
)
def test_the_wood_between_in_diameters_of_the_larger(apart, size, other, value, state):
    got = finding_of(pair(apart, size, other))
    assert got.value == pytest.approx(value, abs=1e-9)
    assert (got.state, got.unit, got.least, got.advised, got.stops) == (state, "diameters", 0.5, 1.0, "always")


@pytest.mark.parametrize(("apart", "reported"), [(39.9, True), (40.1, False)])
def test_holes_further_apart_than_four_diameters_are_left_alone(apart, reported):
    assert (finding_of(pair(apart)) is not None) == reported


def test_a_plugged_hole_counts_with_its_plug():
    """Plugs of 25: 40 - 25 = 15, 0.6 of 25. Sealed, which counts as open: 40 - 10 = 30."""
    first, second = old("first", A, 10.0, "plugged", 25.0), old("second", (0.0, -190.0), 10.0, "plugged", 25.0)
    assert finding_of(holes(first, second)).value == pytest.approx(0.6, abs=1e-9)
    sealed = replace(second, state="sealed")
    assert finding_of(holes(first, sealed)).value == pytest.approx((40 - 17.5) / 25, abs=1e-9)


@pytest.mark.parametrize(("v", "covered"), [(-306.0, True), (-316.8, True), (-317.1, False)])
def test_the_bracket_covers_a_hole_that_it_reaches(v, covered):
    """Its foot is at -311.9; a hole of 10 reaches 5 above its centre."""
    both = holes(old("first", (0.0, v), 10.0), old("second", (15.0, v), 10.0))
    assert (finding_of(both) is not None) == covered


def test_one_washer_covers_both_where_no_bracket_does():
    """A bracket only 100 wide leaves the upper port bolt's place free. The washer reaches 19.05 from it, and the holes 5 more.

    The hole square to the raked face comes out at the same v, as both faces are parallel.
    """
    narrow = ((-50, 0), (50, 0), (50, -350), (-50, -350))
    near = old("first", (-163.5125 - 15, -50.8)), old("second", (-163.5125 + 10, -50.8))
    finding = finding_of(holes(*near, mounts__0__bracket__outline=narrow, units="mm"))
    assert finding.value == pytest.approx(1.5, abs=1e-9)
    assert finding.text == "Under the upper port washer, 15 mm of wood is left between first and second."
    aside = replace(near[0], at=(-163.5125 - 24.2, -50.8))
    assert finding_of(holes(aside, near[1], mounts__0__bracket__outline=narrow)) is None


def test_a_washer_that_is_cut_flat_does_not_cover_what_is_below_its_cut():
    narrow = ((-50, 0), (50, 0), (50, -100), (-50, -100))
    low = old("first", (-125.4125, -215.9 - 18.1)), old("second", (-125.4125 - 11, -215.9))
    design = holes(*low, mounts__0__bracket__outline=narrow)
    assert finding_of(design) is not None
    assert finding_of(changed(design, mounts__0__lower_hardware__washer__flat_cut=13.0)) is None  # 18.1 - 5 = 13.1 below
    assert finding_of(changed(design, mounts__0__lower_hardware__washer__flat_cut=13.2)) is not None


def test_the_smaller_of_both_faces_counts():
    """Tapered, the inner face is longer by 1/cos: 15 apart up the outer face is more inside. So the outer one counts."""
    tapered = pair(15.0, transom__thickness__low=64.0)
    assert finding_of(tapered).value == pytest.approx(0.5, abs=1e-9)
    assert math.cos(math.atan(20 / 250)) < 1


def test_it_is_said_in_plain_words_and_stops_the_holes():
    checked = check(pair(12.0, units="mm"))
    finding = sure(checked.of("crowding", AT))
    assert finding.text == "Under the main motor's bracket, only 2 mm of wood is left between first and second."
    assert finding.remedy == "Drill both out and fill them with one long plug, or fit a disc of wood."
    assert finding.against == "second"
    assert answer(checked).sentence.startswith("Don't drill yet: under the main motor's bracket, only 2 mm of wood")
    assert any(reason.finding == finding for reason in drillable(checked).reasons)
    over = finding_of(pair(8.0, units="mm"))
    assert over.text == "Under the main motor's bracket, first and second overlap by 2 mm."
    assert next(line for line in finding_lines(checked) if line.first == finding).part == "old hole 0"


@pytest.mark.parametrize(("state", "field"), [("open", "diameter"), ("plugged", "plug_diameter")])
def test_a_missing_size_is_named(state, field):
    first = old("first", A, 10.0, state, 20.0)
    finding = finding_of(holes(replace(first, **{field: None}), old("second", B)))
    assert (finding.state, finding.value, finding.missing) == ("unknown", None, f"old_holes.0.{field}")
    assert finding.text.startswith("The wood between the holes of the first and second is not checked yet: ")


def test_a_hole_without_a_place_is_left_to_the_check_of_new_holes():
    design = holes(old("first", (None, -150.0)), old("second", B))
    assert finding_of(design) is None
    assert any(finding.check == "old_hole" and finding.state == "unknown" for finding in check(design).findings)


def test_holes_under_different_covers_and_boats_without_a_motor_have_none():
    apart = holes(old("first", (-600.0, -150.0)), old("second", (-615.0, -150.0)))
    assert finding_of(apart) is None, "off the bracket"
    assert not [finding for finding in check(replace(pair(12.0), mounts=())).findings if finding.check == "crowding"]


def test_each_pair_is_found_in_any_order_and_on_either_side():
    some = [old(f"hole {number}", (15.0 * number - 30, -150.0)) for number in range(5)]
    forward, back = (check(holes(*order)) for order in (some, some[::-1]))
    pairs = {frozenset(finding.at.split(" and ")) for finding in forward.findings if finding.check == "crowding"}
    assert pairs == {frozenset(finding.at.split(" and ")) for finding in back.findings if finding.check == "crowding"}
    assert len(pairs) == 7  # four 15 apart and three 30 apart; 45 is beyond 40
    design = pair(12.0)
    assert finding_of(mirrored(design)).value == pytest.approx(finding_of(design).value, abs=1e-9)


def test_the_plate_and_the_motor_are_named():
    twins = replace(twin_design(), old_holes=(old("first", (-350.0, -150.0)), old("second", (-350.0, -162.0))))
    assert "Under the port motor's bracket" in finding_of(twins).text
