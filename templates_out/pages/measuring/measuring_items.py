"""The items of the measuring sheet: everything that is measured, in the order in which the program asks for it."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec
from msgspec.structs import replace

from geometry.asking.question_order import OLD_HOLES, Asking, questions
from geometry.asking.question_pairs import pair_of
from geometry.asking.question_words import ANY_OLD_HOLES, WHERE_TO_LOOK, how_to_read, pattern_title, title
from geometry.design.design import Design
from geometry.design.hardware import Hardware
from geometry.design.motor import Mount
from geometry.design.patterns import motor
from geometry.edits.reading_order import deciding_readings
from geometry.readings.measures import Measure, at_path, measures, state_of
from geometry.readings.measures import measure as measure_of
from geometry.readings.motor_measures import of_mount
from geometry.tables.known import MM_PER_INCH
from geometry.units import force_units
from geometry.units.trade_words import in_trade_words
from geometry.units.units import format_angle, format_length, format_mass
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import printed

NBSP = "\N{NO-BREAK SPACE}"
MOST = 3  # blanks of an item; an old hole has its place twice


class Blank(msgspec.Struct, frozen=True):
    """A blank to write in.

    Attributes:
        word: what is read, under the blank. known: the value that the design has now, "" for none; a guess has a "?".
        unit: of the value, "" for none.
    """

    word: str
    known: str = ""
    unit: str = ""

    @property
    def under(self) -> str:
        """The words under the blank: what is read, and its unit."""
        return ", ".join(part for part in (self.word, self.unit) if part)


class Item(msgspec.Struct, frozen=True):
    """One number of the list.

    Attributes:
        section: the heading above it. name, how: what to measure and how, with how exactly.
        blanks: one to three, in one row; of an old hole two rows. A shape that is known has a long one, for what differs.
        corners: of a shape that is not known, or a guess: across and down of each. It has no other blanks.
        keys: of its measures. pictured: the name of the question whose picture is next to it, "" for none.
    """

    section: str
    name: str
    how: str
    blanks: tuple[Blank, ...]
    keys: tuple[str, ...]
    corners: tuple[tuple[Blank, Blank], ...] = ()
    pictured: str = ""

    @property
    def shape(self) -> bool:
        """Whether corners or places are written, in one long line."""
        return len(self.blanks) == 1 and self.blanks[0].word in (_CORNERS, _WHERE)


FIRST_OF_ALL = "First: these decide the holes"
_OLD = "Old holes, and things in the well"
_AGAIN = "A second way: it shows a slip"
_MOTOR = "Motor, on its bracket"
_OTHER_PATTERN = "Bracket’s pattern, where it is another"
_CORNERS = "corner by corner: across, down"
_WHERE = "none; or where, open or plugged, how wide"
_HOW = {
    "Thickness": "Square to the face, with calipers and blocks, or a hooked wire in an old hole. Write how far down the lower "
                 "one is.",
    "Skins, fittings": "Look into an old hole for the skins. How far each fitting sticks out.",
    "Width of the well": "Across, between its sides.",
    "Front of the well": "Along the floor from the transom. Lean from plumb: if its top is further forward, add: forward. "
                         "Its lip, if asked: up from the datum.",
    "Tilt tube": "Back from the bracket’s face to the tube’s middle. Up to it from the bracket hook.",
    "Full tilt, full lock": "How far the motor tilts from its lowest place, and turns to each side.",
    "Cowl point": "From the tube’s middle to an outermost place, motor down. Forward of plumb. Half the width there.",
    "Shaft, set-back, weight": "Bracket hook to AV plate (anti-ventilation plate). Bracket to transom. From its papers.",
    "Capacity plate": "Power, heaviest motor, persons with motor and gear. The capacity plate comes before any rule.",
    "The boat": "Length over the deck, without rails or brackets. Beam between the sides. Transom at its widest.",
    "Power, balance, cowl": "From its papers. How far aft of the transom it balances. From its middle to the cowl’s outside.",
    "torque": "Wrench torque from the motor’s manual, with the lock nut’s drag in it.",
    "Bracket corners": "From the top one on: across from the bracket’s centre, down from the bracket hook.",
    "Upper holes": "Bracket’s centre to a hole. Bracket hook to the top hole. Hole to hole.",
    "Upper holes: how many": "Count one side. Across a hole. The bracket’s thickness there.",
    "Lower slots": "Bracket’s centre to a slot. Across the slot. The bracket’s thickness there.",
    "Slot": "Highest and lowest place of a bolt’s centre, below the top hole.",
    "Clamp screws": "Down from the bracket hook. Across from the bracket’s centre.",
    "Pads": "The thickness of each.",
    "Jaw": "Turn the screws wholly in, then wholly out.",
    "Room behind the bracket": "Along the bolt, behind its hole.",
    "outside washers": "With calipers.", "inside washers": "With calipers, on the thickest one.",
    "socket": "Across its wider end. Its length with the drive.", "ring spanner": "Across the ring. Through the ring.",
    "ring spanner’s handle": "From the ring’s middle to its end. Across it, at its widest.",
    "nuts": "Across flats. Height with the insert.", "heads": "Across flats. Height.", "spacers": "Across. End to end.",
    "old hole": "To its centre, or to an edge: then write which. To port is minus. Write open, sealed or plugged.",
    "Top cut": "Lay a square over the top edge. Write square, level, or the degrees from square to the face.",
    "Rake": "Lay the phone on a straight batten up the face. Turn it end for end, read again. Enter the middle.",
    "Floor slope": "Phone on a batten fore and aft on the floor. If it falls forward, add: falls. Turn it, read again. Enter "
                   "the middle.",
}  # fmt: skip
_TWICE = ("transom.rake", "well.floor_rise")  # read twice, the phone turned


def items(design: Design) -> tuple[Item, ...]:
    """Return the list in the order in which the program asks, without what is decided or bought by number."""
    order = list(questions(design))
    pictured = [item for asking in order for item in _pictured(design, asking)]
    asked = {key for item in pictured for key in item.keys}
    groups: dict[tuple[str, str], list[tuple[Measure, str]]] = {}
    for measure in measures(design):
        if measure.key not in asked and _wanted(design, measure):
            name, word = _place(design, measure)
            groups.setdefault((_section(design, measure), name), []).append((measure, word))
    distances = {key for asking in order if asking.name.startswith("pattern.") for key in asking.keys}
    for section, name in list(groups):
        if any(measure.key in distances for measure, _ in groups[section, name]):
            groups[f"{_OTHER_PATTERN}{section.removeprefix(_MOTOR)}", name] = groups.pop((section, name))
    listed = []
    for (section, name), members in groups.items():
        most = len(members) if members[0][0].key.startswith("old_holes.") else MOST
        listed += [_item(design, section, name, members[start : start + most]) for start in range(0, len(members), most)]
    if not design.mounts:
        listed += _any_motor(design)
    return tuple(replace(item, name=_curly(item.name), how=_curly(item.how)) for item in _in_order([*pictured, *listed], order))


def _curly(text: str) -> str:
    """Return a text with the printer's apostrophes that the window has."""
    return text.replace("'", "’")


