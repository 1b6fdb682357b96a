"""The loads on each bolt from weight and thrust: a rough check by statics, never a promise of the transom's strength.

The bracket tips about an edge. Weight and forward thrust tip it about its lower edge and pull the upper pair. Reverse
thrust, less the weight, tips it about the transom's top and pulls the lower pair. Levers run along the transom's face and
square to it. The rake is left out. Forces [N], lengths [mm], masses [kg], powers [kW].
A load opens a joint only where it exceeds the clamp of the nut.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.design.patterns import SHOCK
from geometry.design.validity import CLOSE
from geometry.readings.assumption_measures import source_of
from geometry.solid.bracket_holes import hook_above_datum, mount_key
from geometry.solid.faces import Unmeasured, need
from geometry.tables.known import CHOICE, MM_PER_INCH, PRACTICE
from geometry.units.force_units import written

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.motor import Mount

GRAVITY = 9.80665  # m/s2: standard, NIST SP 330
WATER = 1000.0  # kg/m3: fresh; in salt water the thrust is 1 % more
PROPELLER = (8.0 * MM_PER_INCH, 4.474, 0.185)  # mm across at kW, and the power's exponent: 8 in at 6 hp, 14.5 in at 150 hp


class NoLeverError(Unmeasured):
    """The bracket's outline ends above its upper bolts, or the lower ones are above its top: it tips about no edge."""


class SourcedValue(msgspec.Struct, frozen=True):
    """A value behind a load, and its source: "entered", or where the value in its place is from."""

    value: float
    source: str


class Loads(msgspec.Struct, frozen=True):
    """The pull on each bolt of one motor.

    Attributes:
        upper, lower: tension in one bolt of the pair [N]; 0 where the weight holds the pair shut.
        shear: across each bolt, if only the bolts carry the motor, the shock included [N].
        moment: of weight, with the shock, and thrust about the bracket's lower edge [N m].
        thrust [N], centre_aft [mm], shock: the values used, each with its source.
    """

    upper: float
    lower: float
    shear: float
    moment: float
    thrust: SourcedValue
    centre_aft: SourcedValue
    shock: SourcedValue


def static_thrust(power: float, share: float) -> float:
    """Return the thrust [N] of a motor of ``power`` [kW] on a boat held still: T = (2 ρ A (η P)²)^(1/3).

    Momentum theory of an ideal disc. Its diameter is a usual one for the power. A rough check: within a few percent of 166
    lbf at 6 hp and 2,110 lbf at 150 hp, our calculation.

    Args:
        share: of the shaft's power that the propeller gives to its stream, η.
    """
    across, at, exponent = PROPELLER
    radius = across / 2000 * (power / at) ** exponent
    return float((2 * WATER * math.pi * radius**2 * (share * 1000 * power) ** 2) ** (1 / 3))


def row_tension(moment: float, lever: float, *others: float) -> float:
    """Return the pull on a row of bolts where a bracket tips about an edge: M l / (l² + Σ others²).

    Source: bolt groups of Bhandari, Design of Machine Elements, chapter 7. Each row pulls in proportion to its lever.
    Without ``others``, the other rows do not help. That is the safe side.
    """
    return moment * lever / (lever**2 + sum(other**2 for other in others))


def upper_pair(thrust: float, arm: float, weight: float, aft: float, lever: float) -> float:
    """Return the pull on the upper pair [N]: (T (zp - zc) + n W e) / (zc - zu).

    Args:
        thrust: forward [N]. arm: propeller's shaft below the bracket's lower edge, zp - zc.
        weight: times the shock, n W [N]. aft: of the transom, e.
        lever: the pair above the bracket's lower edge, zc - zu; all lengths in one unit.
    """
    return row_tension(thrust * arm + weight * aft, lever)


def lower_pair(thrust: float, arm: float, weight: float, aft: float, lever: float) -> float:
    """Return the pull on the lower pair in reverse [N]: (R (zp - zt) - W e) / (zl - zt), below 0 for no pull.

    Args:
        thrust: astern [N]. arm: propeller's shaft below the transom's top edge, zp - zt.
        weight: without a shock, W [N]. aft: of the transom, e.
        lever: the pair below the transom's top edge, zl - zt; all lengths in one unit.
    """
    return row_tension(thrust * arm - weight * aft, lever)


