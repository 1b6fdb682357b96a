"""Weight of the motors against the capacity plate, the table, the old motor and what is left for persons: worked by hand.

The example's motor has 98 kg and 29.8 kW, 39.96 hp. One pound is 0.45359237 kg. The table is of ABYC S-30's kind, read in a
secondary copy.
"""

from __future__ import annotations

import pytest

from geometry.design.boat import Plate
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.words import answer, findings_rows
from tests.designs import changed, clamp_on_mount, roomy, sure, twin_design

FOOT, POUND, HP = 304.8, 0.45359237, 0.745699872


def plated(motor=None, persons=None, total=None, power=None, **values):
    plate = Plate(power_kw=power, motor_mass=motor, persons_mass=persons, total_mass=total)
    return changed(roomy(), boat__plate=plate, **values)


def finding_of(design, place=""):
    return check(design).of("weight", f"boat{place}")


@pytest.mark.parametrize(
    ("motor", "persons", "total", "value", "state", "word"),
    [
        (140.0, None, None, 98 / 140, "clear", "within limits"),
        (98.0, None, None, 1.0, "clear", "within limits"),  # the limit itself
        (97.9, None, None, 98 / 97.9, "fouled", "over the limit"),
        (None, 400.0, 600.0, 498 / 600, "clear", "within limits"),
        (None, 400.0, 497.0, 498 / 497, "fouled", "over the limit"),
        (None, None, 120.0, 98 / 120, "clear", "within limits"),
        (120.0, 400.0, 510.0, 498 / 510, "clear", "within limits"),  # the worse of 0.8167 and 0.9765
        (100.0, 100.0, 510.0, 98 / 100, "clear", "within limits"),
    ],
)
def test_the_worse_of_motor_and_total(motor, persons, total, value, state, word):
    finding = finding_of(plated(motor, persons, total))
    assert finding.value == pytest.approx(value, abs=1e-9)
    assert (finding.state, finding.word, finding.least, finding.advised, finding.stops) == (state, word, 1.0, 1.0, "never")
    assert (finding.remedy is None) == (state == "clear")


def test_a_boat_with_too_many_persons_is_not_taken_for_one_with_too_heavy_a_motor():
    assert finding_of(plated(140.0, 400.0, 490.0)).remedy.startswith("Carry fewer persons, or choose a lighter motor.")
    assert finding_of(plated(90.0, 400.0, 490.0)).remedy.startswith("Choose a lighter motor.")


def test_a_motor_of_551_pounds_on_a_boat_whose_plate_gives_only_power():
    """As issue 13 saw it. 50 hp is allowed: 286 lb by the table, 551/286 = 1.9266: over it, and never called clear."""
    design = plated(power=50 * HP, mounts__0__mass=551 * POUND, boat__length=15 * FOOT, boat__transom_width=5 * FOOT)
    checked = check(design)
    finding = sure(checked.of("weight", "boat"))
    assert finding.value == pytest.approx(551 / 286, abs=1e-9)
    assert finding.state == "note"
    assert "The motor's 551 lb is 1.93 of the usual 286 lb for 50 hp, the power on the capacity plate." in finding.text
    assert answer(checked).sentence.endswith("Before you launch: motor's weight.")
    assert not [reason for reason in drillable(checked).reasons if reason.finding == finding]
    titles = {row.title: row.state for row in findings_rows(checked)}
    assert titles["Motor's power"] == "clear"
    assert titles["Motor's weight"] == "note"


@pytest.mark.parametrize(
    ("values", "dry", "whose"),
    [
        ({}, 286, "the motor's own power"),  # 39.96 hp
        ({"boat__length": 16 * FOOT, "boat__transom_width": 6.5 * FOOT}, 286, "by 33 CFR 183.53 (US)"),  # 60 hp: 35 to 64.9
        ({"boat__length": 16 * FOOT, "boat__transom_width": 7.5 * FOOT}, 439, "by 33 CFR 183.53 (US)"),  # 0.8·120 - 25 = 71: 75
        ({"boat__plate__power_kw": 90 * HP, "boat__length": 16 * FOOT, "boat__transom_width": 6.5 * FOOT}, 439,
         "the power on the capacity plate"),
    ],
)  # fmt: skip
def test_without_a_weight_on_the_plate_the_allowed_power_says_what_is_usual(values, dry, whose):
    finding = finding_of(changed(roomy(), transom__height=482.6, **values))
    assert finding.value == pytest.approx(98 / (dry * POUND), abs=1e-9)
    assert finding.state == "note"
    assert whose in finding.text


def test_two_motors_share_the_allowed_power():
    """60 hp for two: 30 hp each, 187 lb by the table; 2·98 kg over 374 lb."""
    finding = finding_of(changed(twin_design(), boat__plate__power_kw=60 * HP))
    assert finding.value == pytest.approx(2 * 98 / (374 * POUND), abs=1e-9)
    assert "for 30 hp each" in finding.text


