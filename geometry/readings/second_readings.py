"""Second readings: another way to a size that other readings give too. The boat is solved with all of them together.

Each is kept as a reading alone, and none has to be taken. Lengths [mm].
"""

from __future__ import annotations

from functools import lru_cache, partial
from typing import TYPE_CHECKING

import msgspec

from geometry.design.design import Reading
from geometry.design.validity import SECOND, known
from geometry.readings.measure import Measure, capital, without_reading
from geometry.readings.pilots import hole_of, pilot_readings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design, How
    from geometry.design.validity import Number
    from geometry.readings.measure import Spread

    Point = tuple[float, float]

OUTLINE = f"transom{SECOND}diagonal"
OUTSIDE, CENTRE, DIAGONAL = (f"well{SECOND}{name}" for name in ("outside", "centre", "diagonal"))
WASHER_PORT, WASHER, WASHER_ACROSS = (f"well{SECOND}{name}" for name in ("washer_port", "washer", "washer_across"))
_SLIDE = "Slide a washer down the inside until it rocks, and mark its middle. Measure from the inside top edge to the mark."


def second_readings(design: Design) -> list[Measure]:
    """Return the second readings that can be taken on a boat."""
    made: list[Measure] = []
    if diagonal_corners(design) is not None:
        made.append(_row(OUTLINE, 1, "Outline's diagonal", "tape",
                         "Along the face, from the outline's top corner at port to its low corner at starboard."))
    if design.well is not None and len(design.well.profile) == 4:
        made += [
            _row(OUTSIDE, 3, "Floor depth at port, from outside", "well",
                 "Hold a straightedge square to the face, on the outside top edge. Measure from it down to the floor."),
            _row(CENTRE, 3, "Floor depth at the centreline", "well", "As at port and at starboard, at the centreline."),
            _row(WASHER_PORT, 3, "Washer's middle at port", "washer", _SLIDE, "washer"),
            _row(WASHER, 3, "Washer's middle at starboard", "washer", _SLIDE, "washer"),
            _row(WASHER_ACROSS, 3, "Width of a washer to slide", "calipers", "Across the washer that you slide down inside.",
                 "calliper"),
            _row(DIAGONAL, 3, "Well's diagonal", "well", "From its top corner at port to its floor corner at starboard."),
        ]  # fmt: skip
    made += [
        _row(f"old_holes.{index}{SECOND}inside", 4, f"{capital(hole.name)}, down inside", "well",
             "From the inside top edge down to its centre, along the inside.")
        for index, hole in enumerate(design.old_holes)
    ]  # fmt: skip
    made += [
        _row(bracket_diagonal(index), 5, "Bracket's diagonal", "tape",
             "From the top hole at port to a bolt's highest place at starboard, by their centres.")
        for index, mount in enumerate(design.mounts) if mount.bracket.lower is not None
    ]  # fmt: skip
    return [*made, *_with_lengths(pilot_readings(design))]


def _with_lengths(pilots: list[Measure]) -> Iterator[Measure]:
    """Yield the readings of each pilot: its distance, then the length of its drill in the wood."""
    for row in pilots:
        yield row
        hole = hole_of(row.key)
        yield _row(through_key(row.key), row.section, f"{hole.capitalize()} pilot, length through", "tape",
                   "Push the drill back in until its tip is flush inside. Mark it at the outer face, and measure that length.",
                   "rule")  # fmt: skip


def bracket_diagonal(mount: int) -> str:
    """Return the key of the diagonal of a motor's bracket."""
    return f"mounts.{mount}{SECOND}diagonal"


def through_key(key: str) -> str:
    """Return the key of the length of a pilot's drill in the wood, by the key of the pilot's distance."""
    return key.replace(f"{SECOND}pilot_", f"{SECOND}through_")


def diagonal_corners(design: Design) -> tuple[Point, Point] | None:
    """Return the outline's corners farthest up at port and farthest down at starboard, (u, v); None where one lacks."""
    corners = known(design.transom.outline)
    if not corners:
        return None
    return max(corners, key=lambda at: at[1] - at[0]), max(corners, key=lambda at: at[0] - at[1])


@lru_cache(maxsize=64)
def _row(key: str, section: int, name: str, spread: Spread, how: str, way: How = "tape") -> Measure:
    return Measure(
        key, section, name, how, 1.5, "length", spread, partial(second_value, key), partial(_with_value, key, way), way=way,
        page="measuring#second-readings", empty="not read", second=True,
    )  # fmt: skip


def second_value(key: str, design: Design) -> Number:
    """Return the value of a second reading; None where it was not read."""
    reading = design.readings.get(key)
    return None if reading is None else reading.value


def _with_value(key: str, way: How, design: Design, value: Number) -> Design:
    if value is None:
        return without_reading(design, key)
    fresh = Reading(text="", value=value, from_="centre", how=way, state="measured", spread=None, second=None)
    reading = msgspec.structs.replace(design.readings.get(key, fresh), value=value)
    return msgspec.structs.replace(design, readings={**design.readings, key: reading})
