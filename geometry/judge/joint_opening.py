"""Check of the joints: do weight and thrust pull a bolt with more than still clamps it once all has settled?

A screening, as `geometry.judge.loads` is. Forces [N], torques [N m].
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import CLOSE
from geometry.judge.loads import NoLeverError, bolt_loads
from geometry.judge.reporter import Outcome, Reporter
from geometry.judge.strength import core_supports, round_up, torque_at_most
from geometry.judge.torque import counted_drag, drag, frictions, joint_clamp, torque_for
from geometry.solid.bracket_holes import mount_key
from geometry.solid.faces import Unmeasured
from geometry.units import force_units

if TYPE_CHECKING:
    from geometry.solid.placed_bolts import Bolt

_STRONGER = {"bolt": "bolts of a higher grade", "core": "a backing plate"}
MANUAL = "On torque, the motor's manual comes first."


class Opening(msgspec.Struct, frozen=True):
    """How hard one bolt is pulled [N], and the clamp that is ``left`` on it once wood and washers have settled [N]."""

    bolt: Bolt
    pull: float
    left: float


def clamp_left(bolt: Bolt) -> float:
    """Return the clamp to count on once wood and washers have settled [N].

    Raises:
        Unmeasured: torque, friction, or a lock nut's drag that nobody publishes is not known.
    """
    return _stays(bolt) * joint_clamp(bolt)


def _stays(bolt: Bolt) -> float:
    """Return the share of the clamp that stays once all has settled."""
    return 1.0 - bolt.design.assumptions.settling


def openings(report: Reporter) -> None:
    """Report for every motor how hard its most loaded bolt is pulled."""
    for index, mount in enumerate(report.design.mounts):
        if mount.bracket.rows is not None:
            _opening(report, index)


def most_loaded(report: Reporter, index: int) -> Opening:
    """Return the bolt of a motor that is pulled with the largest share of the clamp that is left on it.

    Raises:
        Unmeasured: what it rests on is not known.
    """
    loads = bolt_loads(report.design, index)
    ours = [bolt for bolt in report.bolts if bolt.mount_index == index and bolt.port]
    pairs = [Opening(bolt, loads.upper if bolt.upper else loads.lower, clamp_left(bolt)) for bolt in ours]
    return max(pairs, key=lambda pair: pair.pull / max(pair.left, CLOSE))


def _opening(report: Reporter, index: int) -> None:
    mount, unit = report.design.mounts[index], report.design.units
    fields = (
        "mass", "power_kw", "thrust", "centre_aft", "set_back", "shock", "leg", "row", "upper_at", "drop", "bracket",
        "upper_hardware", "lower_hardware",
    )  # fmt: skip
    rests = (*(mount_key(index, field) for field in fields), "transom.skin_inside", "transom.core", "assumptions.")
    limits = report.design.limits.joint

    def look() -> Outcome:
        try:
            worst = most_loaded(report, index)
        except NoLeverError:
            text = f"The pull on the bolts of the {mount.name} is not checked: its bracket does not reach past them."
            return Outcome(None, text, "Measure the bracket's outline again.", "unknown")
        pair, pull = worst.bolt.pair, force_units.force(worst.pull, unit)
        if worst.left < CLOSE:
            text = f"Nothing clamps the {pair} bolts of the {mount.name}, and each is pulled with {pull}."
            return Outcome(None, text, "Choose a wrench torque that is more than the lock nut's drag.", "note")
        value = worst.pull / worst.left
        text = f"Weight and thrust pull each {pair} bolt of the {mount.name} with {pull}"
        left = force_units.force(worst.left, unit, down=True)
        text = f"{text}. That is {round_up(value)} times the {left} of clamp that stays"
        if value <= limits[1] + CLOSE:
            return Outcome(value, f"{text}.")
        if value <= limits[0] + CLOSE:
            return Outcome(value, f"{text}; {limits[1]:g} or less is advised.", _cure(worst, limits[1]))
        return Outcome(value, f"{text}. The joint may open.", _cure(worst, limits[0]), "note")

    report.add("joint", mount.name, limits, "ratio", rests, (index,), look)


def torque_needed(worst: Opening, share: float) -> float:
    """Return the wrench torque with which a bolt's pull is only ``share`` of the clamp that is left [N m].

    Raises:
        Unmeasured: friction, or a lock nut's drag that nobody publishes, is not known.
    """
    _, friction = frictions(worst.bolt)
    taken = drag(worst.bolt)
    lost = taken.least if taken.most is None else counted_drag(worst.bolt, taken.least, taken.most)
    return torque_for(worst.pull / share / _stays(worst.bolt), friction, worst.bolt.thread.diameter) + lost


def _cure(worst: Opening, share: float) -> str:
    """Say the torque needed, what bolt and core allow, and what to do."""
    bolt, unit = worst.bolt, worst.bolt.design.units
    needed, say = torque_needed(worst, share), partial(force_units.torque, unit=unit, down=True)
    said = f"That needs {force_units.torque(needed, unit, up=True)} of wrench torque"
    limits = {"bolt": torque_at_most(bolt, "clamp")}
    try:
        if core_supports(bolt) is not None:
            limits["core"] = torque_at_most(bolt, "pressure")
    except Unmeasured:
        limits.pop("core", None)  # the pressure's own finding names what is missing
    allowed = " and ".join(f"the {name} allows {say(most)}" for name, most in limits.items())
    short = [_STRONGER[name] for name, most in limits.items() if needed > most + CLOSE]
    if not short:
        return f"{said}. Here {allowed}. {MANUAL}"
    return f"{said}, but {allowed}. Use {' and '.join(short)}, or a lighter motor. {MANUAL}"
