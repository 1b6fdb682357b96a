"""Outer washers, stiffness, motors, joints and weights of worked boats, calculated by hand; it uses no line of the program.

The boats are a demonstration boat of each kind and the invented boats of `test_trade_boats`. Figures are carried to four
places, so every comparison allows 0.001 of its unit where it says nothing else.
"""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.design.boat import OldHole
from geometry.design_text import from_text
from geometry.judge.check import check
from geometry.judge.washer_stiff import stiff_across
from tests.designs import IN, changed
from tests.reference.test_trade_boats import LOWER, UPPER, skiff, tender

NEAR = 0.001


def boat(name, **values):
    """Return a demonstration boat with new values at some places, "__" for a dot."""
    return changed(from_text(design_text(name)), **values)


def values(design, check_name):
    return [finding.value for finding in check(design).findings if finding.check == check_name]


@pytest.mark.parametrize(
    ("name", "ratio"),
    [
        ("shallow-well-skiff", 34.925 / 13.49375),  # 1-3/8 in over 17/32 in: 44/17 = 2.5882
        ("tapered-work-boat", 37 / 13.5),  # ISO 7093-1 over the medium hole of ISO 273: 2.7407
    ],
)
def test_outer_washers_of_demonstration_boats(name, ratio):
    assert values(boat(name), "outer_washer") == pytest.approx([ratio] * 4, abs=NEAR)


def test_the_trades_washer_over_the_trades_slot():
    """A slot about 9/16 in wide needs a washer of 1.06 in or more: 1.06/0.5625 = 1.8844 (common practice).

    The trade boat's own is 1-3/8 in over 13.5 mm: 34.925/13.5 = 2.5870. A narrow one of 1.062 in (ASME B18.21.1, type A) over
    a slot of 3/4 in is 1.416: under 1.5.
    """
    wide = changed(skiff(), mounts__0__bracket__lower__diameter=9 / 16 * IN,
                   mounts__0__lower_hardware__outside_washer__outer=1.06 * IN)  # fmt: skip
    for at in LOWER:
        finding = check(wide).of("outer_washer", at)
        assert (finding.value, finding.state) == (pytest.approx(1.8844, abs=NEAR), "clear")
    for at in UPPER:
        assert check(wide).of("outer_washer", at).value == pytest.approx(2.5870, abs=NEAR)
    narrow = changed(skiff(), mounts__0__bracket__lower__diameter=0.75 * IN,
                     mounts__0__lower_hardware__outside_washer__outer=1.062 * IN)  # fmt: skip
    finding = check(narrow).of("outer_washer", LOWER[0])
    assert (finding.value, finding.state) == (pytest.approx(1.416, abs=NEAR), "fouled")


@pytest.mark.parametrize("name", design_names())
def test_no_demonstration_boat_has_a_fouled_outer_washer(name):
    assert {finding.state for finding in check(boat(name)).findings if finding.check == "outer_washer"} == {"clear"}


def motor_findings(design, place=""):
    return check(design).of("motors", f"port motor and starboard motor{place}")


def test_the_twins_are_26_inches_apart():
    """Brackets 15 in wide: 26 - 15 = 11 in = 279.4 mm. Cowls 14 in wide: 26 - 14 = 12 in = 304.8 mm.

    Middles 26 in apart are common practice for such motors. At 20 in they get a note; the brackets are 5 in = 127 mm apart.
    """
    twins = boat("twin-motor-launch")
    assert motor_findings(twins).value == pytest.approx(279.4, abs=NEAR)
    assert motor_findings(twins).state == "clear"
    assert motor_findings(twins, " / cowls").value == pytest.approx(304.8, abs=NEAR)
    assert motor_findings(twins, " / cowls").state == "clear"
    assert motor_findings(twins, " / centrelines") is None
    nearer = changed(twins, mounts__0__offset=-10 * IN, mounts__1__offset=10 * IN)
    assert motor_findings(nearer).value == pytest.approx(127.0, abs=NEAR)
    assert motor_findings(nearer, " / centrelines").value == pytest.approx(508.0, abs=NEAR)
    assert motor_findings(nearer, " / centrelines").state == "note"


def test_two_of_the_trades_motors_side_by_side():
    """The trade's skiff with two motors, at 13 in to each side: 26 in between their middles, no note (common practice).

    Their brackets are 380 mm wide: 660.4 - 380 = 280.4. At 7 in to each side: 355.6 - 380 = -24.4, fouled.
    """
    mount = skiff().mounts[0]

    def pair(inches):
        ends = ((-1, "port motor"), (1, "starboard motor"))
        mounts = tuple(replace(mount, name=name, offset=side * inches * IN) for side, name in ends)
        return replace(skiff(), mounts=mounts)

    assert motor_findings(pair(13)).value == pytest.approx(280.4, abs=NEAR)
    assert motor_findings(pair(13), " / centrelines") is None
    assert motor_findings(pair(7)).value == pytest.approx(-24.4, abs=NEAR)
    assert motor_findings(pair(7)).state == "fouled"


