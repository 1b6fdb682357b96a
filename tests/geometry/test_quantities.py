"""Volumes and torques against worked examples.

Volumes: bores through 2 in, our calculation: pi/4 D^2 t. Torques: T = K F d of Shigley,
Mechanical Engineering Design, chapter 8, with two published worked examples.
"""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.decide.amounts_to_buy import (
    Amount,
    cylinder,
    has_wood,
    plug,
    plugs,
    potting,
    sealant,
    to_plug,
    too_wide,
)
from geometry.design.boat import OldHole
from geometry.design.hardware import BackingPlate
from geometry.judge.strength import post
from geometry.judge.torque import CROSS, clamp_of, clamps, drag, joint_clamp, torque_for
from geometry.judge.torque_passes import tightening
from geometry.judge.wood_around_holes import core_bore
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.tables.fasteners import nut, nut_names
from tests.designs import IN, changed, example_design, sure, twin_design

LBF, LBF_IN, LB_FT = 4.4482216152605, 0.1129848290276167, 1.3558179483314004  # NIST SP 811, appendix B
MOST = 204 * LBF_IN  # highest drag of a new 1/2-13 NE nut: ASME B18.16.6, read in a secondary copy


@pytest.mark.parametrize(("diameter", "millilitres"), [(0.75, 14.5), (1.0, 25.7), (1.25, 40.2), (1.5, 57.9)])
def test_bores_through_two_inches(diameter, millilitres):
    """Within 0.05 mL: the table has one place."""
    assert cylinder(diameter * IN, 2 * IN) == pytest.approx(millilitres, abs=0.051)


def test_four_inch_plugs_take_a_cup():
    """Four 1 in plugs through 2 in: 103 mL; mix 30 to 50 % more (133.8 to 154.4), our assumption."""
    four = Amount(4 * cylinder(IN, 2 * IN))
    assert four.net == pytest.approx(103, abs=0.1)
    assert four.mix == pytest.approx((133.9, 154.4), abs=0.1)
    assert four.mix[0] < 150 < four.mix[1]


def old(**values):
    bare = OldHole(name="old", at=(100.0, -100.0), diameter=IN / 2, state="open", plug_diameter=None, reuse=False, drill=None)
    return replace(bare, **values)


def test_an_old_half_inch_hole_is_bored_to_an_inch():
    """1/2 in bored to 1 in through 2 in: 25.7 mL."""
    design = changed(example_design(), transom__thickness__top=2 * IN, transom__thickness__low=2 * IN, old_holes=(old(),))
    filling = plug(design, 0)
    assert (filling.bore, filling.through) == pytest.approx((IN, 2 * IN), abs=1e-6)
    assert plugs(design).net == pytest.approx(25.74, abs=0.01)
    assert plug(replace(design, units="mm"), 0).bore == pytest.approx(26.0, abs=1e-6)


def test_which_old_holes_are_filled():
    design = changed(
        example_design(),
        old_holes=(old(), old(state="sealed"), old(state="plugged"), old(reuse=True), old(diameter=40.0), old(diameter=None)),
    )
    assert (to_plug(design), too_wide(design)) == ((0, 1, 5), (4,))
    with pytest.raises(Unmeasured):
        plugs(design)


def test_core_round_new_holes():
    """Twice a half-inch bolt is 1 in; 44 less a skin of 4 is 40 mm deep: 4 x pi/4 25.4^2 x 40 = 81.1 mL."""
    design = example_design()
    assert core_bore(bolts(design)[0]) == pytest.approx(IN, abs=1e-6)
    assert potting(design).net == pytest.approx(4 * math.pi / 4 * 2.54**2 * 4.0, abs=1e-6)
    assert potting(twin_design()).net == pytest.approx(2 * potting(design).net, abs=1e-6)
    laminate = changed(design, transom__core="solid laminate")
    assert not has_wood(laminate)
    assert potting(laminate).net == 0.0


@pytest.mark.parametrize(
    ("unit", "bolt", "hole", "bore"),
    [("in", "1/2-13", 13.5, 25.4), ("in", "3/8-16", 10.3, 19.05), ("in", "7/16-14", 11.9, 22.225), ("mm", "1/2-13", 13.5, 26.0),
     ("mm", "M12x1.75", 13.5, 24.0), ("mm", "M10x1.5", 11.0, 20.0), ("in", "M12x1.75", 13.5, 25.4),
     ("in", "3/8-16", 14.0, 22.225)],
)  # fmt: skip
def test_the_load_on_a_filled_hole_follows_from_the_drilled_diameter(unit, bolt, hole, bore):
    """Twice the bolt, at least 1/4 in more than the hole, to the next drill; 55 N/mm2 of epoxy: our assumption."""
    fitted = replace(sure(example_design().mounts[0].lower_hardware), bolt=bolt, hole=hole, nut=nut_names(bolt)[0])
    lower = bolts(replace(changed(example_design(), mounts__0__lower_hardware=fitted), units=unit))[2]
    assert core_bore(lower) == pytest.approx(bore, abs=1e-6)
    assert post(lower) == pytest.approx(55 * math.pi / 4 * (bore**2 - hole**2), abs=1e-3)


def test_sealant_by_hand():
    """Each: gap pi/4 (13.5^2 - 12.7^2) x 44 = 0.724 mL, beds of 2 mm, 38.1 across 2.280 mL and 34.9 across 1.913 mL."""
    assert sealant(example_design()).net == pytest.approx(4 * (0.724 + 2.280 + 1.913), abs=0.005)
    with pytest.raises(Unmeasured):
        sealant(changed(example_design(), mounts__0__lower_hardware__hole=None))