def bolt_loads(design: Design, mount_index: int) -> Loads:
    """Return the pull on each bolt of one motor.

    Raises:
        Unmeasured: mass, power (without a thrust), shaft length, row, a depth or the bracket's outline is not known, or
            the motor has no bolts.
    """
    mount, index = design.mounts[mount_index], mount_index
    rows = mount.bracket.rows
    if rows is None:
        raise Unmeasured(mount_key(index, "bracket"))
    assumed, thrust, aft = design.assumptions, thrust_of(design, index), centre_aft(design, mount)
    shock = shock_of(design, index)
    weight = GRAVITY * need(mount.mass, mount_key(index, "mass"))
    gap = hook_above_datum(mount, index)
    upper_at = need(mount.upper_at, mount_key(index, "upper_at"))
    lower_at = upper_at - need(mount.drop, mount_key(index, "drop"))
    shaft = gap - need(mount.leg, mount_key(index, "leg")) - assumed.shaft_depth
    edge = gap + _lowest(mount, index)
    tips = -assumed.reverse_edge
    above, below = upper_at - edge, tips - lower_at
    if above < CLOSE or below < CLOSE:
        raise NoLeverError(mount_key(index, "bracket.outline"))
    heavy = shock.value * weight
    return Loads(
        max(0.0, upper_pair(thrust.value, edge - shaft, heavy, aft.value, above) / 2),
        max(0.0, lower_pair(assumed.reverse_share * thrust.value, tips - shaft, weight, aft.value, below) / 2),
        heavy / 4,
        (thrust.value * (edge - shaft) + heavy * aft.value) / 1000,
        thrust, aft, shock,
    )  # fmt: skip


def _lowest(mount: Mount, index: int) -> float:
    """Return how far the bracket reaches below its hook, downward negative [mm]."""
    return min(need(v, mount_key(index, "bracket.outline")) for _, v in mount.bracket.outline)


def thrust_of(design: Design, index: int) -> SourcedValue:
    """Return the thrust as entered, else that of a motor of this power on a boat held still.

    Raises:
        Unmeasured: neither thrust nor power is known.
    """
    mount, share = design.mounts[index], design.assumptions.thrust_share
    if mount.thrust is not None:
        return SourcedValue(mount.thrust, "entered")
    power = need(mount.power_kw, mount_key(index, "power_kw"))
    how = f"boat held still, momentum theory of a propeller, {written('share', share, design.units)} of its power used"
    return SourcedValue(static_thrust(power, share), f"{how}, {source_of(design, 'assumptions.thrust_share')}")


def shock_of(design: Design, index: int) -> SourcedValue:
    """Return the shock: our assumption, unless somebody entered a value.

    Raises:
        Unmeasured: it is not known.
    """
    key = mount_key(index, "shock")
    value = need(design.mounts[index].shock, key)
    return SourcedValue(value, CHOICE if value == SHOCK and key not in design.readings else "entered")


def centre_aft(design: Design, mount: Mount) -> SourcedValue:
    """Return how far the centre of the motor's mass is aft of the transom: as entered, else a usual place and the set-back."""
    if mount.centre_aft is not None:
        return SourcedValue(mount.centre_aft, "entered")
    source = source_of(design, "assumptions.centre_aft")
    usual = f"10 to 16 in (250 to 400 mm) aft of the bracket, {source}" if source == PRACTICE else source
    return SourcedValue(design.assumptions.centre_aft + (mount.set_back or 0.0), usual)


class OldMotorRatios(msgspec.Struct, frozen=True):
    """All motors together over the old motor; None where a figure is not known.

    Attributes:
        mass, power: ratios. moment: of the weights about the transom. An unknown old centre counts as usual; None where the
            old centre was at the transom.
    """

    mass: float | None
    power: float | None
    moment: float | None


def ratios_to_old_motor(design: Design) -> OldMotorRatios:
    """Return the new motors over the old one: the best honest check of a transom that carried the old motor."""
    old = design.boat.old_motor
    masses = [mount.mass for mount in design.mounts]
    powers = [mount.power_kw for mount in design.mounts]
    mass = power = moment = None
    known = [value for value in masses if value is not None]
    if old.mass and known and len(known) == len(masses):
        mass = sum(known) / old.mass
        tips = sum(weight * centre_aft(design, mount).value for weight, mount in zip(known, design.mounts, strict=True))
        arm = design.assumptions.centre_aft if old.centre_aft is None else old.centre_aft
        moment = tips / (old.mass * arm) if arm > CLOSE else None
    strong = [value for value in powers if value is not None]
    if old.power_kw and strong and len(strong) == len(powers):
        power = sum(strong) / old.power_kw
    return OldMotorRatios(mass, power, moment)
