"""The items of the card's open section, from top to bottom: entries, choices, actions and short texts."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Literal

import msgspec

from app.entries.entry_text import Line, lines, name_line
from app.ui.apostrophes import curly
from geometry.design.motor import MOST_ROWS
from geometry.design.validity import SECOND
from geometry.edits import additions
from geometry.edits.choices import Choice, Option, choices
from geometry.edits.confirm_or_buy import bought, confirmed, parts, pattern, to_buy_now, to_confirm
from geometry.edits.confirm_or_buy_words import distances, figures, parts_named
from geometry.edits.edits import remove_mount
from geometry.judge.contradictions import contradictions
from geometry.readings import assumption_measures
from geometry.readings.drilled_readings import DRILLED, HOLES, with_drilled, without_drilled
from geometry.readings.measures import SECTIONS, name_of
from geometry.readings.pilots import pilot_key
from geometry.solving.floor_from_pilot import can_give_floor, floor_from_pilot

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from geometry.design.design import Design
    from geometry.design.motor import Mount

IN_HAND = "view.mount"
"""Key of the choice of the motor that is shown. It changes the view, not the design."""
ADD_HOLE = "add hole"
"""Key of the act that adds an old hole."""
_MOTOR_SECTIONS = (5, 6, 7, 8)
_NO_BOLTS = "This motor clamps on. It has no bolts, no holes and no template. Its screws need a sound, thick transom."


class Act(msgspec.Struct, frozen=True):
    """An action that one press does, as the step ``label``."""

    key: str
    words: str
    label: str
    make: Callable[[], Design]


class Said(msgspec.Struct, frozen=True):
    """A short text; ``head``: it is the heading of the items below."""

    key: str
    text: str
    head: bool = False


Item = Line | Choice | Act | Said


def items(design: Design, mount: int, section: int) -> tuple[Item, ...]:
    """Return the items of one section, with the motor ``mount`` chosen."""
    offered = {choice.key: choice for choice in choices(design, mount, section)}
    entries = lines(design, mount, section)
    hung = design.mounts[mount] if mount < len(design.mounts) else None
    head = tuple(_in_hand(design, mount)) if section in _MOTOR_SECTIONS else ()
    match section:
        case 1:
            return (name_line(design), *entries, *offered.values())
        case 4:
            return tuple(_holes(design, mount, entries, offered))
        case 5:
            return (*head, *_motor(design, mount, entries, offered))
        case 6 | 7 | 8 if hung is None:
            return (Said(f"none.{section}", "No motor yet. Choose its bracket in section 5."),)
        case 6 | 7 | 8 if hung is not None and hung.bracket.rows is None:
            return (*head, *entries, Said(f"none.{section}", _NO_BOLTS))
        case 7:
            planned = tuple(line for line in entries if DRILLED not in line.key)
            return (*head, *_pilots(design, planned, offered), *_as_drilled(design, mount, entries, offered))
        case 6:
            return (*head, *_pilots(design, entries, offered))
        case 8:
            return (*head, *_hardware(design, mount, entries, offered))
        case assumption_measures.SECTION:
            return tuple(_assumptions(design, entries))
        case 2:
            return (*offered.values(), *entries)
        case 3:
            return (*offered.values(), *_well(entries))
        case _:
            return (*head, *entries)


def answered(choice: Choice, index: int, mount: int) -> Design:
    """Return the design with another answer for the motor ``mount``. A relieved backing plate gets the size of its place."""
    changed = choice.put(index)
    if index == choice.at or not choice.key.endswith("_hardware.plate"):
        return changed
    from geometry.decide.measured_kit import with_plate_to_measure  # wanted only now

    return with_plate_to_measure(changed, mount, "upper" if ".upper_" in choice.key else "lower")


def key_of(item: Item) -> str:
    """Return the key of an item in its section. A calculated value has only its name."""
    return item.key or item.name if isinstance(item, Line) else item.key


def short_name(item: Line | Choice) -> str:
    """Return the name of an item below a heading that already says whose it is: "Across", "Washer, bore"."""
    name = item.name
    if item.key.startswith("old_holes."):
        name = name.rsplit(", ", 1)[-1]
    elif ".bracket.outline." in item.key:
        name = name.removeprefix("Bracket ")
    elif DRILLED in item.key:
        name = name.rsplit(" as drilled, ", 1)[-1]
    elif "_hardware." in item.key:
        name = name.removeprefix("Lower ").removeprefix("Upper ")
    return name[:1].upper() + name[1:]


def section_with(design: Design, mount: int, key: str) -> int:
    """Return the section that holds an item, 0 for none."""
    return next(
        (at for at in range(1, len(SECTIONS) + 1) if any(key_of(item) == key for item in items(design, mount, at))), 0
    )


def _in_hand(design: Design, mount: int) -> Iterator[Choice]:
    if len(design.mounts) > 1:
        options = tuple(Option(motor.name, _capital(motor)) for motor in design.mounts)
        how = "The other motors are drawn in a thinner line."
        yield Choice(IN_HAND, 5, "Chosen motor", how, options, mount, lambda _i: design)


def _capital(motor: Mount) -> str:
    return motor.name[:1].upper() + motor.name[1:]


_BEFORE = ("boat.old_motor", "boat.afloat")  # entries about the time before the new motor, each under its own head


def _motor(design: Design, mount: int, entries: Iterable[Line], offered: dict[str, Choice]) -> Iterator[Item]:
    """Yield the motor's items, then those of the capacity plate and the boat's papers."""
    yield from (choice for key, choice in offered.items() if not key.startswith("boat."))
    yield from _pattern(design, mount)
    for line in entries:
        if not line.key.startswith("boat."):
            yield line
            yield from _slot_acts(design, mount, line.key)
    yield from _motor_acts(design, mount)
    yield Said("boat", "Capacity plate and boat size", head=True)
    yield from (line for line in entries if line.key.startswith("boat.") and not line.key.startswith(_BEFORE))
    yield from (choice for key, choice in offered.items() if key.startswith("boat."))
    yield Said("boat.old_motor", "Old motor", head=True)
    yield from (line for line in entries if line.key.startswith("boat.old_motor"))
    yield Said("boat.afloat", "Afloat, for the planning page", head=True)
    yield from (line for line in entries if line.key.startswith("boat.afloat"))


def _pattern(design: Design, mount: int) -> Iterator[Item]:
    """Yield what confirms the distances of the standard pattern that are still guesses, with one press."""
    rows = to_confirm(design, pattern(design, mount)) if mount < len(design.mounts) else ()
    if rows:
        yield Said("pattern", f"Standard pattern, centre to centre: {distances(design, rows)}. Measure that on the motor.")
        words = "They match" if len(rows) > 1 else "It matches"
        done = f"Standard pattern confirmed: {figures(design, rows)}"
        yield Act("pattern.confirmed", words, done, partial(confirmed, design, rows))


def _parts(design: Design, mount: int, pair: Literal["upper", "lower"]) -> Iterator[Item]:
    """Yield what buys or confirms the parts of a pair that were not measured, with one press."""
    every, start = parts(design, mount, pair), f"parts.{mount}.{pair}"
    buying, held = to_buy_now(design, every), to_confirm(design, every)
    either = [row for row in every if row in buying or row in held]
    if either:
        named = parts_named(design, either)
        yield Said(start, f"{named[:1].upper()}{named[1:]}, as listed below:")
    for rows, key, words, done, make in (
        (buying, "bought", "I will buy these", "to buy", bought), (held, "confirmed", "I have these", "confirmed", confirmed),
    ):  # fmt: skip
        if rows:
            label = f"{pair.capitalize()} {parts_named(design, rows)} {done}"
            yield Act(f"{start}.{key}", words, label, partial(make, design, rows))


def _slot_acts(design: Design, mount: int, key: str) -> Iterator[Act]:
    """Yield what removes a slot, after its last entry, and what adds one more, after the last of all."""
    start, lower = f"mounts.{mount}.bracket.lower.slots.", design.mounts[mount].bracket.lower if design.mounts else None
    if lower is None or not key.startswith(start) or not key.endswith(".1"):
        return
    number, last = int(key.removeprefix(start).split(".")[0]), len(lower.slots) - 1
    if last:
        yield Act(f"{start}{number}.off", f"Remove slot {number + 1}", f"Slot {number + 1} removed",
                  partial(additions.remove_slot, design, mount, number))  # fmt: skip
    if number == last < MOST_ROWS - 1:
        yield Act(f"{start}add", "Add a slot or a hole", "Slot added", partial(additions.add_slot, design, mount))


def _motor_acts(design: Design, mount: int) -> Iterator[Item]:
    if mount >= len(design.mounts):
        yield Said("hang", "Choose a bracket. The motor then goes on the centreline.")
        return
    name = design.mounts[mount].name
    if len(design.mounts) == 1:
        yield Act("twin", "Add a twin motor", "Twin motor added", partial(additions.add_twin, design, mount))
    yield Act("kicker", "Add a kicker, a small second motor", "Kicker added", partial(additions.add_kicker, design, mount))
    yield Act("off", f"Remove {name}", f"{_capital(design.mounts[mount])} removed", partial(remove_mount, design, mount))


def _well(entries: tuple[Line, ...]) -> Iterator[Item]:
    """Yield the well's entries, then those that are only compared with them."""
    yield from (line for line in entries if SECOND not in line.key)
    seconds = [line for line in entries if SECOND in line.key]
    if seconds:
        yield Said("well.second", "Second readings, to check these", head=True)
        yield from seconds


