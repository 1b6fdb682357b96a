"""Second readings, each with what it should be by the other readings: the same size, read in two ways. Lengths [mm]."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import CLOSE, SECOND
from geometry.readings.boat_measures import floor_depth
from geometry.readings.pilots import end_words, has_place, pilot_key, pilot_of, planned
from geometry.readings.second_readings import (
    CENTRE,
    DIAGONAL,
    OUTLINE,
    OUTSIDE,
    WASHER,
    WASHER_ACROSS,
    WASHER_PORT,
    bracket_diagonal,
    diagonal_corners,
    second_value,
    through_key,
)
from geometry.solid.faces import Unmeasured, exit_of, faces, need, need_all, profile_up
from geometry.solid.well import space
from geometry.solving.pilot_distances import pilot_distance, washer_mark

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design, Pilot
    from geometry.solid.faces import Faces

PORT, STARBOARD, RADIUS, RISE = "well.floor_port", "well.floor_starboard", "well.fillet_radius", "well.floor_rise"
CUT, RAKE = "transom.top_cut", "transom.rake"
THICK = tuple(f"transom.thickness.{field}" for field in ("top", "low", "low_at"))
_EDGE = (RAKE, CUT, *THICK)
_MOST_APART = 6.0  # [mm]: a pilot's distance that is further off is read again, even within three spreads; our assumption


class Comparison(msgspec.Struct, frozen=True):
    """A second reading, and the readings that give the same size.

    Attributes:
        key: of the second reading. first: of the reading that it is mainly compared with.
        rests: of all readings behind the expected size. expect: that size.
        settle: what would settle a contradiction, in one or two sentences.
        solves: whether the boat is solved with it; a bracket is only compared.
        pilot: the number of its pilot, None for another reading. most: the most that both may be apart, even within three
            spreads [mm].
        hides: readings of which a slip of a quarter of an inch may stay within three spreads.
    """

    key: str
    first: str
    rests: tuple[str, ...]
    expect: Callable[[Design], float]
    settle: str
    solves: bool = True
    pilot: int | None = None
    most: float = math.inf
    hides: tuple[str, ...] = ()


def comparisons(design: Design) -> tuple[Comparison, ...]:
    """Return the second readings that were taken, with what each should be."""
    if not design.pilots and not any(SECOND in key for key in design.readings):
        return ()
    return (*(each for each in _every(design) if each.key in design.readings), *_of_pilots(design))


def _every(design: Design) -> Iterator[Comparison]:
    yield Comparison(
        OUTLINE, "transom.outline", ("transom.outline",), _across_outline,
        "Read the outline's diagonal again. Then read its corners again.", solves=False,
    )  # fmt: skip
    if design.well is not None and len(design.well.profile) == _CORNERS:
        yield from _of_well(design.well.well_from == "datum")
    for index, _ in enumerate(design.old_holes):
        down = f"old_holes.{index}.down"
        yield Comparison(
            f"old_holes.{index}{SECOND}inside", down, (down, *_EDGE), partial(_down_inside, index),
            "Read the hole’s depth on both faces again. Then read the rake, the thickness and the top cut again.",
        )  # fmt: skip
    for index, mount in enumerate(design.mounts):
        if mount.bracket.rows is not None:
            start = f"mounts.{index}.bracket."
            upper, lower, slot = f"{start}rows.half_spacing", f"{start}lower.half_spacing", f"{start}lower.slots.0.0"
            yield from _of_lengths(index)
            yield Comparison(
                bracket_diagonal(index), upper, (upper, lower, slot), partial(_across_bracket, index),
                "Read the diagonal and both half spacings again, then the slot’s highest place.", solves=False,
                hides=(slot,),
            )  # fmt: skip


def _of_lengths(index: int) -> Iterator[Comparison]:
    """Yield the lengths of a motor's pilot drills in the wood: they are read off the drill, and give the thickness."""
    for hole in (f"{pair} {side}" for pair in ("lower", "upper") for side in ("port", "starboard")):
        yield Comparison(
            through_key(pilot_key(index, hole)), THICK[1 if hole.startswith("lower") else 0], (RAKE, *THICK),
            partial(_through, index, hole),
            "Push the drill in and read its length again. Then read the thickness at the top and lower down again.",
        )  # fmt: skip


_CORNERS = 4  # of a well with one floor


def _of_well(from_datum: bool) -> Iterator[Comparison]:
    edge, below = ((), _EDGE) if from_datum else (_EDGE, ())
    yield Comparison(
        OUTSIDE, PORT, (PORT, *edge), _from_outside,
        "Read both depths at port again. Then read the rake, the thickness and the top cut again.",
    )  # fmt: skip
    yield Comparison(CENTRE, PORT, (PORT, STARBOARD), _at_centre, "Read all three depths of the floor again.")
    for key, first, side, name in ((WASHER_PORT, PORT, -1, "port"), (WASHER, STARBOARD, 1, "starboard")):
        rests = tuple(dict.fromkeys((first, RADIUS, RISE, RAKE, *THICK, WASHER_ACROSS, *below)))
        yield Comparison(
            key, first, rests, partial(_washer_down, side),
            f"Read the floor depth at {name} and the washer’s middle again. Then read the corner radius again.",
        )  # fmt: skip
    yield Comparison(
        DIAGONAL, "well.floor_width", ("well.floor_width", "well.top_width", PORT, STARBOARD), _across_well,
        "Read both widths and the diagonal of the well again.",
    )  # fmt: skip


