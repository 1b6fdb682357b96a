"""The pull on the bolts of a whole design, by hand; forces within 0.01 N, ratios within 1e-9."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from geometry.design.design import Reading
from geometry.design.patterns import SHOCK, motor
from geometry.judge.loads import SourcedValue, bolt_loads, ratios_to_old_motor, static_thrust
from geometry.solid.faces import Unmeasured
from tests.designs import changed, clamp_on_mount, example_design, sure, twin_design


def entered(**values):
    return changed(example_design(), mounts__0__thrust=3000.0, mounts__0__centre_aft=400.0, **values)


def test_the_worked_example_with_all_entered():
    """`row` 2: the hook is 38.1 above the datum, the bracket's lower edge 350 below it: at -311.9. The shaft is the
    shaft length of 508 and 152.4 below the hook: at -622.3. Weight 98 * 9.80665 = 961.05 N, three times 2883.16.

    Ahead about the lower edge: (3000 * 310.4 + 2883.16 * 400) / (311.9 - 50.8) = 2084462 / 261.1 = 7983.39, half each.
    Astern about the top, 12.7 down: (1200 * 609.6 - 961.05 * 400) / (215.9 - 12.7) = 347099 / 203.2 = 1708.16, half each.
    """
    loads = bolt_loads(entered(), 0)
    assert loads.upper == pytest.approx(7983.39 / 2, abs=0.01)
    assert loads.lower == pytest.approx(1708.16 / 2, abs=0.01)
    assert loads.shear == pytest.approx(2883.16 / 4, abs=0.01)
    assert loads.moment == pytest.approx(2084.46, abs=0.01)
    assert {loads.thrust.source, loads.centre_aft.source} == {"entered"}


def test_a_shock_that_nobody_entered_is_our_assumption():
    """A new motor has 3: as long as it does, and no reading says that a person means it."""
    assert motor("standard", "new motor").shock == SHOCK == 3.0
    assert bolt_loads(entered(), 0).shock == SourcedValue(3.0, "our assumption")
    assert bolt_loads(entered(mounts__0__shock=5.0), 0).shock == SourcedValue(5.0, "entered")
    reading = Reading(text="3", value=3.0, from_="centre", how="tape", state="measured", spread=None, second=None)
    read = replace(entered(), readings={"mounts.0.shock": reading})
    assert bolt_loads(read, 0).shock == SourcedValue(3.0, "entered")


def test_raising_the_lower_pair_pulls_it_harder():
    """203.2 to 184.15 and 165.1 below the top edge's point: as 9.375 in to 8.625 and 7.875."""
    levers = {drop: 50.8 + drop - 12.7 for drop in (203.2, 184.15, 165.1)}
    loads = {drop: bolt_loads(entered(mounts__0__drop=drop), 0).lower for drop in levers}
    for drop, lever in levers.items():
        assert loads[drop] * lever == pytest.approx(loads[203.2] * levers[203.2], rel=1e-9)


def test_a_heavy_motor_keeps_the_lower_pair_shut():
    assert bolt_loads(entered(mounts__0__mass=300.0), 0).lower == 0.0


def test_the_value_in_place_of_a_missing_one_is_named():
    loads = bolt_loads(changed(example_design(), mounts__0__set_back=100.0), 0)
    assert loads.thrust.value == pytest.approx(static_thrust(29.8, 0.55), abs=1e-9)
    assert "our assumption" in loads.thrust.source
    assert loads.centre_aft.value == pytest.approx(404.8, abs=1e-9)
    assert "common practice" in loads.centre_aft.source


@pytest.mark.parametrize("field", ["mass", "power_kw", "leg", "row", "upper_at", "drop", "shock"])
def test_what_is_missing_is_named(field):
    with pytest.raises(Unmeasured) as missing:
        bolt_loads(changed(example_design(), **{f"mounts__0__{field}": None}), 0)
    assert missing.value.key == f"mounts.0.{field}"


def test_a_motor_without_bolts_has_no_loads():
    with pytest.raises(Unmeasured):
        bolt_loads(changed(example_design(), mounts=(clamp_on_mount(),)), 0)


def test_a_bracket_that_ends_above_its_bolts_is_not_checked():
    short = ((-190.0, 0.0), (190.0, 0.0), (190.0, -80.0), (-190.0, -80.0))
    with pytest.raises(Unmeasured):
        bolt_loads(changed(example_design(), mounts__0__bracket__outline=short), 0)


def test_against_the_motor_before():
    """98 kg over 70, 29.8 kW over 29.8; 98 * 304.8 over 70 * 280."""
    design = changed(example_design(), boat__old_motor__mass=70.0, boat__old_motor__power_kw=29.8,
                     boat__old_motor__centre_aft=280.0)  # fmt: skip
    ratios = ratios_to_old_motor(design)
    assert ratios.mass == pytest.approx(1.4, abs=1e-9)
    assert ratios.power == pytest.approx(1.0, abs=1e-9)
    assert ratios.moment == pytest.approx(98 * 304.8 / (70 * 280), abs=1e-9)
    twins = changed(twin_design(), boat__old_motor__mass=100.0)
    assert ratios_to_old_motor(twins).mass == pytest.approx(sum(sure(mount.mass) for mount in twins.mounts) / 100, abs=1e-9)
    bare = ratios_to_old_motor(example_design())
    assert (bare.mass, bare.power, bare.moment) == (None, None, None)


@pytest.mark.parametrize("centre", [0.0, 5e-324])
def test_an_old_motor_at_the_transom_has_no_moment_to_compare(centre):
    """An old centre at the transom made every check fail: nothing is divided by its lever."""
    design = changed(example_design(), boat__old_motor__mass=70.0, boat__old_motor__centre_aft=centre)
    ratios = ratios_to_old_motor(design)
    assert ratios.mass == pytest.approx(1.4, abs=1e-9)
    assert ratios.moment is None