def _pilots(design: Design, entries: tuple[Line, ...], offered: dict[str, Choice]) -> Iterator[Item]:
    """Yield a pair's entries, then its pilots: what each is measured to, and the distance."""
    yield from (line for line in entries if SECOND not in line.key)
    read = [line for line in entries if SECOND in line.key]
    if read:
        yield Said(f"{read[0].key}.head", "Pilots, once they are drilled", head=True)
    for line in read:
        if f"{line.key}.to" in offered:
            yield offered[f"{line.key}.to"]
        yield line
        yield from _floor_act(design, line.key)


def _floor_act(design: Design, key: str) -> Iterator[Act]:
    """Yield what takes the floor from a pilot, where the pilot contradicts the other readings."""
    number = next((at for at, pilot in enumerate(design.pilots) if pilot_key(pilot.mount, pilot.hole) == key), None)
    if number is None or not can_give_floor(design, number) or all(clash.key != key for clash in contradictions(design)):
        return
    hole = design.pilots[number].hole
    label = f"Floor taken from the {hole} pilot"
    yield Act(f"{key}.floor", "Read twice, still off: take the floor from this pilot", label,
              partial(floor_from_pilot, design, number))  # fmt: skip


def _holes(design: Design, mount: int, entries: Iterable[Line], offered: dict[str, Choice]) -> Iterator[Item]:
    for index, hole in enumerate(design.old_holes):
        start = f"old_holes.{index}."
        mine = [line for line in entries if line.key.startswith(start)]
        yield Said(start, hole.name[:1].upper() + hole.name[1:], head=True)
        yield from (line for line in mine if not line.key.endswith(".plug_diameter"))
        yield offered[f"{start}state"]
        yield from (line for line in mine if line.key.endswith(".plug_diameter"))
        yield offered[f"{start}reuse"]
        name = hole.name[:1].upper() + hole.name[1:]
        yield Act(f"{start}off", f"Remove {hole.name}", f"{name} removed",
                  partial(additions.remove_part, design, "old_holes", index))  # fmt: skip
    pairs = additions.upper_pairs(design, mount)
    if len(pairs) > 1:
        yield Said("pairs", "Use for the upper holes:")
    for port, starboard in pairs:
        names = f"{design.old_holes[port].name}, {design.old_holes[starboard].name}"
        words = f"{names[:1].upper()}{names[1:]}" if len(pairs) > 1 else "Use the old pair for the upper holes"
        yield Act(f"pair.{port}.{starboard}", words, "Upper holes at the old pair",
                  partial(additions.use_pair, design, mount, (port, starboard)))  # fmt: skip
    yield Act(ADD_HOLE, "Add an old hole", "Old hole added", partial(additions.add_old_hole, design))


