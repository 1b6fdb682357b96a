"""The card as values: eight sections, what each shows when closed, and the lines of the open one."""

from __future__ import annotations

import math
import re
from functools import partial
from typing import TYPE_CHECKING, Literal

import msgspec

from app.ui.apostrophes import curly
from geometry.design import forces
from geometry.design.design import Edge, How
from geometry.design.edits import parse_entry
from geometry.design.hole_words import hole_words, up_words
from geometry.design.measures import SECTIONS, at_path, has_corner_measures, measures, state_of
from geometry.design.units import format_angle, format_length, format_mass, format_reading
from geometry.errors import OwnerError
from geometry.solid.faces import Unmeasured, faces
from geometry.solid.rows import hook_gap, plate_height
from geometry.tables.known import KG_PER_POUND, MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design, Reading
    from geometry.design.measures import Measure

Origin = Literal["guess", "measured", "to buy", "confirmed", "not known", "reckoned"]
Room = Literal["figure", "words", "line"]
_SAME = 1e-6  # mm or degrees
_MAY_STAY_EMPTY = (
    "_hardware.length", ".flat_cut", ".mass", ".power_kw", ".set_back", ".centre_aft", ".thrust", ".running_torque",
    "room_aft.upper", "room_aft.lower",
)  # fmt: skip
_UNITS = {"length": ("in", "mm"), "mass": ("lb", "kg")}
_EMPTY = {  # what stands for an empty entry, instead of "none"
    "core_bears": "by the table", "stands_out": "without end", "mass": "not known", "power_kw": "not known",
    "running_torque": "not measured",
}  # fmt: skip
NAME = "boat.name"
"""Key of the boat's name, which is no measure."""
_PLAIN = r"-?(?:[0-9]+(?:\.[0-9]+)?|[0-9]+ [0-9]+/[0-9]+|[0-9]+/[0-9]+)"
_FRACTIONS = (64, 32, 16, 8, 4)


class Line(msgspec.Struct, frozen=True):
    """One entry: ``rest`` is what it shows, ``edit`` what it holds while it is written in.

    ``room``: whether its field holds a figure, a few words, or a line of words, and then is below the name;
    ``edge``: what an old hole's reading was taken to, "" where there is no such choice; ``shape``: drawn, not typed;
    ``way``: what its reading was taken with, "" where it has none or was not read on the boat.
    """

    key: str
    name: str
    how: str
    rest: str
    edit: str
    origin: Origin
    edge: Edge | Literal[""] = ""
    shape: bool = False
    way: How | Literal[""] = ""
    room: Room = "figure"


class Section(msgspec.Struct, frozen=True):
    """A section of the card: its head, and in one or two words what is missing in it, or else what it says."""

    number: int
    title: str
    gist: str
    guesses: int
    missing: int

    @property
    def told(self) -> str:
        """What its closed head shows at the right."""
        if self.missing:
            return f"{self.missing} to measure"
        if self.guesses:
            return "1 guess" if self.guesses == 1 else f"{self.guesses} guesses"
        return self.gist


def sections(design: Design, mount: int) -> tuple[Section, ...]:
    """Return the eight sections, with the motor ``mount`` in hand."""
    found = _of_mount(design, mount)
    made = []
    for number, title in enumerate(SECTIONS, start=1):
        states = [origin(design, one) for one in found if one.section == number]
        gist = _gist(design, mount, number)
        made.append(Section(number, title, gist, states.count("guess"), states.count("not known")))
    return tuple(made)


def lines(design: Design, mount: int, section: int) -> tuple[Line, ...]:
    """Return the entries of one section, reckoned values last."""
    found = [one for one in _of_mount(design, mount) if one.section == section and _stands(design, one)]
    found.sort(key=lambda one: one.key.startswith("inside_blocks"))  # what stands in the well comes after the well
    return (*(_line(design, one) for one in found), *_reckoned(design, mount, section))


def name_line(design: Design) -> Line:
    """Return the entry of the boat's name, which stands on every sheet."""
    how = "It stands on every sheet. Under another name the demonstration boat becomes your own."
    return Line(NAME, "Name", how, design.name, design.name, "measured", room="words")


