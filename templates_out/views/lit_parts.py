"""The parts of a view that an entry is about. They are lit in a view that has no dimension of the entry.

A part is named as marks name it (`Mark.part`). In the tables, "*" means any words, and "@" means port and starboard.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from fnmatch import fnmatchcase, translate
from functools import lru_cache

from geometry.design.design import Design
from geometry.design.validity import known
from templates_out.drawing.marks import Mark, Text

_OF_HOLE = re.compile(r"(?:second\.(?:pilot|through)_|drilled\.)(upper|lower)_(port|starboard)\b")

_HARDWARE: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("washer.*", ("washer",)), ("outside_washer.*", ("outside washer",)), ("length", ("bolt", "thread_end")),
    ("hole", ("hole",)), ("socket.*", ("socket",)), ("spanner.*", ("spanner", "socket", "nut")), ("wedge", ("washer",)),
    ("backing_plate.*", ("plate",)), ("spacer.*", ("spacer",)), ("head_sizes.*", ("head",)), ("nut_sizes.*", ("nut",)),
    ("torque", ("nut",)), ("running_torque", ("nut",)), ("friction.*", ("nut",)),
)  # fmt: skip
"""The parts of a bolt by the fields of its hardware."""

_MOTOR: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("bracket.rows.diameter", ("upper @ hole",)), ("bracket.lower.diameter", ("lower @ hole",)),
    ("bracket.rows.half_spacing", ("upper @ hole",)), ("bracket.lower.half_spacing", ("lower @ hole",)),
    ("bracket.room_aft.upper", ("upper @ head",)), ("bracket.room_aft.lower", ("lower @ head",)),
    ("upper_tilt", ("upper @ axis", "upper @ bolt")), ("lower_tilt", ("lower @ axis", "lower @ bolt")),
    ("second.diagonal", ("upper @ hole", "lower @ hole")),
    ("tilt.*", ("sweep", "bracket")), ("cowl_half_width", ("bracket",)),
    *((field, ("bracket",)) for field in (
        "bracket.outline", "bracket.rows.count", "bracket.rows.pad_thickness", "bracket.lower.pad_thickness", "offset",
        "row", "set_back", "leg", "centre_aft", "thrust", "mass", "shock",
    )),
)  # fmt: skip
"""The parts of a motor's pattern and bracket by the motor's fields. Loads come in at the bracket."""

_BOAT: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("transom.outline", ("outline edge *",)), ("transom.second.diagonal", ("outline edge *",)),
    ("transom.top_cut", ("inside top edge", "transom")), ("transom.skin_outside", ("skin outside",)),
    ("transom.skin_inside", ("skin inside",)), ("transom.core_bears", ("skin *",)),
    ("boat.transom_width", ("outline edge *",)), ("boat.afloat.top_edge", ("outline edge *",)),
    ("well.profile*", ("profile edge *",)), ("well.second.diagonal", ("profile edge *",)),
    ("well.front_*", ("well front",)),
    ("well.second.washer*", ("flat land", "well floor")), ("well.second.*", ("well floor",)),
)  # fmt: skip

_CHECKS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("clearance", ("* washer:*", "* nut:*")), ("edge_diameters", ("outline edge *",)), ("top_edge", ("outline edge *",)),
    ("wood_between_diameters", ("old hole *", "* hole:*")), ("plug_wall", ("old hole *",)), ("seat_angle", ("* washer:*",)),
    ("slot_end", ("bracket:*",)), ("socket_room", ("* socket:*",)), ("feed", ("* bolt:*",)),
    ("outer_washer", ("* outside washer:*",)), ("motors", ("bracket:*",)), ("tilt_room", ("bracket:*",)),
    ("lock_room", ("bracket:*",)), ("washer_stiff", ("* washer:*",)), ("clamp", ("* nut:*",)), ("pressure", ("* washer:*",)),
    ("joint", ("bracket:*",)),
)  # fmt: skip
"""The parts that a limit is about."""

_ASSUMED: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("settling", ("* nut:*",)), ("drag_share", ("* nut:*",)), ("epoxy", ("* hole:*",)), ("spread_angle", ("* washer:*",)),
    ("nut_bearing", ("* nut:*",)), ("washer_spread", ("* washer:*",)), ("wide_swing", ("* nut:*",)), ("*", ("bracket:*",)),
)  # fmt: skip

_SPREADS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("tape", ("datum", "centreline")), ("well", ("profile edge *", "well floor", "inside top edge", "inner face")),
    ("rake", ("transom",)),
    ("washer", ("* washer:*",)), ("*", ("* hole:*",)),
)  # fmt: skip
"""The parts whose places an error moves: a tape's is counted from the top edge and the centreline."""


def lit_parts(design: Design, key: str) -> tuple[str, ...]:
    """Return the parts that the entry ``key`` is about; none for a figure of the boat's papers."""
    group, _, field = key.partition(".")
    match group:
        case "mounts":
            index, _, field = field.partition(".")
            every = (part.replace("@", side) for part in _of_motor(field) for side in ("port", "starboard"))
            return tuple(dict.fromkeys(f"{part}:{index}" for part in every))
        case "old_holes":
            return (f"old hole {field.partition('.')[0]}",)
        case "inside_blocks":
            return (f"block {field.partition('.')[0]}",)
        case "outside_fittings":
            return (f"fitting {field.partition('.')[0]}",)
        case "limits":
            return _first(_CHECKS, field.partition(".")[0])
        case "assumptions":
            return _first(_ASSUMED, field)
        case "spreads":
            return _first(_SPREADS, field)
        case _:
            return _bottom(design) if key == "transom.deadrise" else _first(_BOAT, key)


def has_figure(marks: Iterable[Mark], key: str) -> bool:
    """Return whether a view's marks have the figure of the entry ``key``: then that is lit."""
    return any(isinstance(mark, Text) and mark.part == f"measure:{key}" for mark in marks)


@lru_cache(maxsize=16)
def is_one_of(parts: tuple[str, ...]) -> Callable[[str], object]:
    """Return what says whether a mark's name is that of one of ``parts``."""
    return re.compile("|".join(map(translate, parts)) or r"\Z.").match


def _of_motor(field: str) -> tuple[str, ...]:
    if hole := _OF_HOLE.match(field):
        return (f"{hole[1]} {hole[2]} hole",)
    pair, _, of_bolt = field.partition("_hardware.")
    if of_bolt:
        return tuple(f"{pair} @ {part}" for part in _first(_HARDWARE, of_bolt))
    return _first(_MOTOR, field)


def _bottom(design: Design) -> tuple[str, ...]:
    """Return the two edges that meet at the lowest corner: the slope of the hull's bottom."""
    corners = known(design.transom.outline)
    if not corners:
        return ()
    lowest = min(range(len(corners)), key=lambda at: corners[at][1])
    return tuple(f"outline edge {edge % len(corners)}" for edge in (lowest - 1, lowest))


def _first(table: tuple[tuple[str, tuple[str, ...]], ...], name: str) -> tuple[str, ...]:
    return next((parts for pattern, parts in table if fnmatchcase(name, pattern)), ())
