"""The owner's edits: each function takes a design and returns a new one.

Distances [mm], along the face. An edit that changes nothing returns an equal design. Impossible values raise
`NonsenseError`, and the design stays as it was.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Literal

import msgspec
from msgspec.structs import replace

from geometry.design.validity import LARGEST, same_way
from geometry.errors import OwnerError
from geometry.readings.angle_sides import read_angle
from geometry.readings.measure import reading_of
from geometry.readings.measures import Measure, at_path, put_path, without_reading
from geometry.readings.measures import measure as measure_of
from geometry.units import force_units
from geometry.units.height_words import row_of
from geometry.units.units import parse_length, parse_mass, quoted

if TYPE_CHECKING:
    from geometry.design.design import Design, Edge, How
    from geometry.design.validity import Number, Points

_OTHER_SIDE = {"well.floor_port": "well.floor_starboard", "well.floor_starboard": "well.floor_port"}


class EntryError(OwnerError, ValueError):
    """A text that no entry of its kind accepts, on any boat."""


def with_mount(design: Design, index: int, **changed: Any) -> Design:
    """Return ``design`` with some values of one mount changed."""
    mounts = list(design.mounts)
    mounts[index] = replace(mounts[index], **changed)
    return replace(design, mounts=tuple(mounts))


def move_bracket(design: Design, index: int, du: float, dv: float) -> Design:
    """Move the whole pattern on the boat: upper depth and offset change, drop and row stay."""
    mount = design.mounts[index]
    changed: dict[str, float] = {}
    if mount.offset is not None and du:
        changed["offset"] = mount.offset + du
    if mount.upper_at is not None and dv:
        changed["upper_at"] = mount.upper_at + dv
    return with_mount(design, index, **changed) if changed else design


def move_lower(design: Design, index: int, du: float, dv: float) -> Design:
    """Move the lower pair up or down: the drop changes. Sideways the whole pattern moves and is never skewed."""
    mount = design.mounts[index]
    changed: dict[str, float] = {}
    if mount.drop is not None and dv:
        changed["drop"] = mount.drop - dv
    if mount.offset is not None and du:
        changed["offset"] = mount.offset + du
    return with_mount(design, index, **changed) if changed else design


def move_upper(design: Design, index: int, du: float, dv: float) -> Design:
    """Move the upper pair. The lower pair keeps its place on the boat, so the drop changes too."""
    mount = design.mounts[index]
    changed: dict[str, float] = {}
    if mount.upper_at is not None and dv:
        changed["upper_at"] = mount.upper_at + dv
        if mount.drop is not None:
            changed["drop"] = mount.drop + dv
    if mount.offset is not None and du:
        changed["offset"] = mount.offset + du
    return with_mount(design, index, **changed) if changed else design


def set_row(design: Design, index: int, row: int) -> Design:
    """Set the upper hole in use. The holes in the boat stay."""
    return with_mount(design, index, row=row)


def hang(design: Design, index: int, row: int, drop: float) -> Design:
    """Choose a rung of the ladder: upper hole and drop together."""
    return with_mount(design, index, row=row, drop=drop)


def drill_tilts(design: Design, index: int, upper: float, lower: float) -> Design:
    """Set both pairs' tilts [degrees]."""
    return with_mount(design, index, upper_tilt=upper, lower_tilt=lower)


class Shape(msgspec.Struct, frozen=True):
    """The place of a shape's corners in a design: a dotted path such as "transom.outline" or "old_holes.0.at"."""

    path: str

    def corners(self, design: Design) -> Points:
        """Return the corners."""
        corners: Points = at_path(design, self.path)
        return corners

    def with_corners(self, design: Design, corners: Points) -> Design:
        """Return the design with other corners."""
        changed: Design = put_path(design, self.path, corners)
        return changed


def move_corner(design: Design, path: str, corner: int, to: tuple[float, float], *, alike: bool = False) -> Design:
    """Move one corner of a shape; with ``alike`` its mirror image across the centreline too, if there is one.

    The twin is found within 0.5 mm of the mirrored place.

    Raises:
        NonsenseError: the shape would cross itself, double back, or be turned inside out.
    """
    shape = Shape(path)
    corners = list(shape.corners(design))
    if alike:
        twin = twin_of(tuple(corners), corner)
        if twin == corner:
            to = 0.0, to[1]
        elif twin is not None:
            corners[twin] = -to[0], to[1]
    corners[corner] = to
    changed = shape.with_corners(design, tuple(corners))
    if path != "well.profile":  # a line, which has no inside
        same_way(shape.corners(design), shape.corners(changed))
    return changed


def twin_of(corners: Points, corner: int) -> int | None:
    """Return the index of a corner's mirror image across the centreline, its index on the centreline itself, else None."""
    u, v = corners[corner]
    if u is None or v is None:
        return None
    for index, (x, y) in enumerate(corners):
        if x is not None and y is not None and abs(x + u) <= 0.5 and abs(y - v) <= 0.5:
            return index
    return None


def move_old_hole(design: Design, index: int, to: tuple[float, float]) -> Design:
    """Move an old hole's centre on the outer face."""
    changed: Design = put_path(design, f"old_holes.{index}.at", to)
    return changed


def move_shape(design: Design, path: str, du: float, dv: float) -> Design:
    """Move a whole outline, such as a block's or a fitting's."""
    shape = Shape(path)

    def moved(value: Number, by: float) -> Number:
        return None if value is None else value + by

    return shape.with_corners(design, tuple((moved(u, du), moved(v, dv)) for u, v in shape.corners(design)))


