"""All choices from a few answers, by the sections of the card. Numbers are in `measures`."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any, Literal

import msgspec
from msgspec.structs import replace

from geometry.design import patterns
from geometry.design.drilled_hole import TOOLS
from geometry.design.hardware import BOLT_NAMES, HexSizes
from geometry.edits import additions, part_sizes
from geometry.edits.confirm_or_buy import bought, is_part
from geometry.edits.edits import with_mount
from geometry.edits.starting_shapes import guess
from geometry.readings.drilled_readings import drilled_key
from geometry.readings.measures import measures, put_path
from geometry.readings.pilots import end_words, ends_there, has_place, pilot_key, pilot_of, with_pilot
from geometry.tables import fasteners, materials
from geometry.tables.capacity import LONGEST, MM_PER_FOOT
from geometry.tables.friction import BANDS, band_of
from geometry.tables.known import MM_PER_INCH
from geometry.units.trade_words import in_trade_words
from geometry.units.units import format_length

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.design.hardware import Hardware, Washer
    from geometry.tables.fasteners import FlatWasher

Pair = Literal["upper", "lower"]
_SAME = 0.05  # mm: within this, a washer has a published size
_OWN = "own sizes"
PILOT_SECTIONS = (6, 7)  # of the upper and of the lower holes
_BOAT, _HOLES, _MOTOR, _DROP, _HARDWARE = 3, 4, 5, 7, 8  # sections; those up to the first are the boat's
_BRACKETS = {
    "standard": ("four bolts, slots", "Standard four-bolt pattern, lower slots"),
    "fixed lower": ("fixed lower holes", "Four bolts, fixed lower holes"),
    "clamp-on": ("clamp-on", "Clamp-on, no bolts"),
    "own": ("own pattern", "Own pattern, by its numbers"),
}
_FROM = {"outside": "from outside", "inside": "from inside", "before hanging": "before hanging"}
_HOLE_STATES = {"open": "open", "sealed": "filled", "plugged": "plugged"}


class Option(msgspec.Struct, frozen=True):
    """One answer: short for the card, and in full."""

    short: str
    full: str


class Choice(msgspec.Struct, frozen=True):
    """A choice from a few answers.

    Attributes:
        key: its name. section: 1 to 8. name: for a person. how: advice for choosing.
        options: the answers. at: the present one; -1 where it is none of them, or not known.
        put: returns the design with another answer.
        reading: key of the measure whose guess it may be, "" for none.
    """

    key: str
    section: int
    name: str
    how: str
    options: tuple[Option, ...]
    at: int
    put: Callable[[int], Design]
    reading: str = ""


def choices(design: Design, mount: int, section: int = 0) -> tuple[Choice, ...]:
    """Return all choices with the motor ``mount`` in hand, in the order of the card; section 0: of all sections."""
    rows = [choice for choice in _boat(design) if section in (0, choice.section)] if section <= _BOAT else []
    if section in (0, _HOLES):
        rows += _holes(design)
    if section in (0, _MOTOR):
        rows += [_bracket(design, mount), *_papers(design)]
    bolted = mount < len(design.mounts) and design.mounts[mount].bracket.rows is not None
    if bolted and section in (0, *PILOT_SECTIONS):
        rows += [choice for choice in _pilots(design, mount) if section in (0, choice.section)]
    if bolted and section in (0, _DROP):
        rows += _drilled(design, mount)
    if bolted and section in (0, _HARDWARE):
        for pair in ("lower", "upper"):
            rows += _hardware(design, mount, "lower" if pair == "lower" else "upper")
    return tuple(rows)


def _drilled(design: Design, mount: int) -> Iterator[Choice]:
    """Yield the tool that each of a motor's holes as drilled was read with, once they are to be entered."""
    how = "The tool that this hole was read with. The record for the next owner names it."
    for number, each in enumerate(design.as_drilled):
        if each.mount == mount:
            yield Choice(drilled_key(mount, each.hole, "how"), _DROP, f"{each.hole.capitalize()} as drilled, read with", how,
                         tuple(map(_one, TOOLS)), _at(TOOLS, each.how), partial(_read_with, design, number))  # fmt: skip


def _read_with(design: Design, number: int, at: int) -> Design:
    holes = list(design.as_drilled)
    holes[number] = replace(holes[number], how=TOOLS[at])
    return replace(design, as_drilled=tuple(holes))


