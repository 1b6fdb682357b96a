"""What the shop sheet says of the work itself: cautions before it, and its steps with their gates."""

from __future__ import annotations

from geometry.design.units import Unit, format_length
from geometry.design.whole import Design
from geometry.solid.bolts import bolts
from templates_out.sheets.shop_words import stages

CAUTIONS = (
    "The motor maker’s manual, the boat’s capacity plate, local codes and a licensed rigger come before this sheet: "
    "where they say otherwise, they are right. Fuel and steering are a licensed technician’s where the law says so.",
    "Never stand under a hoisted motor, and never run or lift one on bolts that are not torqued. Two people, calm "
    "water, lifting eye and tag line. Battery off; fuel vapour out before any spark; no grinder in the well.",
    "Eyes and ears covered, a mask for dust and resin. The drill kicks as it comes through: hold it with both hands.",
    "Four holes can’t be undrilled. What this sheet knows is what was measured: read twice whatever decides.",
)


def work(design: Design) -> tuple[tuple[str, str], ...]:
    """Return the steps in order as (what to do, the gate after it or "")."""
    unit = design.units
    plugs = any(old.state != "plugged" for old in design.old_holes)
    lower = [bolt for bolt in bolts(design) if not bolt.upper]
    tilted = any(bolt.tilt for bolt in lower if bolt.mount.lower_tilt is not None)
    sizes = " or ".join(stages(design, pilot=False)) or "the final size"
    pilot = _size(3.175 if unit == "in" else 3.0, unit)
    line = "along the gauge" if tilted else "square to the face"
    wet = "if chips are wet or dark."
    steps = [
        ("Sound the transom with a hammer, look into the old holes, rock the lower unit.",
         "if it gives, weeps or sounds dull."),
        ("Print the template at 100 %. Measure both bars on each sheet.",
         f"if a bar is off by more than {_both(0.25, unit)}: type in what it reads, print again."),
        ("Cut, join, hook the fold over the top edge, tape. Do every check on the paper.",
         f"if the diagonals differ by more than {_both(0.8, unit)}."),
        ("Hold washers and socket inside where the bolts will come out: floor, corner, blocks, all as drawn?",
         "if not: read it again, type it in, print again."),
        (f"Punch. Drill one lower pilot, {pilot}, {line}, with a guide block. Look inside.",
         f"if it comes out more than {_both(3.2, unit)} from its place: type it in, print again."),
        (f"The other pilots, then {sizes}. Wood held against the inside.", wet),
        ("Seal the bare wood in every bore with epoxy, let it cure, drill it clear again. Chamfer both faces.", ""),
        ("Dry fit all bolts with the bracket, or with a board drilled from this template.",
         "if a bolt does not go in by hand, or a washer rocks."),
        ("Hoist the motor to its marks: lifting eye, tag line, nobody under it.", ""),
        (f"{_bolts_in(design)}, upper pair first. Sealant in the bore, round the shank, under the inside washer.", ""),
        ("Torque as the motor’s manual says, in passes, crosswise: hold the head, turn the nut. Mark each nut.", ""),
        ("Full lock both ways, full tilt: nothing strikes, no hose pulls. Then launch light and look for leaks.", ""),
    ]  # fmt: skip
    if plugs:
        what = "Plug open and merely sealed old holes near the new ones: drilled clean, wood and epoxy."
        steps.insert(1, (what, "if wood round an old hole is soft."))
    return tuple(steps)


def _bolts_in(design: Design) -> str:
    ways = {bolt.hardware.inserted_from for bolt in bolts(design)}
    if ways == {"outside"}:
        return "Bolts in from outside"
    return "Bolts in from inside" if ways == {"inside"} else "Bolts in as the table of holes says"


def _size(mm: float, unit: Unit) -> str:
    return format_length(mm, unit, denominator=64, style="paper")


def _both(mm: float, unit: Unit) -> str:
    inches, metric = _size(mm, "in"), f"{mm:g} mm"
    return f"{inches} ({metric})" if unit == "in" else f"{metric} ({inches})"
