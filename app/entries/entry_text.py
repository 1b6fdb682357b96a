"""The card as values: its nine sections, the summary of each closed one, and the lines of the open one."""

from __future__ import annotations

import math
import re
from functools import partial
from typing import TYPE_CHECKING, Literal

import msgspec

from app.ui.apostrophes import curly
from geometry.design.design import Edge, How
from geometry.edits.confirm_or_buy import is_part, parts, pattern
from geometry.edits.edits import parse_entry
from geometry.errors import OwnerError
from geometry.readings import assumption_measures
from geometry.readings.figures_in_sentences import figure
from geometry.readings.measure import capital
from geometry.readings.measures import SECTIONS, at_path, has_corner_measures, measures, state_of
from geometry.readings.unlikely import unlikely_reading
from geometry.solid.bracket_holes import hook_gap, plate_height
from geometry.solid.faces import Unmeasured, faces
from geometry.tables.known import KG_PER_POUND, MM_PER_INCH
from geometry.units import force_units
from geometry.units.height_words import up_words
from geometry.units.units import format_angle, format_length, format_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design, Reading
    from geometry.readings.measures import Measure

Origin = Literal["guess", "measured", "to buy", "confirmed", "not known", "calculated", "usual", "changed"]
Room = Literal["figure", "words", "line"]
_SAME = 1e-6  # mm or degrees
_SMALL = 1.0  # mm: a length below it, such as a spread, is shown to 1/64 in
_UNITS = {"length": ("in", "mm"), "mass": ("lb", "kg")}
SURE = "sure?"
"""The word in the entry of an unlikely reading. A press confirms it."""
NAME = "boat.name"
"""Key of the boat's name, which is no measure."""
_PLAIN = r"-?(?:[0-9]+(?:\.[0-9]+)?|[0-9]+ [0-9]+/[0-9]+|[0-9]+/[0-9]+)"
_FRACTIONS = (64, 32, 16, 8, 4)


class Line(msgspec.Struct, frozen=True):
    """One entry: ``rest`` is its text at rest, ``edit`` its text while a person types in it.

    ``room``: how wide its field is; a field for a line of words is below the name.
    ``edge``: the part of an old hole that was read, "" where there is no such choice. ``shape``: drawn, not typed.
    ``way``: the tool of its reading, "" where it has none or was not read on the boat.
    ``counts``: where its value can be from, the present origin first; () where there is no choice.
    ``unlikely``: whether its reading is, and waits to be confirmed.
    ``note``: where an assumption is from, always below its entry; "" for a reading.
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
    counts: tuple[Origin, ...] = ()
    unlikely: bool = False
    room: Room = "figure"
    note: str = ""


class Section(msgspec.Struct, frozen=True):
    """A section of the card: its heading, its summary, and how many readings, guesses and missing readings it has."""

    number: int
    title: str
    gist: str
    guesses: int
    missing: int
    read: int = 0

    @property
    def summary(self) -> str:
        """The text at the right of its closed heading: "2 of 4 readings" until all are there."""
        every = self.read + self.guesses + self.missing
        if every == self.read:
            return self.gist
        return f"{self.read} of {every} readings" if every > 1 else "1 to read"


def sections(design: Design, mount: int) -> tuple[Section, ...]:
    """Return the nine sections, with the motor ``mount`` chosen."""
    every = _of_mount(design, mount)
    made = []
    for number, title in enumerate(SECTIONS, start=1):
        states = [origin(design, measure) for measure in every if measure.section == number]
        gist = _gist(design, mount, number)
        read = sum(measure.section == number and _is_read(design, measure) for measure in every)
        made.append(Section(number, title, gist, states.count("guess"), states.count("not known"), read))
    return tuple(made)


def _is_read(design: Design, measure: Measure) -> bool:
    """Return whether a value is known and no guess. A choice of the owner is not read."""
    return not measure.free and measure.get(design) is not None and origin(design, measure) not in ("guess", "not known")


def lines(design: Design, mount: int, section: int) -> tuple[Line, ...]:
    """Return the entries of one section, calculated values last."""
    shown_here = [measure for measure in _of_mount(design, mount) if measure.section == section and _is_shown(design, measure)]
    shown_here.sort(key=lambda measure: measure.key.startswith("inside_blocks"))  # blocks in the well come after the well
    return (*(_line(design, measure) for measure in shown_here), *_calculated(design, mount, section))


def name_line(design: Design) -> Line:
    """Return the entry of the boat's name, which every sheet has."""
    how = "Every sheet has this name. Give a demonstration boat another name to make it your own."
    return Line(NAME, "Name", how, design.name, design.name, "measured", room="words")