def _of_pilots(design: Design) -> Iterator[Comparison]:
    for index, pilot in enumerate(design.pilots):
        if pilot.value is not None:
            key, rests = pilot_key(pilot.mount, pilot.hole), _behind(design, pilot)
            read = design.readings.get(key)
            settle = f"Read it once more, without a look at the first figure: from the pilot to {end_words(pilot.to)}."
            if read is not None and read.second is not None:
                settle = "Stop. Take the floor from the pilot, or fill the pilot and measure the boat again."
            yield Comparison(key, rests[0], rests, partial(pilot_distance, index), settle, pilot=index, most=_MOST_APART)


def _behind(design: Design, pilot: Pilot) -> tuple[str, ...]:
    """Return the keys of the readings that a pilot's distance rests on, the main one first."""
    one_floor = design.well is not None and len(design.well.profile) == _CORNERS
    sides = (PORT, STARBOARD) if pilot.side == "port" else (STARBOARD, PORT)
    floor = sides if one_floor else ("well.profile",)
    match pilot.to:
        case "washer mark":
            return (*floor, RADIUS, RISE, *_EDGE)
        case "floor":
            return (*floor, *_EDGE)
        case "wall":
            return (*(("well.top_width", "well.floor_width") if one_floor else ()), *floor, *_EDGE)
        case "old hole":
            return (*(f"old_holes.{at}.{way}" for at in range(len(design.old_holes)) for way in ("across", "down")), *_EDGE)
        case "block":
            return (*(f"inside_blocks.{at}.outline" for at in range(len(design.inside_blocks))), *_EDGE)


def _floor_up(design: Design, face: Faces) -> float:
    """Return the height to add to a floor's height in its own frame for its w."""
    return 0.0 if design.well is None else profile_up(face, design.well)


def _from_outside(design: Design) -> float:
    """Return the floor's depth at port below a line square to the face on the outside top edge."""
    return need(floor_depth(design, -1), PORT) - _floor_up(design, faces(design.transom))


def _at_centre(design: Design) -> float:
    """Return the floor's depth at the centreline, on the line through its corners."""
    (ua, ya), (ub, yb) = _floor_corners(design)
    return -(ya - (yb - ya) * ua / (ub - ua))


def _washer_down(side: int, design: Design) -> float:
    """Return the depth of a washer's middle below the inside top edge, where it rocks on the rounded corner at one side."""
    _floor_corners(design)
    across = need(second_value(WASHER_ACROSS, design), WASHER_ACROSS)
    down = need(floor_depth(design, side), PORT if side < 0 else STARBOARD)
    face = faces(design.transom)
    return face.edge_w - washer_mark(space(design), _floor_up(design, face) - down, across)


def _through(index: int, hole: str, design: Design) -> float:
    """Return the length of a hole through the transom along its axis, at its pilot or else at its planned place."""
    pilot = pilot_of(design, index, hole)
    if pilot is None and not has_place(design, index, hole):
        raise Unmeasured(f"mounts.{index}.upper_at")
    place = planned(design, index, hole) if pilot is None else (*pilot.at, pilot.tilt)
    return exit_of(faces(design.transom), *place).along


def _across_outline(design: Design) -> float:
    corners = diagonal_corners(design)
    if corners is None:
        raise Unmeasured("transom.outline")
    return math.dist(*corners)


def _across_well(design: Design) -> float:
    corners = _corners(design)
    return math.dist(corners[0], corners[2])


def _down_inside(index: int, design: Design) -> float:
    """Return the depth of an old hole's exit below the inside top edge; it is square to the outer face."""
    face, (u, v) = faces(design.transom), design.old_holes[index].at
    key = f"old_holes.{index}"
    return face.edge_w - exit_of(face, need(u, f"{key}.across"), need(v, f"{key}.down"), 0.0).w


def _across_bracket(index: int, design: Design) -> float:
    rows, lower = design.mounts[index].bracket.rows, design.mounts[index].bracket.lower
    if rows is None or lower is None:
        raise Unmeasured(f"mounts.{index}.bracket")
    return math.hypot(rows.half_spacing + lower.half_spacing, lower.slots[0][0])


def _floor_corners(design: Design) -> list[tuple[float, float]]:
    """Return the floor's corners.

    Raises:
        Unmeasured: they are not known, or one is above the other.
    """
    ends = _corners(design)[1:3]
    if ends[1][0] - ends[0][0] < CLOSE:
        raise Unmeasured("well.floor_width")
    return ends


def _corners(design: Design) -> list[tuple[float, float]]:
    return need_all(() if design.well is None else design.well.profile, "well.profile")