def test_the_work_boats_joint():
    """Static thrust of 36.8 kW: a propeller of 0.1016·(36.8/4.474)^0.185 = 0.150036 m radius, 0.55 of the power used.

    T = (2·1000·π·0.150036²·20240²)^(1/3) = 3869.6 N.
    Hook 19 above the datum; the bracket's foot 350 below it: -331. Shaft 508 + 152.4 below it: -641.4, so 310.4 below the foot.
    Weight 112·9.80665 = 1098.34 N, three times 3295.03, centred 304.8 aft.
    Upper pair 50 down, 281 above the foot: (3869.6·310.4 + 3295.03·304.8)/281 = 7848.6 N, 3924.3 each.
    Clamp: 25 N·m less half of 15.5 (M12, highest published drag) = 17.25; 17.25/(0.18·0.012) = 7986.1, of which 0.7: 5590.3.
    """
    finding = check(boat("tapered-work-boat")).of("joint", "main motor")
    assert (finding.value, finding.state) == (pytest.approx(3924.3 / 5590.3, abs=NEAR), "clear")


def test_the_trade_skiffs_joint():
    """29.8 kW: radius 0.144293 m, T = (2·1000·π·0.144293²·16390²)^(1/3) = 3275.5 N.

    Hook 41.275 above the datum, foot at -308.725, shaft at 41.275 - 514.35 - 152.4 = -625.475: 316.75 below the foot.
    Weight 3·98·9.80665 = 2883.16 N at 304.8. Upper pair 47.625 down, 261.1 above the foot:
    (3275.5·316.75 + 2883.16·304.8)/261.1 = 7339.4 N, 3669.7 each.
    Clamp: 47.5 less half of 204 in·lbf, 11.5244: 35.9756/(0.18·0.0127)·0.7 = 11016.1.
    """
    finding = check(skiff()).of("joint", "main motor")
    assert (finding.value, finding.state) == (pytest.approx(3669.7 / 11016.1, abs=NEAR), "clear")


@pytest.mark.parametrize(
    ("name", "inside", "outside"),
    [
        ("cap-lip-launch", 8 * 3.175 / 38.1, 8 * 3.175 / 34.925),  # 1/8 in by 1-1/2 in and by 1-3/8 in: 0.6667, 0.7273
        ("tapered-work-boat", 8 * 3.3 / 37, 8 * 3.3 / 37),  # ISO 7093-1: 0.7135
    ],
)
def test_the_stiffness_of_demonstration_boats_washers(name, inside, outside):
    for at in ("upper port", "lower starboard"):
        for which, value in (("inside washer", inside), ("outer washer", outside)):
            finding = check(boat(name)).of("washer_stiff", f"main motor / {at} / {which}")
            assert (finding.value, finding.state) == (pytest.approx(value, abs=NEAR), "clear")


def test_the_trades_washers_are_a_little_thin():
    """1-1/2 in across and 0.109 in thick: 8·0.109/1.5 = 0.5813, under the advised 0.6. Outside 8·0.109/1.375 = 0.6342.

    The trade wants an eighth of the width, 0.1875 in. A fender washer of 2 in by 0.05 in: 8·0.05/2 = 0.2, and it spreads the
    pull over 0.72 + 5·0.05 = 0.97 in only.
    """
    checked = check(skiff())
    inside, outside = (checked.of("washer_stiff", f"{LOWER[0]} / {which} washer") for which in ("inside", "outer"))
    assert (inside.value, inside.state) == (pytest.approx(0.5813, abs=NEAR), "tight")
    assert (outside.value, outside.state) == (pytest.approx(0.6342, abs=NEAR), "clear")
    fender = changed(skiff(), mounts__0__lower_hardware__washer__outer=2 * IN,
                     mounts__0__lower_hardware__washer__thickness=0.05 * IN)  # fmt: skip
    finding = check(fender).of("washer_stiff", f"{LOWER[0]} / inside washer")
    assert (finding.value, finding.state) == (pytest.approx(0.2, abs=NEAR), "fouled")
    assert stiff_across(2 * IN, 0.05 * IN, 0.75 * IN, fender) == pytest.approx(0.97 * IN, abs=NEAR)