def _in_order(listed: list[Item], order: list[Asking]) -> tuple[Item, ...]:
    """Return the items by section, each section where the first of its questions is asked."""
    turns = {key: turn for turn, asking in enumerate(order) for key in (asking.name, *asking.keys)}
    late = len(order)

    def turn(item: Item) -> int:
        return min((turns.get(key, late) for key in (item.pictured, *item.keys)), default=late)

    sections: dict[str, int] = {}
    for item in listed:
        sections[item.section] = min(sections.get(item.section, late + 1), turn(item))
    names = list(sections)
    return tuple(sorted(listed, key=lambda item: (sections[item.section], names.index(item.section), turn(item))))


def _pictured(design: Design, asking: Asking) -> Iterator[Item]:
    """Yield a question that has its picture on the sheet: one of the first readings, the pattern, or a second way."""
    if asking.name == OLD_HOLES:
        where = Blank(_WHERE, unit=design.units)
        yield Item(_OLD, ANY_OLD_HOLES, WHERE_TO_LOOK, (where,), (), pictured=OLD_HOLES)
        return
    if asking.name.startswith("pattern."):
        mount = int(asking.name.split(".")[1])
        how = ("Are all three distances as drawn? Then tick. If not, fill in the pattern below and its diagonal here. "
               "Measure that from the top hole at port to a bolt’s highest place at starboard.")  # fmt: skip
        two = (Blank("as drawn: tick"), Blank("diagonal", "", design.units))
        yield Item(FIRST_OF_ALL, writable(pattern_title(design, mount)), how, two, (), pictured=asking.name)
        return
    row, deciding = measure_of(design, asking.name), deciding_readings(design)
    if row is None or not (row.second or asking.name in deciding):
        return
    exact = _exactly(design, row)
    written = how_to_read(design, row).replace("Or type", "Or write")
    how = f"{written} {f'To {exact}.' if exact else ''}"
    blank = Blank("", _known(design, row), _unit(design, row))
    words = ("first", "turned") if row.key in _TWICE else ("once", "again")
    blanks = tuple(replace(blank, word=word, known=blank.known if index == 0 else "") for index, word in enumerate(words))
    placed = tuple(Blank("across", _known(design, other), _unit(design, other)) for other in _across(design, asking))
    section = FIRST_OF_ALL if row.key in deciding else _AGAIN
    yield Item(section, writable(title(row)), in_trade_words(printed(how.strip()), design.units), (*placed, *blanks),
               asking.keys, pictured=row.key)  # fmt: skip


