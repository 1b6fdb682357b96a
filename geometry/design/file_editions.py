"""The editions of a design's file: the fields that each number added, how an older file is read, and fields at a default.

A field of a later number is one record in `ADDED`. An older file is read with its default. While the field is at its
default, the fingerprint leaves it out, so that a printed template keeps its number.
"""

from __future__ import annotations

from copy import deepcopy
from typing import TYPE_CHECKING, Any

import msgspec

if TYPE_CHECKING:
    from collections.abc import Iterator

NEWEST = 3
_WITH_TILT = 2  # the number whose motors have a tilt instead of tilt points


class Added(msgspec.Struct, frozen=True):
    """One field that files have from ``number`` on.

    Attributes:
        number: of the first files with it. path: dotted, "*" for each entry of a list or group.
        default: its value in an older file, as JSON. metric: the same of a boat in mm, None where it is no other.
    """

    number: int
    path: str
    default: Any
    metric: Any = None


ADDED = (
    Added(2, "limits.top_edge", [44.45, 50.8]),
    Added(2, "readings.*.second", None),
    Added(2, "boat.hull_mass", None),
    Added(2, "boat.displacement", None),
    Added(2, "mounts.*.cowl_half_width", None),
    Added(2, "mounts.*.tilt", {"tube": [None, None], "most": None, "lock": None, "points": []}),
    Added(2, "well.front_height", None),
    Added(2, "sure_of", {}),
    Added(3, "look_for_holes", False),
    Added(3, "boat.afloat", {"top_edge": None, "scupper": None, "drain": None}),
    *(
        Added(2, f"mounts.*.{pair}_hardware.spanner.{field}", None)
        for pair in ("upper", "lower") for field in ("length", "handle")
    ),
    Added(2, "assumptions", {
        "thrust_share": 0.55, "reverse_share": 0.4, "settling": 0.3, "drag_share": 0.5, "shaft_depth": 152.4,
        "centre_aft": 304.8, "reverse_edge": 12.7, "epoxy": 55.0, "spread_angle": 45.0,
    }),
    Added(3, "outside_fittings.*.drill", None),
    Added(3, "old_holes.*.drill", None),
    Added(3, "spreads.washer", 0.75),
    Added(3, "spreads.freehand", 1.143),
    Added(3, "spreads.punched", 0.762),
    Added(3, "spreads.block", 0.381),
    Added(3, "spreads.jig", 0.127),
    Added(3, "limits.socket_room", [0.0, 25.4], [0.0, 25.0]),
    Added(3, "limits.feed", [0.0, 12.7], [0.0, 12.0]),
    Added(3, "limits.outer_washer", [1.5, 1.85]),
    Added(3, "limits.motors", [0.0, 25.0]),
    Added(3, "limits.tilt_room", [0.0, 25.0]),
    Added(3, "limits.lock_room", [0.0, 25.0]),
    Added(3, "limits.plug_wall", [0.0, 6.35]),
    Added(3, "limits.washer_stiff", [0.4, 0.6]),
    Added(3, "limits.clamp", [1.0, 0.75]),
    Added(3, "limits.pressure", [1.67, 1.0]),
    Added(3, "limits.joint", [1.0, 0.75]),
    *(Added(3, f"as_drilled.*.{size}", None) for size in ("washer", "flat_cut", "socket")),
    Added(3, "assumptions.nut_bearing", 0.96),
    Added(3, "assumptions.washer_spread", 5.0),
    Added(3, "assumptions.wide_swing", 60.0),
    Added(3, "assumptions.motor_centres", 660.4),
    Added(3, "assumptions.large_centres", 723.9),
)


class UnknownFieldError(ValueError):
    """A file of an older number has a newer field. ``place`` is its group, ``field`` its name."""

    def __init__(self, place: str, field: str) -> None:
        super().__init__(f"{place}.{field}")
        self.place, self.field = place, field