@pytest.mark.parametrize(
    ("name", "value", "state"),
    [
        # 112 kg over 140 is 0.8; with 450 kg of persons 562 over 680 is 0.8265, the worse
        ("tapered-work-boat", 562 / 680, "clear"),
        # two of 58 kg over 160 is 0.725; with 600 kg of persons 716 over 860 is 0.8326
        ("twin-motor-launch", 716 / 860, "clear"),
        # its capacity plate gives 37.3 kW, 50.02 hp: 286 lb = 129.727 kg by the table; 98/129.727 = 0.7554
        ("shallow-well-skiff", 0.7554, "note"),
        # no capacity plate, 16-1/2 ft by 56 in: factor 77.0, no remote steering: 0.8·77 - 25 = 36.6, to 40 hp: 286 lb; 62 kg
        ("cap-lip-launch", 62 / 129.727, "note"),
    ],
)
def test_the_weight_of_demonstration_boats(name, value, state):
    finding = check(boat(name)).of("weight", "boat")
    assert (finding.value, finding.state) == (pytest.approx(value, abs=NEAR), state)


def test_the_skiffs_new_motor_is_a_quarter_heavier():
    """98 kg after 78: 1.2564, above 1.25 (our assumption)."""
    finding = check(boat("shallow-well-skiff")).of("weight", "boat / old motor")
    assert (finding.value, finding.state) == (pytest.approx(1.2564, abs=NEAR), "note")


def test_the_work_boats_persons():
    """680 kg = 1499.14 lb, less 112 kg = 246.92, less 14 + 45 + 100 for 49.35 hp: 1093.2; (1093.2 + 32)/141 = 7.98: eight."""
    finding = check(boat("tapered-work-boat")).of("weight", "boat / persons")
    assert "496 kg is left for persons: 8 persons." in finding.text
    assert "sailboats, canoes, kayaks and inflatables" in finding.text


def test_the_weight_of_the_trades_boats():
    """The skiff is 16 by 5.5 ft: factor 88, 0.8·88 - 25 = 45.4, raised to 50 hp: 286 lb. 98 kg = 216.05 lb: 0.7554.

    The tender is 8 by 3.5 ft: factor 28, 3 hp: 42 lb. Its 20 kg = 44.09 lb: 1.0498. Powers by 33 CFR 183.53.
    """
    sized = changed(skiff(), boat__length=16 * 304.8, boat__transom_width=5.5 * 304.8)
    assert check(sized).of("weight", "boat").value == pytest.approx(0.7554, abs=NEAR)
    small = changed(tender(), boat__length=8 * 304.8, boat__transom_width=3.5 * 304.8)
    finding = check(small).of("weight", "boat")
    assert (finding.value, finding.state) == (pytest.approx(1.0498, abs=NEAR), "note")


def test_the_runabouts_old_holes_close_together():
    """Old upper port, 1/2 in, and the ladder hole, 3/8 in, are 7/8 in apart: 22.225 - 11.1125 = 11.1125 mm, 0.875 of 1/2 in.

    Both are under the upper port washer, 3/4 in around the bolt: the ladder hole's rim is 7/8 - 3/16 in off. Tight.
    Old lower port, 17/32 in, and the towing-eye hole with its plug of 1 in: 44.45 across and 19.05 up, 48.3602 apart, less
    13.4938/2 + 12.7: 28.9133, 1.1383 of the plug. Clear, under the lower backing plate.
    """
    checked = check(boat("thrice-drilled-runabout"))
    near = checked.of("crowding", "old upper port and ladder hole")
    assert (near.value, near.state) == (pytest.approx(0.875, abs=NEAR), "tight")
    assert near.text.startswith("Under the upper port washer, ")
    plugged = checked.of("crowding", "old lower port and towing-eye hole")
    assert (plugged.value, plugged.state) == (pytest.approx(1.1383, abs=NEAR), "clear")
    assert plugged.text.startswith("Under the lower backing plate, ")


@pytest.mark.parametrize(
    ("apart", "plugs", "value", "state"),
    [
        (0.75, None, 0.5, "tight"),  # two 1/2 in holes 3/4 in apart: a web of 1/4 in
        (0.75, 1.0, -0.25, "fouled"),  # both with plugs of 1 in: they overlap by 1/4 in
        (1.5, None, 2.0, "clear"),  # 1 in of wood
    ],
)
def test_the_trades_old_holes(apart, plugs, value, state):
    """Old 1/2 in holes in the middle of the trade skiff's bracket, 5 in down."""
    kind = {"state": "open", "plug_diameter": None} if plugs is None else {"state": "plugged", "plug_diameter": plugs * IN}
    some = tuple(OldHole(name=name, at=(0.0, at * IN), diameter=0.5 * IN, reuse=False, **kind, drill=None)
                 for name, at in (("first", -5.0), ("second", -5.0 - apart)))  # fmt: skip
    finding = check(replace(skiff(), old_holes=some)).of("crowding", "first and second")
    assert (finding.value, finding.state) == (pytest.approx(value, abs=NEAR), state)