def _across(design: Design, asking: Asking) -> Iterator[Measure]:
    """Yield how far across a corner is whose depth is asked for."""
    for key in asking.keys[1:]:
        row = measure_of(design, key)
        if row is not None:
            yield row


def _any_motor(design: Design) -> list[Item]:
    """Return what to measure on a motor's bracket where none hangs yet: that of a standard one, by one slot."""
    hung = msgspec.structs.replace(design, mounts=(motor("standard", "motor"),))
    blanks: dict[str, list[Blank]] = {}
    for measure in of_mount(hung, 0):
        if measure.item is not None:
            name, word = measure.item
            blanks.setdefault(name.removesuffix(" 1"), []).append(Blank(word, "", _unit(design, measure)))
    names = ("Shaft, set-back, weight", "Upper holes", "Upper holes: how many", "Lower slots", "Slot")
    return [Item(_MOTOR, name, _HOW[name], tuple(blanks[name]), ()) for name in names]


def _wanted(design: Design, measure: Measure) -> bool:
    if measure.key == "transom.top_cut":
        return True
    if measure.free or measure.second or measure.key == "well.profile":  # its corners, or floor and width, have their own items
        return False
    outline, dot, _ = measure.key.partition(".outline")
    if ".bracket" in outline and dot and (measure.kind == "shape") == _drawn(design, outline + dot):
        return False  # by its numbers where they are known, else as a shape
    if measure.key.endswith((".wedge", ".relief")):
        return False
    place = re.match(r"mounts\.(\d+)\.(bracket|\w+_hardware\.\w+)", measure.key)
    if place is None:
        return True
    if _is_bought(design, measure.key):
        return False
    first = re.sub(r"^mounts\.\d+", "mounts.0", measure.key)
    again = place[1] != "0" and at_path(design, f"mounts.0.{place[2]}") == at_path(design, place[0]) and _listed(design, first)
    upper = measure.key.replace(".lower_hardware.", ".upper_hardware.")
    return not again and not (upper != measure.key and _alike(design, measure.key) and _listed(design, upper))


def _listed(design: Design, key: str) -> bool:
    """Return whether the same measure of another part is on the list: a spare tool's is not, and no part's that is to buy."""
    twin = measure_of(design, key)
    return twin is not None and not twin.free and not _is_bought(design, key)


def _is_bought(design: Design, key: str) -> bool:
    """Say whether a part is still to buy: nobody can measure it yet."""
    reading = design.readings.get(key)
    return reading is not None and reading.state == "to buy"


def _alike(design: Design, key: str) -> bool:
    """Say whether a part of the hardware is the same in both pairs."""
    part = ".".join(key.split(".")[:4])
    upper, lower = (at_path(design, re.sub(r"\.(upper|lower)_", f".{pair}_", part)) for pair in ("upper", "lower"))
    return bool(upper == lower)


def _corners(design: Design, measure: Measure) -> tuple[tuple[Blank, Blank], ...]:
    """Return a shape's corners, with what is known of them: down is plus, to port minus."""
    mark = " ?" if state_of(design, measure) == "guess" else ""
    pairs = []
    for across, up in at_path(design, measure.key):
        down = None if up is None else -up
        shown = ["" if mm is None else f"{_bare(design, mm)}{mark}" for mm in (across, down)]
        pairs.append((Blank("across", shown[0], design.units), Blank("down", shown[1], design.units)))
    return tuple(pairs)


def _bare(design: Design, mm: float) -> str:
    return format_length(mm, design.units, style="paper", denominator=64, unit_word=False)


def _section(design: Design, measure: Measure) -> str:
    if measure.key.startswith(("transom", "outside_fittings")):
        return "Transom"
    if measure.key.startswith("boat."):
        return "Boat and capacity plate"
    if measure.key.startswith(("well", "inside_blocks")):
        return "Well, from inside" if design.well is not None else "Inside"
    if measure.key.startswith("old_holes"):
        return "Old holes"
    mount = design.mounts[int(measure.key.split(".")[1])]
    whose = f": {writable(mount.name)}" if len(design.mounts) > 1 else ""
    if "_hardware." in measure.key:
        alike = all(_fitted(other) == _fitted(design.mounts[0]) for other in design.mounts)
        return "Hardware" if alike else f"Hardware{whose}"
    if whose and mount is not design.mounts[0] and mount.bracket == design.mounts[0].bracket:
        whose += " (bracket alike)"
    return f"{_MOTOR}{whose}"


def _fitted(mount: Mount) -> tuple[Hardware | None, Hardware | None]:
    return mount.upper_hardware, mount.lower_hardware


