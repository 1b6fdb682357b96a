"""What the shop sheet says of the work itself: cautions before it, and its steps with their gates."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from geometry.decide.old_holes import crowded, old_hole_plans, reused_by
from geometry.decide.quantities import has_wood, plug, plugs, potting, to_plug, too_wide
from geometry.design.design import Design
from geometry.design.units import Unit, format_length
from geometry.doubt.pilot_circle import in_steps, pilot_circle
from geometry.judge.report import Reporter
from geometry.judge.wood import core_bore
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import both, unbroken
from templates_out.layout.frame import bar_exactness
from templates_out.pages.shop.shop_buy import millilitres, net
from templates_out.pages.shop.shop_holes import NOT_KNOWN, known, stage_sizes, stages

Step = tuple[str, str]  # what to do; the gate after it, or ""

CAUTIONS = (
    "The motor maker’s manual, the boat’s capacity plate, local codes and a licensed rigger come before this sheet: "
    "where they say otherwise, they are right. Fuel and steering are a licensed technician’s where the law says so.",
    "Never stand under a hoisted motor, and never run or lift one on bolts that are not torqued. Two people, calm "
    "water, lifting eye and tag line. Battery off; fuel vapour out before any spark; no grinder in the well.",
    "Eyes and ears covered; gloves, and a mask for glass dust and resin. The drill kicks as it comes through: hold it with "
    "both hands. Stainless threads gall: lubricate them and turn slowly, by hand.",
    "Four holes can’t be undrilled. What this sheet knows is what was measured: read twice whatever decides.",
)


def work(design: Design) -> tuple[Step, ...]:
    """Return the steps in order."""
    if not bolts(design):
        return tuple(_clamped(design))
    return (
        ("Sound the transom with a hammer, look into every old hole, rock the lower unit.",
         "if it gives, weeps or sounds dull."),
        *_foam(design), *_old_holes(design), *_paper(design), *_drilling(design), *_sealing(design),
        ("Dry fit every bolt from its own side, with the bracket or a board drilled from this template.",
         "if a bolt does not go in by hand, a washer rocks, or no thread shows beyond the nut."),
        *_hanging(design),
        ("Tighten by the page on torque, the same day, before the sealant cures. A stripe of paint over bolt, nut and washer.",
         ""),
        ("Full lock both ways, full tilt: nothing strikes, no hose or cable pulls.", "if anything touches."),
        ("Launch light. Look at every bolt and at the well, then run slowly. Check again as the page on torque says.",
         "if it weeps, or a stripe has moved."),
    )  # fmt: skip


def _foam(design: Design) -> Iterator[Step]:
    if design.transom.core == "foam":
        yield (
            "Have a solid core put in where the bracket goes. Cut out the foam; bond in wood or solid laminate between the "
            "skins. Foam does not support a nut’s pull, and in foam an epoxy post stands alone between the two skins.",
            "if the core at any bolt is still foam.",
        )


def _old_holes(design: Design) -> Iterator[Step]:
    if design.transom.core == "aluminium" and to_plug(design):
        yield "Old holes first: no epoxy plug carries load in aluminium. They are a welder’s, core out first.", ""
    elif to_plug(design):
        bores = ", ".join(
            f"{writable(design.old_holes[index].name)} to {known(partial(_bore, design, index))}" for index in to_plug(design)
        )
        amount = known(lambda: f"{net(plugs(design))}: mix {millilitres(plugs(design).mix)}")
        takes = "" if amount == NOT_KNOWN else f" Takes {amount}."
        yield (
            f"Old holes first. Bore out {bores}. Dry; wet the wood with neat epoxy, fill with thickened from low to high, "
            f"cure, fair.{takes}",
            "if the wood is wet or soft more than 1 in (25 mm) round a hole: a new core comes first.",
        )
    crowd = crowded(design)
    if crowd:
        names = ", ".join(writable(name) for name in crowd)
        yield f"{_capital(names)} stand within 4 in (100 mm) of each other: a repair of its own, laminate over all of them.", ""
    for index in too_wide(design):
        name = _capital(writable(design.old_holes[index].name))
        yield f"{name} is too wide for a plug: a disc let in, a repair of its own.", ""
    again = [plan for plan in old_hole_plans(design) if plan.kind == "may be used again"]
    if again:
        told = ", ".join(f"{writable(plan.name)} by the {plan.bolt} bolt" for plan in again)
        yield f"May be used again instead of filled: {told}. Say so on the card, print again.", ""


def _bore(design: Design, index: int) -> str:
    filled = plug(design, index)
    if not filled.run:
        return _both(filled.bore, design.units)
    size = f"{_size(filled.bore, design.units)} × {_size(filled.bore + filled.run, design.units)}"
    return f"a long plug of {size}, the {filled.bolt} hole wholly in it"


def _paper(design: Design) -> Iterator[Step]:
    unit = design.units
    yield (
        "Print the template at 100 %. Measure both bars on each sheet.",
        f"if a bar is off by more than {unbroken(bar_exactness(unit))}: type in what it reads, print again.",
    )
    yield (
        "Cut, join, hook the fold over the top edge, tape: outside, PORT on your left. Do every check on the paper.",
        f"if the two diagonals differ by more than {_both(0.8, unit)}.",
    )
    reused = [writable(old.name) for old in reused_by(design).values()]
    if reused:
        names = ", ".join(reused)
        yield f"Look at the template’s target rings. Each is round its reused hole: {names}.", "if a hole is off its ring."
    yield (
        "Tape the inside sheet up, or hold washers and socket where the bolts will come out: floor, corner, blocks as drawn?",
        "if not: read it again, type it in, print again.",
    )


def _drilling(design: Design) -> Iterator[Step]:
    """The first pilot with its gate, the other pilots, then the final sizes; a reused hole has no pilot."""
    every, reused = bolts(design), reused_by(design)
    new = [bolt for bolt in every if bolt.at not in reused]
    if new:
        yield from _pilots(design, new)
    again = [bolt for bolt in every if bolt.at in reused]
    if again:
        sizes = " or ".join(dict.fromkeys(known(lambda bolt=bolt: _both(bolt.hole, design.units)) for bolt in again))  # type: ignore[misc]
        yield (
            f"Reused, no pilot: {_places(again)}. Open to {sizes} from outside, wood held against the inside.",
            "if chips are wet or dark.",
        )


def _pilots(design: Design, new: list[Bolt]) -> Iterator[Step]:
    """The pilots of the new holes, a lower one first, and their final sizes."""
    unit = design.units
    first = [bolt for bolt in new if not bolt.upper] or new
    line = "along the gauge" if any(bolt.tilt for bolt in first if _tilt_known(bolt)) else "square to the face"
    finals = [bolt.hardware.hole for bolt in new if bolt.hardware.hole is not None]
    pilot = _size(stage_sizes(min(finals), unit)[0], unit) if finals else "the pilot’s size"
    yield (
        f"Punch the dots. Drill one {first[0].pair} pilot, {pilot}, {line}, with a guide block. Look inside.",
        f"{_first_gate(design, first)}.",
    )
    others = "The other pilots, then" if len(new) > 1 else "Then"
    sizes = " or ".join(stages(design, pilot=False)) or "the final size"
    yield f"{others} {sizes}. Wood held against the inside.", "if chips are wet or dark."


def _tilt_known(bolt: Bolt) -> bool:
    return (bolt.mount.upper_tilt if bolt.upper else bolt.mount.lower_tilt) is not None


def _first_gate(design: Design, first: list[Bolt]) -> str:
    """Say how far off the first pilot may come out, and what to do then: all of it has an entry in the program."""
    unit, report = design.units, Reporter(design)
    then = "fill it with epoxy, measure thickness, rake and floor again, type them in, print again"
    try:
        circles = [pilot_circle(report, bolt) for bolt in first]
    except Unmeasured:
        return f"if it comes out beyond the dotted circle of the inside sheet: {then}"
    sizes = [circle for circle in circles if circle is not None]
    if len(sizes) < len(circles):
        return f"before you drill: too little room for a pilot that is a little off. {_raise(first)}"
    within = unbroken(both(in_steps(min(sizes), unit), unit))
    return f"if it comes out more than {within} from its place, beyond the dots of the inside sheet: {then}"


def _raise(first: list[Bolt]) -> str:
    return "Raise the bolts first" if not first[0].upper else "Move the bolts first"


def _places(some: list[Bolt]) -> str:
    """Name bolts by their places, with their motor where there are several."""
    several = len(some[0].design.mounts) > 1
    return ", ".join(f"{bolt.name}, {writable(bolt.mount.name)}" if several else bolt.name for bolt in some)


def _sealing(design: Design) -> Iterator[Step]:
    if not has_wood(design):
        sealing = "Chamfer both ends of every bore, clear it of dust and swarf"
        if design.transom.core == "aluminium":
            yield f"{sealing}. No epoxy carries load in aluminium: what is to be filled is a welder’s, core out first.", ""
        else:
            yield f"{sealing}; coat cut laminate with neat epoxy.", ""
        return
    every = bolts(design)
    widths = list(dict.fromkeys(known(lambda bolt=bolt: _both(core_bore(bolt), design.units)) for bolt in every))  # type: ignore[misc]
    wide = " or ".join(widths) if NOT_KNOWN not in widths else "twice the bolt’s diameter"
    amount = known(lambda: f"{net(potting(design))}: mix {millilitres(potting(design).mix)}")
    takes = "" if amount == NOT_KNOWN else f" Takes {amount}."
    yield (
        f"Bore the core of each hole out to {wide}, the outer skin left at its drilled size. Wet with neat epoxy, fill with "
        f"thickened, cure, drill to size again. Chamfer both ends for a collar of sealant.{takes}",
        "if the bore is not dry and hard all round.",
    )


def _hanging(design: Design) -> Iterator[Step]:
    """Which bolt goes in when, and from where."""
    every = bolts(design)
    before = [bolt for bolt in every if bolt.hardware.inserted_from == "before hanging"]
    outside = [bolt for bolt in every if bolt.hardware.inserted_from == "outside"]
    inside = [bolt for bolt in every if bolt.hardware.inserted_from == "inside"]
    if before:
        yield (
            f"Before it hangs: {_pairs(before)} into the bracket, heads aft, taped to stay. Later there is no room for them.",
            "",
        )
    doubtful = [bolt for bolt in outside if _room_aft(bolt) is None]
    if doubtful:
        yield (
            f"Room behind the bracket is not known: try {_pairs(doubtful)} in it now. What can’t go in once it hangs goes in "
            "first.",
            "",
        )
    yield (
        "Hoist the motor to its marks: lifting eye, tag line, nobody under it. Sealant in each bore, round each shank, under "
        "each inside washer or plate.",
        "",
    )
    cut = [bolt for bolt in every if bolt.hardware.washer.flat_cut is not None]
    if cut:
        yield f"Washers cut flat, under {_pairs(cut)}: the flat down, along the floor. Mark them.", "if one has turned."
    if before:
        yield f"Guide {_pairs(before)} through as it comes home; washers and nuts inside.", ""
    if outside:
        first = ", the upper pair first" if len({bolt.pair for bolt in outside}) == 2 else ""
        yield f"{_capital(_pairs(outside))} in from outside{first}: one holds heads outside, one puts on nuts inside.", ""
    if inside:
        yield f"{_capital(_pairs(inside))} in from inside, heads in the well; outside washers and nuts outside.", ""


def _room_aft(bolt: Bolt) -> float | None:
    room = bolt.mount.bracket.room_aft
    return None if room is None else (room.upper if bolt.upper else room.lower)


def _pairs(some: list[Bolt]) -> str:
    pairs = list(dict.fromkeys(bolt.pair for bolt in some))
    return "all the bolts" if len(pairs) == 2 else f"the {pairs[0]} bolts"


def _clamped(design: Design) -> Iterator[Step]:
    """The steps for motors that clamp on, or for none."""
    if not design.mounts:
        return
    yield ("Sound the transom with a hammer where the screws press. Glue a hard pad on each side, its edge well above the "
           "screws.", "if it gives, weeps or sounds dull.")  # fmt: skip
    yield "Hang the motor, two people. Screws hand tight, both alike; lanyard or chain to the boat, always.", ""
    yield "Run ten minutes, tighten again. Look at the screws before every trip: pads creep.", "if the motor has moved."


def _size(mm: float, unit: Unit) -> str:
    return unbroken(format_length(mm, unit, denominator=64, style="paper"))


def _both(mm: float, unit: Unit) -> str:
    inches, metric = _size(mm, "in"), f"{mm:g} mm" if mm < 1 else _size(mm, "mm")
    return unbroken(f"{inches} ({metric})" if unit == "in" else f"{metric} ({inches})")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
