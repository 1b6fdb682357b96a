"""The work on the shop sheet: cautions before it, then its steps in order, each with the gate after it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.decide.amounts_to_buy import has_wood
from geometry.decide.old_holes import plugs_drilled_through, reused_by
from geometry.drilling.pilot_circle import in_steps, pilot_circle
from geometry.judge.reporter import Reporter
from geometry.solid.faces import Unmeasured
from geometry.solid.openings import openings
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.solving.solved import solved
from geometry.units.height_words import hole_from_top
from templates_out.drawing.fonts import writable
from templates_out.drawing.printer import bar_exactness
from templates_out.drawing.sheet_figures import across, below, both, unbroken
from templates_out.layout.pilot_reading import pilot_words
from templates_out.layout.taped_pieces import TITLE as TAPED
from templates_out.pages.shop.shop_figures import both_units, size_of
from templates_out.pages.shop.shop_fitting import LOCK, UNDER, core, dry_fit, hanging, tightening_and_launch
from templates_out.pages.shop.shop_holes import known, stage_sizes, stages
from templates_out.pages.shop.shop_old_holes import foam, old_holes
from templates_out.pages.shop.shop_step import Step

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.judge.drillable import FirstPilot
    from geometry.solid.openings import Opening

CAUTIONS = (
    "The motor maker’s manual, the boat’s capacity plate, local codes and a licensed rigger come before this sheet. Where "
    "they differ from it, follow them. Where the law asks for a licensed technician, have one do fuel and steering.",
    "Never stand under a hoisted motor. Never run or lift a motor on bolts that are not torqued. Have a second person hold "
    "the motor. Work in calm water. Use a lifting eye and a tag line. Air out fuel fumes before any spark. Use no grinder in "
    "the well.",
    "Protect your eyes and ears. Wear gloves, and a mask against glass dust and resin. Hold the drill with both hands: it "
    "kicks as it breaks through. Stainless threads can seize. Lubricate them and turn them slowly, by hand.",
    "Nobody can undo a drilled hole. This sheet knows only what you measured. Take each deciding reading twice.",
)
_CHIPS = "if chips are wet or dark."
_WOOD_INSIDE = "Press a block of wood to the inside."


def work(design: Design, pilot: FirstPilot | None = None) -> tuple[Step, ...]:
    """Return the steps in order.

    Args:
        pilot: the one that is drilled by the sheet. The work then ends with its reading.
    """
    if not bolts(design):
        return tuple(_clamped(design))
    if pilot is not None:
        return (*_before(), *foam(design), *_paper(design), *_to_the_pilot(design, pilot))
    return (
        *_before(), *foam(design), *_headed("Old holes", old_holes(design)), *_paper(design), *_drilling(design),
        *core(design), *dry_fit(design), *hanging(design), *tightening_and_launch(design),
    )  # fmt: skip


def _headed(head: str, steps: Iterator[Step]) -> Iterator[Step]:
    """Yield steps under a heading, if there are any."""
    for number, step in enumerate(steps):
        yield step if number else step._replace(head=head)


def _before() -> Iterator[Step]:
    """Yield what is looked at and taken off before any work on the transom."""
    yield Step("Tap the transom with a hammer. Look into every old hole. Rock the lower unit of any old motor.",
               "if the transom gives, weeps or sounds dull.", ("hammer", "light"), "Before you start")  # fmt: skip
    yield Step("Chock the boat. Switch the battery off. Turn the fuel off and drain the line into a can.",
               "if you smell fuel. Air it out before any spark.", ("chocks", "fuel can"))  # fmt: skip
    yield Step(
        "Label cables and hoses and take them off. Lift the old motor off by its lifting eye, with a hoist and a tag line. "
        f"{UNDER}",
        uses=("labels", "hoist"),
    )
    yield Step("Clean the transom with solvent on both faces. Put masking tape where you will drill.",
               uses=("solvent", "masking tape"))  # fmt: skip


def _to_the_pilot(design: Design, pilot: FirstPilot) -> Iterator[Step]:
    """Yield the one pilot, and how it is read."""
    said = pilot_words(design, pilot)
    washer = ("inside washers",) if pilot.to == "washer mark" else ()
    yield Step(
        f"Punch the dot of the {pilot.hole} hole only. {said.drill} Use the guide block. {_WOOD_INSIDE}", _CHIPS,
        ("awl", "pilot drill", "guide block", "wood block", "masks"), "Drill the one pilot",
    )  # fmt: skip
    yield Step(said.read, uses=("rule", *washer))
    yield Step(
        f"{said.blank}: ______ {said.unit}. {said.should_be}".rstrip(),
        "if it is off by more. Read it again, without a look at the first figure. If it is still off, take the floor from it.",
    )
    yield Step(f"{said.then} {said.final}".rstrip(), "here. Drill on only by the next revision of these sheets.")


def _paper(design: Design) -> Iterator[Step]:
    unit = design.units
    yield Step(
        "Print the template at 100 %. Measure both bars on each sheet.",
        f"if a bar is off by more than {unbroken(bar_exactness(unit))}. Type in its length, then print again.",
        ("rule",), "Paper",
    )  # fmt: skip
    yield Step(
        "Cut and join the sheets. Hook the fold over the top edge. Tape the paper to the outside, PORT on your left. Fill in "
        f"{TAPED}.",
        "if a figure there is outside its limits.", ("scissors", "rule", "masking tape"),
    )  # fmt: skip
    reused = [writable(old.name) for old in reused_by(design).values()]
    if reused:
        names = ", ".join(reused)
        rings = f"Look at the template’s target rings. Each is around its reused hole: {names}."
        yield Step(rings, "if a hole is off its ring.")
    yield Step(
        "Tape up the inside sheet, or hold washers and socket where the bolts will come out. Compare floor, corner and blocks "
        "with the drawing.",
        "if they differ. Measure again, type it in, print again.", ("masking tape",),
    )  # fmt: skip


def _drilling(design: Design) -> Iterator[Step]:
    """Yield lock and tilt, the first pilot with its gate, the other pilots, the final sizes. A reused hole has no pilot."""
    every, reused = bolts(design), reused_by(design)
    yield Step(
        f"Before you drill, hoist the motor to its marks by the lifting eye, with a tag line. {UNDER} {LOCK}",
        "if it touches the well. Hang it higher or stop its tilt sooner.", ("hoist",), "Drill",
    )  # fmt: skip
    yield _laid_on(design)
    yield from _through_plugs(design, every)
    new = [bolt for bolt in every if bolt.at not in reused]
    if new:
        yield from _pilots(design, new)
    again = [bolt for bolt in every if bolt.at in reused]
    if again:
        sizes = " or ".join(dict.fromkeys(known(lambda bolt=bolt: both_units(bolt.hole, design.units)) for bolt in again))  # type: ignore[misc]
        yield Step(
            f"Drill no pilot in a reused hole: {_places(again)}. Open it to {sizes} from outside. {_WOOD_INSIDE}", _CHIPS,
            ("step drills", "wood block", "masks"),
        )  # fmt: skip
    for opening in openings(design):
        size = both_units(opening.diameter, design.units)
        verb = f"Open {writable(opening.name)} to {size}" if opening.is_there else f"Drill {size} for {writable(opening.name)}"
        place = known(lambda opening=opening: _middle(opening, design))  # type: ignore[misc]
        wood = has_wood(design)
        tools = ("opening cutters", "wood block", "masks", *(("epoxy",) if wood else ()))
        coat = " Coat its bare wood with thickened epoxy." if wood else ""
        yield Step(f"{verb}, square to the face. Its middle is {place}. {_WOOD_INSIDE}{coat}", _CHIPS, tools)


def _laid_on(design: Design) -> Step:
    """Return the look through the bracket at the fit rings of the template: a tape does not show 1 mm of a hole's place."""
    rows = {mount.row for mount in design.mounts if mount.bracket.rows is not None}
    row = rows.pop() if len(rows) == 1 else None
    which = "hole in use" if row is None else hole_from_top(row)
    return Step(
        f"Lay its bracket flat on the template, its {which} on the upper crosses. Through each hole and slot, all of the "
        "dotted ring shows. Can’t you see through? Rub its holes onto paper, cut them out, and lay that on, rubbed side down.",
        "if the bracket covers a part of a ring, on a second try too. Do not punch. Measure its holes, type them in, print "
        "again.",
        ("scissors",),
    )  # fmt: skip