def _stands(design: Design, one: Measure) -> bool:
    """Shapes stand on the card while they are guessed or lacking; a cut told by its word, and a whole washer, never."""
    if one.kind == "shape":
        return origin(design, one) in ("guess", "not known")
    if one.key == "transom.top_cut":
        return isinstance(design.transom.top_cut, float | int)
    return not (one.key.endswith(".flat_cut") and one.get(design) is None)


def section_of(design: Design, key: str) -> int:
    """Return the section that a measure stands in, 0 for none."""
    return next((one.section for one in measures(design) if one.key == key), 0)


def exactness(one: Measure, design: Design) -> str:
    """Say how exactly a reading is needed: "To 1/16 in."."""
    if one.kind == "mass":
        return f"To {one.exact:g} kg." if design.units == "mm" else f"To {round(one.exact / KG_PER_POUND, -1):g} lb."
    if one.kind in ("count", "hole") or not one.exact:
        return ""
    if one.kind == "angle":
        return f"To {one.exact:g}°."
    if design.units == "mm":
        return f"To {one.exact:g} mm."
    fits = [bottom for bottom in _FRACTIONS if MM_PER_INCH / bottom <= one.exact * 1.1]
    return f"To 1/{fits[-1] if fits else 64} in."


def shown(design: Design, one: Measure) -> str:
    """Return a measure's value as an unfocused field shows it, without the unit of lengths."""
    value = one.get(design)
    if one.key == "transom.top_cut" and isinstance(design.transom.top_cut, str):
        return design.transom.top_cut
    if value is None:
        return empty_word(one) if may_stay_empty(one) else "not known"
    if one.kind == "length":
        return format_length(value, design.units, denominator=64 if _on_a_64th(value) else 32, unit_word=False)
    return figure(design, one, value)


def shown_in_full(design: Design, one: Measure) -> str:
    """Return a measure's value as a sentence says it, with its unit; "not known" where there is none."""
    value = one.get(design)
    return "not known" if value is None else figure(design, one, value)


def figure(design: Design, one: Measure, value: float) -> str:
    """Return a value of a measure as a sentence tells it, with its unit."""
    match one.kind:
        case "angle":
            return format_angle(value)
        case "mass":
            return format_mass(value, design.units)
        case "count":
            return str(round(value))
        case "hole":
            return hole_words(round(value) - 1) if value >= 1 else str(round(value))  # a step too far
        case "torque" | "force" | "pressure" | "power" | "number":
            return forces.written(one.kind, value, design.units)
        case _:
            return format_length(value, design.units, denominator=64)


def _on_a_64th(mm: float) -> bool:
    """Tell whether a length was typed to 1/64 in: then it is shown so."""
    steps = mm / MM_PER_INCH * 64
    return abs(steps - round(steps)) < _SAME and round(steps) % 2 == 1


def _as_typed(design: Design, one: Measure) -> str:
    """Return a length's own text where it is a plain figure, no sum, that says the value in the unit shown now; else ""."""
    reading, value = design.readings.get(one.key), one.get(design)
    if one.kind != "length" or reading is None or value is None or reading.from_ != "centre":
        return ""
    return reading.text if re.fullmatch(_PLAIN, reading.text) and _says(design, one, reading.text, value) else ""


def origin(design: Design, one: Measure) -> Origin:
    """Return where a value comes from; what may stay empty, or is told by a word, is not missing."""
    if one.kind == "shape":
        corners = at_path(design, one.key) or ()
        lacks = any(value is None or (isinstance(value, tuple) and None in value) for value in corners)
        return "not known" if lacks and not has_corner_measures(one.key) else state_of(design, one)
    told = isinstance(design.transom.top_cut, str) if one.key == "transom.top_cut" else may_stay_empty(one)
    reading = design.readings.get(one.key)
    if told and reading is not None and reading.state == "guess":
        return "guess"
    return "measured" if told and one.get(design) is None else state_of(design, one)


