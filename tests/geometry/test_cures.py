"""The cures for a finding: none takes room from another part that has little to spare."""

from __future__ import annotations

import pytest

from geometry.decide.cures import cure
from geometry.judge.check import check
from geometry.judge.loads import bolt_loads
from tests.designs import changed, example_design, sure

LOWER, UPPER = ("main motor / lower port", "main motor / upper port")


def lower(**values):
    return changed(example_design(), **{f"mounts__0__lower_hardware__{name}": value for name, value in values.items()})


@pytest.mark.parametrize(
    ("advised", "before", "button"), [(2.0, "clear", "Washers 1 3/4 in across"), (20.0, "tight", "Torque 35 lb-ft")]
)
def test_what_is_tight_elsewhere_may_lose_nothing(advised, before, button):
    """With the pair 5.1 mm higher the washers have 7.26; 44.45 across for 38.1 they have 3.175 less: enough, or too little."""
    design = changed(lower(torque=60.0), mounts__0__drop=160.0, limits__clearance=(0.0, advised), old_holes=())
    checked = check(design)
    assert sure(checked.of("washer", LOWER)).state == before
    offer = sure(cure(checked, sure(checked.of("pressure", LOWER))))
    assert offer.button == button
    lost = sure(checked.of("washer", LOWER)).value - sure(check(offer.design).of("washer", LOWER)).value
    assert lost == pytest.approx(3.175 if "Washers" in button else 0.0, abs=1e-6)


def test_less_torque_only_as_long_as_the_joint_stays_shut():
    """Foam of 1 N/mm2 supports 1.67 * 1526.0 = 2548 N, 4.53 N m; 3 lb-ft of it, at the highest friction, clamp with 1779 N.

    Of that 0.7 is left, 1245: more than the 854 N by which reverse pulls each lower bolt, less than the 1895 of the upper.
    A lock nut's drag, half of the highest published, would leave nothing: the nuts are plain ones, then lock nuts.
    """
    plain = {f"mounts__0__{pair}_hardware__nut": "ASME B18.2.2 hex" for pair in ("upper", "lower")}
    locking = changed(example_design(), transom__core_bears=1.0, mounts__0__centre_aft=300.0, mounts__0__thrust=1700.0)
    assert cure(check(locking), sure(check(locking).of("pressure", LOWER))) is None
    design = changed(locking, **plain)
    loads = bolt_loads(design, 0)
    checked = check(design)
    assert loads.lower < 0.7 * 3 * 1355.818 / (0.18 * 12.7) < loads.upper
    assert sure(cure(checked, sure(checked.of("pressure", LOWER)))).button == "Torque 3 lb-ft"
    assert cure(checked, sure(checked.of("pressure", UPPER))) is None


def test_no_torque_is_offered_that_only_turns_the_nut():
    """Wood of 0.1 N/mm2 supports 255 N, 0.45 N m next to the 6 that the nut takes to turn: in whole lb-ft no more than 4."""
    design = lower(running_torque=6.0)
    design = changed(design, transom__core_bears=0.1, mounts__0__mass=None)  # what pulls is not known
    checked = check(design)
    assert sure(checked.of("pressure", LOWER)).state == "fouled"
    assert cure(checked, sure(checked.of("pressure", LOWER))) is None


def test_a_washer_is_not_cut_flat_where_what_is_left_presses_too_hard():
    """Five lower the washers foul; with 30 N m a cut one presses less than the 1.67 that may be, with 47.5 more."""
    for torque, button in ((30.0, "Cut the washers flat"), (47.5, "Drop to 6 3/8 in, motor one hole up")):
        checked = check(changed(lower(torque=torque), mounts__0__drop=165.1 + 5.0, old_holes=()))
        offer = sure(cure(checked, sure(checked.of("washer", LOWER))))
        assert offer.button == button