def _place(design: Design, measure: Measure) -> tuple[str, str]:
    """Return the item that a measure belongs to, and the word under its blank."""
    if measure.kind == "shape":
        return _capital(writable(measure.name)), _CORNERS
    if measure.item is None:
        pair = pair_of(design, measure.key)  # two guesses that one answer gives
        return _capital(writable(measure.name if pair is None else pair.title)), ""
    name, word = measure.item
    return _pair(design, measure.key, writable(name)), word


def _pair(design: Design, key: str, name: str) -> str:
    """Name hardware by its pair, where the two pairs differ: "Lower inside washers"."""
    pair = re.search(r"\.(upper|lower)_hardware\.", key)
    if pair is None:
        return name
    return _capital(name) if _alike(design, key) else f"{_capital(pair[1])} {name}"


def _item(design: Design, section: str, name: str, members: list[tuple[Measure, str]]) -> Item:
    first = members[0][0]
    how = next((_HOW[key] for key in (name, name.split(" ", 1)[-1], name.lower()) if key in _HOW), first.how)
    if name.startswith("Slot "):
        how = _HOW["Slot"]
    if name.startswith("Cowl point "):
        how = _HOW["Cowl point"]
    if first.key.endswith(".across"):
        how = _HOW["old hole"] if first.key.startswith("old_holes.0.") else "The same."
    leading = [measure for measure, _ in reversed(members)]
    if first.key.startswith("well.profile"):
        leading = [measure for measure, _ in members]
        how = " ".join(measure.how for measure in leading)
    if first.kind == "shape" and (not _drawn(design, first.key) or state_of(design, first) in ("guess", "not known")):
        return Item(section, name, f"{writable(how)} To port is minus.", (), (first.key,), _corners(design, first))
    blanks = tuple(Blank(word, _known(design, measure), _unit(design, measure)) for measure, word in members)
    if first.key in _TWICE:
        blanks = (Blank("first", blanks[0].known, "°"), Blank("turned", "", "°"))
    if first.key.startswith("old_holes."):  # across, down, diameter; again across and down, and across the plug
        again = (replace(blank, word=f"{blank.word} again", known="") for blank in blanks[:2])
        blanks = (*blanks[:MOST], *again, *blanks[MOST:])
    exact = {measure.kind: _exactly(design, measure) for measure in leading if _exactly(design, measure)}
    to = f" To {' and '.join(reversed(exact.values()))}.".replace(" ", NBSP).replace(NBSP, " ", 1) if exact else ""
    how = in_trade_words(f"{writable(how)}{to}", design.units)
    return Item(section, in_trade_words(name, design.units), how, blanks, tuple(measure.key for measure, _ in members))


def _unit(design: Design, measure: Measure) -> str:
    """Return the unit in which a blank is written; "" for a count or a plain number."""
    if measure.kind in ("count", "number") or measure.key == "transom.top_cut":
        return ""
    if measure.kind == "angle":
        return "°"
    if measure.kind in ("length", "shape"):
        return design.units
    weight = measure.kind == "mass"
    written = format_mass(1.0, design.units) if weight else force_units.written(measure.kind, 1.0, design.units)
    return written.split(" ", 1)[1]


def _exactly(design: Design, measure: Measure) -> str:
    """Say how exactly a reading is needed: "1/16 in", "1 mm", "0.5°"."""
    if measure.kind in ("count", "shape") or not measure.exact or measure.kind == "mass":
        return ""
    if measure.kind == "angle":
        return f"{measure.exact:g}°"
    if design.units == "mm":
        return f"{measure.exact:g} mm"
    return f"1/{next((b for b in (4, 8, 16, 32) if MM_PER_INCH / b <= measure.exact * 1.1), 64)} in"


def _known(design: Design, measure: Measure) -> str:
    """Return what the design has now, short: "9-7/8", "14°", with a "?" for a guess."""
    state = state_of(design, measure)
    mark = " ?" if state == "guess" else ""
    if measure.key == "transom.top_cut" and isinstance(design.transom.top_cut, str):
        return f"{design.transom.top_cut}{mark}"
    if measure.kind == "shape":
        return f"as drawn{mark}" if state == "guess" or _drawn(design, measure.key) else ""
    value = measure.get(design)
    if value is None:
        return ""
    if measure.kind == "angle":
        return f"{format_angle(value)}{mark}"
    if measure.kind == "count":
        return f"{value:.0f}{mark}"
    if measure.kind == "mass":
        return f"{format_mass(value, design.units)}{mark}"
    if measure.kind in force_units.KINDS:
        return f"{force_units.written(measure.kind, value, design.units)}{mark}"
    return f"{_bare(design, value)}{mark}"


def _drawn(design: Design, key: str) -> bool:
    """Say whether a shape's corners are all known."""
    value = at_path(design, key)
    return isinstance(value, tuple) and all(None not in corner for corner in value if isinstance(corner, tuple))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