def _put(design: Design, path: str, value: object) -> Design:
    changed: Design = put_path(design, path, value)
    return changed


def _one(word: str) -> Option:
    return Option(word, word[:1].upper() + word[1:])


def _at(options: tuple[str, ...], value: object) -> int:
    return options.index(value) if isinstance(value, str) and value in options else -1


def _boat(design: Design) -> Iterator[Choice]:
    transom, well = design.transom, design.well
    cores, states = materials.core_names(), ("dry", "damp", "wet", "unknown")
    yield Choice("transom.core", 1, "Core", "Look at the shavings from an old hole or a pilot hole.",
                 tuple(_one(in_trade_words(core, design.units)) for core in cores),
                 _at(cores, transom.core), lambda i: _put(design, "transom.core", cores[i]))  # fmt: skip
    yield Choice("transom.core_state", 1, "Core’s state", "Dry shavings are pale and crisp. Wet ones are dark and soft.",
                 tuple(map(_one, states)), _at(states, transom.core_state),
                 lambda i: _put(design, "transom.core_state", states[i]))  # fmt: skip
    cut = transom.top_cut
    at = -1 if cut is None else {"square": 0, "level": 1}.get(cut, 2) if isinstance(cut, str) else 2
    cuts = (Option("square", "Square to the face"), Option("level", "Level"), Option("in degrees", "In degrees, measured"))
    yield Choice("choice.top_cut", 2, "Top cut", "Lay a square over the top edge. Is the top square to the face, or level?",
                 cuts, at,
                 partial(_with_cut, design), "" if at == 2 else "transom.top_cut")  # fmt: skip
    wells = (Option("none", "No well"), Option("a well", "A splash well"))
    yield Choice("choice.well", 3, "Splash well", "A splash well has a floor behind the transom’s lower bolts.", wells,
                 int(well is not None), lambda i: _with_well(design, there=i == 1))  # fmt: skip
    if well is not None:
        froms = ("inside top edge", "datum")
        yield Choice("well.well_from", 3, "Depths are from",
                     "Where was the end of the tape? At the inside top edge, or level with the outside one.",
                     (Option("inside top edge", "The inside top edge"), Option("outside edge", "The outside top edge")),
                     _at(froms, well.well_from), lambda i: _put(design, "well.well_from", froms[i]))  # fmt: skip


def _with_cut(design: Design, index: int) -> Design:
    cut = design.transom.top_cut
    if index == 2:
        value = cut if isinstance(cut, float | int) else (design.transom.rake or 0.0) if cut == "level" else 0.0
        changed: Design = _put(design, "transom.top_cut", value)
        return guess(changed, (measure for measure in measures(changed) if measure.key == "transom.top_cut"))
    kept = {key: reading for key, reading in design.readings.items() if key != "transom.top_cut"}
    return replace(_put(design, "transom.top_cut", ("square", "level")[index]), readings=kept)


def _with_well(design: Design, *, there: bool) -> Design:
    if there == (design.well is not None):
        return design
    return additions.add_well(design) if there else additions.remove_well(design)


def _holes(design: Design) -> Iterator[Choice]:
    for index, hole in enumerate(design.old_holes):
        name = hole.name[:1].upper() + hole.name[1:]
        yield Choice(f"old_holes.{index}.state", 4, f"{name}, state",
                     "Filled means filler only, and counts as open. Plugged means a glued plug that has cured.",
                     tuple(_one(_HOLE_STATES[state]) for state in _HOLE_STATES), _at(tuple(_HOLE_STATES), hole.state),
                     partial(_with_state, design, index))  # fmt: skip
        yield Choice(f"old_holes.{index}.reuse", 4, f"{name}, use again", "Will a new bolt go through this old hole?",
                     (_one("no"), _one("yes")), int(hole.reuse),
                     partial(_with_reuse, design, index))  # fmt: skip


def _with_reuse(design: Design, index: int, at: int) -> Design:
    return _put(design, f"old_holes.{index}.reuse", bool(at))


def _with_state(design: Design, index: int, at: int) -> Design:
    hole, state = design.old_holes[index], tuple(_HOLE_STATES)[at]
    plug = hole.plug_diameter if state == "plugged" else None
    changed: Design = put_path(design, f"old_holes.{index}", replace(hole, state=state, plug_diameter=plug))
    if plug is not None:
        return changed
    gone = f"old_holes.{index}.plug_diameter"
    return replace(changed, readings={key: reading for key, reading in changed.readings.items() if key != gone})


