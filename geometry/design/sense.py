"""What a number or a shape has to satisfy to make sense at all.

A poor choice is a finding; only what no boat can have is refused here. Each refusal is one plain sentence.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shapely import LinearRing

from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Sequence

Number = float | None  # null in a file: not yet measured
Pair = tuple[Number, Number]
Points = tuple[Pair, ...]

LARGEST = 100_000  # [mm, or whatever unit]: no boat is longer than a hundred metres, and nothing else comes near it
CLOSE = 1e-6  # [mm] or degrees: comparisons allow this much


class NonsenseError(OwnerError, ValueError):
    """A value that no boat, motor or bolt can have."""


def above_zero(**values: Number) -> None:
    """Refuse what is known and not above 0.

    Raises:
        NonsenseError: names the value.
    """
    for name, value in values.items():
        if value is not None and not value > 0:
            raise NonsenseError(f"{name} is {value:g}; it has to be above 0")


def not_below_zero(**values: Number) -> None:
    """Refuse what is known and below 0.

    Raises:
        NonsenseError: names the value.
    """
    for name, value in values.items():
        if value is not None and not value >= 0:
            raise NonsenseError(f"{name} is {value:g}; it can't be below 0")


def within(low: float, high: float, **values: Number) -> None:
    """Refuse what is known and not strictly between ``low`` and ``high``.

    Raises:
        NonsenseError: names the value.
    """
    for name, value in values.items():
        if value is not None and not low < value < high:
            raise NonsenseError(f"{name} is {value:g}; it has to lie between {low:g} and {high:g}")


def bore_in_rim(inner: Number, outer: Number) -> None:
    """Refuse a ring whose bore is not inside its rim [mm].

    Raises:
        NonsenseError: bore at or outside the rim.
    """
    above_zero(inner=inner, outer=outer)
    if inner is not None and outer is not None and not inner < outer:
        raise NonsenseError(f"the bore ({inner:g} mm) has to be smaller than the rim ({outer:g} mm)")


def known(points: Sequence[Pair]) -> list[tuple[float, float]] | None:
    """Return the points if every coordinate is measured, else None."""
    found = [(x, y) for x, y in points if x is not None and y is not None]
    return found if len(found) == len(points) else None


def closed_shape(points: Sequence[Pair], name: str) -> None:
    """Refuse an outline that is no outline: fewer than three corners, no area, or crossing itself.

    Raises:
        NonsenseError: says which.
    """
    if len(points) < 3:
        raise NonsenseError(f"{name} has {len(points)} corners; it needs three or more")
    corners = known(points)
    if corners is None:
        return
    if not LinearRing(corners).is_simple or len(set(corners)) < len(corners):
        raise NonsenseError(f"{name} crosses itself; list its corners once, in order round the shape")
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, corners[1:] + corners[:1], strict=True)) / 2
    if abs(area) < CLOSE:
        raise NonsenseError(f"{name} has no area; its corners lie in one line")


def well_line(points: Sequence[Pair]) -> None:
    """Refuse a profile that does not run from port to starboard without doubling back.

    Raises:
        NonsenseError: says where it doubles back.
    """
    if len(points) < 2:
        raise NonsenseError(f"profile has {len(points)} corners; it needs two or more")
    corners = known(points)
    if corners is None:
        return
    steps = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(corners, corners[1:], strict=False)]
    for number, (du, dy) in enumerate(steps, start=2):
        if du < -CLOSE or math.hypot(du, dy) < CLOSE:
            raise NonsenseError(f"profile doubles back at corner {number}; list it from port to starboard")
    for number, (one, two) in enumerate(zip(steps, steps[1:], strict=False), start=2):
        if abs(one[0]) < CLOSE and abs(two[0]) < CLOSE and one[1] * two[1] < 0:
            raise NonsenseError(f"profile doubles back at corner {number}; list it from port to starboard")
    if corners[-1][0] - corners[0][0] < CLOSE:
        raise NonsenseError("profile has no width; its last corner lies to starboard of its first")