def _middle(opening: Opening, design: Design) -> str:
    u, v = opening.at
    return f"{across(u, design.units)} and {below(v, design.units)}"


def _through_plugs(design: Design, every: tuple[Bolt, ...]) -> Iterator[Step]:
    """Yield a look at the plugs that new holes go through: epoxy is hard before any drill goes in."""
    cut = {at for way in plugs_drilled_through(design).values() for at in way.bolts}
    through = [bolt for bolt in every if bolt.at in cut]
    if through and design.transom.core != "aluminium":
        yield Step(
            f"These new holes go through a plug: {_places(through)}. Fill, cure, then drill. Press a thumbnail into each plug.",
            "if a plug takes a mark. Let it cure as long as its label says.",
        )


def _pilots(design: Design, new: list[Bolt]) -> Iterator[Step]:
    """Yield the pilots of the new holes, a lower one first, and their final sizes."""
    unit = design.units
    first = [bolt for bolt in new if not bolt.upper] or new
    tilted = any(bolt.tilt for bolt in first if _tilt_known(bolt))
    line = "along the gauge" if tilted else "square to the face"
    finals = [bolt.hardware.hole for bolt in new if bolt.hardware.hole is not None]
    pilot = size_of(stage_sizes(min(finals), unit)[0], unit) if finals else "the pilot’s size"
    tools = ("awl", "pilot drill", "guide block", "mirror", "masks", *(("angle gauge",) if tilted else ()))
    yield Step(
        f"Punch the dots. Drill one {first[0].pair} pilot, {pilot}, {line}, with a guide block. Look inside.",
        f"{_first_gate(design, first)}.", tools,
    )  # fmt: skip
    others = "Drill the other pilots, then" if len(new) > 1 else "Drill on with"
    sizes = " or ".join(stages(design, pilot=False)) or "the final size"
    yield Step(f"{others} {sizes}. {_WOOD_INSIDE}", _CHIPS, ("step drills", "wood block"))