def _is_shown(design: Design, measure: Measure) -> bool:
    """Return whether the card shows an entry: no known shape, no top cut that is a word, no flat cut of a whole washer."""
    if measure.kind == "shape":
        return origin(design, measure) in ("guess", "not known")
    if measure.key == "transom.top_cut":
        return isinstance(design.transom.top_cut, float | int)
    return not (measure.key.endswith(".washer.flat_cut") and measure.get(design) is None)


def section_of(design: Design, key: str) -> int:
    """Return the section of a measure, 0 for none."""
    return next((measure.section for measure in measures(design) if measure.key == key), 0)


def exactness(measure: Measure, design: Design) -> str:
    """Say how exactly a reading is needed: "To 1/16 in."."""
    if measure.kind == "mass":
        return f"To {measure.exact:g} kg." if design.units == "mm" else f"To {round(measure.exact / KG_PER_POUND, -1):g} lb."
    if measure.kind in ("count", "hole") or not measure.exact:
        return ""
    if measure.kind == "angle":
        return f"To {measure.exact:g}°."
    if design.units == "mm":
        return f"To {measure.exact:g} mm."
    fits = [bottom for bottom in _FRACTIONS if MM_PER_INCH / bottom <= measure.exact * 1.1]
    return f"To 1/{fits[-1] if fits else 64} in."


def shown(design: Design, measure: Measure) -> str:
    """Return a measure's value as an unfocused field shows it, without the unit of lengths."""
    value = measure.get(design)
    if measure.key == "transom.top_cut" and isinstance(design.transom.top_cut, str):
        return design.transom.top_cut
    if value is None:
        return measure.empty or "not known"
    if measure.kind == "length":
        fine = _on_a_64th(value) or abs(value) < _SMALL
        return format_length(value, design.units, denominator=64 if fine else 32, unit_word=False)
    return figure(design, measure, value)


def _at_rest(design: Design, measure: Measure) -> str:
    """Return what a field shows. The ladder says how many holes up a hole is."""
    said = shown(design, measure)
    return said.partition(" (")[0] if measure.kind == "hole" else said


def shown_in_full(design: Design, measure: Measure) -> str:
    """Return a measure's value with its unit, for a sentence; "not known" where there is none."""
    value = measure.get(design)
    return "not known" if value is None else figure(design, measure, value)


def _on_a_64th(mm: float) -> bool:
    """Return whether a length was typed to 1/64 in: then it is shown so."""
    steps = mm / MM_PER_INCH * 64
    return abs(steps - round(steps)) < _SAME and round(steps) % 2 == 1


def _as_typed(design: Design, measure: Measure) -> str:
    """Return a length's own text where it is a plain figure, no sum, that says the value in the unit shown now; else ""."""
    reading, value = design.readings.get(measure.key), measure.get(design)
    if measure.kind != "length" or reading is None or value is None or reading.from_ != "centre":
        return ""
    return reading.text if re.fullmatch(_PLAIN, reading.text) and _says(design, measure, reading.text, value) else ""


def origin(design: Design, measure: Measure) -> Origin:
    """Return the origin of a value. An entry that may stay empty, or holds a word, is not missing."""
    if measure.section == assumption_measures.SECTION:
        return "usual" if assumption_measures.is_usual(design, measure.key) else "changed"
    if measure.kind == "shape":
        corners = at_path(design, measure.key) or ()
        lacks = any(value is None or (isinstance(value, tuple) and None in value) for value in corners)
        return "not known" if lacks and not has_corner_measures(measure.key) else state_of(design, measure)
    optional = isinstance(design.transom.top_cut, str) if measure.key == "transom.top_cut" else measure.empty is not None
    reading = design.readings.get(measure.key)
    if optional and reading is not None and reading.state == "guess":
        return "guess"
    return "measured" if optional and measure.get(design) is None else state_of(design, measure)


