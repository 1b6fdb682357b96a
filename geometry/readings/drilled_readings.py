"""The readings of the holes as they were drilled, as the card has them. The plan never moves with them. Lengths [mm]."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from geometry.design.drilled_hole import DrilledHole
from geometry.readings.measure import Measure

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.validity import Number

SECTION = 7
"""The card's section of the holes and the drop."""
DRILLED = ".drilled."
"""The keys of these readings have this after their motor."""
HOLES: tuple[tuple[Literal["upper", "lower"], Literal["port", "starboard"]], ...] = (
    ("lower", "port"), ("lower", "starboard"), ("upper", "port"), ("upper", "starboard"),
)  # fmt: skip
_PAGE = "sheets#as-drilled"
_EMPTY = "Leave it empty where it is as planned."
FIELDS: tuple[tuple[str, str, str, float], ...] = (
    ("outer.0", "outside, across", "From the centreline to the hole’s middle, on the outer face. Starboard is plus.", 1.0),
    ("outer.1", "outside, down", "From the top edge down the outer face to the hole’s middle.", -1.0),
    ("inner.0", "inside, across", "From the centreline to the hole’s middle, on the inner face. Starboard is plus.", 1.0),
    ("inner.1", "inside, down", "Down the inner face to the hole’s middle, from where the well’s depths are measured.", -1.0),
    ("diameter", "diameter", f"Across the hole, as it is now. {_EMPTY}", 1.0),
    ("washer", "its washer, across", f"The inside washer that you will use in this hole alone. {_EMPTY}", 1.0),
    ("flat_cut", "its washer, flat cut at", f"From that washer’s centre to its cut. {_EMPTY}", 1.0),
    ("socket", "its socket, across", f"The socket that you will turn this nut with. {_EMPTY}", 1.0),
)
"""Each value of a hole: its place in the record, its name, how it is read, and its sign."""


def drilled_key(mount: int, hole: str, field: str) -> str:
    """Return the key of one value of a hole as drilled."""
    return f"mounts.{mount}{DRILLED}{hole.replace(' ', '_')}.{field}"


def drilled_of(design: Design, mount: int, hole: str) -> DrilledHole | None:
    """Return a hole as drilled, None where nothing of it was read."""
    return next((each for each in design.as_drilled if (each.mount, each.hole) == (mount, hole)), None)


def drilled_readings(design: Design) -> list[Measure]:
    """Return the readings of each motor's holes, once its holes are to be entered."""
    return [
        _row(index, pair, side, field)
        for index, mount in enumerate(design.mounts)
        if mount.bracket.rows is not None and any(each.mount == index for each in design.as_drilled)
        for pair, side in HOLES for field in FIELDS
    ]  # fmt: skip


def with_drilled(design: Design, mount: int) -> Design:
    """Return ``design`` with empty records for the holes of a motor that are to be entered."""
    fresh = tuple(
        DrilledHole(mount=mount, pair=pair, side=side, outer=(None, None), inner=(None, None), diameter=None,
                    washer=None, flat_cut=None, socket=None, how="rule")
        for pair, side in HOLES if drilled_of(design, mount, f"{pair} {side}") is None
    )  # fmt: skip
    return replace(design, as_drilled=(*design.as_drilled, *fresh))


def without_drilled(design: Design, mount: int) -> Design:
    """Return ``design`` without the holes of a motor as drilled."""
    return replace(design, as_drilled=tuple(each for each in design.as_drilled if each.mount != mount))


def _row(
    mount: int, pair: Literal["upper", "lower"], side: Literal["port", "starboard"], field: tuple[str, str, str, float]
) -> Measure:
    place, name, how, sign = field
    hole = f"{pair} {side}"

    def get(design: Design) -> Number:
        drilled = drilled_of(design, mount, hole)
        value = None if drilled is None else _value(drilled, place)
        return None if value is None else sign * value

    return Measure(
        drilled_key(mount, hole, place), SECTION, f"{hole.capitalize()} as drilled, {name}", how, 0.8, "length", "tape", get,
        partial(_with_value, mount, pair, side, place, sign), free=True, way="rule", page=_PAGE,
        empty="not read" if "." in place else "as planned",
    )  # fmt: skip


def _value(drilled: DrilledHole, place: str) -> Number:
    end, _, axis = place.partition(".")
    value: Number = getattr(drilled, end)[int(axis)] if axis else getattr(drilled, end)
    return value


def _with_value(
    mount: int, pair: Literal["upper", "lower"], side: Literal["port", "starboard"], place: str, sign: float, design: Design,
    value: Number,
) -> Design:  # fmt: skip
    full = with_drilled(design, mount)
    new = None if value is None else sign * value
    made = tuple(
        _changed(each, place, new) if (each.mount, each.pair, each.side) == (mount, pair, side) else each
        for each in full.as_drilled
    )
    return replace(full, as_drilled=made)


def _changed(drilled: DrilledHole, place: str, value: Number) -> DrilledHole:
    end, _, axis = place.partition(".")
    if not axis:
        return replace(drilled, **{end: value})
    u, v = getattr(drilled, end)
    return replace(drilled, **{end: (value, v) if axis == "0" else (u, value)})
