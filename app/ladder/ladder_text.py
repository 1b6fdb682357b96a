"""The ladders as values: one upright ladder for each drop, with a rung for each height, the lowest motor at the bottom."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec.structs import replace

from app.deciding.fit_text import plate_words
from app.ui.apostrophes import curly
from geometry.judge.bracket import usual_plate_heights
from geometry.judge.words import title_of
from geometry.units.height_words import hole_words, up_words
from geometry.units.units import format_clearance, format_length, format_overlap, format_reading

if TYPE_CHECKING:
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.design.motor import Mount
    from geometry.judge.findings import State
    from geometry.units.units import Unit

Kind = Literal["whole", "just", "broken"]
_PRESENT = ", as it is now"
_SAME = 1e-6  # mm


class RungSight(msgspec.Struct, frozen=True):
    """One rung: ``kind`` broken where it can't be used, just where only the play of a round hole allows it."""

    drop: float
    row: int
    kind: Kind
    present: bool
    fouled: bool
    spoken: str
    detail: str = ""


class Upright(msgspec.Struct, frozen=True):
    """One ladder, for one drop: its head, and its rungs from the lowest motor up."""

    drop: float
    title: str
    state: State
    room: str
    present: bool
    rungs: tuple[RungSight, ...]


class RowSight(msgspec.Struct, frozen=True):
    """One height of the motor: its words, the AV plate's height there, and whether that is usual."""

    words: str
    plate: str
    usual: bool
    present: bool


def uprights(design: Design, mount: int, rungs: tuple[Rung, ...], *, as_now: bool = True) -> tuple[Upright, ...]:
    """Return the ladders of one motor, deepest drop first; not ``as_now`` with other hardware: none hangs so now."""
    hung, unit = design.mounts[mount], design.units
    drops: dict[float, list[Rung]] = {}
    for rung in rungs:
        drops.setdefault(rung.drop, []).append(rung)
    now = next((rung.rows_left for rung in rungs if hung.drop is not None and abs(rung.drop - hung.drop) < _SAME), ())
    ladders = (_upright(hung, unit, drop, column, now) for drop, column in drops.items())
    return tuple(ladders if as_now else map(_elsewhere, ladders))


def _elsewhere(ladder: Upright) -> Upright:
    """Return a ladder none of whose rungs is the present one."""
    rungs = (replace(rung, present=False, spoken=rung.spoken.removesuffix(_PRESENT)) for rung in ladder.rungs)
    return replace(ladder, rungs=tuple(rungs))


def rows(design: Design, mount: int, rungs: tuple[Rung, ...]) -> tuple[RowSight, ...]:
    """Return the motor's heights, the lowest first."""
    hung = design.mounts[mount]
    first, usual = rungs[0].drop if rungs else 0.0, usual_plate_heights(hung.set_back)
    return tuple(
        RowSight(
            up_words(rung.row), _plate(rung.plate_height, design.units), _usual(rung.plate_height, usual), rung.row == hung.row
        )
        for rung in rungs
        if rung.drop == first
    )


def closed_line(design: Design, mount: int, plate: float | None) -> str:
    """Return the text of the closed strip: drop, height, AV plate."""
    if mount >= len(design.mounts):
        return "No motor yet."
    hung = design.mounts[mount]
    if hung.bracket.rows is None:
        return "A clamp-on bracket has no bolt holes."
    drop = "Drop not known" if hung.drop is None else f"Drop {format_length(hung.drop, design.units)}"
    if hung.row is None:
        return f"{drop} · no height chosen"
    high = "" if plate is None else f" · AV plate {plate_words(plate, design.units)}"
    return f"{drop} · {hole_words(hung.row)}{high}"


def shorter(line: str) -> tuple[str, ...]:
    """Return shorter and shorter texts of the closed strip, for less and less room."""
    without = re.sub(r" \([^)]*\)", "", line)
    return line, without, without.replace(" the bottom", "")


def _plate(plate: float | None, unit: Unit) -> str:
    if plate is None:
        return "not known"
    figure = format_reading(abs(plate), unit).rsplit(" ", 1)[0]
    return "level" if figure == "0" else f"{figure} {'above' if plate > 0 else 'below'}"


def _usual(plate: float | None, usual: tuple[float, float]) -> bool:
    return plate is not None and usual[0] - 0.8 <= plate <= usual[1] + _SAME  # a tape's reading below is level


