"""Rules for a single number or shape: they refuse impossible values.

A poor choice is a finding. Only a value that no boat can have is refused here. Each refusal is one plain sentence.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from geometry.errors import OwnerError
from geometry.tables.known import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Sequence

Number = float | None  # null in a file: not yet measured
Pair = tuple[Number, Number]
Points = tuple[Pair, ...]

LARGEST = 100_000  # [mm, or any unit]: no boat is longer than a hundred metres, and no other value comes near it
FACE = 120 * MM_PER_INCH  # [mm]: nothing on a small boat's transom is further from its datum; our assumption, as the next three
DEEP = 60 * MM_PER_INCH  # [mm]: no small boat's well is deeper
PART = 40 * MM_PER_INCH  # [mm]: no bracket's or bolt's own measure is longer
SMALL = 12 * MM_PER_INCH  # [mm]: no transom is thicker, and no washer wider
MOST_TILT = 60.0  # degrees: of a floor, a front, a bolt or a wedge
LEAST = 1e-3  # [mm, or any unit]: nobody measures less, and nothing divides by less
SECOND = ".second."  # in the key of a reading that is only compared with others
CLOSE = 1e-6  # [mm] or degrees: comparisons allow this much
TOO_MUCH = "no small boat has so much"
CROSSING = "the sides would meet or cross each other"
BACK = "the well’s line runs from port to starboard, and never back"


class NonsenseError(OwnerError, ValueError):
    """A value that no boat, motor or bolt can have. Its sentence is for the reader of a file: in its keys and millimetres.

    Attributes:
        why: the reason in the words of a person with a tape, without figures; "" where the value's range is the reason.
    """

    def __init__(self, sentence: str, why: str = "") -> None:
        super().__init__(sentence)
        self.why = why


def above_zero(most: float = LARGEST, /, **values: Number) -> None:
    """Refuse known values that are not above 0 by `LEAST`, or above ``most``.

    Raises:
        NonsenseError: names the value.
    """
    for name, value in values.items():
        if value is not None and not value >= LEAST:
            raise NonsenseError(f"{name} is {value:g}; it has to be above 0" + (f", {LEAST:g} or more" if value > 0 else ""))
    at_most(most, **values)


def not_below_zero(most: float = LARGEST, /, **values: Number) -> None:
    """Refuse known values below 0, or above ``most``.

    Raises:
        NonsenseError: names the value.
    """
    for name, value in values.items():
        if value is not None and not value >= 0:
            raise NonsenseError(f"{name} is {value:g}; it can't be below 0")
    at_most(most, **values)


def at_most(most: float, /, **values: Number) -> None:
    """Refuse known values further than ``most`` from 0, either way.

    Raises:
        NonsenseError: names the value.
    """
    for name, value in values.items():
        if value is not None and not abs(value) <= most + CLOSE:
            raise NonsenseError(f"{name} is {value:g}; no small boat has more than {most:g}", TOO_MUCH)


def within(low: float, high: float, **values: Number) -> None:
    """Refuse known values that are not strictly between ``low`` and ``high``.

    Raises:
        NonsenseError: names the value.
    """
    for name, value in values.items():
        if value is not None and not low < value < high:
            raise NonsenseError(f"{name} is {value:g}; it has to be between {low:g} and {high:g}",
                                "nothing on a boat leans so far")  # fmt: skip


def from_to(least: float, most: float, **values: float) -> None:
    """Refuse values below ``least`` or above ``most``; both ends are taken, and 1e-6 beyond them.

    Raises:
        NonsenseError: names the value.
    """
    for name, value in values.items():
        if not least - CLOSE <= value <= most + CLOSE:
            raise NonsenseError(f"{name} is {value:g}; it has to be from {least:g} to {most:g}")


def hole_in_rim(inner: Number, outer: Number) -> None:
    """Refuse a ring whose hole is not inside its rim [mm].

    Raises:
        NonsenseError: the hole is at or outside the rim.
    """
    above_zero(inner=inner, outer=outer)
    if inner is not None and outer is not None and not inner < outer:
        raise NonsenseError(f"the bore ({inner:g} mm) has to be smaller than the rim ({outer:g} mm)",
                            "the bore is smaller than the outside")  # fmt: skip


def known(points: Sequence[Pair]) -> list[tuple[float, float]] | None:
    """Return the points if every coordinate is measured, else None."""
    complete = [(x, y) for x, y in points if x is not None and y is not None]
    return complete if len(complete) == len(points) else None


def closed_shape(points: Sequence[Pair], name: str, most: float = FACE) -> None:
    """Refuse an impossible outline: fewer than three corners, no area, crossing itself, or beyond ``most`` [mm].

    Raises:
        NonsenseError: says which.
    """
    if len(points) < 3:
        raise NonsenseError(f"{name} has {len(points)} corners; it needs three or more", "an outline has three corners or more")
    _of_a_boat(points, name, most, most)
    corners = known(points)
    if corners is None:
        return
    if not _is_whole(tuple(corners)):
        raise NonsenseError(f"{name} crosses itself; list its corners once, in order round the shape", CROSSING)
    if abs(area(corners)) < CLOSE:
        raise NonsenseError(f"{name} has no area; its corners are in one line", CROSSING)


@lru_cache(maxsize=256)  # most edits leave every outline as it was
def _is_whole(corners: tuple[tuple[float, float], ...]) -> bool:
    """Return whether a ring does not cross or touch itself."""
    return plainly_simple(corners) or _is_simple(list(corners))


def _of_a_boat(corners: Sequence[Pair], name: str, across: float, up: float) -> None:
    for corner in corners:
        for place, most in zip(corner, (across, up), strict=True):
            if place is not None and not abs(place) <= most + CLOSE:
                raise NonsenseError(f"{name} reaches {place:g} mm far; no small boat's is beyond {most:g} mm",
                                    "no boat reaches so far")  # fmt: skip


def same_way(before: Sequence[Pair], after: Sequence[Pair]) -> None:
    """Refuse an outline whose corners run the other way around than before: it is turned inside out.

    Raises:
        NonsenseError: it is.
    """
    old, new = known(before), known(after)
    if old and new and area(old) * area(new) < 0:
        raise NonsenseError("outline is turned inside out; its corners run the other way round", "that turns it inside out")


def area(ring: Sequence[tuple[float, float]]) -> float:
    """Return a ring's area [mm2], positive where it runs anticlockwise: the shoelace formula."""
    return sum(ring[i - 1][0] * y - x * ring[i - 1][1] for i, (x, y) in enumerate(ring)) / 2