def _bracket(design: Design, mount: int) -> Choice:
    kinds = patterns.BRACKET_KINDS
    options = tuple(Option(*_BRACKETS[kind]) for kind in kinds)
    how = "Count the holes and slots of your bracket."
    if mount >= len(design.mounts):
        return Choice("choice.bracket", 5, "Bracket", how, options, -1, lambda i: additions.hang_motor(design, kinds[i]))
    at = kinds.index(patterns.kind_of(design.mounts[mount].bracket))
    return Choice("choice.bracket", 5, "Bracket", how, options, at,
                  lambda i: design if i == at else additions.set_bracket(design, mount, kinds[i]))  # fmt: skip


def _short_boat(design: Design) -> str:
    """Say how long a boat may be under the rule for a lost capacity plate: "20 ft", "6.1 m"."""
    return f"{LONGEST / MM_PER_FOOT:g} ft" if design.units == "in" else f"{LONGEST / 1000:.1f} m"


def _papers(design: Design) -> Iterator[Choice]:
    """Yield the choices that the published rule asks for where the capacity plate is lost."""
    boat = design.boat
    kinds, steered = ("monohull", "other"), (None, False, True)
    yield Choice("boat.kind", _MOTOR, "Hull",
                 f"Without a capacity plate the rule is only for monohulls under {_short_boat(design)}.",
                 tuple(map(_one, kinds)), _at(kinds, boat.kind), lambda i: _put(design, "boat.kind", kinds[i]))  # fmt: skip
    yield Choice("boat.remote_steering", _MOTOR, "Steering",
                 "Remote means a wheel with a cable or hose. A tiller is not remote.",
                 (_one("not known"), _one("tiller"), _one("remote")), steered.index(boat.remote_steering),
                 lambda i: _put(design, "boat.remote_steering", steered[i]))  # fmt: skip
    yield Choice("boat.flat_bottom_hard_chines", _MOTOR, "Flat bottom, hard chines", "Both, as on a jon boat or a scow.",
                 (_one("no"), _one("yes")), int(boat.flat_bottom_hard_chines),
                 lambda i: _put(design, "boat.flat_bottom_hard_chines", i == 1))  # fmt: skip


def _pilots(design: Design, mount: int) -> Iterator[Choice]:
    """Yield what the distance from each pilot is measured to. Another answer is another reading: its figure goes."""
    ends = ends_there(design)
    options = tuple(Option(end_words(end), f"To {end_words(end)}") for end in ends)
    for name in BOLT_NAMES:
        pilot = pilot_of(design, mount, name)
        if not ends or (pilot is None and not has_place(design, mount, name)):
            continue
        at = ends.index(pilot.to) if pilot is not None and pilot.to in ends else 0
        yield Choice(f"{pilot_key(mount, name)}.to", PILOT_SECTIONS[name.startswith("lower")], f"{name.capitalize()} pilot, to",
                     "What is in the way of that bolt’s washer?", options, at,
                     partial(_with_end, design, mount, name, at))  # fmt: skip


def _with_end(design: Design, mount: int, hole: str, at: int, index: int) -> Design:
    if index == at:
        return design
    changed = with_pilot(design, mount, hole, to=ends_there(design)[index], value=None)
    kept = {key: reading for key, reading in changed.readings.items() if key != pilot_key(mount, hole)}
    return replace(changed, readings=kept)


