"""The room to work inside: for the socket in front of each nut, for a ring spanner's swing, and to insert the bolts."""

from __future__ import annotations

import math
from contextlib import suppress
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.reporter import (
    NO_LIMITS,
    WELL_KEYS,
    Outcome,
    Reporter,
    bolt_keys,
    length_keys,
    own_keys,
    stack_keys,
)
from geometry.solid.clearances import body_clearance, room_along
from geometry.solid.faces import Unmeasured, need
from geometry.solid.spanner_swing import handle_of, swing

if TYPE_CHECKING:
    from geometry.solid.handle_arcs import Free
    from geometry.solid.placed_bolts import Body, Bolt

HAND = 13.0  # [mm] for the fingers that insert a bolt: common practice, half an inch
REACHES = "The ring spanner reaches, so turn the nut with that."


def working_room(report: Reporter) -> None:
    """Add for each bolt the room in front of its socket, and the swing of its ring spanner where that has to turn it."""
    for bolt in report.bolts:
        _socket_room(report, bolt)
        _swing(report, bolt)


def part_name(bolt: Bolt, part: str) -> str:
    """Return the name of a bolt's part inside, as in a sentence."""
    if part == "nut" and bolt.from_inside:
        return "bolt head"
    if part == "socket" and bolt.hardware.socket is None:
        return "ring spanner"
    return part.replace("_", " ")


def well_end(report: Reporter) -> tuple[float | None, float | None]:
    """Return the well's length along its floor [mm] and the lean of its front [degrees]; None without a well."""
    well = report.design.well
    if well is None:
        return None, None
    return need(well.length, "well.length"), need(well.front_lean, "well.front_lean")


def _socket_room(report: Reporter, bolt: Bolt) -> None:
    rests = (*WELL_KEYS, "well.length", "well.front_lean", *bolt_keys(bolt), *stack_keys(bolt),
             *own_keys(bolt, "socket"), *spare_keys(report, bolt))  # fmt: skip
    limits = report.design.limits.socket_room

    def look() -> Outcome | None:
        tool = bolt.body("socket")
        if tool is None:
            return None
        end = room_along(bolt, report.space, *well_end(report))
        if end is None:
            return None
        room = end - tool.end
        name = part_name(bolt, "socket")
        if room < -CLOSE:
            text = f"The {name} on the {bolt.name} bolt is {report.overlap(room)} too long for the room in front of it."
            if spanner_reaches(report, bolt):
                return Outcome(None, f"{text} {REACHES}", state="note")
            return Outcome(room, text, "Use a shorter socket or a ring spanner, or raise the bolts.")
        text = f"The {name} on the {bolt.name} bolt has {report.room(room)} of room in front of it"
        if room < limits[1] - CLOSE:
            return Outcome(room, f"{text}; {report.limit(limits[1])} is advised.", "Use a shorter socket, or a ring spanner.")
        return Outcome(room, f"{text}.")

    report.add("socket_room", bolt.at, limits, "mm", rests, (bolt.mount_index,), look)


def is_turned_by_spanner(bolt: Bolt) -> bool:
    """Return whether a ring spanner has to turn a bolt's nut: there is one, and no socket is chosen."""
    return bolt.hardware.socket is None and bolt.hardware.spanner is not None


def swing_limits(bolt: Bolt) -> tuple[float, float]:
    """Return the least and the advised swing of the ring spanner on a bolt [degrees].

    Raises:
        Unmeasured: the swing that it needs is not known.
    """
    key = bolt.hardware_key("spanner.swing")
    needs = need(None if bolt.hardware.spanner is None else bolt.hardware.spanner.swing, key)
    return needs, max(needs, bolt.design.assumptions.wide_swing)


def _swing(report: Reporter, bolt: Bolt) -> None:
    """Add the swing of a ring spanner. It turns the nut where no socket is chosen, or where the socket does not fit."""
    spanner = bolt.hardware.spanner
    if spanner is None or (bolt.hardware.socket is not None and not spare_keys(report, bolt)):
        return
    limits = NO_LIMITS if spanner.swing is None else swing_limits(bolt)

    def look() -> Outcome | None:
        if bolt.hardware.socket is not None:
            if _socket_fits(report, bolt):
                return None
            if not _ring_fits(report, bolt):
                text = f"The ring spanner does not fit over the {_nut(bolt)}."
                return Outcome(0.0, text, "Use a smaller ring spanner, or move the bolts.")
        least, advised = swing_limits(bolt)
        arc = _arc(report, bolt)
        turns = math.floor(arc.degrees + CLOSE)
        who = f"The ring spanner on the {_nut(bolt)}"
        against = arc.names[0].removeprefix("the ") if arc.names else ""
        if arc.degrees < least - CLOSE:
            text = f"{who} turns only {turns}°{_between(arc)}. It needs {math.ceil(least - CLOSE)}°."
            cure = "Use a shorter ring spanner or a socket, or move the bolts."
            return Outcome(arc.degrees, text, cure, against=against)
        if arc.degrees < bolt.design.assumptions.wide_swing - CLOSE:
            text = f"{who} turns only {turns}°{_between(arc)}; {math.ceil(advised - CLOSE)}° is advised."
            return Outcome(arc.degrees, text, "Use a shorter ring spanner, or a socket.", against=against)
        text = f"{who} turns {turns}°{_between(arc)}." if arc.names else f"{who} turns all the way round."
        return Outcome(arc.degrees, text, against=against)

    report.add("spanner", bolt.at, limits, "degrees", _swing_keys(report), (bolt.mount_index,), look)