def test_a_backing_plate_is_bedded_once():
    """300 x 60 mm under both lower bolts: 36 mL in a bed of 2 mm, instead of two beds of 2.280 mL under washers."""
    plate = BackingPlate(
        outline=((-150.0, -30.0), (150.0, -30.0), (150.0, 30.0), (-150.0, 30.0)), thickness=6.0, relief=(0.0, 0.0),
        material="aluminium 5083", joins=("lower port", "lower starboard"),
    )  # fmt: skip
    plated = changed(example_design(), mounts__0__lower_hardware__backing_plate=plate)
    assert sealant(plated).net == pytest.approx(4 * (0.724 + 1.913) + 2 * 2.280 + 36.0, abs=0.005)
    with pytest.raises(Unmeasured):
        sealant(changed(plated, mounts__0__lower_hardware__backing_plate__outline__0__1=None))


@pytest.mark.parametrize(("k", "inch_pounds"), [(0.30, 72.7), (0.25, 60.6), (0.20, 48.5), (0.15, 36.3), (0.10, 24.2)])
def test_torque_of_a_small_screw(k, inch_pounds):
    """D .190 in, 1275 lbf: Mechanical Fastening, Joining and Assembly, p. 85, read in a secondary copy; 0.1 lbf in."""
    torque_ = torque_for(1275 * LBF, k, 0.190 * IN) / LBF_IN
    assert torque_ == pytest.approx(inch_pounds, abs=0.1)
    assert clamp_of(torque_ * LBF_IN, k, 0.190 * IN) / LBF == pytest.approx(1275, abs=1e-6)


def test_clamp_of_the_half_inch_bolt():
    """40 lb-ft at K .18 pulls a 1/2 in bolt with 5333 lbf (12 T / (K d)); within 1 lbf."""
    assert clamp_of(40 * LB_FT, 0.18, IN / 2) / LBF == pytest.approx(5333, abs=1)
    low, high = clamps(bolts(example_design())[0])
    assert (low, high) == pytest.approx(((47.5 - MOST) / (0.18 * 0.0127), 47.5 / (0.14 * 0.0127)), abs=1e-6)


def test_lock_nuts_as_published():
    """ASME B18.16.6: 110, 135 and 204 lbf in at first installation, at the most; read in a secondary copy."""
    for bolt, most in (("3/8-16", 110), ("7/16-14", 135), ("1/2-13", 204)):
        lock_nut = nut("ASME B18.16.6 NE", bolt)
        assert lock_nut is not None
        assert lock_nut.drag / LBF_IN == pytest.approx(most, abs=1e-9)
    assert nut("ASME B18.16.6 NE", "1/2-20").drag is None
    assert nut("ASME B18.2.2 hex", "1/2-13").drag is None


def upper(**values):
    paths = {f"mounts__0__upper_hardware__{name}": value for name, value in values.items()}
    return bolts(changed(example_design(), **paths))[:2]


@pytest.mark.parametrize(
    ("values", "known", "least", "most", "half"),
    [
        ({}, "published", 0.0, MOST, MOST / 2), ({"running_torque": 8.0}, "measured", 8.0, 8.0, 8.0),
        ({"running_torque": 0.0}, "measured", 0.0, 0.0, 0.0), ({"nut": "ASME B18.2.2 hex"}, "no lock nut", 0.0, 0.0, 0.0),
        ({"nut": "ASME B18.2.2 hex", "running_torque": 3.0}, "measured", 3.0, 3.0, 3.0),
        ({"bolt": "1/2-20"}, "not published", 0.0, 47.5, None), ({"torque": 20.0}, "published", 0.0, 20.0, MOST / 2),
    ],
)  # fmt: skip
def test_only_what_is_left_of_the_wrench_torque_clamps(values, known, least, most, half):
    """Highest clamp: least drag, friction 0.14. Lowest: most drag, 0.18, never below 0. A joint: half of the published drag.

    Where nobody publishes a drag the lowest clamp is 0, and what a joint is left with is not known.
    """
    bolt = upper(**values)[0]
    torque, taken = values.get("torque", 47.5), drag(bolt)
    assert (taken.known, taken.least) == (known, least)
    assert clamps(bolt) == pytest.approx(((torque - most) / 0.18 / 0.0127, (torque - least) / 0.14 / 0.0127), abs=1e-6)
    if half is None:
        with pytest.raises(Unmeasured):
            joint_clamp(bolt)
    else:
        assert joint_clamp(bolt) == pytest.approx((torque - half) / 0.18 / 0.0127, abs=1e-6)


def test_passes_are_wrench_torques():
    """Half and whole of the entered torque, with any drag; 47.58 N m is what the example's core allows (test_strength)."""
    for values in ({}, {"running_torque": 8.0}, {"nut": "ASME B18.2.2 hex"}, {"bolt": "1/2-20"}):
        assert tightening(upper(**values)).passes == (23.75, 47.5)
    assert tightening(upper(torque=None)).passes == ()
    over = tightening(upper(torque=48.0))
    assert (over.passes, over.refused, over.by) == ((), "core", "core")
    assert tightening(upper(torque=48.0, running_torque=8.0)).passes == (24.0, 48.0)  # 40 of it clamp
    assert tightening(upper(torque=8.0, running_torque=8.0)).refused == "drag"
    assert tightening(upper(grade="F593F")).refused == "bolt"


def test_the_order_goes_corner_to_corner():
    assert sorted(CROSS) == sorted({bolt.name for bolt in bolts(example_design())})
    pair_and_side = [name.split() for name in CROSS]
    assert pair_and_side[0][0] != pair_and_side[1][0]
    assert pair_and_side[0][1] != pair_and_side[1][1]
    assert pair_and_side[2][0] != pair_and_side[3][0]
    assert pair_and_side[2][1] != pair_and_side[3][1]