_HEADS = {
    "assumptions": "Loads", "limits": "Limits", "spreads": "How exact readings and holes are",
}  # fmt: skip
"""The headings of the section of assumptions, by the group of the design below each."""


def _assumptions(design: Design, entries: Iterable[Line]) -> Iterator[Item]:
    """Yield the limits, spreads and assumptions by groups, each changed one with the way back to its usual value."""
    changed = assumption_measures.changed(design)
    if len(changed) > 1:
        yield Act("usual.all", "Put all usual values back", "All usual values back",
                  partial(assumption_measures.with_usual, design, changed))  # fmt: skip
    waiting = list(entries)
    for group, title in _HEADS.items():
        yield Said(group, title, head=True)
        mine = [line for line in waiting if line.key.startswith(f"{group}.")]
        for line, following in zip(mine, (*mine[1:], None), strict=True):
            yield line
            key = assumption_measures.whole(line.key)
            last = following is None or assumption_measures.whole(following.key) != key
            if last and key in changed:
                name = line.name.partition(", ")[0]
                yield Act(f"usual.{key}", f"{name}: back to usual", f"{name} back to usual",
                          partial(assumption_measures.with_usual, design, (key,)))  # fmt: skip


def _hardware(design: Design, mount: int, entries: Iterable[Line], offered: dict[str, Choice]) -> Iterator[Item]:
    for pair in ("lower", "upper"):
        start = f"mounts.{mount}.{pair}_hardware."
        yield Said(start, f"{pair.capitalize()} bolts", head=True)
        if pair == "upper":
            yield Act("alike", "Same as the lower bolts", "Upper hardware same as the lower",
                      partial(additions.hardware_alike, design, mount))  # fmt: skip
        yield from _parts(design, mount, "lower" if pair == "lower" else "upper")
        yield from (choice for key, choice in offered.items() if key.startswith(start))
        for line in entries:
            if line.key.startswith(start):
                yield line
                if line.key == f"{start}length":
                    yield Said(f"{line.key}.window", _lengths(design, mount, pair))
                if line.key == f"mounts.{mount}.lower_hardware.hole":
                    yield from _will_it_go_on(design, mount)
    yield from (line for line in entries if ".room_aft." in line.key)


