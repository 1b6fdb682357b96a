"""The designs that a boat may be instead: each has one reading, one guess or one hole off."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, TypeVar

import msgspec
from msgspec.structs import replace

from geometry.design.validity import CLOSE, NonsenseError
from geometry.edits.edits import Shape, move_bracket, move_lower, move_upper
from geometry.readings.measures import Measure, at_path, guess_of, has_corner_measures, measures, put_path
from geometry.readings.pilots import followed, is_at_plan
from geometry.readings.reading_spreads import hole_spread, spread_of
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.solid.planes import sides, to_segment
from geometry.solving.compared import pilot_spread

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.design.validity import Points

T = TypeVar("T")
_SHARES = (1.0, 0.75, 0.5, 0.25, 0.1, 0.02)  # of a guess's range: the largest possible one is tried
_PLACED = ("old_holes.", "inside_blocks.", "outside_fittings.")  # a body can be on either side of these
_LOW = "transom.thickness.low"
_PROFILE = "well.profile"


class Trial(msgspec.Struct, frozen=True):
    """One value off to either side.

    Attributes:
        key: of the reading; "" for a hole. guess: key of the guess that it is part of, "" for a measured value.
        plus, minus: the design one standard deviation off, or at the ends of a guess's usual range.
        between: of a guessed place, more designs within its range.
    """

    key: str
    guess: str
    plus: Design
    minus: Design
    between: tuple[Design, ...] = ()


def trials(design: Design, bought: Design, behind: tuple[str, ...] | None = None) -> Iterator[Trial]:
    """Yield the trials of every guess, every reading and every hole.

    Args:
        behind: only of readings whose keys begin with one of these; None for all.
        bought: ``design`` with its bolts' present lengths. A reading moves it: a bolt that is bought does not change. A
            guess moves ``design``: bolts are bought after it is measured.
    """
    for measure in measures(design):
        if behind is not None and not measure.key.startswith(behind):
            continue
        guess = guess_of(design, measure)
        if guess:
            yield from _guess_trials(design, measure, guess)
        elif _is_read(measure) and not _is_drawn(bought, measure.key):
            yield from _reading_trials(bought, measure)
    yield from _hole_trials(bought)


def _is_read(measure: Measure) -> bool:
    """Return whether an error of a measure's reading can move a finding."""
    return not measure.free and measure.kind in ("length", "angle", "shape")


def _reading_trials(design: Design, measure: Measure) -> Iterator[Trial]:
    step = spread_of(design, measure)
    if step == 0:
        return
    if measure.kind == "shape":
        if not has_corner_measures(measure.key) or measure.key == _PROFILE:
            yield from _shifts(design, measure.key, step)
        return
    value = measure.get(design)
    if value is not None:
        yield from _pair(measure.key, partial(measure.set, design), value, step)


def _pair(key: str, put: Callable[[float], Design], value: float, step: float) -> Iterator[Trial]:
    yield from _both(key, put, value + step, value - step)


def _both(key: str, put: Callable[[T], Design], plus: T, minus: T) -> Iterator[Trial]:
    try:
        yield Trial(key, "", put(plus), put(minus))
    except NonsenseError:
        return  # such as the datum's edge, which has to stay in its place


def _shifts(design: Design, path: str, step: float) -> Iterator[Trial]:
    """Yield a shape that was drawn, off across and off up as a whole: it is one reading, with one error.

    A corner that was read by itself stays, and so does the datum's edge where it must.
    """
    corners = Shape(path).corners(design)
    if path == _PROFILE and not any(_is_drawn(design, measure.key) for measure in measures(design)):
        return
    for axis in (0, 1):
        read = {at for at in range(len(corners)) if f"{path}.{at}.{axis}" in design.readings}
        for staying in (read, read | _at_datum(corners)):
            shift = next(_pair(path, partial(_shifted, design, path, axis, staying), 0.0, step), None)
            if shift is not None:
                yield shift
                break


def _is_drawn(design: Design, key: str) -> bool:
    """Return whether a key is that of a profile's corner that nobody read by itself."""
    return key.startswith(f"{_PROFILE}.") and key not in design.readings


def _shifted(design: Design, path: str, axis: int, staying: set[int], by: float) -> Design:
    """Return the design with the corners of a shape moved, but for some and for those that are not known."""
    corners = list(Shape(path).corners(design))
    for at, corner in enumerate(corners):
        along = corner[axis]
        if at not in staying and along is not None:
            corners[at] = (along + by, corner[1]) if axis == 0 else (corner[0], along + by)
    return Shape(path).with_corners(design, tuple(corners))


