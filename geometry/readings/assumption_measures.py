"""The measures of what the checks count with: limits, spreads and assumptions, each with its usual value and its source.

They are decisions of the owner, never guesses. An emptied one gets its usual value back. Units as in `geometry.design.design`.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from geometry.readings.measure import Kind, Measure, at_path, capital, put_path
from geometry.tables.known import origin
from geometry.tables.trade import (
    ASSUMPTIONS,
    DEFAULT_LIMITS,
    FIRST_CLEARANCE,
    METRIC_LIMITS,
    SPREADS,
    UsualValue,
)

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.validity import Number

SECTION = 9
GROUPS = ("assumptions.", "limits.", "spreads.")
"""The keys of these measures begin with one of these."""
OWNER = "set by the owner"
_ENDS = ("limit", "advised")
_OFF = "One reading in three is off by more."
_PAGE = "sources#change-them"

_OF_LIMITS: dict[str, tuple[Kind, str, str]] = {
    "clearance": ("length", "Clearance", "Room around washers, nuts, sockets and thread ends."),
    "edge_diameters": ("diameters", "Wood to an edge", "From a hole’s centre to the nearest edge, in bolt diameters."),
    "wood_between_diameters": ("diameters", "Wood between holes", "Between a new hole and an old one, in bolt diameters."),
    "seat_angle": ("angle", "Seat angle", "Between a washer and the face under it. Less is better."),
    "slot_end": ("length", "Slot end", "From a lower bolt to the end of its slot."),
    "top_edge": ("length", "Top edge", "From a hole’s centre up to the outer top edge."),
    "socket_room": ("length", "Room in front of a socket", "Along the bolt, to get the socket off again."),
    "feed": ("length", "Room to insert a bolt", "More than the bolt and a hand need where the bolt goes in."),
    "outer_washer": ("share", "Outer washer", "Its width, as a part of the width of the slot or hole under it."),
    "motors": ("length", "Gap between motors", "Between two brackets, and between two cowls."),
    "tilt_room": ("length", "Room to tilt", "Between a tilted motor and the front of the well."),
    "lock_room": ("length", "Room to turn", "Between a turned motor and the side of the well, or the next motor."),
    "plug_wall": ("length", "Wall of a plug", "Of a plug around a new hole, or of wood between a plug and a new hole."),
    "washer_stiff": ("share", "Washer stiffness", "A washer’s thickness, as a part of an eighth of its width."),
    "clamp": ("share", "Clamp", "The clamp on a bolt, as a part of its proof load. Less is better."),
    "pressure": ("share", "Pressure on the core", "As a part of what the core supports. Less is better."),
    "joint": ("share", "Pull on the bolts", "As a part of the clamp that stays. Less is better."),
}
_OF_SPREADS: dict[str, tuple[Kind, str]] = {
    "tape": ("length", f"A length, read with a tape or a rule. {_OFF}"),
    "well": ("length", f"A length in the well, or of a block. {_OFF}"),
    "rake": ("angle", f"An angle, read with a level. {_OFF}"),
    "print": ("length", "How far a mark of the printed template is off. One in three is off by more."),
    "mark": ("length", "How far a marked centre is off. One in three is off by more."),
    "drill_angle": ("angle", "How far a drilled hole leans. One in three leans by more."),
    "washer": ("length", f"The middle of a washer, marked where it rocks, and a distance from a pilot. {_OFF}"),
    "freehand": ("length", f"A hole drilled freehand, in a hurry, across and up. {_OFF}"),
    "punched": ("length", f"A hole drilled with care from a punched dot, across and up. {_OFF}"),
    "block": ("length", f"A hole drilled with a guide block, across and up. {_OFF}"),
    "jig": ("length", f"A hole drilled through the bracket, from the bracket’s own hole. {_OFF}"),
}
_OF_ASSUMPTIONS: dict[str, tuple[Kind, str]] = {
    "thrust_share": ("share", "The part of its power that a motor gives to the water. It counts where no thrust is entered."),
    "reverse_share": ("share", "The thrust in reverse, as a part of the thrust ahead."),
    "settling": ("share", "The part of the clamp that is lost once wood and washers have settled."),
    "drag_share": ("share", "The part of a lock nut’s highest published drag that counts. A measured drag comes first."),
    "shaft_depth": ("length", "From the AV plate down to the propeller’s shaft."),
    "centre_aft": ("length", "From the bracket aft to a motor’s balance point. It counts where none is entered."),
    "reverse_edge": ("length", "In reverse the bracket tips about an edge. It is so far below the transom’s top."),
    "epoxy": ("pressure", "The pressure that cured epoxy in a filled hole supports under a washer."),
    "spread_angle": ("angle", "From the bolt’s axis. Skin and backing plate spread the load of a washer so wide."),
    "nut_bearing": ("share", "The part of a nut’s width across its flats that presses on its washer."),
    "washer_spread": ("share", "A washer that bends presses wider than its nut, by so many times its thickness."),
    "wide_swing": ("angle", "How far a wrench should turn on a nut. The swing that it needs comes first, where it is more."),
    "motor_centres": ("length", "From the middle of a motor to that of the next. Nearer ones are a note."),
    "large_centres": ("length", "The same where one of the motors has more than 150 hp (112 kW)."),
}


@cache
def rows() -> tuple[Measure, ...]:
    """Return the measures: loads, then limits, then spreads. They are the same on every boat."""
    return (
        *(_row(f"assumptions.{name}", kind, ASSUMPTIONS[name].name, how) for name, (kind, how) in _OF_ASSUMPTIONS.items()),
        *(_row(f"limits.{name}.{at}", kind, f"{title}, {end}", how)
          for name, (kind, title, how) in _OF_LIMITS.items() for at, end in enumerate(_ENDS)),
        *(_row(f"spreads.{name}", kind, SPREADS[name].name, how) for name, (kind, how) in _OF_SPREADS.items()),
    )  # fmt: skip


def of_assumptions(_: Design) -> tuple[Measure, ...]:
    """Return the measures of a design's limits, spreads and assumptions."""
    return rows()