def _tilt_known(bolt: Bolt) -> bool:
    return (bolt.mount.upper_tilt if bolt.upper else bolt.mount.lower_tilt) is not None


def _first_gate(design: Design, first: list[Bolt]) -> str:
    """Say how far off the first pilot may come out, and what to do then. The program has an entry for each reading."""
    unit, report = design.units, Reporter(solved(design))
    then = "Fill it with epoxy. Measure thickness, rake and floor again. Type them in, then print again"
    try:
        circles = [pilot_circle(report, bolt) for bolt in first]
    except Unmeasured:
        return f"if it comes out beyond the dotted circle of the inside sheet. {then}"
    sizes = [circle for circle in circles if circle is not None]
    if len(sizes) < len(circles):
        return f"before you drill. A pilot that is a little off has too little room. {_raise(first)}"
    within = unbroken(both(in_steps(min(sizes), unit), unit))
    return f"if it comes out more than {within} from its place, beyond the dots of the inside sheet. {then}"


def _raise(first: list[Bolt]) -> str:
    return "Raise the bolts first" if not first[0].upper else "Move the bolts first"


def _places(some: list[Bolt]) -> str:
    """Name bolts by their places, with their motor where there are several."""
    several = len(some[0].design.mounts) > 1
    return ", ".join(f"{writable(bolt.mount.name)}, {bolt.name}" if several else bolt.name for bolt in some)


def _clamped(design: Design) -> Iterator[Step]:
    """Yield the steps for motors that clamp on, or for none."""
    if not design.mounts:
        return
    yield Step(
        "Tap the transom with a hammer where the screws press. Glue a hard pad on each side, its edge well above the screws.",
        "if the transom gives, weeps or sounds dull.", ("hammer", "clamp pads"),
    )  # fmt: skip
    yield Step(
        "Have a second person help you hang the motor. Tighten both screws alike, by hand. Tie the motor to the boat with a "
        "lanyard or chain, always.", uses=("lanyard",),
    )  # fmt: skip
    yield Step(
        "Run the motor for ten minutes. Tighten the screws again. Look at them before every trip: pads creep.",
        "if the motor has moved.",
    )
