"""The measure: one value that a person can read, and how to get it from a design and set it there.

`boat_measures` and `motor_measures` have the rows. Depths are positive downward. Distances to port or starboard are from
the centreline. Lengths [mm], angles [degrees], masses [kg], torques [N m], forces [N], pressures [N/mm2], powers [kW].
Shares are parts of 1, shown in percent.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal, TypedDict, Unpack

import msgspec

from geometry.design.design import How, Reading
from geometry.design.validity import NonsenseError, Number
from geometry.readings.measure_ranges import ranges_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design, Edge, Origin
    from geometry.readings.measure_ranges import Ranges

Kind = Literal[
    "length", "angle", "mass", "count", "hole", "shape", "torque", "force", "pressure", "power", "number", "share", "diameters",
]
Spread = Literal["tape", "well", "rake", "washer", "calipers"]
Usual = float | None
"""A margin to either side of a value, our assumption; None: the likely range of the measure."""
NEEDED, _NEEDED_CORNER = (f"without this figure there is no {what}" for what in ("bracket", "outline"))


class Measure(msgspec.Struct, frozen=True):
    """A value to measure.

    Attributes:
        key: its place in the design, or another name where the design has it in another form.
        section: of the card, 1 to 9.
        name: for a person. how: instructions. exact: the precision needed [mm] or [degrees], 0 where none is given.
        kind: "shape" is a whole outline, which has no single value.
        spread: its spread in the design, where nothing better is known; "calipers" is always the same.
        get: value, None where not measured. set: a new design with that value, or with it not known; a value that a bracket
            needs refuses to be unknown.
        edge_reading: for old holes: a hole's edge can be read instead of its centre.
        free: never a guess: a decision (a drop, a row), or a value that is not read on this boat.
        way: its usual tool.
        usual: how far a guess may be off. A guess counts as a reading with a spread of half this range.
        page: its place in the manual, "" for that of its section.
        empty: the word in its empty entry; None where it has to be measured.
        item: its line on the measuring sheet, and the word under its blank; None for a line of its name.
        second: whether it gives a size that other readings give too. The boat is solved with all of them together.
        own_ranges: its ranges, where the table of ranges has no row for it.
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
    usual: Usual = 12.0
    page: str = ""
    empty: str | None = None
    item: tuple[str, str] | None = None
    own_ranges: Ranges | None = None
    second: bool = False

    def about(self, value: float) -> tuple[float, float]:
        """Return the lowest and the highest value behind a guess. The guess itself is always between them."""
        if self.usual is not None:
            return value - self.usual, value + self.usual
        likely = self.ranges.likely
        return (value, value) if likely is None else (min(likely.low, value), max(likely.high, value))

    @property
    def ranges(self) -> Ranges:
        """Its impossible and its unlikely values, with their sources."""
        return self.own_ranges or ranges_of(self.key)


class Extra(TypedDict, total=False):
    """The values of a measure that most rows leave out, see `Measure`."""

    usual: Usual
    page: str
    empty: str | None
    item: tuple[str, str] | None


def tool_word(how: How) -> str:
    """Return the name of a measuring tool in a sentence: "tape", "calipers"."""
    return "calipers" if how == "calliper" else how


def at_path(value: Any, path: str) -> Any:
    """Return the value at a dotted path such as "mounts.0.bracket.rows.pitch"; None where the path ends early."""
    for step in _steps(path):
        if value is None:
            return None
        value = getattr(value, step) if step.__class__ is str else value[step]
    return value


@lru_cache(maxsize=4096)
def _steps(path: str) -> tuple[str | int, ...]:
    return tuple(int(part) if part.isdigit() else part for part in path.split("."))


def put_path(value: Any, path: str, new: Any) -> Any:
    """Return ``value`` with ``new`` at a dotted path. The other parts are shared.

    Raises:
        NonsenseError: the new value is impossible there.
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
    path: str | None = None, needed: bool = False, way: How | None = None, **extra: Unpack[Extra],
) -> Measure:  # fmt: skip
    """Return the measure of a number that the design has at ``path`` (the key itself if not given).

    Without a ``way``, an angle is usually read with a level, every other value with a tape.
    """
    place = path or key

    def get(design: Design) -> Number:
        value = at_path(design, place)
        return None if value is None else sign * value

    def put(design: Design, value: Number) -> Design:
        if value is None and needed:
            raise NonsenseError(f"{place} is null; it has to be a number", NEEDED if ".bracket." in key else _NEEDED_CORNER)
        number = None if value is None else round(value) if kind == "count" else sign * value
        changed: Design = put_path(design, place, number)
        return changed

    read_with = way or ("level" if kind == "angle" else "tape")
    return Measure(key, section, name, how, exact, kind, spread, get, put, edge, free, read_with, **extra)


def shape(key: str, section: int, name: str, how: str, spread: Spread, **extra: Unpack[Extra]) -> Measure:
    """Return the measure of a whole outline."""

    def none(_: Design) -> Number:
        return None

    def refuse(_: Design, __: Number) -> Design:
        raise NonsenseError(f"{name} is a shape, drawn corner by corner")

    return Measure(key, section, name, how, 2.0, "shape", spread, none, refuse, **extra)


def reading_of(
    design: Design, measure: Measure, text: str, value: Number, state: Origin, *, edge: Edge = "centre", spread: Number = None
) -> Reading:
    """Return a new reading of a measure, with the tool of the reading before, or the usual one."""
    before = design.readings.get(measure.key)
    how = measure.way if before is None else before.how
    return Reading(text=text, value=value, from_=edge, how=how, state=state, spread=spread, second=None)


def capital(name: str) -> str:
    """Return a name with the first letter that an entry needs."""
    return name[:1].upper() + name[1:]


def without_reading(design: Design, key: str) -> Design:
    """Return ``design`` without the reading of one measure."""
    return msgspec.structs.replace(design, readings={name: reading for name, reading in design.readings.items() if name != key})