def upgraded(head: dict[str, Any], added: tuple[Added, ...] = ADDED, newest: int = NEWEST) -> dict[str, Any]:
    """Return a file's content as one of the newest number: each step adds the fields of one number, at their defaults.

    ``head`` itself is changed. A value that is no group of fields stays as it is; the reader refuses it.

    Raises:
        UnknownFieldError: it has a field that its number does not have.
    """
    for number in range(head["boltwell"] + 1, newest + 1):
        for field in added:
            if field.number == number:
                _add(head, field)
        if number == _WITH_TILT:
            for _, mount in _groups(head, "mounts.*.tilt"):
                _join_points(mount)
        head["boltwell"] = number
    return head


def _join_points(mount: dict[str, Any]) -> None:
    """Move a motor's tilt points of number 1, each a radius and an angle, into its tilt.

    Without them the motor's tilt goes too: the reader then says that the file lacks a field.
    """
    if "tilt_points" in mount:
        mount["tilt"] = _tilt_of(mount.pop("tilt_points"))
    else:
        del mount["tilt"]


def _tilt_of(pairs: Any) -> dict[str, Any]:
    points = [_point_of(pair) for pair in pairs] if isinstance(pairs, list) else pairs
    return {"tube": [None, None], "most": None, "lock": None, "points": points}


def _point_of(pair: Any) -> Any:
    """Return a pair as a point; anything else as it is, which the reader refuses by its place."""
    if not isinstance(pair, list) or len(pair) != len(("radius", "angle")):
        return pair
    return {"radius": pair[0], "angle": pair[1], "half_width": None}


def _split_points(mount: dict[str, Any]) -> None:
    """Give a motor the tilt points that number 1 counted, and leave out a tilt that has no more than they."""
    tilt = _plain(mount.pop("tilt"))
    pairs = [[point["radius"], point["angle"]] for point in tilt["points"]]
    alone = tilt == _tilt_of(pairs)
    mount["tilt_points"] = pairs if alone else []
    if not alone:
        mount["tilt"] = tilt


def _add(head: dict[str, Any], field: Added) -> None:
    *_, name = field.path.split(".")
    for place, group in _groups(head, field.path):
        if name in group:
            raise UnknownFieldError(place, name)
        # A copy: a later number may add a field to it.
        group[name] = deepcopy(field.default if field.metric is None or head.get("units") != "mm" else field.metric)


def without_defaults(content: dict[str, Any], added: tuple[Added, ...] = ADDED) -> dict[str, Any]:
    """Return a design's content without later fields at their defaults. ``content`` itself is changed."""
    for _, mount in _groups(content, "mounts.*.tilt"):
        if "tilt" in mount:
            _split_points(mount)
    for field in reversed(added):  # the newest first: a group that was added later grew
        *_, name = field.path.split(".")
        for _, group in _groups(content, field.path):
            usual = [_plain(field.default), *([] if field.metric is None else [_plain(field.metric)])]
            if name in group and _plain(group[name]) in usual:
                del group[name]
    return content


def _plain(value: Any) -> Any:
    """Return lists for tuples at every depth, as JSON does."""
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    return {key: _plain(inner) for key, inner in value.items()} if isinstance(value, dict) else value


def _groups(content: Any, path: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the groups of fields that have the last step of a path, each with its place."""
    places: list[tuple[str, Any]] = [("", content)]
    for step in path.split(".")[:-1]:
        places = [inner for place, value in places for inner in _entries(value, place, step)]
    yield from ((place, value) for place, value in places if isinstance(value, dict))


def _entries(value: Any, place: str, step: str) -> Iterator[tuple[str, Any]]:
    if isinstance(value, dict):
        names = list(value) if step == "*" else [step] if step in value else []
        yield from ((f"{place}.{name}" if place else name, value[name]) for name in names)
    elif isinstance(value, list | tuple) and step == "*":
        yield from ((f"{place}[{index}]", inner) for index, inner in enumerate(value))