def plainly_simple(corners: Sequence[tuple[float, float]]) -> bool:
    """Return whether a ring plainly does not cross or touch itself; False where only a closer look can say.

    Plainly: of any two sides without a common corner, one is wholly to one side of the other, by 1e-6 mm or more, or their
    boxes are as far apart. No side runs back along the one before.
    """
    count = len(corners)
    edges = [(*corners[i - 1], *corners[i]) for i in range(count)]
    order = sorted(range(count), key=lambda i: min(edges[i][0], edges[i][2]))  # from port: few are looked at for each
    for place, i in enumerate(order, start=1):
        ax, ay, bx, by = edges[i]
        rx, ry = bx - ax, by - ay
        if abs(rx) + abs(ry) < CLOSE:
            return False
        tx, ty, px, py = edges[i - 1]
        before, aside = (px - tx) * rx + (py - ty) * ry, (px - tx) * ry - (py - ty) * rx
        if before < 0 and abs(aside) <= -CLOSE * before:
            return False
        right, low, high = max(ax, bx) + CLOSE, min(ay, by) - CLOSE, max(ay, by) + CLOSE
        room = CLOSE * math.hypot(rx, ry)
        for number in range(place, count):
            j = order[number]
            cx, cy, dx, dy = edges[j]
            if cx > right and dx > right:
                break
            if (cy < low and dy < low) or (cy > high and dy > high) or (i - j) % count in (1, count - 1):
                continue
            at_c, at_d = rx * (cy - ay) - ry * (cx - ax), rx * (dy - ay) - ry * (dx - ax)
            if (at_c > room and at_d > room) or (at_c < -room and at_d < -room):
                continue
            sx, sy = dx - cx, dy - cy
            far = CLOSE * math.hypot(sx, sy)
            at_a, at_b = sx * (ay - cy) - sy * (ax - cx), sx * (by - cy) - sy * (bx - cx)
            if not ((at_a > far and at_b > far) or (at_a < -far and at_b < -far)):
                return False
    return True


def _is_simple(corners: list[tuple[float, float]]) -> bool:
    from shapely import LinearRing  # a large library, for the few rings that need it

    return len(set(corners)) == len(corners) and bool(LinearRing(corners).is_simple)


def well_line(points: Sequence[Pair]) -> None:
    """Refuse a profile that does not run from port to starboard without doubling back.

    Raises:
        NonsenseError: says where it doubles back.
    """
    if len(points) < 2:
        raise NonsenseError(f"profile has {len(points)} corners; it needs two or more", "a well has two corners or more")
    _of_a_boat(points, "profile", FACE, DEEP)
    corners = known(points)
    if corners is None:
        return
    steps = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(corners, corners[1:], strict=False)]
    for number, (du, dy) in enumerate(steps, start=2):
        if du < -CLOSE or math.hypot(du, dy) < CLOSE:
            raise NonsenseError(f"profile doubles back at corner {number}; list it from port to starboard", BACK)
    for number, (step, following) in enumerate(zip(steps, steps[1:], strict=False), start=2):
        if abs(step[0]) < CLOSE and abs(following[0]) < CLOSE and step[1] * following[1] < 0:
            raise NonsenseError(f"profile doubles back at corner {number}; list it from port to starboard", BACK)
    if corners[-1][0] - corners[0][0] < CLOSE:
        raise NonsenseError("profile has no width; its last corner is to starboard of its first", BACK)
