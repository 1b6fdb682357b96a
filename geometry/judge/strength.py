"""Checks of strength: does the torque stretch the bolt too far, and does the washer crush the core?

These are rough checks. They use a range of friction, a proof load and a pressure that the core supports. The text says
where each is from. Forces [N], stresses [N/mm2], torques [N m], lengths [mm].
"""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.validity import CLOSE
from geometry.judge.inside_room import plate_keys
from geometry.judge.pressed_area import area_of, pressed_area, spread_for_each
from geometry.judge.reporter import Outcome, Reporter
from geometry.judge.torque import clamps, drag, frictions, torque_for, wrench_torque
from geometry.judge.washer_stiff import inside_across, stiffness
from geometry.judge.wood_around_holes import core_bore
from geometry.solid.faces import Unmeasured, need
from geometry.tables import fasteners, materials
from geometry.tables.friction import band_of
from geometry.tables.known import inches
from geometry.units import force_units
from geometry.units.units import format_length

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.boat import Transom
    from geometry.solid.placed_bolts import Bolt
    from geometry.units.units import Unit

OF_YIELD = 0.85  # proof over yield where no proof load is published: Shigley, the same
PLATE = {"in": inches(0.25), "mm": 6.0}  # thickness of a backing plate under the washers: common practice
_UNDER = ("washer.outer", "washer.thickness", "washer.flat_cut", "hole", "spacer", "nut_sizes", "head_sizes")
NAME = "{}"  # replaced by the bolt's name


def strength(report: Reporter) -> None:
    """Add the clamp on every bolt and the pressure under its inside washer."""
    outcomes: dict[tuple[object, ...], Outcome] = {}  # port and starboard differ only in their names

    for bolt in report.bolts:
        kind = bolt.mount_index, bolt.pair, "" if bolt.plate is None else bolt.name  # a backing plate reaches further at an end

        def once(check: str, say: Callable[[Bolt], Outcome], bolt: Bolt = bolt, kind: tuple[object, ...] = kind) -> Outcome:
            outcome = outcomes.get((check, *kind)) or outcomes.setdefault((check, *kind), say(bolt))
            return replace(outcome, text=outcome.text.replace(NAME, bolt.name))

        torque = tuple(bolt.hardware_key(field) for field in ("torque", "friction", "running_torque", "nut", "bolt"))
        strong = (*torque, bolt.hardware_key("grade"))
        under = (*(bolt.hardware_key(field) for field in _UNDER),
                 "transom.skin_inside", "transom.core", *plate_keys(report, bolt))  # fmt: skip
        limits, mounts = report.design.limits, (bolt.mount_index,)
        report.add("clamp", bolt.at, limits.clamp, "ratio", strong, mounts, partial(once, "clamp", _clamp))
        report.add("pressure", bolt.at, limits.pressure, "ratio", (*torque, *under, "assumptions."), mounts,
                    partial(once, "pressure", _pressure))  # fmt: skip


def proof_load(bolt: Bolt) -> float:
    """Return the load that stretches a bolt for good [N], or 0.85 of its yield where no proof stress is published."""
    grade = fasteners.grade(bolt.hardware.grade)
    stress = OF_YIELD * grade.yield_strength if grade.proof is None else grade.proof
    return bolt.thread.stress_area * stress


def _clamp(bolt: Bolt) -> Outcome:
    unit, hardware = bolt.design.units, bolt.hardware
    low, high = clamps(bolt)
    proof = proof_load(bolt)
    torque = force_units.torque(wrench_torque(bolt), unit)
    if high < CLOSE:  # less is better, but this is no clamp at all
        text = f"The drag of the {NAME} bolt's lock nut takes all of its {torque} wrench torque. Nothing clamps."
        return Outcome(high / proof, text, "Ask the motor's maker for a wrench torque that includes the drag.", "fouled")
    of = "proof load" if fasteners.grade(hardware.grade).proof else f"proof load (0.85 of {hardware.grade}'s yield)"
    text = (
        f"{torque} of wrench torque pulls the {NAME} bolt with {span(low, high, partial(force_units.force, unit=unit))}, "
        f"{shares(low / proof, high / proof)} of its {of}. {_capital(threads(bolt))}; {drag_words(bolt)}."
    )
    return Outcome(high / proof, text, _clamp_cure(bolt, high / proof, proof, unit))


