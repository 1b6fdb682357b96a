"""Check of second readings: each against what the other readings give. Beyond three spreads they contradict each other.

A spread is the root sum of squares over the readings behind both. A check that rests on a contradiction is not made until
it is settled. Three spreads are our assumption. Lengths [mm], angles [degrees].
"""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.boat_measures import floor_depth
from geometry.design.measures import measure, name_of, put_path
from geometry.design.reading_spreads import wide_spread_of
from geometry.design.second_readings import CENTRE, DIAGONAL, OUTSIDE, WASHER, WASHER_ACROSS, second_value
from geometry.design.units import format_clearance, format_reading
from geometry.design.validity import CLOSE, SECOND, NonsenseError
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import Finding
from geometry.judge.report import spoken
from geometry.solid.faces import Unmeasured, exit_of, faces, need, need_all, profile_up
from geometry.solid.well import space

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from geometry.design.design import Design
    from geometry.design.measures import Measure
    from geometry.solid.faces import Faces

SPREADS = 3.0
"""Two readings that are further apart than so many spreads contradict each other: our assumption."""
_FLOOR = 2  # the floor among the edges of a well of four corners
_SHARE = 1e-3  # of a spread: the step of a derivative
_PORT, _STARBOARD, _RADIUS, _RISE = "well.floor_port", "well.floor_starboard", "well.fillet_radius", "well.floor_rise"
_CUT, _RAKE = "transom.top_cut", "transom.rake"
_THICK = tuple(f"transom.thickness.{field}" for field in ("top", "low", "low_at"))
_EDGE = (_RAKE, _CUT, *_THICK)


class Comparison(msgspec.Struct, frozen=True):
    """A second reading, and the readings that give the same size.

    Attributes:
        key: of the second reading. first: of the reading that it is mainly compared with.
        rests: of all readings behind the expected size. expect: that size.
        settle: what would settle a contradiction, in one or two sentences.
    """

    key: str
    first: str
    rests: tuple[str, ...]
    expect: Callable[[Design], float]
    settle: str


class Contradiction(msgspec.Struct, frozen=True):
    """Two readings that contradict each other: their keys, all keys behind them, and what to say and to do."""

    key: str
    first: str
    keys: tuple[str, ...]
    text: str
    settle: str


def contradictions(design: Design) -> tuple[Contradiction, ...]:
    """Return the contradictions among a design's readings."""
    if not any(SECOND in key for key in design.readings):
        return ()
    judged = (_judged(design, comparison) for comparison in _comparisons(design))
    return tuple(each for each in judged if each is not None)