def _lengths(design: Design, mount: int, pair: str) -> str:
    from geometry.judge.bolt_length_words import lengths_that_fit  # wanted only now

    return curly(lengths_that_fit(design, mount, pair))


def _as_drilled(design: Design, mount: int, entries: Iterable[Line], offered: dict[str, Choice]) -> Iterator[Item]:
    """Yield the holes as drilled, hole by hole, then what follows from them; or the way to enter them."""
    mine = [line for line in entries if DRILLED in line.key]
    if not mine:
        yield Act("drilled", "Enter the holes as drilled", "Holes as drilled to be entered",
                  partial(with_drilled, design, mount))  # fmt: skip
        return
    for pair, side in HOLES:
        start = f"mounts.{mount}{DRILLED}{pair}_{side}."
        yield Said(start, f"{pair.capitalize()} {side}, as drilled", head=True)
        yield from (line for line in mine if line.key.startswith(start))
        yield from (choice for key, choice in offered.items() if key == f"{start}how")
    yield Said("drilled", "As drilled, next to the plan", head=True)
    for number, text in enumerate(_drilled_words(design, mount)):
        yield Said(f"drilled.{number}", text)
    yield Act("drilled.off", "Remove the holes as drilled", "Holes as drilled removed", partial(without_drilled, design, mount))


def _drilled_words(design: Design, mount: int) -> tuple[str, ...]:
    from geometry.drilling.as_drilled import is_drilled  # wanted only now
    from geometry.drilling.as_drilled_words import findings_words, summary
    from geometry.solid.faces import Unmeasured

    if not is_drilled(design, mount):
        return ("Nothing is entered yet. The plan does not change by it.",)
    try:
        return (*summary(design, mount), *findings_words(design))
    except Unmeasured as missing:
        return (f"Not calculated: measure {name_of(design, missing.key)} first.",)


def _will_it_go_on(design: Design, mount: int) -> Iterator[Said]:
    """Yield the chance that the bracket goes on, where the holes' size is chosen."""
    from geometry.drilling.bracket_chance import chances  # wanted only now
    from geometry.drilling.bracket_chance_words import TITLE, advice_words, card_lines
    from geometry.solid.faces import Unmeasured

    try:
        table = chances(design, mount)
    except Unmeasured as missing:
        yield Said("goes on", f"{TITLE} Not calculated: measure {name_of(design, missing.key)} first.")
        return
    if table is not None:
        for number, text in enumerate((*card_lines(design, table), advice_words(design, mount, table))):
            yield Said(f"goes on.{number}", text)