def enter(design: Design, measure: Measure, text: str, edge: Edge = "centre", diameter: float = 0.0) -> Design:
    """Return ``design`` with a person's text for one measure, kept as typed and marked as measured.

    Args:
        text: in the design's unit unless it names another; a sum is allowed.
        edge: a hole's near or far edge was read instead of its centre; its ``diameter`` turns that into the centre.

    Raises:
        OwnerError: the text does not read as a value, see `parse_entry`. NonsenseError: the value is impossible there.
    """
    value = parse_entry(design, measure, text)
    if edge != "centre":
        value += math.copysign(diameter / 2, value if edge == "near edge" else -value)  # at port, across counts as minus
    return enter_value(design, measure, value, text, edge)


def enter_value(design: Design, measure: Measure, value: float, text: str = "", edge: Edge = "centre") -> Design:
    """Return ``design`` with a value for one measure, marked as measured; ``text``, ``edge``: as typed and read.

    Raises:
        NonsenseError: it is impossible there.
    """
    changed = measure.set(design, value)
    if measure.free and ((now := measure_of(changed, measure.key)) is None or now.free):  # a top cut in degrees is read
        return changed
    reading = reading_of(design, measure, text.strip(), value, "measured", edge=edge, spread=_own_spread(design, measure.key))
    return _guess_follows(design, replace(changed, readings={**changed.readings, measure.key: reading}), measure.key)


def forget(design: Design, measure: Measure) -> Design:
    """Return ``design`` with one measure not known, and without its reading.

    Raises:
        NonsenseError: a bracket cannot be without it.
    """
    return without_reading(measure.set(design, None), measure.key)


def _guess_follows(before: Design, design: Design, key: str) -> Design:
    """Set a guess of the floor's depth at one side to the reading at the other side. It stays a guess.

    The first reading of a floor counts for both sides, and is a guess for the other.
    """
    other, read = _OTHER_SIDE.get(key, ""), design.readings[key]
    twin, guess = measure_of(design, other), design.readings.get(other)
    if twin is None or read.value is None:
        return design
    if guess is None and twin.get(before) is None:
        guess = replace(read, state="guess", spread=None)
    if guess is None or guess.state != "guess":
        return design
    followed = replace(guess, text=read.text, value=read.value)
    return replace(twin.set(design, read.value), readings={**design.readings, other: followed})


def parse_entry(design: Design, measure: Measure, text: str) -> float:
    """Return the value of a typed entry, in the unit of its kind: see `geometry.readings.measures`.

    Raises:
        LengthError, AngleError, MassError, ForceError: the text does not read as such.
        EntryError: no whole number where one is needed, or more than any boat has.
    """
    if measure.kind == "angle":
        return _of_a_boat(read_angle(measure.key, text), text)
    if measure.kind == "mass":
        return _of_a_boat(parse_mass(text, design.units), text)
    if measure.kind == "count":
        if not text.strip().isdecimal() or len(text.strip()) > 4:
            raise EntryError(f"{quoted(text.strip())} is not a whole number. Write it in figures, such as 2.")
        return int(text)
    if measure.kind == "hole":
        row = row_of(text)
        if row is None:
            raise EntryError(f"{quoted(text.strip())} is no hole of a bracket. Write one, such as 3 or third from the top.")
        return row + 1
    if measure.kind in force_units.KINDS:
        return _of_a_boat(force_units.read(measure.kind, text, design.units), text)
    return _of_a_boat(parse_length(text, design.units), text)


def _of_a_boat(value: float, text: str) -> float:
    if abs(value) > LARGEST:
        raise EntryError(f"{quoted(text.strip())} is more than any boat has. Check the figure and its unit.")
    return value


def confirm(design: Design, key: str) -> Design:
    """Mark one guess as measured, its value unchanged.

    Raises:
        NonsenseError: it is impossible together with other measured values.
    """
    reading = design.readings.get(key)
    if reading is None or reading.state == "measured":
        return design
    return replace(design, readings={**design.readings, key: replace(reading, state="measured")})


def read_with(design: Design, measure: Measure, how: How) -> Design:
    """Return ``design`` with another tool for a reading; unchanged where the measure has no reading."""
    reading = design.readings.get(measure.key)
    if reading is None:
        return design
    return replace(design, readings={**design.readings, measure.key: replace(reading, how=how)})


def _own_spread(design: Design, key: str) -> Number:
    """Return the spread that its owner gave a reading. That of several readings together ends with a new one."""
    reading = design.readings.get(key)
    return None if reading is None or reading.second is not None else reading.spread


def set_units(design: Design, units: Literal["in", "mm"]) -> Design:
    """Show and type lengths in inches or millimetres; no length changes."""
    return replace(design, units=units)


def rename(design: Design, name: str) -> Design:
    """Give the boat another name. A renamed demonstration is an ordinary boat."""
    return replace(design, name=name, demonstration=design.demonstration and name == design.name)


def remove_mount(design: Design, index: int) -> Design:
    """Remove a motor and its readings. Those of later motors move up by one."""
    readings = {}
    for key, reading in design.readings.items():
        parts = key.split(".", 2)
        if parts[0] == "mounts" and int(parts[1]) >= index:
            if int(parts[1]) == index:
                continue
            key = ".".join(("mounts", str(int(parts[1]) - 1), parts[2]))  # noqa: PLW2901 (its new name)
        readings[key] = reading
    mounts = design.mounts[:index] + design.mounts[index + 1 :]
    pilots = (replace(pilot, mount=pilot.mount - (pilot.mount > index)) for pilot in design.pilots if pilot.mount != index)
    drilled = (replace(each, mount=each.mount - (each.mount > index)) for each in design.as_drilled if each.mount != index)
    return replace(design, mounts=mounts, readings=readings, pilots=tuple(pilots), as_drilled=tuple(drilled))