def _nut(bolt: Bolt) -> str:
    return f"{bolt.name} {'bolt head' if bolt.from_inside else 'nut'}"


def _between(arc: Free) -> str:
    """Say what is at the ends of an arc."""
    names = tuple(dict.fromkeys(arc.names))
    if not names:
        return ""
    return f" between {names[0]} and {names[1]}" if len(names) == 2 else f", clear of {names[0]}"


def _arc(report: Reporter, bolt: Bolt) -> Free:
    handle = handle_of(bolt)
    if handle is None:
        raise TypeError(f"the {bolt.name} bolt has no ring spanner")
    return swing(report.space, bolt, report.bolts, handle)


def _swing_keys(report: Reporter) -> tuple[str, ...]:
    """Return the keys of the readings behind a swing: it may meet any bolt."""
    return (*WELL_KEYS, *dict.fromkeys(key for bolt in report.bolts for key in length_keys(bolt)))


def spare_keys(report: Reporter, bolt: Bolt) -> tuple[str, ...]:
    """Return the keys of the readings behind the ring spanner that may do a socket's work; none without both tools.

    A ring spanner whose sizes are not measured does no work for a socket.
    """
    socket, spanner = bolt.hardware.socket, bolt.hardware.spanner
    if socket is None or spanner is None:
        return ()
    sizes = (spanner.outer, spanner.thickness, spanner.swing, spanner.length, spanner.handle)
    return () if None in sizes else _swing_keys(report)


def spanner_reaches(report: Reporter, bolt: Bolt) -> bool:
    """Return whether a ring spanner turns a nut that the chosen socket does not fit."""
    spanner = bolt.hardware.spanner
    if spanner is None or spanner.swing is None or not spare_keys(report, bolt):
        return False
    with suppress(Unmeasured):
        return _ring_fits(report, bolt) and _arc(report, bolt).degrees >= spanner.swing - CLOSE
    return False


def _socket_fits(report: Reporter, bolt: Bolt) -> bool:
    return _fits(report, bolt, bolt.body("socket"))


def _ring_fits(report: Reporter, bolt: Bolt) -> bool:
    return _fits(report, bolt, bolt.body("ring"))


def _fits(report: Reporter, bolt: Bolt, tool: Body | None) -> bool:
    """Return whether a tool has the least clearance, and the room along the bolt."""
    if tool is None:
        return False
    room = body_clearance(report.space, bolt.exit, tool)
    if room is not None and room < report.design.limits.clearance[0] - CLOSE:
        return False
    end = room_along(bolt, report.space, *well_end(report))
    return end is None or end - tool.end >= -CLOSE


def insertion_room(report: Reporter) -> None:
    """Add for each bolt whether there is room to insert it from its side."""
    for bolt in report.bolts:
        _feed(report, bolt)


def _feed(report: Reporter, bolt: Bolt) -> None:
    way = (*WELL_KEYS, "well.length", "well.front_lean")
    rests = (*(way if bolt.from_inside else (bolt.key(f"bracket.room_aft.{bolt.pair}"),)), *length_keys(bolt))
    before = "Insert the bolts before the motor is hung."
    limits = report.design.limits.feed

    def look() -> Outcome | None:
        if bolt.hardware.inserted_from == "before hanging":
            return Outcome(None, f"The {bolt.name} bolt goes in before the motor is hung.", before, "note")
        if bolt.from_inside:
            end = room_along(bolt, report.space, *well_end(report))
            if end is None:
                return None
            side = "inside"
        else:
            room_aft = bolt.mount.bracket.room_aft
            end = None if room_aft is None else room_aft.upper if bolt.upper else room_aft.lower
            if end is None:
                text = f"Room to insert the {bolt.name} bolt is not checked: the room behind the bracket is not measured."
                return Outcome(None, text, before, "note")
            side = "behind the bracket"
        if bolt.length is None:
            return Outcome(None, f"Room to insert the {bolt.name} bolt is not checked: the bolt has no length yet.",
                        "Choose a bolt that fits first.", "unknown")  # fmt: skip
        room = end - (bolt.length + bolt.head_height + HAND)
        if room < -CLOSE:
            text = f"The {bolt.name} bolt needs {report.overlap(room)} more room {side} to go in."
            return Outcome(room, text, "Insert it from the other side, or before the motor is hung.")
        return Outcome(room, f"The {bolt.name} bolt goes in from {side} with {report.room(room)} to spare.")

    report.add("feed", bolt.at, limits, "mm", rests, (bolt.mount_index,), look)