def test_a_power_that_nobody_knows_and_one_beyond_the_table_are_said():
    assert "no power is known" in finding_of(changed(roomy(), mounts__0__power_kw=None)).text
    assert "the table ends at 350 hp" in finding_of(changed(roomy(), mounts__0__power_kw=400 * HP)).text


def test_a_mass_that_is_not_given_is_unknown():
    finding = finding_of(changed(roomy(), mounts__0__mass=None))
    assert (finding.state, finding.value, finding.missing) == ("unknown", None, "mounts.0.mass")
    assert finding.text == "The weight on the transom of the boat is not checked yet: motor's weight is not measured."


@pytest.mark.parametrize(
    ("old", "noted"), [(98 / 1.25, True), (98 / 1.249, False), (50.0, True), (120.0, False), (None, False)]
)
def test_a_motor_a_quarter_heavier_than_the_old_one_asks_for_a_look(old, noted):
    finding = finding_of(changed(roomy(), boat__old_motor__mass=old), " / old motor")
    assert (finding is not None) == noted
    if finding is not None:
        assert (finding.state, finding.value) == ("note", pytest.approx(98 / old))
        assert finding.remedy.endswith("Look at freeboard, scuppers and trim.")


def test_a_much_stronger_motor_than_the_old_one_asks_for_a_look_at_the_knees():
    """A quarter more than the old motor's power is noted, with the same weight too."""
    power, place = sure(roomy().mounts[0].power_kw), " / old motor's power"
    noted, not_noted = (
        finding_of(changed(roomy(), boat__old_motor__mass=98.0, boat__old_motor__power_kw=power / times), place)
        for times in (1.25, 1.249)
    )
    assert not_noted is None
    assert (noted.state, noted.value) == ("note", pytest.approx(1.25))
    assert noted.remedy == "Check the transom and its knees first."


@pytest.mark.parametrize(("old_aft", "noted"), [(240.0, True), (241.0, False), (None, False)])
def test_a_motor_that_tips_the_transom_much_more_than_the_old_one_is_noted(old_aft, noted):
    """300 mm aft over 240, of the same weight, is 1.25. An old balance point that nobody entered says nothing."""
    boat = changed(roomy(), mounts__0__centre_aft=300.0, boat__old_motor__mass=98.0, boat__old_motor__centre_aft=old_aft)
    finding = finding_of(boat, " / old motor's moment")
    assert (finding is not None) == noted
    if finding is not None:
        assert finding.text == "The motor's weight tips the transom 1.25 times as much as the old motor's."


def test_the_persons_of_the_published_examples_kind():
    """(2600 - 600)/5 = 400 lb, 33 CFR 183.35. Less 105 of motor and 5 + 20 + 50 of gear for 9.9 hp: 220; (220 + 32)/141: 2."""
    design = changed(
        roomy(), boat__displacement=2600 * POUND, boat__hull_mass=600 * POUND, boat__length=14 * FOOT,
        mounts__0__mass=105 * POUND, mounts__0__power_kw=9.9 * HP,
    )  # fmt: skip
    finding = finding_of(design, " / persons")
    assert finding.state == "note"
    assert finding.text == (
        "By 33 CFR 183.41 (US) 220 lb is left for persons: 2 persons. That is 400 lb less the motor, and less 75 lb for "
        "controls, battery and a full tank. A tilt test may give less. "
        "The rule is not for sailboats, canoes, kayaks and inflatables."
    )


def test_the_plates_total_comes_before_the_builders_papers_and_its_persons_before_the_rule():
    """1500 lb less 216.05 of motor and 14 + 45 + 100 of gear for 40 hp leave 1124.95: (1124.95 + 32)/141 = 8.2, 8 persons."""
    design = plated(persons=400.0, total=1500 * POUND, boat__displacement=2600 * POUND, boat__hull_mass=600 * POUND)
    text = finding_of(design, " / persons").text
    assert "1125 lb is left for persons: 8 persons" in text
    assert "tilt" not in text, "550 lb and more: no tilt test"
    assert text.endswith("The capacity plate's 882 lb for persons comes first.")


@pytest.mark.parametrize(
    "values",
    [{"boat__kind": "other"}, {"boat__length": 20 * FOOT}, {"mounts__0__power_kw": None}, {"mounts__0__mass": None},
     {"boat__plate__total_mass": None}],
)  # fmt: skip
def test_no_persons_where_the_rule_is_not_for_the_boat_or_lacks_a_figure(values):
    assert finding_of(plated(total=700.0), " / persons") is not None
    assert finding_of(changed(plated(total=700.0), **values), " / persons") is None


def test_a_boat_that_carries_no_more_is_left_no_person():
    assert "0 lb is left for persons: 0 persons" in finding_of(plated(total=100.0), " / persons").text


def test_a_motor_that_clamps_on_is_weighed_too_and_a_boat_without_a_motor_is_not():
    small = changed(roomy(), mounts=(clamp_on_mount(),))
    assert finding_of(changed(small, boat__plate__motor_mass=19.0)).state == "fouled"
    assert finding_of(changed(roomy(), mounts=())) is None
