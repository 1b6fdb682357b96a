"""Check of weight: the motors and persons against the capacity plate, a table and the old motor. Masses [kg], powers [kW]."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.loads import ratios_to_old_motor
from geometry.judge.powering import BOAT, LIMITS, rule_of
from geometry.judge.reporter import NO_LIMITS, Outcome, Reporter
from geometry.judge.strength import round_up
from geometry.solid.bracket_holes import mount_key
from geometry.solid.faces import Unmeasured, need
from geometry.tables.capacity import EXCEPT, LONGEST, persons, persons_weight, rigged, weight_capacity
from geometry.tables.known import KG_PER_POUND, KW_PER_HP
from geometry.units import force_units
from geometry.units.units import format_mass

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.units.units import Unit

HEAVIER = 1.25  # times the old motor's weight, power or moment from which the boat needs a look: our assumption
OLD_MOTOR, PERSONS = "old motor", "persons"
TILTED = 550.0  # [lb] of persons under which a tilt test may give less, 33 CFR 183.41(a)
_TABLE = "a table of the kind of ABYC S-30"
_LOOK = "Let people who weigh the difference stand at the transom. Look at freeboard, scuppers and trim."
_KNEES = "Check the transom and its knees first."
_BUY = "Choose a lighter motor. The capacity plate is the limit for the law and the insurer."


def weighing(report: Reporter) -> None:
    """Add the weight of all motors together, over the capacity plate or the table, over the old motor, and the persons left."""
    design = report.design
    if not design.mounts:
        return
    every = tuple(range(len(design.mounts)))
    rests = ("boat.", "transom.height", *(mount_key(index, field) for index in every for field in ("power_kw", "mass")))
    report.add("weight", BOAT, LIMITS, "ratio", rests, every, lambda: _weight(design))
    tips = (*(mount_key(index, field) for index in every for field in ("centre_aft", "set_back")), "assumptions.centre_aft")
    old = f"{BOAT} / {OLD_MOTOR}"
    report.add("weight", old, NO_LIMITS, "ratio", rests, every, lambda: _old_mass(design))
    report.add("weight", f"{old}'s power", NO_LIMITS, "ratio", rests, every, lambda: _old_power(design))
    report.add("weight", f"{old}'s moment", NO_LIMITS, "ratio", (*rests, *tips), every, lambda: _old_moment(design))
    report.add("weight", f"{BOAT} / {PERSONS}", NO_LIMITS, "ratio", rests, every, lambda: _persons(design))


def motors_mass(design: Design) -> float:
    """Return the mass of all motors together [kg].

    Raises:
        Unmeasured: one is not known.
    """
    return sum(need(mount.mass, mount_key(index, "mass")) for index, mount in enumerate(design.mounts))


def _weight(design: Design) -> Outcome:
    plate, unit, mass = design.boat.plate, design.units, motors_mass(design)
    if plate.motor_mass is None and plate.total_mass is None:
        return _by_the_table(design, mass)
    ratios, parts = [], []
    if plate.motor_mass is not None:
        ratios.append(mass / plate.motor_mass)
        most = format_mass(plate.motor_mass, unit)
        share = f"{round_up(ratios[0])} of the capacity plate's {most} for motors"
        parts.append(f"{_whose(design)} {format_mass(mass, unit)} is {share}.")
    if plate.total_mass is not None:
        aboard = mass + (plate.persons_mass or 0.0)
        ratios.append(aboard / plate.total_mass)
        who = "Without persons" if plate.persons_mass is None else "With the persons"
        total = format_mass(plate.total_mass, unit)
        parts.append(f"{who} {format_mass(aboard, unit)} is {round_up(ratios[-1])} of the capacity plate's {total} in total.")
    text = " ".join(parts)
    if max(ratios) <= LIMITS[0] + CLOSE:
        return Outcome(max(ratios), text, None, "clear")
    too_heavy = plate.motor_mass is not None and ratios[0] > LIMITS[0] + CLOSE
    return Outcome(max(ratios), text, _BUY if too_heavy else f"Carry fewer persons, or {_BUY[0].lower()}{_BUY[1:]}", "fouled")


def _whose(design: Design) -> str:
    return "The motor's" if len(design.mounts) == 1 else "The motors'"


def _by_the_table(design: Design, mass: float) -> Outcome:
    """Compare with the usual weight of motors of the power that the boat allows, or of the present motors. It is a note."""
    unit, count = design.units, len(design.mounts)
    without = "No weight is entered from the capacity plate"
    power, whose = _power(design)
    row = None if power is None else rigged(power / count / KW_PER_HP)
    if power is None or row is None:
        why = "no power is known" if power is None else "the table ends at 350 hp"
        return Outcome(None, f"{without}, and {why} for a usual one.", "Ask the boat's builder.", "note")
    usual = count * row.dry * KG_PER_POUND
    value = mass / usual
    each = force_units.power(power / count, unit)
    text = (
        f"{without}. {_whose(design)} {format_mass(mass, unit)} is {round_up(value)} of the usual {format_mass(usual, unit)} "
        f"for {each}{' each' if count > 1 else ''}, the {whose}. It is from {_TABLE}."
    )
    return Outcome(value, text, f"Ask the boat's builder. {_LOOK}" if value > LIMITS[0] + CLOSE else None, "note")


def _power(design: Design) -> tuple[float | None, str]:
    """Return the power that the boat allows [kW], and its name.

    By its capacity plate or the published rule, or else the power of the present motors.
    """
    if design.boat.plate.power_kw is not None:
        return design.boat.plate.power_kw, "power on the capacity plate"
    rule = rule_of(design)
    if rule is not None:
        return rule.most * KW_PER_HP, "power by 33 CFR 183.53 (US)"
    powers = [mount.power_kw for mount in design.mounts if mount.power_kw is not None]
    return (sum(powers) if len(powers) == len(design.mounts) else None), "motor's own power"


def _old_mass(design: Design) -> Outcome | None:
    """Report motors that are much heavier than the old one: a note."""
    value, unit = ratios_to_old_motor(design).mass, design.units
    if value is None or not _much(value):
        return None
    mass, old = motors_mass(design), need(design.boat.old_motor.mass, "boat.old_motor.mass")
    times = f"{round_up(value)} times the old motor's {format_mass(old, unit)}"
    return Outcome(value, f"{_whose(design)} {format_mass(mass, unit)} is {times}.", _LOOK, "note")


def _old_power(design: Design) -> Outcome | None:
    """Report motors that are much stronger than the old one: a note."""
    value = ratios_to_old_motor(design).power
    if value is None or not _much(value):
        return None
    old = force_units.power(need(design.boat.old_motor.power_kw, "boat.old_motor.power_kw"), design.units)
    text = f"{_whose(design)} power is {round_up(value)} times the old motor's {old}."
    return Outcome(value, text, _KNEES, "note")


def _old_moment(design: Design) -> Outcome | None:
    """Report motors whose weight tips the transom much more than the old one's did: a note.

    Only where the old balance point is entered. Otherwise it says no more than the weights.
    """
    value = ratios_to_old_motor(design).moment
    if value is None or design.boat.old_motor.centre_aft is None or not _much(value):
        return None
    text = f"{_whose(design)} weight tips the transom {round_up(value)} times as much as the old motor's."
    return Outcome(value, text, _KNEES, "note")


def _much(ratio: float) -> bool:
    return ratio >= HEAVIER - CLOSE


def _whole(kg: float, unit: Unit) -> str:
    return format_mass(kg if unit == "in" else round(kg), unit)


def _persons(design: Design) -> Outcome | None:
    """Report how many persons the published rule leaves room for: a note, where its figures are known."""
    boat, unit = design.boat, design.units
    capacity = boat.plate.total_mass
    if capacity is None and boat.displacement is not None and boat.hull_mass is not None:
        capacity = weight_capacity(boat.displacement, boat.hull_mass)
    if capacity is None or boat.kind != "monohull" or (boat.length is not None and boat.length >= LONGEST - CLOSE):
        return None
    try:
        mass = motors_mass(design)
    except Unmeasured:
        return None  # the weight's own finding names it
    rows = [None if mount.power_kw is None else rigged(mount.power_kw / KW_PER_HP) for mount in design.mounts]
    gear = sum(row.accessories for row in rows if row is not None)
    if None in rows:
        return None
    left = max(0.0, persons_weight(capacity / KG_PER_POUND, mass / KG_PER_POUND + gear))
    count, less = persons(left), " A tilt test may give less." if left < TILTED else ""
    whole, rigging, rest = (_whole(kg, unit) for kg in (capacity, gear * KG_PER_POUND, left * KG_PER_POUND))
    text = (
        f"By 33 CFR 183.41 (US) {rest} is left for persons: {count} {'person' if count == 1 else 'persons'}. "
        f"That is {whole} less the motor, and less {rigging} for controls, battery and a full tank.{less} "
        f"The rule is not for {EXCEPT}."
    )
    own = boat.plate.persons_mass
    first = "" if own is None else f" The capacity plate's {format_mass(own, unit)} for persons comes first."
    return Outcome(None, f"{text}{first}", None, "note")

