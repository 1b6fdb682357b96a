"""What stands on the measuring sheet: everything that is measured, put together as a person with a tape takes it."""

from __future__ import annotations

import re

import msgspec

from geometry.design import forces
from geometry.design.design import Design
from geometry.design.hardware import Hardware
from geometry.design.measures import Measure, at_path, measures, state_of
from geometry.design.motor import Mount
from geometry.design.motor_measures import of_mount
from geometry.design.patterns import motor
from geometry.design.units import format_angle, format_length, format_mass
from geometry.tables.known import MM_PER_INCH
from templates_out.drawing.fonts import writable

NBSP = "\N{NO-BREAK SPACE}"
MOST = 3  # blanks of an item


class Blank(msgspec.Struct, frozen=True):
    """Something to write: the word under it, and what the design has now ("" where nothing), a guess with a "?"."""

    word: str
    known: str = ""


class Item(msgspec.Struct, frozen=True):
    """One number of the list.

    Attributes:
        section: heading that it stands under. name, how: what to measure and how, with how exactly.
        blanks: one to three; a shape that is known has one long one, for what is found otherwise.
        corners: of a shape that is not known, or a guess: across and down of each; it has no other blanks.
        keys: of its measures.
    """

    section: str
    name: str
    how: str
    blanks: tuple[Blank, ...]
    keys: tuple[str, ...]
    corners: tuple[tuple[Blank, Blank], ...] = ()

    @property
    def shape(self) -> bool:
        """Whether corners are written, in one long line."""
        return len(self.blanks) == 1 and self.blanks[0].word == _CORNERS


_SHAPES = "Shapes, corner by corner"
_MOTOR = "Motor, on its bracket"
_CORNERS = "corner by corner: across, down"
_HOW = {
    "Thickness": "Square to the face: calipers and blocks, or a hooked wire in an old hole; how far down the lower one.",
    "Skins": "Seen in an old hole.",
    "Width of the well": "Athwart, between its sides.",
    "Front of the well": "Along the floor from the transom; lean from plumb, its top further aft is plus.",
    "Shaft, set-back, weight": "Bracket hook to AV plate; bracket off the transom; from its papers.",
    "Capacity plate": "Power, heaviest motor, persons with motor and gear. It comes before any rule.",
    "The boat": "Over the deck, no rails or brackets; between the sides; transom at its widest.",
    "Power, balance, cowl": "From its papers. How far aft of the transom it balances. From its middle to the cowl’s outside.",
    "torque": "Wrench torque by the motor’s manual, lock nut’s drag included.",
    "Bracket corners": "From the top one on: across from its centre, down from the saddle.",
    "Upper holes": "Bracket’s centre to a hole; saddle to the top hole; from hole to hole.",
    "Upper holes: how many": "On one side; across a hole; the bracket’s thickness there.",
    "Lower slots": "Bracket’s centre to a slot; across it; the bracket’s thickness there.",
    "Slot": "Highest and lowest place of a bolt’s centre, below the top hole.",
    "Clamp screws": "From the saddle, and from the bracket’s centre.",
    "Pads": "Their thickness.",
    "Jaw": "Screws wholly in, wholly out.",
    "Room behind the bracket": "Along the bolt, behind its hole.",
    "outside washers": "By calipers.", "inside washers": "By calipers, the thickest of them.",
    "socket": "Across its wider end; with its drive.", "ring spanner": "Across the ring; through it.",
    "nuts": "Across flats; with the insert.", "heads": "Across flats; by calipers.", "spacers": "Across; end to end.",
    "old hole": "To its centre, or to an edge: then write which. Open, sealed or plugged?",
    "Top cut": "Bridge a square over the top: write square, level or degrees from square to the face.",
    "Rake": "Phone on a straight batten up the face; turn it end for end, read again. Enter the middle.",
    "Floor slope": "Phone on a batten fore and aft on the floor; up going forward is plus. Turn, read again. Enter the middle.",
}  # fmt: skip
_TWICE = ("transom.rake", "well.floor_rise")  # read twice, the phone turned


def items(design: Design) -> tuple[Item, ...]:
    """Return the list in walking order: what is decided or bought by number is left out."""
    groups: dict[tuple[str, str], list[tuple[Measure, str]]] = {}
    for one in measures(design):
        if _wanted(design, one):
            name, word = _place(design, one)
            groups.setdefault((_section(design, one), name), []).append((one, word))
    found = []
    for (section, name), members in groups.items():
        for start in range(0, len(members), MOST):
            some = members[start : start + MOST]
            found.append(_item(design, section, name, some))
    if not design.mounts:
        found += _any_motor(design)
    order = [name for name in dict.fromkeys(item.section for item in found) if name != _SHAPES] + [_SHAPES]
    return tuple(sorted(found, key=lambda item: order.index(item.section)))


def _any_motor(design: Design) -> list[Item]:
    """Return what to measure on a motor's bracket where none hangs yet: that of a standard one, by one slot."""
    hung = msgspec.structs.replace(design, mounts=(motor("standard", "motor"),))
    blanks: dict[str, list[Blank]] = {}
    for name, word in filter(None, (measure.item for measure in of_mount(hung, 0))):
        blanks.setdefault(name.removesuffix(" 1"), []).append(Blank(word))
    names = ("Shaft, set-back, weight", "Upper holes", "Upper holes: how many", "Lower slots", "Slot")
    return [Item(_MOTOR, name, _HOW[name], tuple(blanks[name]), ()) for name in names]