def usual(design: Design, key: str) -> float:
    """Return the value of a new boat in the design's unit."""
    if not key.startswith("limits."):
        return _record(key).value
    name, at = _limit(key)
    if name in METRIC_LIMITS and design.units == "mm":
        return METRIC_LIMITS[name][at]
    limit = DEFAULT_LIMITS[name]
    return (limit.least, limit.advised)[at]


def is_usual(design: Design, key: str) -> bool:
    """Return whether a value is that of a new boat, in either unit, or of a file of number 1. Allows 1e-6."""
    value, known = at_path(design, key), {usual(design, key)}
    name, at = _limit(key) if key.startswith("limits.") else ("", 0)
    if name in METRIC_LIMITS:
        limit = DEFAULT_LIMITS[name]
        known |= {(limit.least, limit.advised)[at], METRIC_LIMITS[name][at]}
    if name == "clearance":
        known.add(FIRST_CLEARANCE[at])
    return any(abs(value - each) <= 1e-6 for each in known)


def source_of(design: Design, key: str) -> str:
    """Return where a value is from, as the tables say it; `OWNER` where the owner changed it."""
    return _source(key) if is_usual(design, key) else OWNER


def origin_words(key: str) -> str:
    """Say where the usual value is from, for the owner: "our assumption", "from the standard (NDS ...)"."""
    return origin(_source(key))


def changed(design: Design) -> tuple[str, ...]:
    """Return the keys of what the owner changed; a limit has one key for both its ends."""
    return tuple(dict.fromkeys(whole(row.key) for row in rows() if not is_usual(design, row.key)))


def whole(key: str) -> str:
    """Return the key of what is changed back as one: "limits.clearance" for both ends of that limit."""
    return key.rpartition(".")[0] if key.startswith("limits.") else key


def with_usual(design: Design, keys: tuple[str, ...]) -> Design:
    """Return ``design`` with the usual values at some keys of `changed`."""
    for key in keys:
        pair = key.startswith("limits.")
        put = tuple(usual(design, f"{key}.{at}") for at in range(len(_ENDS))) if pair else usual(design, key)
        design = put_path(design, key, put)
    return design


def _row(key: str, kind: Kind, name: str, how: str) -> Measure:
    def get(design: Design) -> Number:
        value: float = at_path(design, key)
        return value

    def put(design: Design, value: Number) -> Design:
        new: Design = put_path(design, key, usual(design, key) if value is None else value)
        return new

    return Measure(key, SECTION, capital(name), how, 0.0, kind, "tape", get, put, free=True, page=_PAGE)


def _record(key: str) -> UsualValue:
    group, _, name = key.partition(".")
    return (ASSUMPTIONS if group == "assumptions" else SPREADS)[name]


def _limit(key: str) -> tuple[str, int]:
    _, name, at = key.split(".")
    return name, int(at)


def _source(key: str) -> str:
    return DEFAULT_LIMITS[_limit(key)[0]].source if key.startswith("limits.") else _record(key).source