def _of_mount(design: Design, mount: int) -> list[Measure]:
    mine = f"mounts.{mount}."
    return [measure for measure in measures(design) if not measure.key.startswith("mounts.") or measure.key.startswith(mine)]


def _line(design: Design, measure: Measure) -> Line:
    if measure.kind == "shape":
        return _shape_line(design, measure)
    rest, how = _as_typed(design, measure) or _at_rest(design, measure), f"{measure.how} {exactness(measure, design)}".strip()
    edge: Edge | Literal[""] = ""
    reading = design.readings.get(measure.key)
    if measure.edge_reading:
        edge = "centre" if reading is None else reading.from_
        how = f"{_read_to_edge(design, measure)} {how}".strip()
    how = f"{how} {_carried(design, measure)}".strip()
    doubtful = unlikely_reading(design, measure.key)
    if doubtful is not None:
        how = f"{doubtful.text} Read it again, or press {SURE} to confirm it. {how}"
    way: How | Literal[""] = reading.how if reading is not None and measure.kind in ("length", "angle") else ""
    room: Room = "line" if measure.kind == "hole" else "figure"
    edit, source = _editable(design, measure, rest), origin(design, measure)
    counts = _counts(design, measure, source)
    return Line(
        measure.key, curly(measure.name), curly(how), rest, edit, source, edge, way=way, counts=counts,
        unlikely=doubtful is not None, room=room, note=_note(design, measure),
    )  # fmt: skip


def _counts(design: Design, measure: Measure, source: Origin) -> tuple[Origin, ...]:
    """Return where a value can be from, the present origin first; () for a choice, and where there is no value."""
    if measure.free or measure.get(design) is None:
        return ()
    offered: tuple[Origin, ...] = ("measured", "to buy", "guess") if is_part(measure) else ("measured", "guess")
    return (source, *(each for each in offered if each != source))


def _note(design: Design, measure: Measure) -> str:
    """Say where an assumption is from: "Our assumption.", "Changed. Usual: 40 %, common practice."; "" for a reading."""
    if measure.section != assumption_measures.SECTION:
        return ""
    source = assumption_measures.origin_words(measure.key)
    if origin(design, measure) == "usual":
        return curly(f"{capital(source)}.")
    return curly(f"Changed. Usual: {figure(design, measure, assumption_measures.usual(design, measure.key))}, {source}.")


def _shape_line(design: Design, measure: Measure) -> Line:
    corners, source = at_path(design, measure.key) or (), origin(design, measure)
    rest = source if source == "not known" else f"{len(corners)} corners"
    how = measure.how
    if not measure.key.startswith("mounts."):
        how = f"{how} Draw it on the sheet."
    elif has_corner_measures(measure.key):
        how = f"{how} Type them in the entries below."
    return Line(measure.key, curly(measure.name), curly(how), rest, rest, source, shape=True)


def _read_to_edge(design: Design, measure: Measure) -> str:
    """Say where the centre is after a reading to an edge: "Near edge 7 in, hole 1/2 in: the centre is at 7 1/4 in."."""
    reading, value = design.readings.get(measure.key), measure.get(design)
    hole: float | None = at_path(design, f"{measure.key.rsplit('.', 1)[0]}.diameter")
    if reading is None or reading.from_ == "centre" or value is None or hole is None or not _as_entered(reading, value):
        return ""
    read = value - math.copysign(hole / 2, value if reading.from_ == "near edge" else -value)
    lengths = [format_length(mm, design.units, denominator=64) for mm in (read, hole, value)]
    return f"{reading.from_.capitalize()} {lengths[0]}, hole {lengths[1]}: the centre is at {lengths[2]}."