def _clamp_cure(bolt: Bolt, value: float, proof: float, unit: Unit) -> str | None:
    limits = bolt.design.limits.clamp
    if value <= limits[1] + CLOSE:
        return None
    at = [force_units.torque(_torque(bolt, proof, share), unit, down=True) for share in limits]
    limit = "" if value <= limits[0] + CLOSE else f", limit {at[0]}"
    advised = f"Advised wrench torque for the {bolt.hardware.bolt} bolt: {at[1]} or less{limit}."
    return f"{advised} Or use a higher grade. On torque, the motor's manual comes first."


def threads(bolt: Bolt) -> str:
    """Say the state of the threads and their friction: "threads lubricated (friction 0.14 to 0.18, …)"."""
    low, high = frictions(bolt)
    word = band_of(low, high)
    if word:
        return f"threads {'with anti-seize' if word == 'anti-seize' else word} (friction {low:g} to {high:g}, common practice)"
    return f"friction {low:g} to {high:g}"


def drag_words(bolt: Bolt) -> str:
    """Say the share of drag in a wrench torque: "of the torque 0 to 17 lb-ft is the lock nut's drag (...)"."""
    taken, say = drag(bolt), partial(force_units.torque, unit=bolt.design.units)
    match taken.known:
        case "no lock nut":
            return "the nut has no drag"
        case "measured":
            return f"of the torque {say(taken.least)} is the lock nut's drag (measured)"
        case "published":
            return f"of the torque 0 to {say(taken.most or 0.0)} is the lock nut's drag (not measured; highest published)"
        case _:
            return "the lock nut's drag is not measured, and none is published for this nut"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def span(low: float, high: float, say: Callable[[float], str]) -> str:
    """Say a range: "4670 to 6010 lbf", or "up to 6010 lbf" where the least is nothing."""
    first, last = say(low), say(high)
    if low < CLOSE:
        return f"up to {last}"
    return last if first == last else f"{first.rsplit(' ', 1)[0]} to {last}"


def shares(low: float, high: float) -> str:
    """Say a range of ratios, the higher one rounded up: "0.59 to 0.77", "up to 0.77"."""
    return f"up to {round_up(high)}" if low < CLOSE else f"{low:.2f} to {round_up(high)}"


def round_up(ratio: float) -> str:
    """Say a ratio that must not exceed a limit, rounded up."""
    return f"{math.ceil(ratio * 100 - CLOSE) / 100:.2f}"


def core_supports(bolt: Bolt) -> float | None:
    """Return the pressure that the core supports under a washer [N/mm2]: as entered, else from the table; None: not known."""
    transom = bolt.design.transom
    return materials.supported_pressure(transom.core, transom.core_state) if transom.core_bears is None else transom.core_bears


def _pressure(bolt: Bolt) -> Outcome:
    unit, transom, most = bolt.design.units, bolt.design.transom, core_supports(bolt)
    if most is None:
        text = f"The pressure under the {NAME} washer is not checked: the core's material is not known."
        return Outcome(None, text, "Drill a pilot hole, and see if the core is wood, foam or solid laminate.", "note")
    whole = area_of(bolt, whole=True)
    left = whole if bolt.hardware.washer.flat_cut is None else area_of(bolt)
    part = "washer" if bolt.plate is None else "backing plate"
    if left <= 0:
        text = f"No part of the {NAME} {part} rests on the core around the hole."
        reach = "Make the backing plate reach further beyond the hole, or relieve it less."
        return Outcome(None, text, "Use a wider washer." if bolt.plate is None else reach, "fouled")
    low, high = (force / whole for force in clamps(bolt))
    whose = "as entered" if transom.core_bears is not None else f"{_wood(transom.core, transom.core_state)}, our assumption"
    value, cut = high / most, high / most * whole / left
    said, range_ = span(low, high, partial(force_units.pressure, unit=unit)), shares(low / most, value)
    borne = f"{force_units.pressure(most, unit)} that it supports ({whose})"
    least, easy = bolt.design.limits.pressure
    if value <= least + CLOSE < cut:
        text = (
            f"Cut flat, the {NAME} washer presses the core with {round_up(cut)} times what it supports; the limit is "
            f"{least:g}. "
            f"The whole washer, which the limit is for, would press with {said}. That is {range_} times the {borne}."
        )
    else:
        with_it = f", {round_up(cut)} with the flat cut" if cut > value + CLOSE else ""
        text = f"The {NAME} {part} presses the core with {said}. That is {range_} times the {borne}{with_it}."
    if bolt.hardware.spacer is None and stiffness(*_washer(bolt)) < bolt.design.limits.washer_stiff[0] - CLOSE:
        text = f"{text} The washer bends, so only its middle counts."
    return Outcome(value, text, _pressure_cure(bolt, left, cut=left < whole - CLOSE) if cut > easy + CLOSE else None)


