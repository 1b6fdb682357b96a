"""What typing does to a design: an entry's text, a step up or down, a guess confirmed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.entries.entry_text import NAME, empty_word, figure, may_stay_empty, shown
from app.entries.refusals import refusal
from app.entries.steps import snapped, step
from geometry.design import edits, forces
from geometry.design.by_hand import is_fixed, refreshed
from geometry.design.edits import EntryError, confirm, enter, forget, parse_entry, rename
from geometry.design.measures import at_path, measure, put_path, state_of, without_reading
from geometry.design.validity import NonsenseError
from geometry.tables.known import KG_PER_POUND

if TYPE_CHECKING:
    from geometry.design.design import Design, Edge, How
    from geometry.design.measures import Measure

_ANGLE_STEP = 0.5  # degrees
_NOT_KNOWN = ("", "not known")


def found(design: Design, key: str) -> Measure:
    """Return a measure.

    Raises:
        EntryError: the design has it no more.
    """
    one = measure(design, key)
    if one is None:
        raise EntryError("That reading is not on this boat any more.")
    return one


def typed(design: Design, key: str, text: str, edge: Edge = "centre") -> Design:
    """Return ``design`` with the text of one entry; ``edge``: an old hole's edge was read instead of its centre.

    An emptied entry is not known.

    Raises:
        OwnerError: it does not read as a value, or makes no sense there.
    """
    if key == NAME:
        return rename(design, text.strip())
    one, word = found(design, key), text.strip().lower()
    if key == "transom.top_cut" and word in ("level", "square"):
        return without_reading(put_path(design, key, word), key)
    empty = word in _NOT_KNOWN or (may_stay_empty(one) and word in ("none", empty_word(one)))
    try:
        if empty:
            return forget(design, one)
        return enter(design, one, text, edge, diameter_of(design, key) if edge != "centre" else 0.0)
    except NonsenseError as sentence:
        wrong = None if empty else parse_entry(design, one, text)
        raise EntryError(refusal(design, one, text.strip(), wrong, sentence)) from sentence


def diameter_of(design: Design, key: str) -> float:
    """Return the diameter of the old hole that a key belongs to [mm].

    Raises:
        EntryError: it is not known yet.
    """
    diameter: float | None = at_path(design, f"{key.rsplit('.', 1)[0]}.diameter")
    if diameter is None:
        raise EntryError("A reading to an edge needs the hole’s diameter. Enter that first.")
    return diameter


def read_to(design: Design, key: str, edge: Edge) -> Design:
    """Return ``design`` with what was typed for one entry taken as read to another edge, or to the centre.

    Raises:
        EntryError: the hole's diameter is not known yet.
    """
    one, reading = found(design, key), design.readings.get(key)
    value = one.get(design)
    if value is None:
        return design
    text = reading.text if reading is not None and reading.text else f"{value:.6g} mm"
    return typed(design, key, text, edge)


def read_with(design: Design, key: str, how: How) -> Design:
    """Return ``design`` with what the reading of one entry was taken with.

    Raises:
        EntryError: the design has it no more.
    """
    return edits.read_with(design, found(design, key), how)


def stepped(design: Design, key: str, way: int) -> Design:
    """Return ``design`` with one entry a step higher or lower; as it was where it has no value yet. A guess stays one.

    Raises:
        EntryError: there is no such value, or it was measured.
    """
    one = None if key == NAME else found(design, key)
    value = None if one is None else one.get(design)
    if one is None or value is None:
        return design
    if is_fixed(design, one):
        state, told = state_of(design, one).capitalize(), figure(design, one, value)
        raise EntryError(f"{state}: {told}. Type a new reading; keys step only a guess or a choice.")
    if one.kind == "length":
        value = snapped(value + way * step(design.units), design.units)
    elif one.kind in forces.KINDS:
        value += way * forces.step(one.kind, value, design.units)
    elif one.kind == "mass" and design.units == "in":
        value += way * KG_PER_POUND
    else:
        value += way * (_ANGLE_STEP if one.kind == "angle" else 1.0)
    try:
        return refreshed(one.set(design, value), (key,))
    except NonsenseError as sentence:
        raise EntryError(refusal(design, one, figure(design, one, value), value, sentence)) from sentence


def confirmed(design: Design, key: str) -> Design:
    """Return ``design`` with a guess marked as measured.

    Raises:
        NonsenseError: with what else was measured it makes no sense.
    """
    return confirm(design, key)


def label(design: Design, key: str, before: Design | None = None) -> str:
    """Name the step that led to an entry's present value: "Drop to 7 1/4 in".

    Args:
        before: where the entry may have been last, as that of a corner whose twin speaks for both sides from now on.
    """
    if key == NAME:
        return f"Name {design.name}".strip()
    one = measure(design, key) or found(before or design, key)
    unit = f" {design.units}" if one.kind == "length" and one.get(design) is not None else ""
    return f"{one.name} to {shown(design, one)}{unit}"