def _hardware(design: Design, mount: int, pair: Pair) -> Iterator[Choice]:
    path, motor = f"mounts.{mount}.{pair}_hardware", design.mounts[mount]
    fitted = motor.upper_hardware if pair == "upper" else motor.lower_hardware
    if fitted is None:
        return
    side = pair.capitalize()

    def put(changed: Hardware, *replaced: str) -> Design:
        """Set hardware. Readings of what an answer replaces disappear; a size that no answer names is a guess."""
        keys = tuple(f"{path}.{field}" for field in replaced)
        kept = {k: r for k, r in design.readings.items() if not (keys and k.startswith(keys))}
        changed_design = replace(with_mount(design, mount, **{f"{pair}_hardware": changed}), readings=kept)
        return _with_guessed_parts(design, changed_design, f"{path}.")

    bolts, grades, nuts = fasteners.bolt_names(), fasteners.grade_names(), fasteners.nut_names(fitted.bolt)
    yield Choice(f"{path}.bolt", 8, f"{side} bolts", "Its thread, as on the box.", tuple(map(_plain, bolts)),
                 _at(bolts, fitted.bolt),
                 lambda i: design if bolts[i] == fitted.bolt
                 else _torque_guessed(put(_with_bolt(fitted, bolts[i]), "nut", "head", "running"),
                                      f"{path}.torque"))  # fmt: skip
    yield Choice(f"{path}.grade", 8, f"{side} grade", "As marked on the head. A bolt without a mark may be soft.",
                 tuple(map(_plain, grades)), _at(grades, fitted.grade),
                 lambda i: put(replace(fitted, grade=grades[i])))  # fmt: skip
    bands = tuple(BANDS)
    yield Choice(f"{path}.friction", 8, f"{side} threads",
                 "How slippery are they? The more slippery, the harder a torque pulls.",
                 tuple(Option(f"{word}, {BANDS[word][0]:g} to {BANDS[word][1]:g}", f"{word.capitalize()}: nut factor "
                              f"{BANDS[word][0]:g} to {BANDS[word][1]:g}, common practice") for word in bands),
                 _at(bands, band_of(*fitted.friction)), lambda i: put(replace(fitted, friction=BANDS[bands[i]])))  # fmt: skip
    yield Choice(f"{path}.nut", 8, f"{side} nuts", "The published nut, or one measured with calipers.",
                 (*(Option(_short(nut), nut) for nut in nuts), Option(_OWN, "Own sizes, by calipers")),
                 len(nuts) if fitted.nut_sizes is not None else _at(nuts, fitted.nut),
                 lambda i: put(_with_nut(fitted, nuts, i)) if i == len(nuts)
                 else put(_with_nut(fitted, nuts, i), "nut_sizes",
                          *(() if nuts[i] == fitted.nut else ("running",))))  # fmt: skip
    heads = (Option("as listed", "As the bolt’s standard lists them"), Option(_OWN, "Own sizes, by calipers"))
    yield Choice(f"{path}.head", 8, f"{side} heads", "The published head, or one measured with calipers.", heads,
                 int(fitted.head_sizes is not None),
                 lambda i: put(part_sizes.with_head(fitted, own=i == 1), *(() if i else ("head_sizes",))))  # fmt: skip
    for field, noun in (("washer", "washers"), ("outside_washer", "outer washers")):
        yield _washer(design, put, path, field, f"{side} {noun}", fitted)
    cuts = (Option("whole", "Whole"), Option("cut flat", "Cut flat on the lower side"))
    yield Choice(f"{path}.flat", 8, f"{side} washers’ edge", "A washer cut flat on its lower side can be closer to the floor.",
                 cuts,
                 int(fitted.washer.flat_cut is not None), lambda i: put(_with_flat(fitted, cut=i == 1)))  # fmt: skip
    spacers = (Option("none", "No spacers"), Option("spacers", "A sleeve under each washer inside"))
    yield Choice(f"{path}.spacer", 8, f"{side} spacers", "A sleeve lifts the washer off the rounded corner.", spacers,
                 int(fitted.spacer is not None),
                 lambda i: put(part_sizes.with_spacer(fitted, there=i == 1), *(() if i else ("spacer",))))  # fmt: skip
    froms = tuple(_FROM)
    yield Choice(f"{path}.inserted_from", 8, f"{side} bolts go in", "Which side is the head on?",
                 (_one("from outside"), Option("from inside", "From inside, the head in the well"),
                  Option("before hanging", "From outside, before the motor hangs")),
                 _at(froms, fitted.inserted_from), lambda i: put(replace(fitted, inserted_from=froms[i])))  # fmt: skip
    tools = (_one("socket"), _one(in_trade_words("ring spanner", design.units)), Option("none", "Neither"))
    yield Choice(f"{path}.tool", 8, f"{side} nuts turned by", "The tool that goes over the nut in the well.", tools,
                 0 if fitted.socket is not None else 1 if fitted.spanner is not None else 2,
                 partial(_with_tool, design, mount, pair))  # fmt: skip
    plates = (_one("none"), Option("plain", "A backing plate under both washers"),
              Option("relieved", "A backing plate, chamfered to clear the rounded corner"))  # fmt: skip
    plate = fitted.backing_plate
    yield Choice(f"{path}.plate", 8, f"{side} backing plate", "Shared by both bolts of the pair.", plates,
                 0 if plate is None else 2 if plate.relief[0] else 1, partial(_with_plate, design, mount, pair))  # fmt: skip
    if plate is not None:
        named = tuple(in_trade_words(metal, design.units) for metal in part_sizes.PLATE_MATERIALS)
        yield Choice(f"{path}.material", 8, f"{side} backing plate, material",
                     in_trade_words("Aluminium needs sealant between it and stainless.", design.units), tuple(map(_one, named)),
                     _at(part_sizes.PLATE_MATERIALS, plate.material),
                     lambda i: put(part_sizes.with_plate_of(fitted, part_sizes.PLATE_MATERIALS[i])))  # fmt: skip