def _carried(design: Design, measure: Measure) -> str:
    """Say how far a depth from the inside top edge is below the outside one: "The inside edge is 7/16 in lower. So ..."."""
    well, value = design.well, measure.get(design)
    if well is None or value is None or well.well_from != "inside top edge":
        return ""
    if measure.key not in ("well.floor_port", "well.floor_starboard"):
        return ""
    try:
        step = -faces(design.transom).edge_w
    except Unmeasured:
        return ""
    away, down = (format_length(abs(mm), design.units) for mm in (step, value + step))
    return f"The inside edge is {away} {'lower' if step >= 0 else 'higher'}. So this is {down} below the outside edge."


def _as_entered(reading: Reading, value: float) -> bool:
    return reading.value is not None and abs(reading.value - value) < _SAME


def _editable(design: Design, measure: Measure, rest: str) -> str:
    """Return the text of a field while a person types in it: the text as typed, where it still means the same."""
    value, reading = measure.get(design), design.readings.get(measure.key)
    if value is None:
        return "" if rest in ("not known", measure.empty) else rest
    if reading is not None and reading.from_ != "centre" and _as_entered(reading, value):
        return reading.text
    if reading is not None:  # typed in the other unit, it needs that unit's word
        for text in (reading.text, *(f"{reading.text} {unit}" for unit in _UNITS.get(measure.kind, ()))):
            if _says(design, measure, text, value):
                return text
    if measure.kind == "length":
        return format_length(value, design.units, denominator=64, unit_word=False)
    return _at_rest(design, measure)


def _says(design: Design, measure: Measure, text: str, value: float) -> bool:
    try:
        return abs(parse_entry(design, measure, text) - value) < _SAME
    except OwnerError:
        return False


def _calculated(design: Design, mount: int, section: int) -> tuple[Line, ...]:
    if section == 2:
        how = "How far the inside top edge is below the outside one, along the inner face."
        return (_calculated_line(design, "Inside edge lower by", how, lambda: -faces(design.transom).edge_w),)
    if section != 7 or mount >= len(design.mounts) or design.mounts[mount].bracket.rows is None:
        return ()
    return (
        _calculated_line(design, "Gap under bracket hook", "From the bracket hook down to the transom’s top.",
              partial(hook_gap, design, mount)),
        _calculated_line(design, "AV plate above bottom", "From the hull’s bottom up to the AV plate, plumb.",
              partial(plate_height, design, mount)),
    )  # fmt: skip


def _calculated_line(design: Design, name: str, how: str, calculate: Callable[[], float]) -> Line:
    try:
        text = format_reading(calculate(), design.units).rsplit(" ", 1)[0]
    except Unmeasured:
        text = "not known"
    return Line("", name, how, text, text, "calculated")


def _gist(design: Design, mount: int, number: int) -> str:
    try:
        gist = _GISTS[number - 1]
        if gist in (_upper, _drop, _hardware) and design.mounts[mount].bracket.rows is None:
            return "none, it clamps on"
        return gist(design, mount)
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
    if pattern(design, mount):
        return "standard pattern"
    held = "clamp-on" if rows is None else f"{rows.count} holes"
    if motor.power_kw is None:
        return held
    return f"{force_units.power(motor.power_kw, design.units)}, {held}"


def _upper(design: Design, mount: int) -> str:
    at = design.mounts[mount].upper_at
    return f"{_short(design, None if at is None else -at)} down"


def _drop(design: Design, mount: int) -> str:
    row = design.mounts[mount].row
    drop = _short(design, design.mounts[mount].drop)
    return drop if row is None else f"{drop}, {up_words(row)}"


def _hardware(design: Design, mount: int) -> str:
    hardware = design.mounts[mount].lower_hardware
    if hardware is None:
        raise TypeError("not measured")
    bolt = hardware.bolt.split("-")[0].split("x")[0]
    long = "" if hardware.length is None else f", {_short(design, hardware.length)} long"
    bought = {state_of(design, row) for row in parts(design, mount, "lower")} == {"to buy"}
    return f"{bolt} bolts{long}{', to buy' if bought else ''}"


def _assumptions(design: Design, _mount: int) -> str:
    count = len(assumption_measures.changed(design))
    return f"{count} changed" if count else "all as usual"


_GISTS: tuple[Callable[[Design, int], str], ...] = (
    _transom, _top, _well, _holes, _motor, _upper, _drop, _hardware, _assumptions,
)  # fmt: skip
