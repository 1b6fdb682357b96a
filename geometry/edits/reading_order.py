"""The readings that decide the lower holes, and the order in which guesses are measured: answer, slip and sheet share it."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.edits.confirm_or_buy import parts, pattern
from geometry.readings.measures import measure

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from geometry.design.design import Design
    from geometry.design.motor import Mount

FLOORS = ("well.floor_port", "well.floor_starboard")
FIRST = (*FLOORS, "well.fillet_radius", "transom.top_cut", "transom.rake")
"""The five readings that decide the lower holes where the well has one flat floor, in the order in which they are asked for."""
_UPPER_FIRST = ("transom.thickness.top",)  # the lower thickness alone would make the faces lean
_HALF_WASHER = 25.4  # [mm]: no washer of a transom bolt reaches further from its middle, our assumption


def deciding_readings(design: Design) -> tuple[str, ...]:
    """Return the keys of the readings that decide the lower holes, in the order in which they are asked for.

    A floor of several pieces has no depths at port and starboard. Its corners under the lower bolts have them in their place.
    """
    floor = FLOORS if measure(design, FLOORS[0]) is not None else _floor_corners(design)
    return tuple(key for key in (*floor, *FIRST[len(FLOORS) :]) if measure(design, key) is not None)


def _floor_corners(design: Design) -> tuple[str, ...]:
    """Return the keys of the depths of the floor's corners that decide a lower washer's place, from port to starboard.

    They are the ends of each piece of floor under a washer. Where places are not known, they are all.
    """
    profile = () if design.well is None else design.well.profile
    inner: Sequence[int] = range(1, len(profile) - 1)
    across, spans = [u for u, _ in profile if u is not None], [span for mount in design.mounts for span in _spans(mount)]
    if spans and len(across) == len(profile):
        pieces = [at for at, (port, starboard) in enumerate(pairwise(across))
                  if any(port < high and starboard > low for low, high in spans)]  # fmt: skip
        inner = [at for at in inner if at in pieces or at - 1 in pieces]
    return tuple(f"well.profile.{at}.1" for at in inner)


def _spans(mount: Mount) -> Iterator[tuple[float, float]]:
    """Yield how far the lower washers reach across [mm]; nothing without a place."""
    lower = mount.bracket.lower
    if lower is not None and mount.offset is not None and lower.half_spacing is not None:
        for side in (-1, 1):
            middle = mount.offset + side * lower.half_spacing
            yield middle - _HALF_WASHER, middle + _HALF_WASHER


def in_order(design: Design, keys: Iterable[str]) -> list[str]:
    """Return the keys of readings in the order in which they are taken; those that no rule orders stay as they are.

    First come those that decide the lower holes, then the brackets' patterns, the parts, and the rest.
    """
    bolted = [index for index, mount in enumerate(design.mounts) if mount.bracket.rows is not None]
    rows = [row for index in bolted for row in pattern(design, index)]
    rows += [row for index in bolted for pair in ("lower", "upper") for row in parts(design, index, pair)]
    turns = [*deciding_readings(design), *(row.key for row in rows), *_UPPER_FIRST]
    places = {key: place for place, key in reversed(list(enumerate(turns)))}
    return sorted(keys, key=lambda key: places.get(key, len(turns)))