def _with_guessed_parts(before: Design, design: Design, start: str) -> Design:
    """Mark as guesses the sizes of parts that an answer changed or added. A part that is still to be bought stays so."""
    other = [
        row for row in measures(design)
        if row.key.startswith(start) and is_part(row) and row.get(before) != row.get(design)
    ]  # fmt: skip
    states = {key: reading.state for key, reading in before.readings.items()}
    buying = [row for row in other if states.get(row.key) == "to buy"]
    fresh = {key: r for key, r in design.readings.items() if key not in {row.key for row in other}}
    changed = guess(replace(design, readings=fresh), (row for row in other if row not in buying))
    return bought(changed, buying)


def _plain(word: str) -> Option:
    return Option(word, word)


def _short(name: str) -> str:
    return name.removeprefix("ASME ")


def _washer(
    design: Design, put: Callable[..., Design], path: str, field: str, name: str, fitted: Hardware
) -> Choice:  # fmt: skip
    listed = fasteners.washers(fitted.bolt)
    present: Washer = fitted.washer if field == "washer" else fitted.outside_washer
    at = next((i for i, washer in enumerate(listed) if _is(washer, present)), len(listed))
    sizes = [format_length(washer.outer, design.units) for washer in listed]
    options = (
        *(Option(f"{size}, {_series(washer.name)}", f"{washer.name}, {size}")
          for washer, size in zip(listed, sizes, strict=True)),
        *((Option(_OWN, "Own sizes, by calipers"),) if at == len(listed) else ()),
    )  # fmt: skip

    def chosen(index: int) -> Design:
        if index == len(listed):
            return design
        taken = replace(patterns.flat_washer(listed[index]), flat_cut=present.flat_cut)
        if taken.flat_cut is not None and taken.outer is not None and taken.flat_cut > taken.outer / 2:
            taken = replace(taken, flat_cut=None)
        changed = design if index == at else put(replace(fitted, **{field: taken}), f"{field}.")
        return bought(changed, (row for row in measures(changed) if row.key.startswith(f"{path}.{field}.") and is_part(row)))

    return Choice(f"{path}.{field}", 8, name, "The published one to buy, or its sizes by calipers below.", options, at, chosen)


def _series(name: str) -> str:
    for cut in ("ASME B18.21.1 ", "ISO "):
        name = name.removeprefix(cut)
    return name.split(" 1-")[0].removesuffix(" 2 in")


def _is(published: FlatWasher, washer: Washer) -> bool:
    pairs: tuple[tuple[float, float | None], ...] = (
        (published.outer, washer.outer), (published.inner, washer.inner), (published.thickness, washer.thickness),
    )  # fmt: skip
    return all(mine is not None and abs(published - mine) < _SAME for published, mine in pairs)


def _with_bolt(fitted: Hardware, bolt: str) -> Hardware:
    """Return hardware with another bolt, its nut and hole, and its washers of the nearest size."""
    nuts = fasteners.nut_names(bolt)
    nut = fitted.nut if fitted.nut in nuts else nuts[0]
    fresh = patterns.hardware(bolt)
    changed: dict[str, Any] = {
        "bolt": bolt, "nut": nut, "nut_sizes": None, "head_sizes": None, "length": None,
        "hole": fasteners.clearance_holes(bolt).close,
        "washer": _nearest(bolt, fitted.washer), "outside_washer": _nearest(bolt, fitted.outside_washer),
        "socket": None if fitted.socket is None else fresh.socket,
        "torque": fresh.torque, "running_torque": None,
    }  # fmt: skip
    return replace(fitted, **changed)