def _wood(core: str, state: str) -> str:
    if state == "unknown":
        return f"{core}, if it is dry"
    return f"{state} {core}"


def may_be_wet(transom: Transom) -> bool:
    """Return whether a core of unknown wetness counts as dry. A wet one supports half."""
    return transom.core_bears is None and transom.core_state == "unknown" and materials.core(transom.core).wood


class Allowed(msgspec.Struct, frozen=True):
    """The wrench torques that the core allows under one washer [N m].

    ``easy`` presses with what the core supports, ``most`` with the limit.
    """

    name: str
    outer: float
    easy: float
    most: float


def allowed(bolt: Bolt) -> tuple[Allowed, ...]:
    """Return the wrench torques that the core allows with the present washer and each wider published one, narrowest first.

    With the lowest friction and the least drag, which is none where it was not measured. Without backing plate or spacer.
    A flat cut keeps its place, since the obstacle does.

    Raises:
        Unmeasured: a size, a nut factor or the pressure that the core supports is not known.
    """
    outer, thickness = _washer(bolt)
    wider: dict[float, fasteners.FlatWasher] = {}
    for washer in fasteners.washers(bolt.hardware.bolt):
        if washer.outer > outer + 0.1:
            wider.setdefault(washer.outer, washer)
    at_hand = _allowed(bolt, "the washer at hand", outer, thickness)
    return (at_hand, *(_allowed(bolt, wider[size].name, size, wider[size].thickness) for size in sorted(wider)))


def _washer(bolt: Bolt) -> tuple[float, float]:
    """Return the inside washer's width and thickness [mm]."""
    washer, key = bolt.hardware.washer, bolt.hardware_key
    return need(washer.outer, key("washer.outer")), need(washer.thickness, key("washer.thickness"))


def _allowed(bolt: Bolt, name: str, outer: float, thickness: float, plate: float = 0.0) -> Allowed:
    """Return the torques for one washer. A flat cut also limits a backing plate, which cannot reach further than the washer."""
    skin = need(bolt.design.transom.skin_inside, "transom.skin_inside")
    reach = spread_for_each(bolt.design)
    across = inside_across(bolt, outer, thickness) + 2 * reach * plate
    easy, most = _torques(bolt, pressed_area(across, bolt.hole, reach * skin, bolt.hardware.washer.flat_cut))
    return Allowed(name, outer, easy, most)


def _torques(bolt: Bolt, area: float) -> tuple[float, float]:
    """Return the wrench torques at which an area of core supports the clamp easily, and at the most [N m]."""
    force = need(core_supports(bolt), "transom.core_bears") * area
    most, easy = bolt.design.limits.pressure
    return _torque(bolt, force, easy), _torque(bolt, force, most)


def torque_at_most(bolt: Bolt, check: str) -> float:
    """Return the wrench torque at which a bolt's clamp or pressure, with its flat cut, reaches its least limit [N m].

    On the safe side: with the lowest friction and the least drag.

    Raises:
        Unmeasured: a reading behind it is not known.
    """
    if check == "clamp":
        return _torque(bolt, proof_load(bolt), bolt.design.limits.clamp[0])
    return _torques(bolt, area_of(bolt))[1]