def _at_datum(corners: Points) -> set[int]:
    """Return the numbers of the corners at both ends of each edge through the datum."""
    known = [(-1e9 if u is None else u, -1e9 if v is None else v) for u, v in corners]
    through = [at for at, side in enumerate(sides(known)) if to_segment((0.0, 0.0), side) < CLOSE]
    return {each % len(known) for at in through for each in (at - 1, at)}


def _guess_trials(design: Design, measure: Measure, guess: str) -> Iterator[Trial]:
    if measure.key == "transom.top_cut" and isinstance(design.transom.top_cut, str):
        yield Trial(measure.key, guess, *_cuts(design))
    elif measure.kind == "shape":
        if not has_corner_measures(measure.key):
            for put, coordinate in _coordinates(design, measure):
                yield from _swept(measure, guess, put, coordinate)
    elif measure.kind in ("length", "angle", "count"):
        value = measure.get(design)
        if value is not None:
            yield from _swept(measure, guess, partial(_with_value, design, measure), value)


def _with_value(design: Design, measure: Measure, value: float) -> Design:
    """Return the design with another value of a guess. A lower thickness that is also a guess keeps the taper."""
    low, top = design.transom.thickness.low, design.transom.thickness.top
    if measure.key == "transom.thickness.top" and low is not None and top is not None and _is_guess(design, _LOW):
        design = put_path(design, _LOW, low + value - top)
    return measure.set(design, value)


def _is_guess(design: Design, key: str) -> bool:
    reading = design.readings.get(key)
    return reading is not None and reading.state == "guess"


def _cuts(design: Design) -> tuple[Design, Design]:
    """Return the design with its top cut square and level: the two that a word can guess."""
    square, level = (replace(design, transom=replace(design.transom, top_cut=cut)) for cut in ("square", "level"))
    return square, level


def _swept(measure: Measure, guess: str, put: Callable[[float], Design], value: float) -> Iterator[Trial]:
    """Yield the ends of a guess's range, or as far as possible, with a place half-way to each."""
    low, high = measure.about(value)
    below, above = _furthest(put, value, low), _furthest(put, value, high)
    if below is None or above is None:
        return
    ends = (low, high) if measure.key.startswith(_PLACED) else ()
    halves = tuple(half for end in ends if (half := _at(put, (value + end) / 2)) is not None)
    yield Trial(measure.key, guess, above, below, halves)


def _furthest(put: Callable[[float], Design], value: float, end: float) -> Design | None:
    return next((design for share in _SHARES if (design := _at(put, value + share * (end - value))) is not None), None)


def _at(put: Callable[[float], Design], value: float) -> Design | None:
    try:
        return put(value)
    except NonsenseError:
        return None


def _coordinates(design: Design, measure: Measure) -> Iterator[tuple[Callable[[float], Design], float]]:
    """Yield each known coordinate of a shape's corners, with the function that sets another."""
    shape, corners = Shape(measure.key), at_path(design, measure.key)
    for index, corner in enumerate(corners):
        for axis in (0, 1):
            if corner[axis] is None:
                continue

            def put(to: float, index: int = index, axis: int = axis, corner: tuple[float, ...] = corner) -> Design:
                moved = (to, corner[1]) if axis == 0 else (corner[0], to)
                return shape.with_corners(design, (*corners[:index], moved, *corners[index + 1 :]))

            yield put, corner[axis]


def _hole_trials(design: Design) -> Iterator[Trial]:
    """Yield trials with each new hole off across and up."""
    for index, mount in enumerate(design.mounts):
        if mount.bracket.rows is None:
            continue
        pair = [bolt for bolt in bolts(design) if bolt.mount_index == index and bolt.port]
        try:
            step = hole_spread(design.spreads, max(bolt.exit.along for bolt in pair))
        except Unmeasured:
            continue
        for move, du, dv in ((move_bracket, step, 0.0), (move_upper, 0.0, step), (move_lower, 0.0, step)):
            try:
                plus, minus = move(design, index, du, dv), move(design, index, -du, -dv)
            except NonsenseError:
                continue
            yield Trial("", "", followed(design, plus), followed(design, minus))  # a pilot is off with its hole
    yield from _pilot_trials(design)


def _pilot_trials(design: Design) -> Iterator[Trial]:
    """Yield trials with each pilot off its place whose hole was planned elsewhere since: that hole has another error."""
    for number, pilot in enumerate(design.pilots):
        if is_at_plan(design, pilot):
            continue
        try:
            step = pilot_spread(design, pilot)
        except Unmeasured:
            continue
        u, v = pilot.at
        for du, dv in ((step, 0.0), (0.0, step)):
            yield from _both("", partial(_with_place, design, number), (u + du, v + dv), (u - du, v - dv))


def _with_place(design: Design, number: int, at: tuple[float, float]) -> Design:
    changed: Design = put_path(design, f"pilots.{number}.at", at)
    return changed