def may_stay_empty(one: Measure) -> bool:
    """Tell whether an entry may stay empty: there is none, or the program takes a value of its own."""
    if one.key.startswith("mounts"):
        return one.key.endswith(_MAY_STAY_EMPTY)
    return one.key.startswith("boat.") or one.key.endswith(tuple(_EMPTY))


def empty_word(one: Measure) -> str:
    """Return what stands in an entry that may stay empty, and is."""
    return _EMPTY.get(one.key.rsplit(".", 1)[-1], "none")


def _of_mount(design: Design, mount: int) -> list[Measure]:
    mine = f"mounts.{mount}."
    return [one for one in measures(design) if not one.key.startswith("mounts.") or one.key.startswith(mine)]


def _line(design: Design, one: Measure) -> Line:
    if one.kind == "shape":
        return _shape_line(design, one)
    rest, how = _as_typed(design, one) or shown(design, one), f"{one.how} {exactness(one, design)}".strip()
    edge: Edge | Literal[""] = ""
    reading = design.readings.get(one.key)
    if one.edge_reading:
        edge = "centre" if reading is None else reading.from_
        how = f"{_read_to_edge(design, one)} {how}".strip()
    how = f"{how} {_carried(design, one)}".strip()
    way: How | Literal[""] = reading.how if reading is not None and one.kind in ("length", "angle") else ""
    room: Room = "line" if one.kind == "hole" else "figure"
    edit = _editable(design, one, rest)
    return Line(one.key, curly(one.name), curly(how), rest, edit, origin(design, one), edge, way=way, room=room)


def _shape_line(design: Design, one: Measure) -> Line:
    corners, found = at_path(design, one.key) or (), origin(design, one)
    rest = found if found == "not known" else f"{len(corners)} corners"
    how = one.how
    if not one.key.startswith("mounts."):
        how = f"{how} Drawn on the sheet."
    elif has_corner_measures(one.key):
        how = f"{how} In the entries below."
    return Line(one.key, curly(one.name), curly(how), rest, rest, found, shape=True)


def _read_to_edge(design: Design, one: Measure) -> str:
    """Say how a reading to an edge came to the centre: "From the near edge 7 in, hole 1/2 in: centre 7 1/4 in."."""
    reading, value = design.readings.get(one.key), one.get(design)
    hole: float | None = at_path(design, f"{one.key.rsplit('.', 1)[0]}.diameter")
    if reading is None or reading.from_ == "centre" or value is None or hole is None or not _as_entered(reading, value):
        return ""
    read = value - math.copysign(hole / 2, value if reading.from_ == "near edge" else -value)
    told = [format_length(mm, design.units, denominator=64) for mm in (read, hole, value)]
    return f"From the {reading.from_} {told[0]}, hole {told[1]}: centre {told[2]}."


def _carried(design: Design, one: Measure) -> str:
    """Say what a depth from the inside top edge comes to: "That edge lies 7/16 in lower: 10 3/16 in below the outside one."."""
    well, value = design.well, one.get(design)
    if well is None or value is None or well.well_from != "inside top edge":
        return ""
    if one.key not in ("well.floor_port", "well.floor_starboard"):
        return ""
    try:
        step = -faces(design.transom).edge_w
    except Unmeasured:
        return ""
    away, down = (format_length(abs(mm), design.units) for mm in (step, value + step))
    return f"That edge lies {away} {'lower' if step >= 0 else 'higher'}: {down} below the outside one."


def _as_entered(reading: Reading, value: float) -> bool:
    return reading.value is not None and abs(reading.value - value) < _SAME


def _editable(design: Design, one: Measure, rest: str) -> str:
    """Return what a field holds while it is written in: the text as typed where it still says the same."""
    value, reading = one.get(design), design.readings.get(one.key)
    if value is None:
        return "" if rest in ("not known", empty_word(one)) else rest
    if reading is not None and reading.from_ != "centre" and _as_entered(reading, value):
        return reading.text
    if reading is not None:  # typed in the other unit, it needs that unit's word
        for text in (reading.text, *(f"{reading.text} {unit}" for unit in _UNITS.get(one.kind, ()))):
            if _says(design, one, text, value):
                return text
    if one.kind == "length":
        return format_length(value, design.units, denominator=64, unit_word=False)
    return figure(design, one, value)


