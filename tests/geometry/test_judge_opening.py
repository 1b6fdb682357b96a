"""The pull on the most loaded bolt, over the clamp that stays: worked by hand. Limits 1 and 0.75, our assumption.

The worked example, its thrust of 3000 N and its centre 400 mm aft entered. Ahead each upper bolt is pulled with 3991.70 N, in
reverse each lower one with 854.08 N (`test_loads`). Wrench torque 47.5 N·m, less half of the highest published
drag of 204 in·lbf = 23.0489 (ASME B18.16.6): 35.9756/(0.18·0.0127) = 15737.35 N, of which 0.7 stays: 11016.1 N.
"""

from __future__ import annotations

import pytest

from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.joint_opening import most_loaded, torque_needed
from geometry.judge.reporter import Reporter
from geometry.judge.strength import torque_at_most
from geometry.judge.words import answer, findings_rows
from geometry.solid.placed_bolts import bolts
from geometry.units import force_units
from tests.designs import changed, clamp_on_mount, roomy, sure, twin_design

STAYS = 0.7 * (47.5 - 204 * 0.112984829 / 2) / (0.18 * 0.0127)


def entered(**values):
    return changed(roomy(), mounts__0__thrust=3000.0, mounts__0__centre_aft=400.0, **values)


def finding_of(design, mount="main motor"):
    return check(design).of("joint", mount)


def test_the_most_loaded_bolt_over_the_clamp_that_stays():
    finding = finding_of(entered())
    assert finding.value == pytest.approx(3991.70 / 11016.14, abs=1e-5)
    assert (finding.state, finding.unit, finding.family) == ("clear", "ratio", "load")
    assert (finding.least, finding.advised) == (1.0, 0.75)
    assert finding.word == "within limits"


def test_the_lower_pair_governs_where_it_clamps_with_less():
    """With 13.0 N·m at the lower pair 1.47557 are left: 1.47557/(0.18·0.0127)·0.7 = 451.84 N, and 854.08 N pull: 1.8902."""
    finding = finding_of(entered(mounts__0__lower_hardware__torque=13.0))
    assert finding.value == pytest.approx(854.08 / 451.837, abs=1e-4)
    assert finding.text.startswith("Weight and thrust pull each lower bolt of the main motor with ")
    assert finding.state == "note"


@pytest.mark.parametrize(
    ("share", "state", "word"),
    [(0.749, "clear", "within limits"), (0.751, "tight", "near the limit"), (0.999, "tight", "near the limit"),
     (1.001, "note", "note"), (3.0, "note", "note")],
)  # fmt: skip
def test_the_state_follows_the_share(share, state, word):
    """Ahead (T·310.4 + 2883.16·400)/261.1/2 = share·11016.14: T = (share·11016.14·522.2 - 1153262)/310.4."""
    thrust = (share * STAYS * 522.2 - 98 * 9.80665 * 3 * 400) / 310.4
    finding = finding_of(changed(roomy(), mounts__0__thrust=thrust, mounts__0__centre_aft=400.0))
    assert finding.value == pytest.approx(share, abs=1e-6)
    assert (finding.state, finding.word) == (state, word)
    assert ("The joint may open" in finding.text) == (share > 1)
    assert (finding.remedy is None) == (share < 0.75)


def test_a_measured_drag_counts_as_it_is():
    """20 N·m of drag leave 27.5: 27.5/(0.18·0.0127)·0.7 = 8420.8 N."""
    drags = {f"mounts__0__{pair}_hardware__running_torque": 20.0 for pair in ("upper", "lower")}
    assert finding_of(entered(**drags)).value == pytest.approx(3991.70 / 8420.82, abs=1e-5)


def test_a_motor_of_2000_kg_is_said_before_the_launch_and_stops_no_hole():
    """Ahead (3000·310.4 + 3·2000·9.80665·400)/261.1/2 = 46854.8 N a bolt: 4.2532 times what stays."""
    design = entered(mounts__0__mass=2000.0, units="mm")
    checked = check(design)
    finding = sure(checked.of("joint", "main motor"))
    assert finding.value == pytest.approx((3000 * 310.4 + 6000 * 9.80665 * 400) / 522.2 / STAYS, abs=1e-5)
    assert (finding.state, finding.stops) == ("note", "never")
    assert answer(checked).sentence.endswith("Before you launch: motor's weight, pull on the bolts.")
    assert not [reason for reason in drillable(checked).reasons if reason.finding == finding]
    assert next(row for row in findings_rows(checked) if row.first == finding).figure == "4.26 × the clamp that stays"


def test_the_cure_names_the_torque_needed_and_what_bolt_and_core_allow():
    """46854.8/0.7·0.18·0.0127 + 11.52 = 164.54 N·m, rounded up to 165. `test_strength` has the limits of bolt and core."""
    design = entered(mounts__0__mass=2000.0, units="mm")
    finding = finding_of(design)
    bolt = bolts(design)[0]
    by_bolt, by_core = (force_units.torque(torque_at_most(bolt, what), "mm", down=True) for what in ("clamp", "pressure"))
    assert finding.remedy == (
        f"That needs 165 N·m of wrench torque, but the bolt allows {by_bolt} and the core allows {by_core}. "
        "Use bolts of a higher grade and a backing plate, or a lighter motor. On torque, the motor's manual comes first."
    )


def test_the_torque_needed_is_enough():
    design = entered(mounts__0__mass=900.0)
    worst = most_loaded(Reporter(design), 0)
    needed = torque_needed(worst, 1.0)
    held = changed(design, mounts__0__upper_hardware__torque=needed, mounts__0__lower_hardware__torque=needed)
    assert finding_of(design).value > 1
    assert finding_of(held).value == pytest.approx(1.0, abs=1e-9)


def test_where_the_torque_may_be_had_the_cure_says_so():
    design = entered(mounts__0__upper_hardware__torque=20.0, units="mm")
    finding = finding_of(design)
    assert finding.value > 1
    assert finding.remedy.startswith("That needs 25 N·m of wrench torque. Here the bolt allows ")  # 3991.7/0.7·0.002286 + 11.5


@pytest.mark.parametrize("field", ["mass", "leg", "shock", "upper_hardware__torque"])
def test_what_is_missing_is_named(field):
    finding = finding_of(entered(**{f"mounts__0__{field}": None}))
    assert (finding.state, finding.value) == ("unknown", None)
    assert finding.text.startswith("The pull on the bolts of the main motor is not checked yet: ")
    assert finding.stops == "never"


def test_a_bracket_that_ends_above_its_bolts_is_said():
    short = ((-190.0, 0.0), (190.0, 0.0), (190.0, -80.0), (-190.0, -80.0))
    finding = finding_of(entered(mounts__0__bracket__outline=short))
    assert finding.state == "unknown"
    assert finding.text == "The pull on the bolts of the main motor is not checked: its bracket does not reach past them."


def test_drag_that_takes_all_leaves_no_clamp():
    finding = finding_of(entered(mounts__0__upper_hardware__torque=11.0))
    assert (finding.state, finding.value) == ("note", None)
    assert finding.text.startswith("Nothing clamps the upper bolts of the main motor, and each is pulled with ")


def test_each_motor_with_bolts_has_its_own():
    places = {finding.at for finding in check(twin_design()).findings if finding.check == "joint"}
    assert places == {"port motor", "starboard motor"}
    assert finding_of(changed(roomy(), mounts=(clamp_on_mount(),)), "small motor") is None