def _torque_guessed(design: Design, key: str) -> Design:
    """Return a design in which another bolt's usual torque is a guess, until the manual has been read."""
    return guess(design, (measure for measure in measures(design) if measure.key == key))


def _nearest(bolt: str, washer: Washer) -> Washer:
    wanted = washer.outer or 1.5 * MM_PER_INCH
    return patterns.flat_washer(min(fasteners.washers(bolt), key=lambda listed: abs(listed.outer - wanted)))


def _with_nut(fitted: Hardware, nuts: tuple[str, ...], index: int) -> Hardware:
    if index == len(nuts):
        own = fitted.nut_hexagon
        return replace(fitted, nut_sizes=HexSizes(flats=own.flats, corners=None, height=own.height))
    washer = fitted.washer
    if washer.flat_cut is not None and (nuts[index] != fitted.nut or fitted.nut_sizes is not None):
        washer = replace(washer, flat_cut=_kept_cut(fitted, nuts[index]))
    drag = fitted.running_torque if nuts[index] == fitted.nut else None  # it was read on the old nut
    return replace(fitted, nut=nuts[index], nut_sizes=None, washer=washer, running_torque=drag)


def _kept_cut(fitted: Hardware, nut: str) -> float | None:
    """Return the flat cut, moved out where it would leave part of the new nut without a washer."""
    whole = replace(fitted.washer, flat_cut=None)
    least = patterns.flat_cut(replace(fitted, nut=nut, nut_sizes=None, washer=whole), whole)
    return max(fitted.washer.flat_cut or 0.0, least)


def _with_flat(fitted: Hardware, *, cut: bool) -> Hardware:
    if cut == (fitted.washer.flat_cut is not None):
        return fitted
    at = patterns.flat_cut(fitted, fitted.washer) if cut else None
    return replace(fitted, washer=replace(fitted.washer, flat_cut=at))


def _with_tool(design: Design, mount: int, pair: Pair, index: int) -> Design:
    motor = design.mounts[mount]
    fitted = motor.upper_hardware if pair == "upper" else motor.lower_hardware
    if fitted is None:
        return design
    corners = fitted.inside_hexagon.corners or fitted.nut_hexagon.corners or 22.0
    socket = (fitted.socket or patterns.socket(corners)) if index == 0 else None
    spanner = (fitted.spanner or patterns.spanner(corners)) if index == 1 else fitted.spanner if index == 0 else None
    changed = with_mount(design, mount, **{f"{pair}_hardware": replace(fitted, socket=socket, spanner=spanner)})
    return _guessed(design, changed, f"mounts.{mount}.{pair}_hardware.")


def _with_plate(design: Design, mount: int, pair: Pair, index: int) -> Design:
    motor = design.mounts[mount]
    fitted = motor.upper_hardware if pair == "upper" else motor.lower_hardware
    if fitted is None:
        return design
    present = 0 if fitted.backing_plate is None else 2 if fitted.backing_plate.relief[0] else 1
    if index == present:
        return design
    corner_radius = design.well.fillet_radius if design.well is not None else None
    least = patterns.MOST_RELIEF if corner_radius is None else max(corner_radius, 3.0)
    along = min(patterns.MOST_RELIEF, least) if index == 2 else 0.0
    outer, room = fitted.washer.outer or 1.5 * MM_PER_INCH, design.limits.clearance[1]
    plate = patterns.backing_plate(motor.bracket, pair, outer, along=along, room=room) if index else None
    changed = with_mount(design, mount, **{f"{pair}_hardware": replace(fitted, backing_plate=plate)})
    return _guessed(design, changed, f"mounts.{mount}.{pair}_hardware.")


def _guessed(design: Design, changed: Design, start: str) -> Design:
    """Mark as guesses all values that the change added, and drop readings of values that it removed."""
    before = {measure.key for measure in measures(design)}
    after = [measure for measure in measures(changed) if measure.key.startswith(start)]
    keys = {measure.key for measure in after}
    kept = {key: r for key, r in changed.readings.items() if not key.startswith(start) or key in keys}
    return guess(replace(changed, readings=kept), (measure for measure in after if measure.key not in before))
