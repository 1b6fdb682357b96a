"""What a measure is, and how it gets and sets its value in a design: the rows are `boat_measures` and `motor_measures`.

A measure speaks as a person does: depths are positive downward, distances to port or starboard from the centreline;
lengths [mm], angles [degrees], masses [kg], torques [N m], forces [N], pressures [N/mm2], powers [kW].
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

import msgspec

from geometry.design.design import How, Reading
from geometry.design.validity import NonsenseError, Number

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design, Edge, Origin

Kind = Literal["length", "angle", "mass", "count", "hole", "shape", "torque", "force", "pressure", "power", "number"]
Spread = Literal["tape", "well", "rake"]
NEEDED = "without this figure there is no bracket"


class Measure(msgspec.Struct, frozen=True):
    """One thing to measure.

    Attributes:
        key: its place in the design, or a name of its own where the design holds it in another form.
        section: of the card, 1 to 8.
        name: what a person calls it. how: how to take it. exact: how exactly it is needed [mm] or [degrees],
            0 where nothing is said of it.
        kind: "shape" stands for a whole outline, which has no single value.
        spread: which of the design's spreads it has where nothing better is known.
        get: value, None where not measured. set: a new design with that value, or with it not known; what a bracket
            is told by refuses to be unknown.
        edge_reading: for old holes: a hole's edge can be read instead of its centre.
        free: no measurement but a decision (a drop, a row), or read nowhere on this boat: never a guess.
        way: what it is usually read with.
    """

    key: str
    section: int
    name: str
    how: str
    exact: float
    kind: Kind
    spread: Spread
    get: Callable[[Design], Number]
    set: Callable[[Design, Number], Design]
    edge_reading: bool = False
    free: bool = False
    way: How = "tape"


def tool_word(how: How) -> str:
    """Return the name of a measuring tool in a sentence: "tape", "calipers"."""
    return "calipers" if how == "calliper" else how


def at_path(value: Any, path: str) -> Any:
    """Return what lies at a dotted path such as "mounts.0.bracket.rows.pitch"; None where the path ends early."""
    for part in path.split("."):
        if value is None:
            return None
        value = value[int(part)] if part.isdigit() else getattr(value, part)
    return value


def put_path(value: Any, path: str, new: Any) -> Any:
    """Return ``value`` with ``new`` at a dotted path; everything else is shared.

    Raises:
        NonsenseError: the new value makes no sense there.
    """
    part, _, rest = path.partition(".")
    if part.isdigit():
        index = int(part)
        changed = put_path(value[index], rest, new) if rest else new
        return (*value[:index], changed, *value[index + 1 :])
    changed = put_path(getattr(value, part), rest, new) if rest else new
    return msgspec.structs.replace(value, **{part: changed})


def plain(
    key: str, section: int, name: str, how: str, exact: float, *, kind: Kind = "length",
    spread: Spread = "tape", sign: float = 1.0, edge: bool = False, free: bool = False,
    path: str | None = None, needed: bool = False, way: How | None = None,
) -> Measure:  # fmt: skip
    """Return the measure of a number that the design holds at ``path`` (the key itself if not given).

    An angle is usually read with a level, everything else with a tape, where no ``way`` is given.
    """
    place = path or key

    def get(design: Design) -> Number:
        value = at_path(design, place)
        return None if value is None else sign * value

    def put(design: Design, value: Number) -> Design:
        if value is None and needed:
            raise NonsenseError(f"{place} is null; it has to be a number", NEEDED)
        number = None if value is None else round(value) if kind == "count" else sign * value
        changed: Design = put_path(design, place, number)
        return changed

    usual = way or ("level" if kind == "angle" else "tape")
    return Measure(key, section, name, how, exact, kind, spread, get, put, edge, free, usual)


def shape(key: str, section: int, name: str, how: str, spread: Spread) -> Measure:
    """Return the measure that stands for a whole outline."""

    def none(_: Design) -> Number:
        return None

    def refuse(_: Design, __: Number) -> Design:
        raise NonsenseError(f"{name} is a shape, drawn corner by corner")

    return Measure(key, section, name, how, 2.0, "shape", spread, none, refuse)


def reading_of(
    design: Design, measure: Measure, text: str, value: Number, state: Origin, *, edge: Edge = "centre", spread: Number = None
) -> Reading:
    """Return a new reading of a measure: read with what the one before was read with, or else in the usual way."""
    before = design.readings.get(measure.key)
    how = measure.way if before is None else before.how
    return Reading(text=text, value=value, from_=edge, how=how, state=state, spread=spread, second=None)


def capital(name: str) -> str:
    """Return a name as it begins an entry's."""
    return name[:1].upper() + name[1:]


def without_reading(design: Design, key: str) -> Design:
    """Return ``design`` without the reading of one measure."""
    return msgspec.structs.replace(design, readings={name: reading for name, reading in design.readings.items() if name != key})
