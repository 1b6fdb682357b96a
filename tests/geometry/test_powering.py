"""Power against the boat's capacity plate, and the published rule where it is lost; ratios within 1e-9."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from geometry.design.boat import Plate
from geometry.judge.check import check
from geometry.judge.findings import verdict_of
from geometry.judge.powering import rule_of
from geometry.tables.known import KW_PER_HP
from tests.designs import changed, example_design, sure, twin_design

FOOT = 304.8


def finding_of(design):
    return check(design).of("power", "boat")


def plated(power=None, mass=None, **values):
    plate = Plate(power_kw=power, motor_mass=mass, persons_mass=None, total_mass=None)
    return changed(example_design(), boat__plate=plate, **values)


@pytest.mark.parametrize(
    ("power", "mass", "value", "state"),
    [
        (37.3, None, 29.8 / 37.3, "clear"), (37.3, 97.9, 29.8 / 37.3, "clear"), (29.8, None, 1.0, "clear"),
        (29.7, 200.0, 29.8 / 29.7, "fouled"),
    ],
)  # fmt: skip
def test_power_over_that_of_the_capacity_plate(power, mass, value, state):
    """The motor: 29.8 kW. At the capacity plate itself it is clear; any more is fouled. Its weight has another check."""
    finding = finding_of(plated(power, mass))
    assert finding.value == pytest.approx(value, abs=1e-9)
    assert (finding.state, finding.least, finding.advised, finding.unit) == (state, 1.0, 1.0, "ratio")
    assert finding.margin == pytest.approx(1 - value, abs=1e-9)


def test_power_that_the_capacity_plate_does_not_give_falls_back_on_the_rule():
    """16 x 5.5 ft without a tall transom: 45.4 hp, raised to 50. The motor has 39.96."""
    finding = finding_of(plated(None, 97.9, boat__length=16 * FOOT, boat__transom_width=5.5 * FOOT))
    assert (finding.state, finding.value) == ("note", pytest.approx(29.8 / (50 * KW_PER_HP)))
    start = "No power is entered from the capacity plate. By 33 CFR 183.53 (US) 16 × 5.5 ft is factor 88.0"
    assert finding.text.startswith(start)
    assert "ISO 11592" in finding.remedy
    assert "not for sailboats, canoes, kayaks and inflatables" in finding.remedy


@pytest.mark.parametrize("field", ["persons_mass", "total_mass"])
def test_a_capacity_plate_without_power_is_not_called_lost(field):
    finding = finding_of(changed(example_design(), **{f"boat__plate__{field}": 400.0}))
    assert finding.state == "note"
    assert finding.text.startswith("No power is entered from the capacity plate")
    assert finding_of(example_design()).text.startswith("No capacity plate is entered")


def test_all_motors_count_together():
    twins = changed(twin_design(), boat__plate__power_kw=60.0)
    power = sum(sure(mount.power_kw) for mount in twins.mounts)
    finding = finding_of(twins)
    assert finding.value == pytest.approx(power / 60.0, abs=1e-9)
    assert finding.mounts == (0, 1)
    assert "together" in finding.text


def test_what_the_capacity_plate_asks_for_and_is_not_known_is_named():
    assert finding_of(plated(37.3, mounts__0__power_kw=None)).missing == "mounts.0.power_kw"
    assert finding_of(plated(37.3, 140.0, mounts__0__mass=None)).state == "clear"


def boat(length, width, height=482.6, **values):
    """Return the example's boat with its capacity plate lost, in feet and mm."""
    sized = {"boat__length": length * FOOT, "boat__transom_width": width * FOOT, "transom__height": height}
    return changed(example_design(), **sized, **values)


@pytest.mark.parametrize(
    ("height", "remote", "hp", "words"),
    [
        (495.3, True, 50, "45 hp, which may be raised to 50 hp (without remote steering and a 20 in transom)"),
        (508.0, True, 90, "86 hp, which may be raised to 90 hp;"),
        (508.0, None, 50, "(90 hp with remote steering)"), (508.0, False, 50, "(without remote steering"),
    ],
)  # fmt: skip
def test_a_lost_capacity_plate_falls_back_on_the_rule(height, remote, hp, words):
    """16 x 5.5 ft is 88: 0.8 x 88 - 25 = 45.4, or with both 2 x 88 - 90 = 86; never a verdict."""
    design = boat(16, 5.5, height, boat__remote_steering=remote)
    finding = finding_of(design)
    assert finding.state == "note"
    assert rule_of(design).most == hp
    assert finding.value == pytest.approx(29.8 / (hp * KW_PER_HP), abs=1e-9)
    assert words in finding.text
    assert "factor 88.0" in finding.text
    assert "ISO 11592" in finding.remedy
    assert "Local law always applies" in finding.remedy


def test_far_too_strong_for_the_rule_is_still_a_note():
    finding = finding_of(boat(10, 3.5))
    assert finding.value == pytest.approx(29.8 / (3 * KW_PER_HP), abs=1e-9)
    assert finding.state == "note"
    assert check(boat(10, 3.5)).verdict == "tight" == verdict_of(check(boat(10, 3.5)).findings)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({}, "needs the boat's length and the transom's width"), ({"boat__length": 4800.0}, "needs the transom's width"),
        ({"boat__kind": "other"}, "only for monohulls under 20 ft"),
        ({"boat__length": 6096.0}, "only for monohulls under 20 ft"),
        ({"boat__length": 52.5 * FOOT / 4, "boat__transom_width": 4 * FOOT}, "does not say whether 52 or 53 counts"),
        ({"boat__length": 8 * FOOT, "boat__transom_width": 3.5 * FOOT, "boat__flat_bottom_hard_chines": True},
         "below 3 hp there is none"),
        ({"boat__length": 4800.0, "boat__transom_width": 900.0, "boat__beam": 1800.0}, "the broadest beam of the aft quarter"),
    ],
)  # fmt: skip
def test_what_the_rule_does_not_say(values, words):
    finding = finding_of(changed(example_design(), **values))
    assert finding.state == "note"
    assert words in finding.text


def test_no_motor_no_power():
    assert finding_of(replace(example_design(), mounts=())) is None
