"""Changes of a design by an entry: a typed text, a step up or down, a confirmed guess."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.entries.entry_text import NAME, shown
from app.entries.refusals import refusal
from app.entries.steps import snapped, step
from geometry.design.validity import NonsenseError
from geometry.edits import edits
from geometry.edits.edits import EntryError, confirm, enter, forget, parse_entry, rename
from geometry.edits.moving_by_hand import is_fixed, refreshed
from geometry.edits.second_blind import read_again
from geometry.readings.figures_in_sentences import figure
from geometry.readings.measures import at_path, measure, put_path, state_of, without_reading
from geometry.readings.unlikely import confirm_unlikely, unlikely_reading
from geometry.tables.known import KG_PER_POUND
from geometry.units import force_units

if TYPE_CHECKING:
    from geometry.design.design import Design, Edge, How
    from geometry.readings.measures import Measure

_ANGLE_STEP = 0.5  # degrees
_NOT_KNOWN = ("", "not known")


def measure_of(design: Design, key: str) -> Measure:
    """Return a measure.

    Raises:
        EntryError: the design no longer has it.
    """
    known = measure(design, key)
    if known is None:
        raise EntryError("This boat no longer has that reading.")
    return known


def typed(design: Design, key: str, text: str, edge: Edge = "centre") -> Design:
    """Return ``design`` with the text of one entry. An emptied entry is not known.

    Args:
        edge: of an old hole, read instead of its centre.

    Raises:
        OwnerError: the text is no value, or an impossible one.
    """
    if key == NAME:
        return rename(design, text.strip())
    entered, word = measure_of(design, key), text.strip().lower()
    if key == "transom.top_cut" and word in ("level", "square"):
        return without_reading(put_path(design, key, word), key)
    empty = word in _NOT_KNOWN or (entered.empty is not None and word in ("none", entered.empty))
    try:
        if empty:
            return forget(design, entered)
        return enter(design, entered, text, edge, diameter_of(design, key) if edge != "centre" else 0.0)
    except NonsenseError as sentence:
        wrong = None if empty else parse_entry(design, entered, text)
        raise EntryError(refusal(design, entered, text.strip(), wrong, sentence)) from sentence


def typed_again(design: Design, key: str, text: str) -> Design:
    """Return ``design`` with the text of one more reading, taken without a look at those before.

    Raises:
        OwnerError: the text is no value, or an impossible one.
    """
    entered = measure_of(design, key)
    if text.strip().lower() in (*_NOT_KNOWN, "level", "square"):
        return typed(design, key, text)
    try:
        return read_again(design, entered, text)
    except NonsenseError as sentence:
        wrong = parse_entry(design, entered, text)
        raise EntryError(refusal(design, entered, text.strip(), wrong, sentence)) from sentence


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
    """Return ``design`` with the typed reading of one entry taken to another edge, or to the centre.

    Raises:
        EntryError: the hole's diameter is not known yet.
    """
    entered, reading = measure_of(design, key), design.readings.get(key)
    value = entered.get(design)
    if value is None:
        return design
    text = reading.text if reading is not None and reading.text else f"{value:.6g} mm"
    return typed(design, key, text, edge)


def read_with(design: Design, key: str, how: How) -> Design:
    """Return ``design`` with the tool that the reading of one entry was taken with.

    Raises:
        EntryError: the design no longer has it.
    """
    return edits.read_with(design, measure_of(design, key), how)


def stepped(design: Design, key: str, way: int) -> Design:
    """Return ``design`` with one entry a step higher or lower; unchanged where it has no value yet. A guess stays a guess.

    Raises:
        EntryError: there is no such value, or it was measured.
    """
    stepping = None if key == NAME else measure_of(design, key)
    value = None if stepping is None else stepping.get(design)
    if stepping is None or value is None:
        return design
    if is_fixed(design, stepping):
        state, shown_now = state_of(design, stepping).capitalize(), figure(design, stepping, value)
        again = "another size" if state == "To buy" else "a new reading"
        raise EntryError(f"{state}: {shown_now}. Type {again}. Keys change only a guess or a choice.")
    if stepping.kind == "length":
        value = snapped(value + way * step(design.units), design.units)
    elif stepping.kind in force_units.KINDS:
        value += way * force_units.step(stepping.kind, value, design.units)
    elif stepping.kind == "mass" and design.units == "in":
        value += way * KG_PER_POUND
    else:
        value += way * (_ANGLE_STEP if stepping.kind == "angle" else 1.0)
    try:
        return refreshed(stepping.set(design, value), (key,))
    except NonsenseError as sentence:
        raise EntryError(refusal(design, stepping, figure(design, stepping, value), value, sentence)) from sentence


def confirmed(design: Design, key: str) -> Design:
    """Return ``design`` with an unlikely reading confirmed, or with a guess or a size to buy marked as measured.

    Raises:
        NonsenseError: it contradicts another reading.
    """
    return confirm(design, key) if unlikely_reading(design, key) is None else confirm_unlikely(design, key)


def shown_figure(design: Design, key: str) -> str:
    """Return the value of one entry with its unit, as a drawing's figure."""
    entered = measure_of(design, key)
    value = entered.get(design)
    return shown(design, entered) if value is None else figure(design, entered, value)


def label(design: Design, key: str, before: Design | None = None) -> str:
    """Name the step that led to an entry's present value: "Drop to 7 1/4 in".

    Args:
        before: the design that still had the entry, where ``design`` has lost it.
    """
    if key == NAME:
        return f"Name {design.name}".strip()
    entered = measure(design, key) or measure_of(before or design, key)
    unit = f" {design.units}" if entered.kind == "length" and entered.get(design) is not None else ""
    return f"{entered.name} to {shown(design, entered)}{unit}"
