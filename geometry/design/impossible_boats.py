"""Rules for several readings together: they refuse a boat that cannot exist.

A rule counts only where none of its readings is a guess. A reading that disagrees with a guess is accepted, since the
guess is wrong. A single impossible value is refused where it is kept.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Protocol

from geometry.design.boat import tan_taper
from geometry.design.inner_face import cut_angle, top_on_inner
from geometry.design.validity import CLOSE, FACE, SECOND, NonsenseError, above_zero, known
from geometry.tables import trade
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from geometry.design.boat import Boat, Transom, Well
    from geometry.design.validity import Number

    Corner = tuple[float, float]
    Clash = tuple[NonsenseError, tuple[str, ...]]

MOST_FALL = 60.0  # degrees from square to the inner face: our assumption
MOST_FLOOR_SLOPE = 15.0  # degrees, port against starboard: our assumption; a floor that drains has 2 or 3
MOST_CUT = 30.0  # degrees beyond square and beyond level: our assumption
_PROFILE = ("well.profile", "well.floor_port", "well.floor_starboard")
_WIDTHS = ("well.top_width", "well.floor_width")
_INSIDE = ("transom.rake", "transom.top_cut", "transom.thickness.")
INCH_FOR_A_GUESS = MM_PER_INCH  # [mm]: error of the floor's height where rake, thickness or cut is a guess
_BEYOND = trade.STANDARD_PATTERN.lower_half_spacing  # [mm]: the hull's bottom counts as level from here outward


class ReadingState(Protocol):
    """A reading, as far as a rule needs it."""

    @property
    def state(self) -> str:
        """Return "guess" where the value is one."""

    @property
    def value(self) -> Number:
        """Return the value that was read, None where it is not known."""


class DesignParts(Protocol):
    """The parts of a design that the rules read."""

    @property
    def boat(self) -> Boat:
        """Return the hull."""

    @property
    def transom(self) -> Transom:
        """Return the transom."""

    @property
    def well(self) -> Well | None:
        """Return the well, None where there is none."""

    @property
    def readings(self) -> Mapping[str, ReadingState]:
        """Return the readings by their keys."""


def refuse_impossible(design: DesignParts) -> None:
    """Refuse a boat whose readings together are impossible.

    Raises:
        NonsenseError: names the field that shows it.
    """
    for key, reading in design.readings.items():
        if SECOND in key and not key.split(SECOND)[1].startswith("pilot_"):  # a mark may be above its pilot
            above_zero(2 * FACE, **{f"readings.{key}": reading.value})
    for sentence, rests in _impossible(design):
        if not _guessed(design, rests):
            raise sentence


def _guessed(design: DesignParts, rests: tuple[str, ...]) -> bool:
    """Return whether a reading whose key begins with one of these is a guess."""
    return any(reading.state == "guess" and key.startswith(rests) for key, reading in design.readings.items())


def _impossible(design: DesignParts) -> Iterator[Clash]:
    """Yield each impossible fact, with the beginnings of the keys behind it."""
    yield from _cut(design)
    if design.well is None:
        return
    yield from _floor_against_face(design, design.well)
    corners = known(design.well.profile)
    if corners is not None:
        yield from _floor_slope(corners)
        yield from _corner_radius(design.well, corners)
        yield from _hull_bottom(design, design.well, corners)


def _cut(design: DesignParts) -> Iterator[Clash]:
    cut, rake = design.transom.top_cut, design.transom.rake
    if not isinstance(cut, float | int) or rake is None:
        return
    least, most = min(0.0, rake) - MOST_CUT, max(0.0, rake) + MOST_CUT
    if not least - CLOSE <= cut <= most + CLOSE:
        yield NonsenseError(
            f"transom.top_cut is {cut:g}; with a rake of {rake:g}° it has to be within {least:g} to {most:g}",
            "with this rake and thickness the inside top edge can’t be so far above or below the outside one",
        ), ("transom.rake", "transom.top_cut")


def _floor_against_face(design: DesignParts, well: Well) -> Iterator[Clash]:
    taper, rake, rise = tan_taper(design.transom.thickness), design.transom.rake, well.floor_rise
    if taper is None or rake is None or rise is None:
        return
    falls = rake + math.degrees(math.atan(taper)) - rise
    if not abs(falls) < MOST_FALL:
        yield NonsenseError(
            f"well.floor_rise puts the floor {falls:.1f}° off square to the inner face; it has to stay within 60°",
            "with it the well’s floor would lean 60° or more from square to the inner face",
        ), ()  # nothing can be calculated then, guess or not


def _floor_slope(corners: list[Corner]) -> Iterator[Clash]:
    if len(corners) != 4:
        return
    (ua, ya), (ub, yb) = corners[1:3]
    slope = math.degrees(math.atan2(abs(yb - ya), ub - ua))
    if slope > MOST_FLOOR_SLOPE + CLOSE:
        yield NonsenseError(
            f"well.profile has a floor that slopes {slope:.1f}° from port to starboard; {MOST_FLOOR_SLOPE:g}° is the most",
            f"the floor would slope more than {MOST_FLOOR_SLOPE:g}° from port to starboard; if the other side is wrong, "
            "empty its entry first",
        ), _PROFILE


def _corner_radius(well: Well, corners: list[Corner]) -> Iterator[Clash]:
    radius = well.fillet_radius
    if radius is None:
        return
    depth = max(y for _, y in corners) - min(y for _, y in corners)
    half = (corners[-1][0] - corners[0][0]) / 2
    for most, name, why, rests in (
        (depth, "the well's depth", "the well is not so deep", _PROFILE),
        (half, "half the well's width", "half the well is not so wide", _WIDTHS),
    ):
        if radius >= most:
            yield NonsenseError(
                f"well.fillet_radius is {radius:g}; it has to be less than {name}, {most:g} mm", why
            ), ("well.fillet_radius", "well.profile", *rests)


def _hull_bottom(design: DesignParts, well: Well, corners: list[Corner]) -> Iterator[Clash]:
    """Yield a well's line that goes below the hull's bottom, which rises from the centreline with the deadrise.

    Plumb, at the inner face, no further out than the lower bolts: beyond them chines and flats differ. A hull of several
    bodies has no such bottom.
    """
    height, along = design.transom.height, _plumb(design, well)
    if design.boat.kind != "monohull" or height is None or along is None:
        return
    sure = not _guessed(design, ("transom.deadrise",))
    rise = math.tan(math.radians(design.transom.deadrise or 0.0)) if sure else 0.0
    spare = INCH_FOR_A_GUESS if _guessed(design, _INSIDE) else CLOSE
    for u, y, rests in _places(corners):
        lowest = min(abs(u), _BEYOND) * rise - height - spare
        if along(y) < lowest:
            most = y * (along(0.0) - lowest) / (along(0.0) - along(y))  # along a straight line
            yield NonsenseError(
                f"well.profile goes down to {-y:g} mm at u = {u:g}, below the hull's bottom there; {-most:.6g} mm is the most",
                "with this height, deadrise and floor depth the well’s floor would be below the hull’s bottom",
            ), ("well.profile", rests, "transom.height")


def _plumb(design: DesignParts, well: Well) -> Callable[[float], float] | None:
    """Return the function from the well's y to a height above the datum, plumb, at the inner face [mm]."""
    transom = design.transom
    taper, cut, top, rake = tan_taper(transom.thickness), cut_angle(transom), transom.thickness.top, transom.rake
    if taper is None or top is None or rake is None:
        return None
    from_edge = well.well_from == "inside top edge"
    if from_edge and cut is None:
        return None
    up = top_on_inner(0.0, top, taper, math.tan(math.radians(cut or 0.0))) if from_edge else 0.0
    lean = math.radians(rake)
    at_top, share = top * math.sin(lean), math.cos(lean + math.atan(taper))
    return lambda y: at_top + (y + up) * share


def _places(corners: list[Corner]) -> Iterator[tuple[float, float, str]]:
    """Yield the places where a well's line may be lowest, no further out than the lower bolts, each with its reading.

    A well outside that range yields its corners.
    """
    if len(corners) == 4:
        _, (ua, ya), (ub, yb), _ = corners
        if ub - ua > CLOSE:
            for u, rests in ((-_BEYOND, "well.floor_port"), (_BEYOND, "well.floor_starboard")):
                yield u, ya + (yb - ya) * (u - ua) / (ub - ua), rests
        return
    within = [corner for corner in corners if abs(corner[0]) <= _BEYOND]
    for (ua, ya), (ub, yb) in zip(corners, corners[1:], strict=False):
        within += [(u, ya + (yb - ya) * (u - ua) / (ub - ua)) for u in (-_BEYOND, 0.0, _BEYOND) if ua < u < ub]
    for u, y in within or corners:
        yield u, y, "well.profile"
