"""What typing does to a design: an entry's text, a step up or down, a guess confirmed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.tools.snap import snapped, step
from app.words.card_words import shown
from geometry.design.edits import confirm, enter
from geometry.design.measures import measure, put_path
from geometry.design.sense import NonsenseError

if TYPE_CHECKING:
    from geometry.design.measures import Measure
    from geometry.design.whole import Design

_ANGLE_STEP = 0.5  # degrees
_NONE = ("", "none")


def found(design: Design, key: str) -> Measure:
    """Return a measure.

    Raises:
        NonsenseError: the design has it no more.
    """
    one = measure(design, key)
    if one is None:
        raise NonsenseError("that reading is not on this boat any more")
    return one


def typed(design: Design, key: str, text: str) -> Design:
    """Return ``design`` with the text of one entry.

    Raises:
        OwnerError: it does not read as a value, or makes no sense there.
    """
    one, word = found(design, key), text.strip().lower()
    if key == "transom.top_cut" and word in ("level", "square"):
        return _put(design, key, word)
    if word in _NONE and key.endswith(("_hardware.length", ".flat_cut")):
        return _put(design, key, None)
    return enter(design, one, text)


def _put(design: Design, key: str, value: str | None) -> Design:
    changed: Design = put_path(design, key, value)
    return changed


def stepped(design: Design, key: str, way: int) -> Design:
    """Return ``design`` with one entry a step higher or lower; as it was where it has no value yet.

    Raises:
        NonsenseError: there is no such value.
    """
    one = found(design, key)
    value = one.get(design)
    if value is None:
        return design
    if one.kind == "length":
        value = snapped(value + way * step(design.units), design.units)
    else:
        value += way * (_ANGLE_STEP if one.kind == "angle" else 1.0)
    return one.set(design, value)


def confirmed(design: Design, key: str) -> Design:
    """Return ``design`` with a guess marked as measured."""
    return confirm(design, key)


def label(design: Design, key: str) -> str:
    """Name the step that led to an entry's present value: "Drop to 7 1/4 in"."""
    one = found(design, key)
    unit = f" {design.units}" if one.kind == "length" and one.get(design) is not None else ""
    return f"{one.name} to {shown(design, one)}{unit}"
