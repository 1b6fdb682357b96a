"""The work on the shop sheet: cautions before it, then its steps in order, each with the gate after it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from geometry.decide.amounts_to_buy import has_wood, plug, plugs, potting, to_plug, too_wide
from geometry.decide.old_holes import crowded, old_hole_plans, reused_by
from geometry.design.design import Design
from geometry.design.units import Unit, format_length
from geometry.doubt.pilot_circle import in_steps, pilot_circle
from geometry.judge.drillable import FirstPilot
from geometry.judge.report import Reporter
from geometry.judge.wood_at_holes import core_bore
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.solving.solved import solved
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import both, unbroken
from templates_out.layout.frame import bar_exactness
from templates_out.layout.pilot_reading import pilot_words
from templates_out.pages.shop.shop_buy import millilitres, net
from templates_out.pages.shop.shop_holes import NOT_KNOWN, known, stage_sizes, stages

Step = tuple[str, str]  # what to do; the gate after it, or ""

CAUTIONS = (
    "The motor maker’s manual, the boat’s capacity plate, local codes and a licensed rigger come before this sheet. Where "
    "they differ from it, follow them. Where the law asks for a licensed technician, have one do fuel and steering.",
    "Never stand under a hoisted motor. Never run or lift a motor on bolts that are not torqued. Have a second person hold "
    "the motor. Work in calm water. Use a lifting eye and a tag line. Switch the battery off. Air out fuel fumes before any "
    "spark. Use no grinder in the well.",
    "Protect your eyes and ears. Wear gloves, and a mask against glass dust and resin. Hold the drill with both hands: it "
    "kicks as it breaks through. Stainless threads can seize. Lubricate them and turn them slowly, by hand.",
    "Nobody can undo a drilled hole. This sheet knows only what you measured. Take each deciding reading twice.",
)
_CHIPS = "if chips are wet or dark."
_UNDER = "Let nobody stand under it."
_LOCK = "Turn it to full lock both ways. Tilt it fully at each lock."
_WOOD_INSIDE = "Press a block of wood to the inside."


def work(design: Design, pilot: FirstPilot | None = None) -> tuple[Step, ...]:
    """Return the steps in order.

    Args:
        pilot: the one that is drilled by the sheet. The work then ends with its reading.
    """
    if not bolts(design):
        return tuple(_clamped(design))
    if pilot is not None:
        return tuple(_to_the_pilot(design, pilot))
    return (
        ("Tap the transom with a hammer. Look into every old hole. Rock the lower unit.",
         "if the transom gives, weeps or sounds dull."),
        *_foam(design), *_old_holes(design), *_paper(design),
        (f"Before you drill, hoist the motor to its marks by the lifting eye, with a tag line. {_UNDER} {_LOCK}",
         "if it touches the well. Hang it higher or stop its tilt sooner."),
        *_drilling(design), *_sealing(design),
        ("Dry fit every bolt from the side that it goes in. Use the bracket, or a board drilled by this template.",
         "if a bolt does not go in by hand, a washer rocks, or no thread shows beyond the nut."),
        (f"Before any sealant, hoist the motor again, with the bolts in dry. Keep the hoist tight. {_UNDER} {_LOCK}",
         "if anything touches, or a hose or cable pulls."),
        *_hanging(design),
        ("Tighten as Torque on the nuts says, the same day, before the sealant cures. Paint a stripe over bolt, nut and "
         "washer.", ""),
        ("Launch with a light load. Look at every bolt and at the well. Run slowly. Check the torque of every nut at "
         "the times in As tightened.", "if water weeps in, or a stripe has moved."),
    )  # fmt: skip


def _to_the_pilot(design: Design, pilot: FirstPilot) -> Iterator[Step]:
    """Yield the work up to the one pilot, and how it is read."""
    said = pilot_words(design, pilot)
    yield ("Tap the transom with a hammer. Look into every old hole. Rock the lower unit.",
           "if the transom gives, weeps or sounds dull.")  # fmt: skip
    yield from _foam(design)
    yield from _paper(design)
    yield f"Punch the dot of the {pilot.hole} hole only. {said.drill} Use the guide block. {_WOOD_INSIDE}", _CHIPS
    yield said.read, ""
    yield (
        f"{said.blank}: ______ {said.unit}. {said.should_be}".rstrip(),
        "if it is off by more. Read it again, without a look at the first figure. If it is still off, take the floor from it.",
    )
    yield f"{said.then} {said.final}".rstrip(), "here. Drill on only by the next revision of these sheets."


def _foam(design: Design) -> Iterator[Step]:
    if design.transom.core == "foam":
        yield (
            "Have a solid core put in where the bracket goes. Cut out the foam. Bond wood or solid laminate between the skins. "
            "Foam does not support a nut’s pull. An epoxy post in foam touches only the two skins.",
            "if the core at any bolt is still foam.",
        )


def _old_holes(design: Design) -> Iterator[Step]:
    unit = design.units
    if design.transom.core == "aluminium" and to_plug(design):
        yield "Have a welder close the old holes, after the core is taken out. In aluminium no epoxy plug carries load.", ""
    elif to_plug(design):
        bores = ", ".join(
            f"{writable(design.old_holes[index].name)} to {known(partial(_bore, design, index))}" for index in to_plug(design)
        )
        yield (
            f"Fill the old holes first. Bore out {bores}. Dry the wood. Wet it with neat epoxy. Fill it with thickened epoxy, "
            f"from low to high. Let it cure. Fair it.{_takes(lambda: (net(plugs(design)), plugs(design).mix))}",
            f"if the wood is wet or soft more than {_round(25.0, unit)} around a hole. It needs a new core first.",
        )
    crowd = crowded(design)
    if crowd:
        names = _capital(", ".join(writable(name) for name in crowd))
        yield f"{names} are within {_round(100.0, unit)} of each other. Repair that area as one: laminate over all of them.", ""
    for index in too_wide(design):
        name = _capital(writable(design.old_holes[index].name))
        yield f"{name} is too wide for a plug. Have a disc let in.", ""
    again = [plan for plan in old_hole_plans(design) if plan.kind == "may be used again"]
    if again:
        names = ", ".join(f"{writable(plan.name)} by the {plan.bolt} bolt" for plan in again)
        yield f"You may use these again instead of filling them: {names}. Say so on the card, then print again.", ""


def _takes(amount: Callable[[], tuple[str, tuple[float, float]]]) -> str:
    """Say how much epoxy a step takes, and how much to mix; "" where that is not known."""
    try:
        needed, mix = amount()
    except Unmeasured:
        return ""
    return f" This takes {needed}: mix {millilitres(mix)}."


def _bore(design: Design, index: int) -> str:
    filled = plug(design, index)
    if not filled.run:
        return _both(filled.bore, design.units)
    size = f"{_size(filled.bore, design.units)} × {_size(filled.bore + filled.run, design.units)}"
    return f"a long plug of {size} with the whole {filled.bolt} hole in it"


def _paper(design: Design) -> Iterator[Step]:
    unit = design.units
    yield (
        "Print the template at 100 %. Measure both bars on each sheet.",
        f"if a bar is off by more than {unbroken(bar_exactness(unit))}. Type in its length, then print again.",
    )
    yield (
        "Cut and join the sheets. Hook the fold over the top edge. Tape the paper to the outside, PORT on your left. Do every "
        "check on the paper.",
        f"if the two diagonals differ by more than {_both(0.8, unit)}.",
    )
    reused = [writable(old.name) for old in reused_by(design).values()]
    if reused:
        names = ", ".join(reused)
        yield f"Look at the template’s target rings. Each is around its reused hole: {names}.", "if a hole is off its ring."
    yield (
        "Tape up the inside sheet, or hold washers and socket where the bolts will come out. Compare floor, corner and blocks "
        "with the drawing.",
        "if they differ. Measure again, type it in, print again.",
    )


def _drilling(design: Design) -> Iterator[Step]:
    """Yield the first pilot with its gate, the other pilots, then the final sizes. A reused hole has no pilot."""
    every, reused = bolts(design), reused_by(design)
    new = [bolt for bolt in every if bolt.at not in reused]
    if new:
        yield from _pilots(design, new)
    again = [bolt for bolt in every if bolt.at in reused]
    if again:
        sizes = " or ".join(dict.fromkeys(known(lambda bolt=bolt: _both(bolt.hole, design.units)) for bolt in again))  # type: ignore[misc]
        yield f"Drill no pilot in a reused hole: {_places(again)}. Open it to {sizes} from outside. {_WOOD_INSIDE}", _CHIPS


def _pilots(design: Design, new: list[Bolt]) -> Iterator[Step]:
    """Yield the pilots of the new holes, a lower one first, and their final sizes."""
    unit = design.units
    first = [bolt for bolt in new if not bolt.upper] or new
    line = "along the gauge" if any(bolt.tilt for bolt in first if _tilt_known(bolt)) else "square to the face"
    finals = [bolt.hardware.hole for bolt in new if bolt.hardware.hole is not None]
    pilot = _size(stage_sizes(min(finals), unit)[0], unit) if finals else "the pilot’s size"
    yield (
        f"Punch the dots. Drill one {first[0].pair} pilot, {pilot}, {line}, with a guide block. Look inside.",
        f"{_first_gate(design, first)}.",
    )
    others = "Drill the other pilots, then" if len(new) > 1 else "Drill on with"
    sizes = " or ".join(stages(design, pilot=False)) or "the final size"
    yield f"{others} {sizes}. {_WOOD_INSIDE}", _CHIPS


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


def _sealing(design: Design) -> Iterator[Step]:
    if not has_wood(design):
        sealing = "Chamfer both ends of every hole. Clear out dust and swarf."
        if design.transom.core == "aluminium":
            yield (
                f"{sealing} Have a welder fill what must be filled, after the core is taken out. In aluminium no epoxy "
                "carries load.",
                "",
            )
        else:
            yield f"{sealing} Coat cut laminate with neat epoxy.", ""
        return
    every = bolts(design)
    widths = list(dict.fromkeys(known(lambda bolt=bolt: _both(core_bore(bolt), design.units)) for bolt in every))  # type: ignore[misc]
    wide = " or ".join(widths) if NOT_KNOWN not in widths else "twice the bolt’s diameter"
    yield (
        f"Bore the core of each hole out to {wide}. Leave the outer skin at its drilled size. Wet the core with neat epoxy. "
        "Fill it with thickened epoxy. Let it cure. Drill to size again. Chamfer both ends for a collar of sealant."
        f"{_takes(lambda: (net(potting(design)), potting(design).mix))}",
        "if the bored core is not dry and hard all around.",
    )


def _hanging(design: Design) -> Iterator[Step]:
    """Yield which bolt goes in when, and from where."""
    every = bolts(design)
    before = [bolt for bolt in every if bolt.hardware.inserted_from == "before hanging"]
    outside = [bolt for bolt in every if bolt.hardware.inserted_from == "outside"]
    inside = [bolt for bolt in every if bolt.hardware.inserted_from == "inside"]
    if before:
        yield (
            f"Before you hang the motor, put {_pairs(before)} into the bracket, heads aft. Tape them in place. Later they have "
            "no room to go in.",
            "",
        )
    doubtful = [bolt for bolt in outside if _room_aft(bolt) is None]
    if doubtful:
        yield (
            f"The room behind the bracket is not measured. Try {_pairs(doubtful)} in the bracket now. If one cannot go in once "
            "the motor hangs, put it in first.",
            "",
        )
    yield (
        "Hoist the motor to its marks by the lifting eye, with a tag line. Let nobody stand under it. Put sealant in each "
        "hole, around each shank, and under each inside washer or backing plate.",
        "",
    )
    cut = [bolt for bolt in every if bolt.hardware.washer.flat_cut is not None]
    if cut:
        yield (
            f"Under {_pairs(cut)}, turn the flat side of each cut washer down, along the floor. Mark it.",
            "if a washer has turned.",
        )
    if before:
        yield f"Guide {_pairs(before)} through as the motor comes to the transom. Put washers and nuts on inside.", ""
    if outside:
        first = ", the upper pair first" if len({bolt.pair for bolt in outside}) == 2 else ""
        yield (
            f"Put {_pairs(outside)} in from outside{first}. One person holds the heads outside. A second person puts on the "
            "nuts inside.",
            "",
        )
    if inside:
        yield f"Put {_pairs(inside)} in from inside, heads in the well. Put washers and nuts on outside.", ""


def _room_aft(bolt: Bolt) -> float | None:
    room = bolt.mount.bracket.room_aft
    return None if room is None else (room.upper if bolt.upper else room.lower)


def _pairs(some: list[Bolt]) -> str:
    pairs = list(dict.fromkeys(bolt.pair for bolt in some))
    return "all the bolts" if len(pairs) == 2 else f"the {pairs[0]} bolts"


def _clamped(design: Design) -> Iterator[Step]:
    """Yield the steps for motors that clamp on, or for none."""
    if not design.mounts:
        return
    yield (
        "Tap the transom with a hammer where the screws press. Glue a hard pad on each side, its edge well above the screws.",
        "if the transom gives, weeps or sounds dull.",
    )
    yield (
        "Have a second person help you hang the motor. Tighten both screws alike, by hand. Tie the motor to the boat with a "
        "lanyard or chain, always.",
        "",
    )
    yield (
        "Run the motor for ten minutes. Tighten the screws again. Look at them before every trip: pads creep.",
        "if the motor has moved.",
    )


def _size(mm: float, unit: Unit) -> str:
    return unbroken(format_length(mm, unit, denominator=64, style="paper"))


def _both(mm: float, unit: Unit) -> str:
    inches, metric = _size(mm, "in"), f"{mm:g} mm" if mm < 1 else _size(mm, "mm")
    return _pair(inches, metric, unit)


def _round(mm: float, unit: Unit) -> str:
    """Return a round length of the metric trade with its round counterpart, an inch for 25 mm: "1 in (25 mm)"."""
    return _pair(f"{mm / 25:g} in", f"{mm:g} mm", unit)


def _pair(inches: str, metric: str, unit: Unit) -> str:
    return unbroken(f"{inches} ({metric})" if unit == "in" else f"{metric} ({inches})")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