def contradicted(design: Design, found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings, those that rest on a contradiction not checked, and one finding for each contradiction."""
    clashes = contradictions(design)
    if not clashes:
        return tuple(found)
    doubted = (_doubted(design, finding, clashes) for finding in found)
    return (*doubted, *(_finding(design, clash) for clash in clashes))


def _doubted(design: Design, finding: Finding, clashes: tuple[Contradiction, ...]) -> Finding:
    clash = next((each for each in clashes if any(key.startswith(finding.rests) for key in each.keys)), None)
    if clash is None or finding.state == "note":
        return finding
    one, other = name_of(design, clash.first), name_of(design, clash.key)
    checked = f"The {CHECK_KINDS[finding.check].noun} of {spoken(finding.at)} is not checked"
    text = f"{checked}: {one} and {other} contradict each other."
    return replace(finding, value=None, state="unknown", text=text, remedy=clash.settle, missing=clash.key, against="")


def _finding(design: Design, clash: Contradiction) -> Finding:
    parts = clash.key.split(".")
    mounts = (int(parts[1]),) if parts[0] == "mounts" else ()
    whose = design.mounts[mounts[0]].name if mounts else "boat"
    return Finding(
        "reading", f"{whose} / {name_of(design, clash.key)}", None, None, None, "", "unknown", clash.text, clash.settle,
        rests=clash.keys, mounts=mounts,
    )  # fmt: skip


def _judged(design: Design, comparison: Comparison) -> Contradiction | None:
    """Return the contradiction of a second reading; None where it agrees, or a reading is not known."""
    row = measure(design, comparison.key)
    read = None if row is None else row.get(design)
    if row is None or read is None:
        return None
    try:
        expected = comparison.expect(design)
    except Unmeasured:
        return None
    shares = {key: _share(design, comparison, key, expected) for key in comparison.rests}
    spread = math.hypot(wide_spread_of(design, row), *shares.values())
    apart = abs(read - expected)
    if apart <= SPREADS * spread + CLOSE:
        return None
    behind = tuple(key for key, share in shares.items() if abs(share) > CLOSE or key == comparison.first)
    here, there, between = (format_reading(size, design.units) for size in (read, expected, apart))
    most = format_clearance(SPREADS * spread, design.units)
    text = (
        f"{row.name} is {here}. By {name_of(design, comparison.first)} and the readings with it, it is {there}. "
        f"They are {between} apart, and such readings agree within {most} (our assumption: three spreads)."
    )
    return Contradiction(row.key, comparison.first, (row.key, *behind), text, comparison.settle)


def _share(design: Design, comparison: Comparison, key: str, expected: float) -> float:
    """Return by how much one spread of a reading moves the expected size."""
    row = measure(design, key)
    if row is None:
        return 0.0
    if key == _CUT and isinstance(design.transom.top_cut, str):
        return _share_of_cut(design, comparison)
    value, spread = row.get(design), wide_spread_of(design, row)
    if value is None or spread == 0:
        return 0.0
    for step in (_SHARE * spread, -_SHARE * spread):  # a size at the end of what is possible moves one way only
        moved = _expected(comparison, row, design, value + step)
        if moved is not None:
            return (moved - expected) / step * spread
    return 0.0


def _share_of_cut(design: Design, comparison: Comparison) -> float:
    """Return half of what a guess of the top cut by a word can be off: square or level."""
    reading = design.readings.get(_CUT)
    if reading is None or reading.state != "guess":
        return 0.0
    try:
        square, level = (comparison.expect(put_path(design, _CUT, word)) for word in ("square", "level"))
    except (NonsenseError, Unmeasured):  # without a rake nobody knows a level cut
        return math.inf
    return (level - square) / 2


def _expected(comparison: Comparison, row: Measure, design: Design, value: float) -> float | None:
    try:
        return comparison.expect(row.set(design, value))
    except (NonsenseError, Unmeasured):
        return None


def _comparisons(design: Design) -> Iterator[Comparison]:
    if design.well is not None:
        edge = _EDGE if design.well.well_from == "inside top edge" else ()
        below = _EDGE if design.well.well_from == "datum" else ()
        yield Comparison(
            OUTSIDE, _PORT, (_PORT, *edge), _from_outside,
            "Read both depths at port again. Then read the rake, the thickness and the top cut again.",
        )  # fmt: skip
        yield Comparison(
            CENTRE, _PORT, (_PORT, _STARBOARD), _at_centre, "Read all three depths of the floor again.",
        )  # fmt: skip
        yield Comparison(
            WASHER, _STARBOARD, (_STARBOARD, _RADIUS, _RISE, _RAKE, *_THICK, WASHER_ACROSS, *below), _washer_down,
            "Read the floor depth at starboard and the washer’s middle again. Then read the corner radius again.",
        )  # fmt: skip
        yield Comparison(
            DIAGONAL, "well.floor_width", ("well.floor_width", "well.top_width", _PORT, _STARBOARD), _across_well,
            "Read both widths and the diagonal of the well again.",
        )  # fmt: skip
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
            yield Comparison(
                f"mounts.{index}{SECOND}diagonal", upper, (upper, lower, slot), partial(_across_bracket, index),
                "Read the diagonal and both half spacings again, then the slot’s highest place.",
            )  # fmt: skip


def _floor_up(design: Design, face: Faces) -> float:
    """Return the height to add to a floor's height in its own frame for its w."""
    return 0.0 if design.well is None else profile_up(face, design.well)


def _from_outside(design: Design) -> float:
    """Return the floor's depth at port below a line square to the face on the outside top edge."""
    return need(floor_depth(design, -1), _PORT) - _floor_up(design, faces(design.transom))


def _at_centre(design: Design) -> float:
    """Return the floor's depth at the centreline, on the line through its corners."""
    (ua, ya), (ub, yb) = _floor_corners(design)
    return -(ya - (yb - ya) * ua / (ub - ua))


def _washer_down(design: Design) -> float:
    """Return the depth of a washer's middle below the inside top edge, where it rocks on the rounded corner at starboard."""
    _floor_corners(design)
    face, floor = faces(design.transom), space(design).edges[_FLOOR]
    radius = need(second_value(WASHER_ACROSS, design), WASHER_ACROSS) / 2
    down = need(floor_depth(design, 1), _STARBOARD) - _floor_up(design, face)
    return face.edge_w + down - (floor.land + radius) / floor.normal_w


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