def presses_too_hard(bolt: Bolt) -> bool:
    """Return whether a bolt presses the core too hard, its flat cut included; False where that is not known."""
    try:
        return (bolt.hardware.torque or 0.0) > torque_at_most(bolt, "pressure") + CLOSE
    except Unmeasured:
        return False


def with_plate(bolt: Bolt) -> Allowed:
    """Return the wrench torques that the core allows with a quarter-inch backing plate under the present washer.

    Raises:
        Unmeasured: see `allowed`.
    """
    unit = bolt.design.units
    name = f"the same on a backing plate of {format_length(PLATE[unit], unit)}"
    return _allowed(bolt, name, *_washer(bolt), PLATE[unit])


def post(bolt: Bolt) -> float:
    """Return the force that the epoxy around a bolt supports in a filled and redrilled hole [N]: σ π/4 (D² - hole²).

    D is the diameter of the bored-out core, see `core_bore`.

    Raises:
        Unmeasured: the hole is not known.
    """
    return bolt.design.assumptions.epoxy * math.pi / 4 * (core_bore(bolt) ** 2 - bolt.hole**2)


def post_words(bolt: Bolt) -> str:
    """Say how an epoxy-filled hole supports the bolt's pull; "" for a core that is not bored out.

    Raises:
        Unmeasured: the hole, the torque or the friction is not known.
    """
    core, unit = bolt.design.transom.core, bolt.design.units
    if not materials.is_bored_out(core):
        return ""
    if core == "foam":
        return "foam needs a solid core at each bolt: in foam an epoxy post touches only the two skins"
    alone, (_, pulled) = post(bolt), clamps(bolt)
    carried = f"all {force_units.force(pulled, unit)}" if alone >= pulled else (
        f"{force_units.force(alone, unit, down=True)} of the {force_units.force(pulled, unit)}")  # fmt: skip
    unsure = ", unless the core is foam" if core == "unknown" else ""
    return (
        f"a hole bored out to {format_length(core_bore(bolt), unit)}, filled with epoxy and drilled again carries {carried} "
        f"that the bolt pulls at this torque{unsure}"
    )


def _pressure_cure(bolt: Bolt, pressed: float, *, cut: bool) -> str:
    """Say how to ease the core: less torque, a wider washer, a backing plate, or an epoxy-filled hole, each with its figure.

    Args:
        pressed: the area of core [mm2]. cut: whether a flat cut makes it smaller.
    """
    unit, hardware, transom = bolt.design.units, bolt.hardware, bolt.design.transom
    cures = ["dry or renew the wet core first"] if transom.core_state == "wet" else []
    say = partial(force_units.torque, unit=unit, down=True)
    flat = ", its flat cut counted," if cut else ""
    if bolt.plate is None and hardware.spacer is None:
        now, *wider = allowed(bolt)
        cures.append(f"with this washer{flat} the advised wrench torque is {say(now.easy)}, the limit {say(now.most)}")
        best = max(wider, key=lambda option: option.most, default=None)  # a wide, thin one bends, and allows less
        enough = next((option for option in wider if option.easy >= (hardware.torque or 0.0)), best)
        if enough is not None and enough.most > now.most + CLOSE:
            size = f"{format_length(enough.outer, unit)} across{', cut alike,' if cut else ''}"
            cures.append(f"with one {size} the limit is {say(enough.most)}")
        cures.append(f"with a {format_length(PLATE[unit], unit)} backing plate the limit is {say(with_plate(bolt).most)}")
    else:
        easy, most = _torques(bolt, pressed)
        cures.append(f"the core's advised wrench torque is {say(easy)}, the limit {say(most)}")
    if may_be_wet(transom):
        cures.append("half of all this if the core is wet")
    cures.extend(filter(None, (post_words(bolt),)))
    cures.append("on torque, the motor's manual comes first")
    return " ".join(f"{_capital(cure)}." for cure in cures)


def _torque(bolt: Bolt, force: float, ratio: float) -> float:
    """Return the wrench torque [N m] at which a bolt pulls ``ratio`` of a force [N], at lowest friction and least drag."""
    low, _ = frictions(bolt)
    return torque_for(ratio * force, low, bolt.thread.diameter) + drag(bolt).least