def _wanted(design: Design, one: Measure) -> bool:
    if one.key == "transom.top_cut":
        return True
    if one.free or one.key == "well.profile":  # its corners, or floor and width, stand there by themselves
        return False
    outline, found, _ = one.key.partition(".outline")
    if ".bracket" in outline and found and (one.kind == "shape") == _drawn(design, outline + found):
        return False  # by its numbers where they are known, else as a shape
    if one.key.endswith((".wedge", ".relief")):
        return False
    place = re.match(r"mounts\.(\d+)\.(bracket|\w+_hardware\.\w+)", one.key)
    if place is None:
        return True
    again = place[1] != "0" and at_path(design, f"mounts.0.{place[2]}") == at_path(design, place[0])
    return not again and not (".lower_hardware." in one.key and _alike(design, one.key))


def _alike(design: Design, key: str) -> bool:
    """Tell whether a part of the hardware is the same in both pairs."""
    part = ".".join(key.split(".")[:4])
    upper, lower = (at_path(design, re.sub(r"\.(upper|lower)_", f".{pair}_", part)) for pair in ("upper", "lower"))
    return bool(upper == lower)


def _corners(design: Design, one: Measure) -> tuple[tuple[Blank, Blank], ...]:
    """Return a shape's corners, with what is known of them: down is plus, to port minus."""
    mark = " ?" if state_of(design, one) == "guess" else ""
    found = []
    for across, up in at_path(design, one.key):
        down = None if up is None else -up
        told = ["" if mm is None else f"{_bare(design, mm)}{mark}" for mm in (across, down)]
        found.append((Blank("across", told[0]), Blank("down", told[1])))
    return tuple(found)


def _bare(design: Design, mm: float) -> str:
    return format_length(mm, design.units, style="paper", denominator=64, unit_word=False)


def _section(design: Design, one: Measure) -> str:
    if one.kind == "shape" and not (_drawn(design, one.key) and state_of(design, one) not in ("guess", "not known")):
        return _SHAPES
    if one.key.startswith(("transom", "outside_fittings")):
        return "Transom"
    if one.key.startswith("boat."):
        return "Boat and plate"
    if one.key.startswith(("well", "inside_blocks")):
        return "Well, from inside" if design.well is not None else "Inside"
    if one.key.startswith("old_holes"):
        return "Old holes"
    mount = design.mounts[int(one.key.split(".")[1])]
    whose = f": {writable(mount.name)}" if len(design.mounts) > 1 else ""
    if "_hardware." in one.key:
        alike = all(_fitted(other) == _fitted(design.mounts[0]) for other in design.mounts)
        return "Hardware" if alike else f"Hardware{whose}"
    if whose and mount is not design.mounts[0] and mount.bracket == design.mounts[0].bracket:
        whose += " (bracket alike)"
    return f"{_MOTOR}{whose}"


def _fitted(mount: Mount) -> tuple[Hardware | None, Hardware | None]:
    return mount.upper_hardware, mount.lower_hardware


def _place(design: Design, one: Measure) -> tuple[str, str]:
    """Return the item that a measure belongs to, and the word under its blank."""
    if one.kind == "shape":
        return _capital(writable(one.name)), _CORNERS
    if one.item is None:
        return _capital(writable(one.name)), ""
    name, word = one.item
    return _pair(design, one.key, writable(name)), word


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
    if first.key.endswith(".across"):
        how = _HOW["old hole"] if first.key.startswith("old_holes.0.") else "The same."
    elif first.key.startswith("old_holes"):
        how = first.how
    leading = reversed(members)
    if first.key.startswith("well.profile"):
        how, leading = " ".join(one.how for one, _ in members), iter(members)
    if first.kind == "shape" and section == _SHAPES:
        return Item(section, name, f"{writable(how)} To port is minus.", (), (first.key,), _corners(design, first))
    blanks = tuple(Blank(word, _known(design, one)) for one, word in members)
    if first.key in _TWICE:
        blanks = (Blank("first", blanks[0].known), Blank("turned"))
    exact = {one.kind: _exactly(design, one) for one, _ in leading if _exactly(design, one)}
    told = f" To {' and '.join(reversed(exact.values()))}.".replace(" ", NBSP).replace(NBSP, " ", 1) if exact else ""
    return Item(section, name, f"{writable(how)}{told}", blanks, tuple(one.key for one, _ in members))


def _exactly(design: Design, one: Measure) -> str:
    """Say how exactly a reading is needed: "1/16 in", "1 mm", "0.5°"."""
    if one.kind in ("count", "shape") or not one.exact or one.kind == "mass":
        return ""
    if one.kind == "angle":
        return f"{one.exact:g}°"
    if design.units == "mm":
        return f"{one.exact:g} mm"
    return f"1/{next((b for b in (4, 8, 16, 32) if MM_PER_INCH / b <= one.exact * 1.1), 64)} in"


def _known(design: Design, one: Measure) -> str:
    """Return what the design has now, short: "9-7/8", "14°", with a "?" for a guess."""
    state = state_of(design, one)
    mark = " ?" if state == "guess" else ""
    if one.key == "transom.top_cut" and isinstance(design.transom.top_cut, str):
        return f"{design.transom.top_cut}{mark}"
    if one.kind == "shape":
        return f"as drawn{mark}" if state == "guess" or _drawn(design, one.key) else ""
    value = one.get(design)
    if value is None:
        return ""
    if one.kind == "angle":
        return f"{format_angle(value)}{mark}"
    if one.kind == "count":
        return f"{value:.0f}{mark}"
    if one.kind == "mass":
        return f"{format_mass(value, design.units)}{mark}"
    if one.kind in forces.KINDS:
        return f"{forces.written(one.kind, value, design.units)}{mark}"
    return f"{_bare(design, value)}{mark}"


def _drawn(design: Design, key: str) -> bool:
    """Tell whether a shape's corners are all known."""
    value = at_path(design, key)
    return isinstance(value, tuple) and all(None not in corner for corner in value if isinstance(corner, tuple))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