def legend(design: Design, mount: int) -> str:
    """Say what broken rungs and the pale band mean."""
    if mount >= len(design.mounts):
        return ""
    usual = usual_plate_heights(design.mounts[mount].set_back)
    low, high = (format_length(height, design.units, denominator=16) for height in usual)
    band = f"usual AV plate heights, {low.split()[0]} to {high} above the bottom"
    return f"A broken rung misses the slot. The pale band has the {band}."


def _upright(hung: Mount, unit: Unit, drop: float, column: list[Rung], now: tuple[int, ...]) -> Upright:
    present = hung.drop is not None and abs(hung.drop - drop) < _SAME
    free = [rung for rung in column if rung.row in rung.rows_left]
    room = column[0].room
    states: tuple[State, ...] = tuple(rung.state for rung in free) or ("fouled",)
    state: State = "fouled" if room is not None and room < -_SAME else min(states, key=_ORDER.index)
    title = format_length(drop, unit)
    smallest = format_clearance(room, unit) if room is not None else "free"
    loss = _loss([rung for rung in column if rung.row in now and rung.row not in rung.rows_left], unit)
    return Upright(drop, title, state, smallest, present, tuple(_rung(hung, rung, title, present, loss) for rung in column))


_ORDER: tuple[State, ...] = ("clear", "tight", "note", "unknown", "fouled")


def _rung(hung: Mount, rung: Rung, title: str, present: bool, loss: str) -> RungSight:
    just = rung.worst is not None and rung.worst.check == "row" and rung.state == "tight"
    kind: Kind = "broken" if rung.row not in rung.rows_left else "just" if just and _beyond(rung) else "whole"
    now = present and rung.row == hung.row
    word = "out of reach" if kind == "broken" else "not known" if rung.state == "unknown" else rung.state
    spoken = f"Drop {title}, {up_words(rung.row)}: {word}{_PRESENT if now else ''}"
    fouled = kind != "broken" and rung.state == "fouled" and (rung.room is None or rung.room >= 0)
    return RungSight(rung.drop, rung.row, kind, now, fouled, spoken, _detail(hung, rung, loss))


def _loss(lost: list[Rung], unit: Unit) -> str:
    """Say which heights a drop makes unusable that the present one allows: "No longer usable: lowest (AV plate …)."."""
    if not lost:
        return ""
    named = [f"{up_words(rung.row)} (AV plate {plate_words(rung.plate_height, unit)})" for rung in lost]
    pairs = [", ".join(named[index : index + 2]) for index in range(0, len(named), 2)]
    return f" No longer usable: {'. Also '.join(pairs)}."


def _detail(hung: Mount, rung: Rung, loss: str) -> str:
    """Return the full text of one rung."""
    design = rung.design
    if design is None:
        return ""
    unit, hole = design.units, hole_words(rung.row)
    said = f"{hole}, drop {format_length(rung.drop, unit)}"
    if rung.row not in rung.rows_left:
        return f"{said}: out of reach, {_out_of_reach(rung, unit)}.{loss}"
    near = "nothing is near"
    if rung.nearest is not None and rung.nearest.value is not None:
        name = title_of(rung.nearest)
        where = f" to the {curly(rung.nearest.against)}" if rung.nearest.against else ""
        near = f"nearest is the {name[0].lower()}{name[1:]}, {format_clearance(rung.nearest.value, unit)}{where}"
    gap = "not known" if rung.hook_gap is None else format_reading(rung.hook_gap, unit)
    end = slot_end_words(rung, unit)
    end = curly(f", {end}") if end else ""
    return f"{said}: {near}. Bracket hook {gap} above the top{end}, AV plate {plate_words(rung.plate_height, unit)}.{loss}"


def slot_end_words(rung: Rung, unit: Unit) -> str:
    """Say how far the lower bolts are from the slot's end; "" where they miss it, or where that is not known."""
    if rung.slot_end is None or rung.slot_end < -_SAME:
        return ""
    return f"slot's end {format_clearance(rung.slot_end, unit)} away"


def _out_of_reach(rung: Rung, unit: Unit) -> str:
    if rung.hook_gap is not None and rung.hook_gap < -_SAME:
        return f"the bracket hook would be {format_overlap(rung.hook_gap, unit)} below the top"
    if rung.slot_end is not None and rung.slot_end < -_SAME:
        return f"the lower bolts miss the slot by {format_overlap(rung.slot_end, unit)}"
    return "reason not known"


def _beyond(rung: Rung) -> bool:
    """Return whether only the play of a round hole allows it."""
    return rung.worst is not None and rung.worst.value is not None and rung.worst.value < -_SAME