def _says(design: Design, one: Measure, text: str, value: float) -> bool:
    try:
        return abs(parse_entry(design, one, text) - value) < _SAME
    except OwnerError:
        return False


def _reckoned(design: Design, mount: int, section: int) -> tuple[Line, ...]:
    if section == 2:
        how = "How far the inside top edge lies below the outside one, along the inner face."
        return (_told(design, "Inside edge lower by", how, lambda: -faces(design.transom).edge_w),)
    if section != 7 or mount >= len(design.mounts) or design.mounts[mount].bracket.rows is None:
        return ()
    return (
        _told(design, "Gap under bracket hook", "From the bracket hook down to the transom’s top.",
              partial(hook_gap, design, mount)),
        _told(design, "AV plate above bottom", "From the hull’s bottom up to the AV plate, plumb.",
              partial(plate_height, design, mount)),
    )  # fmt: skip


def _told(design: Design, name: str, how: str, reckon: Callable[[], float]) -> Line:
    try:
        text = format_reading(reckon(), design.units).rsplit(" ", 1)[0]
    except Unmeasured:
        text = "not known"
    return Line("", name, how, text, text, "reckoned")


def _gist(design: Design, mount: int, number: int) -> str:
    try:
        tell = _GISTS[number - 1]
        if tell in (_upper, _drop, _hardware) and design.mounts[mount].bracket.rows is None:
            return "none: it clamps on"
        return tell(design, mount)
    except IndexError:
        return "no motor"
    except TypeError:  # something in it is not measured
        return ""


def _short(design: Design, mm: float | None) -> str:
    if mm is None:
        raise TypeError("not measured")
    return format_length(mm, design.units, unit_word=False)


def _transom(design: Design, _mount: int) -> str:
    rake = design.transom.rake
    if rake is None:
        raise TypeError("not measured")
    return f"{_short(design, design.transom.thickness.top)} thick, leans {format_angle(rake)}"


def _top(design: Design, _mount: int) -> str:
    cut = design.transom.top_cut
    if cut is None:
        raise TypeError("not measured")
    return f"cut {cut}" if isinstance(cut, str) else f"cut at {format_angle(cut)}"


def _well(design: Design, _mount: int) -> str:
    if design.well is None:
        return "none"
    deepest = [-y for _, y in design.well.profile if y is not None]
    return f"{_short(design, max(deepest, default=None))} deep"


def _holes(design: Design, _mount: int) -> str:
    if not design.old_holes:
        return "none"
    states = {hole.state for hole in design.old_holes}
    return f"{len(design.old_holes)}, {states.pop() if len(states) == 1 else 'mixed'}"


def _motor(design: Design, mount: int) -> str:
    motor = design.mounts[mount]
    rows = motor.bracket.rows
    held = "clamp-on" if rows is None else f"{rows.count} upper holes"
    if motor.power_kw is None:
        return held
    return f"{forces.power(motor.power_kw, design.units)}, {held}"


def _upper(design: Design, mount: int) -> str:
    at = design.mounts[mount].upper_at
    return f"{_short(design, None if at is None else -at)} down"


def _drop(design: Design, mount: int) -> str:
    row = design.mounts[mount].row
    told = _short(design, design.mounts[mount].drop)
    return told if row is None else f"{told}, {up_words(row)}"


def _hardware(design: Design, mount: int) -> str:
    hardware = design.mounts[mount].lower_hardware
    if hardware is None:
        raise TypeError("not measured")
    bolt = hardware.bolt.split("-")[0].split("x")[0]
    return f"{bolt} bolts" + ("" if hardware.length is None else f", {_short(design, hardware.length)} long")


_GISTS: tuple[Callable[[Design, int], str], ...] = (
    _transom, _top, _well, _holes, _motor, _upper, _drop, _hardware,
)  # fmt: skip
