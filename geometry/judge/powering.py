"""Check of power: the capacity plate comes first. Without it, a published rule gives a figure, never a verdict."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.reporter import Outcome, Reporter
from geometry.solid.bracket_holes import mount_key
from geometry.solid.faces import need
from geometry.tables.capacity import ELSEWHERE, EXCEPT, LONGEST, MM_PER_FOOT, SHORT, TALL_TRANSOM, Rule, most_power
from geometry.tables.known import KW_PER_HP
from geometry.units import force_units
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.units.units import Unit

LIMITS = (1.0, 1.0)
BOAT = "boat"


def powering(report: Reporter) -> None:
    """Add the power of all motors together, against the capacity plate, or the rule where it is lost."""
    if not report.design.mounts:
        return
    every = range(len(report.design.mounts))
    rests = ("boat.", *(mount_key(index, "power_kw") for index in every))
    report.add("power", BOAT, LIMITS, "ratio", rests, tuple(every), lambda: _look(report.design))


def _look(design: Design) -> Outcome:
    allowed, unit = design.boat.plate.power_kw, design.units
    if allowed is None:
        return by_the_rule(design)
    power = sum(need(mount.power_kw, mount_key(index, "power_kw")) for index, mount in enumerate(design.mounts))
    value = power / allowed
    motors, together = ("The motor's", "") if len(design.mounts) == 1 else ("The motors'", " together")
    share = f"{math.ceil(value * 100 - CLOSE) / 100:.2f} of the {force_units.power(allowed, unit)}"
    text = f"{motors} {force_units.power(power, unit)}{together} is {share} on the capacity plate."
    if value > 1 + CLOSE:
        cure = "Choose a smaller motor. The capacity plate is the limit for the law and the insurer."
        return Outcome(value, text, cure, "fouled")
    return Outcome(value, text, None, "clear")


def rule_of(design: Design, *, remote: bool | None = None) -> Rule | None:
    """Return the limit of 33 CFR 183.53(a) for this boat. None: it does not apply, or a figure is not known.

    Args:
        remote: remote steering. None: as in the design, and no remote steering where that is not known.
    """
    boat, height = design.boat, design.transom.height
    if boat.kind != "monohull" or boat.length is None or boat.transom_width is None or boat.length >= LONGEST - CLOSE:
        return None
    steered = boat.remote_steering if remote is None else remote
    tall = height is not None and height >= TALL_TRANSOM - CLOSE
    factor = boat.length / MM_PER_FOOT * boat.transom_width / MM_PER_FOOT
    return most_power(factor, remote_and_tall=bool(steered) and tall, flat=boat.flat_bottom_hard_chines)


CURE = (
    f"Read the boat's capacity plate, which comes first. The rule is not for {EXCEPT}. Outside the United States {ELSEWHERE} "
    "replace it. Local law always applies."
)


def by_the_rule(design: Design) -> Outcome:
    """Return what the published rule says of a boat without a figure for power on its capacity plate; a note."""
    boat, unit = design.boat, design.units
    plate = boat.plate
    entered = any(value is not None for value in (plate.motor_mass, plate.persons_mass, plate.total_mass))
    lost = "No power is entered from the capacity plate" if entered else "No capacity plate is entered"
    if boat.kind != "monohull" or (boat.length is not None and boat.length >= LONGEST - CLOSE):
        text = f"{lost}, and the US rule (33 CFR 183.53) is only for monohulls under 20 ft. Ask the builder."
        return Outcome(None, text, CURE, "note")
    rule = rule_of(design)
    if rule is None:
        lacks = " and ".join(
            word for word, value in (("the boat's length", boat.length), ("the transom's width", boat.transom_width))
            if value is None
        )  # fmt: skip
        return Outcome(None, f"{lost}, and the US rule (33 CFR 183.53) needs {lacks}.", CURE, "note")
    powers = [mount.power_kw for mount in design.mounts if mount.power_kw is not None]
    power = sum(powers) if powers and len(powers) == len(design.mounts) else None
    value = None if power is None else power / (rule.most * KW_PER_HP)
    has = "the motor has" if len(powers) == 1 else "the motors have"
    have = "" if power is None else f"; {has} {force_units.power(power, unit)}"
    text = (
        f"{lost}. By 33 CFR 183.53 (US) {feet(boat.length)} × {feet(boat.transom_width)} ft is factor {rule.factor:.1f} and "
        f"{_hp(rule, unit)}{_if(design)}{have}."
    )
    return Outcome(value, f"{text} {rule.undefined}".strip(), CURE, "note")


def feet(mm: float | None) -> str:
    """Return a length in feet, to the nearest hundredth."""
    return f"{(mm or 0.0) / MM_PER_FOOT:.2f}".rstrip("0").rstrip(".")


def _hp(rule: Rule, unit: Unit) -> str:
    most = force_units.power(rule.most * KW_PER_HP, unit)
    if force_units.power(rule.calculated * KW_PER_HP, unit) == most:
        return most
    return f"{force_units.power(rule.calculated * KW_PER_HP, unit)}, which may be raised to {most}"


def _if(design: Design) -> str:
    """Say the conditions of the figure: steering, transom, and whether the transom is wide."""
    boat, height = design.boat, design.transom.height
    conditions = []
    with_it, without = rule_of(design, remote=True), rule_of(design, remote=False)
    tall = height is not None and height >= TALL_TRANSOM - CLOSE
    if with_it is not None and without is not None and with_it.most != without.most and boat.remote_steering is None:
        conditions.append(f"{force_units.power(with_it.most * KW_PER_HP, design.units)} with remote steering")
    elif without is not None and without.factor > 52.5 and not (boat.remote_steering and tall):
        tall_enough = format_length(TALL_TRANSOM, design.units)
        conditions.append(f"without remote steering and a {tall_enough} transom")
    if boat.beam is not None and boat.transom_width is not None and boat.transom_width <= boat.beam / 2:
        conditions.append("but for a transom no wider than half the beam the broadest beam of the aft quarter counts")
    if boat.length is not None and boat.length <= SHORT + CLOSE:
        conditions.append("some boats so short may be tested for more, 183.53(b)")
    return f" ({'; '.join(conditions)})" if conditions else ""
