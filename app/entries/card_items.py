"""What the open section of the card holds, from top to bottom: entries, choices, acts, and a word or two between."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import msgspec

from app.entries.entry_text import Line, lines, name_line
from geometry.design import additions
from geometry.design.choices import Choice, Option, choices
from geometry.design.edits import remove_mount
from geometry.design.measures import SECTIONS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from geometry.design.design import Design
    from geometry.design.motor import Mount

IN_HAND = "view.mount"
"""Key of the choice of the motor in hand: a way of looking, no edit."""
_MOTOR_SECTIONS = (5, 6, 7, 8)
_NO_BOLTS = "It clamps on: no bolts, and so no holes and no template. Its screws want a sound, thick enough transom."


class Act(msgspec.Struct, frozen=True):
    """Something that is done by one press, as the step ``label``."""

    key: str
    words: str
    label: str
    make: Callable[[], Design]


class Said(msgspec.Struct, frozen=True):
    """A word or two; ``head``: it names what stands below."""

    key: str
    text: str
    head: bool = False


Item = Line | Choice | Act | Said


def items(design: Design, mount: int, section: int) -> tuple[Item, ...]:
    """Return what one section holds, with the motor ``mount`` in hand."""
    found = {one.key: one for one in choices(design, mount, section)}
    entries = lines(design, mount, section)
    hung = design.mounts[mount] if mount < len(design.mounts) else None
    head = tuple(_in_hand(design, mount)) if section in _MOTOR_SECTIONS else ()
    match section:
        case 1:
            return (name_line(design), *entries, *found.values())
        case 4:
            return tuple(_holes(design, mount, entries, found))
        case 5:
            return (*head, *_motor(design, mount, entries, found))
        case 6 | 7 | 8 if hung is None:
            return (Said(f"none.{section}", "No motor hangs yet: choose its bracket in section 5."),)
        case 6 | 7 | 8 if hung is not None and hung.bracket.rows is None:
            return (*head, *entries, Said(f"none.{section}", _NO_BOLTS))
        case 8:
            return (*head, *_hardware(design, mount, entries, found))
        case 2 | 3:
            return (*found.values(), *entries)
        case _:
            return (*head, *entries)


def answered(choice: Choice, index: int, mount: int) -> Design:
    """Return the design with another answer, of the motor ``mount``; a relieved plate is made to measure for its place."""
    changed = choice.put(index)
    if index == choice.at or not choice.key.endswith("_hardware.plate"):
        return changed
    from geometry.decide.measured_kit import with_plate_to_measure  # wanted only now

    return with_plate_to_measure(changed, mount, "upper" if ".upper_" in choice.key else "lower")


def key_of(item: Item) -> str:
    """Return what an item is known by in its section; what is reckoned has only its name."""
    return item.key or item.name if isinstance(item, Line) else item.key


def short_name(item: Line | Choice) -> str:
    """Return what stands before an item where a head above it already says whose it is: "Across", "Washer, bore"."""
    name = item.name
    if item.key.startswith("old_holes."):
        name = name.rsplit(", ", 1)[-1]
    elif ".bracket.outline." in item.key:
        name = name.removeprefix("Bracket ")
    elif "_hardware." in item.key:
        name = name.removeprefix("Lower ").removeprefix("Upper ")
    return name[:1].upper() + name[1:]


def section_with(design: Design, mount: int, key: str) -> int:
    """Return the section that holds an item, 0 for none."""
    return next(
        (number for number in range(1, len(SECTIONS) + 1) if any(key_of(one) == key for one in items(design, mount, number))), 0
    )


def _in_hand(design: Design, mount: int) -> Iterator[Choice]:
    if len(design.mounts) > 1:
        options = tuple(Option(motor.name, _capital(motor)) for motor in design.mounts)
        yield Choice(IN_HAND, 5, "Motor in hand", "The others are drawn in a thinner line.", options, mount, lambda _i: design)


def _capital(motor: Mount) -> str:
    return motor.name[:1].upper() + motor.name[1:]


def _motor(design: Design, mount: int, entries: Iterable[Line], found: dict[str, Choice]) -> Iterator[Item]:
    """The motor first, then what the boat's plate and papers say of the motors that it may carry."""
    yield from (choice for key, choice in found.items() if not key.startswith("boat."))
    yield from (line for line in entries if not line.key.startswith("boat."))
    yield from _motor_acts(design, mount)
    yield Said("boat", "The boat’s plate and size", head=True)
    yield from (line for line in entries if line.key.startswith("boat.") and not line.key.startswith("boat.old_motor"))
    yield from (choice for key, choice in found.items() if key.startswith("boat."))
    yield Said("boat.old_motor", "The motor before", head=True)
    yield from (line for line in entries if line.key.startswith("boat.old_motor"))


def _motor_acts(design: Design, mount: int) -> Iterator[Item]:
    if mount >= len(design.mounts):
        yield Said("hang", "Choose a bracket, and the motor hangs on the centreline.")
        return
    name = design.mounts[mount].name
    if len(design.mounts) == 1:
        yield Act("twin", "Hang a twin beside it", "Twin hung", partial(additions.add_twin, design, mount))
    yield Act("kicker", "Hang a kicker beside it", "Kicker hung", partial(additions.add_kicker, design, mount))
    yield Act("off", f"Take the {name} off", f"{_capital(design.mounts[mount])} off", partial(remove_mount, design, mount))


def _holes(design: Design, mount: int, entries: Iterable[Line], found: dict[str, Choice]) -> Iterator[Item]:
    for index, hole in enumerate(design.old_holes):
        start = f"old_holes.{index}."
        mine = [line for line in entries if line.key.startswith(start)]
        yield Said(start, hole.name[:1].upper() + hole.name[1:], head=True)
        yield from (line for line in mine if not line.key.endswith(".plug_diameter"))
        yield found[f"{start}state"]
        yield from (line for line in mine if line.key.endswith(".plug_diameter"))
        yield found[f"{start}reuse"]
        name = hole.name[:1].upper() + hole.name[1:]
        yield Act(f"{start}off", f"Take the {hole.name} off", f"{name} off",
                  partial(additions.remove_part, design, "old_holes", index))  # fmt: skip
    pairs = additions.upper_pairs(design, mount)
    if len(pairs) > 1:
        yield Said("pairs", "Use for the upper holes:")
    for port, starboard in pairs:
        told = f"{design.old_holes[port].name}, {design.old_holes[starboard].name}"
        words = f"{told[:1].upper()}{told[1:]}" if len(pairs) > 1 else "Use the old pair for the upper holes"
        yield Act(f"pair.{port}.{starboard}", words, "Old pair for the upper holes",
                  partial(additions.use_pair, design, mount, (port, starboard)))  # fmt: skip
    yield Act("add hole", "Add an old hole", "Old hole added", partial(additions.add_old_hole, design))


def _hardware(design: Design, mount: int, entries: Iterable[Line], found: dict[str, Choice]) -> Iterator[Item]:
    for pair in ("lower", "upper"):
        start = f"mounts.{mount}.{pair}_hardware."
        yield Said(start, f"{pair.capitalize()} pair", head=True)
        if pair == "upper":
            yield Act("alike", "Same as the lower pair", "Upper hardware as the lower",
                      partial(additions.hardware_alike, design, mount))  # fmt: skip
        yield from (choice for key, choice in found.items() if key.startswith(start))
        yield from (line for line in entries if line.key.startswith(start))
    yield from (line for line in entries if ".room_aft." in line.key)
