"""The ladders as values: one upright ladder for each drop, its rungs the rows, lowest motor at the bottom."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from app.words.card_words import up_words
from geometry.design.units import format_clearance, format_length
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from geometry.decide.ladder import Rung
    from geometry.design.motor import Mount
    from geometry.design.units import Unit
    from geometry.design.whole import Design
    from geometry.judge.findings import State

Kind = Literal["whole", "just", "broken"]
_SAME = 1e-6  # mm
USUAL_PLATE = (0.0, MM_PER_INCH)  # common practice: the plate 0 to 1 in above the bottom


class RungSight(msgspec.Struct, frozen=True):
    """One rung: ``kind`` broken where it can't be used, just where only the hole's play reaches."""

    drop: float
    row: int
    kind: Kind
    present: bool
    fouled: bool
    spoken: str


class Upright(msgspec.Struct, frozen=True):
    """One ladder, for one drop: its head, and its rungs from the lowest motor up."""

    drop: float
    title: str
    state: State
    room: str
    present: bool
    rungs: tuple[RungSight, ...]


class RowSight(msgspec.Struct, frozen=True):
    """One motor place: its words, the plate's height there, and whether that is usual."""

    words: str
    plate: str
    usual: bool
    present: bool


def uprights(design: Design, mount: int, rungs: tuple[Rung, ...]) -> tuple[Upright, ...]:
    """Return the ladders of one motor, deepest drop first."""
    hung, unit = design.mounts[mount], design.units
    drops: dict[float, list[Rung]] = {}
    for rung in rungs:
        drops.setdefault(rung.drop, []).append(rung)
    return tuple(_upright(hung, unit, drop, found) for drop, found in drops.items())


def rows(design: Design, mount: int, rungs: tuple[Rung, ...]) -> tuple[RowSight, ...]:
    """Return the motor's places, the lowest first."""
    hung = design.mounts[mount]
    first = rungs[0].drop if rungs else 0.0
    return tuple(
        RowSight(up_words(rung.row), _plate(rung.plate_height, design.units), _usual(rung.plate_height), rung.row == hung.row)
        for rung in rungs
        if rung.drop == first
    )


def closed_line(design: Design, mount: int, plate: float | None) -> str:
    """Return what the closed strip says: drop, hole, plate."""
    if mount >= len(design.mounts):
        return "No motor is hung yet."
    hung = design.mounts[mount]
    if hung.bracket.rows is None:
        return "A clamp-on bracket has no rows."
    drop = "Drop not known" if hung.drop is None else f"Drop {format_length(hung.drop, design.units)}"
    if hung.row is None:
        return f"{drop} · no row chosen"
    held = f"{_hole(hung.row)} ({up_words(hung.row)})"
    told = "" if plate is None else f" · plate {_plate_words(plate, design.units)}"
    return f"{drop} · {held}{told}"


def _hole(row: int) -> str:
    names = ("top hole", "second hole from the top", "third hole from the top", "fourth hole from the top",
             "fifth hole from the top")  # fmt: skip
    return names[row] if row < len(names) else f"hole {row + 1} from the top"


def _plate_words(plate: float, unit: Unit) -> str:
    told = format_length(abs(plate), unit, denominator=16)
    if told.split()[0] == "0":
        return "level with the bottom"
    return f"{told} {'above' if plate > 0 else 'below'} the bottom"


def _plate(plate: float | None, unit: Unit) -> str:
    if plate is None:
        return "not known"
    told = format_length(abs(plate), unit, denominator=16, unit_word=False)
    return "level" if told == "0" else f"{told} {'above' if plate > 0 else 'below'}"


def _usual(plate: float | None) -> bool:
    return plate is not None and USUAL_PLATE[0] - 0.8 <= plate <= USUAL_PLATE[1] + _SAME  # a tape's reading below is level


def _upright(hung: Mount, unit: Unit, drop: float, found: list[Rung]) -> Upright:
    present = hung.drop is not None and abs(hung.drop - drop) < _SAME
    free = [rung for rung in found if rung.row in rung.rows_left]
    room = found[0].room
    states: tuple[State, ...] = tuple(rung.state for rung in free) or ("fouled",)
    state: State = "fouled" if room is not None and room < -_SAME else min(states, key=_ORDER.index)
    title = format_length(drop, unit)
    told = format_clearance(room, unit) if room is not None else "free"
    return Upright(drop, title, state, told, present, tuple(_rung(hung, rung, title, present) for rung in found))


_ORDER: tuple[State, ...] = ("clear", "tight", "note", "unknown", "fouled")


def _rung(hung: Mount, rung: Rung, title: str, present: bool) -> RungSight:
    just = rung.worst is not None and rung.worst.check == "row" and rung.state == "tight"
    kind: Kind = "broken" if rung.row not in rung.rows_left else "just" if just and _beyond(rung) else "whole"
    now = present and rung.row == hung.row
    word = "out of reach" if kind == "broken" else "not known" if rung.state == "unknown" else rung.state
    spoken = f"Drop {title}, {up_words(rung.row)}: {word}{', the present one' if now else ''}"
    fouled = kind != "broken" and rung.state == "fouled" and (rung.room is None or rung.room >= 0)
    return RungSight(rung.drop, rung.row, kind, now, fouled, spoken)


def _beyond(rung: Rung) -> bool:
    """Whether only the hole's play reaches it."""
    return rung.worst is not None and rung.worst.value is not None and rung.worst.value < -_SAME
